"""Published examples as formulas: named inputs with estimates and standard uncertainties, and what comes of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal, localcontext

from specrules.evaluate import Layout, Places, Point, Slopes, StatedErrors, Value, combined_u, evaluate, exactly
from specrules.formula import FUNCTIONS, Declared, Formula, Function, Role, Scope, Station
from specrules.formula.formula_reading import read_formula
from specrules.formula.operators import Comparison
from specrules.formula.tables import NO_TABLES
from specrules.quantity import CONTEXT, Bracket, Exact, Unit, find_unit, read_written


class Example:
    """A bench without axes. `estimates` are written numbers or brackets; `us` standard uncertainties, as written."""

    exchanged = False
    layout = Layout({}, {}, {})
    columns = NO_TABLES

    def __init__(
        self,
        estimates: Mapping[str, str],
        us: Mapping[str, str | float] | None = None,
        functions: Mapping[str, Function] = FUNCTIONS,
    ) -> None:
        self.numbers = {name: number for number, name in enumerate(estimates)}
        self.us: dict[int, float] = {}
        self.values: dict[str, Value] = {}
        names = []
        with localcontext(CONTEXT):
            for name, text in estimates.items():
                written = read_written(text, unit=None, dimension=None)
                assert isinstance(written, Exact | Bracket), (text, written)
                u = (us or {}).get(name, 0.0)
                self.us[self.numbers[name]] = u if isinstance(u, float) else _size(u)
                self.values[name] = _value(written, {self.numbers[name]: 1.0})
                names.append(Declared(name, Role.MEASURAND, (), written.unit.dimension))
        self.functions = functions
        self.scope = Scope({}, {name.name: name for name in names}, functions=functions)

    def correlate(self, causes: Mapping[str, Sequence[float]], u: float) -> None:
        """Let inputs move with shared causes, all of one standard uncertainty: name -> slope by each cause."""
        self.us = dict.fromkeys(range(max(map(len, causes.values()))), u)
        for name, slopes in causes.items():
            low = self.values[name].low
            assert low is not None
            self.values[name] = exactly(low.value, dict(enumerate(slopes)))

    def value(self, text: str) -> Value:
        formula = read_formula(text, self.scope)
        assert isinstance(formula, Formula), formula
        with localcontext(CONTEXT):
            value = evaluate(formula, self, {})
        assert value is not None
        return value

    def point(self, text: str) -> Point:
        value = self.value(text)
        assert value.low is not None
        assert value.exact
        return value.low

    def number(self, text: str, unit: str = "") -> float:
        """A formula's value in a unit."""
        return float(_unit(unit).from_base(self.point(text).value))

    def u_of(self, text: str, unit: str = "") -> float:
        """A formula's combined standard uncertainty in a unit."""
        return combined_u(self.point(text).slopes, self.u) / float(_unit(unit).factor)

    def contribution(self, text: str, name: str, unit: str = "") -> float:
        """What one input's uncertainty makes of it, with its sign, in a unit."""
        number = self.numbers[name]
        return self.point(text).slopes.get(number, 0.0) * self.us[number] / float(_unit(unit).factor)

    # what evaluating asks of its environment; here is one of everything, so labels are never any
    @property
    def u(self) -> StatedErrors:
        return StatedErrors(self.us)

    def look(self, name: str, labels: tuple[str, ...]) -> Value:
        assert labels == ()
        return self.values[name]

    def row(self, name: str, places: Places) -> Sequence[Value]:
        return [self.look(name, labels) for labels in places]

    def choice(self, name: str, labels: tuple[str, ...]) -> str | None:
        raise LookupError(name, labels)

    def undecided(self, comparison: Comparison, station: Station) -> bool | None:
        raise LookupError(comparison, station)


def _unit(symbol: str) -> Unit:
    unit = find_unit(symbol or "mm/mm")
    assert isinstance(unit, Unit)
    return unit


def _size(text: str) -> float:
    written = read_written(text, unit=None, dimension=None)
    assert isinstance(written, Exact)
    return float(written.unit.difference_to_base(written.number))


def _value(written: Exact | Bracket, slopes: Slopes) -> Value:
    if isinstance(written, Exact):
        return exactly(written.value, slopes)
    ends = [None if end is None else Point(Decimal(end), slopes) for end in (written.low, written.high)]
    return Value(ends[0], ends[1])
