"""What the JSON record writes everywhere alike: numbers, stations, readings that look like a slip, faults."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import ROUND_HALF_EVEN, Context, Decimal
from math import isfinite
from typing import Any, TypeAlias

from specrules.document import Fault
from specrules.formula import Station
from specrules.inspection import WholeFinding
from specrules.output.reasons import said, slip_name
from specrules.output.safe import safe
from specrules.sheet import Suspect

Json: TypeAlias = dict[str, Any]
Axes: TypeAlias = Mapping[str, tuple[tuple[str, ...], tuple[str, ...]]]
"""Of each reading's name: the axes of its stations, and those of its positions."""

_SHORT = Context(prec=12, rounding=ROUND_HALF_EVEN, Emin=-9999, Emax=9999)


def number(value: Decimal | None) -> float | None:
    """A JSON number, rounded to 12 digits; no NaN, no infinity, never -0.0.

    None where nothing is known, and where the number is too large for the numbers that readers of JSON have.
    """
    made = None if value is None else float(_SHORT.plus(value))
    return (made or 0.0) if made is not None and isfinite(made) else None


def label(text: str) -> int | str:
    """A label of a numbered axis as a number."""
    return int(text) if text.isascii() and text.isdecimal() and not text.startswith("0") else text


def station(where: Station) -> dict[str, int | str]:
    """A station, or a position there, by axis."""
    return {axis: label(text) for axis, text in where.items()}


def axes_of(findings: Iterable[WholeFinding]) -> Axes:
    """The axes that readings lie on, as far as some finding stands on one of them."""
    found: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {}
    for finding in findings:
        for each in finding.inputs:
            known = found.get(each.name, ((), ()))
            found[each.name] = (tuple(each.station), tuple(each.position) or known[1])
    return found


def suspect(slip: Suspect, axes: Axes) -> Json:
    """A reading that looks like a slip. Its labels are said by axis where a finding shows which axes those are."""
    at, positions = axes.get(slip.name, ((), ()))
    return {
        "name": slip.name,
        "station": _by_axis(at, slip.station),
        "position": None if slip.position is None else _by_axis(positions, slip.position),
        "labels": [label(text) for text in (*slip.station, *(slip.position or ()))],
        "kind": slip_name(slip.reason),
        "said": said(slip.reason),
        "text": slip.text,
        "would be": None if slip.would_be is None else number(slip.unit.from_base(slip.would_be)),
        "unit": slip.unit.symbol,
        "neighbours": list(slip.neighbours),
        "line": line(slip.place.line),
    }


def _by_axis(axes: tuple[str, ...], labels: tuple[str, ...]) -> dict[str, int | str] | None:
    return station(dict(zip(axes, labels, strict=True))) if len(axes) == len(labels) else None


def fault(wrong: Fault) -> Json:
    """Something wrong in a file: where, what, and what to write instead."""
    return {
        "kind": wrong.kind,
        "file": wrong.place.file or None,
        "line": line(wrong.place.line),
        "column": line(wrong.place.column),
        "subject": wrong.subject or None,
        "said": wrong.said,
        "write": wrong.write or None,
        "sentence": wrong.sentence(),
    }


def line(counted: int) -> int | None:
    """A line or a column, counted from 1; None where there is none."""
    return counted if counted > 0 else None


def clean(tree: Any) -> Any:
    """The same tree with every text in it made safe."""
    if isinstance(tree, str):
        return safe(tree)
    if isinstance(tree, dict):
        return {safe(key): clean(value) for key, value in tree.items()}
    return [clean(item) for item in tree] if isinstance(tree, list | tuple) else tree
