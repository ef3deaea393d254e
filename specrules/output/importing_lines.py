"""What `sheet import` says: what goes in where, what is there already, what is refused and where that stands."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from specrules.document import Fault, shown
from specrules.document.place import sentence
from specrules.importing.entering_all import AgainstSheet, Entry
from specrules.importing.table_cells import CellTable, TableCell
from specrules.output.lines import Line, folded, line, spread, under
from specrules.output.telling import suspect_text
from specrules.output.words import many, place
from specrules.sheet import Suspect

ENOUGH = 40
"""So many refusals, and so many headings that are passed by, are told; the rest are counted."""


def importing(
    table: CellTable,
    found: AgainstSheet,
    refused: Sequence[Fault],
    passed: Sequence[TableCell],
    suspects: Sequence[Suspect],
    overwriting: bool,
) -> Iterator[Line]:
    """What becomes of a table: every figure that goes in, by measurand and station, and all that does not."""
    by_measurand: dict[str, list[Entry]] = {}
    for entry in found.entered:
        by_measurand.setdefault(entry.placed.measurand.name, []).append(entry)
    for entries in by_measurand.values():
        measurand = entries[0].placed.measurand
        units = Counter(_unit(entry) for entry in entries)
        usual = max(units, key=lambda unit: units[unit])
        title = measurand.title or measurand.name.replace("_", " ")
        yield from spread(f"{title}{f' ({usual})' if usual else ''}", many(len(entries), "figure"), "heading")
        for station, at in groupby(entries, key=lambda entry: entry.placed.spot[1]):
            lead = place(dict(zip(measurand.at, station, strict=True)))
            yield from folded(", ".join(_figure(entry, usual) for entry in at), 2, f"{lead}  " if lead else "")
    if found.already:
        them = "it" if len(found.already) == 1 else "them"
        said = f"{many(len(found.already), 'figure')}, as the sheet has {them}."
        yield from under("THERE ALREADY", folded(said, 2))
    yield from under("THE SHEET HAS OTHERWISE", _doubtful(_otherwise(each, overwriting) for each in found.otherwise))
    yield from under("REFUSED", _several([_sentence(fault, table.file) for fault in refused], "refusal"))
    headings = [f"{cell.where}: {shown(cell.text)}" for cell in passed]
    yield from under("NOT ASKED FOR BY THE MAP", _several(headings, "heading"))
    yield from under("TO READ AGAIN", _doubtful(map(suspect_text, suspects)))


def _otherwise(each: Entry, overwriting: bool) -> str:
    """A figure of which the sheet has another already."""
    done = "is kept beside it" if overwriting else "stays"
    said = f"{each.placed.measurand.name} {place(each.cell.place)} is {each.text} here; in the sheet {each.before}"
    return f"{each.placed.cell.where}: {said} {done}.".replace("  ", " ")


def _doubtful(texts: Iterable[str]) -> Iterator[Line]:
    return (row for text in texts for row in folded(text, 2, style="doubt", hang=4))


def ending(written: bool, entered: int, lacking: int, sheet: str, wanted: str) -> Iterator[Line]:
    """What was done, or what is to do. `lacking`: how many cells keep all from being written; `wanted`: the command
    that writes."""
    yield line()
    if written:
        yield from folded(f"{many(entered, 'figure')} written into {sheet}. Then: specrules inspect {sheet}")
    elif lacking:
        said = (
            f"Nothing is written: {many(lacking, 'thing')} above cannot go in. Put it right in the table or in the map"
        )
        yield from folded(f"{said}; --rest enters the rest.", style="bad")
    elif entered:
        yield from folded(f"Nothing is written yet. {many(entered, 'figure')} would go in by:")
        yield line(f"  {wanted}")
    else:
        yield from folded(f"There is nothing to write into {sheet}.")


def _unit(entry: Entry) -> str:
    """The unit of a figure that does not name its own, "" of one that does."""
    unit = entry.placed.figure.bare_in
    return unit.symbol if unit is not None else ""


def _figure(entry: Entry, usual: str) -> str:
    """Where on the part, and what; with its unit where that is not the usual one."""
    measurand, figure = entry.placed.measurand, entry.placed.figure
    position = dict(zip(measurand.positions, entry.placed.spot[2], strict=False))
    own = _unit(entry)
    return f"{place(position)} {figure.text}{f' {own}' if own != usual else ''}".strip()


def _sentence(fault: Fault, file: str) -> str:
    at = fault.place._replace(file="") if fault.place.file == file else fault.place
    return sentence(at, fault.subject, fault.said, fault.write)


def _several(texts: Sequence[str], what: str) -> Iterator[Line]:
    for text in texts[:ENOUGH]:
        yield from folded(text, 2, hang=4)
    if len(texts) > ENOUGH:
        yield line(f"  and {many(len(texts) - ENOUGH, f'{what} more').removesuffix('s')}.")
