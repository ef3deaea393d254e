"""What the commands cost in processor time and memory, as ratios within one run, and how that grows.

Run it by hand: `python -m tests.benchmarks.whole`, or with a number: how often each is run (5).

The fear behind each figure: that a builder waits; that a hundred sheets cost more than a hundred times one; that a
shop's five hundred rules, or the packs that build on one another, cost more than their share. Ratios are of processor
time, each at its best of several runs that take turns, since the machines differ and others use them too.
"""

from __future__ import annotations

import gc
import math
import os
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from functools import partial
from itertools import pairwise
from pathlib import Path

from uncertainties import UFloat, nominal_value, ufloat

from specrules.effects.pack_files import PackFiles
from specrules.inspection import inspect
from specrules.pack import Specification
from specrules.pack.pack_reading import Pack, read_pack
from specrules.pack.resolving import resolve
from specrules.plugins import plug
from specrules.sheet import Sheet, read_sheet, settle
from tests.benchmarks.builds import ONE_RULE, long_engine, one_rule_sheet, pack, sheet

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "specrules" / "demo" / "carousel.sheet.yaml"
FLOOR = (
    "-c",
    "from pydantic import BaseModel; from ruamel.yaml import YAML; import rich.console, rich.table, pluggy, click",
)
MAINS = 200


def say(what: str, figure: str, goal: str = "") -> None:
    """One line of the answer."""
    sys.stdout.write(f"{what:34} {figure:>26}   {goal}".rstrip() + "\n")
    sys.stdout.flush()


class Commands:
    """Runs of the program as a user has them, with bytecode and plans kept in folders of their own."""

    def __init__(self, folder: Path) -> None:
        kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
        self.env = {**kept, "PYTHONPYCACHEPREFIX": str(folder / "bytecode"), "PYTHONPATH": str(ROOT)}
        self.folder = folder
        self._fresh = 0

    def warm(self, *arguments: str) -> Callable[[], float]:
        """The processor seconds of a run whose plans are kept already."""
        return lambda: self._seconds(arguments, self.folder / "cache")

    def cold(self, *arguments: str) -> Callable[[], float]:
        """The same where no plan is kept."""

        def run() -> float:
            self._fresh += 1
            return self._seconds(arguments, self.folder / f"cache-{self._fresh}")

        return run

    def _seconds(self, arguments: Sequence[str], cache: Path) -> float:
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run(
            [sys.executable, *arguments],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            check=False,
            env={**self.env, "XDG_CACHE_HOME": str(cache)},
            cwd=self.folder,
        )
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def best(runs: dict[str, Callable[[], float]], times: int) -> dict[str, float]:
    """The least of several runs of each, in turn; each is run once before it counts."""
    for run in runs.values():
        run()
    found: dict[str, list[float]] = {name: [] for name in runs}
    for _ in range(times):
        for name, run in runs.items():
            found[name].append(run())
    return {name: min(taken) for name, taken in found.items()}


def taken(run: Callable[[], object]) -> float:
    """The processor seconds of one call."""
    start = time.process_time()
    run()
    return time.process_time() - start


def at_best(run: Callable[[], object], times: int) -> float:
    """The least processor seconds of several calls."""
    return min(taken(run) for _ in range(times))


def commands(folder: Path, times: int) -> float:
    """Whole commands against the floor of their imports; the floor in seconds."""
    of, long = Commands(folder), folder / "long.sheet.yaml"
    long.write_text(long_engine(DEMO.read_text(encoding="utf-8")), encoding="utf-8")
    program = ("-m", "specrules")
    found = best(
        {
            "floor": of.warm(*FLOOR),
            "help": of.warm(*program, "--help"),
            "demo": of.warm(*program, "demo"),
            "cold": of.cold(*program, "demo"),
            "list": of.warm(*program, "pack", "list"),
            "prove": of.warm(*program, "pack", "prove", "general"),
            "json": of.warm(*program, "inspect", str(DEMO), "--form", "json"),
            "console": of.warm(*program, "inspect", str(DEMO)),
            "long console": of.warm(*program, "inspect", str(long)),
            "long page": of.warm(*program, "inspect", str(long), "--form", "page"),
        },
        times,
    )
    floor = found["floor"]
    say("import floor", f"{floor * 1000:.0f} ms of processor")
    say("empty command, --help", f"{found['help'] / floor:.2f} floors")
    say("demo, plan kept", f"{found['demo'] / floor:.2f} floors", "goal 1.8")
    say("demo, no plan kept", f"{found['cold'] / floor:.2f} floors", "goal 4")
    say("pack list", f"{found['list'] / found['help']:.2f} empty commands", "goal 1.3")
    say("pack prove general", f"{found['prove'] / found['demo']:.2f} demos", "goal 3")
    say("JSON record, whole command", f"{found['json'] / found['console']:.2f} console commands", "goal 2")
    long_page = found["long page"] / found["long console"]
    say("page of 1,507 readings", f"{long_page:.2f} console commands", "goal 2")
    return floor


def further_sheets(folder: Path, floor: float, times: int) -> None:
    """What a sheet more costs, in time and memory."""
    paths = []
    for number in range(41):
        path = folder / f"copy{number}.sheet.yaml"
        path.write_text(DEMO.read_text(encoding="utf-8"), encoding="utf-8")
        paths.append(str(path))
    of, program = Commands(folder), ("-m", "specrules", "inspect")
    found = best({"few": of.warm(*program, *paths[:11]), "many": of.warm(*program, *paths)}, max(times // 2, 1))
    say("a further sheet", f"{(found['many'] - found['few']) / 30 / floor:.2f} floors", "goal 0.3")
    few, many = (peak(of, [*program, *some]) for some in (paths[:11], paths))
    say("a further sheet", f"{(many - few) / 30 / 1024:.2f} MiB", "goal 0.3")


def peak(of: Commands, arguments: Sequence[str]) -> int:
    """The most memory that any process of a run had, KiB."""
    code = (
        "import resource, subprocess, sys; subprocess.run([sys.executable, *sys.argv[1:]], stdout=subprocess.DEVNULL,"
        " stderr=subprocess.DEVNULL); print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)"
    )
    env = {**of.env, "XDG_CACHE_HOME": str(of.folder / "cache")}
    ran = subprocess.run([sys.executable, "-c", code, *arguments], capture_output=True, text=True, check=True, env=env)
    return int(ran.stdout)


def built(texts: dict[str, str], asked: str) -> Specification:
    """A specification of packs that are given as texts, out of these and those that ship."""
    packs = list(general()) if any("general" in text for text in texts.values()) else []
    for name, text in texts.items():
        made, faults = read_pack([(f"{name}.pack.yaml", text.encode())])
        assert made is not None, faults
        packs.append(made)
    resolved, wrong = resolve(packs, [asked], plug().functions)
    assert resolved is not None, wrong[0].sentence()
    return resolved


def general() -> tuple[Pack, ...]:
    """The general pack, as it ships."""
    packs, faults = PackFiles().load(("general",))
    assert not faults, faults[0].sentence()
    return packs


def settled(text: str, resolved: Specification) -> Sheet:
    """A sheet held against a specification."""
    raw, faults = read_sheet(text.encode(), "bench.sheet.yaml")
    assert raw is not None, faults
    found, faults = settle(raw, resolved)
    assert found is not None, faults[0].sentence()
    return found


def findings_by_hand(times: int) -> None:
    """Findings whose limits are formulas, each with readings of its own, against the same by hand."""
    resolved = built({"one": ONE_RULE}, "one")
    read = settled(one_rule_sheet(MAINS), resolved)
    nothing = resolved._replace(rules={})
    ours = at_best(lambda: inspect(read, resolved), times) - at_best(lambda: inspect(read, nothing), times)
    judged = at_best(lambda: inspect(read, resolved), times)
    journals, bores = readings_by_hand()
    hand = at_best(lambda: [by_hand(journals, bores) for _ in range(MAINS)], times)
    say("a finding, with U", f"{judged / MAINS * 1e6:.0f} us with its binding, {ours / MAINS * 1e6:.0f} without")
    say("the same by hand", f"{hand / MAINS * 1e6:.0f} us")
    say("ours to that by hand", f"{judged / hand:.2f}, {ours / hand:.2f}", "goal 0.25")


def readings_by_hand() -> tuple[list[UFloat], list[UFloat]]:
    """The readings of one main as that library has them: what a gauge's readings share is one variable."""
    reads, repeats = 0.0001 / math.sqrt(3), 0.00005
    micrometer, bore_gauge = ufloat(0, reads), ufloat(0, reads)
    journals = [ufloat(size, repeats) + micrometer for size in (2.4490, 2.4491, 2.4489, 2.4490)]
    return journals, [ufloat(size, repeats) + bore_gauge for size in (2.4515, 2.4516)]


def by_hand(journals: list[UFloat], bores: list[UFloat]) -> tuple[bool, tuple[float, ...]]:
    """The same finding, as someone who knows that library would write it: verdict, and U of both margins."""
    clearance, size = min(bores, key=nominal_value) - max(journals, key=nominal_value), sum(journals) / 4
    margins = [clearance - max(0.0007 * size, 0.0015, key=nominal_value), 0.0014 * size - clearance]
    return all(m.nominal_value >= 2 * m.std_dev for m in margins), tuple(2 * m.std_dev for m in margins)


def growth(times: int) -> None:
    """How inspections grow: each step doubles what there is, and may cost twice as much."""
    signed = built({"bench": pack("bench", "general", 1)}, "bench").sign_offs
    rules = [built({"bench": pack("bench", "general", number)}, "bench") for number in (125, 250, 500)]
    _doubled("rules 125, 250, 500", [(settled(sheet("bench", signed), each), each) for each in rules], times)
    engines = [settled(sheet("bench", signed, number), rules[0]) for number in (8, 16, 32)]
    _doubled("cylinders 8, 16, 32", [(each, rules[0]) for each in engines], times)
    small = built({"one": ONE_RULE}, "one")
    _doubled("mains 64, 128, 256", [(settled(one_rule_sheet(each), small), small) for each in (64, 128, 256)], times)
    chains = {number: built(chain(number), f"p{number}") for number in (4, 8, 16)}
    of_chain = [(settled(sheet(f"p{number}", signed), each), each) for number, each in chains.items()]
    _doubled("packs in a chain 4, 8, 16", of_chain, times)


def chain(number: int) -> dict[str, str]:
    """So many packs, one on another, each of which amends the same rule."""
    names = ["general", *(f"p{each}" for each in range(1, number + 1))]
    return {name: pack(name, ground, 0, "main_oil_clearance") for ground, name in pairwise(names)}


def _doubled(what: str, sizes: Sequence[tuple[Sheet, Specification]], times: int) -> None:
    seconds = [at_best(partial(inspect, *each), times) for each in sizes]
    ratios = ", ".join(f"{after / before:.2f}" for before, after in pairwise(seconds))
    say(what, f"{seconds[0] * 1000:.0f} ms, then x {ratios}", "at most 2 each")


@contextmanager
def without_garbage() -> Iterator[None]:
    """Collected before and not during, as the command has it."""
    gc.collect()
    gc.disable()
    try:
        yield
    finally:
        gc.enable()


def main(times: int) -> None:
    """Print the figures."""
    with tempfile.TemporaryDirectory() as name:
        floor = commands(Path(name), times)
        further_sheets(Path(name), floor, times)
    with without_garbage():
        findings_by_hand(times)
        growth(times)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 5)
