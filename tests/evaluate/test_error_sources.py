"""What a reading's uncertainty is made of, what readings share, and how U follows from it.

Sources: JCGM 100:2008 (GUM), clause 4.3.7 (a half-width is rectangular), 5.1.2 and 5.2 (combining, correlation by
common inputs), F.1.2.3. The allowance for picking an extreme and the cap on U are decisions of this project.
"""

from __future__ import annotations

import math
from decimal import Decimal

import pytest

from specrules.evaluate.error_sources import CERTAIN, Part
from specrules.inspection.judge import Judge
from specrules.output.reasons import said
from specrules.vocabulary import DECISION_RULES, Verdict
from tests.evaluate.small_gauges import binding, causes, expanded, looked, of, part, parts, point

MICROMETER = "gauges: {mic: {class: micrometer}}\n"
PAIR = "gauges: {mic: {class: micrometer}, bore: {class: comparator, set with: mic}}\n"
BOTH = "hole: {gauge: bore, 1: [50.050, open]}, shaft: {gauge: mic, 1: [50.000, open]}"
CALIBRATION_OF_MIC = "calibration of mic"

# --- the parts of one reading -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("body", "wanted"),
    [
        # resolution 0.002 mm counts half, repeatability as it is, MPE as a half-width
        pytest.param(
            MICROMETER + "readings: {shaft: {gauge: mic, 1: [50.000, open]}}",
            {"reading shaft 1 front": (0.001, 0.001), CALIBRATION_OF_MIC: (0, 0.004)},
            id="a micrometer",
        ),
        pytest.param(
            MICROMETER + "readings: {shaft: {gauge: mic, 1: {front: {repeats: [50.000, 50.000, 50.000, 50.000]}}}}",
            {"reading shaft 1 front": (0.0005, 0.001), CALIBRATION_OF_MIC: (0, 0.004)},
            id="repeatability over the root of four, and nothing else",
        ),
        pytest.param(
            "gauges: {mic: {class: micrometer, mpe: 0.001 mm}}\nreadings: {shaft: {gauge: mic, 1: [50.000, open]}}",
            {"reading shaft 1 front": (0.001, 0.001), CALIBRATION_OF_MIC: (0, 0.001)},
            id="what the sheet says of a gauge goes before its class",
        ),
        pytest.param(
            "gauges: {mic: {class: micrometer, mpe: 0 mm}}\nreadings: {shaft: {gauge: mic, 1: [50.000, open]}}",
            {"reading shaft 1 front": (0.001, 0.001)},
            id="no error of the scale, no cause",
        ),
        pytest.param(
            "gauges: {feeler: {class: blades}}\nreadings: {gap: {gauge: feeler, 1: 0.20..0.26}}",
            {"reading gap 1": (0, 0.03), "calibration of feeler": (0, 0.006)},
            id="a bracket is rectangular over its width, and its gauge's last step is in it already",
        ),
        pytest.param(
            "gauges: {feeler: {class: blades}}\nreadings: {gap: {gauge: feeler, 1: under 0.05}}",
            {"reading gap 1": (0, 0.01), "calibration of feeler": (0, 0.006)},
            id="of an open bracket only the blade is known",
        ),
        pytest.param(
            MICROMETER + "readings: {shaft: {gauge: mic, 1: [50.000 ±0.003, open]}}",
            {"reading shaft 1 front": (0.0015, 0)},
            id="a stated U, at k = 2, says all there is",
        ),
        pytest.param(
            "gauges: {t: {class: tester}}\nreadings: {load: {gauge: t, 1: 1000 N}}",
            {"reading load 1": (10_000_000, 500_000), "scale of t": (0, 20_000_000)},  # base unit g mm/s2
            id="shares are of what was read",
        ),
        *(
            pytest.param(
                f"gauges: {{t: {{class: tester}}}}\nreadings: {{load: {{gauge: t, 1: {written}}}}}",
                {"reading load 1": (10_000_000, 500_000), "scale of t": (0, 20_000_000)},
                id=f"shares of {written} are of the size that is known",
            )
            for written in ("under 1000 N", "over 1000 N")
        ),
        pytest.param("readings: {bare: {1: 50.00}}", {"reading bare 1": (0, 0)}, id="nothing said, nothing counted"),
    ],
)
def test_parts_of_a_reading(body: str, wanted: dict[str, tuple[float, float]]) -> None:
    found = parts(binding(body))
    assert found.keys() == wanted.keys()
    for what, (normal, half) in wanted.items():
        assert found[what] == pytest.approx((normal, half), rel=1e-12), what


def test_simple_acceptance_keeps_nothing_but_brackets() -> None:
    of_simple = binding(
        "gauges: {mic: {class: micrometer}}\n"
        "readings: {shaft: {gauge: mic, 1: [50.000 ±0.003, 50.001]}, gap: {1: 0.20..0.26}}",
        decision="simple",
    )
    assert [parts(of_simple, number) for number in range(3)] == [
        {"reading shaft 1 front": (0, 0)},
        {"reading shaft 1 rear": (0, 0)},
        {"reading gap 1": (0, pytest.approx(0.03))},
    ]


@pytest.mark.parametrize(
    ("body", "rule", "U"),
    [
        ("shaft: {gauge: mic, 1: [50.000, open]}", "shaft_size", expanded((0.001,), (0.001, 0.004))),
        ("shaft: {gauge: mic, 1: [50.000 ±0.003, open]}", "shaft_size", 0.003),
        ("load: {gauge: t, 1: 1000 N}", "load_size", expanded((10,), (0.5, 20))),
        ("bare: {1: 50.00}", "bare_size", 0),
    ],
)
def test_expanded_uncertainty_of_one_reading(body: str, rule: str, U: float) -> None:
    gauges = "gauges: {mic: {class: micrometer}, feeler: {class: blades}, t: {class: tester}}\n"
    found = of(looked(f"{gauges}readings: {{{body}}}"), rule)
    assert found.U is not None
    assert float(found.U) == pytest.approx(U, rel=1e-11)


def test_a_bracket_has_no_one_expanded_uncertainty_and_its_margins_have() -> None:
    found = of(looked("gauges: {feeler: {class: blades}}\nreadings: {gap: {gauge: feeler, 1: 0.20..0.26}}"), "gap_size")
    assert found.U is None
    assert [float(margin.U) for margin in found.margins] == pytest.approx([expanded((), (0.03, 0.006))] * 2, rel=1e-11)


def test_what_a_bracket_leaves_in_doubt_stands_beside_its_ends() -> None:
    body = "gauges: {feeler: {class: blades}}\nreadings: {gap: {gauge: feeler, 1: 0.20..0.26}}"
    (bracket,) = of(looked(body), "gap_size").inputs
    assert (bracket.value, bracket.low, bracket.high) == (Decimal("0.23"), Decimal("0.20"), Decimal("0.26"))
    assert bracket.gauge_error == Decimal("0.006")
    assert float(bracket.expanded or 0) == pytest.approx(expanded((), (0.03, 0.006)), rel=1e-11)
    (simple,) = of(looked(body, "simple"), "gap_size").inputs
    assert (simple.gauge_error, simple.expanded) == (None, None)


# --- what readings share ----------------------------------------------------------------------------------------

OWN_OF_MIC, OWN_OF_BORE = (0.001, 0.001), (0.002, 0.001)  # repeatability, half the resolution
SET = (0.001, 0.001)  # the one act of setting the bore gauge: the micrometer's repeatability and half its resolution


@pytest.mark.parametrize(
    ("gauges", "shaft", "normal", "halves"),
    [
        pytest.param(PAIR, "mic", (0.002, 0.001, 0.001), (0.001, 0.001, 0.001, 0.003), id="set with the same one"),
        pytest.param(
            PAIR.replace("set with: mic", "set with: other").replace(
                "gauges: {", "gauges: {other: {class: micrometer}, "
            ),
            "mic",
            (0.002, 0.001, 0.001),
            (0.001, 0.001, 0.001, 0.003, 0.004, 0.004),
            id="set with another micrometer: both scales count",
        ),
        pytest.param(
            "gauges: {mic: {class: micrometer}, r: {class: setting ring}, bore: {class: comparator, set with: r}}\n",
            "mic",
            (0.002, 0.001),
            (0.001, 0.001, 0.003, 0.004, 0.001),
            id="set with a ring: the scale and the ring count, setting to a ring adds nothing",
        ),
        pytest.param(
            "gauges: {mic: {class: micrometer}, bore: {class: comparator}}\n",
            "mic",
            (0.002, 0.001),
            (0.001, 0.001, 0.003, 0.004),
            id="nobody says what it was set with",
        ),
        pytest.param(
            "gauges: {inside: {class: caliper}, outside: {class: caliper}}\n",
            "outside",
            (0.01, 0.01),
            (0.01, 0.01, 0.03, 0.03),
            id="the two jaws of a caliper are two gauges",
        ),
        pytest.param(
            "gauges: {jaws: {class: caliper}}\n",
            "jaws",
            (0.01, 0.01),
            (0.01, 0.01),
            id="entered as one they cancel, which is why they have to be entered as two",
        ),
    ],
)
def test_what_cancels_in_a_clearance(
    gauges: str, shaft: str, normal: tuple[float, ...], halves: tuple[float, ...]
) -> None:
    hole = next(name for name in ("bore", "inside", "jaws") if f"{name}:" in gauges)
    fit = of(looked(f"{gauges}readings: {{{BOTH.replace('bore', hole).replace('mic', shaft)}}}"), "first_fit")
    assert fit.U is not None
    assert float(fit.U) == pytest.approx(expanded(normal, halves), rel=1e-11)


def test_one_micrometer_for_both_leaves_nothing_at_all_of_its_calibration() -> None:
    """GUM F.1.2.3: a common cause cancels exactly; to the last bit, and not only below what is printed."""
    body = f"readings: {{{BOTH}}}"
    fit = of(looked(PAIR + body), "first_fit")
    assert [said(line.cause) for line in fit.budget] == [
        "reading hole 1 front", "calibration of bore", "setting bore with mic", "reading shaft 1 front"
    ]  # fmt: skip
    coarse = of(looked(PAIR.replace("class: micrometer", "class: micrometer, mpe: 1 mm") + body), "first_fit")
    assert coarse.U == fit.U
    apart = PAIR.replace("gauges: {", "gauges: {ring: {class: setting ring}, two: {class: micrometer}, ")
    for other in ("ring", "two"):
        found = of(looked(apart.replace("set with: mic", f"set with: {other}") + body), "first_fit")
        assert [line.u for line in found.budget if said(line.cause) == CALIBRATION_OF_MIC] == [
            pytest.approx(0.004 / 3**0.5)
        ]
        assert any(said(line.cause) == f"calibration of {other}" for line in found.budget)


def test_what_a_sum_shares_counts_twice() -> None:
    """GUM 5.2.2, note 1: fully correlated inputs add linearly."""
    found = of(looked(MICROMETER + "readings: {shaft: {gauge: mic, 1: [50.000, 50.010]}}"), "sum_of_two")
    assert found.U is not None
    assert float(found.U) == pytest.approx(expanded((0.001, 0.001), (0.001, 0.001, 0.008)), rel=1e-11)


def test_setting_is_one_event_that_all_readings_of_the_comparator_share() -> None:
    every = binding(PAIR + "readings: {hole: {gauge: bore, 1: [50.050, 50.051], 2: [50.050, open]}}")
    own = [set(every.error_sources.slopes[number]) for number in range(3)]
    assert len(set.intersection(*own)) == 3  # two calibrations and the setting
    assert len(set.union(*own)) == 6
    spread = of(looked(PAIR + "readings: {hole: {gauge: bore, 1: [50.050, 50.051]}, shaft: {1: [50, 50]}}"), "fit")
    assert sum(said(line.cause) == "setting bore with mic" for line in spread.budget) == 1


@pytest.mark.parametrize("sizes", [("40", "60"), ("60", "40")])
def test_setting_in_percent_counts_by_the_size_of_each_reading_in_any_order(sizes: tuple[str, str]) -> None:
    """One percent of what is set: 0.8 mm (k = 2) at 40 mm and 1.2 mm at 60 mm, whichever station comes first."""
    found = looked(
        "gauges: {mic: {class: micrometer, repeatability: 1 percent, resolution: 0 mm, mpe: 0 mm},\n"
        "  bore: {class: comparator, set with: mic, repeatability: 0 mm, resolution: 0 mm, mpe: 0 mm}}\n"
        "facts: {mains: 2}\n"
        f"readings: {{hole: {{gauge: bore, 1: [{sizes[0]}.00, {sizes[0]}.00], 2: [{sizes[1]}.00, {sizes[1]}.00]}}}}"
    )
    doubts = {size: of(found, "hole_size", main).U for main, size in zip("12", sizes, strict=True)}
    assert doubts == {"40": Decimal("0.8"), "60": Decimal("1.2")}


def test_of_a_chain_of_settings_every_link_counts() -> None:
    chain = (
        "gauges: {ring: {class: setting ring}, mic: {class: micrometer, set with: ring},\n"
        "  bore: {class: comparator, set with: mic}}\n"
    )
    assert set(parts(binding(chain + "readings: {hole: {gauge: bore, 1: [50.050, open]}}"))) == {
        "reading hole 1 front",
        "calibration of bore",
        CALIBRATION_OF_MIC,
        "calibration of ring",
        "setting bore with mic",
    }


def test_a_difference_that_a_comparator_shows_by_itself_has_no_share_of_the_error_it_was_set_with() -> None:
    """Zeroed in the shaft's own gap, both sides of the dial's difference had the same error in them."""
    found = parts(binding(PAIR + "readings: {dial: {gauge: bore, 1: 0.050}}"))
    assert found.keys() == {"reading dial 1", "calibration of bore", "setting bore with mic"}


# --- errors in percent ------------------------------------------------------------------------------------------

LOADS = """\
gauges: {t: {class: tester, resolution: 0 N, repeatability: 0 N}}
readings: {load: {gauge: t, 1: %s N, 2: %s N}}
"""


@pytest.mark.parametrize(("one", "other"), [("1000", "500"), ("1000", "1000"), ("300", "1500")])
def test_errors_in_percent_cancel_in_a_ratio(one: str, other: str) -> None:
    found = of(looked(LOADS % (one, other)), "load_ratio")
    assert found.U is not None
    assert float(found.U) == pytest.approx(0, abs=1e-15)


@pytest.mark.parametrize(
    ("one", "other", "left"),
    [("1000", "500", 500), ("1000", "1000", 0), ("300", "1500", 1200)],
)
def test_errors_in_percent_cancel_in_a_difference_only_in_proportion(one: str, other: str, left: int) -> None:
    found = of(looked(LOADS % (one, other)), "load_less")
    assert found.U is not None
    assert float(found.U) == pytest.approx(0.02 * left, abs=1e-9)  # a half-width alone: U is not wider than it


def test_an_error_that_is_part_length_and_part_percent_is_two_causes() -> None:
    gauges = "gauges: {mic: {class: micrometer, mpe: 0.001 mm and 0.01 percent}}\n"
    body = gauges + "readings: {shaft: {gauge: mic, 1: [50, 40]}}"
    found = parts(binding(body))
    assert found[CALIBRATION_OF_MIC] == pytest.approx((0, 0.001))
    assert found["scale of mic"] == pytest.approx((0, 0.005))
    assert parts(binding(body), 1)["scale of mic"] == pytest.approx((0, 0.004))


# --- U and its cap ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("made", "slopes", "U"),
    [
        ((part("a", half=1.0),), {0: 1.0}, 1.0),  # 2u would be 1.155
        ((part("a", half=1.0), part("b", half=1.0)), {0: 1.0, 1: 1.0}, 2 * math.sqrt(2 / 3)),  # 1.63, and 2 at most
        ((part("a", variance=0.01, half=1.0),), {0: 1.0}, 2 * math.sqrt(0.01 + 1 / 3)),
        ((part("a", variance=1e-4, half=1.0),), {0: 1.0}, 1.02),
        ((part("a", variance=4.0),), {0: -1.5}, 6.0),
        ((part("a", half=1.0),), {0: -3.0}, 3.0),
        ((part("a", half=1.0),), {0: 0.0}, 0.0),
    ],
)
def test_expanded_is_twice_u_and_never_wider_than_the_half_widths_and_twice_the_rest(
    made: tuple[Part, ...], slopes: dict[int, float], U: float
) -> None:
    doubt = causes(*made).uncertainty(point("5", slopes))
    assert (float(doubt.down), float(doubt.up)) == pytest.approx((U, U), rel=1e-11)


def test_what_moves_with_nothing_is_sure() -> None:
    assert causes().uncertainty(point("5", {})) == CERTAIN
    assert causes().uncertainty(None) == CERTAIN
    assert causes(part("a")).uncertainty(point("5", {0: 1.0})) == CERTAIN


@pytest.mark.parametrize(
    ("blade", "verdict"),
    [
        ("0.10..0.14", Verdict.IN_SPEC),  # the limit is the blade that goes
        ("0.098..0.14", Verdict.JUST_IN),
        ("0.46..0.50", Verdict.IN_SPEC),
        ("0.46..0.502", Verdict.JUST_IN),
        ("0.50..0.54", Verdict.JUST_OUT),  # it may be on the limit
        ("0.502..0.54", Verdict.OUT),
    ],
)
def test_a_blade_exactly_on_the_limit_can_be_in_spec(blade: str, verdict: Verdict) -> None:
    exact = "gauges: {feeler: {class: blades, mpe: 0 mm}}\n"
    assert of(looked(f"{exact}readings: {{gap: {{gauge: feeler, 1: {blade}}}}}"), "gap_size").verdict is verdict


def test_a_blade_on_the_limit_whose_own_thickness_is_in_doubt_is_not_sure() -> None:
    body = "gauges: {feeler: {class: blades}}\nreadings: {gap: {gauge: feeler, 1: 0.10..0.14}}"
    assert of(looked(body), "gap_size").verdict is Verdict.JUST_IN


# --- U is that of the margin ------------------------------------------------------------------------------------


def margin(body: str, rule: str, side: str = "most") -> tuple[float, float]:
    found = next(each for each in of(looked(body), rule).margins if each.side == side)
    assert found.value is not None
    return float(found.value), float(found.U)


def test_what_value_and_limit_share_cancels_in_the_margin() -> None:
    body = MICROMETER + "readings: {shaft: {gauge: mic, 1: [50.000, 50.050]}}"
    found = margin(body, "over_shaft")
    assert found[0] == pytest.approx(0.05)
    assert found[1] == pytest.approx(expanded((0.001, 0.001), (0.001, 0.001)), rel=1e-11)


def test_a_limit_in_proportion_moves_with_the_reading_it_is_taken_from() -> None:
    """The margin is 0.002 hole - (hole - shaft): its slope by the hole is -0.998, by the shaft 1."""
    body = PAIR + f"readings: {{{BOTH}}}"
    found = margin(body, "in_proportion")
    assert found[0] == pytest.approx(0.002 * 50.05 - 0.05)
    by = 0.998
    wanted = expanded((0.002 * by, 0.001 * by, 0.001), (0.001 * by, 0.001 * by, 0.001, 0.003 * by, 0.004 * 0.002))
    assert found[1] == pytest.approx(wanted, rel=1e-11)


def test_a_fact_that_states_its_uncertainty_is_a_cause() -> None:
    body = "facts: {length: 50.000 mm ±0.006 mm}\n" + MICROMETER + "readings: {shaft: {gauge: mic, 1: [50.010, open]}}"
    found = of(looked(body), "with_a_fact")
    assert found.U is not None
    assert float(found.U) == pytest.approx(expanded((0.001, 0.003), (0.001, 0.004)), rel=1e-11)
    assert "length as stated" in [said(line.cause) for line in found.budget]


# --- picking an extreme -----------------------------------------------------------------------------------------

FAR = "gauges: {mic: {class: micrometer, mpe: 0 mm, resolution: 0 mm}}\n"  # u is the repeatability alone
ONE = 0.002  # so that U of one reading is this, in mm


def sides(body: str, rule: str) -> tuple[float, float]:
    """How far the truth may lie below and above a value, in standard deviations of one reading."""
    every = binding(FAR + f"readings: {{{body}}}")
    judge = Judge(every.environment(), DECISION_RULES["guarded"], {})
    rule_ = every.spec.rules[rule].governing[-1]
    judged = judge.judge(rule_, {"main": "1"} if rule_.each else {})
    assert judged.value is not None
    doubt = judge.uncertainty(judged.value.low)
    return float(doubt.down) / 0.001, float(doubt.up) / 0.001


ROOT = 2**0.5
# the greatest of m like values is expected so far above, and scatters with that variance (recomputed; in one u)
PULL = {2: 0.5642, 3: 0.8463, 4: 1.0294}
VARIANCE = {2: 0.6817, 3: 0.5595, 4: 0.4917}


RANGE_OF_TWO = 2 / math.sqrt(math.pi) + 2 * math.sqrt(2 - 4 / math.pi)
"""The difference of two like values by its amount: half-normal, and so its mean and two standard deviations of it."""


def pulled(among: int) -> float:
    """Two standard deviations of a picked extreme, after what it is pulled by."""
    return PULL[among] + 2 * math.sqrt(VARIANCE[among])


@pytest.mark.parametrize(
    ("shafts", "rule", "down", "up"),
    [
        ("1: [50.000, 50.001]", "largest_shaft", pulled(2), 2),
        ("1: [50.000, 50.001]", "smallest_shaft", 2, pulled(2)),
        ("1: [50.000, 50.0042]", "largest_shaft", pulled(2), 2),
        ("1: [50.000, 50.0043]", "largest_shaft", 2, 2),  # told apart: of equal ones 0.3 % differ by more than 4.243 u
        ("1: [50.000, open]", "largest_shaft", 2, 2),
        ("1: 50.000", "largest_shaft", 2, 2),  # one figure for both places is one reading
        ("1: [50.000, 50.001]", "taper", RANGE_OF_TWO, 2 * ROOT),  # too wide by both ends
        ("1: [50.000, 50.000]", "taper", RANGE_OF_TWO, 2 * ROOT),  # nothing is no surer than any other difference
        ("1: [50.000, 50.020]", "taper", 2 * ROOT, 2 * ROOT),
        ("1: [50, open], 2: [50, open], 3: [50, open], 4: [50, open]", "largest_front", pulled(4), 2),
        ("1: [50, open], 2: [50, open], 3: [50, open], 4: [49.9, open]", "largest_front", pulled(3), 2),
        ("1: [50, 50], others: [50, 50]", "largest_front", pulled(2), 2),  # one figure for three mains is one reading
    ],
)
def test_allowance_for_picking_an_extreme(shafts: str, rule: str, down: float, up: float) -> None:
    found = sides(f"shaft: {{gauge: mic, {shafts}}}, bare: {{1: 1, 2: 1, 3: 1, 4: 1}}", rule)
    assert found == pytest.approx((down, up), abs=2e-4)


def test_the_allowance_falls_on_the_limit_away_from_which_the_extreme_was_pulled() -> None:
    """The least hole less the greatest shaft reads too tight: it may be looser by both, and is no tighter for it."""
    body = (
        FAR.replace("gauges: {", "gauges: {bore: {class: comparator, mpe: 0 mm, resolution: 0 mm}, ")
        + "readings: {hole: {gauge: bore, 1: [50.050, 50.051]}, shaft: {gauge: mic, 1: [50.000, 50.001]}}"
    )
    plain = expanded((0.001, 0.002))
    assert margin(body, "fit", "least")[1] == pytest.approx(plain, rel=1e-11)
    surer = 2 * math.sqrt(VARIANCE[2] * (0.001**2 + 0.002**2))
    assert margin(body, "fit", "most")[1] == pytest.approx(surer + PULL[2] * (0.001 + 0.002), rel=1e-4)
    assert float(of(looked(body), "fit").value or 0) == pytest.approx(0.049)  # never put right


def test_what_picks_of_picks_are_pulled_by_cancels_in_their_spread() -> None:
    """Four stations, of each the greatest of two equal readings: each is too great by as much, the spread by nothing of
    that. What is left is the range of four that scatter as the greatest of two do."""
    of = causes(*[part(str(at), variance=1.0) for at in range(8)])
    of.own, of.statements = 8, range(8)
    picked = [
        of.selected(point("5", {at: 1.0}), [point("5", {at: 1.0}), point("5", {at + 1: 1.0})], True)
        for at in (0, 2, 4, 6)
    ]
    ends = of.selected(picked[0], picked, True), of.selected(picked[1], picked, False)
    spread = point("0", {**ends[0].slopes, **{at: -slope for at, slope in ends[1].slopes.items()}})
    mean_of_range, variance_of_range = 2.05875, 0.77409  # of four standard normal values
    u = math.sqrt(VARIANCE[2])
    error = of.distribution(spread.slopes)
    assert error.mean == pytest.approx(u * mean_of_range, rel=2e-3)
    both = mean_of_range + 2 * math.sqrt(variance_of_range)  # its two ends are taken to be independent, which is near
    assert float(of.uncertainty(spread).down) == pytest.approx(u * both, rel=0.06)


def test_a_pick_scatters_as_an_earlier_one_only_where_that_is_most_of_it() -> None:
    """The greatest of two fits, each of a reading less the greatest of two others: the reading's own error stays."""
    of = causes(*[part(str(at), variance=9.0 if at < 2 else 1.0) for at in range(6)])
    of.own, of.statements = 6, range(6)
    shafts = [
        of.selected(point("5", {at: 1.0}), [point("5", {at: 1.0}), point("5", {at + 1: 1.0})], True) for at in (2, 4)
    ]
    fits = [point("0", {at: 1.0, **{by: -slope for by, slope in shafts[at].slopes.items()}}) for at in (0, 1)]
    error = of.distribution(of.selected(fits[0], fits, True).slopes)
    own = 9 + VARIANCE[2]
    assert error.u == pytest.approx(math.sqrt(own * VARIANCE[2]), rel=1e-3)
    assert error.mean == pytest.approx(PULL[2] * math.sqrt(own) - PULL[2], rel=1e-3)


def test_the_probability_of_a_pick_among_brackets_keeps_their_width() -> None:
    blades = part("a", variance=1.0, half=5.0)._replace(bracket=True)
    of = causes(blades, blades)
    of.own, of.statements = 2, range(2)
    ends = [point("5", {0: 1.0}), point("5", {1: 1.0})]
    assert of.distribution(of.selected(ends[0], ends, True).slopes).halves == [5.0]


def test_simple_acceptance_allows_nothing_for_picking() -> None:
    found = of(looked(FAR + "readings: {shaft: {gauge: mic, 1: [50.000, 50.001]}}", decision="simple"), "taper")
    assert found.U == 0
    assert found.budget == ()


def test_of_brackets_the_greatest_still_lies_in_its_bracket() -> None:
    """All true sizes lie in their brackets, so the greatest is no less than the best bracket's lower end."""
    exact = "gauges: {feeler: {class: blades, mpe: 0 mm}}\n"
    body = exact + "readings: {gap: {gauge: feeler, 1: 0.10..0.14, 2: 0.10..0.14, 3: 0.10..0.14, 4: 0.10..0.14}}"
    found = of(looked(body), "largest_gap")
    assert found.verdict is Verdict.IN_SPEC
    assert [margin.U for margin in found.margins] == [Decimal("0.02")] * 2


# --- the budget -------------------------------------------------------------------------------------------------


def test_a_budget_has_every_cause_once_the_largest_first() -> None:
    found = of(looked(PAIR + f"readings: {{{BOTH}}}"), "first_fit")
    us = [line.u for line in found.budget]
    assert us == sorted(us, reverse=True)
    assert us == pytest.approx(
        [math.sqrt(0.002**2 + 0.001**2 / 3), 0.003 / 3**0.5, *[math.sqrt(0.001**2 + 0.001**2 / 3)] * 2], rel=1e-12
    )
    assert found.U is not None
    assert float(found.U) == pytest.approx(2 * math.sqrt(sum(u * u for u in us)), rel=1e-11)


@pytest.mark.parametrize(
    ("shafts", "share"),
    [
        ("1: [50, open], 2: [50, open], 3: [50, open], 4: [50, open]", 1 / 2),
        ("others: [50, open]", 1),  # one reading, written for four: no mean makes it surer
        ("1: [50, open], others: [50, open]", (1 / 16 + 9 / 16) ** 0.5),
    ],
)
def test_a_figure_that_stands_for_many_errs_once(shafts: str, share: float) -> None:
    every = binding(FAR + f"readings: {{shaft: {{gauge: mic, {shafts}}}, bare: {{1: 1, 2: 1, 3: 1, 4: 1}}}}")
    judge = Judge(every.environment(), DECISION_RULES["guarded"], {})
    value = judge.judge(every.spec.rules["mean_front"].governing[-1], {}).value
    assert value is not None
    assert value.low is not None
    own = [(number, slope) for number, slope in value.low.slopes.items() if number < every.error_sources.own]
    u = math.sqrt(sum((slope * every.error_sources.us[number]) ** 2 for number, slope in own))
    assert u == pytest.approx(share * ONE / 2)
