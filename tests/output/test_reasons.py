"""Each reason has its sentence, by its code alone: no name that a pack gives can change what is said."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from specrules.output.full_screen import whole_screen
from specrules.output.reasons import overtaken, said
from specrules.output.terminal import text_of
from specrules.vocabulary import Reason, Why
from tests.inspecting import inspected, whole

SAID: Mapping[Why, Sequence[tuple[Reason, str]]] = {
    Why.STATE_FACT: [(Reason(Why.STATE_FACT, ("block_material",)), "state block_material")],
    Why.READ: [
        (Reason(Why.READ, ("main_journal",), ("3", "front")), "main journal 3 front"),
        (Reason(Why.READ, ("crank_runout",)), "crank runout"),
    ],
    Why.READ_EVERY_POSITION: [
        (Reason(Why.READ_EVERY_POSITION), "every position, for one figure hides the scatter"),
    ],
    Why.READ_FOR_ONE_WAY: [(Reason(Why.READ_FOR_ONE_WAY), "readings enough for one way")],
    Why.ASK_THE_MAKER: [
        (Reason(Why.ASK_THE_MAKER), "the maker's limits, in the sheet"),
        (Reason(Why.ASK_THE_MAKER, text="the ring maker's figure"), "the ring maker's figure"),
    ],
    Why.SIZE_ACROSS_EDGE: [
        (
            Reason(Why.SIZE_ACROSS_EDGE, ("tube_size",)),
            "tube size more closely: it decides whether there is a figure",
        )
    ],
    Why.HOLDS_FOR_OTHERS: [
        (
            Reason(Why.HOLDS_FOR_OTHERS, ("general", "cooling"), ("air",), "General practice"),
            "general practice has no figure for cooling: air; state the maker's",
        ),
        (
            Reason(Why.HOLDS_FOR_OTHERS, ("rams", "lift_medium", "action"), ("salt_water", "single"), "Ram practice"),
            "ram practice has no figure for lift medium: salt water and action: single; state the maker's",
        ),
    ],
    Why.HOLDS_FOR_OTHER_SIZES: [
        (
            Reason(Why.HOLDS_FOR_OTHER_SIZES, ("rams", "tube_size"), ("130", "20", "100", "mm"), "Ram practice"),
            "ram practice has no figure for a tube size of 130 mm, only for 20 to 100 mm; state the maker's",
        ),
        (
            Reason(Why.HOLDS_FOR_OTHER_SIZES, ("rams", "inlets"), ("3", "1", "2", ""), "Ram practice"),
            "ram practice has no figure for inlets: 3, only for 1 to 2; state the maker's",
        ),
    ],
    Why.LIMITS_CROSS: [
        (
            Reason(Why.LIMITS_CROSS),
            "the packs' limits cross at this size and leave none: the maker's limits, in the sheet",
        )
    ],
    Why.NO_LIMIT_LINE: [
        (Reason(Why.NO_LIMIT_LINE), "no limit line counts here"),
        (Reason(Why.NO_LIMIT_LINE, ("block_material",), ("cast_iron",)), "no limit for block material cast iron"),
        (
            Reason(Why.NO_LIMIT_LINE, ("block_material", "ring"), ("cast_iron", "top")),
            "no limit for block material cast iron and ring top",
        ),
    ],
    Why.LIMIT_WITHOUT_VALUE: [
        (
            Reason(Why.LIMIT_WITHOUT_VALUE, ("divides by zero",)),
            "limits that can be worked out: it divides by something that cannot be told from zero",
        ),
        (
            Reason(Why.LIMIT_WITHOUT_VALUE, ("no finite value", "tan")),
            "limits that can be worked out: tan has no finite value there",
        ),
    ],
    Why.PACK_NOTE: [(Reason(Why.PACK_NOTE, text="never under eight tenths"), "never under eight tenths")],
    Why.NO_ROW: [
        (
            Reason(Why.NO_ROW, ("shell_wall", "colour"), (), "green"),
            "the table shell wall has no figure for colour green",
        ),
        (Reason(Why.NO_ROW, ("fit", "nominal")), "the table fit has no figure for nominal"),
    ],
    Why.ROW_NOT_SURE: [
        (
            Reason(Why.ROW_NOT_SURE, ("shell_wall", "fit")),
            "what is looked up in the table shell wall and fit surely enough to tell its row",
        ),
    ],
    Why.MARGIN_TAKES_ALL: [
        (
            Reason(Why.MARGIN_TAKES_ALL, ("house",)),
            "the margin leaves nothing, house draws the limits in so far that they meet: the maker's limits, in the "
            "sheet, or a smaller margin",
        ),
    ],
    Why.DRAWN_IN: [
        (Reason(Why.DRAWN_IN, ("house",), text="0.0002 in"), "house draws the limits in by 0.0002 in"),
    ],
    Why.SIDE_DROPPED: [
        (Reason(Why.SIDE_DROPPED, ("most",)), "the sheet's own limits give no most, so there is none"),
    ],
    Why.AIM_OUTSIDE: [(Reason(Why.AIM_OUTSIDE), "the aim lies outside the limits and is left out")],
    Why.NO_LIMITS_WANTED: [(Reason(Why.NO_LIMITS_WANTED), "the sheet says that there are no limits")],
    Why.WITHOUT_VALUE: [
        (
            Reason(Why.WITHOUT_VALUE, ("root of a negative value",)),
            "cannot be worked out: it takes the root of a negative value",
        ),
        (
            Reason(Why.WITHOUT_VALUE, ("outside a function's domain", "fit_of"), text="no size under 1 mm"),
            "cannot be worked out: fit_of has no value there: no size under 1 mm",
        ),
    ],
    Why.WAYS_DISAGREE: [
        (
            Reason(Why.WAYS_DISAGREE, ("dial",), ("this",)),
            "disagrees with the way 'dial' by more than both together can be wrong: one of the two is wrong, and this "
            "way is the less to be trusted, for its U is the larger",
        )
    ],
    Why.PACKS_DISAGREE: [
        (
            Reason(Why.PACKS_DISAGREE, ("strict", "lenient"), ("out of spec", "in spec")),
            "two packs of which neither builds on the other disagree: by strict: out of spec; by lenient: in spec",
        )
    ],
    Why.GAUGE_BARRED: [(Reason(Why.GAUGE_BARRED, ("caliper",)), "a caliper must not decide this")],
    Why.SAME_IN_ALL_WORLDS: [
        (Reason(Why.SAME_IN_ALL_WORLDS, ("block", "boosted")), "the same whatever block and boosted may be"),
        (Reason(Why.SAME_IN_ALL_WORLDS, ("block",), ("no worse",)), "no worse whatever block may be"),
    ],
    Why.WEAR_INSIDE_NEW: [
        (Reason(Why.WEAR_INSIDE_NEW, ("most",)), "the wear most lies inside that of new work: one of them is wrong"),
    ],
    Why.WORN_ONLY: [
        (Reason(Why.WORN_ONLY), "inside the wear limit, which counts for reused parts alone"),
    ],
    Why.ASSUMED: [(Reason(Why.ASSUMED, ("work",), text="new_build"), "work: new_build")],
    Why.STALE_READING: [(Reason(Why.STALE_READING, ("hole", "hone")), "hole: hone")],
    Why.STALE_FACT: [(Reason(Why.STALE_FACT, ("bore", "hone")), "bore as stated: hone")],
    Why.DIVIDES_BY_ZERO: [
        (Reason(Why.DIVIDES_BY_ZERO), "it divides by something that cannot be told from zero"),
    ],
    Why.ROOT_OF_NEGATIVE: [(Reason(Why.ROOT_OF_NEGATIVE), "it takes the root of a negative value")],
    Why.ROOT_OF_ZERO: [(Reason(Why.ROOT_OF_ZERO), "it takes the root of zero, which has no slope")],
    Why.TOO_LARGE: [(Reason(Why.TOO_LARGE), "it is too large a number")],
    Why.OUTSIDE_DOMAIN: [
        (Reason(Why.OUTSIDE_DOMAIN, ("asin",)), "asin has no value there"),
        (
            Reason(Why.OUTSIDE_DOMAIN, ("fit_of",), text="no size under 1 mm"),
            "fit_of has no value there: no size under 1 mm",
        ),
    ],
    Why.NOT_FINITE: [(Reason(Why.NOT_FINITE, ("tan",)), "tan has no finite value there")],
}


@pytest.mark.parametrize("code", SAID)  # the other codes: test_reasons_of_sheets
def test_every_code_has_its_sentence(code: Why) -> None:
    for reason, text in SAID[code]:
        assert reason.code is code
        assert said(reason) == text


def test_what_work_has_overtaken() -> None:
    assert overtaken(Reason(Why.STALE_READING, ("main_bore", "line_hone"))) == "main bore"
    assert overtaken(Reason(Why.STALE_FACT, ("main_bore", "line_hone"))) == "main bore as stated"


PACK = """\
specrules: tolerance-pack/1
group: Fits
pack: {{name: named, version: "1", title: Named, unit: in, decision: simple}}
facts:
  {fact}: {{kind: choice, choices: [iron, aluminium]}}
measurands:
  {measurand}: {{title: Width, unit: in}}
  other: {{title: Other width, unit: in}}
rules:
  width:
    title: Width of the slot
    formula: {measurand}
    limits: [{line}]
    importance: major
    source: {{kind: house}}
    worked: [{{given: {{readings: {{other: 0.0015}}}}, expect: {{verdict: not measured}}}}]
  other:
    title: Other width
    formula: other
    limits: {{least: 0.0010 in}}
    importance: major
    source: {{kind: house}}
    worked: [{{given: {{readings: {{other: 0.0015}}}}, expect: {{verdict: in spec}}}}]
"""
LIMIT = "{name: base, least: 0.0010 in, most: 0.0020 in}"
FROM_THE_MAKER = "{name: base, from the maker: yes}"
SHEET = "specrules: build-sheet/1\nbuild: {title: A slot}\npacks: [named]\nunit: in\n"


def told(measurand: str, line: str = LIMIT, fact: str = "block", readings: str = "other: 0.0015") -> str:
    """The screen of a sheet on which the other width alone was read, with its line breaks taken out."""
    packs = {"named": PACK.format(measurand=measurand, fact=fact, line=line)}
    report = inspected(f"{SHEET}readings: {{{readings}}}\n", packs)
    return " ".join(text_of(whole_screen(report, whole)).split())


NAMES = (
    "sailmaker_gap",
    "state_of_wear",
    "the_makers_limits_in_the_sheet",
    "state_block",
    "no_limit_for_block",
    "limits_that_can_be_worked_out",
    "readings_enough_for_one_way",
    "stale_gap",
)
WORDS = ("state", "maker", "makers", "limits", "limit", "sheet", "facts", "no", "the", "for", "of", "stated", "wear")


def is_to_be_measured(text: str) -> None:
    assert text.endswith("Next: measure the width of the slot.")
    assert "NOT MEASURED YET Fits: width of the slot." in text
    for other in ("maker", "State in the sheet's facts", "in the facts", "lines to paste"):
        assert other not in text


@pytest.mark.parametrize("measurand", NAMES)
def test_what_was_not_read_is_to_be_measured_whatever_it_is_called(measurand: str) -> None:
    is_to_be_measured(told(measurand))


@pytest.mark.second_lane
@settings(max_examples=30, deadline=None)
@given(st.lists(st.sampled_from(WORDS), min_size=2, max_size=4).map("_".join))
def test_no_name_of_a_measurand_changes_what_is_said(measurand: str) -> None:
    is_to_be_measured(told(measurand))


@pytest.mark.parametrize("measurand", NAMES)
def test_the_makers_limits_are_wanted_whatever_a_measurand_is_called(measurand: str) -> None:
    text = told(measurand, FROM_THE_MAKER, readings=f"other: 0.0015, {measurand}: 0.0012")
    assert "The maker's limits, in the sheet: width of the slot." in text
    assert text.endswith("Next: put the maker's limits for the width of the slot in the sheet.")
    assert "State in the sheet's facts" not in text


@pytest.mark.parametrize("fact", [*NAMES, "maker", "limits_of_the_maker"])
def test_a_fact_is_to_be_stated_whatever_it_is_called(fact: str) -> None:
    hard = f"{{name: hard, when: {fact} == iron, least: 0.0010 in}}"
    soft = f"{{name: soft, when: {fact} == aluminium, least: 0.0020 in}}"
    text = told("width", f"{hard}, {soft}", fact, readings="other: 0.0015, width: 0.0015")
    assert f"State in the sheet's facts: {fact}." in text
    assert text.endswith(f"Next: state {fact} in the facts.")
    assert "maker's" not in text
