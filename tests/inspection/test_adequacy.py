"""Whether the gauges used can decide a tolerance, which kinds could, and which must not.

A quarter of the width is the usual 4 to 1 of tolerance to uncertainty: common practice, no source.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from specrules.inspection import Limits, Options, Unable
from specrules.inspection.adequacy import width_of
from specrules.vocabulary import Verdict
from tests.evaluate.small_gauges import expanded, looked, of
from tests.inspecting import finding, inspected, whole, words


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


def unable(body: str, rule: str) -> Unable | None:
    return of(looked(body), rule).unable


@pytest.mark.parametrize(
    ("U", "able"),
    [("0.005", True), ("0.0049", True), ("0.0051", False)],
)
def test_a_quarter_of_the_width_is_enough(U: str, able: bool) -> None:
    """The tolerance is 0.02 mm, and all of the uncertainty is one stated figure."""
    found = unable(f"facts: {{length: 50 mm}}\nreadings: {{shaft: {{1: [50.010 ±{U}, open]}}}}", "with_a_fact")
    assert (found is None) is able


JAWS = "gauges: {inside: {class: caliper}, outside: {class: caliper}, mic: {class: micrometer}}\n"


def fit(hole: str, shaft: str) -> Unable | None:
    body = f"readings: {{hole: {{gauge: {hole}, 1: [50.05, open]}}, shaft: {{gauge: {shaft}, 1: [50.00, open]}}}}"
    return unable(JAWS + body, "fit")


def test_which_reading_leaves_most_doubt_and_which_kinds_could_decide() -> None:
    found = fit("inside", "mic")
    assert found is not None
    assert (found.measurand, found.gauge) == ("hole", "caliper")
    assert found.could == ("comparator", "micrometer", "fine comparator")  # in the pack's order of trust
    assert float(found.U) == pytest.approx(expanded((0.01, 0.001), (0.01, 0.001, 0.03, 0.004)), rel=1e-11)
    assert found.width == Decimal("0.08")


def test_where_no_one_change_of_gauge_is_enough_none_is_named() -> None:
    """With the shaft still by caliper, U is 0.042 mm at the least, and a quarter of the width is 0.020 mm."""
    found = fit("inside", "outside")
    assert found is not None
    assert found.could == ()


def test_a_kind_that_could_not_either_is_not_named() -> None:
    """A taper of 0.02 mm needs U of 0.005 mm: two readings by micrometer leave 0.0033, by caliper 0.0231."""
    found = unable(JAWS + "readings: {shaft: {gauge: outside, 1: [50.1, 50.0]}}", "taper")
    assert found is not None
    assert found.could == ("micrometer", "fine comparator")
    assert unable(JAWS + "readings: {shaft: {gauge: mic, 1: [50.1, 50.0]}}", "taper") is None


def test_what_no_gauge_changes_stays() -> None:
    """A stated fact with U of 0.006 mm keeps a tolerance of 0.02 mm from being decided by any gauge."""
    body = "readings: {shaft: {gauge: outside, 1: [50.010, open]}}"
    unsure, sure = (unable(f"facts: {{length: 50.000 mm{U}}}\n{JAWS}{body}", "with_a_fact") for U in (" ±0.006 mm", ""))
    assert unsure is not None
    assert unsure.could == ()
    assert sure is not None
    assert sure.could == ("fine comparator",)  # by micrometer the scale alone leaves 0.0051


def test_another_kind_is_set_with_the_same_gauge() -> None:
    """With a comparator set with the micrometer, the micrometer's scale still cancels."""
    coarse = "gauges: {mic: {class: micrometer, mpe: 1 mm}, inside: {class: caliper, set with: mic}}\n"
    body = "readings: {hole: {gauge: inside, 1: [50.05, open]}, shaft: {gauge: mic, 1: [50.00, open]}}"
    found = unable(coarse + body, "fit")
    assert found is not None
    assert "comparator" in found.could


def test_a_finer_kind_is_allowed_less_for_picking_an_extreme() -> None:
    """By caliper, picking both ends of a spread pulls it by 0.0130 mm; by micrometer by a tenth of that."""
    found = unable(JAWS + "readings: {shaft: {gauge: outside, 1: [50.005, 50.000]}}", "taper")
    assert found is not None
    alone = (0.01**2 + 0.01**2 / 3) ** 0.5
    assert float(found.U) == pytest.approx(2 * 0.5642 * alone + 2 * (2 * 0.6817) ** 0.5 * alone, rel=1e-4)
    assert "micrometer" in found.could


@pytest.mark.parametrize(
    "body",
    [
        "readings: {bare: {1: 50}}",  # nothing says how sure it is
        "readings: {shaft: {1: [open, open]}}",
    ],
)
def test_nothing_is_said_where_nothing_is_known(body: str) -> None:
    assert [each.rule for each in looked(body).findings if whole(each).unable is not None] == []


def test_nothing_is_said_under_simple_acceptance() -> None:
    found = looked(JAWS + "readings: {shaft: {gauge: outside, 1: [50.005, 50.000]}}", decision="simple")
    assert of(found, "taper").unable is None


# --- kinds that must not decide -----------------------------------------------------------------------------------


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
    assert found.unable is not None
    assert (found.unable.measurand, found.unable.could) == ("length", ())
