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
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal, localcontext
from itertools import product
from pathlib import Path

from specrules.evaluate import NotEvaluable, Point, evaluate
from specrules.evaluate.binding import Binding, SheetEnvironment
from specrules.formula import Formula, Station
from specrules.pack import Measurand, Specification
from specrules.pack.blades import Gap
from specrules.quantity import CONTEXT
from specrules.sheet import Reading, Sheet, read_sheet, settle
from tests.shipped import resolved

DEMO = Path(__file__).parents[2] / "specrules" / "demo" / "carousel.sheet.yaml"
PACKS = ("general", "street")
TRIALS = 4000
SEED = 3
PROBABILITIES = (0.05, 0.25, 0.5, 0.75, 0.95)
"""At these a limit is put where the program says that it is met with this probability."""
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


class Simulation:
    """Trials on one engine; the error sources are those that the program itself numbers."""

    def __init__(self, sheet: Sheet, spec: Specification, chance: random.Random) -> None:
        self.sheet, self.spec, self.chance = sheet, spec, chance
        start = Binding(sheet, spec, simple=False)
        self.sources = start.error_sources
        self.steps = [
            _step(g.capability.at(r.value or Decimal(0)).resolution, r)
            for g, r in zip(start.gaugings, sheet.readings, strict=True)
        ]
        self.doubts = [
            math.sqrt(self.sources.parts[number].variance + step * step / 12) for number, step in enumerate(self.steps)
        ]
        self.blades = [g.capability if g.capability.goes else None for g in start.gaugings]

    def true_sizes(self, tapered: bool) -> Sequence[float]:
        """Sizes anywhere between two steps of the gauge; of tapered parts each place has its own."""
        offs: dict[str, float] = {}
        sizes = []
        for reading, step, doubt, blades in zip(self.sheet.readings, self.steps, self.doubts, self.blades, strict=True):
            size, rough = float(reading.value or 0), ROUGH * doubt / 2
            if blades is not None:  # what is usual may lie past the thickest blade, where nothing is known
                thin, next_but_three, thick = (float(blades.steps[0].sizes[at]) for at in (1, 5, -2))
                size, rough, step = (thin + thick) / 2, (thick - thin) / 2.5, next_but_three - thin
            off = offs.setdefault(reading.name, self.chance.uniform(0, step))
            sizes.append(size + off + (self.chance.uniform(-rough, rough) if tapered else 0.0))
        return sizes

    def observed(self, sizes: Sequence[float]) -> Sheet:
        """The sheet as the gauges read these sizes."""
        binding = Binding(self.truth(sizes), self.spec, simple=False)
        self.sources = binding.error_sources
        drawn = [self._drawn(number) for number in range(len(self.sources.parts))]
        readings = []
        for number, (reading, true, step) in enumerate(zip(self.sheet.readings, sizes, self.steps, strict=True)):
            own = self.chance.gauss(0, math.sqrt(self.sources.parts[number].variance))
            moves = binding.cells[reading.name, reading.station + (reading.position or ())].low
            assert moves is not None
            shared = sum(by * drawn[cause] for cause, by in moves.slopes.items() if cause >= self.sources.own)
            blades = self.blades[number]
            if blades is not None:  # how thick a blade is, and how it is felt, tells which goes
                readings.append(_between(reading, blades.gap(Decimal(repr(true + own + shared)), reading.unit)))
                continue
            written = self.chance.uniform(-step / 2, step / 2)  # the last step: anywhere in it
            readings.append(_shown(reading, true + own + shared + written, 0.0))
        return self.sheet._replace(readings=tuple(readings))

    def truth(self, sizes: Sequence[float]) -> Sheet:
        """The sheet as it would be without any error."""
        readings = [_shown(reading, true, 0.0) for reading, true in zip(self.sheet.readings, sizes, strict=True)]
        return self.sheet._replace(readings=tuple(readings))

    def _drawn(self, number: int) -> float:
        part = self.sources.parts[number]
        return self.chance.gauss(0, math.sqrt(part.variance)) + self.chance.uniform(-part.half, part.half)


def _step(resolution: object, reading: Reading) -> float:
    return float(resolution.at(reading.value)) if resolution is not None else 0.0  # type: ignore[attr-defined]


def _shown(reading: Reading, value: float, step: float) -> Reading:
    shown = Decimal(repr(round(value / step) * step if step else value))
    return reading._replace(value=shown, low=shown, high=shown)


def _between(reading: Reading, gap: Gap) -> Reading:
    middle = None if gap.high is None else (gap.low + gap.high) / 2
    return reading._replace(value=middle, low=gap.low, high=gap.high)


def point_of(formula: Formula, environment: SheetEnvironment, station: Station) -> Point | None:
    """What a formula comes to where it is one number."""
    try:
        value = evaluate(formula, environment, station)
    except NotEvaluable:
        return None
    return value.low if value is not None and value.exact and value.whole else None


def rows(packs: Sequence[str], trials: int, seed: int = SEED) -> list[Row]:
    """Every rule of the packs on both kinds of part."""
    sheet, spec = engine(packs)
    chance = random.Random(seed)
    found: dict[tuple[str, str], Row] = {}
    with localcontext(CONTEXT):
        of = Simulation(sheet, spec, chance)
        stations = {
            name: [
                dict(zip(rule.each, labels, strict=True))
                for labels in product(*(sheet.labels.get(axis, ()) for axis in rule.each))
            ]
            for name, rule in ((name, chain.governing[-1]) for name, chain in spec.rules.items())
        }
        for trial in range(2 * trials):
            part = "tapered" if trial % 2 else "straight"
            sizes = of.true_sizes(part == "tapered")
            binding = Binding(of.observed(sizes), spec, simple=False)
            observed = binding.environment()
            true = Binding(of.truth(sizes), spec, simple=True).environment()
            for name, places in stations.items():
                formula = spec.rules[name].governing[-1].formula
                for station in chance.sample(places, min(STATIONS, len(places))):
                    seen, real = point_of(formula, observed, station), point_of(formula, true, station)
                    if seen is not None and real is not None:
                        note(found.setdefault((name, part), Row(name, part)), seen, float(real.value), binding)
    return [row for row in found.values() if row.trials >= trials / 2]


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
    print(table(rows(PACKS, int(sys.argv[1]) if len(sys.argv) > 1 else TRIALS)))  # noqa: T201 - a command
