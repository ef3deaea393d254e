"""From what the numbers say to the verdict: sign-offs, stale and suspect readings, ways and packs that disagree."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import NamedTuple

from specrules.evaluate import holds
from specrules.evaluate.binding import Binding, Place, SheetEnvironment, Trace
from specrules.evaluate.gauging import Gauging
from specrules.inspection.decide import INSIDE, Verdict
from specrules.inspection.evidence import (
    SignOffs,
    doubted_figures,
    slips_against_limits,
    stale_facts,
    stale_readings,
)
from specrules.inspection.judge import Judgement
from specrules.inspection.parts import OtherWay, RestsOn
from specrules.sheet import Reading, Suspect


class Evidence(NamedTuple):
    """What is known of the readings and signatures of one sheet, found once for all its findings."""

    readings: Sequence[Reading]
    stale: Mapping[int, str]
    stale_facts: Mapping[str, str]
    suspects: Mapping[int | Place, Suspect]
    sign_offs: SignOffs
    gauges: Sequence[str]  # what each reading is said to be taken with, "" where nothing is
    barring: Mapping[str, Mapping[int, str]]  # rule -> reading's number -> kind of gauge that must not decide it
    grouped: frozenset[int]  # readings written once for several places


class Weighed(NamedTuple):
    """The verdict after all, and what it rests on."""

    verdict: Verdict
    rests_on: RestsOn
    notes: tuple[str, ...]


def weigh(
    judged: Judgement, environment: SheetEnvironment, evidence: Evidence, others: Sequence[OtherWay], disagree: str
) -> Weighed:
    """A good value is unproven while something that it needs is missing, any value while a reading is suspect."""
    base, trace, rule, stack = judged.decision.verdict, judged.trace, judged.rule, environment.binding.stack
    decided = base is not Verdict.NOT_APPLICABLE and base is not Verdict.NOT_MEASURED
    suspects = _suspected(trace, evidence) if evidence.suspects else ()
    if decided:
        suspects += slips_against_limits(judged, evidence.readings, lambda: _may_be_negative(judged, environment))
    needs = needs_of(judged)
    asked = () if base is Verdict.NOT_APPLICABLE else [need for need in needs if need in stack.sign_offs]
    unsigned = evidence.sign_offs.lacking(asked, judged.station)
    stale = _stale(trace, evidence) if evidence.stale or evidence.stale_facts else ()
    notes = [*judged.limits.notes, *[f"cannot be worked out: {trouble}" for trouble in trace.troubles]]
    disputed = [other for other in others if other.agrees is False]
    if disputed:
        other = disputed[0]
        less = "this way is the less to be trusted" if other.surer else "that way is the less to be trusted"
        notes.append(
            f"disagrees with the way '{other.way}' by more than both together can be wrong: one of the two is wrong, "
            f"and {less}, for its U is the larger"
        )
    if disagree:
        notes.append(disagree)
    barred: Collection[str] = ()
    if bars := evidence.barring.get(rule.name):
        barred = dict.fromkeys([bars[number] for number in trace.found if number in bars])
        notes += [f"a {kind} must not decide this" for kind in barred]
    unproven = (
        (decided and bool(suspects))
        or bool(disagree)
        or (base in INSIDE and bool(unsigned or stale or disputed or barred))
    )
    verdict = Verdict.NOT_PROVEN if unproven else base
    rests_on = RestsOn(
        found=len(trace.found),
        asked=len(trace.asked),
        gauges=tuple(dict.fromkeys([name for number in trace.found if (name := evidence.gauges[number])])),
        assumed=tuple(trace.assumed),
        needed_rules=tuple([need for need in needs if need in stack.rules]),
        unsigned=unsigned,
        stale=stale,
        suspect=suspects,
        missing=(*judged.lacks, *_missing(judged, environment)) if base is Verdict.NOT_MEASURED else (),
        group_statement=not evidence.grouped.isdisjoint(trace.found),
    )
    return Weighed(verdict, rests_on, tuple(notes))


def needs_of(judged: Judgement) -> Collection[str]:
    """The sign-offs and rules that a rule needs, and the ways to the figures behind it."""
    needs, ways = judged.rule.needs, judged.trace.ways
    return dict.fromkeys([*needs, *[need for way in ways.values() for need in way.needs]]) if needs or ways else ()


def evidence_of(binding: Binding, suspects: Sequence[Suspect], sign_offs: SignOffs) -> Evidence:
    """The evidence that one sheet holds."""
    sheet, stack, simple = binding.sheet, binding.stack, binding.error_sources.simple
    barring: dict[str, dict[int, str]] = {}
    for number, gauging in enumerate(binding.gaugings):
        kind = None if simple else stack.gauge_classes.get(gauging.gauge_class)
        for rule in kind.must_not_decide if kind is not None else ():
            barring.setdefault(rule, {})[number] = gauging.gauge_class
    return Evidence(
        readings=sheet.readings,
        stale=stale_readings(sheet, stack),
        stale_facts=stale_facts(sheet, stack),
        suspects=doubted_figures(sheet, suspects),
        sign_offs=sign_offs,
        gauges=[_gauge(*each, simple) for each in zip(sheet.readings, binding.gaugings, strict=True)],
        barring=barring,
        grouped=frozenset(number for number, reading in enumerate(sheet.readings) if reading.group),
    )


def _gauge(reading: Reading, gauging: Gauging, simple: bool) -> str:
    """The gauge that a reading was taken with; one that nobody named is said to be assumed."""
    if reading.gauge or simple or not gauging.gauge_class or reading.U is not None:
        return reading.gauge
    return f"{gauging.gauge_class}, assumed"


def _suspected(trace: Trace, evidence: Evidence) -> tuple[Suspect, ...]:
    """The suspects among what was looked at."""
    keys: list[int | Place] = [*trace.numbers(), *trace.facts]
    return tuple([evidence.suspects[key] for key in keys if key in evidence.suspects])


def _stale(trace: Trace, evidence: Evidence) -> tuple[str, ...]:
    """What of it later work made worthless, and which work."""
    readings = [
        f"{evidence.readings[number].name}: {evidence.stale[number]}"
        for number in trace.numbers()
        if number in evidence.stale
    ]
    facts = [
        f"{name} as stated: {evidence.stale_facts[name]}" for name, _ in trace.facts if name in evidence.stale_facts
    ]
    return tuple(dict.fromkeys([*readings, *facts]))


def _may_be_negative(judged: Judgement, environment: SheetEnvironment) -> bool:
    """Whether the pack lets this value be negative: the rule, or the one thing that its formula names."""
    rule, stack = judged.rule, environment.binding.stack
    named = stack.figures.get(rule.formula.text) or stack.measurands.get(rule.formula.text)
    conditions = (rule.may_be_negative, named.may_be_negative if named is not None else None)
    return any(
        condition is not None
        and set(condition.each) <= set(judged.station)
        and holds(condition, environment, judged.station) is True
        for condition in conditions
    )


def _missing(judged: Judgement, environment: SheetEnvironment) -> tuple[str, ...]:
    """What to measure or to state, in words."""
    stack, said = environment.binding.stack, []
    for name, labels in judged.trace.missing:
        where = " ".join(labels)
        if name in stack.facts:
            said.append(f"state {name}")
        elif where:
            said.append(f"{name.replace('_', ' ')} {where}")
        else:
            said.append(name.replace("_", " "))
    if not said and not judged.lacks:
        few = [way.name for way in judged.trace.ways.values()]
        said.append("every position, for one figure hides the scatter" if not few else "readings enough for one way")
    return tuple(dict.fromkeys(said))
