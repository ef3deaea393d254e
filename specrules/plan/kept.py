"""A plan as it is kept: a specification less what only proving and teaching want, and the names its packs use."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from typing import NamedTuple

from specrules.formula import Function
from specrules.pack import Rule, RuleChain, Specification
from specrules.plan.codec import Unreadable, decode, encode
from specrules.plan.sealing import seal, unseal


class Plan(NamedTuple):
    """A specification and every name that its packs define: what a plugin offers under such a name is left out."""

    specification: Specification
    names: frozenset[str]


def keep(key: str, plan: Plan) -> bytes:
    """The bytes of a plan, sealed under its key."""
    names = json.dumps(sorted(plan.names), ensure_ascii=False)
    return seal(key, f"{names}\n{encode(_without_examples(plan.specification))}")


def restore(key: str, kept: bytes | None, functions: Callable[[frozenset[str]], Mapping[str, Function]]) -> Plan | None:
    """The plan of these bytes; None where there is any doubt of them. `functions`: those left beside some names."""
    text = None if kept is None else unseal(key, kept)
    if text is None:
        return None
    first, _, rest = text.partition(b"\n")
    try:
        names = frozenset(json.loads(first))
        return Plan(decode(rest, functions(names)), names)
    except (ValueError, TypeError, Unreadable):
        return None


def _without_examples(specification: Specification) -> Specification:
    rules = {name: _bare(chain) for name, chain in specification.rules.items()}
    return specification._replace(rules=rules, exercises={})


def _bare(chain: RuleChain) -> RuleChain:
    made: dict[int, Rule] = {}

    def bare(rule: Rule) -> Rule:
        return made.setdefault(id(rule), rule._replace(worked=()))

    return RuleChain(chain.name, tuple(map(bare, chain.versions)), tuple(map(bare, chain.governing)))
