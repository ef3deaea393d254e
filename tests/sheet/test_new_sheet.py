"""A new sheet: it names every reading, reads back without a fault, and says nothing until it is filled in."""

from __future__ import annotations

import re
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.inspection import Examination, Options
from specrules.pack.needing import names_read, rules_with_needs
from specrules.sheet import Sheet, read_sheet, settle, suspects
from specrules.sheet.new_sheet import NewSheet, start
from specrules.vocabulary import Why
from tests.sheet.small_shop import FILE, shop, texts
from tests.shipped import resolved

FACTS = {"mains": "3", "cylinders": "4", "throws": "[[1, 4], [2, 3]]", "banks": "{left: [1, 3], right: [2, 4]}"}


def started(
    facts: dict[str, str], title: str = "Inline four", packs: tuple[str, ...] = ("small",), with_how: bool = True
) -> str:
    return start(shop(), facts, NewSheet(title, packs, "in", with_how=with_how))


def read_back(text: str) -> Sheet:
    raw, faults = read_sheet(text, FILE)
    assert [fault.sentence() for fault in faults] == []
    assert raw is not None
    sheet, faults = settle(raw, shop())
    assert [fault.sentence() for fault in faults] == []
    assert sheet is not None
    return sheet


def test_it_reads_back_without_a_fault_and_without_a_reading() -> None:
    sheet = read_back(started(FACTS))
    assert (sheet.title, sheet.packs, sheet.readings, sheet.signed, sheet.limits) == (
        "Inline four", ("small",), (), {}, {},
    )  # fmt: skip
    assert {name: facts[0].value for name, facts in sheet.facts.items() if name in ("mains", "cylinders")} == {
        "mains": 3,
        "cylinders": 4,
    }
    assert sheet.labels["bank"] == ("left", "right")
    assert suspects(sheet, shop()) == ()


def test_every_reading_has_its_cell_one_line_a_station() -> None:
    text = started(FACTS)
    journal = text[text.index("  main_journal:") : text.index("  # main bore (in)")]
    assert journal == (
        "  main_journal:\n"
        "    gauge: \n"
        "    taken: \n"
        "    1: {front: {a: , b: }, rear: {a: , b: }}\n"
        "    2: {front: {a: , b: }, rear: {a: , b: }}\n"
        "    3: {front: {a: , b: }, rear: {a: , b: }}\n"
        "\n"
    )
    assert "    left: {front: , rear: }\n    right: {front: , rear: }\n" in text
    assert "  crank_end_float: \n" in text


def filled(lines: list[str]) -> list[str]:
    """Lines of readings with a number of its own in each empty cell; a name above deeper lines is no cell."""
    numbers = iter(range(1000))
    below = [len(line) - len(line.lstrip()) for line in (*lines[1:], "")]
    made = []
    for line, next_indent in zip(lines, below, strict=True):
        opens = line.endswith(":") and next_indent > len(line) - len(line.lstrip())
        other = not line or opens or line.lstrip().startswith(("gauge:", "taken:"))
        made.append(line if other else re.sub(r": ?(?=[,}]|$)", lambda _: f": {next(numbers)} ", line))
    return made


@pytest.mark.parametrize("with_how", [True, False])
def test_filling_every_cell_gives_every_reading(with_how: bool) -> None:
    """Each empty cell of the readings is filled with a number of its own, in the order in which they stand."""
    before, readings = started(FACTS, with_how=with_how).split("readings:\n")
    readings, after = readings.split("# The part makers")
    lines = filled([re.sub(r" *# .*", "", line) for line in readings.splitlines()])
    sheet = read_back(
        "\n".join([before + "readings:", *lines, "# The part makers" + after]).replace("unit: in", "unit: mm")
    )
    expected = [
        (measurand.name, *labels)
        for measurand in shop().measurands.values()
        for labels in product(*(sheet.labels[axis] for axis in measurand.axes))
    ]
    assert [(r.name, *r.station, *(r.position or ())) for r in sheet.readings] == expected
    assert [r.text for r in sheet.readings] == [str(number) for number in range(len(expected))]


def test_a_filled_cell_is_the_reading_it_names() -> None:
    text = started(FACTS)
    at = text.index("  main_journal:")
    filled = text[:at] + text[at:].replace("a: , b: }, rear", "a: 2.4990, b: open}, rear", 1)
    assert texts(read_back(filled).readings) == {"main_journal 1 front a": "2.4990"}


def test_what_it_says_beside_the_cells() -> None:
    lines = started(FACTS).splitlines()
    assert "  # CRANK" in lines
    assert "  # Main journal (in); outside micrometer" in lines
    assert "  # Near each fillet." in lines
    assert "  # measure each 3 times: {repeats: [first, second, ...]}" in lines
    assert "  coated:                         # coated; yes or no; no if left empty" in lines
    assert "  use:                            # use; street or towing or racing" in lines
    assert "  # dry fit: Does it turn?" in lines
    assert "  rotates_freely: {by: , on: }" in lines
    assert "  # Ring end gap (in)" in lines
    assert "  ring_end_gap: {least: , most: , source: }" in lines
    assert "  # align_hone, grind" in lines
    assert max(map(len, lines)) <= 100


def test_where_counts_are_not_stated_it_shows_one_line_to_copy() -> None:
    text = started({})
    assert (
        "  main_journal:\n    # one such line for each main:\n    # 1: {front: {a: , b: }, rear: {a: , b: }}\n"
    ) in text
    assert read_back(text).labels["main"] == ()


def test_groups_may_be_typed_tightly() -> None:
    text = started({"cylinders": "4", "throws": "[[1,4],[2,3]]"})
    assert "  throws: [[1, 4], [2, 3]]" in text
    assert read_back(text).labels["throw"] == ("1", "2")


def test_what_packs_imply_is_said() -> None:
    text = start(shop("towing"), {}, NewSheet("", ("towing",), "mm", with_how=True))
    assert "use; street or towing or racing; towing, by the packs" in text
    assert "unit: mm  # what a length without its unit is in\n" in text
    assert "  title: \n" in text


def test_a_name_that_is_no_fact_is_kept_so_that_reading_it_back_tells() -> None:
    raw, _ = read_sheet(start(shop(), {"mians": "3"}, NewSheet("x", ("small",), "in")), FILE)
    assert raw is not None
    _, faults = settle(raw, shop())
    assert [fault.sentence().split(": ", 1)[1] for fault in faults] == ['"mians" is no fact; write mains.']


def test_long_lines_are_broken_at_the_next_axis() -> None:
    labels = ", ".join(f"[{n}]" for n in range(1, 13))
    facts = {"cylinders": "12", "banks": f"[{labels}]"}
    assert "    12: {front: , rear: }\n" in started(facts)
    assert (
        "    3:\n"
        "      1:\n"
        "        front: {a: {top: , second: , oil: }, b: {top: , second: , oil: }}\n"
        "        rear: {a: {top: , second: , oil: }, b: {top: , second: , oil: }}\n"
    ) in started(FACTS)
    wide = {"cylinders": "2", "banks": "{" + ", ".join(f"{'left' * 12}{n}: [{n}]" for n in (1, 2)) + "}"}
    assert f"    {'left' * 12}1: {{front: , rear: }}\n" in started(wide)


@given(
    st.text(max_size=30),
    st.text(max_size=12),
    st.dictionaries(st.sampled_from(sorted(shop().facts)), st.text(max_size=12)),
)
def test_whatever_is_asked_for_the_file_can_be_read(title: str, pack: str, facts: dict[str, str]) -> None:
    text = started(facts, title, (pack,) if pack else ())
    raw, faults = read_sheet(text, FILE)
    if all(character.isprintable() for character in title + pack + "".join(facts.values())):
        assert [fault.sentence() for fault in faults] == []
        assert raw is not None
        assert raw.model.build is None or not title or raw.model.build.title == title


LEAN = """\
  # CRANK
  main_journal:                   # Main journal (in)
    1: {front: {a: , b: }, rear: {a: , b: }}
"""


def test_without_how_a_reading_has_its_name_and_its_cells_alone() -> None:
    text = start(shop(), FACTS, NewSheet("Inline four", ("small",), "in"))
    assert LEAN in text
    assert "Near each fillet." not in text
    assert "gauge: \n" not in text
    assert "  crank_end_float:                # crank end float (in)\n" in text
    assert "  use:" not in text
    assert "# More may be stated: an inspection names those that checks wait for.\n" in text
    assert len(text.splitlines()) < len(started(FACTS).splitlines())


def test_stations_of_one_cell_stand_in_a_row() -> None:
    spec = resolved("general")
    text = start(spec, {"mains": "3"}, NewSheet("", ("general",), "in"))
    assert "  main_strip: {1: , 2: , 3: }     # Main clearance by gauging strip (in)\n" in text


@pytest.mark.second_lane
@pytest.mark.parametrize("group", resolved("general").groups)
def test_a_sheet_of_one_heading_has_all_that_its_checks_wait_for(group: str) -> None:
    """And no more: a cell that is filled counts for a check of the job, or is a fact of how the parts are joined."""
    spec = resolved("general")
    facts = {"mains": "2", "cylinders": "2", "throws": "[[1, 2]]", "cam_bearings": "2", "card_bore": "4 in"}
    facts |= {"ignition": "spark", "cooling": "liquid", "cycle": "four_stroke"}
    text = start(spec, facts, NewSheet("", ("general",), "in", scope=(group,)))
    raw, faults = read_sheet(text, FILE)
    assert raw is not None
    sheet, faults = settle(raw, spec)
    assert sheet is not None, faults
    assert sheet.scope == (group,)
    report = Examination(sheet, spec, Options()).report
    awaited = {reason.names[0] for finding in report for reason in finding.rests_on.missing if reason.code is Why.READ}
    asked = {name for name in spec.measurands if re.search(rf"^  {name}:", text.split("\nreadings:")[1], re.MULTILINE)}
    assert awaited <= asked
    assert {state.name for state in report.sign_offs} <= set(
        re.findall(r"^  (\w+): \{by: , on: \}", text, re.MULTILINE)
    )
    rules = {finding.rule for finding in report}
    assert asked <= names_read(spec, rules_with_needs(spec, rules))


@pytest.mark.second_lane
@pytest.mark.parametrize("until", resolved("general").hold_points)
def test_a_sheet_up_to_a_hold_point_asks_for_no_signature_of_a_later_one(until: str) -> None:
    spec = resolved("general")
    text = start(spec, {"mains": "2"}, NewSheet("", ("general",), "in", until=until))
    raw, _ = read_sheet(text, FILE)
    assert raw is not None
    sheet, faults = settle(raw, spec)
    assert sheet is not None, faults
    assert sheet.until == until
    signed = re.findall(r"^  (\w+): \{by: , on: \}", text, re.MULTILINE)
    reached = spec.hold_points[: spec.hold_points.index(until) + 1]
    assert signed
    assert all(spec.sign_offs[name].hold_point in reached for name in signed)


def test_a_scope_or_hold_point_that_is_none_is_kept_so_that_reading_it_back_tells() -> None:
    raw, _ = read_sheet(start(shop(), FACTS, NewSheet("", ("small",), "in", scope=("Cranc",), until="dryfit")), FILE)
    assert raw is not None
    _, faults = settle(raw, shop())
    assert [fault.subject for fault in faults] == ["scope", "until"]
