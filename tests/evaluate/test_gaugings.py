"""Which gauge a reading was taken with, what is assumed where nobody says, and the scatter that repeats show."""

from __future__ import annotations

import math

import pytest

from specrules.output.reasons import said
from tests.evaluate.small_gauges import binding, looked, of, parts

# --- which gauge ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("body", "kinds"),
    [
        ("readings: {hole: {1: [50, 50]}, shaft: {1: [50, 50]}}", ["comparator"] * 2 + ["micrometer"] * 2),
        ("gauges: {c: {class: caliper}}\nreadings: {hole: {gauge: c, 1: [50, 50]}}", ["caliper"] * 2),
        ("gauges: {c: {mpe: 1 mm}}\nreadings: {hole: {gauge: c, 1: [50, 50]}}", ["comparator"] * 2),
        ("readings: {bare: {1: 50}}", [""]),
    ],
)
def test_kind_of_gauge(body: str, kinds: list[str]) -> None:
    assert [gauging.gauge_class for gauging in binding(body).gaugings] == kinds


def test_what_nobody_names_is_one_gauge_for_each_measurand() -> None:
    found = binding("readings: {hole: {1: [50.05, 50.05], 2: [50.05, 50.05]}, shaft: {1: [50, 50]}}")
    keys = [gauging.chain[0].key for gauging in found.gaugings]
    assert keys == ["assumed for hole"] * 4 + ["assumed for shaft"] * 2
    assert "calibration of comparator, assumed" in parts(found, 0)
    assert "calibration of micrometer, assumed" in parts(found, 4)


def test_an_assumed_gauge_is_said_and_leaves_more_doubt_than_the_pair_that_is_named() -> None:
    body = "readings: {hole: {%s1: [50.05, open]}, shaft: {%s1: [50, open]}}"
    careless = of(looked(body % ("", "")), "first_fit")
    named = "gauges: {m: {class: micrometer}, c: {class: comparator, set with: m}}\n"
    careful = of(looked(named + body % ("gauge: c, ", "gauge: m, ")), "first_fit")
    assert careless.rests_on.gauges == ("comparator, assumed", "micrometer, assumed")
    assert careful.rests_on.gauges == ("c", "m")
    assert careful.U is not None
    assert careless.U is not None
    assert 0 < careful.U < careless.U


def test_a_stated_uncertainty_needs_no_gauge() -> None:
    assert of(looked("readings: {shaft: {1: [50 ±0.003, open]}}"), "shaft_size").rests_on.gauges == ()


def test_nothing_is_assumed_under_simple_acceptance() -> None:
    assert of(looked("readings: {shaft: {1: [50, open]}}", decision="simple"), "shaft_size").rests_on.gauges == ()


@pytest.mark.parametrize("order", [("hole", "shaft"), ("shaft", "hole")])
def test_a_gauge_whose_kind_nobody_states_is_of_one_kind_throughout(order: tuple[str, str]) -> None:
    readings = ", ".join(f"{name}: {{gauge: tool, 1: [50, open]}}" for name in order)
    found = binding(f"gauges: {{tool: {{checked: 2026-01-01}}}}\nreadings: {{{readings}}}")
    kinds = {gauging.gauge_class for gauging in found.gaugings}
    assert kinds == {"comparator"}  # the kind for the measurand that the pack has first, however the sheet is written
    scales = {half for number in range(2) for what, (_, half) in parts(found, number).items() if "calibration" in what}
    assert scales == {0.003}


def test_a_setter_whose_kind_nobody_states_is_what_it_reads_by_itself() -> None:
    gauges = "gauges: {mic: {checked: 2026-01-01}, bore: {class: comparator, set with: mic}}\n"
    readings = "readings: {hole: {gauge: bore, 1: [50.05, open]}, shaft: {gauge: mic, 1: [50, open]}}"
    assert parts(binding(gauges + readings), 0)["calibration of mic"] == pytest.approx((0, 0.004))
    assert not any(
        said(line.cause) == "calibration of mic" for line in of(looked(gauges + readings), "first_fit").budget
    )


# --- the scatter of repeats -------------------------------------------------------------------------------------

MIC = "gauges: {mic: {class: micrometer}, other: {class: micrometer}}\n"  # class figure 0.001 mm


def own(body: str, number: int = 0) -> float:
    """The normal part of a reading's own cause, in mm."""
    found = binding(MIC + body)
    return math.sqrt(found.error_sources.parts[number].variance)


def repeats(*rows: list[str]) -> str:
    """Readings of the shaft's front at main 1, 2, ... from repeats."""
    return (
        "{gauge: mic, "
        + ", ".join(f"{n}: {{front: {{repeats: [{', '.join(r)}]}}}}" for n, r in enumerate(rows, 1))
        + "}"
    )


TIGHT = ["50.0000", "50.0002"] * 3  # standard deviation 0.000 109 5, 5 degrees of freedom
WIDE = ["50.000", "50.010"] * 3  # 0.005 477, 5 degrees of freedom


@pytest.mark.parametrize(
    ("rows", "wanted"),
    [
        pytest.param([TIGHT], 0.001, id="5 degrees of freedom: never below the class figure"),
        pytest.param([TIGHT, TIGHT], 0.0001 * math.sqrt(12 / 10), id="10: what the sheet shows counts"),
        pytest.param([WIDE], 0.005 * math.sqrt(6 / 5), id="more than the class figure counts from the first"),
        pytest.param([WIDE, TIGHT], math.sqrt((6 * 0.005**2 + 6 * 0.0001**2) / 10), id="pooled over the readings"),
        pytest.param([TIGHT, TIGHT[:5]], 0.001, id="9: not enough"),
    ],
)
def test_scatter_is_pooled_and_has_the_class_figure_under_it(rows: list[list[str]], wanted: float) -> None:
    found = own(f"readings: {{shaft: {repeats(*rows)}}}")
    assert found == pytest.approx(wanted / math.sqrt(6), rel=1e-9)  # the mean of six


def test_the_scatter_of_a_gauge_counts_for_its_single_readings_too() -> None:
    body = f"readings: {{shaft: {repeats(TIGHT, TIGHT)[:-1]}, 3: [50, open]}}}}"
    assert own(body, 2) == pytest.approx(0.0001 * math.sqrt(12 / 10), rel=1e-9)


def test_the_scatter_of_one_gauge_says_nothing_of_another() -> None:
    body = f"readings: {{shaft: {repeats(WIDE)}, hole: {{gauge: other, 1: [50.05, open]}}}}"
    assert own(body) == pytest.approx(0.001)  # of the hole, which the pack has first


def test_repeats_over_positions_given_as_one_figure_count_once() -> None:
    body = f"readings: {{shaft: {{gauge: mic, others: {{repeats: [{', '.join(TIGHT)}]}}}}, bare: {{1: 1, 2: 1, 3: 1}}}}"
    assert own(body) == pytest.approx(0.001 / math.sqrt(6))  # thrice the same 5 degrees of freedom are not 15


def test_a_kind_without_a_figure_takes_what_the_sheet_shows() -> None:
    body = "readings: {bare: {gauge: thing, 1: {repeats: [50.0, 50.2]}}}"
    found = binding("gauges: {thing: {checked: 2026-01-01}}\n" + body)
    assert math.sqrt(found.error_sources.parts[0].variance) == pytest.approx(0.1)  # 0.1414 over the root of two
