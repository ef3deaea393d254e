"""From what the numbers say to the verdict: sign-offs, stale and suspect readings, ways and packs that disagree."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from specrules.inspection.bench import Bench, Place
from specrules.inspection.decide import INSIDE, Verdict
from specrules.inspection.evidence import SignOffs, slips_against_limits
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


class Weighed(NamedTuple):
    """The verdict after all, and what it rests on."""

    verdict: Verdict
    rests_on: RestsOn
    notes: tuple[str, ...]


def weigh(judged: Judgement, bench: Bench, evidence: Evidence, others: Sequence[OtherWay], disagree: str) -> Weighed:
    """A good value is unproven while something that it needs is missing, any value while a reading is suspect."""
    base, trace, rule = judged.decision.verdict, judged.trace, judged.rule
    looked_at = {**trace.found, **trace.by_limits}
    keys: list[int | Place] = [*looked_at, *trace.facts]
    suspects = [evidence.suspects[key] for key in keys if key in evidence.suspects]
    if base not in (Verdict.NOT_APPLICABLE, Verdict.NOT_MEASURED):
        suspects += slips_against_limits(judged, evidence.readings, _may_be_negative(judged, bench))
    needs = dict.fromkeys((*rule.needs, *(need for way in trace.ways.values() for need in way.needs)))
    states = {
        need: evidence.sign_offs.state(need, judged.station)
        for need in needs
        if need in bench.of.stack.sign_offs and base is not Verdict.NOT_APPLICABLE
    }
    unsigned = tuple(need for need, state in states.items() if state in ("missing", "answered no", "stale"))
    stale = tuple(
        dict.fromkeys(
            f"{evidence.readings[number].name}: {evidence.stale[number]}"
            for number in looked_at
            if number in evidence.stale
        )
    ) + tuple(
        f"{name} as stated: {evidence.stale_facts[name]}"
        for name in dict.fromkeys(name for name, _ in trace.facts)
        if name in evidence.stale_facts
    )
    notes = [*judged.limits.notes, *(f"cannot be worked out: {trouble}" for trouble in trace.troubles)]
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
    barred = tuple(dict.fromkeys(_barred(judged, bench)))
    notes.extend(f"a {kind} must not decide this" for kind in barred)
    doubted = bool(suspects) and base not in (Verdict.NOT_APPLICABLE, Verdict.NOT_MEASURED)
    unproven = doubted or bool(disagree) or (base in INSIDE and bool(unsigned or stale or disputed or barred))
    verdict = Verdict.NOT_PROVEN if unproven else base
    readings = [evidence.readings[number] for number in trace.found]
    rests_on = RestsOn(
        found=len(trace.found),
        asked=len(trace.asked),
        gauges=tuple(dict.fromkeys(_gauges(judged, bench))),
        assumed=tuple(trace.assumed),
        needed_rules=tuple(need for need in needs if need in bench.of.stack.rules),
        unsigned=unsigned,
        stale=stale,
        suspect=tuple(suspects),
        missing=(*judged.lacks, *_missing(judged, bench)) if base is Verdict.NOT_MEASURED else (),
        group_statement=any(reading.group for reading in readings),
    )
    return Weighed(verdict, rests_on, tuple(notes))


def _gauges(judged: Judgement, bench: Bench) -> Iterator[str]:
    """The gauges that the readings were taken with; one that nobody named is said to be assumed."""
    for number in judged.trace.found:
        reading, gauging = bench.of.readings[number], bench.of.gaugings[number]
        if reading.gauge:
            yield reading.gauge
        elif gauging.gauge_class and reading.U is None and not bench.of.causes.simple:
            yield f"{gauging.gauge_class}, assumed"


def _barred(judged: Judgement, bench: Bench) -> Iterator[str]:
    """The kinds of gauge used that must not decide this rule."""
    if bench.of.causes.simple:
        return
    for number in judged.trace.found:
        kind = bench.of.stack.gauge_classes.get(bench.of.gaugings[number].gauge_class)
        if kind is not None and judged.rule.name in kind.must_not_decide:
            yield kind.name


def _may_be_negative(judged: Judgement, bench: Bench) -> bool:
    """Whether the pack lets this value be negative: the rule, or the one thing that its formula names."""
    rule, stack = judged.rule, bench.of.stack
    named = stack.figures.get(rule.formula.text) or stack.measurands.get(rule.formula.text)
    conditions = (rule.may_be_negative, named.may_be_negative if named is not None else None)
    return any(
        condition is not None
        and set(condition.each) <= set(judged.station)
        and condition.answer(bench, judged.station) is True
        for condition in conditions
    )


def _missing(judged: Judgement, bench: Bench) -> tuple[str, ...]:
    """What to measure or to state, in words."""
    stack, said = bench.of.stack, []
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
