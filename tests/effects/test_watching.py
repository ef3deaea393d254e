"""Watching files: a step at once, and one for each change, whatever kind it is."""

import os
from pathlib import Path

import pytest

from specrules.effects.watching import changes


@pytest.mark.parametrize("change", ["written", "touched", "gone", "new"])
def test_a_step_at_once_and_one_when_a_file_changed(change: str, tmp_path: Path) -> None:
    one = tmp_path / "one"
    one.write_text("a", encoding="utf-8")
    waits: list[float] = []

    def wait(seconds: float) -> None:
        waits.append(seconds)
        if len(waits) == 3:
            if change == "written":
                one.write_text("ab", encoding="utf-8")
            elif change == "touched":
                os.utime(one, ns=(1, 1))
            elif change == "gone":
                one.unlink()
            else:
                (tmp_path / "two").write_text("b", encoding="utf-8")

    steps = changes(lambda: tmp_path.iterdir(), wait)
    next(steps)
    assert waits == []
    next(steps)
    assert len(waits) == 3


def test_a_change_while_a_step_is_worked_on_is_no_change_missed(tmp_path: Path) -> None:
    steps = changes(tmp_path.iterdir, lambda _: pytest.fail("it waits for what has happened"))
    next(steps)
    (tmp_path / "new").write_text("x", encoding="utf-8")
    next(steps)
