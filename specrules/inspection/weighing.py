"""From what the numbers say to the verdict: sign-offs, stale and suspect readings, ways and packs that disagree."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import Any, NamedTuple, TypeVar

from specrules.evaluate import holds
from specrules.evaluate.binding import Binding, SheetEnvironment
from specrules.evaluate.gaugings import Gauging
from specrules.evaluate.trace import Place, Trace
from specrules.evaluate.worlds import THIS_WORLD
from specrules.formula.operators import LabelLookup, Lookup, all_operators
from specrules.inspection.evidence import (
    SignOffs,
    behind_negative,
    doubted_figures,
    stale_facts,
    stale_readings,
    too_coarse_for_limits,
)
from specrules.inspection.finding_parts import OtherWay, RestsOn
from specrules.inspection.judge import Judgement
from specrules.sheet import Reading, Suspect
from specrules.vocabulary import BEYOND, INSIDE, OPEN, Reason, Verdict, Why

NO_SLOPE = 1e-9

Key = TypeVar("Key")


class Evidence(NamedTuple):
    """What is known of the readings and signatures of one sheet, found once for all its findings."""

    readings: Sequence[Reading]
    names: Sequence[str]  # of what each reading is one of
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
    notes: tuple[Reason, ...]


def weigh(
    judged: Judgement,
    environment: SheetEnvironment,
    evidence: Evidence,
    others: Sequence[OtherWay],
    disagree: Reason | None,
    by_fit: tuple[Suspect, ...] = (),
) -> Weighed:
    """A good value is unproven while something that it needs is missing, any value while a reading is suspect.

    `by_fit`: the readings that this value itself questions."""
    base, trace, rule, spec = judged.decision.verdict, judged.trace, judged.rule, environment.binding.spec
    decided, found = base in INSIDE or base in BEYOND, trace.found
    suspects = _suspected(judged, evidence)
    suspects += tuple([each for each in by_fit if each.bars and each not in suspects])
    unexplained = not suspects and impossible_negative(judged, environment)
    if decided:
        suspects += too_coarse_for_limits(judged, evidence.readings, spec.measurands)
    if unexplained:  # whatever the limits are, and where nobody knows any
        suspects += behind_negative(judged, evidence.readings, spec.measurands)
    needs = needs_of(judged)
    asked = () if base is Verdict.NOT_APPLICABLE else [need for need in needs if need in spec.sign_offs]
    unsigned = evidence.sign_offs.lacking(asked, judged.station) if asked else {}
    stale = tuple(dict.fromkeys(_stale(trace, evidence)))
    notes: list[Reason] = [*judged.limits.notes, *trace.troubles]
    disputed = [other for other in others if other.agrees is False]
    if disputed:
        other = disputed[0]
        notes.append(Reason(Why.WAYS_DISAGREE, (other.way,), ("this" if other.surer else "that",)))
    if disagree is not None:
        notes.append(disagree)
    barred: Collection[str] = ()
    if bars := evidence.barring.get(rule.name):
        barred = dict.fromkeys([bars[number] for number in found if number in bars])
        notes += [Reason(Why.GAUGE_BARRED, (kind,)) for kind in barred]
    unproven = (
        (decided and bool(suspects))
        or disagree is not None
        or (base in INSIDE and bool(unsigned or stale or disputed or barred))
    )
    gauges = dict.fromkeys(map(evidence.gauges.__getitem__, found))
    gauges.pop("", None)
    rests_on = RestsOn(
        found=len(found),
        asked=len(trace.asked),
        gauges=tuple(gauges),
        assumed=tuple(trace.assumed),
        needed_rules=tuple([need for need in needs if need in spec.rules]),
        unsigned=tuple(unsigned),
        answered_no=tuple([name for name, state in unsigned.items() if state == "answered no"]),
        signed_before=tuple([name for name, state in unsigned.items() if state == "stale"]),
        stale=stale,
        suspect=suspects,
        missing=_lacking(judged, environment) if base in OPEN else (),
        group_statement=not evidence.grouped.isdisjoint(found),
        measured=tuple(dict.fromkeys(map(evidence.names.__getitem__, found))),
    )
    return Weighed(Verdict.NOT_PROVEN if unproven else base, rests_on, (*notes, *_told_besides(judged)))


def needs_of(judged: Judgement) -> Collection[str]:
    """The sign-offs and rules that a rule needs, and the ways to the figures behind it."""
    needs, ways = judged.rule.needs, judged.trace.ways
    return dict.fromkeys([*needs, *[need for way in ways.values() for need in way.needs]]) if needs or ways else ()


def evidence_of(binding: Binding, suspects: Sequence[Suspect], sign_offs: SignOffs) -> Evidence:
    """The evidence that one sheet holds."""
    sheet, spec, simple = binding.sheet, binding.spec, binding.error_sources.simple
    barring: dict[str, dict[int, str]] = {}
    for number, gauging in enumerate(binding.gaugings):
        kind = None if simple else spec.gauge_classes.get(gauging.gauge_class)
        for rule in kind.must_not_decide if kind is not None else ():
            barring.setdefault(rule, {})[number] = gauging.gauge_class
    return Evidence(
        readings=sheet.readings,
        names=[reading.name for reading in sheet.readings],
        stale=stale_readings(sheet, spec),
        stale_facts=stale_facts(sheet, spec),
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


def _suspected(judged: Judgement, evidence: Evidence) -> tuple[Suspect, ...]:
    """The suspects among what was looked at, each once; a shape stays when all readings of a part are as much out."""
    suspects = evidence.suspects
    read, stated = _among(judged.trace.numbers(), suspects), _among(judged.trace.facts, suspects)
    found = dict.fromkeys([*[suspects[key] for key in read], *[suspects[key] for key in stated]])
    return tuple([each for each in found if not _shape(judged, each, evidence.readings)])


def _among(keys: Collection[Key], known: Mapping[Any, object]) -> Sequence[Key]:
    """Those of some keys of which something is known: mostly none."""
    return () if known.keys().isdisjoint(keys) else [key for key in keys if key in known]


def _shape(judged: Judgement, suspect: Suspect, readings: Sequence[Reading]) -> bool:
    """Whether a value is the same however much too large all the readings in doubt at one station are."""
    value, numbers = judged.value, judged.trace.numbers()
    if suspect.position is not None or len(numbers) < 2 or value is None or not value.exact or value.low is None:
        return False
    if any((readings[n].name, readings[n].station) != (suspect.name, suspect.station) for n in numbers):
        return False
    return abs(sum(value.low.slopes.get(number, 0.0) for number in numbers)) < NO_SLOPE


def impossible_negative(judged: Judgement, environment: SheetEnvironment) -> bool:
    """Whether a value is below nothing, where it never can be."""
    value = judged.value
    if value is None or not value.exact or value.low is None or value.low.value >= 0 or not judged.trace.found:
        return False
    return not _may_be_negative(judged, environment)


def _stale(trace: Trace, evidence: Evidence) -> Iterator[Reason]:
    """What of it later work made worthless, and which work."""
    for number in _among(trace.numbers(), evidence.stale):
        yield Reason(Why.STALE_READING, (evidence.names[number], evidence.stale[number]))
    for name in _among([name for name, _ in trace.facts], evidence.stale_facts) if evidence.stale_facts else ():
        yield Reason(Why.STALE_FACT, (name, evidence.stale_facts[name]))


def _may_be_negative(judged: Judgement, environment: SheetEnvironment) -> bool:
    """Whether the pack lets this value be negative: the rule, or the one thing that its formula names."""
    rule, spec = judged.rule, environment.binding.spec
    named = spec.figures.get(rule.formula.text) or spec.measurands.get(rule.formula.text)
    conditions = (rule.may_be_negative, named.may_be_negative if named is not None else None)
    return any(
        condition is not None
        and set(condition.each) <= set(judged.station)
        and holds(condition, environment, judged.station) is True
        for condition in conditions
    )


def _told_besides(judged: Judgement) -> Iterator[Reason]:
    """What is said of a verdict that stands whatever nobody stated, or that hangs on the parts being new ones."""
    if judged.world is not THIS_WORLD and judged.world.facts and judged.decision.verdict is not Verdict.NOT_MEASURED:
        at_worst = ("no worse",) if judged.decision.verdict is Verdict.WORN else ()
        yield Reason(Why.SAME_IN_ALL_WORLDS, judged.world.facts, at_worst)
    if judged.decision.verdict in BEYOND and _worn_only(judged):
        yield Reason(Why.WORN_ONLY)


def _worn_only(judged: Judgement) -> bool:
    """New work beyond its limit that the wear limit would let pass."""
    value, limits = judged.value, judged.limits
    if value is None or value.low is None or not value.exact:
        return False
    wear = {"least": limits.wear_least, "most": limits.wear_most}.get(judged.decision.side)
    if wear is None or judged.decision.side in limits.worn:
        return False
    return value.low.value <= wear if judged.decision.side == "most" else value.low.value >= wear


def _lacking(judged: Judgement, environment: SheetEnvironment) -> tuple[Reason, ...]:
    """What there is no figure for, and what to measure or to state."""
    if judged.decision.verdict is Verdict.NO_FIGURE:
        return judged.lacks
    facts = environment.binding.spec.facts
    wanted = [
        Reason(Why.STATE_FACT, (name,)) if name in facts else Reason(Why.READ, (name,), labels)
        for name, labels in judged.trace.missing
    ]
    columns = environment.columns
    lookups = [each for each in all_operators(judged.rule.formula.operators) if isinstance(each, Lookup | LabelLookup)]
    if not wanted and not judged.lacks and lookups:
        wanted.append(Reason(Why.ROW_NOT_SURE, tuple({columns[each.column].table.name: None for each in lookups})))
    elif not wanted and not judged.lacks:
        wanted.append(Reason(Why.READ_FOR_ONE_WAY if judged.trace.ways else Why.READ_EVERY_POSITION))
    return tuple(dict.fromkeys((*judged.lacks, *wanted)))
