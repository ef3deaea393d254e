"""What is said of one finding, as texts: its value, its limits, its verdict, and all that stands under it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from decimal import Decimal
from typing import TYPE_CHECKING

from specrules.inspection import Beside, Finding, Limits, StepOutcome, WholeFinding
from specrules.inspection.digits import (
    amount,
    amount_beside,
    moved,
    number,
    places_of,
    printed_limits,
    said_beyond,
    with_unit,
)
from specrules.inspection.finding_parts import FigureOfGauge, RestsOn
from specrules.output.reasons import overtaken, said
from specrules.output.verdicts import TELLING
from specrules.output.words import listed, lower, many, name, places, sentence
from specrules.pack import Source
from specrules.quantity import YES_NO_UNIT, Unit, fixed
from specrules.sheet import Suspect
from specrules.vocabulary import BEYOND, Reason, Why

if TYPE_CHECKING:
    from specrules.record import SourceRecord

NOT_CONFIRMED = (Why.TOO_FEW_PLACES, Why.IMPOSSIBLE_NEGATIVE)
"""What is doubtful whoever says that the number is right."""
HAS_TO_BE_SO, NO_LIMITS = "has to be so", "no limits"
CONFIRMING = "A number that is right is written as {value: NUMBER, confirmed: INITIALS}."


def limits_text(limits: Limits, unit: Unit, places: int, between: str = "   ") -> str:
    """The limits in a row, with the unit once, and whether any of them is rounded."""
    if unit == YES_NO_UNIT:
        return HAS_TO_BE_SO if limits.least is not None else NO_LIMITS
    found = printed_limits(limits, places)
    return limits_row(found.texts, found.rounded, unit.symbol, between)


def limits_row(texts: Mapping[str, str], rounded: bool, symbol: str, between: str) -> str:
    """The same of limits by part as they are printed, in the unit of this symbol. `rounded`: whether any is."""
    said = [f"{part} {limit}" for part, limit in texts.items()]
    return f"{between.join(said)} {symbol}".rstrip() + (", rounded" if rounded else "") if said else NO_LIMITS


def limits_of(finding: Finding) -> str:
    """The limits of a finding, with its digits."""
    return limits_text(finding.limits, finding.unit, places_of(finding))


def verdict_text(finding: Finding) -> str:
    """The verdict in the trade's words: the side in capitals when it is surely beyond."""
    told = TELLING[finding.verdict]
    if finding.verdict in BEYOND:
        side = told.said.format(side=finding.side, SIDE=finding.side.upper())
        return f"{side}{said_beyond(finding)}{', conceded' if finding.conceded else ''}"
    return told.said or str(finding.verdict)


def in_words(finding: Finding) -> str:
    """What is found at one place, for whoever sees no screen: value and verdict, then what it lacks."""
    value, rests_on = with_unit(finding), finding.rests_on
    would_be = f", would be {finding.would_be}" if finding.would_be is not None else ""
    told = [f"{value}{': ' if value else ''}{verdict_text(finding)}{would_be}."]
    told += [f"Lacking: {listed(map(said, rests_on.missing))}."] if rests_on.missing else []
    told += [*map(suspect_text, rests_on.suspect), *unproven_by(rests_on)]
    told += [f"Read before the {name(stale.names[1])}: {overtaken(stale)}." for stale in rests_on.stale]
    return " ".join(told)


def details(finding: WholeFinding) -> Iterator[str]:
    """All that stands under a station's line, one text each."""
    yield from basis(finding)
    yield from doubts(finding)
    for other in finding.other_ways:
        agrees = {None: "", True: ", which agrees", False: ", which does not agree"}[other.agrees]
        U = f" ±{number(other.U, finding)}" if other.U else ""
        yield f"By {other.way}: {number(other.value, finding)}{U}{agrees}."
    if finding.range is not None and finding.range[0] != finding.range[1]:
        yield f"Over all the readings {number(finding.range[0], finding)} to {number(finding.range[1], finding)}."
    if not finding.rests_on.suspect:
        yield from remedy(finding, finding.steps)
    for beside in finding.beside:
        if beside.verdict is not (finding.would_be or finding.verdict) and beside.limits != Limits():
            yield beside_text(beside, finding)
    yield from (sentence(said(note)) for note in finding.notes)


def for_the_bench(finding: WholeFinding) -> Iterator[str]:
    """What to know under a station with the part in hand: why the verdict is not a plain one, and what to do."""
    yield from doubts(finding)
    if not finding.rests_on.suspect:
        yield from remedy(finding, _enough(finding.steps))
    yield from (sentence(said(note)) for note in finding.notes)


def _enough(steps: Sequence[StepOutcome]) -> tuple[StepOutcome, ...]:
    """What is to be done whatever it brings, and the first step that brings the value inside; where none does, all."""
    inside = next((step for step in steps if step.verdict is not None and step.verdict not in BEYOND), None)
    return tuple(step for step in steps if inside is None or step.verdict is None or step is inside)


def in_short(finding: WholeFinding) -> Iterator[str]:
    """What stands under a station that is just in: the rest of it is seen where the rule is worked."""
    if finding.rests_on.found != finding.rests_on.asked or finding.rests_on.group_statement:
        yield f"rests on {readings(finding)}"
    yield from doubts(finding)
    yield from (sentence(said(note)) for note in finding.notes)


def doubts(finding: WholeFinding) -> Iterator[str]:
    """Why a verdict is not a plain one."""
    if finding.would_be is not None:
        yield f"As it stands it would be {finding.would_be}."
    told = TELLING[finding.verdict]
    if told.why:
        yield told.why
    if told.gauge:
        yield from settling(finding)
    if finding.rests_on.suspect:
        yield from (suspect_text(suspect) for suspect in finding.rests_on.suspect)
        yield "Read it again: nothing is judged by it, and the sheet is left as it is."
        if any(map(may_be_right, finding.rests_on.suspect)):
            yield CONFIRMING
    yield from unproven_by(finding.rests_on)
    for stale in finding.rests_on.stale:
        yield f"Stale: {overtaken(stale)} was read before the {name(stale.names[1])}. Read it again."


def unproven_by(rests_on: RestsOn) -> Iterator[str]:
    """What a finding needs and lacks, by how: a signature that is missing, says no or is overtaken; another check."""
    no, before, checks = rests_on.answered_no, rests_on.signed_before, rests_on.needed_rules
    missing = [each for each in rests_on.unsigned if each not in (*no, *before, *checks)]
    kinds = {"Not signed": missing, "Signed as not good": no, "Signed before later work; sign again": before}
    kinds["Not good itself"] = [each for each in rests_on.unsigned if each in checks]
    yield from (f"{how}: {listed(map(name, some))}." for how, some in kinds.items() if some)


def basis(finding: WholeFinding) -> Iterator[str]:
    """The working, and how many readings it stands on; nothing where it is one reading and there is no more."""
    if finding.worked and finding.combines:
        yield f"{finding.worked}, {readings(finding)}"
    elif finding.rests_on.found != finding.rests_on.asked or finding.rests_on.group_statement:
        yield f"rests on {readings(finding)}"


def settling(finding: WholeFinding) -> Iterator[str]:
    """What would settle a verdict that is in doubt, the first of each kind; or that nothing that was tried would.

    Of finer blades both ends of the gap are told, where both settle it."""
    first: dict[Why, tuple[str, ...]] = {}
    decide: dict[tuple[str, ...], str] = {}
    for each in finding.alternatives:
        how = each.how
        if each.decides and first.setdefault(how.code, how.names) == how.names:
            blades = how.labels if how.code is Why.READ_BETWEEN else ()
            decide.setdefault((how.code, *blades), f"{said(how)} (U {number(each.U, finding)}: {each.verdict})")
    if decide:
        yield f"To settle it, {listed([*decide.values()], 'or')}."
    elif finding.alternatives:
        best = min(finding.alternatives, key=lambda each: each.U)
        yield (
            f"No way to read it again that was tried would settle it; U is least, {number(best.U, finding)}, if you"
            f" {said(best.how)}."
        )


def readings(finding: Finding) -> str:
    """How many readings stand behind it."""
    found, asked = finding.rests_on.found, finding.rests_on.asked
    group = ", one statement for many" if finding.rests_on.group_statement else ""
    return f"{found} of {many(asked, 'reading')}{group}"


def suspect_text(suspect: Suspect) -> str:
    """What looks like a slip, where it stands, and what to look at."""
    where = " ".join((name(suspect.name), *suspect.station, *(suspect.position or ())))
    told = f"Line {suspect.place.line}: {where} = {suspect.text} {said(suspect.reason)}".rstrip(".") + "."
    return f"{told} Confirmed by {suspect.confirmed}." if suspect.confirmed else told


def may_be_right(suspect: Suspect) -> bool:
    """Whether somebody's word that the number is right clears it."""
    return suspect.reason.code not in NOT_CONFIRMED


def borne_out(suspects: Sequence[Suspect]) -> Iterator[str]:
    """Sizes outside the usual ones that the sheet itself bears out, told once for all stations of a measurand."""
    alike: dict[tuple[str, Reason, str], list[Mapping[str, str]]] = {}
    for suspect in suspects:
        if suspect.as_stated and not suspect.confirmed:
            key = (suspect.name, suspect.reason, suspect.as_stated)
            station = dict(zip(suspect.at, suspect.station, strict=False))
            alike.setdefault(key, []).extend([station] if station not in alike.get(key, ()) else [])
    for (what, reason, by), stations in alike.items():
        at = f" at {where}" if (where := places(stations)) else ""
        yield f"{sentence(name(what)).rstrip('.')}{at} {said(reason)}; the sheet bears it out by its {name(by)}."


def remedy(finding: WholeFinding, steps: Sequence[StepOutcome]) -> Iterator[str]:
    """What to do, each of these steps with what it would bring."""
    if steps:
        yield "Do: " + "; ".join(step_text(step, finding) for step in steps) + "."
    if finding.otherwise:
        tried = any(step.verdict for step in steps)
        yield ("No step in hand is enough. " if tried else "") + sentence(finding.otherwise)


def done(step: StepOutcome) -> str:
    """What a step does; of what is sold in no size that is enough, that."""
    return f"no {lower(step.none_of)} that is sold brings it inside" if step.none_of else step.do.rstrip(".; ")


def step_text(step: StepOutcome, finding: Finding) -> str:
    """A step and its outcome, with the digits of its finding."""
    do = done(step)
    if step.verdict is None or step.value is None:
        return do
    outcome = str(step.verdict)
    if step.verdict in BEYOND and step.beyond is not None:
        still = "still " if step.side == finding.side else ""
        at_least = " or more" if finding.value is None else ""
        outcome = f"{still}{step.side} by {amount(step.beyond, finding)}{at_least}"
    if finding.value is None:
        return f"{do}, then {outcome}"
    return f"{do}, then {moved(step.value, finding)} ({outcome})"


def beside_text(beside: Beside, finding: Finding) -> str:
    """What another pack says of the same value."""
    places = places_of(finding)
    limits, side = limits_text(beside.limits, finding.unit, places, ", "), ""
    if beside.side and beside.beyond is not None:
        side = f", {beside.side} by {amount_beside(beside.beyond, beside.limits, places)}"
    return f"By {beside.pack} alone: {beside.verdict}{side} ({limits})."


def sources_of_figures(figures: Iterable[FigureOfGauge]) -> Iterator[str]:
    """What each gauge can do, and whose word that is: a line a gauge."""
    known: dict[str, dict[str, dict[str, None]]] = {}
    for gauge, figure, value, unit, source in figures:
        amount = f"{'MPE' if figure == 'mpe' else figure} {two_digits(value)} {unit.symbol}".rstrip()
        known.setdefault(gauge, {}).setdefault(in_brief(source), {})[amount] = None
    for gauge, by_source in known.items():
        said = [f"{', '.join(amounts)} ({source})" for source, amounts in by_source.items()]
        yield f"{gauge}: {'; '.join(said)}"


def in_brief(source: Source) -> str:
    """How far a figure may be trusted, and the document that it is from, or else what is known of it."""
    document = ", ".join(part for part in (source.document, source.edition) if part)
    said = document or (source.note if source.kind in ("house", "maker") else "")
    return f"{source.kind}{': ' if said else ''}{said}"


def two_digits(value: Decimal) -> str:
    """A number to two significant digits, and no noughts behind them."""
    text = fixed(value, max(0, 1 - value.adjusted()))
    return text.rstrip("0").rstrip(".") if "." in text else text


def source_text(source: Source | SourceRecord) -> str:
    """Where a figure comes from."""
    where = ", ".join(part for part in (source.document, source.edition, source.page, source.clause) if part)
    said = ", ".join(part for part in (where, source.note) if part)
    return f"{source.kind}{': ' if said else ''}{said}"
