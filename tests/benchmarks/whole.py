"""How long the whole command takes, against the floor of its imports, and how that grows.

Run it by hand: `python -m tests.benchmarks.whole`.

The fear behind each figure: that a builder waits; that a hundred sheets cost more than a hundred times one; that a
shop's five hundred rules cost more than their share.
"""

from __future__ import annotations

import gc
import math
import os
import random
import re
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterable
from decimal import Decimal
from pathlib import Path

from uncertainties import UFloat, nominal_value, ufloat

from specrules.effects.pack_files import PackFiles
from specrules.inspection import inspect
from specrules.pack import Stack, stack
from specrules.plugins import plug
from specrules.sheet import Sheet, read_sheet, settle

FLOOR = (
    "from pydantic import BaseModel; from ruamel.yaml import YAML; from rich.console import Console; "
    "from rich.table import Table; import pluggy, click"
)
CYLINDERS, MAINS = 8, 5
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


def sheet_text(packs: str, sign_offs: Iterable[str]) -> str:
    """An invented build of 8 cylinders with 400 readings, with every sign-off given."""
    rows = [
        "specrules: build-sheet/1",
        "build: {title: Bench}",
        f"packs: [{packs}]",
        "unit: in",
        "facts: {cylinders: 8, mains: 5, throws: [[1, 2], [3, 4], [5, 6], [7, 8]], block_material: iron,",
        "  rod_material: steel, piston_alloy: cast, pin_fit: pressed, stroke: 3.7500 in, gasket_bore: 4.1000 in,",
        "  gasket_thickness: 0.0400 in, crown_volume: 18.0 cc, gasket_kind: composition, head_material: iron}",
        "readings:",
    ]
    for table, number in ((BY_MAIN, MAINS), (BY_THROW, CYLINDERS // 2), (BY_CYLINDER, CYLINDERS)):
        for name, row in table.items():
            rows.append(f"  {name}:")
            rows += [f"    {station}: {row}" for station in range(1, number + 1)]
    rows += ["  crank_end_float: 0.0050", "  cam_end_float: 0.0050", "signed:"]
    rows += [f"  {name}: {{by: Bench, on: 2026-03-02}}" for name in sign_offs]
    return "\n".join(rows) + "\n"


def house_pack(rules: int) -> str:
    """A pack of so many rules more, on general; each judges a clearance."""
    rows = [
        "specrules: tolerance-pack/1",
        "group: Bench",
        'pack: {name: bench, version: "1", title: Bench, builds on: [general], unit: in}',
        "rules:",
    ]
    for number in range(rules):
        rows += [
            f"  bench_rule_{number}:",
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


def median(run: Callable[[], object], times: int = 7) -> float:
    """The median of several runs, in milliseconds."""
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        run()
        taken.append((time.perf_counter() - start) * 1000)
    return statistics.median(taken)


def by_turns(one: Callable[[], object], other: Callable[[], object], times: int = 11) -> tuple[float, float, float]:
    """The medians of two that take turns, and of how many times the one the other takes: a busy machine slows both."""
    pairs = [(median(one, 1), median(other, 1)) for _ in range(times)]
    first, second = zip(*pairs, strict=True)
    return statistics.median(first), statistics.median(second), statistics.median(b / a for a, b in pairs)


def command(folder: Path, *arguments: str) -> Callable[[], object]:
    """A run of the Python interpreter, as a user would wait for it, with its bytecode kept in a folder."""
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    env = {**kept, "PYTHONPYCACHEPREFIX": str(folder / "bytecode")}

    def run() -> object:
        return subprocess.run([sys.executable, *arguments], capture_output=True, check=False, env=env)

    run()
    return run


def loaded(folder: Path, sheet: Path) -> tuple[Sheet, Stack]:
    """The sheet and stack as the command would have them."""
    raw, _ = read_sheet(sheet.read_bytes(), sheet.name)
    assert raw is not None
    packs, faults = PackFiles([folder / "packs"]).load(raw.packs)
    assert not faults, faults[0].sentence()
    stacked, faults = stack(packs, raw.packs, plug().functions)
    assert stacked is not None, faults[0].sentence()
    settled, faults = settle(raw, stacked)
    assert settled is not None, faults[0].sentence()
    return settled, stacked


def bench(rules: int, folder: Path) -> tuple[Path, Sheet, Stack]:
    """A folder with a sheet and a house pack that brings the stack to so many rules."""
    ground = general()
    (folder / "packs").mkdir(parents=True, exist_ok=True)
    (folder / "packs" / "bench.pack.yaml").write_text(house_pack(rules - len(ground.rules)))
    sheet = folder / "bench.sheet.yaml"
    sheet.write_text(sheet_text("bench", ground.sign_offs))
    return sheet, *loaded(folder, sheet)


def general() -> Stack:
    """The stack of the general pack."""
    packs, _ = PackFiles().load(("general",))
    stacked, _ = stack(packs, ("general",))
    assert stacked is not None
    return stacked


def one_finding(folder: Path) -> tuple[float, float, float]:
    """Microseconds for a finding whose limits are formulas: of many with the same readings, and of many each with its
    own; and for the same sum by hand with `uncertainties`.

    All begin with readings that are there already: what a sheet costs without any rule is taken off ours.
    """
    mains = 200
    ours = [a_finding(*one_rule(folder / name, mains, scatter), mains) for name, scatter in (("same", 0), ("own", 2))]
    journals, bores = readings_by_hand()
    lines = median(lambda: [by_hand(journals, bores) for _ in range(mains)])
    return ours[0], ours[1], lines / mains * 1000


def a_finding(sheet: Sheet, stacked: Stack, mains: int) -> float:
    """Microseconds for one of so many findings."""
    nothing = stacked._replace(rules={})
    pairs = [(median(lambda: full(sheet, stacked), 1), median(lambda: full(sheet, nothing), 1)) for _ in range(15)]
    return statistics.median(a - b for a, b in pairs) / mains * 1000


def full(sheet: Sheet, stacked: Stack) -> list[object]:
    """Judge, and ask of every finding what it has to say of U and probability."""
    return [(each.verdict, each.U, each.margins, each.conformance) for each in inspect(sheet, stacked).findings]


def one_rule(folder: Path, mains: int, scatter: int) -> tuple[Sheet, Stack]:
    """A sheet of so many mains against one rule with formulas for limits; readings scatter by so many steps."""
    (folder / "packs").mkdir(parents=True, exist_ok=True)
    (folder / "packs" / "one.pack.yaml").write_text(ONE_RULE)
    chance = random.Random(1)

    def off(found: re.Match[str]) -> str:
        return str(Decimal(found[0]) + chance.randint(-scatter, scatter) * Decimal("0.0001"))

    rows = [f"specrules: build-sheet/1\npacks: [one]\nunit: in\nfacts: {{mains: {mains}}}\nreadings:"]
    for name, row in (("journal", FOUR), ("bore", "[2.4515, 2.4516]")):
        rows += [f"  {name}:", *(f"    {main}: {re.sub(r'[0-9.]{6}', off, row)}" for main in range(1, mains + 1))]
    sheet = folder / "one.sheet.yaml"
    sheet.write_text("\n".join(rows) + "\n")
    return loaded(folder, sheet)


def readings_by_hand() -> tuple[list[UFloat], list[UFloat]]:
    """The readings of one main as that library has them: what a gauge's readings share is one variable."""
    reads, repeats = 0.0001 / math.sqrt(3), 0.00005
    micrometer, bore_gauge = ufloat(0, reads), ufloat(0, reads)
    journals = [ufloat(size, repeats) + micrometer for size in (2.4490, 2.4491, 2.4489, 2.4490)]
    return journals, [ufloat(size, repeats) + bore_gauge for size in (2.4515, 2.4516)]


def by_hand(journals: list[UFloat], bores: list[UFloat]) -> tuple[bool, tuple[float, ...], float]:
    """The same finding, as someone who knows that library would write it: verdict, U of the margins, probability."""
    clearance, size = min(bores, key=nominal_value) - max(journals, key=nominal_value), sum(journals) / 4
    margins = [clearance - max(0.0007 * size, 0.0015, key=nominal_value), 0.0014 * size - clearance]
    outside = sum(0.5 * math.erfc(m.nominal_value / m.std_dev / math.sqrt(2)) for m in margins)
    return all(m.nominal_value >= 2 * m.std_dev for m in margins), tuple(2 * m.std_dev for m in margins), 1 - outside


def main() -> None:
    """Print the figures."""
    say = sys.stdout.write
    gc.set_threshold(100_000, 50, 50)  # as the command has it
    with tempfile.TemporaryDirectory() as name:
        root = Path(name)
        sheet, settled, stacked = bench(80, root / "80")
        say(f"{len(settled.readings)} readings, {len(stacked.rules)} rules, {CYLINDERS} cylinders\n")
        floor, whole, times = by_turns(
            command(root, "-c", FLOOR), command(root, "-m", "specrules", "inspect", str(sheet))
        )
        say(f"import floor            {floor:8.1f} ms\n")
        say(f"whole command           {whole:8.1f} ms   {times:.2f} times the floor (goal 2.0)\n")
        reading = median(lambda: read_sheet(sheet.read_bytes(), sheet.name))
        stacking = median(lambda: loaded(root / "80", sheet))
        judging = median(lambda: inspect(settled, stacked))
        say(f"reading the sheet       {reading:8.1f} ms\n")
        say(f"sheet, packs and stack  {stacking:8.1f} ms\n")
        say(f"inspection alone        {judging:8.1f} ms   (goal 10)\n")
        same, own, hand = one_finding(root / "one")
        say(f"one finding             {same:8.1f} us   with formula limits, U and probability (goal 15)\n")
        say(f"each with other readings{own:8.1f} us\n")
        say(f"the same by hand        {hand:8.1f} us   with uncertainties: {same / hand:.2f} times that (goal 2)\n")
        sheets = [root / "80" / f"copy{number}.sheet.yaml" for number in range(100)]
        for path in sheets:
            path.write_text(sheet.read_text())
        one = median(command(root, "-m", "specrules", "inspect", str(sheets[0])), 3)
        ten = median(command(root, "-m", "specrules", "inspect", *map(str, sheets[:10])), 3)
        hundred = median(command(root, "-m", "specrules", "inspect", *map(str, sheets)), 3)
        say(f"1, 10, 100 sheets       {one:8.1f} {ten:.1f} {hundred:.1f} ms\n")
        say(f"each sheet more         {(ten - one) / 9:8.1f} ms up to 10, {(hundred - ten) / 90:.1f} ms up to 100\n")
        for rules in (80, 160, 320, 500):
            _, settled, stacked = bench(rules, root / str(rules))
            judging = median(lambda s=settled, k=stacked: inspect(s, k), 3)  # type: ignore[misc]  # bound in the loop
            say(f"{rules:4} rules, inspection   {judging:8.1f} ms   {judging / rules * 1000:.0f} us a rule\n")


if __name__ == "__main__":
    main()
