"""What can hardly be right in a table, or may be: gaps, figures out of order, a row ten times off its neighbours."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from itertools import pairwise

from specrules.document import Place, Text, shown
from specrules.formula import Function, KeyKind, PrintedColumn, Rows, Scope
from specrules.formula import operators as op
from specrules.pack import Rule, Specification
from specrules.pack.compiling import Compiler
from specrules.pack.layering import gathered, ordered
from specrules.pack.pack_reading import Pack
from specrules.pack.table_entries import TableEntry
from specrules.pack.table_reading import TableReading
from specrules.proving.names import behind, of_lines
from specrules.proving.proof_parts import ProofRemark
from specrules.validation import checked

ALIKE = Decimal("2.5")
"""Neighbours that differ by no more than so many times show what stands between them."""
TEN = (Decimal(7), Decimal(14))
"""Between so many times theirs, a figure is theirs with its point misplaced."""


def slips_of_tables(
    packs: Sequence[Pack], name: str, spec: Specification, own: Sequence[Rule], functions: Mapping[str, Function]
) -> Iterator[ProofRemark]:
    """What stands out in each table that the pack wrote or changed, and in what its rules ask of any."""
    order, _ = ordered(packs, (name,))
    things = {} if order is None else gathered(order)[0]["tables"]
    for table in spec.tables.values():
        thing = things.get(table.data.name)
        if table.pack != name or thing is None:
            continue
        entry, _ = checked(TableEntry, thing.folded([each for each in thing.changes if not each.retires]))
        if entry is not None:
            reading = TableReading(thing.key, entry, Compiler(Scope({}, {}, functions=functions)))
            reading.table(name)
            yield from _of_rows(reading)
    yield from _uncovered(own, spec)


def _of_rows(reading: TableReading) -> Iterator[ProofRemark]:
    name, numbered = str(reading.name), [column for column in reading.columns if column.unit is not None]
    for rows, texts in reading.written:
        key = reading.keys[0 if rows.below else -1]
        if key.kind in (KeyKind.BAND, KeyKind.WHOLE):
            yield from _gaps(name, rows, texts, key.kind)
        for place, column in enumerate(numbered if rows.numbers else ()):
            figures = [
                (figure, text)
                for figure, text in zip((row[place] for row in rows.numbers), texts, strict=True)
                if figure is not None
            ]
            if column.order and key.kind is not KeyKind.CHOICE:
                yield from _out_of_order(name, column, figures)
            yield from _ten_times(name, column, figures, beside=key.kind is not KeyKind.CHOICE)


def _gaps(name: str, rows: Rows, texts: Sequence[Text], kind: KeyKind) -> Iterator[ProofRemark]:
    step = Decimal(1 if kind is KeyKind.WHOLE else 0)
    for at in range(len(texts) - 1):
        if rows.last[at] + step < rows.first[at + 1]:
            said = f"leaves a gap between {shown(texts[at])} and {shown(texts[at + 1])}, in which there is no figure"
            yield ProofRemark(texts[at + 1].place, f"{name} rows", said, "a row for it, if it has a figure", "question")


def _out_of_order(name: str, column: PrintedColumn, figures: Sequence[tuple[Decimal, Text]]) -> Iterator[ProofRemark]:
    for (before, _), (figure, text) in pairwise(figures):
        if (figure < before) if column.order == "rising" else (figure > before):
            said = (
                f"has {column.name} of {shown(text)} on the wrong side of the row before it, and it is {column.order}"
            )
            yield ProofRemark(text.place, f"{name} rows", said, "", "slip")


def _ten_times(
    name: str, column: PrintedColumn, figures: Sequence[tuple[Decimal, Text]], *, beside: bool
) -> Iterator[ProofRemark]:
    """Of rows in an order the two nearest show what a row may be, of others all the rest."""
    for at, (figure, text) in enumerate(figures):
        if beside:
            near = sorted(range(len(figures)), key=lambda other: abs(other - at))[1:3]
        else:
            near = [other for other in range(len(figures)) if other != at]
        sisters = [abs(figures[other][0]) for other in near]
        if len(sisters) < 2 or not figure or not min(sisters) or max(sisters) > ALIKE * min(sisters):
            continue
        middle = (max(sisters) + min(sisters)) / 2
        if TEN[0] <= max(abs(figure) / middle, middle / abs(figure)) <= TEN[1]:
            how = "ten times" if abs(figure) > middle else "a tenth of"
            said = f"has a {column.name} of {shown(text)} that is {how} its neighbours"
            yield ProofRemark(text.place, f"{name} rows", said, "its point where it belongs", "slip")


def _uncovered(own: Sequence[Rule], spec: Specification) -> Iterator[ProofRemark]:
    """Usual sizes for which a table that a rule looks up has no row."""
    told: set[tuple[str, str]] = set()
    for rule in own:
        for formula in behind((rule.formula, *of_lines(rule.lines)), spec):
            for each in op.all_operators(formula.operators):
                if not isinstance(each, op.Lookup | op.LabelLookup):
                    continue
                table = spec.scope.columns[each.column].table
                key, asked = table.keys[0], each.keys[0]
                if key.kind is KeyKind.CHOICE or not isinstance(asked, op.Slot) or (table.name, asked.name) in told:
                    continue
                thing = spec.facts.get(asked.name) or spec.measurands.get(asked.name)
                usual = thing.usual if thing is not None else None
                if usual is None or usual.low is None or usual.high is None:
                    continue
                told.add((table.name, asked.name))
                if not _covers(table.rows, usual.low, usual.high, key.kind):
                    said = f"has no figure for all usual sizes of {asked.name}"
                    yield ProofRemark(_place(spec, table.name), table.name, said, "rows for them", "question")


def _covers(rows: Rows, low: Decimal, high: Decimal, kind: KeyKind) -> bool:
    """Whether there are rows at both ends; gaps between are told by themselves."""
    return rows.within(low, low, kind) is not None and rows.within(high, high, kind) is not None


def _place(spec: Specification, table: str) -> Place:
    return spec.tables[table].place
