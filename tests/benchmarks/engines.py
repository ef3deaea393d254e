"""Invented engines as careful and careless hands would measure them, the spreads taken from the public cases.

What no case shows (taper of worn bores, weights, how often a part is bad) is common practice, no source.
"""

from __future__ import annotations

import random
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from decimal import ROUND_HALF_EVEN, Decimal
from functools import cache
from statistics import fmean

from tests.cases.casework import case, sheet_text
from tests.inspecting import settled

INCH = Decimal("25.4")
Cell = tuple[str, tuple[str, ...], int]
"""A measurand, its station's labels, and the number of the figure there."""


@dataclass
class Engine:
    """One build as it is written down: texts by cell, in the order of the sheet."""

    unit: str
    cylinders: int
    mains: int
    gauge: str  # the class that every size was read with; "" where nobody says
    worn: bool
    facts: dict[str, str]
    cells: dict[Cell, str] = field(default_factory=dict)

    def sheet(self, changed: Mapping[Cell, str] | None = None, facts: Mapping[str, str] | None = None) -> str:
        """The build sheet's text, with some cells or facts written otherwise."""
        cells = {**self.cells, **(changed or {})}
        throws = ", ".join(f"[{n}]" for n in range(1, self.cylinders + 1))
        rows = [
            "specrules: build-sheet/1",
            "packs: [general]",
            f"unit: {self.unit}",
            f"facts: {{cylinders: {self.cylinders}, mains: {self.mains}, throws: [{throws}],",
            f"  work: {'refresh' if self.worn else 'new_build'}, rod_material: steel, block_material: iron,",
            "  ignition: spark, cooling: liquid, cycle: four_stroke,",
            *(f"  {name}: {text}," for name, text in {**self.facts, **(facts or {})}.items()),
            "  }",
            *([f"gauges: {{mine: {{class: {self.gauge}}}}}"] if self.gauge else []),
            "readings:",
        ]
        by_station: dict[str, dict[tuple[str, ...], list[str]]] = {}
        for (name, station, _), text in cells.items():
            by_station.setdefault(name, {}).setdefault(station, []).append(text)
        for name, stations in by_station.items():
            rows.append(f"  {name}:")
            rows += ["    gauge: mine"] if self.gauge and name in SIZES else []
            nested: dict[str, list[str]] = {}
            for station, texts in stations.items():
                figure = texts[0] if len(texts) == 1 else f"[{', '.join(texts)}]"
                nested.setdefault(station[0], []).append(f"{station[1]}: {figure}" if len(station) > 1 else figure)
            for label, figures in nested.items():
                two = ": " in figures[0]
                rows.append(f"    {label}: {{{', '.join(figures)}}}" if two else f"    {label}: {figures[0]}")
        return "\n".join(rows) + "\n"


SIZES = (
    "main_journal",
    "main_bearing_bore",
    "rod_journal",
    "rod_bearing_bore",
    "cylinder_bore",
    "piston_skirt",
    "pin_diameter",
    "pin_bore_piston",
)
"""What is measured with one gauge all through, where somebody names it."""


@cache
def figures(name: str, sheet: str, measurand: str, *labels: str) -> tuple[float, ...]:
    """The readings of a public case as they were written, in base units."""
    read, _, faults = settled(sheet_text(name, sheet), case(name).get("packs", {}))
    assert read is not None, faults
    found = [each.as_written() for each in read.readings if each.name == measurand and set(labels) <= set(each.station)]
    return tuple(float(each.value) for each in found if each.value is not None)


def span(values: tuple[float, ...]) -> float:
    """How far apart they lie."""
    return max(values) - min(values)


@dataclass(frozen=True)
class Spread:
    """How far honest readings of one kind lie apart, in mm, or as a part of their size where it says so."""

    journal: float  # four readings of one journal
    clearance: float  # mains of one crank
    loose: float  # how many times its neighbours a bad main reads
    gap: float  # rings of one kind in one engine
    deck: float  # corners of one block
    chamber: float  # chambers that do not belong together, as part of their size
    guide: float  # how many times its neighbours a worn guide reads


@cache
def spread() -> Spread:
    """What the public cases show."""
    journal = figures("c05", "as measured", "rod_journal")
    mains = figures("c01", "as measured", "main_clearance_direct")
    gaps = [figures("c11", "as measured", "ring_end_gap", ring) for ring in ("top", "second")]
    chambers = figures("c14", "as measured", "chamber_volume")
    guides = figures("c19", "as stated", "guide_clearance_direct")
    return Spread(
        journal=span(journal[:4]),
        clearance=span(mains[:4]),
        loose=mains[4] / fmean(mains[:4]),
        gap=max(map(span, gaps)),
        deck=span(figures("c13", "with the zero given", "deck_height")),
        chamber=span(chambers) / fmean(chambers),
        guide=max(guides) / min(guides),
    )


def honest(dice: random.Random) -> Engine:
    """An engine in which every figure is what the gauge showed: good, worn and bad parts, coarse and thin readings."""
    unit = dice.choice(("in", "mm"))
    gauge = dice.choice(("", "", "outside micrometer", "bore gauge", "caliper"))
    worn = dice.random() < 0.4
    engine = Engine(unit, dice.choice((3, 4, 6, 8)), dice.choice((3, 5, 7)), gauge, worn, {})
    bench = _Bench(dice, engine, spread())
    bench.measure()
    return engine


class _Bench:
    def __init__(self, dice: random.Random, engine: Engine, spread: Spread) -> None:
        self.dice, self.engine, self.spread = dice, engine, spread
        coarse = engine.gauge == "caliper"
        steps = ("0.001", "0.0005") if coarse else ("0.0001", "0.0001", "0.0001", "0.00005", "0.001")
        metric = ("0.01", "0.02") if coarse else ("0.001", "0.001", "0.002", "0.01")
        self.step = Decimal(dice.choice(steps if engine.unit == "in" else metric))
        self.noise = 0.010 if coarse else 0.0025  # of the hand and the gauge, standard deviation in mm
        self.thin = dice.random() < 0.3  # one figure for a station where there are more to take

    def written(self, mm: float, step: Decimal | None = None) -> str:
        """A length as the gauge shows it."""
        step = step or self.step
        number = Decimal(mm) / (INCH if self.engine.unit == "in" else 1)
        return str((number / step).quantize(Decimal(1), ROUND_HALF_EVEN) * step)

    def put(self, name: str, station: tuple[str, ...], sizes: Sequence[float]) -> None:
        """Sizes at one station; some left open, as on a bench."""
        for number, size in enumerate(sizes[: 1 if self.thin else None]):
            self.engine.cells[(name, station, number)] = self.written(self.dice.gauss(size, self.noise))

    def round_parts(
        self, name: str, stations: int, nominal: float, positions: int, taper: float, odd: float, bad: int = -1
    ) -> None:
        """Parts of one size: a spread between them, a taper and out of round in each, now and then a bad one."""
        dice, within = self.dice, self.spread.journal
        if bad < 0:
            bad = dice.randint(1, stations) if dice.random() < 0.15 else 0
        for station in range(1, stations + 1):
            apart = within if name.startswith("pin_") else self.spread.clearance  # pins are lapped, and chosen to fit
            size = nominal + dice.uniform(-0.5, 0.5) * apart
            size += odd * (dice.uniform(0.3, 1) if abs(odd) < 0.2 else 1) if station == bad else 0
            lean = dice.uniform(0, taper)
            shape = [size + lean * place / max(positions - 1, 1) for place in range(positions)]
            self.put(name, (str(station),), [each + dice.uniform(-within, within) for each in shape])

    def measure(self) -> None:
        """The whole bench, in the order of a build."""
        dice, engine, n, mains = self.dice, self.engine, self.engine.cylinders, self.engine.mains
        wear = 0.05 if engine.worn else 0.005
        main, rod, bore = dice.uniform(45, 85), dice.uniform(40, 65), dice.uniform(65, 115)
        fit = dice.uniform(0.03, 0.075)
        self.pair("main_journal", "main_bearing_bore", mains, main, fit, wear)
        self.direct(mains, fit)
        self.pair("rod_journal", "rod_bearing_bore", n, rod, fit, wear)
        over = dice.choice((0.254, 0.508, 0.762)) if engine.unit == "in" else dice.choice((0.25, 0.5, 0.75, 1.0))
        bored = dice.randint(1, n) if dice.random() < 0.1 else 0  # one cylinder, with a piston to suit
        self.round_parts("cylinder_bore", n, bore, 6, wear * 2, over, bored)
        self.round_parts("piston_skirt", n, bore - 0.08, 1, 0, over, bored)
        self.round_parts("pin_diameter", n, bore / 4.2, 1, 0, -0.01)
        self.round_parts("pin_bore_piston", n, bore / 4.2 + 0.015, 1, 0, 0.01)
        self.gaps(n, bore)
        self.others(n, bore)
        card = {
            "card_main_journal": main,
            "card_rod_journal": rod,
            "card_bore": bore,
            "stroke": bore,
            "gasket_thickness": 1.0,
        }
        step = Decimal("0.0001" if engine.unit == "in" else "0.001")
        engine.facts = {name: self.written(size, step) for name, size in card.items()}
        engine.facts |= {"checking_lift": dice.choice(("0.050 in", "1 mm", "0.006 in"))}

    def pair(self, journal: str, bore: str, stations: int, size: float, fit: float, wear: float) -> None:
        """Journals and bores; now and then one journal, or all, ground undersize, with shells to suit."""
        dice = self.dice
        step = dice.choice((1, 2, 3)) * (0.254 if self.engine.unit == "in" else 0.25)
        alone, every = dice.random() < 0.15, dice.random() < 0.15
        size -= step if every else 0
        ground = dice.randint(1, stations) if alone else -1
        self.round_parts(journal, stations, size, 4, wear / 4, -step if alone else -wear, ground)
        self.round_parts(bore, stations, size + fit, 2, 0.005, -step if alone else wear, ground)

    def direct(self, mains: int, fit: float) -> None:
        """Clearances straight off a dial; now and then a loose one."""
        bad = self.dice.randint(1, mains) if self.dice.random() < 0.2 else 0
        step = Decimal("0.0001" if self.engine.unit == "in" else "0.002")
        for main in range(1, mains + 1):
            size = max(fit + self.dice.uniform(-0.5, 0.5) * self.spread.clearance, 0.01)
            size *= self.spread.loose if main == bad else 1
            self.engine.cells[("main_clearance_direct", (str(main),), 0)] = self.written(size, step)

    def gaps(self, n: int, bore: float) -> None:
        """Ring gaps to the blade, side gaps, guides; one worn guide now and then."""
        dice, engine = self.dice, self.engine
        blade = Decimal("0.001" if engine.unit == "in" else "0.02")
        tenth = Decimal("0.0001" if engine.unit == "in" else "0.005")
        bad = dice.randint(1, n) if dice.random() < 0.3 else 0
        for cylinder in range(1, n + 1):
            for ring, factor in (("top", 0.0045), ("second", 0.0055)):
                size = factor * bore + dice.uniform(-0.5, 0.5) * self.spread.gap
                engine.cells[("ring_end_gap", (str(cylinder), ring), 0)] = self.written(size, blade)
            for ring in ("top", "second"):
                gap = dice.uniform(0.04, 0.09)
                engine.cells[("ring_side_gap", (str(cylinder), ring), 0)] = self.written(gap, tenth)
        guide = dice.uniform(7, 9.5)
        for cylinder in range(1, n + 1):
            for valve in ("intake", "exhaust"):
                size = dice.uniform(0.03, 0.06) * (self.spread.guide if cylinder == bad and valve == "exhaust" else 1)
                at, stem = (str(cylinder), valve), guide + dice.uniform(-0.5, 0.5) * self.spread.clearance
                engine.cells[("guide_bore", at, 0)] = self.written(stem + size)
                engine.cells[("valve_stem", at, 0)] = self.written(stem)

    def others(self, n: int, bore: float) -> None:
        """Chambers, weights, decks; heads that do not belong together now and then."""
        dice, engine = self.dice, self.engine
        chamber, weight = dice.uniform(30, 90), bore**2 / 15
        mixed = self.spread.chamber if dice.random() < 0.1 else 0.02
        for cylinder in range(1, n + 1):
            at = (str(cylinder),)
            volume = chamber * (1 + dice.uniform(-0.5, 0.5) * mixed)
            engine.cells[("chamber_volume", at, 0)] = f"{volume:.1f}"
            engine.cells[("piston_weight", at, 0)] = f"{weight + dice.uniform(-4, 4):.1f}"
            step = Decimal("0.0005" if engine.unit == "in" else "0.01")
            below = dice.uniform(-0.1, 0.4) + dice.uniform(-0.5, 0.5) * self.spread.deck
            engine.cells[("piston_below_deck", at, 0)] = self.written(below, step)
