"""Slips that a pack tells of (how a gauge is misread, what a fact usually is, what a part was new), and near misses.

That calipers are misread by a tenth of an inch and thimbles by a turn is common practice, no source.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from specrules.inspection import Report
from specrules.output.reasons import said, slip_name
from specrules.sheet import Suspect
from tests.inspecting import finding, inspected, resolved, words

INCH = Decimal("25.4")
PACK = """\
specrules: tolerance-pack/1
group: Sizes
pack: {name: slips, version: "1", title: Slips, unit: in, wear when: work == refresh}
axes:
  place: {count: places}
  kind: {names: [upper, lower]}
facts:
  places: {kind: count}
  work: {kind: choice, choices: [new_build, refresh], assumed: new_build}
  card_shaft: {kind: quantity, unit: in, usual: 1..4, at: [place]}
  card_hole: {kind: quantity, unit: in}
  lift: {kind: quantity, unit: in, usual: 0.001..0.050}
  ratio: {kind: number, usual: 0.9..2.5}
gauge classes:
  caliper:
    {resolution: 0.0005 in, mpe: 0.001 in, slips: {caliper tenth: 0.100 in}, source: {kind: common practice}}
  micrometer:
    {resolution: 0.0001 in, mpe: 0.0001 in, slips: {thimble turn: [0.025 in, 0.500 mm]}, source: {kind: from memory}}
  plain gauge: {resolution: 0.0001 in, mpe: 0.0001 in, source: {kind: from memory}}
measurands:
  shaft: {at: [place], unit: in, wears below: card_shaft, gauge classes: [micrometer, caliper]}
  hole: {at: [place], unit: in, wears above: card_hole, gauge classes: [plain gauge, caliper]}
  gap: {at: [place, kind], unit: in, usual: 0..0.020}
parts:
  spindle: {at: [place], measurands: [shaft]}
rules:
  shaft_size:
    title: Shaft under its card
    each: place
    formula: card_shaft - shaft
    may be negative: yes
    unit: in
    limits: {most: 0.0020 in}
    importance: minor
    source: {kind: house}
    worked:
      - given: {facts: {card_shaft: 2.0}, readings: {shaft: {1: 1.9990}}}
        expect: {at: {place: 1}, value: 0.0010 in, verdict: in spec}
"""
GAUGES = "gauges: {bar: {class: caliper}, thimble: {class: micrometer}, set: {class: plain gauge}}\n"


def of(body: str, unit: str = "in") -> Report:
    return inspected(f"specrules: build-sheet/1\npacks: [slips]\nunit: {unit}\n{body}", {"slips": PACK})


def found(body: str, unit: str = "in") -> list[Suspect]:
    return list(of(body, unit).suspects)


def told(body: str, unit: str = "in") -> list[tuple[str, str]]:
    return [(suspect.text, slip_name(suspect.reason)) for suspect in found(body, unit)]


def test_a_tenth_of_an_inch_on_a_caliper() -> None:
    (suspect,) = found(f"{GAUGES}readings: {{shaft: {{gauge: bar, 1: 2.0005, 2: 2.1000, 3: 2.0000, 4: 1.9995}}}}\n")
    assert (slip_name(suspect.reason), suspect.would_be, suspect.station) == (
        "caliper tenth",
        Decimal("2.0000") * INCH,
        ("2",),
    )
    assert suspect.neighbours == ("2.0005", "2.0000", "1.9995")
    assert suspect.place.line == 5
    assert said(suspect.reason) == (
        "stands 0.1000 in above its neighbours, one caliper tenth; with that undone it would be 2.0000"
    )


@pytest.mark.parametrize(
    ("gauge", "odd", "kinds"),
    [
        ("bar", "2.1000", ["caliper tenth"]),
        ("bar", "2.1010", ["caliper tenth"]),  # a caliper repeats to half a thou
        ("bar", "1.9000", ["caliper tenth"]),
        ("bar", "2.0250", []),  # it has no thimble
        ("bar", "2.0950", []),
        ("bar", "2.2000", []),
        ("thimble", "2.1000", []),  # a micrometer has no tenths to miss
        ("thimble", "2.0250", ["thimble turn"]),
        ("thimble", "1.9750", ["thimble turn"]),
        ("thimble", "2.0240", []),
        ("thimble", "2.0500", []),
        ("set", "2.0250", ["thimble turn"]),  # of this nothing is said: thimbles are everywhere
        ("set", "2.1000", []),
    ],
)
def test_each_kind_of_gauge_has_its_own_slips(gauge: str, odd: str, kinds: list[str]) -> None:
    body = f"{GAUGES}readings: {{shaft: {{gauge: {gauge}, 1: 2.0000, 2: {odd}, 3: 2.0000, 4: 2.0005}}}}\n"
    assert told(body) == [(odd, kind) for kind in kinds]


def test_the_first_kind_of_gauge_counts_where_none_is_named() -> None:
    assert told("readings: {shaft: {1: 2.0000, 2: 2.0250, 3: 2.0001}}\n") == [("2.0250", "thimble turn")]
    assert told("readings: {shaft: {1: 2.0000, 2: 2.1000, 3: 2.0001}}\n") == []


def test_a_turn_is_an_inch_turn_or_a_metric_one() -> None:
    assert told("readings: {shaft: {1: 50.800, 2: 51.300, 3: 50.801}}\n", "mm") == [("51.300", "thimble turn")]
    assert told("readings: {shaft: {1: 50.800, 2: 51.435, 3: 50.801}}\n", "mm") == []


def test_a_part_of_another_size_was_not_misread() -> None:
    hole = "hole: {{1: 2.0030, 2: {}, 3: 2.0030}}"
    body = "readings: {{shaft: {{1: 2.0000, 2: 2.0250, 3: 2.0001}}, {}}}\n"
    assert told(body.format(hole.format("2.0281"))) == []  # what it runs in was made to suit
    assert told(body.format(hole.format("2.0031"))) == [("2.0250", "thimble turn")]


REFRESH = "facts: {work: refresh, card_shaft: 2.0000, card_hole: 3.0000}\n"


def test_a_worn_part_larger_than_it_was_new() -> None:
    inspection = of(f"{REFRESH}readings: {{shaft: {{1: 1.9985, 2: 2.0060}}, hole: {{1: 2.9900, 2: 3.0020}}}}\n")
    shaft, hole = inspection.suspects
    assert (shaft.text, slip_name(shaft.reason), shaft.would_be, shaft.neighbours) == (
        "2.0060",
        "larger than new",
        None,
        ("2.0000",),
    )
    assert said(shaft.reason) == "is larger than it was new, 2.0000 by card_shaft, and wear does not make it so"
    assert (hole.text, slip_name(hole.reason), hole.place.line) == ("2.9900", "smaller than new", 5)
    doubted = finding(inspection, "shaft_size", place="2")
    assert (str(doubted.verdict), str(doubted.would_be)) == ("not proven", "in spec")
    assert doubted.rests_on.suspect == (shaft,)


@pytest.mark.parametrize(
    ("work", "spindle", "grown"),
    [
        ("new_build", "{1: reused, 2: new}", ["2.0060"]),
        ("new_build", "reused", ["2.0060", "2.0070"]),
        ("new_build", "{1: new}", []),
        ("refresh", "{1: machined}", ["2.0070"]),
        ("refresh", "{1: new, 2: new}", []),
    ],
)
def test_only_a_reused_part_is_looked_at_for_having_grown(work: str, spindle: str, grown: list[str]) -> None:
    facts = f"facts: {{work: {work}, card_shaft: 2.0000}}\nparts: {{spindle: {spindle}}}\n"
    assert [text for text, _ in told(f"{facts}readings: {{shaft: {{1: 2.0060, 2: 2.0070}}}}\n")] == grown


@pytest.mark.parametrize(
    "body",
    [
        f"{REFRESH}readings: {{shaft: {{1: 2.0010, 2: 2.0000}}}}\n",  # the band of a new part
        f"{REFRESH}readings: {{shaft: {{1: 1.9900}}, hole: {{1: 3.0300}}}}\n",  # worn, ground, bored
        "facts: {card_shaft: 2.0000}\nreadings: {shaft: {1: 2.0060}}\n",  # new work: the card may be of another part
        "facts: {work: refresh}\nreadings: {shaft: {1: 2.0060}}\n",  # nobody says what it was
        "facts: {work: refresh, card_shaft: {1: 2.0060, 2: 2.0000}}\nreadings: {shaft: {1: 2.0060, 2: 2.0000}}\n",
    ],
)
def test_a_part_that_did_not_grow(body: str) -> None:
    assert told(body) == []


def test_stated_figures_that_are_none() -> None:
    body = "facts: {lift: 0.0505, ratio: 16, card_shaft: {1: 2.0000, 2: 20.00}}\nreadings: {shaft: {1: 2.0, 2: 2.0}}\n"
    lift, ratio, card = found(body)
    assert (lift.name, slip_name(lift.reason), lift.would_be, lift.place.line) == (
        "lift",
        "outside the usual sizes",
        None,
        4,
    )
    assert (
        said(lift.reason) == "is outside the usual sizes, 0.001..0.05 in"
    )  # a little beyond: nothing says what it was
    assert (slip_name(ratio.reason), ratio.would_be) == ("decimal slip", Decimal("1.6"))
    assert said(ratio.reason) == "is 10 times too large for the usual figures; with that undone it would be 1.6"
    assert (card.station, slip_name(card.reason), card.would_be) == (("2",), "decimal slip", Decimal("2.000") * INCH)


def test_a_figure_that_is_stated_once_for_many_stations_is_one_suspect() -> None:
    readings = "readings: {shaft: {1: 2.0, 2: 2.0, 3: 2.0}}\n"
    (once,) = found(f"facts: {{card_shaft: {{1: 2.0000, others: 20.00}}}}\n{readings}")
    assert (once.text, once.station) == ("20.00", ("2",))
    twice = found(f"facts: {{card_shaft: {{1: 2.0000, 2: 20.00, 3: 20.00}}}}\n{readings}")
    assert [each.station for each in twice] == [("2",), ("3",)]


def test_by_which_factors_a_stated_figure_is_explained_hangs_on_its_kind() -> None:
    """A ratio is never millimetres among inches; a length may be, and thousandths only where nothing likelier fits."""
    (ratio,) = found("facts: {ratio: 40}\nreadings: {shaft: {1: 2.0}}\n")
    assert (slip_name(ratio.reason), ratio.would_be) == ("outside the usual sizes", None)
    assert said(ratio.reason) == "is outside the usual sizes, 0.9..2.5"
    (length,) = found("facts: {card_shaft: 63.5}\nreadings: {shaft: {1: 2.5}}\n")
    assert (slip_name(length.reason), length.would_be) == ("unit slip", Decimal("63.5"))
    assert "as millimetres among inches are" in said(length.reason)
    (thou,) = found("facts: {card_shaft: 2500}\nreadings: {shaft: {1: 2.5}}\n")
    assert (slip_name(thou.reason), thou.would_be) == ("unit slip", Decimal("2.5") * INCH)


def test_a_figure_in_the_other_system_is_asked_about_however_near_it_is() -> None:
    """4.1 in for a card of 4 in at most: no slip of the point. In a metric sheet the unit itself is odd: 4.1 mm."""
    (here,) = found("facts: {card_shaft: 4.1}\nreadings: {shaft: {1: 2.5}}\n")
    assert said(here.reason) == "is outside the usual sizes, 1..4 in"
    (foreign,) = found("facts: {lift: 0.051 in}\nreadings: {shaft: {1: 63.5}}\n", "mm")
    assert (slip_name(foreign.reason), foreign.would_be) == ("unit slip", Decimal("0.051"))
    (point,) = found("facts: {card_shaft: 25.0 in}\nreadings: {shaft: {1: 63.5}}\n", "mm")
    assert said(point.reason) == "is 10 times too large for the usual figures; with that undone it would be 63.5 mm"
    (none,) = found("facts: {lift: 0 mm}\nreadings: {shaft: {1: 2.5}}\n")
    assert said(none.reason) == "is outside the usual sizes, 0.001..0.05 in"


def test_a_sheet_without_a_unit_has_no_other_system() -> None:
    sheet = "specrules: build-sheet/1\npacks: [slips]\nfacts: {lift: 0.4 in}\nreadings: {shaft: {1: 2.0 in}}\n"
    (suspect,) = inspected(sheet, {"slips": PACK}).suspects
    assert said(suspect.reason) == (
        "is outside the usual sizes, 0.001..0.05 in; with a slip undone it would be 0.04 in or 0.016 in"
    )


def test_a_stated_figure_in_the_wrong_system_of_units() -> None:
    (thou,) = found("facts: {lift: 1 in}\nreadings: {shaft: {1: 50.8}}\n", "mm")
    assert (slip_name(thou.reason), thou.would_be) == ("unit slip", Decimal(1))
    assert said(thou.reason) == (
        "is 25.4 times too large for the usual figures, as one in the wrong system of units is;"
        " with that undone it would be 1 mm"
    )


@pytest.mark.parametrize("lift", ["0.050", "0.001", "1 mm", "50 thou"])
def test_stated_figures_that_are_usual(lift: str) -> None:
    assert told(f"facts: {{lift: {lift}}}\nreadings: {{shaft: {{1: 2.0}}}}\n") == []


def test_a_suspect_fact_makes_unproven_what_stands_on_it_and_nothing_else() -> None:
    inspection = of("facts: {card_shaft: {1: 2.0000, 2: 20.00}}\nreadings: {shaft: {1: 1.9999, 2: 1.9999}}\n")
    assert str(finding(inspection, "shaft_size", place="1").verdict) == "in spec"
    doubted = finding(inspection, "shaft_size", place="2")
    assert (str(doubted.verdict), str(doubted.would_be)) == ("not proven", "out of spec")
    assert [suspect.name for suspect in doubted.rests_on.suspect] == ["card_shaft"]


@pytest.mark.parametrize(
    ("hole", "borne_out"),
    [("0.5015", {"card_shaft": "shaft", "shaft": "card_shaft", "hole": "card_shaft"}), ("0.6000", {"hole": ""})],
)
def test_what_runs_with_a_part_of_a_stated_size_is_borne_out_by_it(hole: str, borne_out: dict[str, str]) -> None:
    pack = PACK.replace("wears below", "usual: 1..4, wears below").replace("wears above", "usual: 1..4, wears above")
    body = f"facts: {{places: 1, card_shaft: {{1: 0.5}}}}\nreadings: {{shaft: {{1: 0.4998}}, hole: {{1: {hole}}}}}\n"
    report = inspected(f"specrules: build-sheet/1\npacks: [slips]\nunit: in\n{body}", {"slips": pack})
    assert {each.name: each.as_stated for each in report.suspects}.items() >= borne_out.items()


def test_a_little_outside_the_usual_sizes_the_neighbours_must_agree_that_it_is_a_slip() -> None:
    row = "readings: {{gap: {{1: {{upper: {}}}, 2: {{upper: 0.0020}}, 3: {{upper: 0.0019}}}}}}\n"
    (near,) = found(row.format("0.021"))
    assert (slip_name(near.reason), near.would_be) == ("decimal slip", Decimal("0.0021") * INCH)
    (alone,) = found("readings: {gap: {1: {upper: 0.021}}}\n")
    assert (slip_name(alone.reason), alone.would_be) == ("outside the usual sizes", None)


def test_the_same_figure_at_every_station_is_a_remark_and_no_suspect() -> None:
    inspection = of(
        "readings:\n"
        "  shaft: {1: 2.0000, 2: 2.0000, 3: 2.0000, 4: 2.0000}\n"
        "  gap:\n" + "".join(f"    {n}: {{upper: 0.0020, lower: 0.002{n}}}\n" for n in range(1, 5))
    )
    assert inspection.suspects == ()
    assert words(inspection.remarks) == (
        "The same to the last place at every station, or one reading copied: shaft 2.0000; gap upper 0.0020.",
    )


@pytest.mark.parametrize(
    "readings",
    [
        "{1: 2.0000, 2: 2.0000, 3: 2.0000}",  # three alike are no wonder
        "{1: 2.0000, 2: 2.0000, 3: 2.0000, 4: 2.0001}",
        "{1: 2.0000, others: 2.0000}",  # said to be one statement
        "{1: 2.000..2.001, 2: 2.000..2.001, 3: 2.000..2.001, 4: 2.000..2.001}",  # between the same two blades
        "{1: 0.0000, 2: 0.0000, 3: 0.0000, 4: 0.0000}",  # nothing at all
    ],
)
def test_what_needs_no_remark(readings: str) -> None:
    assert of(f"facts: {{places: 4}}\nreadings: {{shaft: {readings}}}\n").remarks == ()


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("0.100 in}", "a tenth}", '"a tenth"'),
        ("0.100 in}", "0.1}", "caliper slips caliper tenth"),
        ("0.100 in}", "0 in}", "is no length to be off by"),
        ("wears below: card_shaft", "wears below: ratio", '"ratio" is no fact that states length'),
        ("wears below: card_shaft", "wears below: card_shafts", "card_shaft"),
        ("wears below: card_shaft", "wears below: card_hole, wears above: card_hole", "wears below one size and above"),
        ("wears above: card_hole", "wears above: card_shaft", None),
        ("gap: {at: [place, kind]", "whole: {unit: in, wears below: card_shaft}\n  gap: {at: [place, kind]", "each of"),
        ("at: [place]}\n  card_hole", "at: [place]}\n  word: {kind: text, usual: 1..2}\n  card_hole", "is no number"),
        ("usual: 0.9..2.5", "usual: 0.9", "is no range with two ends"),
    ],
)
def test_what_a_pack_says_of_slips_is_checked(old: str, new: str, said: str | None) -> None:
    assert PACK.count(old) == 1
    made, faults = resolved((("slips", PACK.replace(old, new)),), ("slips",))
    assert (made is None) == bool(said)
    assert len(faults) == bool(said)
    assert said is None or said in faults[0]
