"""Before the day is spent: between which values the gauges at hand leave no doubt, and what would leave less.

The sheet is filled with sizes from the middle of what is usual wherever nothing has been read; limits follow from
those, and the uncertainty from the gauges of the sheet, or from the kind that a pack lists first where none fits.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from decimal import Decimal, localcontext
from itertools import product
from typing import NamedTuple

from specrules.evaluate.binding import Binding
from specrules.formula import Station
from specrules.inspection.adequacy import SHARE, alternatives, width_of
from specrules.inspection.figures_behind import figures_of_gauges
from specrules.inspection.finding_parts import Alternative, FigureOfGauge
from specrules.inspection.judge import Judge, Judgement
from specrules.pack import Measurand, Rule, Specification, present, told_in
from specrules.quantity import CONTEXT, Unit
from specrules.sheet import Gauge, Reading, Sheet
from specrules.vocabulary import DECISION_RULES, SIDES

SMALL = Decimal("0.0001")
"""The last place that a supposed reading is written to, as a share of its unit: it decides nothing."""


class Capable(NamedTuple):
    """One rule and how its gauges stand to it, in `unit`.

    U is the larger of how far the truth may lie `down` and `up` from a value. A value from `least` to `most` would be
    in spec beyond doubt (None: no limit on that side; both None: no value would). Where U is more than a quarter of
    the width, `better` is what would bring it below that, and `figures` what the gauges are taken to be able to do.
    """

    rule: str
    title: str
    group: str
    unit: Unit
    U: Decimal
    down: Decimal
    up: Decimal
    width: Decimal
    least: Decimal | None
    most: Decimal | None
    narrow: bool
    better: tuple[Alternative, ...] = ()
    figures: tuple[FigureOfGauge, ...] = ()


def capable(sheet: Sheet, spec: Specification) -> tuple[Capable, ...]:
    """Every rule of the specification that has a tolerance with a width, at the station where its gauges do worst."""
    spec = told_in(spec, sheet.unit)
    with localcontext(CONTEXT):
        spec = present(spec, sheet.described).spec
        at_hand = {measurand.name: _at_hand(measurand, sheet) for measurand in spec.measurands.values()}
        filled = sheet._replace(
            gauges={**sheet.gauges, **{gauge.name: gauge for gauge in at_hand.values() if gauge is not None}},
            readings=tuple(_filled(sheet, spec, at_hand)),
        )
        binding = Binding(filled, spec, simple=False)
        judge = Judge(binding.environment(), DECISION_RULES["guarded"], sheet.limits)
        found = (_of_rule(chain.governing[-1], judge, filled) for chain in spec.rules.values())
        return tuple(each for each in found if each is not None)


def _at_hand(measurand: Measurand, sheet: Sheet) -> Gauge | None:
    """The gauge that reads a measurand in the sheet, else the one of the kind that is trusted most for it.

    The latter is a gauge of its own for each measurand, since one pair of jaws is not the other, unless others are set
    with it.
    """
    for reading in sheet.readings:
        if reading.name == measurand.name and reading.gauge:
            return sheet.gauges[reading.gauge]
    kinds = measurand.gauge_classes
    fit = [gauge for gauge in sheet.gauges.values() if gauge.gauge_class in kinds]
    best = min(fit, key=lambda gauge: kinds.index(gauge.gauge_class), default=None)
    if best is None or any(gauge.set_with == best.name for gauge in sheet.gauges.values()):
        return best
    return best._replace(name=f"{best.name} for {measurand.name}")


def _filled(sheet: Sheet, spec: Specification, at_hand: Mapping[str, Gauge | None]) -> Iterator[Reading]:
    """The sheet's readings, and a supposed one at every place that has none."""
    yield from sheet.readings
    read = {(reading.name, reading.station) for reading in sheet.readings}
    number = max((reading.statement for reading in sheet.readings), default=0)
    for measurand in spec.measurands.values():
        size, gauge = _middle(measurand), at_hand[measurand.name]
        if size is None:
            continue
        for station in product(*(sheet.labels.get(axis, ()) for axis in measurand.at)):
            if (measurand.name, station) in read:
                continue
            for position in product(*(sheet.labels.get(axis, ()) for axis in measurand.positions)):
                number += 1
                yield _supposed(measurand, station, position, size, gauge.name if gauge else "", number)


def _middle(measurand: Measurand) -> Decimal | None:
    usual = measurand.usual
    if usual is None or usual.low is None or usual.high is None:
        return None
    return (usual.low + usual.high) / 2


def _supposed(
    measurand: Measurand, station: tuple[str, ...], position: tuple[str, ...], size: Decimal, gauge: str, number: int
) -> Reading:
    return Reading(
        name=measurand.name,
        station=station,
        position=position,
        value=size,
        low=size,
        high=size,
        U=None,
        place_value=measurand.unit.to_base(SMALL) - measurand.unit.to_base(Decimal(0)),
        unit=measurand.unit,
        text="",
        repeats=measurand.repeats,
        gauge=gauge,
        taken=None,
        after=(),
        because="",
        squares=Decimal(0),
        part_at=None,
        gauge_at=None,
        statement=number,
        group=False,
        confirmed="",
        place=measurand.place,
    )


def _of_rule(rule: Rule, judge: Judge, sheet: Sheet) -> Capable | None:
    places = product(*(sheet.labels.get(axis, ()) for axis in rule.each))
    found = (_at(rule, dict(zip(rule.each, labels, strict=True)), judge) for labels in places)
    return max((each for each in found if each is not None), key=lambda each: each.U / each.width, default=None)


def _at(rule: Rule, station: Station, judge: Judge) -> Capable | None:
    judged = judge.judge(rule, station)
    if judged.value is None or judged.value.low is None or not judged.value.exact:
        return None
    width = width_of(judged.limits)
    if width is None:
        return None
    unit = rule.unit
    U = judged.uncertainty.expanded
    narrow = width < U * SHARE
    better = tuple(each for each in alternatives(judge, judged) if width >= each.U * SHARE) if narrow else ()
    least, most = (None if end is None else unit.from_base(end) for end in _beyond_doubt(judged))
    return Capable(
        rule=rule.name,
        title=rule.title,
        group=rule.group,
        unit=unit,
        U=unit.difference_from_base(U),
        down=unit.difference_from_base(judged.uncertainty.down),
        up=unit.difference_from_base(judged.uncertainty.up),
        width=unit.difference_from_base(width),
        least=least,
        most=most,
        narrow=narrow,
        figures=tuple(figures_of_gauges(judged.trace.found, judge.environment.binding)) if narrow else (),
        better=tuple(each._replace(U=unit.difference_from_base(each.U)) for each in better),
    )


def _beyond_doubt(judged: Judgement) -> tuple[Decimal | None, Decimal | None]:
    """From where on, and up to where, a value would be in spec beyond doubt; neither where no value would."""
    least, most = map(judged.limits.deciding, SIDES)
    least = None if least is None else least + judged.uncertainty.down
    most = None if most is None else most - judged.uncertainty.up
    return (None, None) if least is not None and most is not None and least > most else (least, most)
