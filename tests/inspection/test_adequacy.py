"""What would decide a verdict that is in doubt, and which kinds of gauge must not.

A quarter of the width is the usual 4 to 1 of tolerance to uncertainty: common practice, no source.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from specrules.inspection import Alternative, Limits, Options
from specrules.inspection.adequacy import width_of
from specrules.output.reasons import said
from specrules.vocabulary import Verdict
from tests.evaluate.small_gauges import expanded, looked, of
from tests.inspecting import finding, inspected, words


@pytest.mark.parametrize(
    ("least", "most", "width"),
    [
        ("1", "3", "2"),
        (None, "3", "3"),  # nothing is less than nothing
        ("1", None, None),
        (None, None, None),
        ("-1", "3", "4"),
        ("3", "3", None),
        (None, "0", None),
    ],
)
def test_width_of_a_tolerance(least: str | None, most: str | None, width: str | None) -> None:
    one, other, wanted = (None if text is None else Decimal(text) for text in (least, most, width))
    assert width_of(Limits(one, None, other)) == wanted


def tried(body: str, rule: str = "fit", decision: str = "guarded") -> dict[str, Alternative]:
    """What was tried, by its words."""
    return {said(each.how): each for each in of(looked(body, decision), rule).alternatives}


GAUGES = "gauges: {mic: {class: micrometer}, bore: {class: comparator}, jaws: {class: caliper}}\n"


def fit(hole: str, gauges: str = GAUGES) -> str:
    return f"{gauges}readings: {{hole: {{gauge: bore, 1: [{hole}, open]}}, shaft: {{gauge: mic, 1: [50.00, open]}}}}"


JUST_IN = fit("50.0945")  # 0.0055 mm inside the most, and U is 0.0075
OWN_OF_BORE, OWN_OF_MIC = (0.002, 0.001), (0.001, 0.001)  # repeatability, half the resolution
SCALES = (0.003, 0.004)


def test_each_way_to_read_it_again_has_the_u_and_the_verdict_that_it_would_bring() -> None:
    found = tried(JUST_IN)
    wanted = {
        "read hole 10 times at each place": ((0.002 / 10**0.5, 0.001), (0.001, 0.001, *SCALES)),
        "read hole with a micrometer": ((0.001, 0.001), (0.001, 0.001, 0.004, 0.004)),
        "read hole with a fine comparator": ((0.0002, 0.001), (0.0001, 0.001, 0.0003, 0.004)),
        "read shaft 10 times at each place": ((0.002, 0.001 / 10**0.5), (0.001, 0.001, *SCALES)),
        "read shaft with a fine comparator": ((0.002, 0.0002), (0.001, 0.0001, 0.003, 0.0003)),
        "read hole and shaft 10 times at each place": ((0.002 / 10**0.5, 0.001 / 10**0.5), (0.001, 0.001, *SCALES)),
    }
    assert found.keys() == wanted.keys()  # by caliper it must not be decided
    for how, parts in wanted.items():
        assert float(found[how].U) == pytest.approx(expanded(*parts), rel=1e-9), how
        inside = Decimal("0.0055") >= found[how].U
        assert found[how].verdict is (Verdict.IN_SPEC if inside else Verdict.JUST_IN), how
    assert [how for how, each in found.items() if each.decides] == [
        "read hole with a fine comparator", "read shaft with a fine comparator"
    ]  # fmt: skip


def test_of_repeats_the_fewest_that_decide_are_told() -> None:
    """0.0069 mm inside: 2u is 0.0075 with one reading of the hole, 0.0069 with two, and 0.0067 with three."""
    found = tried(fit("50.0932"))
    assert "read hole 3 times at each place" in found or "read hole 2 times at each place" in found
    fewest = next(how for how in found if how.startswith("read hole ") and how.endswith("at each place"))
    n = int(fewest.split()[2])
    for repeats, enough in ((n, True), (n - 1, False)):
        U = expanded((0.002 / repeats**0.5, 0.001), (0.001, 0.001, *SCALES))
        assert (U <= 0.0068) is enough, repeats


def test_just_out_may_be_settled_either_way() -> None:
    """0.0055 mm beyond the most: read with the fine comparator it would be out of spec."""
    found = tried(fit("50.1055"))
    assert found["read hole with a fine comparator"].verdict is Verdict.OUT
    assert found["read hole 10 times at each place"].verdict is Verdict.JUST_OUT


def test_what_a_gauge_is_set_with_may_settle_it() -> None:
    """Set with a caliper the bore gauge has all of that; set with a ring, of the classes that read no part, little."""
    gauges = GAUGES.replace("{class: comparator}", "{class: comparator, set with: jaws}")
    found = tried(fit("50.090", gauges))
    ring = found["set the gauge for hole with a setting ring"]
    assert float(ring.U) == pytest.approx(expanded((0.002, 0.001), (0.001, 0.001, *SCALES, 0.001)), rel=1e-9)
    assert ring.verdict is Verdict.IN_SPEC
    assert not any(how.startswith("set the gauge for shaft") for how in found)  # it was set with nothing


def test_another_kind_is_set_with_the_same_gauge() -> None:
    """With a comparator set with the micrometer, the micrometer's scale still cancels, however large it is."""
    coarse = "gauges: {mic: {class: micrometer, mpe: 1 mm}, bore: {class: caliper, set with: mic}}\n"
    found = tried(fit("50.0950", coarse))["read hole with a comparator"]
    assert float(found.U) == pytest.approx(expanded((0.002, 0.001, 0.001), (0.001, 0.001, 0.001, 0.003)), rel=1e-9)


def test_a_measurand_that_leaves_little_in_doubt_is_left_alone() -> None:
    """The shaft by fine comparator makes up less than a tenth of the variance."""
    gauges = GAUGES.replace("mic: {class: micrometer}", "mic: {class: fine comparator}")
    assert not any(how.startswith("read shaft") for how in tried(fit("50.0955", gauges)))


def test_a_finer_kind_is_pulled_less_by_picking_an_extreme() -> None:
    body = GAUGES + "readings: {shaft: {gauge: jaws, 1: [50.005, 50.000]}}"
    alone = (0.001**2 + 0.001**2 / 3) ** 0.5
    found = tried(body, "taper")["read shaft with a micrometer"]  # 0.005 mm is not told apart from its like by it
    assert float(found.U) == pytest.approx(2 * (2**0.5) * alone, rel=1e-4)


@pytest.mark.parametrize(
    ("body", "rule"),
    [
        pytest.param(fit("50.06"), "fit", id="in spec beyond doubt"),
        pytest.param(fit("50.14"), "fit", id="out of spec beyond doubt"),
        pytest.param("readings: {bare: {1: 50}}", "bare_size", id="nothing says how sure it is"),
        pytest.param("readings: {shaft: {1: [open, open]}}", "taper", id="not measured"),
        pytest.param(
            "gauges: {f: {class: blades}}\nreadings: {gap: {gauge: f, 1: 0.09..0.12}}", "gap_size", id="bracket"
        ),
        pytest.param("readings: {shaft: {1: [60.001 ±0.002, open]}}", "shaft_size", id="a stated U"),
    ],
)
def test_where_nothing_could_be_settled_nothing_is_tried(body: str, rule: str) -> None:
    assert not [each for each in of(looked(body), rule).alternatives if each.decides]


BLADES = """\
specrules: tolerance-pack/1
group: Gaps
pack: {name: gaps, version: "1", title: Gaps, unit: mm}
axes: {place: {names: [a, b]}}
gauge classes:
  coarse:
    {resolution: 0.05 mm, mpe: 0 mm, reads: goes, steps: 0.05..1.00 mm by 0.05 mm, source: {kind: house}}
  fine:
    {resolution: 0.01 mm, mpe: 0 mm, reads: goes, steps: 0.03..1.00 mm by 0.01 mm, source: {kind: house}}
  in inches:
    {resolution: 0.001 in, mpe: 0 mm, reads: goes, steps: 0.001..0.040 in by 0.001 in, source: {kind: house}}
  as coarse:
    {resolution: 0.05 mm, mpe: 0 mm, reads: goes, steps: 0.05..1.00 mm by 0.05 mm, source: {kind: house}}
  rule: {resolution: 0.5 mm, mpe: 0 mm, source: {kind: house}}
measurands:
  gap: {at: [place], unit: mm, gauge classes: [coarse, fine, as coarse, in inches, rule]}
rules:
  largest_gap:
    title: Largest gap
    formula: largest(gap)
    limits: {least: 0.10 mm, most: 0.525 mm}
    importance: minor
    source: {kind: house}
    worked: [{given: {readings: {gap: 0.2 mm}}, expect: {verdict: in spec}}]
"""


@pytest.mark.parametrize(
    ("gaps", "wanted"),
    [
        pytest.param(
            "{a: 0.50, b: 0.10}",  # from 0.50 to 0.55, and the most is 0.525
            {
                "a fine, should it lie between 0.5 and 0.51 mm": ("0.005", Verdict.IN_SPEC),
                "a fine, should it lie between 0.54 and 0.55 mm": ("0.005", Verdict.OUT),
                "an in inches, should it lie between 0.01969 and 0.02 in": ("0.004", Verdict.IN_SPEC),
                "an in inches, should it lie between 0.021 and 0.02165 in": ("0.0083", Verdict.OUT),
            },
            id="the verdict at either end, and of the set in the other system as it is marked",
        ),
        pytest.param("{a: 0.45, b: 0.10}", {}, id="in spec beyond doubt"),
        pytest.param("{a: over 1.00, b: 0.10}", {}, id="past the last blade"),
    ],
)
def test_finer_blades_are_tried_at_both_ends_of_the_gap(gaps: str, wanted: dict[str, tuple[str, Verdict]]) -> None:
    sheet = f"specrules: build-sheet/1\npacks: [gaps]\nunit: mm\nreadings: {{gap: {gaps}}}\n"
    found = finding(inspected(sheet, {"gaps": BLADES}, Options(decision="guarded")), "largest_gap")
    told = {said(each.how).removeprefix("read gap with "): each for each in found.alternatives}
    assert told.keys() == wanted.keys()
    for how, (U, verdict) in wanted.items():
        assert float(told[how].U) == pytest.approx(float(U), rel=0.02)
        assert told[how].verdict is verdict


def test_nothing_is_tried_under_simple_acceptance() -> None:
    assert tried(JUST_IN, decision="simple") == {}


# --- kinds that must not decide -----------------------------------------------------------------------------------


JAWS = "gauges: {inside: {class: caliper}, outside: {class: caliper}, mic: {class: micrometer}}\n"


@pytest.mark.parametrize(
    ("hole", "shaft", "verdict", "would_be"),
    [
        ("50.09", "50.00", Verdict.NOT_PROVEN, Verdict.JUST_IN),
        ("50.19", "50.00", Verdict.OUT, None),  # too much stays too much, whoever measured it
    ],
)
def test_a_good_value_by_a_kind_that_must_not_decide_is_not_proven(
    hole: str, shaft: str, verdict: Verdict, would_be: Verdict | None
) -> None:
    body = f"readings: {{hole: {{gauge: inside, 1: [{hole}, open]}}, shaft: {{gauge: outside, 1: [{shaft}, open]}}}}"
    found = of(looked(JAWS + body), "fit")
    assert (found.verdict, found.would_be) == (verdict, would_be)
    assert "a caliper must not decide this" in words(found.notes)


def test_it_may_decide_what_it_is_not_barred_from() -> None:
    body = "readings: {hole: {gauge: inside, 1: [50.1, open]}, shaft: {gauge: outside, 1: [50.0, open]}}"
    found = of(looked(JAWS + body), "first_fit")
    assert found.verdict is Verdict.IN_SPEC
    assert words(found.notes) == ()


STEEP = """\
specrules: tolerance-pack/1
group: Steep
pack: {name: steep, version: "1", title: A steep formula, unit: mm}
gauge classes:
  rule: {resolution: 1 mm, mpe: 1 mm, source: {kind: from memory}}
measurands:
  length: {unit: mm, gauge classes: [rule]}
rules:
  growth:
    title: Growth
    formula: exp(length / (0.1 mm))
    limits: {most: 10}
    importance: minor
    source: {kind: house}
    worked: [{given: {readings: {length: 0.1 mm}}, expect: {verdict: in spec}}]
"""


def test_a_slope_whose_square_is_no_number_leaves_the_answer_and_raises_nothing() -> None:
    sheet = "specrules: build-sheet/1\npacks: [steep]\nunit: mm\nreadings: {length: 65}\n"
    found = finding(inspected(sheet, {"steep": STEEP}, Options(decision="guarded")), "growth")
    assert found.would_be is Verdict.JUST_OUT
    assert not any(each.decides for each in found.alternatives)
