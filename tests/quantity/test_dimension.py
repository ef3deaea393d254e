"""Dimensions multiply, divide and have roots; each that has a name says it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.quantity import (
    ANGLE,
    AREA,
    FORCE,
    LENGTH,
    NUMBER,
    PRESSURE,
    STIFFNESS,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    TIME,
    TORQUE,
    UNITS,
    VOLUME,
    Dimension,
)

DIMENSIONS = st.tuples(*[st.integers(-6, 6)] * 5).map(lambda exponents: Dimension(*exponents))


def test_derived_dimensions() -> None:
    assert LENGTH.times(AREA) == VOLUME
    assert FORCE.over(AREA) == PRESSURE
    assert FORCE.over(LENGTH) == STIFFNESS
    assert Dimension(length=1, mass=1, time=-2) == FORCE
    assert TORQUE.over(FORCE) == LENGTH
    assert LENGTH.over(LENGTH) == NUMBER
    assert ANGLE != NUMBER  # a degree is not a bare number
    assert TEMPERATURE != TEMPERATURE_DIFFERENCE


@given(DIMENSIONS, DIMENSIONS)
def test_a_quotient_undoes_a_product(one: Dimension, other: Dimension) -> None:
    assert one.times(other) == other.times(one)
    assert one.times(other).over(other) == one


@given(DIMENSIONS)
def test_a_root_undoes_a_square(one: Dimension) -> None:
    assert one.power(2).root() == one
    assert one.times(LENGTH.power(1 - one.length % 2)).root() is None  # an odd exponent has none


def test_a_product_is_never_a_point_on_the_scale() -> None:
    assert TEMPERATURE.times(NUMBER) == TEMPERATURE_DIFFERENCE


@pytest.mark.parametrize(
    ("dimension", "words"),
    [
        (NUMBER, "number"),
        (VOLUME, "volume"),
        (PRESSURE, "pressure"),
        (TEMPERATURE, "temperature"),
        (TEMPERATURE_DIFFERENCE, "temperature difference"),
        (LENGTH.power(4), "mm^4"),
        (LENGTH.over(TIME.power(3)), "mm s^-3"),
    ],
)
def test_words(dimension: Dimension, words: str) -> None:
    assert dimension.words() == words


def test_every_unit_measures_something_with_a_name() -> None:
    assert not [unit.symbol for unit in UNITS if "^" in unit.dimension.words()]
