"""What is left of a specification for one thing, of which its facts say what it has: the rest is absent."""

from collections import deque
from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from graphlib import TopologicalSorter
from types import MappingProxyType
from typing import NamedTuple, TypeVar

from specrules.formula import Axis, Formula, Kind
from specrules.formula.existence import KnownFacts, both, misses, truth, without
from specrules.pack.holding_parts import Validity
from specrules.pack.said_facts import Described, lacking_labels, stated_facts
from specrules.pack.specification import (
    BuildPart,
    Figure,
    LimitLine,
    Measurand,
    Rule,
    RuleChain,
    SignOff,
    Specification,
    Step,
    Way,
)


class Present(NamedTuple):
    """A specification of what there is; and what is absent, each name with the fact that says so ("": nothing that
    exists needs it). `names` are facts, axes, measurands and figures; a rule may share the name of one of them."""

    spec: Specification
    names: Mapping[str, str] = MappingProxyType({})
    rules: Mapping[str, str] = MappingProxyType({})
    sign_offs: Mapping[str, str] = MappingProxyType({})
    parts: Mapping[str, str] = MappingProxyType({})


def present(spec: Specification, said: Described) -> Present:
    """What is left of a specification for a thing of which this is said.

    What cannot be read without something absent is absent too. What hangs on a fact that nobody states stands, under
    the condition that it exists. The last few answers are remembered: a sheet is settled, inspected and, while somebody
    works on it, inspected again, and mostly the same is said of the same specification.
    """
    found = next((there for of, by, there in tuple(_KNOWN) if of is spec and by == said), None)
    if found is None:
        found = _Presence(spec, said).found()
        _KNOWN.append((spec, said, found))
    return found


_KNOWN: deque[tuple[Specification, Described, Present]] = deque(maxlen=4)
"""Looked through as a copy: another thread may add to it meanwhile."""


class _Presence:
    """One specification held against what is said of the thing."""

    def __init__(self, spec: Specification, said: Described) -> None:
        self.spec = spec
        self.absent: dict[str, str] = {}
        self.waits: dict[str, Formula] = {}  # name -> the condition of which nobody knows whether it is true
        self.stated = said.stated
        self.lacking = lacking_labels(spec, said)
        self.known = KnownFacts(*stated_facts(spec, said), self.absent.keys(), self.lacking)
        self._settled: set[str] = set()
        self._validities: dict[int, Validity] = {}  # by identity: one stands behind many figures

    def found(self) -> Present:
        spec = self.spec
        for name in (*spec.facts, *spec.axes):
            self._settle(name)
        for measurand in spec.measurands.values():
            self._name("measurands", measurand.name, measurand.group, measurand.axes)
        figures = _kept({name: self._figure(spec.figures[name]) for name in _in_order(spec.figures)})
        chains = _kept({name: self._chain(chain) for name, chain in spec.rules.items()})
        sign_offs = _kept({name: self._sign_off(each) for name, each in spec.sign_offs.items()})
        needed, still = set(_needed(spec.rules, spec.figures)), set(_needed(chains, figures))
        gone = {name: "" for name in spec.sign_offs if name not in sign_offs or name in needed - still}
        fewer = len(chains) < len(spec.rules)
        parts = _kept({name: self._no_part(part) for name, part in spec.parts.items()})
        if not (self.absent or self.waits or gone or fewer or parts or self.known.lacking):
            return Present(spec)
        lost = {name: self._of_rule(chain) for name, chain in spec.rules.items() if name not in chains}
        left = {name: each for name, each in sign_offs.items() if name not in gone}
        return Present(self._left(figures, chains, left, parts), self.absent, lost, gone, parts)

    def _settle(self, name: str) -> None:
        """Whether a fact or an axis exists, after whatever its condition reads."""
        if name in self._settled:
            return
        self._settled.add(name)
        fact, axis = self.spec.facts.get(name), self.spec.axes.get(name)
        section = "facts" if fact is not None else "axes"
        when = self.spec.exists_when.get(section, {}).get(name)
        if fact is not None and when is None and not fact.at:
            return  # as most are
        stands_on = fact.at if fact is not None else _under(axis) if axis is not None else ()
        kinds = axis.count_of if axis is not None else {}
        for each in (*stands_on, *kinds.values(), *(when.names if when is not None else ())):
            self._settle(each)
        none = {kind: by for kind, fact in kinds.items() if (by := self._none_by(fact))}
        if none:
            self.lacking[name] = frozenset(none)
        if none and len(none) == len(kinds):
            self.absent[name] = next(iter(none.values()))
        else:  # what hangs on whether there is a kind waits with its whole axis
            self._name(section, name, "", (*stands_on, *(kinds[kind] for kind in kinds if kind not in none)))

    def _none_by(self, fact: str) -> str:
        """The fact by which there is none of a kind that this one counts; "" where there is one, or nobody knows."""
        if fact in self.absent:
            return self.absent[fact] or fact
        return fact if self.known.numbers.get(fact) == 0 else ""

    def _name(self, section: str, name: str, group: str, stands_on: Iterable[str]) -> bool:
        """Whether a name of formulas may exist; where nobody knows, the condition of it."""
        conditions = self._conditions(self.spec.exists_when.get(section, {}).get(name), group, stands_on)
        reason = self._against(conditions, stands_on)
        if reason is not None:
            self.absent[name] = reason
        elif (waits := both(None, *self._unknown(conditions))) is not None:
            self.waits[name] = waits
        return reason is None

    def _conditions(self, own: Formula | None, group: str, stands_on: Iterable[str]) -> tuple[Formula, ...]:
        of_group = self.spec.exists_when.get("groups", {}).get(group)
        found = (own, of_group, *(self.waits.get(each) for each in stands_on))
        return tuple(each for each in found if each is not None)

    def _against(self, conditions: Iterable[Formula], stands_on: Iterable[str]) -> str | None:
        """The fact that keeps something from existing; None where nothing does."""
        for each in stands_on:
            if each in self.absent:
                return self.absent[each]
        return next((self._decides(each) for each in conditions if self._truth(each) is False), None)

    def _truth(self, condition: Formula) -> bool | None:
        return truth(condition.operators, self.known)  # type: ignore[arg-type]  # it is a condition

    def _unknown(self, conditions: Iterable[Formula]) -> Iterator[Formula]:
        return (each for each in conditions if self._truth(each) is None)

    def _decides(self, condition: Formula) -> str:
        """The fact that makes a condition false: one that does alone, else one that is said, what is stated before what
        is taken, else what another one is absent by."""
        named = sorted((name for name in self.spec.facts if name in condition.names), key=self._is_taken)
        said = [name for name in named if name not in self.absent and self._says(name)]
        alone = (name for name in said if truth(condition.operators, self._only(name)) is False)  # type: ignore[arg-type]
        return (
            next(alone, "")
            or next(iter(said), "")
            or next((self.absent[name] for name in named if name in self.absent), "")
        )

    def _only(self, name: str) -> KnownFacts:
        """What one fact says, as if nothing else were known."""
        words, numbers = self.known.words, self.known.numbers
        return KnownFacts(
            {name: words[name]} if name in words else {}, {name: numbers[name]} if name in numbers else {}
        )

    def _is_taken(self, name: str) -> bool:
        return name not in self.stated

    def _says(self, name: str) -> bool:
        return name in self.known.words or name in self.known.numbers

    def _lacking(self, formulas: Iterable[Formula | None]) -> str:
        """The fact by which something is absent that formulas read."""
        read = [each for each in formulas if each is not None]
        names = {name for each in read for name in each.names}
        by = (self.absent[name] for name in sorted(names & self.absent.keys()) if self.absent[name])
        short = (
            self._by_label(axis, label)
            for axis, some in self.lacking.items()
            for label in sorted(some)
            for each in read
            if misses(each.operators, KnownFacts({}, {}, lacking={axis: {label}}))
        )
        return next(by, "") or next(short, "")

    def _by_label(self, axis: str, label: str) -> str:
        """The fact by which an axis lacks a label."""
        of = self.spec.axes[axis]
        return of.labels or self._none_by(of.count_of[label])

    def _read(self, formula: Formula | None) -> Formula | None:
        """A formula or a condition without what is absent; None where it cannot be read so."""
        return None if formula is None else without(formula, self.known)

    def _waiting(self, *formulas: Formula | None) -> Iterator[Formula]:
        """The conditions under which all exists that formulas read."""
        for formula in formulas if self.waits else ():
            names = self.waits.keys() & formula.names if formula is not None else ()
            yield from (self.waits[name] for name in sorted(names))

    def _figure(self, figure: Figure) -> Figure | None:
        if not self._name("figures", figure.name, figure.group, figure.each):
            return None
        ways = tuple(made for way in figure.ways if (made := self._way(way)) is not None)
        if not ways:
            self.absent[figure.name] = self._lacking(way.formula for way in figure.ways)
            return None
        return figure._replace(ways=ways, may_be_negative=self._read(figure.may_be_negative))

    def _way(self, way: Way) -> Way | None:
        formula, when = self._read(way.formula), self._read(way.when)
        if formula is None or (when is not None and when is not way.when and self._truth(when) is False):
            return None
        return way._replace(formula=formula, when=both(when, *self._waiting(formula)))

    def _chain(self, chain: RuleChain) -> RuleChain | None:
        """A rule; where an amendment alone keeps it from applying it stands, and is told to be switched off."""
        rules = {id(rule): rule for rule in (*chain.versions, *chain.governing)}
        made = {key: each for key, rule in rules.items() if (each := self._rule(rule)) is not None}
        if not made:
            return None
        for rule in chain.governing:
            if id(rule) not in made and (off := self._rule(rule, switched_off=True)) is not None:
                made[id(rule)] = off
        versions, governing = (
            tuple(made[id(each)] for each in some if id(each) in made) for some in (chain.versions, chain.governing)
        )
        return chain._replace(versions=versions, governing=governing) if governing else None

    def _of_rule(self, chain: RuleChain) -> str:
        """The fact by which a rule is absent."""
        rule = chain.governing[-1]
        reason = self._against(self._conditions(rule.applies_when, rule.group, rule.each), rule.each)
        return self._lacking((rule.formula,)) if reason is None else reason

    def _rule(self, rule: Rule, switched_off: bool = False) -> Rule | None:
        conditions = self._conditions(rule.applies_when, rule.group, rule.each)
        unknown = tuple(self._unknown(conditions[1:] if rule.applies_when else conditions))
        if not switched_off and self._against(conditions, rule.each) is not None:
            return None
        if not (unknown or self.absent or self.waits or self.known.lacking):
            return rule
        formula = self._judged(rule.formula)
        lines = tuple(made for line in rule.lines if (made := self._line(line)) is not None)
        importance = {word: self._read(each) for word, each in rule.importance.items()}
        if formula is None or None in importance.values():
            return None
        if not switched_off and rule.lines and not lines:
            return None
        waiting = (*unknown, *self._waiting(formula))
        return rule._replace(
            formula=formula,
            lines=lines,
            importance=_kept(importance),
            applies_when=both(self._read(rule.applies_when), *waiting),
            may_be_negative=self._read(rule.may_be_negative),
            remedy={side: tuple(self._steps(steps)) for side, steps in rule.remedy.items()},
        )

    def _judged(self, formula: Formula) -> Formula | None:
        """What a rule judges: a condition asks for nothing absent, since a no would be a verdict."""
        asks = formula.kind is Kind.CONDITION and misses(formula.operators, self.known)
        return None if asks else self._read(formula)

    def _line(self, line: LimitLine) -> LimitLine | None:
        """A limit line; None where what it sets stands on something absent, or it never counts."""
        when = self._read(line.when)
        if when is not None and when is not line.when and self._truth(when) is False:
            return None
        sets = {part: self._read(formula) for part, formula in line.sets.items()}
        shift = self._read(line.shift)
        if None in sets.values() or (line.shift is not None and shift is None):
            return None
        when = both(when, *self._waiting(*sets.values(), shift))
        return line._replace(
            when=when,
            sets=_kept(sets),
            shift=shift,
            holds={part: self._validity(each) for part, each in line.holds.items()},
            own=None if line.own is None else self._validity(line.own),
            below=None if line.below is None else self._line(line.below),
        )

    def _validity(self, of: Validity) -> Validity:
        """For what figures hold: what asks about something absent is not so."""
        if id(of) not in self._validities:
            keys = tuple(
                each._replace(asked=self._read(each.asked), along=tuple(x for x in each.along if x not in self.absent))
                for each in of.keys
            )
            self._validities[id(of)] = of._replace(keys=keys)
        return self._validities[id(of)]

    def _steps(self, steps: Sequence[Step]) -> Iterator[Step]:
        for step in steps:
            moves = self._read(step.moves)
            if step.moves is None or moves is not None:
                yield step._replace(moves=moves)

    def _sign_off(self, sign_off: SignOff) -> SignOff | None:
        conditions = self._conditions(sign_off.applies_when, sign_off.group, sign_off.at)
        importance = self._read(sign_off.importance)
        if self._against(conditions, sign_off.at) is not None or importance is None:
            return None
        waiting = self._unknown(conditions[1:] if sign_off.applies_when else conditions)
        when = both(self._read(sign_off.applies_when), *waiting)
        return sign_off._replace(importance=importance, applies_when=when)

    def _left(
        self,
        figures: Mapping[str, Figure],
        chains: Mapping[str, RuleChain],
        sign_offs: Mapping[str, SignOff],
        no_parts: Mapping[str, str],
    ) -> Specification:
        """The specification with only these in it, without these parts, and nothing that names what is gone."""
        spec, absent = self.spec, self.absent
        needs = {*chains, *sign_offs}
        rules = {name: _needing(chain, needs) for name, chain in chains.items()}
        measurands = {name: self._measurand(one) for name, one in spec.measurands.items() if name not in absent}
        counted = {axis.name for axis in spec.axes.values() if axis.kinds}  # with no label of any: their facts say so
        axes = _outside(absent.keys() - counted, spec.axes)
        stale = {*measurands, *sign_offs, *(name for name in spec.facts if name not in absent)}
        return spec._replace(
            scope=spec.scope._replace(axes=axes, names=_outside(absent, spec.scope.names)),
            axes=axes,
            facts=_outside(absent, spec.facts),
            measurands=measurands,
            figures={name: _by_ways(figures[name], needs) for name in spec.figures if name in figures},
            sign_offs=sign_offs,
            rules=rules,
            operations={
                name: each._replace(makes_stale=tuple(one for one in each.makes_stale if one in stale))
                for name, each in spec.operations.items()
            },
            parts={name: self._part(part) for name, part in spec.parts.items() if name not in no_parts},
            wear_when=self._read(spec.wear_when),
            gauges_expand=self._read(spec.gauges_expand),
        )

    def _measurand(self, of: Measurand) -> Measurand:
        new = None if of.new is not None and of.new.fact in self.absent else of.new
        return of._replace(may_be_negative=self._read(of.may_be_negative), expands=self._read(of.expands), new=new)

    def _no_part(self, part: BuildPart) -> str | None:
        """The fact that keeps a part from existing: its own condition, its axes, or all that is measured on it."""
        when = self.spec.exists_when.get("parts", {}).get(part.name)
        reason = self._against(() if when is None else (when,), part.at)
        if reason is None and all(name in self.absent for name in part.measurands):
            return next((self.absent[name] for name in part.measurands), "")
        return reason

    def _part(self, part: BuildPart) -> BuildPart:
        return part._replace(measurands=tuple(name for name in part.measurands if name not in self.absent))


def _under(axis: Axis) -> tuple[str, ...]:
    """The facts and the axis that an axis stands on."""
    return tuple(each for each in (axis.count, axis.labels, axis.groups, axis.of) if each)


def _in_order(figures: Mapping[str, Figure]) -> Iterator[str]:
    """Figures after those that they stand on."""
    stands_on = {name: {n for way in each.ways for n in way.formula.names} for name, each in figures.items()}
    order = TopologicalSorter({name: names & figures.keys() for name, names in stands_on.items()})
    return iter(order.static_order())


def _needed(rules: Mapping[str, RuleChain], figures: Mapping[str, Figure]) -> Iterator[str]:
    """What rules, and ways to figures, need."""
    for chain in rules.values():
        yield from (need for rule in chain.governing for need in rule.needs)
    for figure in figures.values():
        yield from (need for way in figure.ways for need in way.needs)


def _needing(chain: RuleChain, needs: Container[str]) -> RuleChain:
    """The chain, needing only what there is."""
    made = {id(rule): rule._replace(needs=_among(rule.needs, needs)) for rule in (*chain.versions, *chain.governing)}
    versions, governing = (tuple(made[id(rule)] for rule in some) for some in (chain.versions, chain.governing))
    return chain._replace(versions=versions, governing=governing)


def _by_ways(figure: Figure, needs: Container[str]) -> Figure:
    return figure._replace(ways=tuple(way._replace(needs=_among(way.needs, needs)) for way in figure.ways))


def _among(names: Iterable[str], known: Container[str]) -> tuple[str, ...]:
    return tuple(name for name in names if name in known)


T = TypeVar("T")


def _kept(made: Mapping[str, T | None]) -> dict[str, T]:
    return {name: each for name, each in made.items() if each is not None}


def _outside(absent: Container[str], known: Mapping[str, T]) -> dict[str, T]:
    return {name: each for name, each in known.items() if name not in absent}
