"""Every separate cause of error behind a sheet's readings, numbered; what a reading moves with, and by how much.

A value's slopes run over these numbers. What two readings share (one gauge's calibration, the one act of setting a
comparator, an expansion coefficient) is one cause with one number, so that it cancels in a difference and adds up in a
sum by itself (JCGM 100:2008, clause 5.2 and F.1.2.3, where correlation is taken out by common inputs).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import NamedTuple

from specrules.formula import Point
from specrules.inspection.gauging import Gauging, gauge_of
from specrules.pack import Capability, Stack
from specrules.sheet import Reading, Sheet

EXPECTED_EXTREME = (0.0, 0.0, 0.56, 0.85, 1.03, 1.16, 1.27, 1.35, 1.42, 1.49, 1.54)
"""How far the greatest of m equal readings lies above their mean, in standard deviations (expected value of the greatest
of m independent normal values: statistical tables of normal order statistics)."""


class Part(NamedTuple):
    """One cause: a normal variance, the half-width of a rectangular one, and how far a selection pulls (signed)."""

    what: str
    variance: float = 0.0
    half: float = 0.0
    pull: float = 0.0

    @property
    def u(self) -> float:
        """The standard uncertainty; a half-width counts as rectangular (JCGM 100:2008, clause 4.3.7)."""
        return math.sqrt(self.variance + self.half * self.half / 3)


class Line(NamedTuple):
    """One line of a budget: a cause and what it adds to the standard uncertainty, base units."""

    what: str
    u: float


@dataclass(slots=True)
class Causes:
    """The numbered causes. The first are the readings' own, in their order; selections join as formulas select.

    `simple`: gauges count for nothing, brackets keep their whole width, and nothing is allowed for selection.
    """

    simple: bool
    parts: list[Part] = field(default_factory=list)
    own: int = 0  # so many are the readings' own
    slopes: list[dict[int, float]] = field(default_factory=list)  # of each reading
    us: list[float] = field(default_factory=list)
    shared: dict[tuple[str, ...], int] = field(default_factory=dict)

    def add(self, part: Part) -> int:
        """A new cause; its number."""
        self.parts.append(part)
        self.us.append(part.u)
        return len(self.parts) - 1

    def common(self, key: tuple[str, ...], part: Part) -> int:
        """The number of a cause that several readings share, made when it is first met."""
        number = self.shared.get(key)
        if number is None:
            number = self.shared[key] = self.add(part)
        return number

    def __call__(self, number: int) -> float:
        return self.us[number]

    def selected(self, best: Point, among: Sequence[Point], greatest: bool) -> Point:
        """The extreme of near-equal values, with what picking it pulls as one cause more.

        The greatest of m values that cannot be told apart is too great by c(m) times its own independent uncertainty.
        The value is not put right; the allowance counts on the side away from which it was pulled.
        """
        if self.simple or len(among) == 1:
            return best
        own = math.sqrt(sum((s * self.us[n]) ** 2 for n, s in best.slopes.items() if n < self.own))
        if not own:
            return best
        near = sum(abs(float(point.value - best.value)) <= 2 * own for point in among)
        if near < 2:
            return best
        pull = EXPECTED_EXTREME[min(near, len(EXPECTED_EXTREME) - 1)] * own
        number = self.add(Part("picking the extreme of near-equal readings", pull=pull if greatest else -pull))
        return Point(best.value, {**best.slopes, number: 1.0})

    def expanded(self, point: Point | None) -> tuple[Decimal, Decimal]:
        """U (k = 2) downwards and upwards: how much smaller, and how much greater, the true value may be.

        Never wider than the sum of the half-widths plus 2u of the rest: a value cannot lie outside its bracket.
        """
        if point is None:
            return _NONE
        variance = halves = squares = down = up = 0.0
        parts = self.parts
        for number, slope in point.slopes.items():
            _, own, half, pull = parts[number]
            if own:
                variance += slope * slope * own
            if half:
                wide = abs(slope) * half
                halves += wide
                squares += wide * wide
            if pull:
                moved = slope * pull
                if moved > 0:
                    down += moved
                else:
                    up -= moved
        if self.simple:
            U = halves
        else:
            U = 2 * math.sqrt(variance)
            U = min(2 * math.sqrt(variance + squares / 3), halves + U) if halves else U
        if not (U or down or up):
            return _NONE
        symmetric = _twelve_digits(U + down)
        return symmetric, symmetric if up == down else _twelve_digits(U + up)

    def u(self, point: Point) -> float:
        """The standard uncertainty of a point, selection aside."""
        return math.sqrt(sum((slope * self.us[number]) ** 2 for number, slope in point.slopes.items()))

    def budget(self, point: Point) -> tuple[Line, ...]:
        """What each cause adds, the largest first; readings' own parts one by one, causes that cancel left out."""
        lines = [
            Line(part.what, abs(slope) * (part.u or abs(part.pull)))
            for number, slope in point.slopes.items()
            if (part := self.parts[number]).u or part.pull
        ]
        return tuple(sorted((line for line in lines if line.u), key=lambda line: -line.u))


_NONE = (Decimal(0), Decimal(0))


def _twelve_digits(U: float) -> Decimal:
    """U to twelve digits: it is never known better, and so a blade just on a limit is on it and not a bit beside it."""
    return Decimal(f"{U:.12g}") if U else _NONE[0]


def causes_of(sheet: Sheet, stack: Stack, simple: bool) -> Causes:
    """Number the causes of every reading of a sheet."""
    causes = Causes(simple, own=len(sheet.readings))
    gaugings = [gauge_of(reading, sheet, stack) for reading in sheet.readings]
    for reading, gauging in zip(sheet.readings, gaugings, strict=True):
        causes.add(_own(reading, gauging, simple))
    for number, (reading, gauging) in enumerate(zip(sheet.readings, gaugings, strict=True)):
        slopes = {number: 1.0}
        if not simple and reading.U is None:
            _shared(causes, slopes, reading, gauging)
        causes.slopes.append(slopes)
    return causes


def _own(reading: Reading, gauging: Gauging, simple: bool) -> Part:
    """What a reading shares with no other: its scatter, its last step, or the bracket that it is."""
    what = f"reading {' '.join((reading.name.replace('_', ' '), *reading.station, *(reading.position or ())))}"
    half = 0.0
    if reading.low is not None and reading.high is not None and reading.low != reading.high:
        half = float(reading.high - reading.low) / 2
    if simple:
        return Part(what, half=half)
    if reading.U is not None:
        return Part(what, variance=float(reading.U) ** 2 / 4)
    size = _size(reading)
    able: Capability = gauging.capability
    scatter = gauging.scatter if gauging.scatter is not None else _at(able.repeatability, size)
    if not half:
        half = _at(able.resolution, size) / 2
    return Part(what, scatter * scatter / reading.repeats, half)


def _shared(causes: Causes, slopes: dict[int, float], reading: Reading, gauging: Gauging) -> None:
    """The calibration of the gauge, and of those that it was set with; and the act of setting it."""
    size = _size(reading)
    for link in gauging.chain:
        mpe = link.capability.mpe
        if mpe is None:
            continue
        if mpe.absolute:
            part = Part(f"calibration of {link.name}", half=float(mpe.absolute))
            slopes[causes.common(("calibration", link.key), part)] = 1.0
        if mpe.share:
            part = Part(f"scale of {link.name}", half=float(mpe.share))
            slopes[causes.common(("scale", link.key), part)] = size
    for setter, link in zip(gauging.chain[1:], gauging.chain, strict=False):
        able = setter.capability
        part = Part(
            f"setting {link.name} with {setter.name}",
            variance=_at(able.repeatability, size) ** 2,
            half=_at(able.resolution, size) / 2,
        )
        if part.u:
            slopes[causes.common(("setting", link.key), part)] = 1.0


def _at(amount: object, size: float) -> float:
    from specrules.pack import Amount

    return float(amount.at(Decimal(size))) if isinstance(amount, Amount) else 0.0


def _size(reading: Reading) -> float:
    known = reading.value if reading.value is not None else reading.low if reading.low is not None else reading.high
    return 0.0 if known is None else float(known)
