"""What there is to say of the gauges themselves: a zero that is too far off, a check that is too long ago."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from specrules.pack import Specification
from specrules.sheet import Gauge, Sheet
from specrules.vocabulary import Reason, Why


def gauge_remarks(sheet: Sheet, spec: Specification) -> Iterator[Reason]:
    """A reason for each; the day that counts is the build's own, for an inspection has no clock."""
    today = _day(sheet.build.get("date", ""))
    for gauge in sheet.gauges.values():
        known = spec.gauge_classes.get(gauge.gauge_class)
        able = gauge.capability.over(known.capability) if known is not None else gauge.capability
        size = abs(gauge.zero) if gauge.zero is not None else None
        if size is not None and able.mpe is not None and size > able.mpe.at(size):
            yield Reason(Why.ZERO_TOO_FAR_OFF, (gauge.name,))
        days = known.days_between_checks if known is not None else None
        if days is not None and today is not None and _overdue(gauge, today, days):
            yield Reason(Why.CHECK_TOO_LONG_AGO, (gauge.name,), (str(gauge.checked), str(days)))


def _overdue(gauge: Gauge, today: date, days: int) -> bool:
    return gauge.checked is not None and (today - gauge.checked).days > days


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None
