"""What a pack says of axes of kinds, and how a pack above adds labels to an axis."""

from __future__ import annotations

from decimal import Decimal

import pytest

from specrules.output.pack_page import pack_whole
from specrules.output.terminal import text_of
from specrules.pack import Specification
from specrules.proving import prove
from tests.inspecting import finding, inspected
from tests.pack.small_packs import faults_of, read_text, resolved, upper
from tests.sheet.small_trolley import HEAD, TROLLEY

LEAD = "inner_size - mean(wheel_size[outer])"
TWO = "facts: {axles: 1, inner_wheels: 2, outer_wheels: 2}\n"
SIZES = "readings: {wheel_size: {1: {inner_1: 100.0, inner_2: 100.4, outer_1: 99.0, outer_2: 99.7}}}\n"


def said_of(old: str, new: str) -> list[str]:
    """What is wrong with the small pack where something in it is written otherwise."""
    assert TROLLEY.count(old) == 1, old
    return [fault.sentence().partition(", line ")[2] for fault in faults_of(TROLLEY.replace(old, new))]


@pytest.mark.parametrize(
    ("formula", "said"),
    [
        (
            "inner_size - wheel_size[outer]",
            "has wheel_size[outer], and there may be several outer; write mean(wheel_size[outer]), "
            "smallest(wheel_size[outer]) or largest(wheel_size[outer]).",
        ),
        (
            "wheel_size[1, inner] - 100 mm",
            "has wheel_size[1, inner], and there may be several inner; write mean(wheel_size[1, inner]), "
            "smallest(wheel_size[1, inner]) or largest(wheel_size[1, inner]).",
        ),
        (
            "mean(wheel_width[inner], edge)",
            "has wheel_width[inner], and there may be several inner; write mean(wheel_width[inner]), "
            "smallest(wheel_width[inner]) or largest(wheel_width[inner]).",
        ),
        (
            "smallest(wheel_size[inner] - wheel_size)",
            "puts what is inner alone beside others of wheel; write mean(...), smallest(...) or largest(...) around "
            "what is picked.",
        ),
        (
            "smallest(wheel_size[inner] - wheel_size[outer] - worn_to)",
            "puts what is inner alone beside others of wheel; write mean(...), smallest(...) or largest(...) around "
            "what is picked.",
        ),
        (
            "wheel_size[inner] if sprung == yes else inner_size",
            "has two sides of an 'if' that lie along different axes; write a reducer on each side.",
        ),
        (
            "mean(wheel_size[inner], edge)",
            "reduces along edge, and what it reduces lies along wheel; write wheel.",
        ),
        (
            "step(wheel_width[inner]) * 1",
            "takes the step of what lies along wheel, edge, and only labels of one axis are neighbours; write "
            "step(..., wheel) or step(..., edge).",
        ),
        (
            "mean(wheel_size[inner_1])",
            "has wheel_size[inner_1], and no axis of wheel_size has that label; write inner.",
        ),
        (
            "inner_size if wheel == inner else 1 mm",
            "asks for the label on wheel, and there is not one wheel here.",
        ),
    ],
)
def test_what_a_formula_cannot_have_of_kinds(formula: str, said: str) -> None:
    found = said_of(LEAD, f'"{formula}"')
    assert found == [f'62, wheel_lead formula: "{formula}" {said}']


@pytest.mark.parametrize(
    ("when", "said"),
    [
        ("wheel == outer_1", "has 'outer_1', which is none of inner, outer; write outer."),
        (
            "tyre[outer] == air",
            "has tyre[outer], and there may be several outer; write a fact at wheel_kind, which each kind has one of.",
        ),
        (
            "load[outer] > 3",
            "has load[outer], and there may be several outer; write mean(load[outer]), smallest(load[outer]) or "
            "largest(load[outer]).",
        ),
    ],
)
def test_what_a_condition_cannot_have_of_kinds(when: str, said: str) -> None:
    pack = TROLLEY.replace("  tyre:", "  load: {kind: number, at: wheel}\n  tyre:")
    found = faults_of(pack.replace("when: wheel == outer,", f'when: "{when}",'))
    assert [fault.sentence() for fault in found] == [
        f'base.pack.yaml, line 32, wheel_fit limits outer when: "{when}" {said}'
    ]


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("inner: inner_wheels", "inner: axels", '6, wheel: "axels" is no fact of kind count; write axles.'),
        ("inner: inner_wheels", "inner: sprung", '6, wheel: "sprung" is no fact of kind count.'),
        (
            "inner: inner_wheels,",
            "inner: inner_wheels, inner_2: inner_wheels,",
            '6, wheel: "inner_2" is how one of several inner is called; write another name.',
        ),
        (
            "wheel: {kinds",
            "wheel: {count: axles, kinds",
            "6, wheel: has count and kinds where one of them says what its labels are.",
        ),
        (
            "wheel: {kinds",
            "wheel: {letters: yes, kinds",
            "6, wheel: letters labels, and counts none; write count: and a fact.",
        ),
        (
            "{inner: inner_wheels, outer: outer_wheels}",
            "inner_wheels",
            '6, wheel kinds: has "inner_wheels" where a mapping belongs.',
        ),
        (
            "  worn_to:",
            "  wheel_kind: {kind: number}\n  worn_to:",
            "13, wheel_kind: is the name of the kinds of wheel; write another name.",
        ),
        (
            "assumed: 1, title: Inner",
            "assumed: -1, title: Inner",
            '11, inner_wheels assumed: "-1" is no count; write a whole number.',
        ),
        (
            "axles: {kind: count}",
            "axles: {kind: count, assumed: 0}",
            '9, axles assumed: "0" is no count; write a whole number.',
        ),
        (
            "assumed: 1, title: Inner",
            "assumed: 1, at: wheel, title: Inner",
            "11, inner_wheels: is asked for by itself: inner_wheels by inner_wheels.",
        ),
        (
            "assumed: 1, title: Inner",
            "assumed: 1, at: wheel_kind, title: Inner",
            "11, inner_wheels: is asked for by itself: inner_wheels by inner_wheels.",
        ),
    ],
)
def test_what_a_pack_cannot_say_of_kinds(old: str, new: str, said: str) -> None:
    assert said in said_of(old, new)


@pytest.mark.second_lane
@pytest.mark.parametrize(
    ("formula", "value"),
    [
        ("mean(wheel_size[inner]) - mean(wheel_size[outer])", "0.85"),
        ("mean(wheel_size[inner], wheel) - mean(wheel_size[outer], wheel)", "0.85"),
        ("spread(wheel_size[inner])", "0.4"),
        ("step(wheel_size[outer])", "0.7"),
        ('"largest(wheel_size[wheel: inner]) - largest(wheel_size)"', "0"),
        ("smallest(wheel_size[inner] - wheel_size[outer])", "0.3"),
        ("largest(wheel_size[inner] - wheel_size[outer])", "1.4"),
        ("largest(wheel_size[inner] * 2 - wheel_size[inner]) - inner_size", "0.2"),
        ("count(wheel_size[inner]) * 1 mm", "2"),
    ],
)
def test_what_is_picked_of_a_kind_is_reduced_over_all_of_it(formula: str, value: str) -> None:
    report = inspected(f"{HEAD}{TWO}{SIZES}", {"trolley": TROLLEY.replace(LEAD, formula)})
    assert finding(report, "wheel_lead", axle="1").value == Decimal(value)


def test_a_rule_of_each_kind_may_read_another_kind_and_a_group_of_labels_narrows_both() -> None:
    """The kind that a rule is of narrows its labels, and not what is picked; groups of a sheet narrow both."""
    pack = TROLLEY.replace(
        "edge: {names: [near, far]}", "edge: {names: [near, far]}\n  side: {groups: sides, of: wheel}"
    )
    pack = pack.replace("  tyre:", "  sides: {kind: groups}\n  tyre:")
    pack = pack.replace("formula: spread(wheel_size)", "formula: largest(wheel_size) - smallest(wheel_size[inner])")
    pack = pack.replace(
        "each: axle\n    formula: inner_size - mean(wheel_size[outer])",
        "each: [axle, side]\n    formula: mean(wheel_size[inner]) - mean(wheel_size)",
    )
    sides = TWO.replace("}", ", sides: {left: [inner_1, outer_1], right: [inner_2, outer_2]}}")
    report = inspected(f"{HEAD}{sides}{SIZES}", {"trolley": pack})
    assert finding(report, "wheel_play", axle="1", wheel_kind="outer").value == Decimal("-0.3")
    assert finding(report, "wheel_play", axle="1", wheel_kind="inner").value == Decimal("0.4")
    assert finding(report, "wheel_lead", axle="1", side="left").value == Decimal("0.5")
    assert finding(report, "wheel_lead", axle="1", side="right").value == Decimal("0.35")


def test_figures_hold_for_a_kind_and_an_assumed_count_is_none_that_they_hold_by() -> None:
    most = "{name: base, least: 99 mm, most: 101 mm}"
    by_kind = TROLLEY.replace(most, most.replace("least", "holds for: {wheel: inner}, least"))
    by_kind = by_kind.replace("      - {name: outer, when: wheel == outer, most: 102 mm}\n", "")
    report = inspected(f"{HEAD}{TWO}{SIZES}", {"trolley": by_kind})
    verdicts = {each.station["wheel"]: str(each.verdict) for each in report.findings if each.rule == "wheel_fit"}
    assert verdicts == {"inner_1": "in spec", "inner_2": "in spec", "outer_1": "no figure", "outer_2": "no figure"}
    by_count = TROLLEY.replace(most, most.replace("least", "holds for: {inner_wheels: 1}, least"))
    for facts, verdict in (("", "not measured"), ("facts: {inner_wheels: 1}\n", "in spec"), (TWO, "no figure")):
        label = "inner_1" if facts is TWO else "inner"
        given = f"{HEAD}{facts}readings: {{wheel_size: {{1: {{{label}: 100.0}}}}}}\n"
        found = finding(inspected(given, {"trolley": by_count}), "wheel_fit", axle="1", wheel=label)
        assert str(found.verdict) == verdict, facts


def test_the_small_pack_proves() -> None:
    proof = prove([read_text(TROLLEY, "trolley.pack.yaml")], "trolley")
    assert proof.faults == ()
    assert [each for each in proof.remarks if each.kind in ("example", "wrong")] == []


# --- labels added by a pack above -------------------------------------------------------------------------------


def added(axes: str) -> list[str]:
    """What is wrong with a pack that amends axes of the small one."""
    text = upper("up", f"  axes:\n    {axes}\n", on="trolley")
    return [fault.sentence().partition(", line ")[2] for fault in faults_of(TROLLEY, text)]


@pytest.mark.parametrize(
    ("axes", "said"),
    [
        ("edge: {names: [near, middle, far]}", 'edge: has no "reason" (why this pack differs).'),
        (
            "edge: {reason: r, names: [near, middle]}",
            "edge names: does not have the labels of the packs below it, in their order: near, far; write all of "
            "them, and its own between.",
        ),
        (
            "edge: {reason: r, names: middle}",
            "edge names: does not have the labels of the packs below it, in their order: near, far; write all of "
            "them, and its own between.",
        ),
        (
            "edge: {reason: r, names: [far, near]}",
            "edge names: does not have the labels of the packs below it, in their order: near, far; write all of "
            "them, and its own between.",
        ),
        ("edge: {reason: r, names: [near, far, far]}", 'edge: "far" stands twice among its labels.'),
        (
            "edge: {reason: r, kinds: {near: axles}}",
            "edge kinds: has no kinds to add to; its labels are by names; write names: under it.",
        ),
        (
            "wheel: {reason: r, kinds: {inner: axles}}",
            "wheel kinds inner: stands already, and another fact cannot count it; write another name.",
        ),
        (
            "wheel: {reason: r, names: [spare]}",
            "wheel names: has no names to add to; its labels are by kinds; write kinds: under it.",
        ),
        (
            "axle: {reason: r, names: [spare]}",
            "axle names: has no names to add to; its labels are by count; write an axis of its own.",
        ),
        (
            "edge: {reason: r, count: axles}",
            'edge: "count" cannot be amended; an axis may have more labels; write names or kinds, or an axis of '
            "its own.",
        ),
        (
            "edge: {reason: r, retire: yes}",
            'edge: "retire" cannot be amended; an axis may have more labels; write names or kinds, or an axis of '
            "its own.",
        ),
        ("edg: {reason: r, lies: along}", "edg: amends nothing: no pack below has it among its axes; write edge."),
    ],
)
def test_what_an_amendment_of_an_axis_cannot_say(axes: str, said: str) -> None:
    assert added(axes) == [f"5, {said}"]


def test_an_axis_that_is_defined_again_is_told_the_way_that_is_open() -> None:
    again = upper("up", "", on="trolley", more="axes:\n  edge: {names: [near, middle, far]}\n")
    assert [fault.write for fault in faults_of(TROLLEY, again)] == ["it under amend, axes"]
    assert added("edge: {reason: r, names: [near, middle, far], lies: along}") == []


def above() -> Specification:
    return resolved(TROLLEY, ABOVE)


ABOVE = upper(
    "house",
    "  axes:\n    edge: {names: [near, middle, far], reason: Wide wheels bulge.}\n"
    "    wheel: {kinds: {spare: spare_wheels}, reason: Some carry one.}\n",
    on="trolley",
    more="facts:\n  spare_wheels: {kind: count, assumed: 0}\n",
)


def test_added_labels_are_judged_like_the_others_and_stand_in_no_ledger() -> None:
    spec = above()
    assert spec.ledger == ()
    assert spec.axes["edge"].names == ("near", "middle", "far")
    assert spec.axes["wheel_kind"].names == ("inner", "outer", "spare")
    assert spec.seal != resolved(TROLLEY).seal
    packs = {"trolley": TROLLEY, "house": ABOVE}
    head = HEAD.replace("[trolley]", "[house]")
    given = "readings: {wheel_size: {1: {spare_2: 98.0}}, wheel_width: {1: {inner: [40.1, 40.2, 40.1]}}}\n"
    report = inspected(f"{head}facts: {{spare_wheels: 2}}\n{given}", packs)
    assert str(finding(report, "wheel_fit", axle="1", wheel="spare_2").verdict) == "out of spec"
    plain = inspected(f"{head}facts: {{axles: 1}}\n", packs)
    assert [each.station["wheel"] for each in plain.findings if each.rule == "wheel_fit"] == ["inner", "outer"]


def test_added_labels_stand_on_the_page_of_the_pack_with_their_reason() -> None:
    spec = above()
    page = text_of(list(pack_whole(spec, spec.packs[1])))
    assert (
        "\nAXES\n  wheel: inner, outer, spare. Some carry one.\n  edge: near, middle, far. Wide wheels bulge.\n" in page
    )
    assert "AXES" not in text_of(list(pack_whole(spec, spec.packs[0])))


def test_two_packs_that_add_to_an_axis_apart_agree_or_are_at_fault() -> None:
    def house(name: str, kinds: str, names: str) -> str:
        axes = f"  axes:\n    wheel: {{kinds: {kinds}, reason: r}}\n    edge: {{names: {names}, reason: r}}\n"
        return upper(name, axes, on="trolley")

    both = upper("both", "", on="one, two")
    middle = "[near, middle, far]"
    alike = (house("one", "{spare: axles}", middle), house("two", "{guide: axles}", middle))
    assert resolved(TROLLEY, *alike, both).axes["wheel"].names == ("inner", "outer", "spare", "guide")
    apart = (house("one", "{spare: axles}", middle), house("two", "{spare: inner_wheels}", "[near, far, last]"))
    assert [fault.subject for fault in faults_of(TROLLEY, *apart, both)] == ["wheel", "edge"]
