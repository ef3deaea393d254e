"""A hundred random formulas over random sets of gauges: our uncertainty against the `uncertainties` library and trials.

The library is given every separate cause as a variable of its own, built here from the sheet's figures by hand.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Mapping
from decimal import Decimal, localcontext
from itertools import pairwise
from statistics import stdev
from typing import Any, NamedTuple

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from uncertainties import ufloat, umath

from specrules.evaluate import NotEvaluable, Point, combined_u, evaluate
from specrules.evaluate.binding import Binding
from specrules.formula import Formula
from specrules.formula.formula_reading import read_formula
from specrules.quantity import CONTEXT
from tests.inspecting import settled

SIZES = ("a", "b", "c", "d")
MEASURANDS = "\n".join(f"  {name}: {{title: {name.upper()}, at: [item], unit: mm}}" for name in SIZES)
PACK = f"""\
specrules: tolerance-pack/1
group: Sizes
pack: {{name: sizes, version: "1", title: Sizes, unit: mm}}
axes: {{item: {{count: items}}}}
facts: {{items: {{kind: count}}}}
measurands:
{MEASURANDS}
rules:
  any:
    title: Any
    each: item
    formula: a
    limits: none
    importance: minor
    source: {{kind: house}}
    worked:
      - given: {{readings: {{a: {{1: 1}}}}}}
        expect: {{at: {{item: 1}}, value: 1 mm, verdict: not applicable}}
"""
TRIALS = 2000


class Tool(NamedTuple):
    """A gauge's figures in micrometres, its percent in hundredths; `set_with` counts if it numbers an earlier one."""

    resolution: int
    mpe: int
    share: int
    repeatability: int
    set_with: int

    def text(self, number: int) -> str:
        percent = f" and {self.share / 100} percent" if self.share else ""
        setter = f", set with: g{self.set_with}" if 0 <= self.set_with < number else ""
        return (
            f"  g{number}: {{resolution: {self.resolution} um, mpe: {self.mpe} um{percent}, "
            f"repeatability: {self.repeatability} um{setter}}}"
        )


class SheetEnvironment(NamedTuple):
    """Some gauges, what was read with them and which of them read what."""

    tools: tuple[Tool, ...]
    sizes: tuple[Decimal, ...]
    read_with: tuple[int, ...]

    def sheet(self) -> str:
        gauges = "\n".join(tool.text(number) for number, tool in enumerate(self.tools))
        rows = zip(SIZES, self.sizes, self.read_with, strict=True)
        readings = "\n".join(f"  {name}: {{gauge: g{by}, 1: {size}}}" for name, size, by in rows)
        return f"specrules: build-sheet/1\npacks: [sizes]\nunit: mm\ngauges:\n{gauges}\nreadings:\n{readings}\n"

    def chain(self, number: int) -> list[int]:
        """A gauge, the one that set it, and so on."""
        setter = self.tools[number].set_with
        return [number, *(self.chain(setter) if 0 <= setter < number else [])]


class Source(NamedTuple):
    """One cause by hand: the normal standard deviation and the half-width, mm."""

    normal: float
    half: float

    @property
    def u(self) -> float:
        return math.sqrt(self.normal**2 + self.half**2 / 3)


def by_hand(environment: SheetEnvironment) -> tuple[dict[str, Source], dict[str, dict[str, float]]]:
    """Every separate cause, and what each size moves with."""
    causes: dict[str, Source] = {}
    moves: dict[str, dict[str, float]] = {}
    for name, size, number in zip(SIZES, environment.sizes, environment.read_with, strict=True):
        tool, chain = environment.tools[number], environment.chain(number)
        causes[name] = Source(tool.repeatability / 1000, tool.resolution / 2000)
        moves[name] = {name: 1.0}
        for link in chain:
            causes[f"length {link}"] = Source(0, environment.tools[link].mpe / 1000)
            causes[f"scale {link}"] = Source(0, environment.tools[link].share / 10000)
            moves[name] |= {f"length {link}": 1.0, f"scale {link}": float(size)}
        for link, setter in pairwise(chain):
            setting = environment.tools[setter]
            causes[f"setting {link}"] = Source(setting.repeatability / 1000, setting.resolution / 2000)
            moves[name][f"setting {link}"] = 1.0
    return causes, moves


# --- formulas -----------------------------------------------------------------------------------------------------

FORMULA = st.recursive(
    st.sampled_from([*(f"{name} / (1 mm)" for name in SIZES), "2", "0.7"]),
    lambda inner: st.one_of(
        st.tuples(inner, st.sampled_from("+-*/"), inner).map(lambda t: f"({t[0]}) {t[1]} ({t[2]})"),
        st.tuples(st.sampled_from(["min", "max"]), inner, inner).map(lambda t: f"{t[0]}({t[1]}, {t[2]})"),
        st.tuples(inner, st.sampled_from(["2", "3", "-1", ".5"])).map(lambda t: f"({t[0]})^{t[1]}"),
        st.tuples(st.sampled_from(["abs", "sqrt", "ln"]), inner).map(lambda t: f"{t[0]}({t[1]})"),
    ),
    max_leaves=8,
).filter(lambda text: sum(name in text.replace("max", "").replace("abs", "") for name in SIZES) > 1 and len(text) < 400)
BENCH = st.builds(
    SheetEnvironment,
    st.tuples(
        *(
            st.builds(
                Tool,
                st.sampled_from([0, 1, 2, 10]),
                st.integers(1, 8),
                st.sampled_from([0, 0, 3]),
                st.integers(0, 5),
                st.sampled_from([-1, 0, 1]),
            )
            for _ in range(3)
        )
    ),
    st.lists(st.decimals("20", "80", places=3), min_size=4, max_size=4, unique=True).map(tuple),
    st.tuples(*(st.integers(0, 2) for _ in SIZES)),
)


def nominal(of: Any) -> float:
    return float(getattr(of, "nominal_value", of))


WITH_SLOPES: dict[str, Callable[..., Any]] = {
    "abs": lambda a: a if nominal(a) >= 0 else -a,
    "sqrt": umath.sqrt,
    "ln": umath.log,
    "min": lambda a, b: a if nominal(a) <= nominal(b) else b,
    "max": lambda a, b: a if nominal(a) >= nominal(b) else b,
}
PLAIN: dict[str, Callable[..., Any]] = {"abs": abs, "sqrt": math.sqrt, "ln": math.log, "min": min, "max": max}


def in_python(text: str) -> Any:
    return compile(text.replace(" / (1 mm)", "").replace("^", "**"), "a formula of this test", "eval")


def work(code: Any, functions: Mapping[str, Any], sizes: Mapping[str, Any]) -> Any:
    return eval(code, {"__builtins__": {}, **functions, **sizes})  # a text of this test's own


def ours(text: str, environment: SheetEnvironment) -> tuple[Point, float]:
    """The formula's value over a sheet with these gauges, and its standard uncertainty."""
    read, made, faults = settled(environment.sheet(), {"sizes": PACK})
    assert read is not None, faults
    assert made is not None
    formula = read_formula(text, made.scope, each=("item",))
    assert isinstance(formula, Formula), formula
    with localcontext(CONTEXT):
        binding = Binding(read, made, simple=False)
        value = evaluate(formula, binding.environment(), {"item": "1"})
        assert value is not None
        assert value.low is not None
        return value.low, combined_u(value.low.slopes, binding.error_sources)


def nearly_linear(of: Callable[[Mapping[str, float]], float], us: Mapping[str, float], u: float) -> bool:
    """No cause bends the result by more than a hundredth of u within twice its own u."""
    middle = of({})
    return all(abs(of({name: 2 * each}) + of({name: -2 * each}) - 2 * middle) < 0.02 * u for name, each in us.items())


@pytest.mark.second_lane
@settings(derandomize=True)
@given(FORMULA, BENCH)
def test_linear_uncertainty_is_that_of_the_library_and_of_trials(text: str, environment: SheetEnvironment) -> None:
    causes, moves = by_hand(environment)
    code = in_python(text)
    variables = {name: ufloat(0.0, cause.u) for name, cause in causes.items() if cause.u}
    sizes = dict(zip(SIZES, environment.sizes, strict=True))

    def shifted(by: Mapping[str, Any]) -> dict[str, Any]:
        return {
            name: float(size) + sum(slope * by[cause] for cause, slope in moves[name].items() if cause in by)
            for name, size in sizes.items()
        }

    try:
        point, u = ours(text, environment)
        wanted = work(code, WITH_SLOPES, shifted(variables))
    except (NotEvaluable, ValueError, ArithmeticError, TypeError):
        assume(False)
        return
    assume(abs(nominal(wanted)) < 1e9)
    assert float(point.value) == pytest.approx(nominal(wanted), rel=1e-9, abs=1e-9)
    assert u == pytest.approx(getattr(wanted, "std_dev", 0.0), rel=1e-6, abs=1e-10)

    def plain(by: Mapping[str, float]) -> float:
        return float(work(code, PLAIN, shifted(by)))

    us = {name: cause.u for name, cause in causes.items()}
    try:
        if u < 1e-9 or not nearly_linear(plain, us, u):
            return
        chance = random.Random(7)
        found = [
            plain({n: chance.gauss(0, c.normal) + chance.uniform(-c.half, c.half) for n, c in causes.items()})
            for _ in range(TRIALS)
        ]
    except (ValueError, ArithmeticError, TypeError):  # a root or a logarithm on the edge of where it has a value
        return
    assert stdev(found) == pytest.approx(u, rel=0.08)  # five of the scatter that so many trials leave
