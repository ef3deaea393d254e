"""What a specification may cost, counted on its operator trees before anything is evaluated.

A step is one operation on one value, once for each reading that the value may stand on. Counts are upper bounds: a
group counts as if it held every label. What is counted is bounded, so a count takes no longer than reading the packs.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping
from decimal import Decimal
from graphlib import CycleError, TopologicalSorter
from math import prod
from typing import NamedTuple

from specrules.document import Fault, Place
from specrules.formula import Axis, Formula
from specrules.formula import operators as op
from specrules.formula.axis_kinds import whole
from specrules.pack.holding_parts import HoldsFor
from specrules.pack.specification import Fact, Figure, Measurand, Rule, SignOff, Specification
from specrules.vocabulary import Code


class WorkBudget(NamedTuple):
    """The most of everything that a specification may come to. How far below it real jobs are:
    `tests/benchmarks/README.md`."""

    packs: int = 100
    """Packs in one specification."""
    amendments: int = 20_000
    """Over all rules, the packs that amend one times themselves: each has a version of its own, on all below it."""
    depth: int = 100
    """Operations one inside another, with those of the figures in them."""
    row: int = 100
    """Rules that need one another in a row."""
    uses: int = 1_000_000
    """Readings, facts and numbers that a formula names once every figure in it is written out."""
    places: int = 10_000
    """Combinations of labels at once: in a formula, of the readings of a measurand, of a fact."""
    cells: int = 200_000
    """Places of all measurands together: a new sheet has a cell for each."""
    findings: int = 30_000
    """Stations of all rules, sign-offs and figures together."""
    steps: int = 10_000_000
    """Steps of all formulas at all stations together, in every world that facts nobody states may make."""


BUDGET = WorkBudget()

MOST_WORLDS = 64
"""Worlds that are tried for one finding where facts are not stated; beyond it they have to be."""

PAIR = 2
"""Labels of each kind with which a specification is tried."""

COUNTS = (256, 64, 16, 4, 1)
"""Labels on every counted axis that a specification is tried with, to know how many it bears."""

Counts = Mapping[str, int]
"""Axis -> how many labels it has."""
Thing = Fact | Measurand | Figure | SignOff | Rule


class WorkShare(NamedTuple):
    """What one thing of a specification adds to something that is counted."""

    amount: int
    name: str
    place: Place
    axes: op.Axes


class Excess(NamedTuple):
    """Something of which there is more than the budget has: in all, and the share that is the cause or the largest."""

    what: str
    total: int
    most: int
    share: WorkShare

    @property
    def said(self) -> str:
        """What there is too much of; it continues the name of the thing."""
        share, alone = self.share, self.share.amount > self.most
        along = f" along {', '.join(share.axes)}" if share.axes else ""
        said = _SAID[self.what].format(amount=_number(share.amount), along=along)
        return f"{said}{'' if alone else f', of {_number(self.total)} in all'}, more than the {self.most:,} allowed"

    @property
    def write(self) -> str:
        """What to write instead, in a pack."""
        return _WRITE[self.what]


class Reach(NamedTuple):
    """How far a value goes down: operations one inside another, names written out, readings that it stands on."""

    depth: int
    uses: int
    sources: int


class CountedFigure(NamedTuple):
    """A figure that was counted: how far down it goes; its steps with those of the figures behind it; what may have to
    be supposed of unstated facts, each with in how many ways (no more than makes the most worlds)."""

    reach: Reach
    steps: int
    supposed: Mapping[object, int]


class WorkCount:
    """The work of a specification whose axes have so many labels; of facts that are stated nothing is supposed.
    `whole`: with all that there is too much of, else no further than that something is."""

    def __init__(
        self,
        spec: Specification,
        counts: Counts,
        budget: WorkBudget = BUDGET,
        stated: Collection[str] = (),
        whole: bool = True,
    ) -> None:
        self.spec, self.counts, self.budget, self.stated = spec, counts, budget, {*stated, *spec.sets}
        self.readings = max(sum(self.places(one.axes) for one in spec.measurands.values()), 1)
        self.shares: dict[str, list[WorkShare]] = {what: [] for what in _COUNTED}
        self.amounts = dict.fromkeys(_COUNTED, 0)  # in all, or of what has most of it
        self.within = True
        self._figures: dict[str, CountedFigure] = {}
        self._steps, self._widest, self._supposed = 0, _ONE_PLACE, dict[object, int]()
        self._settling: dict[object, int] = {}  # what settles all limits of a rule by failing, in how many ways
        self._thresholds: dict[op.Quantity, set[Decimal]] = {}
        for thing in _things(spec):
            if self.within or whole:
                self._take(thing)
        for name, row in _in_a_row(spec).items():
            self._add("row", row, spec.rules[name].governing[-1])

    def excess(self) -> Excess | None:
        """What there is too much of, the first in the order of the budget; None where all is within it."""
        for what, amount in self.amounts.items():
            most: int = getattr(self.budget, what)
            if amount > most:
                shares = self.shares[what]
                share = next((e for e in shares if e.amount > most), None) or max(shares, key=lambda e: e.amount)
                return Excess(what, amount if what in _TOGETHER else share.amount, most, share)
        return None

    def places(self, axes: Iterable[str]) -> int:
        """Combinations of labels on some axes; an axis whose labels nobody stated counts as one, and a kind as if all
        were of it."""
        return prod([max(self.counts.get(whole(axis), 1), 1) for axis in axes])

    def _take(self, thing: Thing) -> None:
        axes = (
            thing.at
            if isinstance(thing, Fact | SignOff)
            else thing.axes
            if isinstance(thing, Measurand)
            else thing.each
        )
        stations = self.places(axes)
        self._steps, self._widest, self._supposed, self._thresholds, self._settling = 0, (stations, axes), {}, {}, {}
        keys = _held_by(thing) if isinstance(thing, Rule) else {}
        asked = {id(key.asked) for key in keys.values()}
        reached = [self._tree(each.operators, supposing=id(each) not in asked) for each in formulas_of(thing)]
        if isinstance(thing, Rule):
            self._hold(thing, keys.values())
        reach = Reach(
            max((each.depth for each in reached), default=0),
            min(sum(each.uses for each in reached), _ENDLESS),
            min(sum(each.sources for each in reached), self.readings),
        )
        steps = stations * (self._steps + 1) + sum(self._needing(axes, name) for name in _needs(thing))
        self._add("depth", reach.depth, thing)
        self._add("uses", reach.uses, thing)
        self._add("places", self._widest[0], thing, self._widest[1])
        self._add("steps", steps + self._anew(thing, steps, reach), thing, axes)
        if isinstance(thing, Measurand):
            self._add("cells", stations, thing, axes)
        elif isinstance(thing, Figure | SignOff) or (isinstance(thing, Rule) and self._judges(thing)):
            self._add("findings", stations, thing, axes)

    def _anew(self, thing: Thing, steps: int, reach: Reach) -> int:
        """The steps of a rule in all worlds but the first, where every figure behind it is worked out anew."""
        behind = [self._figures[n] for n in self._figures.keys() & {n for f in formulas_of(thing) for n in f.names}]
        for figure in behind:
            self._supposed.update(figure.supposed)
        whole = min(steps + sum(figure.steps for figure in behind), _ENDLESS)
        if isinstance(thing, Figure):
            self._figures[thing.name] = CountedFigure(reach, whole, self._supposed)
        settled = sum(ways - 1 for of, ways in self._settling.items() if of not in self._supposed)
        worlds = min(prod(self._supposed.values()) + settled, MOST_WORLDS) if isinstance(thing, Rule) else 1
        return (worlds - 1) * whole

    def _judges(self, rule: Rule) -> bool:
        return rule is self.spec.rules[rule.name].governing[-1]

    def _needing(self, axes: op.Axes, name: str) -> int:
        """What it takes to see whether something needed is good wherever the stations on these axes touch it."""
        sign_off = self.spec.sign_offs.get(name)
        if sign_off is not None:
            return self.places({*axes, *sign_off.at})
        return self.places(axes) * self.places(self.spec.rules[name].governing[-1].each)

    def _add(self, what: str, amount: int, of: Thing, axes: op.Axes = ()) -> None:
        self.shares[what].append(WorkShare(amount, str(of.name), of.place, axes))
        before = self.amounts[what]
        self.amounts[what] = before + amount if what in _TOGETHER else max(before, amount)
        self.within = self.within and self.amounts[what] <= getattr(self.budget, what)

    def _hold(self, rule: Rule, keys: Iterable[HoldsFor]) -> None:
        """Count what is asked at every station along an axis for what figures hold for, where nothing is assumed.

        A label that all limits of a rule ask for leaves no more to ask where it fails.
        """
        every = [{key.text for key in each.keys} for line in rule.lines for each in line.validities()]
        for key in keys:
            for node in op.all_operators(key.asked.operators) if key.asked is not None else ():
                self._steps += self.places(key.along) - 1
                if isinstance(node, op.FactLabel) and all(key.text in each for each in every):
                    self._settling.update(self._ways(node, assumes=False))
                elif isinstance(node, op.FactLabel | op.Comparison):
                    self._suppose(node, assumes=False)

    def _suppose(self, node: op.FactLabel | op.Comparison, *, assumes: bool = True) -> None:
        """Take in that a fact may have to be supposed: each choice, or below, at and above what it is compared with."""
        if prod(self._supposed.values()) < MOST_WORLDS:
            self._supposed.update(self._ways(node, assumes=assumes))

    def _ways(self, node: op.FactLabel | op.Comparison, *, assumes: bool) -> Mapping[object, int]:
        """What may have to be supposed, in how many ways; nothing where it is said or, if that counts, assumed."""
        on = (node,) if isinstance(node, op.FactLabel) else op.all_operators(node.quantity)
        names = [each.name for each in on if isinstance(each, op.FactLabel | op.Slot)]
        facts = [self.spec.facts[name] for name in names if name in self.spec.facts]
        if facts and len(facts) == len(names) and all(self._known(fact, assumes=assumes) for fact in facts):
            return {}
        if isinstance(node, op.FactLabel):
            return {node.name: max(len(facts[0].choices), 1)}  # of a text nothing is supposed
        # at each threshold of a quantity, and in each interval between and beyond them
        self._thresholds.setdefault(node.quantity, set()).add(node.threshold)
        return {node.quantity: 2 * len(self._thresholds[node.quantity]) + 1}

    def _known(self, fact: Fact, *, assumes: bool) -> bool:
        return bool(fact.assumed and assumes) or fact.name in self.stated

    def _tree(self, node: op.Operator, *, supposing: bool = True) -> Reach:
        """Count an operator and all below it: its steps are added up, the widest is kept."""
        depth, uses, sources = 0, 0, 0
        for each in op.operands(node):
            below = self._tree(each, supposing=supposing)
            depth, uses, sources = max(depth, below.depth), uses + below.uses, sources + below.sources
        depth, uses = depth + 1, uses or 1
        axes: op.Axes = getattr(node, "axes", ())
        cells = self.places(axes) if axes else 1
        if isinstance(node, op.Slot):
            behind = self._figures[node.name].reach if node.name in self._figures else _READING
            depth, uses, sources = behind.depth + 1, behind.uses, behind.sources
        elif isinstance(node, op.Reduction):
            sources *= self.places(axis for axis in node.of.axes if axis not in axes)
        sources = min(sources, self.readings)
        if supposing and isinstance(node, (op.FactLabel, op.Comparison)):
            self._suppose(node)
        if cells > self._widest[0]:
            self._widest = (cells, tuple(map(whole, axes)))
        self._steps += cells * (1 + sources)
        return Reach(depth, uses, sources)


def borne(spec: Specification) -> tuple[Specification | None, tuple[Fault, ...]]:
    """The specification that knows how many labels it bears; the fault where it is too much with one on every axis."""
    for count in COUNTS:
        labels = {axis.name: _fewest(axis, count) for axis in spec.axes.values()}
        counted = WorkCount(spec, labels, whole=count == COUNTS[-1])
        if counted.within:
            return spec._replace(labels_borne=count), ()
    excess = counted.excess()
    assert excess is not None
    return None, (Fault(excess.share.place, excess.share.name, Code.TOO_MANY, excess.said, excess.write, "pack"),)


def _fewest(axis: Axis, count: int) -> int:
    """With how many labels on an axis a specification is tried, to know whether it bears so many on every counted one;
    of each kind there are seldom many, so that more of them are counted sheet by sheet."""
    return len(axis.names) * (min(count, PAIR) if axis.kinds else 1) or min(count, axis.most)


def excess_of(
    spec: Specification, labels: Mapping[str, tuple[str, ...]], stated: Collection[str] = ()
) -> Excess | None:
    """What there is too much of where the axes have these labels and these facts are stated once for the whole."""
    borne_by = {axis.name: _fewest(axis, spec.labels_borne) for axis in spec.axes.values()}
    if all(len(labels.get(name, ())) <= number for name, number in borne_by.items()):
        return None
    return WorkCount(spec, {axis: len(some) for axis, some in labels.items()}, stated=stated).excess()


def formulas_of(thing: Thing) -> Iterator[Formula]:
    """Every formula of a thing."""
    match thing:
        case Measurand():
            some = [thing.may_be_negative, thing.expands]
        case Figure():
            some = [thing.may_be_negative, *[each for way in thing.ways for each in (way.formula, way.when)]]
        case SignOff():
            some = [thing.importance, thing.applies_when]
        case Rule():
            lines = [each for line in thing.lines for each in line.formulas()]
            moves = [step.moves for steps in thing.remedy.values() for step in steps]
            words = thing.importance.values()
            some = [thing.formula, thing.applies_when, thing.may_be_negative, *lines, *moves, *words]
        case _:
            some = []
    return (each for each in some if each is not None)


def _things(spec: Specification) -> Iterator[Thing]:
    """Everything that costs anything, figures after those that they stand on."""
    yield from spec.facts.values()
    yield from spec.measurands.values()
    used = {name: {n for each in formulas_of(figure) for n in each.names} for name, figure in spec.figures.items()}
    order = TopologicalSorter({name: names & spec.figures.keys() for name, names in used.items()}).static_order()
    yield from (spec.figures[name] for name in order)
    yield from spec.sign_offs.values()
    for chain in spec.rules.values():
        yield from {id(rule): rule for rule in (*chain.versions, *chain.governing)}.values()


def _held_by(rule: Rule) -> Mapping[int, HoldsFor]:
    """Each thing by which limits of a rule hold, once."""
    return {id(key): key for line in rule.lines for validity in line.validities() for key in validity.keys}


def _needs(thing: Thing) -> tuple[str, ...]:
    """The sign-offs and rules that a thing needs."""
    if isinstance(thing, Figure):
        return tuple(need for way in thing.ways for need in way.needs)
    return thing.needs if isinstance(thing, Rule) else ()


def _in_a_row(spec: Specification) -> Mapping[str, int]:
    """Rule -> how many rules there are from it to one that needs none; those in a circle count as all of them."""
    needs = {name: {*chain.governing[-1].needs} & spec.rules.keys() for name, chain in spec.rules.items()}
    row: dict[str, int] = {}
    try:
        for name in TopologicalSorter(needs).static_order():
            row[name] = 1 + max([row[need] for need in needs[name]], default=0)
    except CycleError:
        return {name: sum(map(bool, needs.values())) for name, needed in needs.items() if needed}
    return row


def _number(amount: int) -> str:
    return f"{amount:,}" if amount < _ENDLESS else f"over {_ENDLESS:,}"


_TOGETHER = frozenset({"cells", "findings", "steps"})
"""What is added up over a whole specification; of the rest the largest counts."""

_COUNTED = ("depth", "row", "uses", "places", "cells", "findings", "steps")

_SAID = {
    "depth": "is worked out {amount} operations deep, with the figures that it stands on",
    "row": "stands in a row of {amount} rules of which each needs another",
    "uses": "names {amount} readings, facts and numbers once its figures are written out",
    "places": "lies at {amount} places{along}",
    "cells": "has {amount} places to be read at{along}",
    "findings": "stands at {amount} stations{along}",
    "steps": "takes {amount} steps to work out{along}",
}
_WRITE = {
    "depth": "one formula in place of several figures",
    "row": "fewer rules under needs",
    "uses": "each figure once in a formula",
    "places": "fewer axes or labels for it",
    "cells": "fewer axes or labels for it",
    "findings": "fewer axes or labels for it",
    "steps": "fewer axes or labels, or a reducer over fewer of them",
}

_ENDLESS = 10**12
_READING = Reach(0, 1, 1)
_ONE_PLACE: tuple[int, op.Axes] = (1, ())
