"""Every setting of the facts and labels that a rule's limits depend on, and every size to try them at."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import islice, product
from math import prod
from typing import TypeVar

from specrules.evaluate import holds
from specrules.formula import Formula
from specrules.formula.axis_kinds import whole
from specrules.formula.operators import all_operators
from specrules.pack import Rule, Specification
from specrules.proving.names import labels_in
from specrules.proving.sizes import Point, Setting, Sizes, Trial, layout_at

MOST_TRIED = 4000
"""Sizes and settings that one rule is tried at; beyond it only the ends of each range are."""

MOST_CELLS = 1_000_000
"""Values that are worked out for it, all tries together, as far as more than these are tried."""

FEWEST_TRIED = 2

T = TypeVar("T")


def trials(rule: Rule, asked: Sequence[Formula], spec: Specification) -> list[Trial]:
    """A trial, of no sizes yet, in every combination of the choices and labels that the formulas ask for, where the
    rule applies."""
    choices = {name: _choices(name, spec) for name in sorted({name for formula in asked for name in formula.names})}
    choices = {name: some for name, some in choices.items() if some}
    groups = [axis for one in rule.each for axis in spec.scope.grouped_by(one) if labels_in(asked, axis)]
    axes = {axis: _labels(axis, labels_in(asked, axis), spec) for axis in (*rule.each, *groups)}
    told = frozenset(name for name, some in {**choices, **axes}.items() if len(some) > 1)
    laid_out = [(station, layout_at(spec, station)) for station in each_of(axes)]
    every = (
        Trial(spec, {}, Setting(chosen, station, told), layout)
        for chosen in each_of(choices)
        for station, layout in laid_out
    )
    some = islice(every, most_tried(asked, spec))
    return [trial for trial in some if holds(rule.applies_when, trial, trial.setting.station) is not False]


def most_tried(asked: Sequence[Formula], spec: Specification) -> int:
    """At how many sizes and settings formulas are tried: at fewer where each try takes long."""
    cells = sum(
        prod(len(spec.axes[whole(axis)].names) or 1 for axis in getattr(each, "axes", ()))
        for formula in asked
        for each in all_operators(formula.operators)
    )
    return max(min(MOST_TRIED, MOST_CELLS // max(cells, 1)), FEWEST_TRIED)


def is_size(name: str, spec: Specification) -> bool:
    """Whether a fact is a figure."""
    fact = spec.facts.get(name)
    return fact is not None and fact.kind in ("count", "number", "quantity")


def _choices(name: str, spec: Specification) -> tuple[str, ...]:
    """What a fact may say: what the packs set, else each of its choices; nothing for what is no fact of choice."""
    fact = spec.facts.get(name)
    if fact is None or fact.kind not in ("choice", "yes/no"):
        return ()
    return (spec.sets[name],) if name in spec.sets else fact.choices or ("yes", "no")


def _labels(axis: str, named: tuple[str, ...], spec: Specification) -> tuple[str, ...]:
    """Every label of an axis that names them; of a counted one those that conditions name, and another."""
    if spec.axes[axis].names:
        return spec.axes[axis].names
    numbers = range(1, min(len(named) + 1, spec.axes[axis].most) + 1)
    return (*named, *[label for label in map(spec.axes[axis].numbered, numbers) if label not in named][:1])


def points_of(read: list[str], sizes: Sizes, settings: int, most: int) -> list[Point]:
    """Every combination of the sizes; of their ends only where there would be more than `most` in all settings."""
    each = {name: sizes[name] for name in read}
    if settings * prod(map(len, each.values())) > most:
        each = {name: tuple(dict.fromkeys((some[0], some[-1]))) for name, some in each.items()}
    return list(islice(each_of(each), max(most // max(settings, 1), FEWEST_TRIED)))


def each_of(of: Mapping[str, tuple[T, ...]]) -> Iterator[dict[str, T]]:
    """Every way to give each name one of its values."""
    for values in product(*of.values()):
        yield dict(zip(of, values, strict=True))
