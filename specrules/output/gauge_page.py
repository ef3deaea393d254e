"""Kinds of gauge as a person reads them: what each can do, and where every figure comes from."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from specrules.output.lines import Line, folded
from specrules.output.telling import source_text, two_digits
from specrules.pack import Amount, Characteristics, GaugeClass, Source, Specification
from specrules.quantity import NO_UNIT, Unit, find_unit

_PLACES = Decimal("0.00001")
"""A figure that has more places in one system was written in the other."""


def gauge_classes(spec: Specification) -> Iterator[Line]:
    """Each kind, and under it the figures of each source."""
    for kind in spec.gauge_classes.values():
        by_source: dict[Source, list[str]] = {}
        for said, source in _figures(kind):
            by_source.setdefault(source, []).append(said)
        yield from folded(kind.name, 2, style="heading")
        for source, figures in by_source.items():
            yield from folded(f"{', '.join(figures)} ({source_text(source)})", 4, hang=6)


def _figures(kind: GaugeClass) -> Iterator[tuple[str, Source]]:
    able, unit = kind.capability, kind.capability.marked or NO_UNIT
    for name in Characteristics._fields:
        amount, called = getattr(able.figures, name), "MPE" if name == "mpe" else name
        if amount is not None:
            yield f"{called} {_amount(amount, unit)}", kind.sources.get(name, kind.source)
        for each, source in zip(able.by_size, kind.by_size_sources, strict=False):
            amount = getattr(each.figures, name)
            if amount is not None:
                over = f" over {_length(each.over, unit)}" if each.over else ""
                text = f"{_amount(amount, unit)}{over} to {_length(each.to, unit)}"
                yield text, source or kind.sources.get(name, kind.source)
    if able.steps:
        blades = [f"{len(each.sizes)} in {each.unit.symbol}" for each in able.steps]
        yield f"blades: {', '.join(blades)}", kind.sources.get("steps", kind.source)


def _amount(amount: Amount, unit: Unit) -> str:
    parts = _length(amount.absolute, unit), f"{two_digits(amount.share * 100)} percent"
    return " and ".join(text for text, part in zip(parts, amount, strict=True) if part) or "nothing"


def _length(base: Decimal, unit: Unit) -> str:
    """In the unit that the gauge is marked in, or in millimetres where that is what was written."""
    number, millimetre = unit.difference_from_base(base), find_unit("mm", dimension=unit.dimension)
    if number != number.quantize(_PLACES) and isinstance(millimetre, Unit):
        number, unit = base, millimetre
    return f"{number.normalize():f} {unit.symbol}".rstrip()
