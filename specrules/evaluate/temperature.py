"""A length that was read warm or cold, referred to 20 °C, the reference temperature of lengths (ISO 1:2022).

The part at 20 °C is as long as it was read, more what the gauge's scale had grown and less what the part had. Both
coefficients are facts with a spread of their own, so that each is one cause of error for all readings that share it.
"""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from specrules.evaluate import NotEvaluable, Value, add, evaluate, exactly, multiply, subtract
from specrules.pack import Measurand
from specrules.quantity import Exact
from specrules.sheet import Reading
from specrules.vocabulary import Why

if TYPE_CHECKING:
    from specrules.evaluate.binding import Binding

REFERENCE = Decimal(20)


def at_reference(value: Value, reading: Reading, measurand: Measurand, of: Binding) -> Value:
    """The reading as it would be at 20 °C; as it is where the coefficients are not known."""
    environment = of.environment()
    station = dict(zip(measurand.at, reading.station, strict=True))
    part = measurand.expands
    gauge = of.spec.gauges_expand
    if part is None or gauge is None or reading.part_at is None or not value.exact:
        return value
    try:
        grows, scale = evaluate(part, environment, station), evaluate(gauge, environment, {})
    except NotEvaluable:
        return value
    if grows is None or scale is None or not grows.exact or not scale.exact:
        return value
    warm = _above(reading.part_at, "part", of)
    gauge_warm = _above(reading.gauge_at or reading.part_at, "gauge", of)
    growth = subtract(multiply(scale, gauge_warm), multiply(grows, warm))
    corrected = add(value, multiply(value, growth))
    return corrected._replace(whole=value.whole, shared=value.shared)


def _above(stated: Exact, what: str, of: Binding) -> Value:
    """How far a stated temperature is from 20 °C. It is as sure as it was stated to be, else to half its last place."""
    difference = stated.value - REFERENCE
    if of.error_sources.simple:
        return exactly(difference)
    variance, half = 0.0, float(stated.place_value) / 2
    if stated.U is not None:
        variance, half = float(stated.U) ** 2 / 4, 0.0
    key = ("temperature", what, str(stated.value), str(stated.U))
    number = of.error_sources.common(key, Why.TEMPERATURE, (what,), variance=variance, half=half)
    return exactly(difference, {number: 1.0})
