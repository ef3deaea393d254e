"""Which commands show how far they are: those that may have many sheets or packs to go through."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TextIO

import pytest

from specrules.output.progress_bar import Bar
from tests.cli.shell import call
from tests.cli.small_jobs import CLEAR, FAULTY, lay_out


class Told(Bar):
    """A bar that keeps what it is told."""

    def __init__(self, total: int, stream: TextIO) -> None:
        super().__init__(total, stream, colour=False)
        self.said: list[str] = [f"of {total}"]

    def advance(self, label: str) -> None:
        self.said.append(label)

    @contextmanager
    def aside(self) -> Iterator[None]:
        self.said.append("(")
        yield
        self.said.append(")")


@pytest.mark.second_lane
@pytest.mark.parametrize(
    ("command", "said"),
    [
        ("inspect a.sheet.yaml bad.sheet.yaml", ["of 2", "a.sheet.yaml", "(", ")", "bad.sheet.yaml", "(", ")"]),
        ("pack prove base wide", ["of 2", "base", "(", ")", "wide", "(", ")"]),
    ],
)
def test_each_sheet_and_pack_moves_the_bar_and_nothing_is_printed_beneath_it(
    command: str, said: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    lay_out(tmp_path, a=CLEAR, bad=FAULTY)
    monkeypatch.chdir(tmp_path)
    told: list[Told] = []

    @contextmanager
    def progress(total: int, stream: TextIO, _colour: bool) -> Iterator[Told]:
        told.append(Told(total, stream))
        yield told[-1]

    monkeypatch.setattr("specrules.cli.writing.progress", progress)
    call(*command.split())
    assert [each.said for each in told] == [said]
