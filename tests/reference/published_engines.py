"""Published limits of 64 engines of many kinds as sheets: what the packs say of values that makers call good.

`data/published_engines.csv` holds a line a value, as printed, under the engine's kind and the manual it was read in: a
document number, or "a public workshop manual" where its maker may not be named here. Kinds and displacements are partly
from memory, values never. Sizes that a manual did not print stand in `UNPRINTED` and are from memory as well; they
choose which limits are spoken of and are no published figure.
"""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from pathlib import Path

from specrules.inspection import Examination, Finding, Options
from specrules.pack import Specification
from specrules.pack.in_units import told_in
from specrules.quantity import Unit
from tests.inspecting import settled
from tests.shipped import resolved

DATA = Path(__file__).with_name("data") / "published_engines.csv"
INCH = Decimal("25.4")


@dataclass(frozen=True)
class Published:
    """One value of one engine. `least` and `most`: new work, `wear`: the service limit; in mm or the printed unit."""

    engine: str
    title: str
    kind: Mapping[str, str]
    bore: Decimal | None
    source: str
    check: str
    label: str
    least: Decimal | None
    most: Decimal | None
    wear: Decimal | None
    wear_is: str
    unit: str
    printed: str
    remark: str

    @property
    def name(self) -> str:
        """As the tables of this folder name it."""
        return f"{self.engine} {self.check}" + (f" [{self.label}]" if self.label else "")

    @property
    def middle(self) -> Decimal | None:
        """The middle of the new band, of which 0 is the lower end where only a most is printed."""
        if self.most is None:
            return None
        return ((self.least or Decimal(0)) + self.most) / 2


def _number(text: str) -> Decimal | None:
    """A printed figure; fractions of an inch as they stand; None where it is empty or no single figure."""
    over, line, under = text.partition("/")
    try:
        return Decimal(over) / Decimal(under) if line else Decimal(text)
    except ArithmeticError:
        return None


@cache
def published() -> tuple[Published, ...]:
    """All 610 values in the order of the file, lengths in mm."""
    with DATA.open(encoding="utf-8", newline="") as lines:
        return tuple(map(_read, csv.DictReader(lines)))


def _read(row: Mapping[str, str]) -> Published:
    factor = INCH if row["unit"] == "in" else Decimal(1)
    least, most, wear = (
        None if (n := _number(row[name])) is None else n * factor for name in ("least", "most", "wear")
    )
    if least is not None and most is not None and least > most:
        least, most = most, least  # some manuals print every range most first
    kind = {name: row[name] for name in ("ignition", "cooling", "strokes", "valves", "bearings", "liner")}
    unit = "mm" if row["unit"] == "in" else row["unit"]
    return Published(
        row["engine"], row["title"], kind, _number(row["bore_mm"]), row["source"], row["check"], row["label"],
        least, most, wear, row["wear_is"], unit, row["as_printed"], row["remark"],
    )  # fmt: skip


UNPRINTED: Mapping[str, Mapping[str, str]] = {
    engine: dict(zip(("bore", "main", "rod"), sizes.split(), strict=False))
    for engine, sizes in {
        "v8_alloy_pushrod": "99 65 53.3",
        "v8_big_block": "108 70 56",
        "v6_pushrod": "101.6 62 57",
        "v8_sohc_46": "90.2 67 53",
        "v8_sohc_38": "84 64 48",
        "four_dohc_24": "88.5 55 48",
        "four_19_petrol": "82 57 47",
        "flat_four_25": "99.5 60 52",
        "v6_38_pushrod": "96.5 64 58.7",
        "turbo_four_15": "75 46 40",
        "turbo_six_30": "83 60 50",
        "four_ohv_forklift": "87.2 63 50",
        "aircooled_flat_four_car": "85.5 55 55",
        "aircraft_flat_six": "133 60 57",
        "outboard_20hp": "61 35 29",
        "sidevalve_single": "76 38 30",
        "sidevalve_twin": "82 41 41",
        "four_sohc_18": "75 50 45",
        "diesel_marine_three": "70 46 42",
        "diesel_four_95_liner": "95 75 60",
        "diesel_four_small_ind": "78 54 45",
        "diesel_four_19": "79.5 54 48",
        "v8_diesel_indirect": "101 75 61",
        "v8_diesel_73": "104.4 79.3 63.4",
        "diesel_prechamber": "120 76 64",
        "diesel_crane_liner": "104.7 80 67",
        "diesel_wet_large": "130 100 85",
        "twostroke_diesel_108": "108 89 70",
        "twostroke_diesel_98": "98 80 64",
        "ship_slow_speed": "900 800 700",
        "diesel_tractor_three": "75 52 48",
        "scooter_125_200": "57",
        "trail_single_125": "56",
        "enduro_single_125_240": "60",
        "atv_90": "47",
        "mx_single_250": "77",
        "outboard_2hp": "46",
        "twostroke_kart_125": "54",
    }.items()
}
"""Bore, main journal and crankpin in mm of engines whose manual did not print them: from memory, the nearest size."""
STEMS: Mapping[str, str] = {
    "v8_sohc_54": "6.97", "four_dohc_outboard": "5.5", "turbo_four_15": "5.5", "four_sohc_18": "5.5",
    "four_ohv_forklift": "8", "scooter_110": "5", "mx_single_250": "4.5", "gp_single_ohv": "5.5",
    "v8_diesel_indirect": "9.4", "diesel_parent_bore_95": "9.5", "diesel_prechamber": "9.5",
    "twostroke_diesel_108": "7.9", "sidevalve_single": "8", "trials_single": "4.5",
}  # fmt: skip
"""Valve stems in mm: the first as printed, the others from memory, as in `UNPRINTED`."""
PINS: Mapping[str, str] = {
    "v10_sohc_68": "22.0", "aircraft_turbo_four": "20.0", "trials_single": "17", "scooter_110": "13",
    "gp_single_ohv": "18", "outboard_4hp": "16", "four_dohc_outboard": "21", "aircraft_flat_six": "28.6",
    "diesel_wet_large": "45", "diesel_four_95_liner": "35", "aircooled_flat_four_car": "22",
}  # fmt: skip
"""Piston pins in mm: the first two as printed, the others from memory."""
COATED = ("v10_sohc_68",)
"""Whose negative clearance is that of a coated skirt."""

SIZES = {"main": "main_journal_size", "rod": "rod_journal_size", "cam": "cam_journal_size"}


def printed_size(one: Published, name: str) -> str:
    """Its bore, main journal, crankpin or cam journal in mm as its manual prints it; empty where it does not."""
    if name == "bore" and one.bore is not None:
        return f"{one.bore}"
    for other in published():
        mine = other.engine == one.engine and other.check == SIZES.get(name) and "undersize" not in other.label
        if mine and other.middle is not None and other.middle * 2 < (other.least or other.middle) * 3:
            return f"{other.middle:.3f}"
    return ""


def size_of(one: Published, name: str) -> str:
    """Its bore, main journal or crankpin in mm, as printed, else from `UNPRINTED`; empty where neither is known."""
    if printed := printed_size(one, name):
        return printed
    if name == "cam":
        return "27" if "ohc" in one.kind["valves"] else "48"  # from memory: cams in heads have smaller journals
    return UNPRINTED.get(one.engine, {}).get(name, "")


def facts_of(one: Published) -> dict[str, str]:
    """The kind of its engine as a sheet states it; what the manual leaves open is not stated."""
    kind = one.kind
    facts = {"cylinders": "2", "mains": "2", "throws": "[[1], [2]]", "cam_bearings": "1", "banks": "{all: [1, 2]}"}
    facts["ignition"] = kind["ignition"].split(",")[0]
    facts["cycle"] = {"2": "two_stroke", "4": "four_stroke"}[kind["strokes"]]
    cooling = {"water": "liquid", "air": "air", "air and water": "air"}.get(kind["cooling"])
    if cooling:
        facts["cooling"] = cooling
    facts["induction"] = "boosted" if "turbo" in one.title or "blown" in one.title else "natural"
    alloy = "aluminium" in one.title or "alloy" in kind["bearings"] or kind["liner"] in ("dry sleeve", "plated")
    facts["block_material"] = "aluminium" if alloy and facts["ignition"] == "spark" else "iron"
    facts["rod_material"] = "aluminium" if "aluminium rod" in kind["bearings"] else "steel"
    if kind["bearings"] == "rolling":
        facts["crank_bearings"] = "rolling"
    facts |= {"piston_alloy": "cast", "pin_fit": "floating", "cam_kind": "flat_tappet", "lifter_kind": "solid"}
    facts |= {"gasket_kind": "composition", "application": "street"}  # none is printed, and of these none forgives
    facts |= {"pump_kind": "rotor"}  # for the one pump here a tip clearance is printed beside, which rotors have
    if one.engine in COATED:
        facts["skirt_coated"] = "yes"
    sizes = {f"card_{name}_journal": size_of(one, name) for name in ("main", "rod")} | {
        "card_bore": size_of(one, "bore")
    }
    sizes |= {"card_valve_stem": STEMS.get(one.engine, ""), "card_pin": PINS.get(one.engine, "")}
    facts |= {fact: f"{size} mm" for fact, size in sizes.items() if size}
    return facts


Readings = Mapping[str, str]


def _sized(one: Published, value: Decimal, readings: str) -> Readings:
    """With the bore beside it, where it is known."""
    bore = size_of(one, "bore")
    name, _, figures = readings.partition(": ")
    return {name: figures.format(v=_read_as(value))} | ({"cylinder_bore": f"{{1: {_read_as(bore)}}}"} if bore else {})


def _read_as(size: Decimal | str) -> str:
    """A figure that is meant: no size is taken for a slip of another engine's."""
    return f"{{value: {Decimal(size):.6f} mm ±0.000001 mm, confirmed: the reader}}"


def _two(about: str, shape: str) -> Callable[[Published, Decimal], Readings]:
    """A part read twice at sizes that differ by the value: `a` a nominal size, `b` that and the value."""

    def made(one: Published, value: Decimal) -> Readings:
        nominal = Decimal(size_of(one, about) or {"bore": "85", "main": "60", "rod": "50"}.get(about, "22"))
        texts = shape.split("; ")
        return {
            name: figures.format(a=_read_as(nominal), b=_read_as(nominal + value))
            for name, _, figures in (text.partition(": ") for text in texts)
        }

    return made


def _plain(shape: str) -> Callable[[Published, Decimal], Readings]:
    """What is read as it stands."""
    return lambda one, value: _sized(one, value, shape)


def _by(axis: str, name: str) -> Callable[[Published, Decimal], Readings]:
    """What is read by ring or by valve."""
    return lambda one, value: _sized(
        one, value, f"{name}: {{{{1: {{{{{', '.join(f'{label}: {{v}}' for label in labels_of(one, axis))}}}}}}}}}"
    )


LABELS = {"ring": ("top", "second", "oil"), "valve": ("intake", "exhaust")}


def labels_of(one: Published, axis: str) -> tuple[str, ...]:
    """The rings or valves that a value is printed for; all compression rings or both valves where it names none."""
    named = tuple(label for label in LABELS[axis] if label in one.label)
    return named or (LABELS[axis] if axis == "valve" else ("top", "second"))


_JOURNAL = "[{a}, {a}, {b}, {b}]"
_OVAL = "[{a}, {b}, {a}, {b}]"
RULES: Mapping[str, tuple[str, Callable[[Published, Decimal], Readings]]] = {
    "main_oil_clearance": ("main_oil_clearance", _plain("main_clearance_direct: {{1: {v}}}")),
    "rod_oil_clearance": ("rod_oil_clearance", _plain("rod_clearance_direct: {{1: {v}}}")),
    "main_clearance_spread": ("main_clearance_spread", _two("", "main_clearance_direct: {{1: {a}, 2: {b}}}")),
    "main_journal_taper": ("main_journal_taper", _two("main", f"main_journal: {{{{1: {_JOURNAL}}}}}")),
    "main_journal_roundness": ("main_journal_roundness", _two("main", f"main_journal: {{{{1: {_OVAL}}}}}")),
    "rod_journal_taper": ("rod_journal_taper", _two("rod", f"rod_journal: {{{{1: {_JOURNAL}}}}}")),
    "rod_journal_roundness": ("rod_journal_roundness", _two("rod", f"rod_journal: {{{{1: {_OVAL}}}}}")),
    "main_housing_roundness": ("main_housing_roundness", _two("main", "main_housing: {{1: [{b}, {a}, {b}]}}")),
    "rod_housing_roundness": ("rod_housing_roundness", _two("rod", "rod_housing: {{1: [{b}, {a}, {b}]}}")),
    "crank_runout": ("crank_runout", _plain("crank_runout: {{1: {v}}}")),
    "crank_end_float": ("crank_end_float", _plain("crank_end_float: {v}")),
    "rod_side_clearance": ("rod_side_clearance", _plain("rod_side_gap: {{1: {v}}}")),
    "pin_clearance_piston": ("pin_clearance_piston", _plain("pin_clearance_piston_direct: {{1: {v}}}")),
    "pin_clearance_rod": ("pin_clearance_rod", _plain("pin_clearance_rod_direct: {{1: {v}}}")),
    "piston_clearance": ("piston_clearance", _two("bore", "cylinder_bore: {{1: {b}}}; piston_skirt: {{1: {a}}}")),
    "bore_taper": ("bore_taper", _two("bore", "cylinder_bore: {{1: [{b}, {b}, {b}, {b}, {a}, {a}]}}")),
    "bore_roundness": ("bore_roundness", _two("bore", "cylinder_bore: {{1: [{b}, {a}, {b}, {a}, {b}, {a}]}}")),
    "bore_match": ("bore_match", _two("bore", "cylinder_bore: {{1: {a}, 2: {b}}}")),
    "ring_end_gap": ("ring_end_gap", _by("ring", "ring_end_gap")),
    "ring_side_clearance": ("ring_side_clearance", _by("ring", "ring_side_gap")),
    "piston_protrusion": ("piston_below_deck", lambda one, value: _sized(one, -value, "piston_below_deck: {{1: {v}}}")),
    "deck_flatness": ("deck_flatness", _plain("deck_gap: {{all: {v}}}")),
    "head_flatness": ("head_flatness", _plain("head_gap: {{all: {v}}}")),
    "cam_bearing_clearance": (
        "cam_bearing_clearance",
        _two("cam", "cam_bearing_bore: {{1: {b}}}; cam_journal: {{1: {a}}}"),
    ),
    "cam_end_float": ("cam_end_float", _plain("cam_end_float: {v}")),
    "cam_runout": ("cam_runout", _plain("cam_runout: {{1: {v}}}")),
    "lifter_clearance": (
        "lifter_clearance",
        _two(
            "",
            "lifter_bore: {{1: {{intake: {b}, exhaust: {b}}}}}; lifter: {{1: {{intake: {a}, exhaust: {a}}}}}",
        ),
    ),
    "valve_stem_clearance": ("valve_stem_clearance", _by("valve", "guide_clearance_direct")),
    "seat_width": ("seat_width", _by("valve", "seat_width")),
    "seat_runout": ("seat_runout", _by("valve", "seat_runout")),
    "pump_side_clearance": ("pump_side_clearance", _plain("pump_side_gap: {v}")),
}
"""Printed check -> the rule that stands for it, and the readings by which that rule sees a value."""

BY_CARD = ("valve_lash", "spring_seat_load", "spring_open_load", "spring_load")
"""Judged against what the sheet's card states, which is the maker's figure: without one there is nothing to judge."""


def standing() -> Iterator[Published]:
    """The values whose check is a rule that stands, in a unit that is a size and not a share of one."""
    return (one for one in published() if one.check in RULES and one.unit == "mm")


def sheet_of(one: Published, value: Decimal, limits: str = "", more: Mapping[str, str] | None = None) -> str:
    """A sheet of that engine with this one value read, on the general pack alone."""
    rule, readings = RULES[one.check]
    facts = facts_of(one) | dict(more or {})
    return "".join(
        (
            "specrules: build-sheet/1\npacks: [general]\nunit: mm\nfacts:\n",
            *(f"  {name}: {text}\n" for name, text in facts.items()),
            "readings:\n",
            *(f"  {name}: {text}\n" for name, text in readings(one, value).items()),
            f'limits: {{{rule}: [{{{limits}, source: "{one.source}"}}]}}\n' if limits else "",
            "signed:\n",
            *(f"  {name}: {{by: the reader}}\n" for name in SIGNED),
        )
    )


SIGNED = (
    "caps_torqued_dry_shells", "fasteners_lubricated_as_specified", "rods_on_their_numbers", "piston_faces_front",
    "ring_grooves_not_mixed", "rings_squared", "cam_turns_freely",
)  # fmt: skip


@cache
def _alone(rule: str, unit: Unit | None) -> Specification:
    """The general pack's specification with this one rule: the others have nothing read, and take most of the time."""
    spec = resolved("general")
    return told_in(spec._replace(rules={rule: spec.rules[rule]}), unit)


def judged(
    one: Published, value: Decimal, limits: str = "", more: Mapping[str, str] | None = None
) -> Sequence[Finding]:
    """What the general pack says of that value: its findings, at the stations that were read."""
    rule = RULES[one.check][0]
    sheet, _, faults = settled(sheet_of(one, value, limits, more), {})
    assert sheet is not None, faults
    report = Examination(sheet, _alone(rule, sheet.unit), Options(decision="simple")).report
    labels = {axis: labels_of(one, axis) for axis in LABELS}
    found = [
        each
        for each in report.findings
        if all(each.station.get(axis, some[0]) in some for axis, some in labels.items())
        and {each.station.get(axis, "1") for axis in ("cylinder", "main", "throw")} == {"1"}
    ]
    assert found, one.name
    return found
