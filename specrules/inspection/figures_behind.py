"""Whose word it is what the gauges behind a value can do: a pack's with its source, the sheet's, or the readings'.

A figure of a class has its own source where it differs (`sources`, or that of its range of sizes), apart from the
figures themselves, which the seal holds and verdicts hang on.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import Decimal

from specrules.evaluate.binding import Binding
from specrules.evaluate.gaugings import Link
from specrules.inspection.finding_parts import FigureOfGauge
from specrules.pack import Source
from specrules.sheet import Reading
from specrules.sheet.gauges import SMALLEST_SIZE

FIGURES = ("mpe", "repeatability")


def figures_of_gauges(numbers: Iterable[int], of: Binding) -> Iterator[FigureOfGauge]:
    """The figures that count for these readings, each once; of a gauge that was set with another, the other's too.

    A stated U and simple acceptance leave none.
    """
    if of.error_sources.simple:
        return
    found: dict[FigureOfGauge, None] = {}
    for number in numbers:
        reading, gauging = of.readings[number], of.gaugings[number]
        size = next((end for end in (reading.value, reading.low, reading.high) if end is not None), Decimal(0))
        small = abs(size) < SMALLEST_SIZE and len(gauging.chain) > 1
        for place, link in enumerate(() if reading.U is not None else gauging.chain[:1] if small else gauging.chain):
            for figure in FIGURES:
                repeats = gauging.scatter if figure == "repeatability" and not place else None
                amount = getattr(link.capability.at(size), figure)
                value = Decimal(repr(repeats)) if repeats is not None else None if amount is None else amount.at(size)
                if value:
                    source = _source(link, figure, size, reading, of) if repeats is None else Source("house", REPEATED)
                    shown = reading.unit.difference_from_base(value)
                    found[FigureOfGauge(link.name, figure, shown, reading.unit, source)] = None
    yield from found


REPEATED = "as the repeats of this sheet scatter"
STATED = "as it is stated for this gauge"


def _source(link: Link, figure: str, size: Decimal, reading: Reading, of: Binding) -> Source:
    """Of a gauge that the sheet or the shop's register says it of, its certificate; else of its class."""
    gauge = of.sheet.gauges.get(link.name)
    if gauge is not None and gauge.capability.says(figure, size):
        return Source("house", f"certificate {gauge.certificate}" if gauge.certificate else STATED)
    first = next(iter(of.spec.measurands[reading.name].gauge_classes), "")
    kind = of.spec.gauge_classes[((gauge.gauge_class if gauge is not None else "") or first)]
    return kind.source_of(figure, size)
