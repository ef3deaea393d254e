"""How often the truth lies inside value and U, by simulation: `python -m tests.benchmarks.coverage_of_u`.

True sizes are known here; they are read with a micrometer and a bore gauge that was set with it, whose errors are
drawn as the packs' figures say, and written down to the gauges' last step. The fear behind each row: that the greatest
of equal readings is too great, and that errors go beyond U more often than one time in twenty, all on one side.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal, localcontext

from specrules.evaluate import Point, evaluate
from specrules.evaluate.binding import Binding
from specrules.evaluate.error_sources import Uncertainty
from specrules.formula import Formula
from specrules.pack import Specification
from specrules.quantity import CONTEXT
from specrules.sheet import Sheet, read_sheet, settle
from tests.shipped import resolved

TRIALS = 4000
SEED = 3
MAINS = 5
INCH = 25.4
STEP = 0.0001 * INCH  # both gauges read to a tenth of a thou
EVEN = {"front": 0.0, "rear": 0.0}
TAPERED = {"front": 0.0, "rear": 0.0004}
"""How much larger a plane is, in inches: nothing, or more than twice U of a difference of two readings (0.00016)."""

SHEET = f"""\
specrules: build-sheet/1
packs: [general]
unit: in
gauges:
  mic: {{class: outside micrometer}}
  bore gauge: {{class: bore gauge, set with: mic}}
readings:
  main_journal:
    gauge: mic
{chr(10).join(f"    {n}: [2.4990, 2.4990, 2.4990, 2.4990]" for n in range(1, MAINS + 1))}
  main_bearing_bore:
    gauge: bore gauge
{chr(10).join(f"    {n}: [2.5012, 2.5012]" for n in range(1, MAINS + 1))}
"""

Sizes = Mapping[tuple[str, tuple[str, ...], tuple[str, ...]], float]
"""Name, station, position -> mm."""


@dataclass
class Row:
    """How one quantity fared on one kind of part."""

    what: str
    part: str
    allowance: bool
    trials: int = 0
    over: int = 0  # the truth was above value and U
    under: int = 0  # and below
    widths: float = 0.0  # summed, mm

    @property
    def missed(self) -> float:
        """Percent of the trials."""
        return 100 * (self.over + self.under) / self.trials

    def text(self) -> str:
        """As a row of the table."""
        width = self.widths / self.trials / INCH
        sides = f"{100 * self.under / self.trials:.1f} | {100 * self.over / self.trials:.1f}"
        return f"| {self.what} | {self.part} | {'yes' if self.allowance else 'no'} | {width:.5f} | {sides} |"


def general() -> tuple[Sheet, Specification]:
    """The sheet that is measured again and again, and its specification."""
    made = resolved("general")
    raw, wrong = read_sheet(SHEET.encode(), "coverage.sheet.yaml")
    assert raw is not None, [fault.sentence() for fault in wrong]
    sheet, wrong = settle(raw, made)
    assert sheet is not None, [fault.sentence() for fault in wrong]
    return sheet, made


def true_sizes(sheet: Sheet, larger: Mapping[str, float], chance: random.Random) -> Sizes:
    """Sizes that lie anywhere between two steps of the gauges; where parts taper, clearances differ as much."""
    journal, bore = (INCH * (size + chance.uniform(0, 0.0001)) for size in (2.4990, 2.5012))
    sizes = {}
    for reading in sheet.readings:
        assert reading.position is not None
        of, along = (journal, 0) if reading.name == "main_journal" else (bore, int(reading.station[0]))
        more = larger[reading.position[0]] + along * larger["rear"]
        sizes[(reading.name, reading.station, reading.position)] = of + INCH * more
    return sizes


def measured(sheet: Sheet, sizes: Sizes, binding: Binding, chance: random.Random) -> Sheet:
    """The sheet with these sizes as its gauges read them."""
    mic, bore = (next(g.capability for g in binding.gaugings if g.chain[0].key == key) for key in ("mic", "bore gauge"))
    figures = [float(a.absolute) for c in (mic, bore) for a in (c.mpe, c.repeatability) if a is not None]
    mic_mpe, mic_scatter, bore_mpe, bore_scatter = figures
    scale, dial = chance.uniform(-mic_mpe, mic_mpe), chance.uniform(-bore_mpe, bore_mpe)
    setting = chance.gauss(0, mic_scatter) + chance.uniform(-STEP / 2, STEP / 2)
    readings = []
    for reading in sheet.readings:
        assert reading.position is not None
        of_mic = reading.gauge == "mic"
        error = scale + (chance.gauss(0, mic_scatter) if of_mic else dial + setting + chance.gauss(0, bore_scatter))
        shown = sizes[(reading.name, reading.station, reading.position)] + error
        value = Decimal(round(shown / STEP)) * Decimal("0.00254")
        readings.append(reading._replace(value=value, low=value, high=value))
    return sheet._replace(readings=tuple(readings))


def formulas(made: Specification) -> Mapping[str, tuple[Formula, Sequence[Mapping[str, str]]]]:
    """What is looked at, and where."""
    every = [{"main": str(n)} for n in range(1, MAINS + 1)]
    rules = {
        "clearance": ("main_oil_clearance", every),
        "spread": ("main_clearance_spread", [{"main_class": "all"}]),
        "taper": ("main_journal_taper", every),
    }
    return {what: (made.rules[name].governing[-1].formula, at) for what, (name, at) in rules.items()}


def truth(what: str, sizes: Sizes, station: Mapping[str, str]) -> float:
    """What the formula would come to if nothing were measured wrong."""
    by_main: dict[str, dict[str, list[float]]] = {}
    for (name, (main,), _), size in sizes.items():
        by_main.setdefault(main, {}).setdefault(name, []).append(size)
    clear = {main: min(of["main_bearing_bore"]) - max(of["main_journal"]) for main, of in by_main.items()}
    if what == "clearance":
        return clear[station["main"]]
    if what == "spread":
        return max(clear.values()) - min(clear.values())
    of = by_main[station["main"]]["main_journal"]  # front a and b, rear a and b
    return max(abs(of[0] - of[2]), abs(of[1] - of[3]))


def doubts(point: Point, binding: Binding) -> Iterator[tuple[bool, Uncertainty]]:
    """U without and with the allowance for picking an extreme."""
    causes = binding.error_sources
    plain = {number: slope for number, slope in point.slopes.items() if not causes.parts[number].pull}
    yield False, causes.uncertainty(Point(point.value, plain))
    yield True, causes.uncertainty(point)


def rows(trials: int, seed: int = SEED) -> list[Row]:
    """Every quantity on every kind of part, without the allowance and with it."""
    sheet, made = general()
    chance = random.Random(seed)
    looked_at = formulas(made)
    found = {
        (what, part, allowance): Row(what, part, allowance)
        for what in looked_at
        for part in ("straight", "tapered")
        for allowance in (False, True)
    }
    with localcontext(CONTEXT):
        start = Binding(sheet, made, simple=False)
        for part, larger in (("straight", EVEN), ("tapered", TAPERED)):
            for _ in range(trials):
                sizes = true_sizes(sheet, larger, chance)
                binding = Binding(measured(sheet, sizes, start, chance), made, simple=False)
                environment = binding.environment()
                for what, (formula, stations) in looked_at.items():
                    for station in stations:
                        value = evaluate(formula, environment, station)
                        assert value is not None
                        assert value.low is not None
                        off = truth(what, sizes, station) - float(value.low.value)
                        for allowance, doubt in doubts(value.low, binding):
                            row = found[what, part, allowance]
                            row.trials += 1
                            row.over += off > float(doubt.up) * (1 + 1e-9)
                            row.under += -off > float(doubt.down) * (1 + 1e-9)
                            row.widths += float(doubt.down + doubt.up) / 2
    return list(found.values())


def table(found: Sequence[Row]) -> str:
    """The rows as the table that the README beside holds."""
    head = (
        "| value | parts | allowance | U, in | true value below, % | above, % |\n| --- | --- | --- | --- | --- | --- |"
    )
    return "\n".join([head, *(row.text() for row in found)])


if __name__ == "__main__":
    print(table(rows(TRIALS)))  # noqa: T201 - this is a command
