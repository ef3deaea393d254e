"""What evaluating yields: a decimal value with its slopes over the inputs, or a range where something is missing."""

from collections.abc import Mapping
from decimal import Decimal
from functools import partial
from types import MappingProxyType
from typing import NamedTuple

from specrules.vocabulary import Reason, Why

Slopes = Mapping[int, float]
"""How fast a value moves with each input: input number -> partial derivative, in base units."""


class Point(NamedTuple):
    """One number (base units) and its slopes."""

    value: Decimal
    slopes: Slopes


made_point = partial(tuple.__new__, Point)
"""Point((value, slopes)), without the call of a function that is most of what making a named tuple costs."""


class Value(NamedTuple):
    """A quantity between two points; one point where all that it needs is known.

    `None` is an open side. `whole` says that nothing it stands on is missing: a range may be whole (a reading stated
    as "under 0.001") and may be not (a station without a reading). `shared` numbers the statements that were made
    once for several places: the scatter between those places is unknown, however many times the figure is repeated.
    """

    low: Point | None
    high: Point | None
    whole: bool = True
    shared: frozenset[int] = frozenset()

    @property
    def exact(self) -> bool:
        """One number is known, not a range."""
        return self.low is not None and self.low is self.high


made_value = partial(tuple.__new__, Value)
"""The same for Value((low, high, whole, shared)): a formula makes one for every sign in it."""

UNKNOWN = Value(None, None, whole=False)
"""What stands for a station with no reading at all: it may be anything."""

NO_SLOPES: Slopes = MappingProxyType({})
"""Of what no error moves."""
ZERO = Point(Decimal(0), NO_SLOPES)


def exactly(value: Decimal, slopes: Slopes | None = None, shared: frozenset[int] = frozenset()) -> Value:
    """A value of which one number is known."""
    point = made_point((value, slopes or NO_SLOPES))
    return made_value((point, point, True, shared))


class NotEvaluable(Exception):
    """A finding's own fault: its formula has no value for these readings (division by zero, a negative root).

    Raised and caught inside one inspection; never leaves it.
    """

    def __init__(self, code: Why, *names: str, text: str = "") -> None:
        super().__init__(code, *names, text)
        self.reason = Reason(code, names, (), text)

    def within(self, code: Why) -> Reason:
        """The reason that this trouble is for something else: its code, then what this one names."""
        return Reason(code, (self.reason.code, *self.reason.names), (), self.reason.text)
