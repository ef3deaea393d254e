"""Limits in order: least, aim and most over every choice, label and usual size; wear limits outside the new ones."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import Decimal

from specrules.evaluate import NotEvaluable
from specrules.inspection.limits import AIM_OUTSIDE, CROSSED, exact, limits_at, wear_inside_new
from specrules.pack import Rule, Specification
from specrules.proving.limit_slips import likely
from specrules.proving.names import behind, of_lines
from specrules.proving.plain_limits import plain_limits_of
from specrules.proving.proof_parts import ProofRemark
from specrules.proving.sizes import Point, Setting, Sizes, Trial
from specrules.proving.trial_settings import is_size, most_tried, points_of, trials
from specrules.proving.unsaid_validity import with_edges
from specrules.quantity import NO_UNIT, show
from specrules.vocabulary import SIDES, WORN, Why

MOST_NAMED = 3
"""Settings of facts and labels that one remark names."""

HALVINGS = 20
"""How closely the size is found at which limits begin to cross."""

_CROSSINGS = {
    "crossed": ("the least lies above the most", "a least below the most"),
    "margin": ("the margin leaves nothing between least and most", "a smaller inward"),
    "aim": ("the aim lies outside the limits", "an aim between the limits"),
    "wear least": ("the wear least lies above the least of new work", "a wear least no higher than that"),
    "wear most": ("the wear most lies below the most of new work", "a wear most no lower than that"),
}


@dataclass(slots=True)
class Tried:
    """The specification and the sizes that its limits are tried at; counts the settings of facts and labels tried."""

    spec: Specification
    sizes: Sizes
    settings: int = 0


@dataclass(slots=True)
class _Crossing:
    """One way in which limits are out of order: the settings where it is so at every size, and at some."""

    always: list[Setting] = field(default_factory=list)
    sometimes: list[tuple[Setting, list[Point]]] = field(default_factory=list)


def out_of_order(rule: Rule, tried: Tried) -> Iterator[ProofRemark]:
    """What is not in order among the limits of one rule."""
    formulas = behind(of_lines(rule.lines), tried.spec)
    names = sorted({name for formula in formulas for name in formula.names} - tried.spec.figures.keys())
    read = [name for name in names if name in tried.spec.measurands or is_size(name, tried.spec)]
    if unsized := [name for name in read if name not in tried.sizes]:
        said = f"the limits are not tried, for nothing says what size {' and '.join(unsized)} may be"
        yield ProofRemark(rule.place, rule.name, said, "usual: and a range, or an example that states it", "untried")
        return
    applies = () if rule.applies_when is None else behind((rule.applies_when,), tried.spec)
    every = trials(rule, (*formulas, *applies), tried.spec)
    points = points_of(read, with_edges(rule, tried.spec, tried.sizes), len(every), most_tried(formulas, tried.spec))
    found: dict[str, _Crossing] = {}
    tried.settings += len(every)
    for trial in every:
        _try(rule, trial, points, found)
    for kind, crossing in found.items():
        yield _remark(rule, kind, crossing, points, tried.spec, len(every))


def _try(rule: Rule, trial: Trial, points: list[Point], found: dict[str, _Crossing]) -> None:
    """Try one setting at every size, and note what is out of order."""
    at: dict[str, list[Point]] = {}
    limited, setting = 0, trial.setting
    for sizes in points:
        kinds = _crossings(rule, trial.at(sizes))
        limited += kinds is not None
        for kind in kinds or ():
            at.setdefault(kind, []).append(sizes)
    for kind, where in at.items():
        crossing = found.setdefault(kind, _Crossing())
        if len(where) == limited:
            crossing.always.append(setting)
        else:
            crossing.sometimes.append((setting, where))


def _crossings(rule: Rule, bench: Trial) -> list[str] | None:
    """What is out of order at one size; None where there are no limits to try."""
    try:
        resolved = limits_at(rule, bench.setting.station, bench)
    except NotEvaluable:
        return None
    if resolved.lacks == CROSSED:
        return ["crossed"]
    if resolved.lacks is not None and resolved.lacks.code is Why.MARGIN_TAKES_ALL:
        return ["margin"]
    if resolved.lacks or not any(exact(value) is not None for value in resolved.sets.values()):
        return None
    found = ["aim"] if AIM_OUTSIDE in resolved.notes else []
    return found + [WORN[side] for side in SIDES if wear_inside_new(resolved, side)]


def _remark(
    rule: Rule, kind: str, crossing: _Crossing, points: list[Point], spec: Specification, tried: int
) -> ProofRemark:
    said, write = _CROSSINGS[kind]
    place = next((line.place for line in rule.lines if line.sets), rule.place)
    if crossing.always:
        named = [str(setting) for setting in crossing.always] if len(crossing.always) < tried else []
        more = f"; and {len(named) - MOST_NAMED} more" if len(named) > MOST_NAMED else ""
        where = f", with {'; '.join(named[:MOST_NAMED])}{more}" if named else ""
        over = "at every usual size" if points[0] else "whatever is measured"
        meant = likely(kind, plain_limits_of(rule, spec))
        return ProofRemark(place, rule.name, f"{said} {over}{where}", meant or write, "limits")
    setting, at = max(crossing.sometimes, key=lambda pair: len(pair[1]))
    where = f", with {setting}" if str(setting) else ""
    said = f"{said} {_sizes(rule, kind, setting, at, points, spec)}{where}"
    if kind in WORN.values():
        return ProofRemark(place, rule.name, said, write, "limits")
    left = (
        "; there an inspection asks for the maker's limits"
        if kind in ("crossed", "margin")
        else "; there it is left out"
    )
    return ProofRemark(place, rule.name, said + left, "", "small sizes")


def _sizes(rule: Rule, kind: str, setting: Setting, at: list[Point], points: list[Point], spec: Specification) -> str:
    """The sizes at which something is so: all up to one, all from one on, or the first that was met."""
    name, *more = points[0]
    here = [point[name] for point in at]
    others = [point[name] for point in points if point not in at]
    if not more and (max(here) < min(others) or min(here) > max(others)):
        below = max(here) < min(others)
        is_so, is_not = (max(here), min(others)) if below else (min(here), max(others))
        bench = Trial(spec, {}, setting)
        for _ in range(HALVINGS):
            middle = (is_so + is_not) / 2
            so = kind in (_crossings(rule, bench.at({name: middle})) or ())
            is_so, is_not = (middle, is_not) if so else (is_so, middle)
        return f"{'up to' if below else 'from'} a {name} of {_size(name, is_so, spec)}{'' if below else ' on'}"
    return "at " + ", ".join(f"{name} {_size(name, size, spec)}" for name, size in at[0].items())


def _size(name: str, size: Decimal, spec: Specification) -> str:
    thing = spec.measurands.get(name) or spec.facts[name]
    unit = thing.unit or NO_UNIT
    text = show(size, unit, 3)
    return f"{text.rstrip('0').rstrip('.')} {unit.symbol}".rstrip()
