"""Published decision rules and risks, through the one function that decides and the one that gives a probability.

Sources: JCGM 106:2012, clauses 7, 8 and 9 (results from memory unless another document is named); ILAC-G8:09/2019,
clauses 4.2.1 to 4.2.3, read, and its guard-band table as others quote it; ISO 14253-1:2017, from memory; global risks
as the tests of other software and the draft of NCSLI RP-19 give them.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from decimal import Decimal

import pytest

from specrules.evaluate.error_distribution import ErrorDistribution
from specrules.inspection import Conformity, Margin, decide, inside
from specrules.vocabulary import DECISION_RULES, DecisionRule, Verdict

Density = Callable[[float], float]


def margins(
    y: str | float, u: float, least: str | None = None, most: str | None = None, k: float = 2.0
) -> list[Margin]:
    """The margins of an estimate inside its limits; U is k times u."""
    value, U = Decimal(y), Decimal(repr(k * u))
    sides = [("least", value - Decimal(least))] if least is not None else []
    sides += [("most", Decimal(most) - value)] if most is not None else []
    return [Margin(side, room, room, U, U) for side, room in sides]


def conformity(given: list[Margin], error: ErrorDistribution) -> Conformity | None:
    """The conformity of margins whose errors are distributed alike, and evenly to both sides."""
    return inside([(margin.low, error) for margin in given if margin.low is not None])


def probability(y: str | float, u: float, least: str | None = None, most: str | None = None) -> float:
    found = conformity(margins(y, u, least, most), ErrorDistribution(u * u))
    assert found is not None
    assert not found.approximate
    return found.probability


def verdict(given: list[Margin], error: ErrorDistribution, rule: DecisionRule) -> Verdict:
    return decide(given, rule, lambda: conformity(given, error)).verdict


# --- JCGM 106:2012, clause 7: the probability of conformity -----------------------------------------------------


@pytest.mark.parametrize(
    ("p", "z"), [(0.80, 0.84), (0.90, 1.28), (0.95, 1.64), (0.99, 2.33), (0.999, 3.09)]
)  # 7.3, Table 1, from memory; z is printed to two places
def test_one_sided_table(p: float, z: float) -> None:
    below, above = (probability(f"{-z - by:.3f}", 1.0, most="0") for by in (-0.00501, 0.00501))
    assert below < p < above


@pytest.mark.parametrize(
    ("y", "u", "least", "most", "p"),
    [
        pytest.param("-5.47", 0.05, None, "-5.40", 0.92, id="7.3, breakdown voltage, from memory"),
        pytest.param("509.7", 8.6, "490", None, 0.99, id="7.3, burst strength, from memory"),
        pytest.param("13.6", 1.8, "12.5", "16.3", 0.66, id="7.4, viscosity; inputs as quoted, result from memory"),
    ],
)
def test_examples(y: str, u: float, least: str | None, most: str | None, p: float) -> None:
    assert probability(y, u, least, most) == pytest.approx(p, abs=0.005)


def test_the_parts_outside_add_up() -> None:
    """7.4: recomputed from its inputs, 0.270 56 lies below the lower limit and 0.066 81 above the upper."""
    assert 1 - probability("13.6", 1.8, least="12.5") == pytest.approx(0.27056, abs=5e-6)
    assert 1 - probability("13.6", 1.8, most="16.3") == pytest.approx(0.06681, abs=5e-6)
    assert probability("13.6", 1.8, "12.5", "16.3") == pytest.approx(0.66263, abs=5e-6)


@pytest.mark.parametrize(
    ("index", "centre", "edge"),
    [(1, 0.95450, 0.44905), (2, 0.999937, 0.20561), (3, None, 0.13707), (4, None, 0.10280)],
)
def test_measurement_capability_index(index: int, centre: float | None, edge: float) -> None:
    """7.6, C_m = T / 4u: the probability in the middle, and where it is 95 %, as shares of T (recomputed)."""
    u = 1 / (4 * index)
    if centre is not None:
        assert probability("0.5", u, "0", "1") == pytest.approx(centre, abs=5e-6)
    assert probability(f"{edge + 0.00001:.5f}", u, "0", "1") > 0.95 > probability(f"{edge - 0.00001:.5f}", u, "0", "1")


@pytest.mark.parametrize(
    ("given", "error", "found"),
    [
        ([], ErrorDistribution(0.25), None),
        ([Margin("most", Decimal(1), Decimal(1))], ErrorDistribution(), None),  # nothing says how sure it is
        ([Margin("most", Decimal(0), Decimal(0))], ErrorDistribution(0.25), 0.5),
        ([Margin("most", Decimal("0.5"), Decimal("0.5"))], ErrorDistribution(halves=(1.0,)), 0.75),
    ],
)
def test_no_probability_where_nothing_is_known(
    given: list[Margin], error: ErrorDistribution, found: float | None
) -> None:
    conform = conformity(given, error)
    assert (conform.probability if conform is not None else None) == found


# --- JCGM 106:2012, clause 8: guarded acceptance and rejection ----------------------------------------------------


def least_speed_sure_to_be_too_fast(u_of: Callable[[float], float]) -> float:
    rule = DecisionRule("nonconformance-99.9", probability=0.999, by_probability=True)
    slow, fast = 100.0, 120.0
    while fast - slow > 1e-4:
        middle = (slow + fast) / 2
        u = u_of(middle)
        found = verdict(margins(f"{middle:.9f}", u, most="100"), ErrorDistribution(u * u), rule)
        slow, fast = (slow, middle) if found is Verdict.OUT else (middle, fast)
    return fast


def test_guarded_rejection_of_a_speed() -> None:
    """8.3.2, from memory: limit 100 km/h, u of 2 % of what is read, 99.9 % sure: from 107 km/h, a guard band of 7."""
    assert math.ceil(least_speed_sure_to_be_too_fast(lambda v: 0.02 * v)) == 107
    assert least_speed_sure_to_be_too_fast(lambda v: 0.02 * v) == pytest.approx(106.588, abs=0.001)
    # 2 % of the limit instead of what is read would give 106.18: the uncertainty is that of the value
    assert least_speed_sure_to_be_too_fast(lambda _: 2.0) == pytest.approx(106.180, abs=0.001)


@pytest.mark.parametrize(
    ("name", "z"), [("conformance-95", 1.6449), ("conformance-99", 2.3263)]
)  # 8.2 with the z of 7.3, recomputed
def test_guarded_acceptance_by_probability(name: str, z: float) -> None:
    rows = [(z + 1e-4, Verdict.IN_SPEC), (z - 1e-4, Verdict.JUST_IN), (-z + 1e-4, Verdict.JUST_OUT)]
    for by, wanted in [*rows, (-z - 1e-4, Verdict.OUT), (0.0, Verdict.JUST_IN)]:
        found = verdict(margins(f"{-by:.6f}", 1.0, most="0"), ErrorDistribution(1.0), DECISION_RULES[name])
        assert found is wanted, by


# --- global risks: JCGM 106:2012, clause 9 -----------------------------------------------------------------------


def integral(of: Density, start: float, end: float, steps: int = 2000) -> float:
    """By Simpson's rule."""
    width = (end - start) / steps
    inner = sum((4 if n % 2 else 2) * of(start + n * width) for n in range(1, steps))
    return (of(start) + inner + of(end)) * width / 3


def accepted(true: float, u: float, least: float | None, most: float | None) -> float:
    """How probably an item of this true value is read inside its acceptance limits."""
    bounds = [None if end is None else repr(end) for end in (least, most)]
    return probability(repr(true), u, *bounds)


def gamma(x: float) -> float:
    """The process of 9.5.4: gamma with a = 4 and b = 4 per micrometre."""
    return float(4**4 * x**3 * math.exp(-4 * x) / math.gamma(4))


def normal(sd: float) -> Density:
    return lambda x: math.exp(-((x / sd) ** 2) / 2) / sd / math.sqrt(2 * math.pi)


def test_no_inspection_of_ball_bearings() -> None:
    # 9.5.4, as an example of other software quotes it: 4.2 % are beyond 2 um
    assert integral(gamma, 2, 20) == pytest.approx(0.042, abs=0.0005)


@pytest.mark.parametrize(
    ("acceptance", "consumer", "producer"),
    [
        pytest.param(2.0, 0.008, 0.0174, id="9.5.4, acceptance limit on the tolerance limit: consumer's risk 0.8 %"),
        pytest.param(1.671829, 0.001, 0.0755, id="9.5.4, acceptance limit 1.67 um: consumer's risk 0.1 %"),
    ],
)  # the producer's risks are recomputed
def test_inspection_of_ball_bearings(acceptance: float, consumer: float, producer: float) -> None:
    wrong = integral(lambda x: gamma(x) * accepted(x, 0.25, None, acceptance), 2, 6)
    lost = integral(lambda x: gamma(x) * (1 - accepted(x, 0.25, None, acceptance)), 0, 2)
    assert wrong == pytest.approx(consumer, abs=0.00005)
    assert lost == pytest.approx(producer, abs=0.00005)


def test_false_acceptance_and_rejection_of_a_normal_process() -> None:
    # limits of 8 either way, process 4, measurement 1: 0.008 and 0.015, as tests of other software have it
    process = normal(4)
    wrong = 2 * integral(lambda x: process(x) * accepted(x, 1, -8, 8), 8, 14)
    lost = 2 * integral(lambda x: process(x) * (1 - accepted(x, 1, -8, 8)), 0, 8)
    assert (wrong, lost) == pytest.approx((0.0080061, 0.0148509), abs=5e-6)


@pytest.mark.parametrize(
    ("inside", "percent"),
    [(0.60, 4.8386), (0.70, 3.9223), (0.80, 2.8558), (0.90, 1.6000), (0.95, 0.8710), (0.99, 0.1999)],
)
def test_false_acceptance_where_the_measurement_is_four_times_as_good(inside: float, percent: float) -> None:
    """NCSLI RP-19, draft, as quoted: the measurement's sd a quarter of the process's, so many of it in tolerance."""
    low, high = 0.0, 5.0
    while high - low > 1e-12:  # the limit, in sd of the process, within which so many lie
        middle = (low + high) / 2
        low, high = (middle, high) if math.erf(middle / math.sqrt(2)) < inside else (low, middle)
    process = normal(1)
    wrong = 2 * integral(lambda x: process(x) * accepted(x, 0.25, -low, low), low, low + 2.5)
    assert 100 * wrong == pytest.approx(percent, abs=0.0001)


# --- ILAC-G8:09/2019 ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("y", "simple", "guarded", "statement"),
    [
        ("10.79", Verdict.IN_SPEC, True, "pass"),
        ("10.80", Verdict.IN_SPEC, True, "pass"),  # the clause's intervals are closed at both ends: our choice
        ("10.81", Verdict.IN_SPEC, False, "conditional pass"),
        ("11.00", Verdict.IN_SPEC, False, "conditional pass"),  # on the limit, likewise
        ("11.01", Verdict.OUT, False, "conditional fail"),
        ("11.20", Verdict.OUT, False, "conditional fail"),  # likewise
        ("11.21", Verdict.OUT, False, "fail"),
    ],
)
def test_clauses(y: str, simple: Verdict, guarded: bool, statement: str) -> None:
    """4.2.1 simple acceptance, 4.2.2 binary with a guard band, 4.2.3 non-binary; 10 within 1, U = 0.2."""
    of_simple = [margin._replace(U_low=Decimal(0), U_high=Decimal(0)) for margin in margins(y, 0.1, "9", "11")]
    assert decide(of_simple, DECISION_RULES["simple"]).verdict is simple
    found = decide(margins(y, 0.1, "9", "11"), DECISION_RULES["guarded"]).verdict
    assert (found is Verdict.IN_SPEC) is guarded
    assert found.statement == statement


TABLE = [  # guard band as a multiple of U, and the risk that the table says it keeps below
    pytest.param("3", 1e-6, id="6 sigma"),
    pytest.param("1.5", 0.0016, id="3 sigma"),
    pytest.param("1", 0.025, id="ILAC-G8"),
    pytest.param("0.83", 0.05, id="ISO 14253-1"),
    pytest.param("0", 0.5000001, id="simple acceptance, on the limit"),
]


def risk_on_the_edge(multiple: str, k: float) -> float:
    """The probability of false acceptance of a value that is just accepted."""
    rule = DecisionRule("a guard band", Decimal(multiple))
    U = Decimal(repr(k))  # of u = 1
    edge = -Decimal(multiple) * U
    accepted_at = [decide(margins(str(y), 1.0, most="0", k=k), rule).verdict for y in (edge, edge + Decimal("1e-9"))]
    assert [verdict is Verdict.IN_SPEC for verdict in accepted_at] == [True, False]
    return 1 - probability(str(edge), 1.0, most="0")


@pytest.mark.parametrize(("multiple", "below"), TABLE)
def test_guard_band_table(multiple: str, below: float) -> None:
    assert risk_on_the_edge(multiple, 2.0) < below


@pytest.mark.parametrize(("multiple", "below"), [("1.5", 0.0016), ("0.83", 0.05)])
def test_the_guard_band_table_holds_for_a_coverage_factor_of_exactly_two(multiple: str, below: float) -> None:
    """With U = 1.96 u both of these statements are false (0.164 % and 5.19 %): our U is 2 u."""
    assert risk_on_the_edge(multiple, 1.96) > below


def test_uncritical_rejection() -> None:
    """The guard band of -U (the table's last row, from memory): what is rejected at U beyond is good with 2.275 %."""
    assert probability("2", 1.0, most="0") == pytest.approx(0.0227501, abs=5e-8)


@pytest.mark.parametrize(("multiple", "limit"), [("0.83", "10.834"), ("1", "10.8"), ("1.5", "10.7"), ("3", "10.4")])
def test_acceptance_limits(multiple: str, limit: str) -> None:
    """A laboratory's worked figures: 10 within 1, U = 0.2."""
    rule = DecisionRule("a guard band", Decimal(multiple))
    above = str(Decimal(limit) + Decimal("0.0001"))
    assert decide(margins(limit, 0.1, "9", "11"), rule).verdict is Verdict.IN_SPEC
    assert decide(margins(above, 0.1, "9", "11"), rule).verdict is Verdict.JUST_IN


@pytest.mark.parametrize(
    ("y", "verdict"), [("0.4", Verdict.IN_SPEC), ("0.401", Verdict.JUST_IN), ("-0.4", Verdict.IN_SPEC)]
)
def test_a_guard_band_of_a_fifth(y: str, verdict: Verdict) -> None:
    """Another such figure: a resistor within 0.5 ohm, a guard band of 20 %: accepted within 0.4 ohm."""
    assert decide(margins(y, 0.05, "-0.5", "0.5"), DECISION_RULES["guarded"]).verdict is verdict


# --- ISO 14253-1:2017 ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("y", "wanted"),
    [
        ("10.835", Verdict.IN_SPEC),  # inside by 1.65 u
        ("10.836", Verdict.JUST_IN),
        ("11.165", Verdict.JUST_OUT),
        ("11.166", Verdict.OUT),  # nonconformity is proven beyond 1.65 u
        ("9.165", Verdict.IN_SPEC),
        ("9.164", Verdict.JUST_IN),
        ("8.834", Verdict.OUT),
    ],
)
def test_default_rule(y: str, wanted: Verdict) -> None:
    """From memory: 95 % one-sided, so 1.65 u for conformity and for nonconformity; 10 within 1, u = 0.1."""
    assert verdict(margins(y, 0.1, "9", "11"), ErrorDistribution(0.01), DECISION_RULES["iso-14253-1"]) is wanted


@pytest.mark.parametrize(
    ("width", "middle"),
    [  # in u: in the middle 1.65 u is kept to each side of 3.3 and more, and 95 % is reached from 3.92 on
        (3.2, Verdict.JUST_IN),
        (3.4, Verdict.JUST_IN),  # 1.7 u to each side: 91 %
        (3.91, Verdict.JUST_IN),  # 94.94 %
        (3.93, Verdict.IN_SPEC),  # 95.06 %
    ],
)
def test_default_rule_where_the_limits_lie_close(width: float, middle: Verdict) -> None:
    """Both tails count: recomputed from the normal distribution, of which 95 % lie within 1.960 u."""
    given = margins(width / 2, 1.0, "0", repr(width))
    assert verdict(given, ErrorDistribution(1.0), DECISION_RULES["iso-14253-1"]) is middle


def test_risk_of_the_default_rule() -> None:
    assert 1 - probability("-1.65", 1.0, most="0") == pytest.approx(0.04947, abs=5e-6)  # 1 - Phi(1.65), below 5 %


def test_earlier_editions_are_the_guarded_rule() -> None:
    """1998 and 2013, from memory: the guard band is U at k = 2."""
    assert DECISION_RULES["guarded"].guard == 1
