"""Many inputs tried one after another, each drawn from the seed and its number, and counted."""

from __future__ import annotations

import signal
import traceback
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from types import FrameType
from typing import NamedTuple

from tests.fuzz import attempts, spreadsheets
from tests.fuzz.attempts import Input, Shop

SHARES = {"number": 690, "formula": 250, "sheet": 45, "study": 5, "answers": 4, "table": 5, "command": 6}
"""Of a thousand inputs: what costs little is tried most."""
LONGEST = 24
"""Rings of a timer after which an input is said to hang: many, since a run by hand yields to other work."""
TICK = 5.0
"""Seconds between two rings. Of those that come while the run is halted only one is heard."""


class Hung(BaseException):
    """An input that takes too long. No `Exception`, so that nothing on the way catches it."""


class Failure(NamedTuple):
    """An input of which something does not hold."""

    number: int
    given: Input
    why: str


@dataclass
class Tally:
    """What came of the inputs, counted by kind and outcome."""

    counts: Counter[tuple[str, str]] = field(default_factory=Counter)
    failures: list[Failure] = field(default_factory=list)

    def of(self, kind: str) -> int:
        """How many inputs of a kind were tried."""
        return sum(count for (each, _), count in self.counts.items() if each == kind)

    def lines(self) -> list[str]:
        """A line for each kind and outcome, then the failures."""
        rows = [f"{count:8}  {kind}: {outcome}" for (kind, outcome), count in sorted(self.counts.items())]
        rows += [f"{self.counts.total():8}  inputs, {len(self.failures)} of which something does not hold"]
        return [*rows, *(f"input {each.number}: {each.given!r}\n{each.why}" for each in self.failures)]


DRAWN: dict[str, Callable[[Random], Input]] = {
    "number": attempts.a_number,
    "formula": attempts.a_formula,
    "sheet": attempts.a_sheet,
    "study": attempts.a_study,
    "answers": attempts.answers,
    "table": spreadsheets.a_table,
    "command": attempts.a_command,
}
IN_MEMORY: dict[str, Callable[[Input], str]] = {
    "number": attempts.try_number,
    "formula": attempts.try_formula,
    "sheet": attempts.try_sheet,
    "study": attempts.try_study,
    "answers": attempts.try_answers,
    "table": spreadsheets.try_table,
}


def drawn(seed: int, number: int, kind: str = "") -> Input:
    """The input of this number, always the same one."""
    draw = Random(f"{seed} {number}")
    return DRAWN[kind or draw.choices(tuple(SHARES), tuple(SHARES.values()))[0]](draw)


class Trial:
    """Attempts in a folder of their own."""

    def __init__(self, folder: Path) -> None:
        """folder: an empty one."""
        self.tally, self._shop = Tally(), Shop(folder)

    def attempt(self, number: int, given: Input) -> None:
        """Try one input, and count what came of it."""
        try:
            with within(LONGEST, TICK):
                outcome = (IN_MEMORY.get(given.kind) or self._shop.attempt)(given)
        except (Exception, Hung, SystemExit):
            outcome = "failed"
            self.tally.failures.append(Failure(number, given, traceback.format_exc(limit=-4)))
        self.tally.counts[given.kind, outcome] += 1


@contextmanager
def within(rings: int, tick: float) -> Iterator[None]:
    """Raise Hung where it takes longer than so many rings; only where the system can."""
    if not hasattr(signal, "setitimer"):
        yield
        return
    heard = 0

    def ring(_signal: int, _frame: FrameType | None) -> None:
        nonlocal heard
        heard += 1
        if heard >= rings:
            raise Hung(f"it takes more than {rings * tick:g} s")

    before = signal.signal(signal.SIGALRM, ring)
    signal.setitimer(signal.ITIMER_REAL, tick, tick)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, before)
