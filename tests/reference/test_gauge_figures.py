"""The shipped gauge classes held against published limits of error, and what comes of such limits worked by hand."""

from __future__ import annotations

from decimal import Decimal

import pytest

from specrules.inspection import Options
from specrules.quantity import Unit, find_unit
from specrules.study import analyse
from tests.evaluate.small_gauges import PACK, RULES
from tests.inspecting import finding, inspected
from tests.shipped import resolved
from tests.study.small_studies import study, table

LIMITS = [tuple(row) for row in table("gauge_limits.txt")]


def unit(name: str) -> Unit:
    found = find_unit(name)
    assert isinstance(found, Unit)
    return found


@pytest.mark.parametrize(("name", "over", "to", "size_in", "limit", "limit_in"), LIMITS)
def test_a_class_has_the_published_limit_over_its_range(
    name: str, over: str, to: str, size_in: str, limit: str, limit_in: str
) -> None:
    """Just over the range's beginning, in its middle, and on its end."""
    kind = resolved("general").gauge_classes[name.replace("_", " ")]
    low, high = Decimal(over), Decimal(to)
    for size in (low + (high - low) / 1000, (low + high) / 2, high):
        mpe = kind.capability.at(unit(size_in).to_base(size)).mpe
        assert mpe is not None
        assert (mpe.absolute, mpe.share) == (unit(limit_in).to_base(Decimal(limit)), Decimal(0))
    assert kind.source.kind == "published"


def test_a_class_that_is_said_to_be_published_is_in_the_table() -> None:
    published = {name for name, kind in resolved("general").gauge_classes.items() if kind.source.kind == "published"}
    assert {row[0].replace("_", " ") for row in LIMITS} == published - {"large outside micrometer"}
    kinds = resolved("general").gauge_classes
    assert kinds["large outside micrometer"].capability == kinds["outside micrometer"].capability


def test_what_a_published_class_has_from_memory_is_said() -> None:
    for kind in resolved("general").gauge_classes.values():
        figures = kind.capability.figures
        if kind.source.kind == "published" and figures.repeatability is not None and figures.repeatability.absolute:
            assert kind.sources["repeatability"].kind == "from memory"


def test_a_micrometer_is_off_by_no_less_at_a_larger_size() -> None:
    kind = resolved("general").gauge_classes["outside micrometer"].capability
    limits = [mpe.absolute for size in range(0, 600, 10) if (mpe := kind.at(Decimal(size)).mpe) is not None]
    assert limits == sorted(limits)


# --- a bore of 100 mm: every part from a published table, worked by hand in um -------------------------------------
#
# micrometer DIN 863-1 5 um, dial JIS B 7503 5 um over a tenth of a turn and 3 um of span when repeated, read to 2 um

CLASSES = """\
  micrometer: {resolution: 0.002 mm, mpe: 0.005 mm, repeatability: 0 mm, source: {kind: house}}
  setter: {resolution: 0 mm, mpe: 0.005 mm, repeatability: 0 mm, source: {kind: house}}
  comparator: {resolution: 0.002 mm, mpe: 0.005 mm, repeatability: 0.000866 mm, source: {kind: house}}
  ring X: {resolution: 0 mm, mpe: 0.00127 mm, source: {kind: house}}
"""


def u_of(rule: str, gauges: str, readings: str) -> float:
    """Half of U in um."""
    start, end = PACK.index("  micrometer:"), PACK.index("  fine comparator:")
    each, formula, shown, limits = RULES[rule]
    pack = PACK[:start] + CLASSES + PACK[end:].replace("usual: 40..60 mm", "usual: 90..110 mm")
    pack += (
        f"rules:\n  {rule}:\n    title: T\n    each: {each}\n    formula: {formula}\n    unit: {shown}\n"
        f"    limits: {limits}\n    importance: minor\n    source: {{kind: house}}\n"
        "    worked: [{given: {readings: {bare: {1: 50}}}, expect: {at: {main: 1}, verdict: not measured}}]\n"
    )
    text = (
        f"specrules: build-sheet/1\npacks: [gauged]\nunit: mm\npart temperature: 20 C\n{gauges}\nreadings: {readings}\n"
    )
    found = finding(inspected(text, {"gauged": pack}, Options(decision="guarded")), rule, main="1")
    assert found.U is not None
    return float(found.U) / 2 * 1000


HOLE, SHAFT = "hole: {gauge: dial, 1: [100.060, open]}", "shaft: {gauge: mic, 1: [100, open]}"
MIC, DIAL = "mic: {class: micrometer}", "dial: {class: comparator, set with: %s}"


@pytest.mark.parametrize(
    ("rule", "gauges", "readings", "u"),
    [
        # 5/sqrt 3 = 2.887 twice, 3/(2 sqrt 3) = 0.866, 2/sqrt 12 = 0.577: the root of their squares
        ("hole_size", f"setter: {{class: setter}}, {DIAL % 'setter'}", HOLE, 4.213),
        # set by a class X ring, 100 uin in all, 1.27 um either side, 0.733
        ("hole_size", f"ring: {{class: ring X}}, {DIAL % 'ring'}", HOLE, 3.155),
        # a journal by such a micrometer: 2.887, 0.577
        ("shaft_size", MIC, SHAFT, 2.944),
        # a clearance by two different micrometers
        ("first_fit", f"setter: {{class: setter}}, {MIC}, {DIAL % 'setter'}", f"{HOLE}, {SHAFT}", 5.140),
    ],
)
def test_the_doubt_of_a_bore_worked_by_hand(rule: str, gauges: str, readings: str, u: float) -> None:
    """Published limits, added by hand as the GUM has it (JCGM 100:2008, 4.3.7 and 5.1.2)."""
    assert u_of(rule, f"gauges: {{{gauges}}}", f"{{{readings}}}") == pytest.approx(u, abs=0.001)


def test_of_one_micrometer_for_both_the_error_cancels_and_the_act_of_setting_is_added() -> None:
    """By hand 2.887, 0.866, 0.577, 0.577 make 3.122; reading the micrometer when the gauge is set adds 0.577."""
    found = u_of("first_fit", f"gauges: {{{MIC}, {DIAL % 'mic'}}}", f"{{{HOLE}, {SHAFT}}}")
    assert found == pytest.approx((3.122**2 + 0.577**2) ** 0.5, abs=0.001)


# --- a gauge study of ten gaskets, three people, two trials -------------------------------------------------------

GASKETS = {
    "A": ".65/.60 1.00/1.00 .85/.80 .85/.95 .55/.45 1.00/1.00 .95/.95 .85/.80 1.00/1.00 .60/.70",
    "B": ".55/.55 1.05/.95 .80/.75 .80/.75 .40/.40 1.00/1.05 .95/.90 .75/.70 1.00/.95 .55/.50",
    "C": ".50/.55 1.05/1.00 .80/.80 .80/.80 .45/.50 1.00/1.05 .95/.95 .80/.80 1.05/1.05 .85/.80",
}
"""Thickness, from a public statistics manual after the 1990 industry guide on measurement systems."""


def test_analysis_of_variance_gives_half_as_much_again_as_ranges_where_people_read_parts_differently() -> None:
    """By ranges the same data give 0.0456 for repeatability and reproducibility together, and here 0.0666.

    Both are worked by hand from the readings: mean squares 0.228745, 0.024, 0.00575926 and 0.00129167.
    """
    readings = {
        who: {
            str(n): [f"0{each}" if each[0] == "." else each for each in cell.split("/")]
            for n, cell in enumerate(row.split())
        }
        for who, row in GASKETS.items()
    }
    found = analyse(study(readings))
    assert found.interplay is not None
    assert found.interplay.ratio == pytest.approx(4.46, abs=0.005)
    variances = [found.repeatability, found.by_operator, found.by_pair, found.part_variation]
    assert [float(each.variance) for each in variances if each] == pytest.approx(
        [0.00129167, 0.00091204, 0.0022338, 0.0371644], rel=1e-4
    )
    assert found.together is not None
    assert float(found.together.deviation) == pytest.approx(0.066615, abs=1e-6)


def test_a_negative_component_is_zero() -> None:
    """Two people whose means agree better than their scatter allows: the variance between them comes out below zero."""
    rows = {"A": {"1": ["2.0", "2.2"], "2": ["3.0", "3.2"]}, "B": {"1": ["2.2", "2.0"], "2": ["3.2", "3.0"]}}
    found = analyse(study(rows))
    assert found.by_operator is not None
    assert found.by_operator.negative
    assert found.by_operator.variance == 0
