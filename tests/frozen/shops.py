"""What the random sheets are made of: sizes, gauges, facts and limits as shops write them.

Sizes are those of the invented engine in tests/packs; nothing here is published.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple


class Size(NamedTuple):
    """A measurand as a shop meets it. Lengths in the pack's unit: inches for those that ship, mm for bench.

    part: those with one word grow and shrink together; size; apart: of builds, stations and positions; step: the last
    place written; how: "", "blades" (brackets), "repeats" (three readings), "any" (now and then either).
    """

    name: str
    part: str
    size: float
    apart: float
    step: str
    how: str = ""
    unit: str = "length"


SHIPPED = (
    Size("main_journal", "main", 2.7490, 0.0003, "0.0001"),
    Size("main_bearing_bore", "main", 2.7517, 0.0004, "0.0001"),
    Size("main_clearance_direct", "", 0.0026, 0.0006, "0.0001"),
    Size("main_strip", "", 0.0025, 0.0006, "0.0005"),
    Size("main_housing", "main", 2.9420, 0.0003, "0.0001"),
    Size("main_housing_step", "", 0.0005, 0.0004, "0.0005", "any"),
    Size("main_shell_wall", "", 0.0950, 0.0002, "0.0001"),
    Size("main_crush_gap", "", 0.0022, 0.0008, "0.0005", "blades"),
    Size("rod_journal", "rod", 2.3120, 0.0003, "0.0001"),
    Size("rod_bearing_bore", "rod", 2.3144, 0.0004, "0.0001"),
    Size("rod_housing", "rod", 2.4370, 0.0003, "0.0001"),
    Size("rod_clearance_direct", "", 0.0024, 0.0006, "0.0001"),
    Size("rod_strip", "", 0.0024, 0.0006, "0.0005"),
    Size("crank_runout", "", 0.0008, 0.0006, "0.0005"),
    Size("crank_end_float", "", 0.0060, 0.0020, "0.0005", "repeats"),
    Size("rod_side_gap", "", 0.0160, 0.0040, "0.001", "blades"),
    Size("counterweight_to_block", "", 0.090, 0.030, "0.005"),
    Size("rod_to_cam", "", 0.065, 0.015, "0.005", "any"),
    Size("rod_centre_length", "", 6.2500, 0.0008, "0.0005"),
    Size("rod_big_end_weight", "", 512.3, 0.6, "0.1", "", "g"),
    Size("rod_small_end_weight", "", 214.2, 0.5, "0.1", "", "g"),
    Size("rod_weight", "", 726.5, 0.8, "0.1", "", "g"),
    Size("pin_diameter", "pin", 0.98000, 0.00004, "0.00005"),
    Size("pin_bore_piston", "pin", 0.98063, 0.0001, "0.00005"),
    Size("pin_bore_rod", "pin", 0.97985, 0.0009, "0.00005"),
    Size("cylinder_bore", "bore", 4.0311, 0.0004, "0.0001"),
    Size("piston_skirt", "bore", 4.0290, 0.0003, "0.0001"),
    Size("piston_weight", "", 612.5, 0.8, "0.1", "", "g"),
    Size("ring_end_gap", "", 0.0210, 0.0030, "0.001", "blades"),
    Size("ring_side_gap", "", 0.0022, 0.0006, "0.0001", "any"),
    Size("ring_radial_width", "", 0.1720, 0.0005, "0.0005"),
    Size("groove_depth", "", 0.1785, 0.0008, "0.0005"),
    Size("piston_below_deck", "", 0.0040, 0.0040, "0.0005"),
    Size("deck_height", "", 9.2405, 0.0010, "0.0005"),
    Size("deck_gap", "", 0.0018, 0.0010, "0.0005", "blades"),
    Size("head_gap", "", 0.0018, 0.0010, "0.0005", "blades"),
    Size("chamber_volume", "", 70.0, 0.3, "0.1", "repeats", "cc"),
    Size("cam_journal", "cam", 1.8680, 0.0003, "0.0001"),
    Size("cam_bearing_bore", "cam", 1.8707, 0.0004, "0.0001"),
    Size("cam_end_float", "", 0.0060, 0.0020, "0.0005", "repeats"),
    Size("cam_runout", "", 0.0008, 0.0005, "0.0005"),
    Size("tdc_stop_before", "", 22.0, 0.3, "0.5", "repeats", "deg"),
    Size("tdc_stop_after", "", 22.0, 0.3, "0.5", "repeats", "deg"),
    Size("intake_opens", "", 6.0, 0.8, "0.5", "repeats", "deg"),
    Size("intake_closes", "", 42.0, 0.8, "0.5", "repeats", "deg"),
    Size("exhaust_opens", "", 52.0, 0.8, "0.5", "", "deg"),
    Size("exhaust_closes", "", 0.5, 0.8, "0.5", "", "deg"),
    Size("lifter", "lifter", 0.8420, 0.0002, "0.0001"),
    Size("lifter_bore", "lifter", 0.8435, 0.0003, "0.0001"),
    Size("lobe_lift", "", 0.2990, 0.0030, "0.0005"),
    Size("valve_lift", "", 0.4790, 0.0040, "0.0005"),
    Size("valve_stem", "valve", 0.3414, 0.0003, "0.0001"),
    Size("guide_bore", "valve", 0.3431, 0.0004, "0.0001"),
    Size("guide_clearance_direct", "", 0.0018, 0.0006, "0.0001"),
    Size("guide_wobble", "", 0.0040, 0.0010, "0.0005"),
    Size("seat_width", "", 0.060, 0.008, "0.001"),
    Size("seat_runout", "", 0.0010, 0.0006, "0.0005"),
    Size("spring_height", "", 1.702, 0.010, "0.002"),
    Size("spring_seat_load", "", 110, 5, "1", "", "lbf"),
    Size("spring_open_load", "", 280, 9, "1", "", "lbf"),
    Size("spring_solid_height", "", 1.100, 0.010, "0.002"),
    Size("retainer_to_seal", "", 0.565, 0.015, "0.005"),
    Size("lifter_preload", "", 0.040, 0.010, "0.002"),
    Size("valve_lash_hot", "", 0.012, 0.002, "0.001", "blades"),
    Size("valve_lash_cold", "", 0.014, 0.002, "0.001", "blades"),
    Size("piston_to_valve", "", 0.120, 0.020, "0.005"),
    Size("bolt_free_length", "", 0.0002, 0.0002, "0.0001"),
    Size("bolt_tight_length", "", 0.0055, 0.0003, "0.0001"),
    Size("bolt_removed_length", "", 0.0003, 0.0003, "0.0001"),
    Size("snout", "snout", 1.2500, 0.0002, "0.0001"),
    Size("damper_bore", "snout", 1.2488, 0.0004, "0.0001"),
    Size("pump_end_gap", "", 0.0030, 0.0010, "0.0005", "blades"),
    Size("pump_side_gap", "", 0.0038, 0.0010, "0.0005", "blades"),
    Size("pickup_to_pan", "", 0.310, 0.060, "0.010"),
    Size("pin_weight", "", 145.3, 0.3, "0.1", "", "g"),
    Size("ring_set_weight", "", 52.6, 0.3, "0.1", "", "g"),
    Size("shell_set_weight", "", 43.1, 0.3, "0.1", "", "g"),
    Size("locks_weight", "", 1.8, 0.1, "0.1", "", "g"),
)

BENCH = (
    Size("hole", "main", 50.055, 0.012, "0.001", "any"),
    Size("shaft", "main", 50.000, 0.008, "0.001", "any"),
    Size("dial", "", 0.055, 0.018, "0.002", "any"),
    Size("strip", "", 0.055, 0.012, "0.010", "any"),
    Size("pin", "pin", 25.000, 0.008, "0.001", "any"),
    Size("eye", "pin", 25.050, 0.015, "0.001", "any"),
    Size("gap", "", 0.30, 0.12, "0.05", "blades"),
    Size("load", "", 1000, 120, "1", "any", "N"),
    Size("weight", "", 500.0, 1.5, "0.1", "", "g"),
    Size("turn", "", 2.0, 3.0, "0.5", "any", "deg"),
    Size("oil", "", 60, 25, "1", "", "C"),
    Size("float", "", 0.15, 0.08, "0.01", "repeats"),
    Size("stand", "", 0.10, 0.15, "0.01", "any"),
    Size("bare", "", 50.000, 0.500, "0.01"),
)

SHIPPED_GAUGES = {
    "main_journal": "mic",
    "rod_journal": "mic",
    "valve_stem": "mic",
    "pin_diameter": "mic",
    "lifter": "mic",
    "cam_journal": "mic",
    "snout": "mic",
    "main_bearing_bore": "dial bore",
    "rod_bearing_bore": "dial bore",
    "main_housing": "dial bore",
    "rod_housing": "dial bore",
    "cam_bearing_bore": "dial bore",
    "damper_bore": "dial bore",
    "pin_bore_rod": "dial bore",
    "pin_bore_piston": "dial bore",
    "lifter_bore": "split ball",
    "guide_bore": "split ball",
    "cylinder_bore": "tall bore",
    "piston_skirt": "big mic",
    "ring_end_gap": "blades",
    "rod_side_gap": "blades",
    "spring_height": "bar",
    "seat_width": "bar",
}
BENCH_GAUGES = {
    "hole": "bore",
    "shaft": "mic",
    "dial": "bore",
    "pin": "mic",
    "eye": "bore",
    "gap": "blades",
    "load": "press",
    "weight": "pan",
    "turn": "disc",
    "oil": "stick",
}

FACTS = {  # of the packs that ship: what may be stated, the usual first
    "application": ("street",),
    "work": ("new_build", "refresh"),
    "induction": ("natural", "boosted"),
    "redline": ("4600 rpm", "7200 rpm"),
    "working_temperature_rise": ("110 degF_difference",),
    "block_material": ("iron", "aluminium"),
    "head_material": ("iron", "aluminium"),
    "rod_material": ("steel", "aluminium"),
    "piston_alloy": ("cast", "hypereutectic", "forged_low_expansion", "forged_high_expansion"),
    "skirt_coated": ("no", "yes"),
    "pin_fit": ("pressed", "floating"),
    "gasket_kind": ("composition", "layered_steel"),
    "damper_hub_material": ("steel", "aluminium"),
    "pump_kind": ("gear", "rotor"),
    "cam_kind": ("flat_tappet", "roller"),
    "lifter_kind": ("hydraulic", "solid"),
    "shell_mixing": ("forbidden", "allowed"),
    "shell_wall_difference": ("0.0005 in",),
    "card_lash_state": ("hot", "cold"),
    "lifter_bores_finished": ("yes", "no"),
    "pistons_fitted_singly": ("no", "yes"),
    "stroke": ("3.7500 in", "95.25 mm"),
    "rod_length": ("6.2500 in", "158.75 mm"),
    "gasket_bore": ("4.1000 in", "4.0500 in"),
    "gasket_thickness": ("0.0400 in", "0.0390 in ±0.0010 in"),
    "crown_volume": ("18.0 cc", "-6.5 cc", "{1: 18.0 cc, others: 17.5 cc}"),
    "top_land_volume": ("1.0 cc",),
    "checking_lift": ("0.050 in", "0.006 in", "1 mm"),
    "card_intake_centreline": ("108.0 deg",),
    "card_lobe_separation": ("112.0 deg", "110.0 deg"),
    "card_intake_duration": ("228.0 deg",),
    "card_exhaust_duration": ("232.0 deg",),
    "card_rocker_ratio": ("1.60", "1.50"),
    "card_seat_load": ("110 lbf", "490 N"),
    "card_open_load": ("280 lbf",),
    "card_intake_lash": ("0.012 in",),
    "card_exhaust_lash": ("0.014 in",),
    "reciprocating_share": ("0.5",),
    "oil_allowance": ("4 g",),
    "compression_height": ("1.6600 in",),
    "block_deck_height": ("9.7900 in",),
    "steel_expansion": ("0.0000118 1/K ±0.0000003 1/K",),
}
RARE = ("working_temperature_rise", "shell_wall_difference", "steel_expansion", "application", "card_lash_state")
SLIPPED_FACTS = {"stroke": "95.25", "rod_length": "62.500 in", "card_rocker_ratio": "16.0", "gasket_bore": "9.1 in"}

BENCH_FACTS = {
    "work": ("new_build", "refresh"),
    "metal": ("iron", "aluminium", "steel"),
    "duty": ("light", "heavy"),
    "boosted": ("yes", "no"),
    "coated": ("no", "yes"),
    "card_hole": ("50.055 mm", "50.040 mm", "50.060 mm ±0.002 mm"),
    "seat": ("32.5 mm", "28.0 mm", "1.25 in"),
    "share": ("0.4", "0.6"),
    "lead": ("1.5 deg", "-0.5 deg"),
    "lot": ("7 of 12",),
    "light_expansion": ("0.0000247 1/K ±0.0000012 1/K",),
}
SLIPPED_BENCH_FACTS = {"card_hole": "500.55 mm", "seat": "3.2 mm", "share": "4"}

LIMITS = (  # of a sheet's own: rule, lines
    ("main_oil_clearance", "{least: 0.0015 in, aim: 0.0022 in, most: 0.0030 in, source: the card in the box}"),
    ("main_oil_clearance", "[{least: 0.0015 in, most: 0.0026 in}, {when: main == 2, most: 0.0032 in, name: thrust}]"),
    ("main_oil_clearance", '[{least: "0.0008 * main_size", most: "0.0011 * main_size", note: by the size}]'),
    ("rod_oil_clearance", "{most: 0.0025 in}"),
    ("piston_clearance", "[{least: 0.0015 in, most: 0.0025 in, source: sheet in the piston box}]"),
    ("ring_end_gap", "[{when: ring == top, least: 0.018 in, most: 0.026 in}]"),
    ("ring_end_gap", "{least: 0.46 mm, most: 0.66 mm}"),
    ("crank_end_float", "{least: 0.004 in, aim: 0.020 in, most: 0.007 in}"),
    ("crank_end_float", "{least: 0.009 in, most: 0.006 in}"),
    ("pin_clearance_piston", "none"),
    ("valve_stem_clearance", "[{when: valve == exhaust, least: 0.0015 in, most: 0.0030 in}]"),
    ("chamber_match", "{most: 0.5 cc}"),
)
BENCH_LIMITS = (
    ("fit", "{least: 0.03 mm, aim: 0.05 mm, most: 0.09 mm, source: the card}"),
    ("fit", '[{least: "0.0005 * size", most: 0.12 mm, wear most: 0.15 mm}]'),
    ("fit", "[{when: main == 1, most: 0.06 mm}]"),
    ("eye_fit", "{most: 0.07 mm}"),
    ("load_size", "{least: 900 N, most: 1150 N}"),
    ("maker_only", "{least: 49.80 mm, most: 50.30 mm, source: the plate}"),
    ("gap_size", "[{when: kind == lower, least: 0.25 mm, note: by the maker}]"),
    ("crossed", "{least: 0.02 mm, most: 0.09 mm}"),
    ("stand_height", "none"),
    ("code", "{most: 50.2 mm}"),
    ("load_size", "[{when: seat > 30 mm, least: 950 N}]"),
)


class Shop(NamedTuple):
    """What sheets of one kind are written from."""

    sizes: Sequence[Size]
    unit: str  # of the lengths in `sizes`
    gauges: Mapping[str, str]  # measurand -> the shop's name for what it is read with
    facts: Mapping[str, Sequence[str]]
    slipped: Mapping[str, str]
    limits: Sequence[tuple[str, str]]
    cards: Mapping[str, str]  # fact along an axis -> the measurand whose size it states


SHOPS = {
    "shipped": Shop(
        SHIPPED, "in", SHIPPED_GAUGES, FACTS, SLIPPED_FACTS, LIMITS,
        {"card_main_journal": "main_journal", "card_rod_journal": "rod_journal"},
    ),
    "bench": Shop(BENCH, "mm", BENCH_GAUGES, BENCH_FACTS, SLIPPED_BENCH_FACTS, BENCH_LIMITS, {"card_shaft": "shaft"}),
}  # fmt: skip
