"""Whether a gauge can decide a tolerance, and which kinds could: U against a quarter of the tolerance's width."""

from __future__ import annotations

import math
from collections.abc import Sequence
from decimal import Decimal

from specrules.evaluate import Point
from specrules.evaluate.binding import Binding
from specrules.evaluate.error_sources import ErrorSources, enter
from specrules.evaluate.gaugings import Gauging, Link
from specrules.inspection.report import Limits, Unable

SHARE = Decimal(4)
"""U may be a quarter of the width: the usual 4 to 1 of tolerance to uncertainty (common practice)."""


def width_of(limits: Limits) -> Decimal | None:
    """The width of a tolerance; a most alone is as wide as itself, a least alone has no width."""
    if limits.most is None:
        return None
    width = limits.most - (limits.least or Decimal(0))
    return width if width > 0 else None


def unable(rule: str, point: Point, U: Decimal, limits: Limits, of: Binding) -> Unable | None:
    """What keeps these gauges from deciding a rule; None where they can, or where nothing says how sure they are."""
    width = width_of(limits)
    if width is None or not U or width >= U * SHARE:
        return None
    weights: dict[str, float] = {}
    for number, slope in point.slopes.items():
        if number < of.error_sources.own:
            name = of.readings[number].name
            slopes = of.error_sources.slopes[number].items()
            u = math.hypot(*(slope * by * of.error_sources.us[source] for source, by in slopes))
            weights[name] = weights.get(name, 0.0) + u * u
    if not weights:
        return None
    worst = max(weights, key=lambda name: weights[name])
    used = next(of.gaugings[n] for n in point.slopes if n < of.error_sources.own and of.readings[n].name == worst)
    could = tuple(
        kind
        for kind in of.spec.measurands[worst].gauge_classes
        if kind != used.gauge_class
        and rule not in of.spec.gauge_classes[kind].must_not_decide
        and _expanded_with(point, of, worst, kind) * SHARE <= width
    )
    return Unable(U, width, worst, used.gauge_class, could)


def _expanded_with(point: Point, of: Binding, measurand: str, kind: str) -> Decimal:
    """U of a point if one measurand had been read with another kind of gauge, set with the same one if it was set."""
    before = of.error_sources
    read = [(number, slope) for number, slope in point.slopes.items() if number < before.own]
    by_gauges = {cause for number, _ in read for cause in before.slopes[number]}
    sources = ErrorSources(False, list(before.parts[: before.own]), before.own, us=list(before.us[: before.own]))
    slopes: dict[int, float] = {}
    for number, slope in read:
        gauging = of.gaugings[number]
        if of.readings[number].name == measurand:
            gauging = _as(gauging, kind, of)
        for cause, by in enter(sources, number, of.readings[number], gauging).items():
            slopes[cause] = slopes.get(cause, 0.0) + slope * by
    finer = _independent(read, sources) / (_independent(read, before) or 1.0)
    for number in point.slopes.keys() - by_gauges:
        part = before.parts[number]
        if (picked := part.selection) is not None:
            part = part._replace(selection=picked._replace(u=picked.u * finer, normal=picked.normal * finer))
        slopes[sources.add(part)] = point.slopes[number]
    return sources.uncertainty(Point(point.value, slopes)).expanded


def _independent(read: Sequence[tuple[int, float]], sources: ErrorSources) -> float:
    return math.hypot(*(slope * sources.us[number] for number, slope in read))


def _as(gauging: Gauging, kind: str, of: Binding) -> Gauging:
    link = Link(f"a {kind}", kind, of.spec.gauge_classes[kind].capability)
    setters: Sequence[Link] = gauging.chain[1:]
    return Gauging((link, *setters), kind)
