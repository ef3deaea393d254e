"""What the tests of the formula room read and evaluate against: a small scope and a bench of readings given as text."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal, localcontext

from specrules.evaluate import UNKNOWN, Labels, Layout, NotEvaluable, Places, Point, StatedErrors, Value, exactly, holds
from specrules.evaluate import evaluate as evaluate_formula
from specrules.formula import FUNCTIONS, Axis, Declared, Formula, Function, Kind, Role, Scope, Station
from specrules.formula.formula_reading import read_formula
from specrules.formula.operators import Comparison
from specrules.formula.tables import NO_TABLES, TableColumn
from specrules.output.reasons import said
from specrules.quantity import (
    ANGLE,
    CONTEXT,
    LENGTH,
    MASS,
    NUMBER,
    TEMPERATURE,
    VOLUME,
    Bracket,
    Dimension,
    Exact,
    Refusal,
    read_written,
)

AXES = (
    Axis("main", count="mains"),
    Axis("cylinder", count="cylinders"),
    Axis("throw", groups="throws", of="cylinder"),
    Axis("bank", groups="banks", of="cylinder", default="one"),
    Axis("plane", names=("front", "rear")),
    Axis("clock", names=("a", "b")),
    Axis("ring", names=("top", "second", "oil")),
    Axis("depth", names=("top", "middle", "bottom")),
)

NAMES = (
    Declared("housing", Role.MEASURAND, ("main", "plane"), LENGTH),
    Declared("journal", Role.MEASURAND, ("main", "plane", "clock"), LENGTH),
    Declared("rod_bore", Role.MEASURAND, ("cylinder",), LENGTH),
    Declared("crankpin", Role.MEASURAND, ("throw",), LENGTH),
    Declared("bore", Role.MEASURAND, ("cylinder", "depth"), LENGTH),
    Declared("land", Role.MEASURAND, ("cylinder", "ring", "depth"), LENGTH),
    Declared("gap", Role.MEASURAND, ("cylinder", "ring"), LENGTH),
    Declared("runout", Role.MEASURAND, (), LENGTH),
    Declared("weight", Role.MEASURAND, ("cylinder",), MASS),
    Declared("heat", Role.MEASURAND, ("cylinder",), TEMPERATURE),
    Declared("x", Role.MEASURAND, (), LENGTH),
    Declared("y", Role.MEASURAND, (), LENGTH),
    Declared("z", Role.MEASURAND, (), LENGTH),
    Declared("n", Role.MEASURAND, (), NUMBER),
    Declared("size", Role.FIGURE, ("main",), LENGTH),
    Declared("deck", Role.FIGURE, ("bank",), LENGTH),
    Declared("least", Role.LIMIT, (), LENGTH),
    Declared("mains", Role.FACT, (), NUMBER),
    Declared("ratio", Role.FACT, (), NUMBER),
    Declared("stroke", Role.FACT, (), LENGTH),
    Declared("slant", Role.FACT, (), ANGLE),
    Declared("room", Role.FACT, (), TEMPERATURE),
    Declared("chamber", Role.FACT, ("cylinder",), VOLUME),
    Declared("use", Role.FACT, (), NUMBER, Kind.CHOICE, ("street", "towing", "racing")),
    Declared("breathing", Role.FACT, (), NUMBER, Kind.CHOICE, ("natural", "boosted")),
    Declared("alloy", Role.FACT, ("cylinder",), NUMBER, Kind.CHOICE, ("cast", "forged")),
    Declared("coated", Role.FACT, (), NUMBER, Kind.CHOICE, ("yes", "no")),
    Declared("builder", Role.FACT, (), NUMBER, Kind.TEXT),
)

SCOPE = Scope({axis.name: axis for axis in AXES}, {name.name: name for name in NAMES})


@dataclass
class SmallBench:
    """Cells by name and labels; what is not there is a station without a reading."""

    cells: dict[tuple[str, Labels], Value | None] = field(default_factory=dict)
    words: dict[tuple[str, Labels], str] = field(default_factory=dict)
    us: list[float] = field(default_factory=list)
    numbers: dict[tuple[str, Labels], int] = field(default_factory=dict)
    axes: dict[str, Labels] = field(default_factory=dict)
    groups: dict[str, dict[str, str]] = field(default_factory=dict)
    exchanged: bool = False
    functions: Mapping[str, Function] = field(default_factory=lambda: FUNCTIONS)
    columns: Mapping[str, TableColumn] = field(default_factory=lambda: NO_TABLES)

    @property
    def layout(self) -> Layout:
        return Layout(self.axes, self.groups, {axis.name: axis.of for axis in AXES})

    def look(self, name: str, labels: Labels) -> Value | None:
        return self.cells.get((name, labels), UNKNOWN)

    def row(self, name: str, places: Places) -> Sequence[Value | None]:
        return [self.look(name, labels) for labels in places]

    def choice(self, name: str, labels: Labels) -> str | None:
        return self.words.get((name, labels))

    def undecided(self, _comparison: Comparison, _station: Station) -> bool | None:
        return None

    @property
    def u(self) -> StatedErrors:
        return StatedErrors(dict(enumerate(self.us)))

    def measure(self, name: str, labels: Labels, written: str, u: float = 0.0, shared: Sequence[int] = ()) -> None:
        """Enter a reading: a written number, a bracket, or "" for a position left out at a station that has others."""
        if not written:
            self.cells[name, labels] = None
            return
        number = self.numbers[name, labels] = len(self.us)
        self.us.append(u)
        slopes = {number: 1.0}
        low, high = ends(written)
        if low == high and low is not None:
            self.cells[name, labels] = exactly(low, slopes, frozenset(shared))
        else:
            points = [None if end is None else Point(end, slopes) for end in (low, high)]
            self.cells[name, labels] = Value(points[0], points[1], shared=frozenset(shared))


def ends(written: str) -> tuple[Decimal | None, Decimal | None]:
    """The ends of a written number, in base units."""
    read = read_written(written, unit=None, dimension=None)
    if isinstance(read, Exact):
        return read.value, read.value
    assert isinstance(read, Bracket), (written, read)
    return read.low, read.high


def base(written: str) -> Decimal:
    """A written number, in base units."""
    low, _ = ends(written)
    assert low is not None
    return low


def bench(
    readings: Mapping[str, str | Mapping[str, str]] | None = None,
    facts: Mapping[str, str] | None = None,
    u: float = 0.0,
    mains: int = 3,
    throws: Sequence[Sequence[int]] = ((1, 3), (2, 4)),
) -> SmallBench:
    """A bench from text: `{"journal": {"1 front a": "2.4990 in"}}`; facts are numbers with units, or words."""
    made = SmallBench()
    members = {str(member): str(number) for number, group in enumerate(throws, 1) for member in group}
    for axis in AXES:
        made.axes[axis.name] = axis.names
    made.axes["main"] = tuple(str(number) for number in range(1, mains + 1))
    made.axes["cylinder"] = tuple(sorted(members))
    made.axes["throw"] = tuple(str(number) for number in range(1, len(throws) + 1))
    made.axes["bank"] = ("all",)
    made.groups = {"throw": members, "bank": dict.fromkeys(members, "all")}
    for name, cells in (readings or {}).items():
        for key, written in ({"": cells} if isinstance(cells, str) else cells).items():
            made.measure(name, tuple(key.split()), written, u)
    for name, stated in (facts or {}).items():
        fact, *labels = name.split()
        if SCOPE.names[fact].kind is Kind.QUANTITY:
            made.cells[fact, tuple(labels)] = exactly(base(stated))
        else:
            made.words[fact, tuple(labels)] = stated
    return made


def read(
    text: str,
    each: tuple[str, ...] = (),
    *,
    kind: Kind = Kind.QUANTITY,
    dimension: Dimension | None = None,
    choices: tuple[str, ...] = (),
    scope: Scope = SCOPE,
) -> Formula:
    """A formula that reads."""
    formula = read_formula(text, scope, each=each, kind=kind, dimension=dimension, choices=choices)
    assert isinstance(formula, Formula), formula
    return formula


def refused(
    text: str,
    each: tuple[str, ...] = (),
    *,
    kind: Kind = Kind.QUANTITY,
    dimension: Dimension | None = None,
    choices: tuple[str, ...] = (),
) -> tuple[Refusal, ...]:
    """The refusals of a text that does not read."""
    refusals = read_formula(text, SCOPE, each=each, kind=kind, dimension=dimension, choices=choices)
    assert isinstance(refusals, tuple), refusals
    assert refusals
    return refusals


def evaluate(formula: Formula, on: SmallBench, **station: str) -> Value | None:
    """The formula's value at a station, in the decimals of an inspection."""
    with localcontext(CONTEXT):
        return evaluate_formula(formula, on, station)


def number(formula: Formula, on: SmallBench, **station: str) -> Decimal:
    """The one number that a formula comes to, in base units."""
    value = evaluate(formula, on, **station)
    assert value is not None
    assert value.exact, value
    assert value.low is not None
    return value.low.value


def worth(text: str, on: SmallBench | None = None) -> Decimal:
    """The one number of a formula without axes."""
    return number(read(text), on or bench())


def answer(text: str, on: SmallBench, each: tuple[str, ...] = (), **station: str) -> bool | str | None:
    """What a condition comes to."""
    with localcontext(CONTEXT):
        return holds(read(text, each, kind=Kind.CONDITION), on, station)


def trouble(text: str, on: SmallBench | None = None) -> str:
    """Why a formula cannot be worked out."""
    try:
        value = evaluate(read(text), on or bench())
    except NotEvaluable as error:
        return said(error.reason)
    raise AssertionError(value)
