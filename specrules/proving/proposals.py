"""Inputs that a rule's examples lack: values inside, on and beyond each limit. Verdicts are left to the author."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, field
from decimal import Decimal
from textwrap import wrap
from typing import NamedTuple

from specrules.evaluate import NotEvaluable
from specrules.inspection.limits import counts, exact, limits_at
from specrules.pack import LimitLine, Rule, Specification
from specrules.pack.worked_examples import TO_JUDGE
from specrules.proving.examples import ExampleOutcome
from specrules.proving.names import behind, of_lines
from specrules.proving.reached import PLACES, Reached
from specrules.proving.sizes import Point, Setting, Sizes, Trial, stated_sizes
from specrules.proving.trial_settings import is_size, most_tried, points_of, trials
from specrules.proving.unsaid_validity import measured_as
from specrules.quantity import NO_UNIT, Unit, show
from specrules.vocabulary import SIDES, Verdict

MOST_PLACES = 7
"""Decimals of a value that is put on a limit; with more it is left out."""

WIDTH = 100
_PLACES: Mapping[str, int] = {"in": 4, "mm": 3}
_SPARE = 2  # places of a unit that is not among these


class Proposal(NamedTuple):
    """One example that a rule lacks: its lines, as they stand behind the dash of its list."""

    rule: str
    lines: tuple[str, ...]


@dataclass(slots=True)
class _Lacking:
    """At one setting and size what values are to be judged, as they are written."""

    setting: Setting
    point: Point
    values: dict[str, None] = field(default_factory=dict)


def lacking_examples(
    spec: Specification, rules: Sequence[Rule], worked: Mapping[str, Sequence[ExampleOutcome]], files: Set[str]
) -> Iterator[Proposal]:
    """Examples that these rules lack, for the lines and figures that stand in `files`."""
    sizes = stated_sizes(spec, [each.sheet for some in worked.values() for each in some if each.sheet is not None])
    for rule in rules:
        reached = Reached()
        for outcome in worked[rule.name]:
            reached.take(rule, outcome)
        if rule.limits_wanted:
            yield from _of_rule(rule, spec, reached, sizes, files)


def _of_rule(rule: Rule, spec: Specification, reached: Reached, sizes: Sizes, files: Set[str]) -> Iterator[Proposal]:
    formulas = behind(of_lines(rule.lines), spec)
    names = sorted({name for formula in formulas for name in formula.names} - spec.figures.keys())
    read = [name for name in names if name in spec.measurands or is_size(name, spec)]
    if any(name not in sizes for name in read):
        return
    every = trials(rule, formulas, spec)
    points = points_of(read, sizes, len(every), most_tried(formulas, spec))
    points = sorted(points, key=lambda point: abs(points.index(point) - len(points) // 2))
    found: dict[tuple[str, str], _Lacking] = {}
    no_figure_shown = Verdict.NO_FIGURE in reached.verdicts.get(rule.name, set())
    for line in rule.lines:
        lacking = {
            side: [place for place in PLACES if place not in reached.places.get((rule.name, line.name, side), set())]
            for side in SIDES
            if _moves(line, side) and line.place.file in files
        }
        edged = not no_figure_shown and any(True for _ in line.validities())
        wanted = {side for side, places in lacking.items() if places or edged}
        where = _where(rule, line, every, points, wanted)
        if where is None:
            continue
        setting, point, limits = where
        group = found.setdefault((str(dict(setting.chosen)), str(point)), _Lacking(setting, point))
        for side, places in lacking.items():
            group.values.update(dict.fromkeys(_values(side, places, limits, rule.unit)))
        if edged:
            for edge in _edges(line, point, spec):
                value = next(iter(_values(next(iter(limits)), PLACES[:1], limits, rule.unit)))
                found.setdefault((str(dict(setting.chosen)), str(edge)), _Lacking(setting, edge)).values[value] = None
    for group in found.values():
        if group.values:
            yield Proposal(rule.name, _example(rule, group, spec))


def _edges(line: LimitLine, point: Point, spec: Specification) -> Iterator[Point]:
    """The sizes at each edge of what a line holds for, and one step past it."""
    for key in dict.fromkeys(key for validity in line.validities() for key in validity.keys):
        for edge, outward in ((key.low, -1), (key.high, 1)):
            unit = key.unit
            if edge is None or unit is None or not (name := measured_as(key.name, edge, spec)):
                continue
            step = Decimal(1).scaleb(-_PLACES.get(unit.symbol, _SPARE)) * outward
            yield {**point, name: edge}
            yield {**point, name: unit.to_base(unit.from_base(edge) + step)}


def _moves(line: LimitLine, side: str) -> bool:
    return side in line.sets or line.shift is not None


def _where(
    rule: Rule,
    line: LimitLine,
    every: Sequence[Trial],
    points: Sequence[Point],
    sides: Set[str],
) -> tuple[Setting, Point, dict[str, Decimal]] | None:
    """A setting and sizes at which a line counts and these sides have limits."""
    for trial in every if sides else ():
        setting = trial.setting
        for point in points:
            bench = trial.at(point)
            try:
                if not counts(line, setting.station, bench):
                    continue
                resolved = limits_at(rule, setting.station, bench)
            except NotEvaluable:
                continue
            limits = {side: limit for side in SIDES if (limit := exact(resolved.sets.get(side))) is not None}
            if resolved.lacks is None and sides & limits.keys():
                return setting, point, limits
    return None


def _values(side: str, places: Sequence[str], limits: Mapping[str, Decimal], unit: Unit) -> Iterator[str]:
    """Values at a limit: in the middle, on it, and one step beyond it."""
    if side not in limits:
        return
    limit = unit.from_base(limits[side])
    least = _PLACES.get(unit.symbol, _SPARE)
    digits = next((n for n in range(least, MOST_PLACES + 1) if limit == round(limit, n)), None)
    at, step = (limit, digits) if digits is not None else (round(limit, MOST_PLACES), MOST_PLACES)
    inward = Decimal(1).scaleb(-step) * (1 if side == "least" else -1)
    inside = (unit.from_base(limits["least"]) + unit.from_base(limits["most"])) / 2 if len(limits) > 1 else at + inward
    for place in places:
        if place == "inside":
            yield f"{round(inside, step)}"
        elif place == "beyond":
            yield f"{round(at - inward, step)}"
        elif digits is not None:
            yield f"{round(at, step)}"


def _example(rule: Rule, group: _Lacking, spec: Specification) -> tuple[str, ...]:
    facts = {name: label for name, label in group.setting.chosen.items() if name not in spec.sets}
    readings: dict[str, str] = {}
    for name, size in group.point.items():
        measurand = spec.measurands.get(name)
        unit = (measurand.unit if measurand else spec.facts[name].unit) or NO_UNIT
        text = f"{show(size, unit, MOST_PLACES).rstrip('0').rstrip('.')} {unit.symbol}".rstrip()
        if measurand is None:
            facts[name] = text
        else:
            for axis in reversed(measurand.at):
                label = group.setting.station.get(axis) or spec.axes[axis].first
                text = f"{{{label}: {text}}}"
            readings[name] = text
    given = [f"{key}: {_flow(held)}" for key, held in (("facts", facts), ("readings", readings)) if held]
    lines = [*(_wrapped(f"given: {{{', '.join(given)}}}") if given else ())]
    if any(group.setting.station.get(axis) != spec.axes[axis].first for axis in rule.each):
        lines.append(f"station: {_flow(group.setting.station)}")
    symbol = "" if spec.unit is not None and rule.unit.symbol == spec.unit.symbol else rule.unit.symbol
    values = {f"{value} {symbol}".rstrip(): TO_JUDGE for value in group.values}
    return (*lines, *_wrapped(f"at: {_flow(values)}"))


def _wrapped(text: str) -> list[str]:
    """A mapping on one line, broken between its keys where it is long."""
    kept = text.replace(" ", "\0").replace(",\0", ", ")
    return [row.replace("\0", " ") for row in wrap(kept, WIDTH, subsequent_indent="  ", break_long_words=False)]


def _flow(held: Mapping[str, str]) -> str:
    return f"{{{', '.join(f'{key}: {value}' for key, value in held.items())}}}"
