"""What an evaluation looked at: readings, facts, ways, and what it would have had to know."""

from collections.abc import Collection, Mapping, Sequence
from typing import NamedTuple

from specrules.evaluate import Cell, Labels, Value
from specrules.evaluate.worlds import Unstated
from specrules.pack import Way
from specrules.vocabulary import Reason

Place = tuple[str, Labels]
"""A name and its labels on all of the name's axes."""


class Trace:
    """What an evaluation looked at. Filled while it runs, then only read."""

    __slots__ = ("asked", "assumed", "by_limits", "facts", "found", "missing", "questions", "troubles", "ways")

    def __init__(self) -> None:
        self.asked: dict[Place, None] = {}  # each once, however often a formula names it
        self.found: dict[int, None] = {}  # input numbers, in the order met
        self.by_limits: dict[int, None] = {}  # those that limits looked at
        self.facts: dict[Place, None] = {}
        self.missing: dict[Place, None] = {}  # stations without any reading, facts without a value
        self.questions: dict[Unstated, None] = {}  # what conditions asked for and nobody stated
        self.assumed: dict[Reason, None] = {}
        self.ways: dict[Place, Way] = {}
        self.troubles: dict[Reason, None] = {}

    def numbers(self) -> Collection[int]:
        """The inputs behind the value, then those that only limits looked at."""
        return {**self.found, **self.by_limits} if self.by_limits else self.found

    def take(self, other: "Trace") -> None:
        """Add what another evaluation looked at."""
        if other.asked:
            self.asked.update(other.asked)
        if other.found:
            self.found.update(other.found)
        if other.facts:
            self.facts.update(other.facts)
        if other.missing:
            self.missing.update(other.missing)
        if other.questions:
            self.questions.update(other.questions)
        if other.assumed:
            self.assumed.update(other.assumed)
        if other.ways:
            self.ways.update(other.ways)
        if other.troubles:
            self.troubles.update(other.troubles)


class Row(NamedTuple):
    """The readings of a measurand at several places, and what reading them looks at."""

    cells: Sequence[Cell]
    asked: Mapping[Place, None]
    found: Mapping[int, None]
    missing: Mapping[Place, None]


class WayValue(NamedTuple):
    """A figure at a place by one way: its value and what that looked at."""

    way: Way
    value: Value | None
    trace: Trace

    @property
    def complete(self) -> bool:
        """All that this way needs is there."""
        return self.value is not None and self.value.whole

    @property
    def begun(self) -> bool:
        """Something that this way needs was measured."""
        return bool(self.trace.found)
