"""Proving one pack of a specification, without a sheet: its limits tried over their sizes, its examples worked."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import localcontext
from types import MappingProxyType

from specrules.formula import FUNCTIONS, Function
from specrules.pack import GaugeClass, Specification
from specrules.pack.pack_reading import Pack
from specrules.pack.resolving import resolve
from specrules.proving.examples import ExampleOutcome, work
from specrules.proving.exercised import unexercised
from specrules.proving.exercises import work_exercises
from specrules.proving.limit_slips import slips
from specrules.proving.ordering import Tried, out_of_order
from specrules.proving.proof_parts import Proof, ProofRemark
from specrules.proving.sizes import stated_sizes
from specrules.proving.table_slips import slips_of_tables
from specrules.proving.tried_ledger import pack_ledger
from specrules.quantity import CONTEXT


def prove(
    packs: Sequence[Pack],
    name: str,
    functions: Mapping[str, Function] = FUNCTIONS,
    gauge_classes: Mapping[str, GaugeClass] = MappingProxyType({}),
) -> Proof:
    """Prove the rules that the pack `name` defines or amends, in the specification of it and what it builds on.

    `packs`: that pack and all that it builds on. Pure: the same packs give the same proof.
    """
    made, faults = resolve(packs, (name,), functions, gauge_classes)
    if made is None:
        return Proof(name, faults, (), {})
    files = frozenset(file for pack in packs if pack.name == name for file in pack.files)
    with localcontext(CONTEXT):
        proof = _proof(made, name, files)
        own = [rule for chain in made.rules.values() for rule in chain.governing if rule.pack == name]
        return proof._replace(remarks=(*proof.remarks, *slips_of_tables(packs, name, made, own, functions)))


def _proof(made: Specification, name: str, files: frozenset[str]) -> Proof:
    own = [rule for chain in made.rules.values() for rule in chain.governing if rule.pack == name]
    worked: dict[str, list[ExampleOutcome]] = {rule.name: work(rule, made) for rule in own}
    every = [outcome for outcomes in worked.values() for outcome in outcomes]
    remarks: list[ProofRemark] = []
    tried = Tried(made, stated_sizes(made, [outcome.sheet for outcome in every if outcome.sheet is not None]))
    for rule in own:
        remarks += out_of_order(rule, tried)
        remarks += (remark for outcome in worked[rule.name] for remark in outcome.remarks)
    remarks += slips(own, made, files)
    remarks += unexercised(made, own, worked, files)
    exercises = work_exercises(made, name)
    remarks += exercises.remarks
    counts = {
        "rules": len(own),
        "examples": sum(len(rule.worked) for rule in own),
        "expectations": sum(len(worked.expect) for rule in own for worked in rule.worked),
        "settings": tried.settings,
        **exercises.counts,
    }
    return Proof(name, (), tuple(remarks), counts, pack_ledger(made, name))
