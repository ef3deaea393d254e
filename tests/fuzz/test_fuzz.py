"""The fuzz lane: a share of inputs of each kind from one seed, with their counts; no one of them breaks anything."""

from __future__ import annotations

import signal
import time
from pathlib import Path

import pytest

from specrules.formula import formula_reading
from tests.fuzz.trying import Hung, Tally, Trial, drawn, within
from tests.lanes import first_alone

SEED = 11


def tried(folder: Path, kind: str, inputs: int) -> Trial:
    trial = Trial(folder)
    for number in range(inputs):
        trial.attempt(number, drawn(SEED, number, kind))
    return trial


def show(tally: Tally, capsys: pytest.CaptureFixture[str]) -> None:
    """Print the counts of the lane past what pytest keeps to itself."""
    with capsys.disabled():
        print("", *tally.lines(), sep="\n")  # noqa: T201 - see above


@pytest.mark.parametrize(
    ("kind", "inputs"),
    first_alone(
        ("formula", 100),
        ("number", 10_000),
        ("formula", 5_000),
        ("sheet", 1_000),
        ("study", 300),
        ("answers", 1_000),
        ("table", 500),
    ),
)
def test_an_altered_text_breaks_nothing(
    kind: str, inputs: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    tally = tried(tmp_path, kind, inputs).tally
    if inputs > 100:
        show(tally, capsys)
    assert tally.failures == []
    assert tally.of(kind) == inputs


@pytest.mark.second_lane
def test_an_altered_command_line_or_file_of_it_breaks_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    tally = tried(tmp_path, "command", 300).tally
    show(tally, capsys)
    assert tally.failures == []
    assert {outcome for _, outcome in tally.counts} >= {"status 0", "status 1", "status 2", "status 3"}


def test_an_input_is_the_same_one_each_time() -> None:
    assert [drawn(SEED, number) for number in range(50)] == [drawn(SEED, number) for number in range(50)]
    assert len({drawn(SEED, number).text for number in range(50)}) > 45


def test_what_raises_is_counted_as_failed_and_kept_with_its_input(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    def broken(*_: object) -> None:
        raise RuntimeError("a bolt is loose")

    monkeypatch.setattr(formula_reading, "_syntax", broken)
    trial = Trial(tmp_path)
    trial.attempt(7, drawn(SEED, 7, "formula"))
    [failure] = trial.tally.failures
    assert (failure.number, failure.given) == (7, drawn(SEED, 7, "formula"))
    assert "a bolt is loose" in failure.why
    assert trial.tally.lines()[:2] == [
        "       1  formula: failed",
        "       1  inputs, 1 of which something does not hold",
    ]


def test_a_file_that_a_command_changes_is_noticed(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    def careless(_: list[str]) -> int:
        Path("good.sheet.yaml").write_text("a report")
        return 0

    monkeypatch.setattr("tests.fuzz.attempts.run", careless)
    trial = Trial(tmp_path)
    trial.attempt(1, drawn(SEED, 1, "command"))
    assert "lost or changed" in trial.tally.failures[0].why


@pytest.mark.skipif(not hasattr(signal, "pthread_sigmask"), reason="timers of POSIX")
def test_what_takes_too_long_hangs_and_what_is_halted_does_not() -> None:
    with pytest.raises(Hung), within(3, 0.01):
        time.sleep(30)
    with within(3, 0.01):  # as where the whole run is halted: none of its signals is heard until it goes on
        signal.pthread_sigmask(signal.SIG_BLOCK, [signal.SIGALRM])
        time.sleep(0.1)
        signal.pthread_sigmask(signal.SIG_UNBLOCK, [signal.SIGALRM])
