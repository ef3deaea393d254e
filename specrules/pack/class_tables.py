"""Tables of tolerance classes by name: iso_286_H7_lower(nominal) and iso_286_H7_upper(nominal), of a stated size."""

from __future__ import annotations

import re
from decimal import Decimal
from functools import cache
from itertools import pairwise

from specrules.formula import KeyKind, LookupTable, PrintedColumn, Rows, TableColumn, TableKey
from specrules.quantity import Refusal, Unit, find_unit
from specrules.quantity.tolerance_class import CLASS, deviations, steps_of

PREFIX = "iso_286_"
ENDS = ("lower", "upper")
_NAME = re.compile(rf"{PREFIX}({CLASS})_({'|'.join(ENDS)})")


def column_of(function: str) -> TableColumn | None:
    """The column that such a function looks up; None for any other name, and for a class that there is not."""
    named = _NAME.fullmatch(function)
    table = None if named is None else _table(named[1])
    if named is None or table is None:
        return None
    place = ENDS.index(named[2])
    return TableColumn(table, table.columns[place], place)


@cache
def _table(name: str) -> LookupTable | None:
    """The deviations of a class over all nominal sizes."""
    steps = [
        (low, high, found) for low, high in pairwise(steps_of(name)) if (found := deviations(name, high)) is not None
    ]
    if not steps:
        return None
    mm, um = _unit("mm"), _unit("um")
    rows = Rows(
        first=tuple(mm.to_base(low) for low, _, _ in steps),
        last=tuple(mm.to_base(high) for _, high, _ in steps),
        numbers=tuple(tuple[Decimal | None, ...](um.to_base(end) for end in found) for _, _, found in steps),
    )
    key = TableKey("nominal", KeyKind.BAND, mm, stated=True)
    return LookupTable(f"{PREFIX}{name}", (key,), tuple(PrintedColumn(end, um) for end in ENDS), rows)


def _unit(symbol: str) -> Unit:
    found = find_unit(symbol)
    assert not isinstance(found, Refusal)
    return found
