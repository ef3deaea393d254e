"""Two records held against each other, as a page: both builds side by side, what changed, with each value drawn as it
was and as it is, what was read again, and what only one of them has."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from xml.etree.ElementTree import Element

from specrules.output.marks import CHANGES_PAGE
from specrules.output.markup import element, page, row, table
from specrules.output.page_frame import CHANGES_STYLE, RECORDS_STYLE
from specrules.output.record_changes import (
    NO_NUMBERS,
    OF_U,
    amounts_told,
    limit_told,
    moved_beyond,
    moved_within,
    other_verdicts,
    read_again,
    summary,
    there_told,
    values_told,
    verdict_told,
)
from specrules.output.recorded_limits import limits_drawn
from specrules.output.records_page import STANDS, WHOLE_BUILD, legend
from specrules.output.value_drawing import ValueDrawn, values
from specrules.output.verdicts import TELLING
from specrules.output.words import decided_by, name, place, places, sentence
from specrules.quantity import YES_NO_UNIT
from specrules.record.record_comparison import ChangedFinding, OnlyInOne, RecordComparison
from specrules.vocabulary import BEYOND

TITLE = "What changed"
PAIRS = (
    "In the drawings the left one of each two values is the old one, the right one the new, each against its limits."
)
MOST_DRAWN = 12
"""So many stations of a check are drawn, each with two values: of more nobody could tell one from the next."""


def page_of_changes(found: RecordComparison, files: tuple[str, str]) -> str:
    """The whole page. `files`: how the two records are called."""
    told, moved = other_verdicts(found), moved_beyond(found)
    first, *more = summary(found)
    main = element(
        "main",
        {},
        element("header", {}, element("h1", {}, TITLE), _heads(found, files)),
        element("p", {"class": "stands"}, first),
        [element("p", {}, each) for each in (*more, OF_U)],
        [legend(), element("p", {"class": "quiet"}, PAIRS)]
        if any(_drawing([each]) is not None for each in (*told, *moved))
        else [],
        _findings("Verdicts that changed", told, drawn=True),
        _findings("Moved by more than any U known, the verdict the same", moved, drawn=True),
        _table("Limits that changed", ("Check", "Limit", "Was", "Is"), _limits(found.findings)),
        _table("Sign-offs that changed", ("Question", "Was", "Is"), _sign_offs(found)),
        _table("Read again", ("What", "Where", "Readings", "Moved"), _readings(found)),
        _findings("Moved by no more than U, the verdict the same", moved_within(found), drawn=False),
        _table("Checks that only one has", ("Record", "Checks"), _of_one(found.findings_of_one)),
        _table("Readings that only one has", ("Record", "Readings"), _of_one(found.readings_of_one)),
    )
    return page(CHANGES_PAGE, TITLE, TITLE, RECORDS_STYLE + CHANGES_STYLE, main)


def _heads(found: RecordComparison, files: tuple[str, str]) -> Element:
    """Both builds side by side; what neither says has no row."""
    both = (found.old, found.new)
    rows: dict[str, Iterable[str | None]] = {
        "Record": files,
        "Build": (each.title for each in both),
        "Job": (each.job for each in both),
        "Serial number": (each.serial for each in both),
        "Customer": (each.customer for each in both),
        "Builder": (each.builder for each in both),
        "Date": (each.date for each in both),
        "Sheet": (each.file for each in both),
        "Packs": (", ".join(each.packs) for each in both),
        "Decision rule": (decided_by(each.decision) for each in both),
        "Came to": (STANDS.get(each.verdict, sentence(each.verdict)) for each in both),
        "Seal": (each.seal for each in both),
    }
    told = {head: [each or "" for each in pair] for head, pair in rows.items()}
    body = [row(head, *pair, sort="other" if pair[0] != pair[1] else "") for head, pair in told.items() if any(pair)]
    return table("told heads", body, ("Of", "Old", "New"))


def _findings(title: str, findings: Sequence[ChangedFinding], drawn: bool) -> list[Element]:
    """Check by check a row for each station, beside both values of each, drawn."""
    if not findings:
        return []
    checks = [_check(list(same), drawn) for _, same in groupby(findings, key=lambda each: (each.rule, each.title))]
    return [element("section", {}, element("h2", {}, title), checks)]


def _check(findings: Sequence[ChangedFinding], drawn: bool) -> Element:
    shown = [each for each in findings if drawn and each.unit != YES_NO_UNIT.symbol][:MOST_DRAWN]
    drawing = _drawing(shown)
    in_unit = f" ({findings[0].unit})" if findings[0].unit else ""
    heads = ("Place", "Verdict", f"Was{in_unit}", f"Is{in_unit}", f"Moved{in_unit}")
    told = table("told" if drawing is not None else "told alone", map(_finding, findings), heads)
    figure: list[Element] = []
    if drawing is not None:
        some = f"The first {MOST_DRAWN} of {len(findings)} places." if len(findings) > MOST_DRAWN else ""
        said = [element("figcaption", {"class": "quiet"}, some)] if some else []
        figure = [element("figure", {"class": "values"}, drawing, said)]
    return element("section", {"class": "check"}, element("h3", {}, findings[0].title), figure, told)


def _finding(of: ChangedFinding) -> Element:
    was, now = verdict_told(of, 0), verdict_told(of, 1)
    told = values_told(of)
    moved = told.moved if of.moved is not None else "" if of.values == (None, None) else NO_NUMBERS
    cells = (now if was == now else f"{was}, now {now}", told.was, told.now, moved)
    return row(place(of.station) or WHOLE_BUILD, *cells, sort="beyond" if of.verdicts[1] in BEYOND else "")


def _drawing(findings: Sequence[ChangedFinding]) -> Element | None:
    """Each value as it was and as it is, against the limits that were in force for it, on one scale."""
    return values([_drawn(each, number) for each in findings for number in (0, 1)], pairs=True)


def _drawn(of: ChangedFinding, number: int) -> ValueDrawn:
    at = " ".join(str(label) for label in of.station.values()) or "all"
    value = of.values[number]
    low, high = (value, value) if value is not None else of.between[number] or (None, None)
    shape = TELLING[of.verdicts[number]].shape
    return ValueDrawn(at, low, high, of.each_U[number] or 0.0, shape, limits_drawn(of.in_force[number]))


def _limits(findings: Sequence[ChangedFinding]) -> Iterator[Element]:
    for of in findings:
        for each in of.limits:
            at = place(of.station)
            cells = (each.part, *(f"{said} {of.unit}".rstrip() for said in limit_told(each)))
            yield row(f"{of.title}{f', {at}' if at else ''}", *cells)


def _sign_offs(found: RecordComparison) -> Iterator[Element]:
    yield from (row(each.question, *each.states) for each in found.sign_offs)


def _readings(found: RecordComparison) -> Iterator[Element]:
    for what, unit, these in read_again(found.readings):
        at = places([dict(station) for station in dict.fromkeys(tuple(each.station.items()) for each in these)])
        yield row(name(what), at or WHOLE_BUILD, str(len(these)), amounts_told(these, unit))


def _of_one(of: OnlyInOne) -> Iterator[Element]:
    for word, these in (("Only the old", of.old), ("Only the new", of.new)):
        if these:
            yield row(word, "; ".join(map(there_told, these)))


def _table(title: str, heads: Sequence[str], rows: Iterator[Element]) -> list[Element]:
    """A section of one table; nothing where it has no row."""
    made = list(rows)
    return [element("section", {}, element("h2", {}, title), table("told alone", made, heads))] if made else []
