"""A record as a page for people, to print and to keep: first for the customer, then check by check with drawings.

It is made of the record, and of the pictures that this names, and decides nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from hashlib import sha256
from itertools import groupby
from types import MappingProxyType
from xml.etree.ElementTree import Element

from specrules.output.drawing import svg
from specrules.output.markup import Content, bullets, element, row, table, text_of_element
from specrules.output.page_frame import foot_of
from specrules.output.pictured import pictures_of
from specrules.output.recorded_limits import in_full, limits_drawn, limits_told
from specrules.output.telling import source_text
from specrules.output.value_drawing import SHAPES, SizeDrawn, ValueDrawn, largest_difference, mark, shapes, values
from specrules.output.verdicts import TELLING, Shown, counted_verdicts, shown
from specrules.output.words import decided_by, listed, lower, many, name, place, places, sentence, short
from specrules.plugins import Embedded
from specrules.quantity import YES_NO_UNIT
from specrules.record import FindingRecord, InputRecord, Record
from specrules.record.record_part import StationRecord, SuspectRecord
from specrules.vocabulary import BEYOND

MOST_LIMITS = 4
"""So many different limits of a check are said above its table; where there are more each row has its own."""
TOGETHER = 8
"""A check at so many places is kept on one page; where there are more it may go on behind a row."""
FOOT = 48
"""Letters of each thing at the foot of a sheet of paper."""
NO_PICTURES: Mapping[str, Embedded] = MappingProxyType({})
WHOLE_BUILD = "the whole build"
STANDS = {
    "held": "Stop: something holds the job.",
    "open": "Not yet: something is still open.",
    "clear": "Go on: nothing holds the job and nothing is open.",
}


def record_page(record: Record, pictures: Mapping[str, Embedded] = NO_PICTURES) -> str:
    """What the page has of one record: an article, which begins on a sheet of paper of its own. `pictures`: by file."""
    name = f"paper-{sha256((record.sheet.sha256 or record.sheet.file or '').encode()).hexdigest()[:12]}"
    made = article(record, pictures)
    made.set("class", name)
    return text_of_element(element("style", {}, foot_of(name, foot_told(record)))) + text_of_element(made)


def title_of(record: Record) -> str:
    """What is built, as a heading; where nobody says, its file."""
    return next(filter(str.strip, (record.sheet.title or "", record.sheet.file or "")), "A build")


def foot_told(record: Record) -> str:
    """What stands at the foot of each sheet of paper: which job it is, by what identifies it, and what is built."""
    sheet = record.sheet
    marks = (("job", sheet.job), ("serial number", sheet.serial), ("", title_of(record)))
    return sentence(", ".join(f"{what} {_cut(said)}".strip() for what, said in marks if said)).rstrip(".")


def _cut(said: str) -> str:
    return said if len(said) <= FOOT else f"{said[: FOOT - 1]}…"


def article(record: Record, pictures: Mapping[str, Embedded] = NO_PICTURES) -> Element:
    """All that a page has of one record, and of its pictures, by file."""
    heads = element("header", {}, element("h1", {}, title_of(record)), _facts(record))
    if not record.findings and record.faults:
        told = bullets(fault.sentence for fault in record.faults)
        return element("article", {}, heads, _stands("Not inspected: a file is at fault."), told)
    shown_in = list(pictures_of(record, pictures))
    pictured = [element("section", {"class": "pictures"}, element("h2", {}, "Pictures"), shown_in)] if shown_in else []
    return element("article", {}, heads, _for_the_customer(record), _groups(record), pictured, _behind_it(record))


def _facts(record: Record) -> Element:
    """Whose build it is, and what it was judged by."""
    sheet = record.sheet
    rows = {
        "Job": sheet.job,
        "Serial number": sheet.serial,
        "Customer": sheet.customer,
        "Builder": sheet.builder,
        "Date": sheet.date,
        "Packs": ", ".join(f"{pack.name} {pack.version}: {pack.title}" for pack in record.packs),
        "Decision rule": decided_by(record.decision),
        "As far as": name(record.until) if record.until else "",
        "Only": listed(sheet.scope),
    }
    return table("facts", [row(head, said) for head, said in rows.items() if said])


def _stands(said: str) -> Element:
    return element("p", {"class": "stands"}, said)


def _for_the_customer(record: Record) -> list[Content]:
    """What was found, what was done, how it stands, and who signs for it."""
    evidence = record.evidence
    counts = sentence(counted_verdicts(record.counts))
    on = f", on {many(evidence.readings, 'reading')}" if evidence.readings else ""
    how_much = f"{evidence.judged} of {many(evidence.apply, 'check')} judged{on}."
    attention = [each for each in record.findings if shown(each.verdict, Shown.WHOLE)]
    found = (f"{_named(each)}: {in_full(each)}" for each in attention)
    done = (f"{each.title}{_at(each.at)}{f', {each.on}' if each.on else ''}." for each in record.work_done or ())
    open_ = [each for each in record.findings if each.open and each not in attention]
    titles = dict.fromkeys(lower(short(each.title)) for each in open_)
    waiting = f"{many(len(titles), 'check')} still open: {listed(titles)}." if titles else ""
    asked = [each.question for each in record.sign_offs if each.open]
    to_state = _to_state(record)
    return [
        _stands(STANDS.get(record.verdict, sentence(record.verdict))),
        element("h2", {}, "What was found"),
        element("p", {}, f"{counts} {how_much}"),
        _bullets_or(found, "Nothing that was judged is beyond its limits or unproven."),
        element("h2", {}, "What was done"),
        _bullets_or((*done, *_conceded(record)), "The sheet names no work on the parts and no concession."),
        element("h2", {}, "What stands open"),
        _bullets_or(filter(None, (to_state, waiting, *asked)), "Nothing."),
        element("h2", {}, "Signatures"),
        table("sign", [row(f"{who}, date", "") for who in ("Builder", "Customer")]),
    ]


def _to_state(record: Record) -> str:
    if record.waiting is None:
        return ""
    number = record.waiting.rules
    waits = f"{many(number, 'check')} {'waits' if number == 1 else 'wait'} for it"
    return f"State {listed(fact.name for fact in record.waiting.facts)}: {waits}."


def _bullets_or(items: Iterable[str], nothing: str) -> list[Element]:
    return bullets(items) or [element("p", {}, nothing)]


def _named(finding: FindingRecord) -> str:
    at = place(finding.station)
    return f"{short(finding.title)}{f', {at}' if at else ''}"


def _at(labels: Mapping[str, Sequence[str]]) -> str:
    said = [f"{name(axis)} {', '.join(each)}" for axis, each in labels.items()]
    return f", {'; '.join(said)}" if said else ""


def _conceded(record: Record) -> Iterator[str]:
    for each in record.concessions:
        title = next((short(one.title) for one in record.findings if one.rule == each.rule), name(each.rule))
        at = listed(filter(None, map(place, each.used_at)))
        yield f"Conceded by {each.by}: {title}{f', {at}' if at else ''}. {sentence(each.reason)}"


def _groups(record: Record) -> list[Element]:
    """Group by group each check with its values, drawn, and the shape of what was measured for it."""
    told = [each for each in record.findings if not shown(each.verdict, Shown.COUNTED)]
    seen: set[str] = set()
    sections = []
    for number, (group, of) in enumerate(groupby(told, key=lambda each: each.group or "")):
        checks = [_check(list(same), record, seen) for _, same in groupby(of, key=lambda each: each.rule)]
        head = [element("h2", {}, group or "Checks"), *([legend()] if number == 0 else [])]
        sections.append(element("section", {"class": "details"} if number == 0 else {}, head, checks))
    return sections


def legend() -> Element:
    """What the marks of drawings mean."""
    items = [
        element("li", {}, svg(said, 3, 3, [mark(shape, 1.5, 1.5, {})]), f" {said}") for shape, said in SHAPES.items()
    ]
    return element("ul", {"class": "legend"}, items)


def _check(findings: Sequence[FindingRecord], record: Record, seen: set[str]) -> Element:
    """A check: a row for each of its stations beside their drawing; under it the shapes of the parts."""
    drawn = _drawing(findings)
    shared = list(_limits_shared(findings))
    rows = [
        row(
            place(each.station) or WHOLE_BUILD,
            each.said if shared and each.said else in_full(each),
            each.rests_on.readings,
            sort="beyond" if each.verdict in BEYOND else "",
        )
        for each in findings
    ]
    told = table("told" if drawn is not None else "told alone", rows, ("Place", "What came of it", "Readings"))
    figure = [element("figure", {"class": "values"}, drawn)] if drawn is not None else []
    shaped = list(_shapes(findings, record, seen))
    sort = "check whole" if len(findings) <= TOGETHER else "check"
    head = element("h3", {}, findings[0].title)
    return element("section", {"class": sort}, head, shared, figure, told, shaped)


def _limits_shared(findings: Sequence[FindingRecord]) -> Iterator[Element]:
    """The limits of a check, once for all places that share them; nothing where too few do."""
    by_limits: dict[str, list[StationRecord]] = {}
    for each in findings:
        by_limits.setdefault(limits_told(each), []).append(each.station)
    at = {told: places(stations) for told, stations in by_limits.items()}
    most = min(MOST_LIMITS, max(1, len(findings) // 2))
    if "" in at or len(at) > most or any(len(each) > FOOT for each in at.values()):
        return
    for told, where_ in at.items():
        yield element("p", {"class": "limits"}, sentence(told if len(at) == 1 else f"{where_}: {told}"))


def _drawing(findings: Sequence[FindingRecord]) -> Element | None:
    """The values of a check; of what is only so or not so there is nothing to draw."""
    return values(
        [
            ValueDrawn(
                _short_place(each),
                _end(each, 0),
                _end(each, 1),
                each.U or 0.0,
                _shape(each),
                limits_drawn(each.limits),
                each.places or 0,
            )
            for each in findings
            if each.unit != YES_NO_UNIT.symbol
        ]
    )


def _end(finding: FindingRecord, number: int) -> float | None:
    return finding.value if finding.value is not None else finding.between[number] if finding.between else None


def _short_place(finding: FindingRecord) -> str:
    return " ".join(str(label) for label in finding.station.values()) or "all"


def _shape(finding: FindingRecord) -> str:
    """The shape of a mark: by what keeps it from being judged, else by its verdict."""
    if finding.rests_on.suspect:
        return "open diamond"
    return "cross" if finding.rests_on.stale else TELLING[finding.verdict].shape


def _shapes(findings: Sequence[FindingRecord], record: Record, seen: set[str]) -> Iterator[Element]:
    """The parts whose sizes were read for a check, each measurand once, in the shape that was measured."""
    names = dict.fromkeys(name for finding in findings for name in _measured_for(finding))
    for measurand in (each for each in names if each not in seen):
        seen.add(measurand)
        readings = [each for each in record.readings or () if each.name == measurand and each.value is not None]
        order: dict[str, dict[str, None]] = {}
        for reading in readings:
            for axis, label in reading.position.items():
                order.setdefault(axis, {})[str(label)] = None
        stations: dict[str, list[SizeDrawn]] = {}
        for reading in readings:
            stations.setdefault(place(reading.station) or "the part", []).append(_measured(reading))
        labels = {axis: tuple(each) for axis, each in order.items()}
        drawn = shapes(stations, record.lies or {}, labels)
        if drawn is not None:
            differ = f"{largest_difference(stations):.3g} {readings[0].unit}"
            what = sentence(name(measurand)).rstrip(".")
            said = f"{what} as measured, its differences enlarged: the largest within one is {differ}."
            yield element("figure", {"class": "shapes"}, element("figcaption", {"class": "quiet"}, said), drawn)


def _measured_for(finding: FindingRecord) -> Sequence[str]:
    """The names of what was read for a check."""
    return finding.rests_on.measured or [each.name for each in finding.inputs or () if each.position]


def _measured(reading: InputRecord) -> SizeDrawn:
    assert reading.value is not None
    return SizeDrawn({axis: str(label) for axis, label in reading.position.items()}, reading.value)


def _behind_it(record: Record) -> Element:
    """What the verdicts stand on: sign-offs, concessions, what is asked less, cautions, sources, the seal."""
    parts: Iterable[tuple[str, Sequence[Content]]] = (
        ("Sign-offs", _signed(record)),
        ("Concessions", bullets(_conceded(record))),
        ("Asked less than by the packs below", bullets(each.said for each in record.ledger)),
        ("Readings that look like a slip", bullets(map(_suspect, record.suspects))),
        ("Remarks", bullets(_remarks(record))),
        ("Cautions", bullets(_cautions(record))),
        ("Sources", bullets(_sources(record))),
        ("Seal", _seal(record)),
    )
    told = [
        element("section", {"class": "whole"} if head == "Seal" else {}, element("h2", {}, head), content)
        for head, content in parts
        if content
    ]
    return element("section", {}, told)


def _suspect(suspect: SuspectRecord) -> str:
    at = place({**(suspect.station or {}), **(suspect.position or {})})
    told = sentence(f"{name(suspect.name)}{f', {at}' if at else ''}, {suspect.text}: {suspect.reason.said}")
    return f"{told} Confirmed by {suspect.confirmed}." if suspect.confirmed else told


def _remarks(record: Record) -> Iterator[str]:
    yield from (sentence(each.said) for each in record.remarks)
    for fact, taken in record.assumed.items():
        yield f"{sentence(name(fact)).rstrip('.')}: {taken}, taken from the readings."
    yield from (fault.sentence for fault in record.faults)


def _signed(record: Record) -> list[Element]:
    rows = [
        row(
            each.question,
            each.state + (f" at {listed(map(place, each.missing_at))}" if each.missing_at else ""),
            each.by or "",
            each.on or "",
        )
        for each in record.sign_offs
    ]
    return [table("told signed", rows, ("Question", "How it stands", "By", "On"))] if rows else []


def _cautions(record: Record) -> Iterator[str]:
    packs = [pack.caution for pack in record.packs]
    beyond = [each.caution for each in record.findings if each.verdict in BEYOND]
    yield from dict.fromkeys(sentence(text) for text in (*packs, *beyond) if text)


def _sources(record: Record) -> Iterator[str]:
    by_source: dict[str, dict[str, None]] = {}
    for each in record.findings:
        by_source.setdefault(source_text(each.source), {})[lower(short(each.title))] = None
    yield from (f"{sentence(source)} For: {listed(titles)}." for source, titles in by_source.items())


def _seal(record: Record) -> list[Element]:
    rows = {
        "Job": record.sheet.job,
        "Serial number": record.sheet.serial,
        "Seal of what was judged by": record.seal,
        "Sheet, SHA-256": record.sheet.sha256,
        "Sheet": record.sheet.file,
    }
    rows |= {f"Pack {pack.name} {pack.version}, SHA-256": pack.sha256 for pack in record.packs}
    rows |= {f"{each.file}, SHA-256": each.sha256 for each in record.sheet.files}
    rows |= {f"{each.file}, SHA-256": each.sha256 for each in record.pictures}
    rows["Made by"] = " ".join(("specrules", record.tool.version, *record.tool.plugins))
    return [table("facts", [row(head, element("code", {}, said)) for head, said in rows.items() if said])]
