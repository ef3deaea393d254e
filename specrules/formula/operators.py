"""Operator trees: what a checked formula compiles to. Plain data over slots, without functions, numbers or sheets.

A slot is a name with, for each of its axes, how the label there is found; everything else about a station is in its
labels, so that all stations of a rule share one tree. `axes` of an operator are those that its result still lies along.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal
from typing import NamedTuple, get_args

from specrules.formula.axis_kinds import kind_axis

Axes = tuple[str, ...]
Station = Mapping[str, str]
"""A place on some axes: axis -> label. Empty where there is one of the thing in all."""


class Finder(NamedTuple):
    """How the label on one axis of a slot is found.

    `label`: as written. `of`: the station's label on that axis; where `of` is another axis, the group on `axis` that
    this label belongs to. Neither: the axis is free.
    """

    axis: str
    label: str = ""
    of: str = ""


class Constant(NamedTuple):
    """A number, in base units."""

    value: Decimal
    axes: Axes = ()


class Slot(NamedTuple):
    """The value of a measurand, a fact, a figure or a limit so far."""

    name: str
    finders: tuple[Finder, ...]
    axes: Axes


class Elementwise(NamedTuple):
    """An operation on operands, label by label: + - * / negate, min, max, a power, or a function by its name."""

    operation: str
    operands: tuple[Quantity, ...]
    axes: Axes
    exponent: Decimal | None = None


class Reduction(NamedTuple):
    """A reducer over some axes of what it reduces; `kept` are the indices of the axes that stay."""

    reducer: str
    of: Quantity
    kept: tuple[int, ...]
    axes: Axes


class Lookup(NamedTuple):
    """A figure of a table, by the function that looks it up."""

    column: str
    keys: tuple[Quantity | Label, ...]
    axes: Axes


class Conditional(NamedTuple):
    """One of two quantities, by a condition."""

    condition: Condition
    then: Quantity
    otherwise: Quantity
    axes: Axes


class FactLabel(NamedTuple):
    """What a fact of choices, or of yes and no, says."""

    name: str
    finders: tuple[Finder, ...]


class StationLabel(NamedTuple):
    """The station's own label on an axis, or what kind it is of."""

    finder: Finder

    @property
    def axis(self) -> str:
        """The axis by the name that a pack asks for it."""
        return self.finder.of if self.finder.axis == kind_axis(self.finder.of) else self.finder.axis


class Literal(NamedTuple):
    """A label as written."""

    label: str


class LabelLookup(NamedTuple):
    """A label of a table, by the function that looks it up."""

    column: str
    keys: tuple[Quantity | Label, ...]


class ConditionalLabel(NamedTuple):
    """One of two labels, by a condition."""

    condition: Condition
    then: Label
    otherwise: Label


class Equality(NamedTuple):
    """Whether two labels are the same, or (`equal` False) differ."""

    left: Label
    right: Label
    equal: bool


class Comparison(NamedTuple):
    """A quantity compared with a number by == != < <= > >=. `facts` are all facts that the quantity reads."""

    sign: str
    quantity: Quantity
    threshold: Decimal
    facts: tuple[str, ...]


class Junction(NamedTuple):
    """`and` or `or` of two conditions."""

    word: str
    left: Condition
    right: Condition


class Negation(NamedTuple):
    """The contrary of a condition."""

    of: Condition


class Affirmation(NamedTuple):
    """Whether a label is `yes`."""

    of: Label


class ConditionalCondition(NamedTuple):
    """One of two conditions, by a third."""

    condition: Condition
    then: Condition
    otherwise: Condition


Quantity = Constant | Slot | Elementwise | Reduction | Lookup | Conditional
Label = FactLabel | StationLabel | Literal | LabelLookup | ConditionalLabel
Condition = Equality | Comparison | Junction | Negation | Affirmation | ConditionalCondition
Operator = Quantity | Label | Condition


_KINDS = frozenset(get_args(Operator))  # none of them has a kind of its own below: to look is several times as fast


def operands(of: Operator) -> Iterator[Operator]:
    """The operators right below one."""
    for part in of:
        for below in part if type(part) is tuple else (part,):
            if type(below) in _KINDS:
                yield below  # type: ignore[misc]  # it is of one of these kinds


def all_operators(of: Operator) -> Iterator[Operator]:
    """An operator and all below it."""
    yield of
    for below in operands(of):
        yield from all_operators(below)


def bound_axes(of: Operator) -> frozenset[str]:
    """The axes of the station that an operator looks at by name; free axes may still be narrowed by a group."""
    return frozenset(hanging(of).bound)


class Hanging(NamedTuple):
    """What of a station something hangs on: its labels on some axes, and those that narrow others to a group."""

    bound: Axes = ()
    narrowed: Axes = ()


NOTHING = Hanging()


def hanging(of: Operator) -> Hanging:
    """What of a station an operator hangs on."""
    bound: set[str] = set()
    narrowed: dict[str, None] = {}
    for each in all_operators(of):
        finders: tuple[Finder, ...] = ()
        if isinstance(each, (Slot, FactLabel)):
            finders = each.finders
        elif isinstance(each, StationLabel):
            finders = (each.finder,)
        bound.update([finder.of for finder in finders if finder.of])
        if isinstance(each, Slot):
            narrowed.update(dict.fromkeys(each.axes))
    return Hanging(tuple(sorted(bound)), tuple(narrowed))


def together(every: Iterable[Hanging], along: Iterable[str] = ()) -> Hanging:
    """What of a station all of these hang on, asked there or at each place along some more axes."""
    each = dict.fromkeys(every)
    bound = dict.fromkeys([axis for hanging in each for axis in hanging.bound])
    narrowed = dict.fromkeys([*along, *[axis for hanging in each for axis in hanging.narrowed]])
    return Hanging(tuple(bound), tuple(narrowed))
