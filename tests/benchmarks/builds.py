"""Invented builds and packs of any size, for whatever measures how time and memory grow."""

from __future__ import annotations

import random
import re
from collections.abc import Iterable
from decimal import Decimal

FOUR = "{front: {a: 2.4490, b: 2.4491}, rear: {a: 2.4489, b: 2.4490}}"
SIX = (
    "{top: {thrust: 4.0311, axial: 4.0312}, middle: {thrust: 4.0310, axial: 4.0311},"
    " bottom: {thrust: 4.0310, axial: 4.0310}}"
)
BY_MAIN = {
    "main_journal": FOUR,
    "main_bearing_bore": "[2.4515, 2.4516]",
    "main_housing": "[2.6410, 2.6411, 2.6412]",
    "main_shell_wall": "[0.0960, 0.0961]",
    "main_crush_gap": "0.0020",
    "crank_runout": "0.0005",
    "main_housing_step": "0.0003",
}
BY_THROW = {"rod_journal": FOUR.replace("2.44", "2.31"), "rod_side_gap": "0.0150", "counterweight_to_block": "0.110"}
BY_CYLINDER = {
    "rod_bearing_bore": "[2.3115, 2.3116]",
    "rod_housing": "[2.4370, 2.4371, 2.4372]",
    "rod_shell_wall": "[0.0620, 0.0621]",
    "rod_to_cam": "0.080",
    "rod_centre_length": "6.2500",
    "rod_big_end_weight": "512.1 g",
    "rod_small_end_weight": "214.1 g",
    "pin_diameter": "0.98000",
    "pin_bore_piston": "0.98060",
    "pin_bore_rod": "0.97900",
    "cylinder_bore": SIX,
    "piston_skirt": "4.0290",
    "piston_weight": "612.1 g",
    "locks_weight": "2.1 g",
    "ring_end_gap": "{top: 0.0210, second: 0.0250, oil: 0.0300}",
    "ring_side_gap": "{top: 0.0020, second: 0.0021}",
    "ring_radial_width": "{top: 0.1720, second: 0.1720, oil: 0.1500}",
    "groove_depth": "{top: 0.1780, second: 0.1780, oil: 0.1700}",
    "piston_below_deck": "0.0020",
    "piston_to_valve": "{intake: 0.1000, exhaust: 0.1200}",
    "chamber_volume": "70.1 cc",
}


def sheet(packs: str, sign_offs: Iterable[str], cylinders: int = 8) -> str:
    """An invented build, with every sign-off given; 400 readings for eight cylinders."""
    throws = ", ".join(f"[{number}, {number + 1}]" for number in range(1, cylinders, 2))
    mains = cylinders // 2 + 1
    rows = [
        "specrules: build-sheet/1",
        "build: {title: Bench}",
        f"packs: [{packs}]",
        "unit: in",
        f"facts: {{cylinders: {cylinders}, mains: {mains}, throws: [{throws}], block_material: iron,",
        "  rod_material: steel, piston_alloy: cast, pin_fit: pressed, stroke: 3.7500 in, gasket_bore: 4.1000 in,",
        "  gasket_thickness: 0.0400 in, crown_volume: 18.0 cc, gasket_kind: composition, head_material: iron,",
        "  ignition: spark, cooling: liquid, cycle: four_stroke, card_bore: 4.0000 in, card_pin: 0.9270 in}",
        "readings:",
    ]
    for table, number in ((BY_MAIN, mains), (BY_THROW, cylinders // 2), (BY_CYLINDER, cylinders)):
        for name, row in table.items():
            rows.append(f"  {name}:")
            rows += [f"    {station}: {row}" for station in range(1, number + 1)]
    rows += ["  crank_end_float: 0.0050", "  cam_end_float: 0.0050", "signed:"]
    rows += [f"  {name}: {{by: Bench, on: 2026-03-02}}" for name in sign_offs]
    return "\n".join(rows) + "\n"


def pack(name: str, on: str, rules: int, amends: str = "") -> str:
    """A pack of so many rules, each of which judges a clearance; it may amend one rule of the pack that it is on."""
    rows = [
        "specrules: tolerance-pack/1",
        "group: Bench",
        f'pack: {{name: {name}, version: "1", title: Bench, builds on: [{on}], unit: in}}',
    ]
    rows += ["rules:"] if rules else []
    for number in range(rules):
        rows += [
            f"  {name}_rule_{number}:",
            "    title: Bench rule",
            "    each: main",
            "    formula: smallest(main_bearing_bore) - largest(main_journal)",
            "    unit: in",
            f'    limits: {{least: "max(0.0007 * main_size, 0.0015 in)", most: 0.00{14 + number % 5} * main_size}}',
            "    importance: minor",
            "    source: {kind: house, note: made for the bench}",
            "    worked:",
            "      - {given: {readings: {main_bearing_bore: {1: 2.4515}, main_journal: {1: 2.4490}}},",
            "         expect: {at: {main: 1}, verdict: in spec}}",
        ]
    if amends:
        limits = '[{name: base, least: "least + 0.0001 in"}]'
        rows += ["amend:", "  rules:", f"    {amends}: {{reason: made for the bench, limits: {limits}}}"]
    return "\n".join(rows) + "\n"


ONE_RULE = """\
specrules: tolerance-pack/1
group: One
pack: {name: one, version: "1", title: One rule, unit: in}
axes:
  main: {count: mains}
  plane: {names: [front, rear]}
  clock: {names: [a, b]}
facts:
  mains: {kind: count}
gauge classes:
  outside micrometer: {resolution: 0.0001 in, mpe: 0.0001 in, repeatability: 0.00005 in, source: {kind: from memory}}
  bore gauge: {resolution: 0.0001 in, mpe: 0.0001 in, repeatability: 0.00005 in, source: {kind: from memory}}
measurands:
  journal: {at: main, positions: [plane, clock], unit: in, usual: 1.5..4.5, gauge classes: [outside micrometer]}
  bore: {at: main, positions: plane, unit: in, usual: 1.5..4.5, gauge classes: [bore gauge]}
rules:
  clearance:
    title: Clearance
    each: main
    formula: smallest(bore) - largest(journal)
    unit: in
    limits: {least: "max(0.0007 * mean(journal), 0.0015 in)", most: 0.0014 * mean(journal)}
    importance: minor
    source: {kind: house, note: made for the bench}
    worked:
      - {given: {readings: {bore: {1: 2.4515}, journal: {1: 2.4490}}}, expect: {at: {main: 1}, verdict: in spec}}
"""


def one_rule_sheet(mains: int) -> str:
    """A sheet for `ONE_RULE`, in which every main has readings of its own."""
    chance = random.Random(1)

    def off(found: re.Match[str]) -> str:
        return str(Decimal(found[0]) + chance.randint(-2, 2) * Decimal("0.0001"))

    rows = [f"specrules: build-sheet/1\npacks: [one]\nunit: in\nfacts: {{mains: {mains}}}\nreadings:"]
    for name, row in (("journal", FOUR), ("bore", "[2.4515, 2.4516]")):
        rows += [f"  {name}:", *(f"    {main}: {re.sub(r'[0-9.]{6}', off, row)}" for main in range(1, mains + 1))]
    return "\n".join(rows) + "\n"


LONG = {
    "cylinders: 8": "cylinders: 16",
    "mains: 5": "mains: 9",
    "cam_bearings: 5": "cam_bearings: 9",
    "throws: [[1, 2], [3, 4], [5, 6], [7, 8]]": f"throws: {[[n, n + 1] for n in range(1, 17, 2)]}",
    "banks: {left: [1, 3, 5, 7], right: [2, 4, 6, 8]}": (
        f"banks: {{left: {[*range(1, 17, 2)]}, right: {[*range(2, 17, 2)]}}}"
    ),
}


def long_engine(demo: str) -> str:
    """The demo's engine with twice as many cylinders and throws, and nine mains: measured as that is, 1,500 readings.
    The second half was read as the first one was, the first main aside."""
    for short, long in LONG.items():
        assert demo.count(short) == 1, short
        demo = demo.replace(short, long)
    head, rest = demo.split("\nreadings:\n")
    readings, tail = re.split(r"(?m)^(?=work done:)", rest)
    return f"{head}\nreadings:\n{''.join(map(_twice, re.split(r'(?m)^(?=  [a-z])', readings)))}{tail}"


def _twice(block: str) -> str:
    """A measurand of the sheet with its stations twice over, in lines or in braces."""
    rows = re.findall(r"(?m)^    (\d+):(.*\n)", block)
    inline = [] if rows else re.findall(r"\b(\d+): ([^,{}]+)", block)
    stations = {int(label): said for label, said in rows or inline}
    if max(stations, default=0) < 4:
        return block
    once, last = int(max(stations) == 5), max(stations)  # mains share the one in the middle
    more = {label + last - once: said for label, said in stations.items() if label > once}
    if rows:
        return block.rstrip("\n") + "".join(f"\n    {label}:{said.rstrip()}" for label, said in more.items()) + "\n"
    said = "".join(f", {label}: {said}" for label, said in more.items())
    return re.sub(r"\}(?=[^}]*$)", f"{said}}}", block, count=1)
