"""A small pack about gauges, in round figures of a millimetre, and short ways to look at what comes of them."""

from __future__ import annotations

import math
from collections.abc import Mapping
from decimal import Decimal, localcontext

from specrules.evaluate import Point, Value
from specrules.evaluate.binding import Binding
from specrules.evaluate.error_sources import ErrorSources, Part
from specrules.inspection import Options, Report, WholeFinding
from specrules.quantity import CONTEXT
from tests.inspecting import finding, inspected, settled

PACK = """\
specrules: tolerance-pack/1
group: Fits
pack: {name: gauged, version: "1", title: Gauged, unit: mm}
axes: {main: {count: mains}, plane: {names: [front, rear]}}
facts:
  mains: {kind: count}
  length: {kind: quantity, unit: mm}
  room: {kind: quantity, unit: mm}
gauge classes:
  micrometer: {resolution: 0.002 mm, mpe: 0.004 mm, repeatability: 0.001 mm, source: {kind: house}}
  comparator: {resolution: 0.002 mm, mpe: 0.003 mm, repeatability: 0.002 mm, source: {kind: house}}
  fine comparator: {resolution: 0.0002 mm, mpe: 0.0003 mm, repeatability: 0.0002 mm, source: {kind: house}}
  setting ring: {resolution: 0 mm, mpe: 0.001 mm, repeatability: 0 mm, source: {kind: house}}
  caliper:
    resolution: 0.02 mm
    mpe: 0.03 mm
    repeatability: 0.01 mm
    must not decide: [fit]
    source: {kind: house}
  blades: {resolution: 0.02 mm, mpe: 0.006 mm, repeatability: 0 mm, source: {kind: house}}
  tester: {resolution: 1 N, mpe: 2 percent, repeatability: 1 percent, source: {kind: house}}
measurands:
  hole:
    title: Hole
    at: [main]
    positions: [plane]
    unit: mm
    usual: 40..60 mm
    gauge classes: [comparator, micrometer, caliper, fine comparator]
  shaft:
    title: Shaft
    at: [main]
    positions: [plane]
    unit: mm
    usual: 40..60 mm
    gauge classes: [micrometer, caliper, fine comparator]
  dial: {title: Dial, at: [main], unit: mm, gauge classes: [comparator]}
  gap: {title: Gap, at: [main], unit: mm, usual: 0..1 mm, gauge classes: [blades]}
  load: {title: Load, at: [main], unit: N, usual: 500..1500 N, gauge classes: [tester]}
  bare: {title: Bare, at: [main], unit: mm}
"""

RULES = {  # name: (each, formula, unit, limits)
    "fit": ("main", "smallest(hole) - largest(shaft)", "mm", "{least: 0.02 mm, most: 0.10 mm}"),
    "first_fit": ("main", "hole[front] - shaft[front]", "mm", "{most: 0.5 mm}"),
    "dial_fit": ("main", "dial", "mm", "{most: 0.5 mm}"),
    "hole_size": ("main", "hole[front]", "mm", "{most: 60 mm}"),
    "shaft_size": ("main", "shaft[front]", "mm", "{most: 60 mm}"),
    "sum_of_two": ("main", "shaft[front] + shaft[rear]", "mm", "{most: 120 mm}"),
    "taper": ("main", "spread(shaft, plane)", "mm", "{most: 0.02 mm}"),
    "largest_shaft": ("main", "largest(shaft)", "mm", "{most: 60 mm}"),
    "smallest_shaft": ("main", "smallest(shaft)", "mm", "{least: 40 mm}"),
    "shafts_spread": ("", "spread(shaft[front])", "mm", "{most: 0.05 mm}"),
    "mean_front": ("", "mean(shaft[front])", "mm", "{most: 60 mm}"),
    "largest_front": ("", "largest(shaft[front])", "mm", "{most: 60 mm}"),
    "largest_gap": ("", "largest(gap)", "mm", "{least: 0.10 mm, most: 0.50 mm}"),
    "gap_size": ("main", "gap", "mm", "{least: 0.10 mm, most: 0.50 mm}"),
    "load_size": ("main", "load", "N", "{most: 2000 N}"),
    "load_ratio": ("", "load[1] / load[2]", "", "{most: 3}"),
    "load_less": ("", "load[1] - load[2]", "N", "{most: 3000 N}"),
    "bare_size": ("main", "bare", "mm", "{most: 60 mm}"),
    "in_proportion": ("main", "hole[front] - shaft[front]", "mm", '{most: "0.002 * hole[front]"}'),
    "over_shaft": ("main", "shaft[front]", "mm", '{most: "shaft[rear]"}'),
    "with_a_fact": ("main", "shaft[front] - length", "mm", "{most: 0.02 mm}"),
}


def pack() -> str:
    """The text of the pack: every rule with one example of its own."""
    rows = ["rules:"]
    for name, (each, formula, unit, limits) in RULES.items():
        rows += [
            f"  {name}:",
            f"    title: {name}",
            *([f"    each: {each}"] if each else []),
            f"    formula: {formula}",
            *([f"    unit: {unit}"] if unit else []),
            f"    limits: {limits}",
            "    importance: minor",
            "    source: {kind: house}",
            "    worked: [{given: {readings: {bare: {1: 50}}}, expect: {%s verdict: not measured}}]"
            % ("at: {main: 1}," if each else ""),
        ]
    return PACK + "\n".join(rows) + "\n"


PACKS = {"gauged": pack()}


def sheet(body: str, decision: str = "guarded") -> str:
    """A sheet with these sections."""
    return f"specrules: build-sheet/1\npacks: [gauged]\nunit: mm\ndecision: {decision}\n{body}\n"


def looked(body: str, decision: str = "guarded") -> Report:
    """The inspection of a sheet with these sections, decided as the sheet says."""
    return inspected(sheet(body, decision), PACKS, Options())


def of(found: Report, rule: str, main: str = "1") -> WholeFinding:
    """The one finding of a rule, at one main where it has mains."""
    return finding(found, rule, **({"main": main} if RULES[rule][0] else {}))


def binding(body: str, decision: str = "guarded") -> Binding:
    """The causes and gaugings of a sheet with these sections."""
    read, made, faults = settled(sheet(body, decision), PACKS)
    assert read is not None, faults
    assert made is not None
    with localcontext(CONTEXT):
        return Binding(read, made, simple=decision == "simple")


def parts(of: Binding, number: int = 0) -> dict[str, tuple[float, float]]:
    """The causes that one reading moves with: what -> (normal standard deviation, half-width), each times its slope."""
    return {
        of.error_sources.parts[cause].what: (
            abs(slope) * math.sqrt(of.error_sources.parts[cause].variance),
            abs(slope) * of.error_sources.parts[cause].half,
        )
        for cause, slope in of.error_sources.slopes[number].items()
    }


def expanded(normal: tuple[float, ...] = (), halves: tuple[float, ...] = ()) -> float:
    """U of independent parts by the book: twice the root of the sum of squares, at most the half-widths and twice the
    normal rest."""
    variance = sum(s * s for s in normal)
    wide = 2 * math.sqrt(variance + sum(h * h for h in halves) / 3)
    return min(wide, sum(halves) + 2 * math.sqrt(variance)) if halves else wide


def point(value: str, slopes: Mapping[int, float]) -> Point:
    """A point from texts."""
    return Point(Decimal(value), slopes)


def causes(*made: Part, own: int | None = None) -> ErrorSources:
    """ErrorSources that are these parts, the readings' own first."""
    found = ErrorSources(simple=False, own=len(made) if own is None else own)
    for part in made:
        found.add(part)
    return found


def lone(value: Value) -> Point:
    """The point of a value of which one number is known."""
    assert value.exact
    assert value.low is not None
    return value.low
