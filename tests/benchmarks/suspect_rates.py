"""How often a good reading is suspected, and how often a slip is caught: `python -m tests.benchmarks.suspect_rates`.

The fear behind the first figure: that a builder learns to ignore the warning. Behind the second: that a slip decides.
Options: how many engines (1000) and the seed (1).
"""

from __future__ import annotations

import random
import sys
from collections.abc import Callable
from decimal import Decimal
from typing import NamedTuple

from specrules.inspection import Report
from specrules.output.reasons import figure_in_doubt
from specrules.pack import Specification
from specrules.sheet import Sheet, Suspect, all_alike, suspects
from tests.benchmarks.engines import INCH, SIZES, Cell, Engine, honest
from tests.inspecting import inspected, settled, whole

Slip = Callable[[random.Random, Engine], tuple[dict[Cell, str], dict[str, str]] | None]
"""One slip in an honest engine: the cells, or facts, that it writes otherwise; None where there is no place for it."""

SMALL = ("main_clearance_direct", "ring_end_gap", "ring_side_gap", "piston_below_deck")
NO_LENGTHS = ("chamber_volume", "piston_weight")


class Rate(NamedTuple):
    """Of so many, so many."""

    found: int
    tried: int

    def __str__(self) -> str:
        share = f"{100 * self.found / self.tried:.1f} %" if self.tried else "none tried"
        return f"{share:>10}  ({self.found} of {self.tried})"

    @property
    def share(self) -> float:
        """The part of them."""
        return self.found / self.tried


def look(engine: Engine, cells: dict[Cell, str] | None = None, facts: dict[str, str] | None = None) -> list[Suspect]:
    """What is suspected in an engine by its written numbers alone."""
    return list(suspects(*read(engine.sheet(cells, facts)), engine.worn))


def read(text: str) -> tuple[Sheet, Specification]:
    """A sheet that has no fault, and its packs."""
    sheet, spec, faults = settled(text, {})
    assert sheet is not None, faults
    assert spec is not None
    return sheet, spec


def judged(engine: Engine, cells: dict[Cell, str] | None = None) -> Report:
    """The inspection, which knows limits too."""
    return inspected(engine.sheet(cells))


def a_cell(dice: random.Random, engine: Engine, names: tuple[str, ...]) -> Cell | None:
    """Any figure of these measurands."""
    cells = [cell for cell in engine.cells if cell[0] in names]
    return dice.choice(cells) if cells else None


def places(text: str) -> Decimal:
    """The last written place of a figure."""
    return Decimal(1).scaleb(int(Decimal(text).as_tuple().exponent))


def moved(by: Callable[[random.Random, Engine], Decimal], only: str = "") -> Slip:
    """A size misread by a step of its gauge, one way or the other; with that kind of gauge alone, if one is said."""

    def slip(dice: random.Random, engine: Engine) -> tuple[dict[Cell, str], dict[str, str]] | None:
        cell = a_cell(dice, engine, SIZES)
        if cell is None or (engine.gauge == "caliper") != (only == "caliper"):
            return None
        text, step = engine.cells[cell], by(dice, engine)
        return {cell: str(Decimal(text) + dice.choice((step, -step)))}, {}

    return slip


def turn(_: random.Random, engine: Engine) -> Decimal:
    """One turn of the thimble."""
    return Decimal("0.025") if engine.unit == "in" else Decimal("0.5")


def tenth(_: random.Random, engine: Engine) -> Decimal:
    """A tenth of an inch on a caliper; nothing where it is metric."""
    return Decimal("0.1") if engine.unit == "in" else Decimal(0)


def times(factor: Decimal, names: Callable[[str], bool]) -> Slip:
    """A figure that many times too large or too small, in as many figures as it had before."""

    def slip(dice: random.Random, engine: Engine) -> tuple[dict[Cell, str], dict[str, str]] | None:
        cell = a_cell(dice, engine, tuple({name for name, _, _ in engine.cells if names(name)}))
        if cell is None or not Decimal(engine.cells[cell]):
            return None
        text = Decimal(engine.cells[cell])
        if factor == INCH:  # written in the unit of the other system
            number = text * INCH if engine.unit == "in" else text / INCH
            return {cell: f"{number:.4f}" if engine.unit == "mm" else f"{number:.3f}"}, {}
        number = text * factor if factor == 1000 or dice.random() < 0.5 else text / factor
        return {cell: f"{number:f}"}, {}

    return slip


def exchanged(dice: random.Random, engine: Engine) -> tuple[dict[Cell, str], dict[str, str]] | None:
    """Two digits side by side exchanged."""
    cell = a_cell(dice, engine, (*SIZES, "piston_weight", "chamber_volume"))
    assert cell is not None
    text = engine.cells[cell]
    pairs = ((at, text[at : at + 2]) for at in range(len(text) - 1))
    spots = [at for at, pair in pairs if pair.isdigit() and pair[0] != pair[1] and (at, pair[1]) != (0, "0")]
    if not spots:
        return None
    at = dice.choice(spots)
    return {cell: text[:at] + text[at + 1] + text[at] + text[at + 2 :]}, {}


def negative(dice: random.Random, engine: Engine) -> tuple[dict[Cell, str], dict[str, str]] | None:
    """A minus sign where nothing is below nothing."""
    cell = a_cell(dice, engine, (*SIZES, "ring_end_gap", "main_clearance_direct"))
    return None if cell is None else ({cell: f"-{engine.cells[cell]}"}, {})


def grown(dice: random.Random, engine: Engine) -> tuple[dict[Cell, str], dict[str, str]] | None:
    """Worn journals all read on the wrong thimble line, 3 to 10 thou above what they were new."""
    if not engine.worn or engine.gauge == "caliper":
        return None
    name = dice.choice(("main_journal", "rod_journal"))
    step = Decimal(dice.randint(3, 10)) / 1000 * (1 if engine.unit == "in" else INCH)
    cells = {c: t for c, t in engine.cells.items() if c[0] == name and c[1] == ("1",)}
    card = Decimal(engine.facts[f"card_{name}"])
    return {cell: str((card + step).quantize(places(text))) for cell, text in cells.items()}, {}


def stated(dice: random.Random, engine: Engine) -> tuple[dict[Cell, str], dict[str, str]] | None:
    """A stated size ten times too large or too small."""
    name = dice.choice(("card_main_journal", "stroke", "gasket_thickness", "checking_lift"))
    number, _, unit = engine.facts[name].partition(" ")
    wrong = Decimal(number) * dice.choice((Decimal(10), Decimal("0.1")))
    return {}, {name: f"{wrong:f} {unit}".strip()}


def radial(dice: random.Random, engine: Engine) -> tuple[dict[Cell, str], dict[str, str]] | None:
    """A clearance on the radius among clearances on the diameter."""
    cell = a_cell(dice, engine, ("main_clearance_direct",))
    assert cell is not None
    text = engine.cells[cell]
    return {cell: str((Decimal(text) / 2).quantize(places(text)))}, {}


SLIPS: dict[str, Slip] = {
    "thimble turn": moved(turn),
    "caliper tenth (inch sheets)": moved(tenth, "caliper"),
    "decimal, in a size": times(Decimal(10), lambda name: name in SIZES),
    "decimal, in a gap": times(Decimal(10), lambda name: name in SMALL[:3]),
    "decimal, in a weight or volume": times(Decimal(10), lambda name: name in NO_LENGTHS),
    "unit, in a size": times(INCH, lambda name: name in SIZES),
    "unit, in a gap": times(INCH, lambda name: name in SMALL[:3]),
    "thou or um without its unit": times(Decimal(1000), lambda name: name in SMALL[:3]),
    "digits exchanged": exchanged,
    "impossible negative": negative,
    "larger than new": grown,
    "decimal, in a stated fact": stated,
    "radial for diametral (not looked for)": radial,
}


def false_alarms(engines: list[Engine]) -> tuple[Rate, Rate, tuple[str, ...]]:
    """Readings and engines suspected where every figure is what the gauge showed, and what was said of them."""
    found = [look(engine) for engine in engines]
    told = tuple(figure_in_doubt(each) for of_one in found for each in of_one)
    readings = sum(len(engine.cells) for engine in engines)
    return Rate(len(told), readings), Rate(sum(map(bool, found)), len(engines)), told


def caught(slip: Slip, engines: list[Engine], dice: random.Random) -> tuple[Rate, Rate]:
    """How many slips of one kind were suspected, and how many were undone rightly."""
    tried = found = undone = 0
    for engine in engines:
        made = slip(dice, engine)
        if made is None or (not made[1] and all(engine.cells[cell] == text for cell, text in made[0].items())):
            continue
        tried += 1
        cells, facts = made
        wrong = look(engine, cells, facts)
        hit = [w for w in wrong if w.name in facts or any(w.name == c[0] and w.station == c[1] for c in cells)]
        found += bool(hit)
        undone += any(each.would_be is not None for each in hit)
    return Rate(found, tried), Rate(undone, tried)


def with_limits(engines: list[Engine], dice: random.Random) -> tuple[Rate, Rate, Rate]:
    """By the inspection: honest engines with a negative fit, journals written to two places, a bore 0.010 small."""
    fine = fine_of(engines)
    alarms = sum(_says(judged(engine), "impossible negative") for engine in fine)
    coarse = tight = 0
    spoken = [engine for engine in fine if ("main_bearing_bore", ("1",)) in spoken_of(engine)]
    for engine in spoken:
        rounded = Decimal("0.01") if engine.unit == "in" else Decimal("0.1")
        cells = {c: str(Decimal(t).quantize(rounded)) for c, t in engine.cells.items() if c[0] == "main_journal"}
        coarse += _says(judged(engine, cells), "too few places")
        bores = [c for c in engine.cells if c[0] == "main_bearing_bore"]
        cell = dice.choice(bores)
        small = Decimal("0.010") * (1 if engine.unit == "in" else INCH)
        found = judged(engine, {cell: str(Decimal(engine.cells[cell]) - small)})
        fits = (each for each in found.findings if each.rule == "main_oil_clearance")
        tight += any(fit.rests_on.suspect for fit in fits if fit.station["main"] == cell[1][0])
    return Rate(alarms, len(fine)), Rate(coarse, len(spoken)), Rate(tight, len(spoken))


def _journal(engine: Engine) -> str:
    return next(text for cell, text in engine.cells.items() if cell[0] == "main_journal")


def _says(inspection: Report, kind: str) -> bool:
    return any(each.reason.code == kind for finding in inspection.findings for each in finding.rests_on.suspect)


Cells = dict[Cell, str]
Truth = dict[tuple[str, tuple[str, ...]], None]


def station(engine: Engine, dice: random.Random, names: tuple[str, ...]) -> tuple[Cells, Truth]:
    """All readings of one of these at one station a turn of the thimble out."""
    name, at, _ = dice.choice([cell for cell in engine.cells if cell[0] in names])
    step = turn(dice, engine) * dice.choice((1, -1))
    there = {cell: text for cell, text in engine.cells.items() if cell[:2] == (name, at)}
    return {cell: str(Decimal(text) + step) for cell, text in there.items()}, {(name, at): None}


def one_journal(dice: random.Random, engine: Engine) -> tuple[Cells, Truth]:
    """One journal, wherever it was read."""
    return station(engine, dice, ("main_journal", "rod_journal"))


def one_bore(dice: random.Random, engine: Engine) -> tuple[Cells, Truth]:
    """One bearing bore, or one cylinder."""
    return station(engine, dice, ("main_bearing_bore", "rod_bearing_bore", "cylinder_bore"))


def all_mains(dice: random.Random, engine: Engine) -> tuple[Cells, Truth]:
    """Every main journal by the same turn, as one who reads the sleeve wrongly does."""
    step = turn(dice, engine) * dice.choice((1, -1))
    there = {cell: text for cell, text in engine.cells.items() if cell[0] == "main_journal"}
    cells = {cell: str(Decimal(text) + step) for cell, text in there.items()}
    return cells, dict.fromkeys((cell[0], cell[1]) for cell in there)


def pair(dice: random.Random, engine: Engine) -> tuple[Cells, Truth]:
    """A bore written for its journal, and the journal for the bore."""
    main = str(dice.randint(1, engine.mains))
    journal, bore = ([c for c in engine.cells if c[:2] == (name, (main,))] for name in SIZES[:2])
    cells = dict.fromkeys(journal, engine.cells[bore[0]]) | dict.fromkeys(bore, engine.cells[journal[0]])
    return cells, dict.fromkeys((cell[0], cell[1]) for cell in cells)


STATIONS: dict[str, Callable[[random.Random, Engine], tuple[Cells, Truth]]] = {
    "one journal, all readings a turn out": one_journal,
    "one bore, all readings a turn out": one_bore,
    "all mains a turn out": all_mains,
    "bore and journal exchanged": pair,
}


def spoken_of(engine: Engine) -> set[tuple[str, tuple[str, ...]]]:
    """The parts, by measurand and station, of fits that general practice has a least and a most for: where it has none,
    no fit is too far beyond it."""
    findings = [whole(each) for each in judged(engine).findings if None not in (each.limits.least, each.limits.most)]
    return {(each.name, tuple(each.station.values())) for finding in findings for each in finding.inputs}


def fine_of(engines: list[Engine]) -> list[Engine]:
    """Engines read to a tenth, or to two microns."""
    finest = {"in": Decimal("0.0001"), "mm": Decimal("0.002")}
    return [e for e in engines if e.gauge != "caliper" and places(_journal(e)) <= finest[e.unit]]


class StationRates(NamedTuple):
    """Of slips of whole stations those caught, those of them undone, and those where a good part was accused too."""

    caught: Rate
    undone: Rate
    others: Rate


def whole_stations(kind: str, engines: list[Engine], dice: random.Random) -> StationRates:
    """How often the inspection sees that all readings of a part are out, and what it says that they would be."""
    tried = found = undone = others = 0
    for engine in fine_of(engines):
        cells, truth = STATIONS[kind](dice, engine)
        if not truth.keys() & spoken_of(engine):
            continue
        told = {
            (suspect.name, suspect.station): suspect
            for finding in judged(engine, cells).findings
            for suspect in finding.rests_on.suspect
        }
        tried += 1
        found += any(key in told for key in truth)
        undone += any(key in told and told[key].would_be is not None for key in truth)
        others += any(key not in truth for key in told)
    return StationRates(Rate(found, tried), Rate(undone, tried), Rate(others, tried))


def fits_doubted(engines: list[Engine]) -> tuple[Rate, tuple[str, ...]]:
    """Honest engines in which some fit is said to be impossible, and what was said."""
    told = [
        [figure_in_doubt(suspect) for finding in judged(engine).findings for suspect in finding.rests_on.suspect]
        for engine in engines
    ]
    return Rate(sum(map(bool, told)), len(engines)), tuple(dict.fromkeys(each for one in told for each in one))


def widths(engines: list[Engine]) -> list[tuple[Decimal, str]]:
    """How many times the width of its limits every honest fit lies beyond them, the farthest first."""
    found = [
        (finding.beyond / (finding.limits.most - finding.limits.least), finding.rule)
        for engine in engines
        for finding in judged(engine).findings
        if finding.beyond and finding.limits.least is not None and finding.limits.most is not None
    ]
    return sorted(found, reverse=True)


def copied(engines: list[Engine]) -> tuple[Rate, Rate]:
    """Honest engines with a remark that all is alike, and engines where the first bores were copied to all stations."""
    honestly = wrongly = 0
    for engine in engines:
        honestly += _alike(engine, {}, "cylinder_bore")
        first = engine.cells[("cylinder_bore", ("1",), 0)]
        wrongly += _alike(engine, {cell: first for cell in engine.cells if cell[0] == "cylinder_bore"}, "cylinder_bore")
    return Rate(honestly, len(engines)), Rate(wrongly, len(engines))


def _alike(engine: Engine, cells: dict[Cell, str], what: str) -> bool:
    return any(what in remark.names for remark in all_alike(*read(engine.sheet(cells))))


def main(engines: int = 1000, seed: int = 1) -> None:
    """Print the rates."""
    say = sys.stdout.write
    dice = random.Random(seed)
    made = [honest(dice) for _ in range(engines)]
    readings, marked, told = false_alarms(made)
    say(f"{engines} honest engines, {readings.tried} readings, seed {seed}\n")
    say(f"false alarms a thousand readings     {1000 * readings.found / readings.tried:8.3f}\n")
    say(f"engines with a false alarm           {marked}\n")
    for said in told[:12]:
        say(f"    {said}\n")
    say("slips caught, and of them with what the reading would be\n")
    for name, slip in SLIPS.items():
        found, undone = caught(slip, made[: engines // 2], dice)
        say(f"  {name:38}{found}   {undone.found}\n")
    alarms, coarse, tight = with_limits(made[: engines // 5], dice)
    say("by the inspection, which knows the limits\n")
    say(f"  {'honest engines, a negative fit':38}{alarms}\n")
    say(f"  {'journals written to two places':38}{coarse}\n")
    say(f"  {'a bore read 0.010 in small':38}{tight}\n")
    doubted, words = fits_doubted(fine_of(made[: engines // 5]))
    say(f"  {'honest engines, any reading doubted':38}{doubted}\n")
    for said in words[:12]:
        say(f"    {said}\n")
    for far, rule in widths(made[: engines // 5])[:5]:
        say(f"    farthest beyond, in widths: {far:.1f} {rule}\n")
    say("whole stations, undone, and with a good part accused besides\n")
    for name in STATIONS:
        found, undone, others = whole_stations(name, made[: engines // 5], dice)
        say(f"  {name:38}{found}   {undone.found}   {others.found}\n")
    honestly, wrongly = copied([engine for engine in made[: engines // 2] if engine.cylinders >= 4])
    say("remarks that all bores are alike\n")
    say(f"  {'honest engines':38}{honestly}\n")
    say(f"  {'one bore copied to all stations':38}{wrongly}\n")


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
