"""What is sold in sizes. They are runs of sizes, single ones, or a column of a table."""

from __future__ import annotations

from decimal import Decimal

from specrules.document import Text, shown
from specrules.pack.blades import Blades, read_blades
from specrules.pack.compiling import Compiler, source_of
from specrules.pack.naming import plain
from specrules.pack.specification import Sold
from specrules.pack.table_entries import SoldEntry
from specrules.quantity import Refusal
from specrules.vocabulary import Code


def sold_in_sizes(key: Text, entry: SoldEntry, compiler: Compiler) -> Sold | None:
    """What is sold, with its sizes; None where they are at fault."""

    def refuse(text: Text, refusal: Refusal) -> None:
        compiler.refused(text, refusal, f"{key} sizes")

    if bool(entry.sizes) == bool(entry.column):
        said = "has sizes and a column of them" if entry.sizes else "has neither sizes nor a column of them"
        compiler.fault(key, key, Code.KEYS_DISAGREE, said, "one of the two")
        return None
    sets = read_blades(entry.sizes, refuse)[0] if entry.sizes else _of_column(key, entry.column, compiler)
    return Sold(str(key), entry.title or plain(key), sets, source_of(entry.source), key.place) if sets else None


def _of_column(key: Text, name: Text, compiler: Compiler) -> tuple[Blades, ...]:
    found = compiler.scope.columns.get(name)
    unit = None if found is None else found.column.unit
    if found is None or unit is None:
        figures = [function for function, each in compiler.scope.columns.items() if each.column.unit is not None]
        said = f"{shown(name)} is no column of figures"
        compiler.fault(name, f"{key} column", Code.UNKNOWN_NAME, said, compiler.nearest(name, figures))
        return ()
    waiting, sizes = [found.table.rows], set[Decimal]()
    while waiting:
        rows = waiting.pop()
        waiting += rows.below
        sizes.update(figure for row in rows.numbers if (figure := row[found.place]) is not None)
    return (Blades(unit, tuple(sorted(sizes))),) if sizes else ()
