"""What there is to say of the gauges: a zero too far off, a check too long ago, a figure that they do not read."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from specrules.pack import Specification, whole_step
from specrules.sheet import Gauge, Sheet
from specrules.sheet.gauges import able_for
from specrules.vocabulary import Reason, Why


def gauge_remarks(sheet: Sheet, spec: Specification) -> Iterator[Reason]:
    """A reason for each; the days that count are the sheet's own, for an inspection has no clock."""
    today = _day(sheet.build.get("date", ""))
    for gauge in sheet.gauges.values():
        known = spec.gauge_classes.get(gauge.gauge_class)
        able = gauge.capability.over(known.capability) if known is not None else gauge.capability
        size = abs(gauge.zero) if gauge.zero is not None else None
        mpe = able.at(size).mpe if size is not None else None
        if size is not None and mpe is not None and size > mpe.at(size):
            yield Reason(Why.ZERO_TOO_FAR_OFF, (gauge.name,))
        days = known.days_between_checks if known is not None else None
        if days is not None and today is not None and _overdue(gauge, today, days):
            yield Reason(Why.CHECK_TOO_LONG_AGO, (gauge.name,), (str(gauge.checked), str(days)))
        used = _last_used(gauge.name, sheet) or today
        if gauge.due is not None and used is not None and used > gauge.due:
            yield Reason(Why.PAST_DUE, (gauge.name,), (str(gauge.due), str(used)))
    yield from _unread(sheet, spec)


def _last_used(name: str, sheet: Sheet) -> date | None:
    """The last dated day on which a gauge read something, or one that was set with it did."""
    used = {name}
    while more := {each.name for each in sheet.gauges.values() if each.set_with in used} - used:
        used |= more
    return max((each.taken for each in sheet.readings if each.gauge in used and each.taken), default=None)


def _unread(sheet: Sheet, spec: Specification) -> Iterator[Reason]:
    """What is written as no gauge reads it: the first figure of each measurand and gauge."""
    told: set[tuple[str, str, Why]] = set()
    for reading in sheet.readings:
        if reading.remark is None or (key := (reading.name, reading.gauge, reading.remark)) in told:
            continue
        told.add(key)
        measurand = spec.measurands[reading.name]
        gauge = sheet.gauges.get(reading.gauge)
        labels = [reading.text]
        if reading.remark is Why.FINER_THAN_READ:
            able = able_for(measurand, gauge, spec)
            step, marked = able.at(reading.value or reading.place_value).resolution, able.marked
            assert step is not None
            assert marked is not None
            unit = reading.unit
            labels.append(f"{whole_step(step.absolute, marked, unit).normalize():f} {unit.symbol}")
        named = (reading.gauge,) if reading.gauge else (next(iter(measurand.gauge_classes), ""), "assumed")
        yield Reason(reading.remark, (reading.name, *named), tuple(labels))


def _overdue(gauge: Gauge, today: date, days: int) -> bool:
    return gauge.checked is not None and (today - gauge.checked).days > days


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None
