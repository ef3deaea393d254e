"""One rule as each pack of its chain leaves it, and the versions that govern."""

from __future__ import annotations

from collections.abc import Sequence

from specrules.pack.layering import Change, Order, Thing
from specrules.pack.merging import long_form
from specrules.pack.rule_entries import RuleEntry
from specrules.pack.rules import RuleAuthor, Rules
from specrules.pack.specification import Rule, RuleChain
from specrules.pack.validity import Layer
from specrules.validation import checked


def chain(thing: Thing, group: str, order: Order, rules: Rules) -> RuleChain | None:
    """The chain of a rule; None where one of its versions is at fault. A fault below is not said again above it."""
    changes = [change for change in thing.changes if not change.retires]
    made: dict[tuple[str, ...], Rule] = {}
    base = Layer(thing.pack, thing.key.place.file, long_form(thing.base))

    def version(upto: Sequence[Change], by: Change | None) -> Rule | None:
        packs_in_it = tuple(change.pack for change in upto)
        if packs_in_it in made:
            return made[packs_in_it]
        known = len(rules.compiler.faults)
        entry, faults = checked(RuleEntry, thing.folded(upto), within=("rules", str(thing.key)))
        rules.compiler.faults += faults
        key, pack = (by.key, by.pack) if by else (thing.key, thing.pack)
        reasons = tuple((change.pack, change.reason) for change in upto)
        margins = tuple((change.pack, margin) for change in upto for margin in change.margins)
        layers = (base, *(Layer(change.pack, change.key.place.file, change.parts) for change in upto))
        written = RuleAuthor(key, pack, group, reasons, not upto, margins, layers)
        rule = rules.rule(entry, written) if entry is not None else None
        if rule is None or len(rules.compiler.faults) > known:
            return None
        made[packs_in_it] = rule
        return rule

    own = [version([], None), *(version(_upto(top, changes, order), top) for top in changes)]
    versions = [rule for rule in own if rule is not None]
    if len(versions) < len(own):
        return None
    clashing = thing.clashing(order)
    rivals = [c for c in clashing if not any(c.pack in order.below[other.pack] for other in clashing)]
    if rivals:
        others = [[c for c in changes if c not in clashing or not order.strangers(c.pack, top.pack)] for top in rivals]
        governing = [version(upto, top) for upto, top in zip(others, rivals, strict=True)]
    else:
        governing = [version(changes, changes[-1] if changes else None)]
    governs = tuple(rule for rule in governing if rule is not None)
    return RuleChain(str(thing.key), tuple(versions), governs) if len(governs) == len(governing) else None


def _upto(top: Change, changes: Sequence[Change], order: Order) -> list[Change]:
    """The changes that one pack's version rests on: its own and those of the packs that it builds on."""
    return [change for change in changes if change is top or change.pack in order.below[top.pack]]
