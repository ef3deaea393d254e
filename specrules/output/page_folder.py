"""A folder of pages: one for each sheet, and an index with a line for each, which links to it.

Made of records alone, one at a time: of each only its line is kept.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from hashlib import sha256
from itertools import chain, count, groupby
from typing import NamedTuple
from unicodedata import normalize
from xml.etree.ElementTree import Element

from specrules.output.closing_lines import few_of, refusal, shortage, still_open, what_holds
from specrules.output.marks import INDEX, PAGE
from specrules.output.markup import Content, element, page
from specrules.output.page_frame import INDEX_STYLE, RECORDS_STYLE
from specrules.output.records_page import NO_PICTURES, article, foot_told, title_of
from specrules.output.verdicts import counted_verdicts
from specrules.output.words import counted, many, sentence
from specrules.plugins import Embedded
from specrules.record import NOT_INSPECTED, FindingRecord, Record

INDEX_FILE, ENDING = "index.html", ".html"
LONGEST = 60
NO_NAMES = frozenset(
    ("", "index", "con", "prn", "aux", "nul", *(f"{port}{number}" for port in ("com", "lpt") for number in range(10)))
)
"""What a page is not called: the index, and what Windows takes for a device, from memory."""
TITLE = "Inspections"
COMES_TO = {NOT_INSPECTED: "At fault", "held": "Stop", "open": "Not yet", "clear": "Go on"}
"""What a sheet comes to, by the verdict of its record."""
HEADS = ("Build", "Customer", "Serial number", "Job", "Date", "Findings", "Comes to", "By what")


class SheetLine(NamedTuple):
    """A sheet's line of the index. by_what: what holds it, what it waits for, or what is wrong with its files."""

    title: str
    sheet: str
    customer: str
    serial: str
    job: str
    date: str
    findings: str
    verdict: str
    by_what: tuple[str, ...]


def page_in_folder(record: Record, pictures: Mapping[str, Embedded] = NO_PICTURES) -> str:
    """The whole page of one record, with a way back to the index."""
    back = element("nav", {"aria-label": "All sheets"}, element("a", {"href": INDEX_FILE}, "All sheets"))
    main = element("main", {}, article(record, pictures))
    return page(PAGE, title_of(record), foot_told(record), RECORDS_STYLE + INDEX_STYLE, back, main)


def index_line(record: Record) -> SheetLine:
    """What the index has of one record."""
    sheet = record.sheet
    return SheetLine(
        title_of(record),
        sheet.file or "",
        sheet.customer or "",
        sheet.serial or "",
        sheet.job or "",
        sheet.date or "",
        counted_verdicts(record.counts),
        record.verdict,
        tuple(_by_what(record)),
    )


def index_page(lines: Sequence[tuple[str, SheetLine]]) -> str:
    """The index: a line for each sheet, in this order, with the name of its page."""
    total = dict.fromkeys(COMES_TO, 0)
    for _, each in lines:
        total[each.verdict] += 1
    said = counted((COMES_TO[verdict].lower(), number) for verdict, number in total.items())
    order = "The gravest stands first: files at fault, what is held, what is open, what may go on."
    heads = [element("th", {"scope": "col", "role": "columnheader"}, head) for head in HEADS]
    table = element(
        "table",
        {"class": "index", "role": "table", "aria-label": TITLE},
        element("thead", {"role": "rowgroup"}, element("tr", {"role": "row"}, heads)),
        element("tbody", {"role": "rowgroup"}, [_row(*each) for each in lines]),
    )
    return _index(element("p", {}, f"{many(len(lines), 'sheet')}: {said}. {order}"), table)


def unfinished_index(number: int) -> str:
    """What stands in place of the index while so many sheets are judged, and after a run that was stopped."""
    said = f"Not all judged of {many(number, 'sheet')}. Where no run is under way it was stopped: run it again."
    return _index(element("p", {"class": "stands"}, said))


def file_names(sheets: Sequence[str]) -> list[str]:
    """The name of each sheet's page, by the path that the sheet was given by: letters, digits and hyphens, so that no
    system takes it for anything else, and no two alike. Sheets of one name have a digest of their paths in it, so that
    each keeps its page in whatever order they are given."""
    stems = [_stem(sheet) for sheet in sheets]
    of_stem: dict[str, set[str]] = {}
    for sheet, stem in zip(sheets, stems, strict=True):
        of_stem.setdefault(stem, set()).add(sheet)
    made, taken = list[str](), {INDEX_FILE}
    for sheet, stem in zip(sheets, stems, strict=True):
        first = (
            stem if len(of_stem[stem]) == 1 else f"{stem}-{sha256(sheet.encode('utf-8', 'replace')).hexdigest()[:8]}"
        )
        more = (f"{first}-{number}{ENDING}" for number in count(2))
        made.append(next(name for name in chain([first + ENDING], more) if name not in taken))
        taken.add(made[-1])
    return made


def _stem(sheet: str) -> str:
    """A sheet's name without its ending, in the letters of a file name that every system takes as it is."""
    name = re.split(r"[/\\]", sheet)[-1]
    plain = normalize("NFKD", re.sub(r"(\.sheet)?\.ya?ml$", "", name)).encode("ascii", "ignore").decode().lower()
    stem = re.sub(r"[^a-z0-9]+", "-", plain)[:LONGEST].strip("-")
    return f"sheet-{stem}".rstrip("-") if stem in NO_NAMES else stem


def _index(*content: Element) -> str:
    main = element("main", {}, element("h1", {}, TITLE), content)
    return page(INDEX, TITLE, TITLE, RECORDS_STYLE + INDEX_STYLE, main)


def _row(file: str, of: SheetLine) -> Element:
    cells: tuple[Content, ...] = (
        *(of.customer, of.serial, of.job, of.date, of.findings, COMES_TO[of.verdict]),
        [element("div", {}, each) for each in of.by_what],
    )
    made = [
        element("td", {"role": "cell", "data-head": head} | ({} if cell else {"class": "empty"}), cell)
        for head, cell in zip(HEADS[1:], cells, strict=True)
    ]
    sheet = [element("div", {"class": "quiet"}, of.sheet)] if of.sheet not in ("", of.title) else []
    link = element("th", {"scope": "row", "role": "rowheader"}, element("a", {"href": file}, of.title), sheet)
    grave = {"class": "beyond"} if of.verdict in ("held", NOT_INSPECTED) else {}
    return element("tr", {"role": "row", **grave}, link, made)


def _by_what(record: Record) -> Iterable[str]:
    if record.verdict == NOT_INSPECTED:
        return few_of([fault.sentence for fault in record.faults])
    if record.verdict == "held":
        held = [each for each in record.findings if each.holds]
        refused = [refusal(each.name) for each in record.sign_offs if each.open and each.state == "answered no"]
        by_rule = groupby(held, key=lambda each: each.rule)
        return map(sentence, few_of([*(_holding(list(rule)) for _, rule in by_rule), *refused]))
    if record.verdict == "open":
        unsigned = sum(bool(each.open) for each in record.sign_offs)
        waiting = still_open([each.verdict for each in record.findings if each.open], unsigned)
        judged, asked = record.evidence.judged, record.at_least or 0
        short_of = [shortage(judged, record.evidence.apply, asked)] if judged < max(1, asked) else []
        return map(sentence, (*waiting, *short_of))
    return ()


def _holding(rule: Sequence[FindingRecord]) -> str:
    return what_holds(rule[0].title, [(each.station, each.verdict, each.side) for each in rule])
