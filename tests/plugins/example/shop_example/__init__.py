"""A plugin that offers one of everything, for its author to start from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

from specrules.plugins import LENGTH, NUMBER, Form, Function, Gauge, Record, Unit, hookimpl, takes


@hookimpl
def pack_folders() -> Sequence[Path]:
    """The pack `spindle` lies in this package."""
    return [Path(__file__).parent / "packs"]


def _taper(large: Decimal, small: Decimal, length: Decimal) -> Decimal:
    if length <= 0:
        raise ValueError("the length is not more than zero")
    return (large - small) / length


@hookimpl
def functions() -> Sequence[Function]:
    """`taper_ratio(large, small, length)`: how much narrower, a unit of length."""
    return [
        Function(
            name="taper_ratio",
            arity=3,
            dimensions=takes(LENGTH, LENGTH, LENGTH, gives=NUMBER),
            value=_taper,
            partials=(
                lambda _large, _small, length: float(1 / length),
                lambda _large, _small, length: float(-1 / length),
                lambda large, small, length: float((small - large) / length**2),
            ),
            source="the definition of a taper",
        )
    ]


@hookimpl
def units() -> Mapping[Unit, Sequence[str]]:
    """The watchmaker's line, a twelfth of the old French inch of 27.07 mm, in round figures."""
    return {Unit("ligne", LENGTH, Fraction("2.2558")): ["lignes"]}


@hookimpl
def gauge_classes() -> Sequence[Gauge]:
    """A gauge that none of the packs that ship has."""
    return [
        Gauge(
            name="air gauge",
            resolution="0.00001 in",
            mpe="0.00003 in",
            repeatability="0.00001 in",
            must_not_decide=("a rough surface, which it reads as larger",),
            note="set on a master ring of the same size",
        )
    ]


MARK = "specrules tally\n"


def _tally(records: Sequence[Record]) -> str:
    lines = []
    for record in records:
        counts = ", ".join(f"{count} {verdict}" for verdict, count in record["counts"].items() if count)
        lines.append(f"{record['sheet']['file']}: {record['verdict']}: {counts or 'nothing judged'}")
    return MARK + "\n".join(lines) + "\n"


@hookimpl
def forms() -> Sequence[Form]:
    """`--form tally`: one line a sheet."""
    return [Form("tally", _tally, MARK)]
