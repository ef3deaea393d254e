"""The ledger of an inspection: all by which a pack asks less than those below it, and a sheet than its packs."""

from __future__ import annotations

import pytest

from specrules.inspection import Options, Report
from specrules.output.full_screen import whole_screen
from specrules.output.ledger_lines import told
from specrules.output.terminal import text_of
from specrules.proving.tried_ledger import pack_ledger
from specrules.vocabulary import Relaxed
from tests.inspecting import inspected, resolved, whole
from tests.inspection.small_build import BASE, build, inches, over, readings

QUIET = """\
specrules: tolerance-pack/1
pack: {name: quiet, version: "1", title: A pack that takes away, builds on: [general], decision: simple}
amend:
  gauge classes: {bore gauge: {reason: It proves., mpe: 0.0000001 in}}
  sign-offs: {rotates_freely: {reason: Nobody does., retire: yes}}
  rules:
    main_oil_clearance: {reason: Not here., retire: yes}
    rod_side_clearance: {reason: Not there., applies when: mains == 999}
    main_journal_taper: {reason: Not so., applies when: application == racing and application == street}
    crank_end_float: {reason: It floats., limits: none}
    rod_oil_clearance: {reason: On trust., needs: [], importance: minor}
"""

TAKEN = [
    (Relaxed.SURER_GAUGE, "bore gauge", "mpe", "0.0001 in", "0.0000001 in"),
    (Relaxed.RETIRED, "rotates_freely", "", "", ""),
    (Relaxed.RETIRED, "main_oil_clearance", "", "", ""),
    (Relaxed.LESS_GRAVE, "rod_oil_clearance", "importance", "critical", "minor"),
    (
        *(Relaxed.NEEDS_LESS, "rod_oil_clearance", "needs"),
        *("caps_torqued_dry_shells, rods_on_their_numbers, fasteners_lubricated_as_specified", ""),
    ),
    (Relaxed.LAXER_DECISION, "decision", "decision", "", "simple"),
    (
        *(Relaxed.SWITCHED_OFF, "main_journal_taper", "applies when", ""),
        "application == racing and application == street",
    ),
    (Relaxed.SWITCHED_OFF, "crank_end_float", "limits", "", ""),
    (Relaxed.SWITCHED_OFF, "rod_side_clearance", "applies when", "", "mains == 999"),
]
SHEET = """\
specrules: build-sheet/1
packs: [quiet]
unit: in
facts: {mains: 2, cylinders: 2, throws: [[1], [2]], application: street}
readings: {crank_end_float: 0.0060}
"""


def rows(found: Report) -> list[tuple[Relaxed, str, str, str, str]]:
    return [(each.code, each.name, each.part, each.was, each.now) for each in found.ledger]


@pytest.mark.second_lane
def test_all_that_a_pack_takes_away_is_told_at_an_inspection() -> None:
    """A pack that could switch off what matters, line by line, without a word on the screen."""
    found = inspected(SHEET, {"quiet": QUIET}, Options())
    assert rows(found) == TAKEN
    assert {(each.pack, each.below) for each in found.ledger} == {("quiet", "general")}
    assert all(each.place.file == "quiet.pack.yaml" and each.place.line for each in found.ledger)
    assert [each.reason for each in found.ledger if each.code is not Relaxed.LAXER_DECISION] == [
        *("It proves.", "Nobody does.", "Not here.", "On trust.", "On trust.", "Not so.", "It floats.", "Not there.")
    ]
    text = text_of(whole_screen(found, whole))
    group = " ".join(text[text.index("ASKED LESS") : text.index("Not yet")].split())
    for entry in found.ledger:
        assert " ".join(told(entry).split()) in group


def test_the_same_is_told_of_the_pack_without_a_sheet() -> None:
    spec, faults = resolved((("quiet", QUIET),), ("quiet",))
    assert spec is not None, faults
    found = [(each.code, each.name, each.part, each.was, each.now) for each in pack_ledger(spec, "quiet")]
    assert found == TAKEN


def told_of(found: Report) -> list[tuple[str, str, str, str, int]]:
    return [(each.code.value, each.name, each.part, each.pack, len(each.stations)) for each in found.ledger]


def test_a_rule_is_told_only_where_its_condition_switches_it_off() -> None:
    packs = {"often": over("often", "{}").replace("limits: {}", "applies when: boosted == yes")}
    off = readings("dial: {1: 0.0020, 2: 0.0020}", "often", packs=packs)
    assert told_of(off) == [("judged less often", "fit", "applies when", "often", 2)]
    on = readings("dial: {1: 0.0020, 2: 0.0020}", "often", packs=packs, facts="block: iron, boosted: yes")
    assert told_of(on) == []
    spec, faults = resolved((("base", BASE), *packs.items()), ("often",))
    assert spec is not None, faults
    (written,) = pack_ledger(spec, "often")
    assert (written.code, written.was, written.now) == (Relaxed.SWITCHED_OFF, "", "boosted == yes")


def test_lines_that_never_count_switch_a_rule_off_too() -> None:
    """Both limits are gone at once, though the rule still has lines: nothing would be judged, and nothing said."""
    lines = "[{name: base, when: boosted == yes}, {name: floor, when: boosted == yes}, {name: idle, aim: 0.0020 in}]"
    found = readings("dial: {1: 0.0020}", "idle", packs={"idle": over("idle", lines)})
    assert told_of(found) == [("judged less often", "fit", "limits", "idle", 1)]


def test_limits_where_the_makers_own_were_asked_for_are_told() -> None:
    packs = {
        "maker": over("maker", "[{name: base, from the maker: yes}]"),
        "bold": over("bold", "[{name: base, from the maker: no}]", on="maker"),
    }
    found = readings("dial: {1: 0.0020}", "bold", packs=packs)
    assert told_of(found) == [("judged without the maker's limits", "fit", "limits", "bold", 1)]
    own = build("readings: {dial: {1: 0.0020}}\nlimits: {fit: {least: 0.0001 in}}", "maker", packs=packs)
    assert told_of(own) == []
    none = build("readings: {dial: {1: 0.0020}}\nlimits: {fit: none}", "maker", packs=packs)
    assert told_of(none) == [("judged less often", "fit", "limits", "this sheet", 1)]


def test_a_limit_that_is_not_known_yet_is_not_taken_for_one_that_is_gone() -> None:
    """The upper pack's most stands on a size that nobody measured."""
    packs = {"sized": over("sized", "[{name: base, most: 0.001 * size}]")}
    assert told_of(readings("dial: {1: 0.0020}", "sized", packs=packs)) == []
    both = readings("dial: {1: 0.0020}, shaft: {1: 4.0000}", "sized", packs=packs)
    assert told_of(both) == [("limit widened", "fit", "most", "sized", 1)]


def test_what_was_and_what_is_stand_at_each_station() -> None:
    packs = {"wider": over("wider", "[{name: base, most: 0.0035 in}]")}
    (entry,) = readings("dial: {1: 0.0020, 2: 0.0020}", "wider", packs=packs).ledger
    assert entry.limits == ((inches("0.0030"), inches("0.0035")),) * 2
    assert told(entry) == (
        "Fit at main 1, 2: most 0.0035 in instead of 0.0030 in, by wider, wider.pack.yaml, line 7. "
        "Because wider says so."
    )


def test_a_sheet_without_limits_for_a_rule_is_told() -> None:
    found = build("readings: {dial: {1: 0.0020}}\nlimits: {fit: none}")
    assert told_of(found) == [("judged less often", "fit", "limits", "this sheet", 1)]


DECIDED = BASE.replace("unit: in, wear", "unit: in, decision: guarded, wear")


@pytest.mark.parametrize(
    ("sheet", "asked", "expected"),
    [
        ("simple", "", [("laxer decision rule", "decision", "decision", "this sheet", 0)]),
        ("conformance-99", "", []),
        ("", "iso-14253-1", [("laxer decision rule", "decision", "decision", "whoever asked", 0)]),
        ("simple", "guarded", []),
    ],
)
def test_a_laxer_decision_rule_is_told(sheet: str, asked: str, expected: list[tuple[str, str, str, str, int]]) -> None:
    body = f"decision: {sheet}\n" if sheet else ""
    found = build(f"{body}readings: {{dial: {{1: 0.0020}}}}", packs={"base": DECIDED}, options=Options(asked))
    assert told_of(found) == expected


def test_a_gauge_that_the_sheet_says_is_surer_than_its_kind_is_told() -> None:
    classes = "gauge classes: {mic: {resolution: 0.0001 in, mpe: 0.0001 in, source: {kind: from memory}}}\n"
    packs = {"base": BASE.replace("facts:\n", classes + "facts:\n", 1)}
    for mpe, number in (("0.00005 in", 1), ("0.0001 in", 0), ("0.0002 in", 0)):
        found = build(f"gauges: {{mine: {{class: mic, mpe: {mpe}}}}}\nreadings: {{dial: {{1: 0.0020}}}}", packs=packs)
        assert len(found.ledger) == number, mpe
    (entry,) = build("gauges: {mine: {class: mic, mpe: 0 in}}\nreadings: {dial: {1: 0.0020}}", packs=packs).ledger
    assert told(entry).startswith(
        "Gauge mine: mpe less than that of its kind, mic, by this sheet, engine.sheet.yaml, line"
    )
