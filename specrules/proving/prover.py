"""Proving one pack of a specification, without a sheet: its limits tried over their sizes, its examples worked."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import localcontext
from types import MappingProxyType

from specrules.document import Fault, shown
from specrules.document.text import NOWHERE
from specrules.formula import FUNCTIONS, Function
from specrules.pack import GaugeClass, Rule, Specification, told_in
from specrules.pack.pack_reading import Pack
from specrules.pack.resolving import resolve
from specrules.proving.amounts_in_texts import bare_amounts
from specrules.proving.examples import ExampleOutcome, work
from specrules.proving.exercised import unexercised
from specrules.proving.exercises import WorkedExercises, work_exercises
from specrules.proving.limit_slips import slips
from specrules.proving.ordering import Tried, out_of_order
from specrules.proving.proof_parts import Proof, ProofRemark
from specrules.proving.proposals import Proposal, lacking_examples
from specrules.proving.sizes import stated_sizes
from specrules.proving.table_slips import slips_of_tables
from specrules.proving.tried_ledger import pack_ledger
from specrules.proving.unsaid_validity import holding_slips
from specrules.quantity import CONTEXT, nearest
from specrules.vocabulary import Code


def prove(
    packs: Sequence[Pack],
    name: str,
    functions: Mapping[str, Function] = FUNCTIONS,
    gauge_classes: Mapping[str, GaugeClass] = MappingProxyType({}),
    only: str = "",
) -> Proof:
    """Prove the rules that the pack `name` defines or amends, in the specification of it and what it builds on.

    `packs`: that pack and all that it builds on; `only`: one rule of its own. Pure: the same packs give the same proof.
    """
    made, faults = resolve(packs, (name,), functions, gauge_classes)
    if made is None:
        return Proof(name, faults, (), {})
    made = told_in(made, made.unit)
    own = own_rules(made, name)
    chosen = [rule for rule in own if only in ("", rule.name)]
    if only and not chosen:
        said = f"has no rule {shown(only)} that it defines or amends"
        write = nearest(only, [rule.name for rule in own]) or ""
        return Proof(name, (Fault(NOWHERE, name, Code.UNKNOWN_NAME, said, write, "pack"),), (), {})
    with localcontext(CONTEXT):
        proof = _proof(made, name, chosen, _files(packs, name), whole=not only)
        of_tables = slips_of_tables(packs, name, made, chosen, functions)
        return proof._replace(remarks=(*proof.remarks, *of_tables))


def own_rules(made: Specification, name: str) -> list[Rule]:
    """The rules that a pack defines, or amends last."""
    return [rule for chain in made.rules.values() for rule in chain.governing if rule.pack == name]


def propose(
    packs: Sequence[Pack],
    name: str,
    functions: Mapping[str, Function] = FUNCTIONS,
    gauge_classes: Mapping[str, GaugeClass] = MappingProxyType({}),
    only: str = "",
) -> tuple[Proposal, ...]:
    """The examples that a pack's own rules lack, without what is to come out; none where it is at fault."""
    made, _ = resolve(packs, (name,), functions, gauge_classes)
    if made is None:
        return ()
    made = told_in(made, made.unit)
    with localcontext(CONTEXT):
        own = [rule for rule in own_rules(made, name) if only in ("", rule.name)]
        return tuple(lacking_examples(made, own, {rule.name: work(rule, made) for rule in own}, _files(packs, name)))


def _files(packs: Sequence[Pack], name: str) -> frozenset[str]:
    return frozenset(file for pack in packs if pack.name == name for file in pack.files)


def _proof(made: Specification, name: str, own: Sequence[Rule], files: frozenset[str], whole: bool) -> Proof:
    worked: dict[str, list[ExampleOutcome]] = {rule.name: work(rule, made) for rule in own}
    every = [outcome for outcomes in worked.values() for outcome in outcomes]
    remarks: list[ProofRemark] = []
    tried = Tried(made, stated_sizes(made, [outcome.sheet for outcome in every if outcome.sheet is not None]))
    for rule in own:
        remarks += out_of_order(rule, tried)
        remarks += (remark for outcome in worked[rule.name] for remark in outcome.remarks)
    remarks += slips(own, made, files)
    remarks += holding_slips(own, made, files)
    remarks += bare_amounts(made, files) if whole else ()
    remarks += unexercised(made, own, worked, files)
    exercises = work_exercises(made, name) if whole else WorkedExercises((), {})
    remarks += exercises.remarks
    counts = {
        "rules": len(own),
        "examples": sum(len(rule.worked) for rule in own),
        "expectations": sum(len(worked.expect) for rule in own for worked in rule.worked),
        "settings": tried.settings,
        **exercises.counts,
    }
    names = {rule.name for rule in own}
    ledger = tuple(entry for entry in pack_ledger(made, name) if whole or entry.name in names)
    return Proof(name, (), tuple(remarks), counts, ledger)
