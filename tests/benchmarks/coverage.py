"""How often the truth lies inside value and U, and how true the probability is: `python -m tests.benchmarks.coverage`.

Every rule of the packs is tried on an engine whose true sizes are known. They are read with the gauges of the demo,
whose errors are drawn as the packs' figures say; the last step counts as any part of it, and blades as the two between
which the gap lies. Parts are straight (all places of a kind are of one size) or tapered (no two places within what the
gauges leave in doubt). The fears: that the truth is outside U more often than one time in twenty, or so seldom that U
is too wide; that a limit said to be met with a probability of 50 % is met in 77 % of cases.
"""

from __future__ import annotations

import math
import random
import sys
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from copy import copy
from dataclasses import dataclass, field, replace
from decimal import Decimal, localcontext
from itertools import chain, product, repeat
from pathlib import Path
from typing import NamedTuple

from specrules.evaluate import NotEvaluable, Point, Value, evaluate, exactly
from specrules.evaluate.binding import Binding, SheetEnvironment
from specrules.evaluate.error_sources import Part
from specrules.formula import Formula, Station
from specrules.pack import Measurand, Specification
from specrules.quantity import CONTEXT
from specrules.sheet import Reading, Sheet, read_sheet, settle
from tests.shipped import resolved

DEMO = Path(__file__).parents[2] / "specrules" / "demo" / "carousel.sheet.yaml"
PACKS = ("general", "street")
TRIALS = 1600
SEED = 3
PROBABILITIES = (0.05, 0.25, 0.5, 0.75, 0.95)
"""At these a limit is put where the program says that it is met with this probability."""
PARTS = ("straight", "tapered")
SEEMS_OFF = 1.5
"""Points by which a probability may be off by chance alone: where it is more, chance is given less to say."""
PAIRS = 4
"""So many times an engine is read, and again with every error turned round."""
STATIONS = 2
"""So many stations of a rule are looked at in each trial, by chance."""
ROUGH = 4000.0
"""How far tapered places lie apart at the most, in standard uncertainties of one reading."""


@dataclass
class Row:
    """How one rule fared on one kind of part."""

    rule: str
    part: str
    trials: int = 0
    inside: int = 0  # the truth was inside value and U
    met: list[int] = field(default_factory=lambda: [0] * len(PROBABILITIES))  # limits that the truth met, of each
    approximate: int = 0

    @property
    def covered(self) -> float:
        """In how many of a hundred trials the truth lay inside value and U."""
        return 100 * self.inside / self.trials

    @property
    def off(self) -> float:
        """By how many points the probability is off, where it is most."""
        shares = zip(PROBABILITIES, self.met, strict=True)
        return max(abs(100 * met / self.trials - 100 * said) for said, met in shares)

    @property
    def doubtful(self) -> bool:
        """Whether chance, or more than chance, may lie behind what it came to."""
        return self.off > SEEMS_OFF or not 95 <= self.covered <= 99.5

    def text(self) -> str:
        """As a row of the table."""
        shares = " | ".join(f"{100 * met / self.trials:.0f}" for met in self.met)
        about = " about" if 2 * self.approximate > self.trials else ""
        return f"| {self.rule} | {self.part} | {self.covered:.1f} | {shares} | {self.off:.1f}{about} |"


def engine(packs: Sequence[str]) -> tuple[Sheet, Specification]:
    """The demo's engine and gauges with a reading at every place, in the middle of what is usual."""
    spec = resolved(*packs)
    raw, wrong = read_sheet(DEMO.read_bytes(), "coverage.sheet.yaml")
    assert raw is not None, [fault.sentence() for fault in wrong]
    sheet, wrong = settle(raw, spec)
    assert sheet is not None, [fault.sentence() for fault in wrong]
    gauges = {reading.name: reading.gauge for reading in sheet.readings if reading.gauge}
    return sheet._replace(readings=tuple(_filled(sheet, spec, gauges)), work_done=()), spec


def _filled(sheet: Sheet, spec: Specification, gauges: Mapping[str, str]) -> Iterator[Reading]:
    number = 0
    for measurand in spec.measurands.values():
        usual = measurand.usual
        if usual is None or usual.low is None or usual.high is None:
            continue
        for station in product(*(sheet.labels.get(axis, ()) for axis in measurand.at)):
            for position in product(*(sheet.labels.get(axis, ()) for axis in measurand.positions)):
                number += 1
                size = (usual.low + usual.high) / 2
                yield _reading(measurand, station, position, size, gauges.get(measurand.name, ""), number)


def _reading(
    measurand: Measurand, station: tuple[str, ...], position: tuple[str, ...], size: Decimal, gauge: str, number: int
) -> Reading:
    return Reading(
        name=measurand.name, station=station, position=position if measurand.positions else None, value=size, low=size,
        high=size, U=None, place_value=Decimal("0.0001"), unit=measurand.unit, text="", repeats=1, gauge=gauge,
        taken=None, after=(), because="", place=measurand.place, statement=number, squares=Decimal(0), part_at=None,
        gauge_at=None, group=False, confirmed="",
    )  # fmt: skip


class Seen(NamedTuple):
    """What the gauges read of an engine, the engine itself, and of each rule the stations that are looked at."""

    binding: Binding
    true: Binding
    stations: Mapping[str, Sequence[Station]]


class Simulation:
    """Builds of one engine; the error sources are those that the program itself numbers."""

    def __init__(self, sheet: Sheet, spec: Specification, chance: random.Random) -> None:
        self.sheet, self.spec, self.chance = sheet, spec, chance
        start = Binding(sheet, spec, simple=False)
        self.steps = [
            _step(g.capability.at(r.value or Decimal(0)).resolution, r)
            for g, r in zip(start.gaugings, sheet.readings, strict=True)
        ]
        own = start.error_sources.parts[: len(self.steps)]
        doubts = zip(own, self.steps, strict=True)
        self.doubts = [math.sqrt(part.variance + step * step / 12) for part, step in doubts]
        self.blades = [g.capability if g.capability.goes else None for g in start.gaugings]
        self.wanted: Sequence[int] = range(len(sheet.readings))
        self.stations = {
            name: [
                dict(zip(rule.each, labels, strict=True))
                for labels in product(*(sheet.labels.get(axis, ()) for axis in rule.each))
            ]
            for name, rule in ((name, rules.governing[-1]) for name, rules in spec.rules.items())
        }

    def look_at(self, rules: Collection[str]) -> None:
        """Go on with these rules alone, and read no more than they ask for."""
        self.stations = {rule: self.stations[rule] for rule in rules}
        true = self._bound(self._sizes("straight"))
        environment = true.environment()
        for rule, places in self.stations.items():
            for station in places:
                point_of(self.spec.rules[rule].governing[-1].formula, environment, station)
        asked = environment.trace.asked
        self.wanted = [at for at, reading in enumerate(true.readings) if _place(reading) in asked]

    def seen(self, part: str) -> Iterator[Seen]:
        """Readings of one engine in pairs, the second with every error turned round: so the mean of few says what that
        of many would (antithetic variates). The gaps that blades read are others for each pair, since how thick a blade
        is errs by less than they lie apart."""
        sizes = self._sizes(part)
        true = self._bound(sizes)
        causes = [*true.error_sources.parts]
        for _ in range(PAIRS):
            sizes = [
                new if blades else old for old, new, blades in zip(sizes, self._sizes(part), self.blades, strict=True)
            ]
            again = self._moved(true, causes, sizes, [0.0] * len(causes), exact=True)
            drawn = self._drawn(causes)
            places = self.stations.items()
            stations = {name: self.chance.sample(of, min(STATIONS, len(of))) for name, of in places}
            for sign in (1, -1):
                yield Seen(self._moved(true, causes, sizes, [sign * error for error in drawn]), again, stations)

    def _bound(self, sizes: Sequence[float]) -> Binding:
        """The engine as it would be read without any error."""
        readings = []
        for reading, size in zip(self.sheet.readings, sizes, strict=True):
            shown = Decimal(repr(size))
            readings.append(reading._replace(value=shown, low=shown, high=shown))
        return Binding(self.sheet._replace(readings=tuple(readings)), self.spec, simple=False)

    def _sizes(self, part: str) -> Sequence[float]:
        """Sizes anywhere between two steps of the gauge; of tapered parts each place has its own."""
        offs: dict[str, float] = {}
        sizes = []
        for reading, step, doubt, blades in zip(self.sheet.readings, self.steps, self.doubts, self.blades, strict=True):
            size, rough = float(reading.value or 0), ROUGH * doubt / 2
            if blades is not None:  # what is usual may lie past the thickest blade, where nothing is known
                thin, next_but_three, thick = (float(blades.steps[0].sizes[at]) for at in (1, 5, -2))
                size, rough, step = (thin + thick) / 2, (thick - thin) / 2.5, next_but_three - thin
            off = offs.setdefault(reading.name, self.chance.uniform(0, step))
            sizes.append(size + off + (self.chance.uniform(-rough, rough) if part == "tapered" else 0.0))
        return sizes

    def _drawn(self, causes: Sequence[Part]) -> Sequence[float]:
        """The error of each source; of a reading's own, the last step counts as any part of it."""
        drawn = []
        for number, part in enumerate(causes):
            half = part.half
            if number < len(self.steps):
                half = 0.0 if self.blades[number] is not None else self.steps[number] / 2
            drawn.append(self.chance.gauss(0, math.sqrt(part.variance)) + self.chance.uniform(-half, half))
        return drawn

    def _moved(
        self,
        true: Binding,
        causes: Sequence[Part],
        sizes: Sequence[float],
        errors: Sequence[float],
        exact: bool = False,
    ) -> Binding:
        """What is read of these sizes with these errors; the causes are those of the engine bound, all but the same.

        `exact`: by no gauge, and so between no blades.
        """
        sources, seen = true.error_sources, copy(true)
        us = [part.u for part in causes]
        seen.error_sources = replace(sources, parts=[*causes], us=us, shared=dict(sources.shared))
        seen.cells, seen.rows = {}, {}
        for number in self.wanted:
            reading, blades = true.readings[number], self.blades[number]
            place = _place(reading)
            cell = true.cells[place]
            assert cell.low is not None
            slopes = cell.low.slopes
            shown = sizes[number] + sum([by * errors[cause] for cause, by in slopes.items()])
            if blades is None or exact:
                seen.cells[place] = exactly(Decimal(repr(shown)), slopes)
                continue
            low, high, _ = blades.gap(Decimal(repr(shown)), reading.unit)  # how a blade is felt tells which goes
            if high is None:
                seen.cells[place] = Value(Point(low, slopes), None)
                continue
            seen.cells[place] = exactly((low + high) / 2, slopes)
            own = causes[number]._replace(half=float(high - low) / 2, bracket=True)
            seen.error_sources.parts[number], seen.error_sources.us[number] = own, own.u
        return seen


def _place(reading: Reading) -> tuple[str, tuple[str, ...]]:
    return reading.name, reading.station + (reading.position or ())


def _step(resolution: object, reading: Reading) -> float:
    return float(resolution.at(reading.value)) if resolution is not None else 0.0  # type: ignore[attr-defined]


def point_of(formula: Formula, environment: SheetEnvironment, station: Station) -> Point | None:
    """What a formula comes to where it is one number."""
    try:
        value = evaluate(formula, environment, station)
    except NotEvaluable:
        return None
    return value.low if value is not None and value.exact and value.whole else None


def count(seen: Iterable[Seen], part: str, found: dict[str, Row]) -> None:
    """Add what was read to the row of each rule."""
    with localcontext(CONTEXT):
        for binding, engine_itself, stations in seen:
            observed, true = binding.environment(), engine_itself.environment()
            for name, places in stations.items():
                formula = binding.spec.rules[name].governing[-1].formula
                row = found.setdefault(name, Row(name, part))
                for station in places:
                    read, real = point_of(formula, observed, station), point_of(formula, true, station)
                    if read is not None and real is not None:
                        note(row, read, float(real.value), binding)


def rows(part: str, trials: int, seed: int = SEED) -> list[Row]:
    """Every rule of the packs on one kind of part; of those in doubt, four times as many trials."""
    of = Simulation(*engine(PACKS), random.Random(seed))
    engines = math.ceil(trials / PAIRS / 2)
    found: dict[str, Row] = {}
    count(chain.from_iterable(of.seen(part) for _ in range(engines)), part, found)
    most = max(row.trials for row in found.values())
    known = {name: row for name, row in found.items() if row.trials >= most / 4}
    of.look_at([name for name, row in known.items() if row.doubtful])
    if of.stations:
        count(chain.from_iterable(of.seen(part) for _ in range(3 * engines)), part, known)
    return list(known.values())


def note(row: Row, seen: Point, real: float, binding: Binding) -> None:
    """Count one value: a limit that is met with probability p is met by the truth in p of the cases."""
    error = binding.error_sources.distribution(seen.slopes)
    if not error.known:
        return
    sure, off = binding.error_sources.uncertainty(seen), real - float(seen.value)
    near = 1e-9 * abs(real)
    row.trials += 1
    row.inside += -float(sure.down) - near <= off <= float(sure.up) + near
    row.approximate += error.approximate
    beneath = 1.0 - error.below(-off)  # the probability that the truth is at most where it is
    for number, said in enumerate(PROBABILITIES):
        row.met[number] += beneath <= said


def table(found: Sequence[Row]) -> str:
    """The rows as the table that the README beside holds, the worst first."""
    said = " | ".join(f"{100 * p:.0f}" for p in PROBABILITIES)
    head = f"| rule | parts | inside U, % | {said} | off |\n| --- | --- | --: | --: | --: | --: | --: | --: | --: |"
    return "\n".join([head, *(row.text() for row in sorted(found, key=lambda row: -row.off))])


if __name__ == "__main__":
    trials = int(sys.argv[1]) if len(sys.argv) > 1 else TRIALS
    with ProcessPoolExecutor(len(PARTS)) as processes:
        print(table([row for of in processes.map(rows, PARTS, repeat(trials)) for row in of]))  # noqa: T201 - a command
