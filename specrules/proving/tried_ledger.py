"""The ledger of a pack without a sheet: what it writes, and its limits and conditions tried at sizes and settings.

An inspection holds them against each other at its own stations.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from decimal import Decimal, localcontext

from specrules.evaluate import NotEvaluable, holds
from specrules.formula import Formula
from specrules.formula.operators import Comparison, Slot, all_operators
from specrules.inspection.ledger import wider
from specrules.inspection.limits import ResolvedLimits, exact, limits_at
from specrules.pack import Relaxation, Rule, RuleChain, Specification
from specrules.proving.names import behind, of_lines
from specrules.proving.sizes import Sizes, Trial, between, stated_sizes
from specrules.proving.trial_settings import is_size, most_tried, points_of, trials
from specrules.quantity import CONTEXT
from specrules.vocabulary import SIDE_OF, Relaxed, Why

Pair = tuple[Decimal | None, Decimal | None]
ANY = (Decimal(1), Decimal(10), Decimal(100))
"""Sizes in base units for what nothing says the size of: most limits differ alike at any."""
NEAR = Decimal("0.001")
Found = Mapping[tuple[Relaxed, str], list[Pair]]


def pack_ledger(spec: Specification, name: str) -> tuple[Relaxation, ...]:
    """All by which one pack of a specification asks less than the packs that it builds on."""
    sizes = stated_sizes(spec, ())
    with localcontext(CONTEXT):
        found = (each for chain in spec.rules.values() for each in _of_chain(chain, name, spec, sizes))
        return (*(entry for entry in spec.ledger if entry.pack == name), *found)


def _of_chain(chain: RuleChain, name: str, spec: Specification, sizes: Sizes) -> Iterator[Relaxation]:
    versions = {version.pack: version for version in chain.versions}
    above = versions.get(name)
    if above is None or above is chain.versions[0]:
        return
    below = [version for version in chain.versions if version is not above and _under(version, above)]
    ground = below[-1] if below else chain.versions[0]
    found = _found(ground, above, spec, sizes)
    for (code, part), pairs in found.items():
        condition = part == "applies when"
        yield _entry(code, part, ground, above)._replace(
            was=_when(ground) if condition else "",
            now=_when(above) if condition else "",
            limits=tuple(dict.fromkeys((_in(above, was), _in(above, now)) for was, now in pairs))
            if part in SIDE_OF
            else (),
            unit=above.unit if part in SIDE_OF else None,
        )


def _under(one: Rule, other: Rule) -> bool:
    """Whether all amendments of one version are in another."""
    return set(one.reasons) < set(other.reasons)


def _found(ground: Rule, above: Rule, spec: Specification, usual: Sizes) -> Found:
    """What is asked less at any size and setting, with the limits (was, now) there."""
    conditions = tuple(rule.applies_when for rule in (ground, above) if rule.applies_when is not None)
    formulas = behind((*of_lines(ground.lines), *of_lines(above.lines), *conditions), spec)
    sizes = _sizes(formulas, spec, usual)
    every = trials(ground, formulas, spec)
    points = points_of(sorted(sizes), sizes, len(every), most_tried(formulas, spec))
    found: dict[tuple[Relaxed, str], list[Pair]] = {}
    for bench in every:
        for point in points:
            for code, part, pair in _at(ground, above, bench.at(point)):
                found.setdefault((code, part), []).append(pair)
    return found


def _sizes(formulas: tuple[Formula, ...], spec: Specification, usual: Sizes) -> Sizes:
    """What to try each measurand and fact at that formulas read: usual sizes, else any; and beside each threshold."""
    names = {name for formula in formulas for name in formula.names} - spec.figures.keys()
    sizes: dict[str, set[Decimal]] = {}
    for name in (name for name in names if name in spec.measurands or is_size(name, spec)):
        fact = spec.facts.get(name)
        sizes[name] = set(usual.get(name) or between(fact.usual if fact else None) or ANY)
    for formula in formulas:
        for each in all_operators(formula.operators):
            if isinstance(each, Comparison) and isinstance(each.quantity, Slot) and each.quantity.name in sizes:
                sizes[each.quantity.name] |= {each.threshold + step for step in (-NEAR, Decimal(0), NEAR)}
    return {name: tuple(sorted(some)) for name, some in sizes.items()}


def _at(ground: Rule, above: Rule, bench: Trial) -> Iterator[tuple[Relaxed, str, Pair]]:
    nothing, station = (None, None), bench.setting.station
    if holds(ground.applies_when, bench, station) is False:
        return
    if holds(above.applies_when, bench, station) is False:
        yield Relaxed.SWITCHED_OFF, "applies when", nothing
        return
    one, other = (_limits(rule, bench) for rule in (ground, above))
    if not ground.limits_wanted or one is None or other is None:
        return
    if not above.limits_wanted or not (other.lacks or other.sets):
        yield Relaxed.SWITCHED_OFF, "limits", nothing
    elif one.lacks is not None and one.lacks.code is Why.ASK_THE_MAKER and not other.lacks:
        yield Relaxed.MAKERS_LIMITS, "limits", nothing
    elif not other.lacks:
        for part, side in SIDE_OF.items():
            pair = exact(one.sets.get(part)), exact(other.sets.get(part))
            if wider(side, *pair) and not (pair[1] is None and other.stands(part)):
                yield Relaxed.LIMIT_WIDENED, part, pair


def _limits(rule: Rule, bench: Trial) -> ResolvedLimits | None:
    try:
        return limits_at(rule, bench.setting.station, bench)
    except NotEvaluable:
        return None


def _entry(code: Relaxed, part: str, ground: Rule, above: Rule) -> Relaxation:
    setting = [
        line
        for line in above.lines
        if line.pack == above.pack and (part in (*line.sets, *line.clears) or line.shift is not None)
    ]
    return Relaxation(
        code=code,
        section="rules",
        name=above.name,
        title=above.title,
        part=part,
        was="",
        now="",
        pack=above.pack,
        below=ground.pack,
        reason=dict(above.reasons).get(above.pack, ""),
        place=setting[-1].place if setting else above.place,
    )


def _when(rule: Rule) -> str:
    return str(rule.applies_when.text) if rule.applies_when is not None else ""


def _in(rule: Rule, limit: Decimal | None) -> Decimal | None:
    return None if limit is None else rule.unit.from_base(limit)
