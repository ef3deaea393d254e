"""Lengths referred to 20 °C, the reference temperature of lengths (ISO 1:2022), from what they were read at.

The part at 20 °C is as long as it was read, more what the gauge's scale had grown and less what the part had. Both
coefficients are facts with a spread of their own, so that each is one cause of error for all readings that share it.
Where nobody states a temperature, that of part and gauge is assumed to be one and the same, anywhere in a range.

Each temperature in that range has an equal chance; `±` behind a stated one is U. A gauge lies beside the part unless a
temperature of its own is stated.
"""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, NamedTuple

from specrules.evaluate import NotEvaluable, Value, add, evaluate, exactly, multiply, subtract
from specrules.formula import Formula, Station
from specrules.quantity import Exact
from specrules.sheet import Reading
from specrules.vocabulary import Reason, Why

if TYPE_CHECKING:
    from specrules.evaluate.binding import Binding

REFERENCE = Decimal(20)
NOTHING = Decimal(0)


class Warmth(NamedTuple):
    """A temperature, stated or assumed. Of an assumed one U is the range either way."""

    of: str  # the part or the gauge
    at: Exact
    assumed: bool

    @property
    def key(self) -> tuple[object, ...]:
        """What tells it from others."""
        return self.of, self.at.value, self.at.place_value, self.at.U, self.assumed


class Temperatures:
    """Refers the readings of one sheet to 20 °C; what they grew by is worked out once for all that share it."""

    def __init__(self, of: Binding) -> None:
        self._of = of
        self._growths: dict[tuple[object, ...], Value | None] = {}
        self.assumed = False  # whether any reading hangs on a temperature that nobody stated

    def at_reference(self, value: Value, reading: Reading) -> Value:
        """The reading as it would be at 20 °C; as it is where the coefficients are not known."""
        spec = self._of.spec
        measurand = spec.measurands[reading.name]
        if measurand.expands is None or spec.gauges_expand is None or not value.exact:
            return value
        part = self._warmth("part", reading.part_at)
        gauge = self._warmth("gauge", reading.gauge_at) or part
        if part is None or gauge is None or (part.assumed and reading.U is not None):
            return value  # a stated U says all there is to say
        station = {} if measurand.expands.same_everywhere else dict(zip(measurand.at, reading.station, strict=True))
        growth = self._growth(measurand.expands, station, part, gauge)
        if growth is None:
            return value
        self.assumed = self.assumed or part.assumed or gauge.assumed
        return add(value, multiply(value, growth, self._of.error_sources))._replace(
            whole=value.whole, shared=value.shared
        )

    def remarks(self) -> tuple[Reason, ...]:
        """That a temperature was assumed, where anything hangs on it."""
        taken = self._of.spec.assumed_temperature
        if not self.assumed or taken is None or taken.U is None:
            return ()
        either_way = taken.unit.difference_from_base(taken.U)
        labels = (f"{taken.number:f}", f"{either_way.normalize():f}", taken.unit.symbol)
        return (Reason(Why.TEMPERATURE_ASSUMED, (), labels),)

    def _warmth(self, of: str, stated: Exact | None) -> Warmth | None:
        assumed = self._of.spec.assumed_temperature
        if stated is not None:
            return Warmth(of, stated, assumed=False)
        return None if assumed is None or of == "gauge" else Warmth(of, assumed, assumed=True)

    def _growth(self, expands: Formula, station: Station, part: Warmth, gauge: Warmth) -> Value | None:
        """By what share of itself a reading is to be made larger; None where that is not known, or is nothing."""
        key = (expands.text, *station.values(), *part.key, *gauge.key)
        if key not in self._growths:
            self._growths[key] = self._worked_out(expands, station, part, gauge)
        return self._growths[key]

    def _worked_out(self, expands: Formula, station: Station, part: Warmth, gauge: Warmth) -> Value | None:
        environment, scale_expands = self._of.environment(), self._of.spec.gauges_expand
        assert scale_expands is not None  # a reading is only referred where it is known
        try:
            grows, scale = evaluate(expands, environment, station), evaluate(scale_expands, environment, {})
        except NotEvaluable:
            return None
        if grows is None or scale is None or not scale.exact or grows.low is None or grows.high is None:
            return None
        of_gauge = multiply(scale, self._above(gauge), environment.u)
        growths = [
            subtract(of_gauge, multiply(Value(end, end), self._above(part), environment.u)).low
            for end in (grows.low, grows.high)
        ]
        found = [growth for growth in growths if growth is not None]
        if len({growth.value for growth in found}) != 1:
            return None  # of a material that nobody states it is not known how much to take off
        growth = max(found, key=lambda each: sum(map(abs, each.slopes.values())))  # and the worst that it may be counts
        slopes = {number: slope for number, slope in growth.slopes.items() if slope}
        return exactly(growth.value or NOTHING, slopes) if growth.value or slopes else None  # with no places of its own

    def _above(self, warmth: Warmth) -> Value:
        """How far a temperature is from 20 °C. It is as sure as it was stated to be, else to half its last place."""
        of, at, assumed = warmth
        difference, sources = at.value - REFERENCE, self._of.error_sources
        if sources.simple:
            return exactly(difference)
        variance, half = 0.0, float(at.place_value) / 2
        if at.U is not None:
            variance, half = (0.0, float(at.U)) if assumed else (float(at.U) ** 2 / 4, 0.0)
        key = ("temperature", *map(str, warmth.key))
        labels = ("assumed",) if assumed else ()
        number = sources.common(key, Why.TEMPERATURE, (of,), labels, variance=variance, half=half)
        return exactly(difference, {number: 1.0})
