"""Axes of kinds: of each kind as many labels as a fact says, named by the kind alone where there is one."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.formula.axis_kinds import kind_of, labels_of, picked_kind, whole, within
from specrules.inspection import Examination
from specrules.output.full_screen import whole_screen
from specrules.output.report_record import record_of
from specrules.output.terminal import text_of
from specrules.pack.stack_schema import pack_schema_on
from specrules.record import read_record, record_text
from specrules.sheet import read_sheet, settle
from specrules.sheet.new_sheet import NewSheet, next_to_ask, start
from specrules.sheet.specification_schema import schema_for
from specrules.vocabulary import Verdict
from tests.inspecting import finding, inspected, run, settled
from tests.pack.small_packs import resolved
from tests.schemas.as_editors import wrong
from tests.sheet.small_trolley import HEAD, PACKS, TROLLEY, WHEELS

TWO = "facts: {axles: 1, inner_wheels: 2, worn_to: {inner: 95.0, outer: 90.0}}\n"
UNASSUMED = {"trolley": TROLLEY.replace("assumed: 1, ", "")}
HERE = Path(__file__).parent


def labels(facts: str, packs: dict[str, str] = PACKS) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The labels of the wheels and of their kinds on a sheet that states these facts."""
    sheet, _, said = settled(f"{HEAD}{facts}\n", packs)
    assert sheet is not None, said
    assert set(sheet.groups["wheel_kind"]) == set(sheet.labels["wheel"])
    return sheet.labels["wheel"], sheet.labels["wheel_kind"]


@pytest.mark.parametrize(
    ("facts", "wheels", "kinds"),
    [
        ("", ("inner", "outer"), ("inner", "outer")),
        ("facts: {inner_wheels: }", ("inner", "outer"), ("inner", "outer")),
        ("facts: {inner_wheels: open}", ("inner", "outer"), ("inner", "outer")),
        ("facts: {inner_wheels: 2}", ("inner_1", "inner_2", "outer"), ("inner", "outer")),
        ("facts: {outer_wheels: 3, inner_wheels: 1}", ("inner", "outer_1", "outer_2", "outer_3"), ("inner", "outer")),
        ("facts: {inner_wheels: 0}", ("outer",), ("outer",)),
        ("facts: {inner_wheels: 0, outer_wheels: 2}", ("outer_1", "outer_2"), ("outer",)),
        ("facts: {inner_wheels: 0, outer_wheels: 0}", (), ()),
    ],
)
def test_the_labels_of_each_kind(facts: str, wheels: tuple[str, ...], kinds: tuple[str, ...]) -> None:
    assert labels(facts) == (wheels, kinds)


@pytest.mark.parametrize(
    ("sheet", "wheels", "assumed"),
    [
        ("", ("inner", "outer"), {}),
        ("readings: {wheel_size: {1: {inner: 100.0}}}", ("inner", "outer"), {"inner_wheels": "1", "outer_wheels": "1"}),
        (
            "readings: {wheel_size: {1: {inner_2: 100.0, outer: 100.0}}}",
            ("inner_1", "inner_2", "outer"),
            {"inner_wheels": "2", "outer_wheels": "1"},
        ),
        (
            "facts: {inner_wheels: 1, tyre: {outer_1 to outer_3: air}}",
            ("inner", "outer_1", "outer_2", "outer_3"),
            {"outer_wheels": "3"},
        ),
    ],
)
def test_counts_that_nobody_states_or_assumes_are_as_many_as_are_named(
    sheet: str, wheels: tuple[str, ...], assumed: dict[str, str]
) -> None:
    """One of a kind that is not named: its figures are missing, and nothing is worked out as if there were none."""
    read, _, said = settled(f"{HEAD}{sheet}\n", UNASSUMED)
    assert read is not None, said
    assert read.labels["wheel"] == wheels
    assert {fact: count for fact, count in read.assumed.items() if fact != "axles"} == assumed


@pytest.mark.parametrize(
    ("size", "readings"),
    [
        ("{inner_1: 100.0, inner_2: 99.5, outer: 101.5}", "inner_1=100.0 inner_2=99.5 outer=101.5"),
        ("{inner: 100.0, outer: 101.5}", "inner_1=100.0 inner_2=100.0 outer=101.5"),
        ("{inner and outer: 100.0}", "inner_1=100.0 inner_2=100.0 outer=100.0"),
        ("{inner_1 and inner_2: 100.0}", "inner_1=100.0 inner_2=100.0"),
        ("{inner_1 to outer: 100.0}", "inner_1=100.0 inner_2=100.0 outer=100.0"),
        ("{inner_2: 99.0, others: 100.0}", "inner_1=100.0 inner_2=99.0 outer=100.0"),
        ("{inner: open, outer: 100.0}", "outer=100.0"),
        ("{inner_1: {repeats: [99.0, 99.4]}}", "inner_1=99.2"),
    ],
)
def test_a_kind_stands_for_all_that_are_of_it(size: str, readings: str) -> None:
    sheet, _, said = settled(f"{HEAD}{TWO}readings: {{wheel_size: {{1: {size}}}}}", PACKS)
    assert sheet is not None, said
    assert " ".join(f"{each.station[1]}={each.value}" for each in sheet.readings) == readings
    group = {each.station[1] for each in sheet.readings if each.group}
    assert group == ({"inner_1", "inner_2", "outer"} & group)


@pytest.mark.parametrize(
    ("written", "said"),
    [
        (
            TWO + "readings: {wheel_size: {1: {inner: [100.0, 101.0]}}}",
            "6, wheel_size 1 inner: a list does not say which of inner_1 and inner_2 each figure is of; write them by "
            "name, inner_1: and the figure.",
        ),
        (
            TWO + "readings: {wheel_width: {1: {inner: [50.0, 51.0]}}}",
            "6, wheel_width 1 inner: a list does not say which of inner_1 and inner_2 each figure is of; write them by "
            "name, inner_1: and the figure.",
        ),
        (
            TWO + "readings: {wheel_size: {1: {inner: {repeats: [100.0, 101.0]}}}}",
            "6, wheel_size 1 inner: repeats are of one wheel, and this is of inner_1 and inner_2; write them by name, "
            "inner_1: {repeats: [...]}.",
        ),
        (
            TWO + "readings: {wheel_size: {1: [100.0, 100.1, 100.2]}}",
            "6, wheel_size 1: a list does not say which wheel each figure is of; write them by name, inner_1: and the "
            "figure.",
        ),
        (
            TWO + "readings: {wheel_size: {1: {inner_3: 100.0}}}",
            '6, wheel_size 1: "inner_3" is no wheel; there are inner_1 and inner_2, since inner_wheels is 2; write '
            "inner_1 or inner_2, or inner_wheels: 3 under facts, if there are so many.",
        ),
        (
            TWO + "readings: {wheel_size: {1: {inner_1: 100.0, inner: 100.0}}}",
            "6, wheel_size 1 inner: this place has a figure already, on line 6; keep one of the two.",
        ),
        (
            TWO + "readings: {wheel_size: {1: 100.0}}",
            "6, wheel_size 1: no wheel is named, and there are inner_1, inner_2 and outer; write inner_1: 100.0.",
        ),
        (
            TWO + "concessions: [{rule: wheel_fit, at: {wheel: inner_3}, reason: a, by: ab}]",
            '6, concessions wheel_fit: "inner_3" is no wheel; there are inner_1 and inner_2, since inner_wheels is 2; '
            "write inner_1 or inner_2, or inner_wheels: 3 under facts, if there are so many.",
        ),
        (
            "readings: {wheel_size: {1: {inner: [100.0, 101.0]}}}",
            "5, wheel_size 1 inner: 2 figures stand where one belongs, and there is one inner, since inner_wheels is "
            "taken to be 1; write inner_wheels: 2 under facts and inner_1: and the figure, or repeats: [...] where one "
            "was measured again.",
        ),
        (
            "readings: {wheel_size: {1: {inner_1: 100.0}}}",
            '5, wheel_size 1: "inner_1" is no wheel; there is one inner, since inner_wheels is taken to be 1; write '
            "inner, or inner_wheels: 2 under facts, if there are so many.",
        ),
        (
            "facts: {inner_wheels: 1}\nreadings: {wheel_size: {1: {inner_257: 100.0}}}",
            '6, wheel_size 1: "inner_257" is no wheel; there is one inner, since inner_wheels is 1; write inner.',
        ),
        (
            "facts: {inner_wheels: 1}\nreadings: {wheel_size: {1: {inner_4: 100.0}}}",
            '6, wheel_size 1: "inner_4" is no wheel; there is one inner, since inner_wheels is 1; write inner, or '
            "inner_wheels: 4 under facts, if there are so many.",
        ),
        (
            "readings: {wheel_size: {1: [100.0, 101.0, 102.0, 103.0]}}",
            "5, wheel_size 1: 4 figures stand where 2 belong, in this order: inner and outer; inner_wheels is "
            "taken to be 1 and outer_wheels is taken to be 1; write inner_wheels and "
            "outer_wheels under facts, where there are more of a kind.",
        ),
        (
            "readings: {wheel_size: {1: {iner: 100.0}}}",
            '5, wheel_size 1: "iner" is no wheel; write inner.',
        ),
        (
            "facts: {inner_wheels: 0}\nreadings: {wheel_size: {1: {inner: 100.0}}}",
            '6, wheel_size 1: "inner" is no wheel; there are none, since inner_wheels is 0; write inner_wheels: 1 '
            "under facts, if there are so many.",
        ),
        (
            "facts: {inner_wheels: 0}\nlimits: {wheel_lead: {most: 2}}",
            '6, limits: "wheel_lead" is about what is not there, since inner_wheels is 0; write nothing there, or '
            "another inner_wheels under facts.",
        ),
        (
            "facts: {inner_wheels: 0, outer_wheels: 0}\nreadings: {wheel_size: {1: {outer: 100.0}}}",
            '6, readings: "wheel_size" is about what is not there, since inner_wheels is 0; write nothing there, or '
            "another inner_wheels under facts.",
        ),
        ("facts: {inner_wheels: 257}", '5, inner_wheels: "257" is no whole number from 0 to 256.'),
        ("facts: {inner_wheels: two}", '5, inner_wheels: "two" is no whole number from 0 to 256.'),
        ("facts: {axles: 0}", '5, axles: "0" is no whole number from 1 to 256.'),
        (
            "facts: {inner_wheels: 256, outer_wheels: 255, axles: 200}",
            "5, inner_wheels: with 511 of these, wheel_size lies at 102,200 places along axle, wheel, more than the "
            "10,000 allowed; write a smaller count.",
        ),
    ],
)
def test_what_is_said_of_labels_that_cannot_be(written: str, said: str) -> None:
    assert settled(HEAD + written, PACKS)[2] == (f"engine.sheet.yaml, line {said}",)


def test_kinds_that_meet_in_too_many_pairs_are_a_fault_of_the_count() -> None:
    pairs = TROLLEY.replace("inner_size - mean(wheel_size[outer])", "smallest(wheel_size[inner] - wheel_size[outer])")
    counts = f"{HEAD}facts: {{axles: 1, inner_wheels: 9, outer_wheels: {{}}}}\n"
    assert settled(counts.replace("{}", "9"), {"trolley": pairs})[2] == ()
    assert settled(counts.replace("{}", "200"), {"trolley": pairs})[2] == (
        "engine.sheet.yaml, line 5, outer_wheels: with 209 of these, wheel_lead lies at 43,681 places along wheel, "
        "wheel, more than the 10,000 allowed; write a smaller count.",
    )


@pytest.mark.parametrize(
    ("facts", "rules"),
    [
        ("", {"wheel_fit", "wheel_play", "wheel_lead", "wheel_worn"}),
        ("facts: {inner_wheels: 2}\n", {"wheel_fit", "wheel_play", "wheel_lead", "wheel_worn"}),
        ("facts: {inner_wheels: 0}\n", {"wheel_fit", "wheel_play", "wheel_worn"}),
        ("facts: {inner_wheels: 0, outer_wheels: 0}\n", set()),
    ],
)
def test_what_reads_a_kind_that_is_not_there_is_absent(facts: str, rules: set[str]) -> None:
    report = inspected(f"{HEAD}{facts}", PACKS)
    assert {finding.rule for finding in report.findings} == rules


def test_a_kind_whose_fact_is_absent_has_no_labels_and_one_that_may_be_waits() -> None:
    braked = TROLLEY.replace("outer_wheels: {kind: count,", "outer_wheels: {applies when: sprung == no, kind: count,")
    unsure = {"trolley": braked.replace("yes/no, assumed: no", "yes/no")}
    given = "readings: {wheel_size: {1: {inner: 100.0}}}\n"
    assert labels("facts: {sprung: yes}", unsure) == (("inner",), ("inner",))
    said = settled(f"{HEAD}facts: {{sprung: yes}}\nreadings: {{wheel_size: {{1: {{outer: 99.0}}}}}}\n", unsure)[2]
    assert said == (
        'engine.sheet.yaml, line 6, wheel_size 1: "outer" is no wheel; there are none, since outer_wheels '
        "does not apply.",
    )
    for facts, verdict in (
        ("facts: {sprung: yes}\n", "in spec"),
        ("facts: {sprung: no}\n", "in spec"),
        ("", "not measured"),
    ):
        found = finding(inspected(f"{HEAD}{facts}{given}", unsure), "wheel_fit", axle="1", wheel="inner")
        assert str(found.verdict) == verdict, facts
    assert {reason.names[0] for reason in found.rests_on.missing} == {"sprung"}


def test_each_label_is_judged_by_the_lines_of_its_kind() -> None:
    report = inspected(
        f"{HEAD}{TWO}readings: {{wheel_size: {{1: {{inner_1: 100.0, inner_2: 101.5, outer: 101.5}}}}}}", PACKS
    )
    verdicts = {each.station["wheel"]: str(each.verdict) for each in report.findings if each.rule == "wheel_fit"}
    assert verdicts == {"inner_1": "in spec", "inner_2": "out of spec", "outer": "in spec"}
    assert finding(report, "wheel_play", axle="1", wheel_kind="inner").value == Decimal("1.5")
    assert finding(report, "wheel_lead", axle="1").value == Decimal("-0.75")
    assert finding(report, "wheel_worn", axle="1", wheel="inner_2").value == Decimal("6.5")


def test_the_screen_and_the_record_of_wheels_of_two_kinds() -> None:
    sheet, spec, said = settled(WHEELS, PACKS)
    assert sheet is not None, said
    assert spec is not None
    examined = Examination(sheet, spec)
    text = text_of(whole_screen(examined.report, examined.whole))
    assert text == (HERE / "wheels.txt").read_text(encoding="utf-8")
    record = record_text(record_of(examined.report, examined.whole, "1"))
    assert record_text(read_record(record)) == record


def test_a_new_sheet_asks_for_no_assumed_count_and_lays_out_those_that_are_given() -> None:
    spec = resolved(TROLLEY)
    asked = next_to_ask(spec, {}, ())
    assert asked is not None
    assert asked.name == "axles"
    assert next_to_ask(spec, {"axles": "1"}, ()) is None
    unsure = next_to_ask(resolved(UNASSUMED["trolley"]), {"axles": "1"}, ())
    assert unsure is not None
    assert unsure.name == "inner_wheels"
    new = start(spec, {"axles": "2", "inner_wheels": "2"}, NewSheet("T", ("trolley",), "mm"))
    assert "  inner_wheels: 2                 # Inner wheels of each axle; 1 if left empty" in new
    assert "    1: {inner_1: , inner_2: , outer: }" in new
    raw, faults = read_sheet(new.encode(), "new.sheet.yaml")
    assert raw is not None
    assert (*faults, *settle(raw, spec)[1]) == ()


@pytest.mark.second_lane
@pytest.mark.parametrize(
    ("sheet", "places"),
    [
        (WHEELS, 0),
        ("facts: {inner_wheels: 0}", 0),
        ("readings: {wheel_size: {1: {inner_1 and outer: 1.0, others: 2.0}}}", 0),
        ("facts: {worn_to: {inner: 90 mm, others: 91 mm}}", 0),
        ("facts: {inner_wheels: -1}", 1),
        ("facts: {axles: 0}", 1),
        ("facts: {worn_to: {inner_1: 90 mm}}", 1),
        ("readings: {wheel_size: {1: {inner_0: 1.0}}}", 1),
        ("readings: {wheel_size: {1: {middle: 1.0}}}", 1),
    ],
)
def test_an_editor_knows_the_labels_of_kinds(sheet: str, places: int) -> None:
    text = sheet if sheet is WHEELS else f"{HEAD}{sheet}\n"
    assert bool(wrong(schema_for(resolved(TROLLEY)), text)) == bool(places)


def test_an_editor_offers_the_axes_that_may_be_amended() -> None:
    amend = pack_schema_on(resolved(TROLLEY))["$defs"]["Amends"]["properties"]["axes"]["properties"]
    assert set(amend) == {"axle", "wheel", "edge"}


COUNTS = st.integers(0, 4)


@given(COUNTS, COUNTS)
def test_there_are_as_many_labels_as_both_counts_and_each_is_of_one_kind(inner: int, outer: int) -> None:
    wheels, kinds = labels(f"facts: {{inner_wheels: {inner}, outer_wheels: {outer}}}")
    assert len(set(wheels)) == len(wheels) == inner + outer
    assert wheels == (*labels_of("inner", inner), *labels_of("outer", outer))
    of = [kind_of(label, ("inner", "outer")) for label in wheels]
    assert [kind for kind, _ in of] == ["inner"] * inner + ["outer"] * outer
    assert [number for _, number in of] == [
        number for count in (inner, outer) for number in (range(1, count + 1) if count > 1 else [0] * count)
    ]
    assert kinds == tuple(kind for kind, count in (("inner", inner), ("outer", outer)) if count)


@given(st.data())
def test_rules_see_what_they_would_on_an_axis_with_plain_names(data: st.DataObject) -> None:
    """The same wheels on an axis that lists them: judged alike at each, and picks are written out by hand. What a
    reading looks like is left out: there only wheels of one kind are held against one another, here each is its own."""
    inner, outer = data.draw(st.integers(1, 3)), data.draw(st.integers(1, 3))
    wheels = (*labels_of("inner", inner), *labels_of("outer", outer))
    read = [wheel for wheel in wheels if data.draw(st.integers(0, 5))]
    sizes = {wheel: Decimal(data.draw(st.integers(980, 1030))) / 10 for wheel in read}
    written = ", ".join(f"{wheel}: {size:f}" for wheel, size in sizes.items())
    counts = f"facts: {{axles: 1, inner_wheels: {inner}, outer_wheels: {outer}}}\n"
    readings = f"readings: {{wheel_size: {{1: {{{written}}}}}}}\n" if sizes else ""
    kinds = inspected(f"{HEAD}{counts}{readings}", PACKS)
    plain = inspected(f"{HEAD}facts: {{axles: 1}}\n{readings}", {"trolley": plainly(wheels)})
    for rule in ("wheel_fit", "wheel_lead"):
        one, other = (
            [
                (*each.station.values(), each.would_be or each.verdict, each.value, each.beyond, each.limits.most)
                for each in report.findings
                if each.rule == rule
            ]
            for report in (kinds, plain)
        )
        assert one == other


def plainly(wheels: tuple[str, ...]) -> str:
    """The pack for these wheels alone, its axis of kinds written out as names."""

    def mean(kind: str) -> str:
        some = [wheel for wheel in wheels if kind_of(wheel, ("inner", "outer"))[0] == kind]
        return f"({' + '.join(f'wheel_size[{wheel}]' for wheel in some)}) / {len(some)}"

    outer = " or ".join(f"wheel == {wheel}" for wheel in wheels if wheel.startswith("outer"))
    text = TROLLEY.replace("{kinds: {inner: inner_wheels, outer: outer_wheels}}", f"{{names: [{', '.join(wheels)}]}}")
    text = text.replace("when: wheel == outer", f"when: {outer}").replace("at: wheel_kind", "at: wheel")
    text = text.replace("mean(wheel_size[outer])", mean("outer")).replace("mean(wheel_size[inner])", mean("inner"))
    text = text.replace("[axle, wheel_kind]", "axle")
    return "\n".join(line for line in _without_examples(text.split("\n")))


def _without_examples(lines: list[str]) -> list[str]:
    kept, inside = [], False
    for line in lines:
        indent = len(line) - len(line.lstrip())
        begins = line.strip() == "worked:"
        kept += ["    worked: [{given: {}, expect: {verdict: not measured}}]"] if begins else []
        inside = begins or (inside and indent > 4)
        kept += [] if inside else [line]
    return kept


@given(st.from_regex(r"[a-z]{1,4}", fullmatch=True), st.from_regex(r"[a-z]{1,4}", fullmatch=True))
def test_the_part_of_an_axis_within_a_kind_has_a_name_of_its_own(axis: str, kind: str) -> None:
    assert (whole(within(axis, kind)), picked_kind(within(axis, kind))) == (axis, kind)
    assert (whole(axis), picked_kind(axis)) == (axis, "")


def test_verdicts_of_kinds_do_not_stand_on_an_order_of_facts() -> None:
    sheets = ("facts: {inner_wheels: 2, axles: 1}\n", "facts: {axles: 1, inner_wheels: 2}\n")
    given = "readings: {wheel_size: {1: {inner_2: 101.5, inner_1: 100.0, outer: 100.0}}}\n"
    one, other = (run(f"{HEAD}{facts}{given}", PACKS).inspection for facts in sheets)
    assert one is not None
    assert other is not None
    assert [each.verdict for each in one.findings] == [each.verdict for each in other.findings]
    assert Verdict.OUT in [each.verdict for each in one.findings]
