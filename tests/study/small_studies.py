"""Small studies for the tests of the room, and tables of published data."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from pathlib import Path

from specrules.study import Study, read_study

DATA = Path(__file__).parents[1] / "reference" / "data"

HEAD = """\
specrules: gauge-study/1
gauge: {name: mic 2-3, class: outside micrometer}
unit: in
date: 2026-10-02
"""

Readings = Mapping[str, Mapping[str, Sequence[str]]]


def written(readings: Readings, head: str = HEAD) -> str:
    """A study's file."""
    rows = [head, "readings:\n"]
    for operator, cells in readings.items():
        rows.append(f"  {operator}:\n")
        rows += [f"    {part}: [{', '.join(cell)}]\n" for part, cell in cells.items()]
    return "".join(rows)


def study(readings: Readings, head: str = HEAD) -> Study:
    """A study that must have no faults."""
    found, faults = read_study(written(readings, head), "mic.study.yaml")
    assert faults == ()
    assert found is not None
    return found


def said(text: str) -> list[str]:
    """What is wrong with a file, as sentences."""
    found, faults = read_study(text, "mic.study.yaml")
    assert found is None
    return [fault.sentence() for fault in faults]


def table(name: str) -> list[list[str]]:
    """The cells of one of the published tables."""
    rows = (DATA / name).read_text(encoding="utf-8").splitlines()
    return [row.split() for row in rows if not row.startswith("#")]


def column(name: str, at: int = 0) -> list[Fraction]:
    """One column of a published table, exact."""
    return [Fraction(row[at]) for row in table(name)]


def crossed() -> Readings:
    """The published study of ten parts, three operators and three trials, as readings of a file."""
    rows = table("crossed_study.txt")
    return {
        operator: {str(part + 1): [row[2 + part] for row in rows if row[0] == operator] for part in range(10)}
        for operator in "ABC"
    }
