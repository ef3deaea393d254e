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
from itertools import pairwise
from typing import NamedTuple

from specrules.evaluate import Point
from specrules.evaluate.gaugings import Gauging
from specrules.pack import Amount
from specrules.sheet import Reading, Sheet
from specrules.sheet.gauges import SMALLEST_SIZE
from specrules.vocabulary import Reason, Why

EXPECTED_EXTREME = (0.0, 0.0, 0.56, 0.85, 1.03, 1.16, 1.27, 1.35, 1.42, 1.49, 1.54)
"""How far the greatest of m equal readings lies above their mean, in standard deviations (expected values of
normal order statistics, from memory of their published tables to two places)."""


class Part(NamedTuple):
    """One cause: a normal variance, the half-width of a rectangular one, and how far a selection pulls (signed).

    `bracket`: the half-width is a bracket's, and the value is somewhere in it under every decision rule. `pull_normal`
    is what the normal parts alone would pull: half-widths cannot pull further than they are wide.
    """

    cause: Reason
    variance: float = 0.0
    half: float = 0.0
    pull: float = 0.0
    bracket: bool = False
    pull_normal: float = 0.0

    @property
    def u(self) -> float:
        """The standard uncertainty; a half-width counts as rectangular (JCGM 100:2008, clause 4.3.7)."""
        return math.sqrt(self.variance + self.half * self.half / 3)


class Uncertainty(NamedTuple):
    """How sure a point is, base units: expanded uncertainty (k = 2) downwards and upwards, the standard uncertainty,
    what of it brackets make up, and whether the larger part of it is normal."""

    down: Decimal
    up: Decimal
    u: float
    half: Decimal
    normal: bool

    @property
    def expanded(self) -> Decimal:
        """The larger of the two sides: what is printed behind a value."""
        return max(self.down, self.up)


CERTAIN = Uncertainty(Decimal(0), Decimal(0), 0.0, Decimal(0), True)


class BudgetLine(NamedTuple):
    """One line of a budget: a cause and what it adds to the standard uncertainty, base units."""

    cause: Reason
    u: float


@dataclass(slots=True)
class ErrorSources:
    """The numbered sources. The first are the readings' own, in their order; selections join as formulas select.

    `simple`: gauges count for nothing, brackets keep their whole width, and nothing is allowed for selection.
    """

    simple: bool
    parts: list[Part] = field(default_factory=list)
    own: int = 0  # so many are the readings' own
    statements: Sequence[int] = ()  # of each reading: the same number where one figure was written for several
    slopes: list[dict[int, float]] = field(default_factory=list)  # of each reading
    us: list[float] = field(default_factory=list)
    shared: dict[tuple[str, ...], int] = field(default_factory=dict)

    def add(self, part: Part) -> int:
        """A new cause; its number."""
        self.parts.append(part)
        self.us.append(part.u)
        return len(self.parts) - 1

    def common(
        self,
        key: tuple[str, ...],
        code: Why,
        names: tuple[str, ...],
        labels: tuple[str, ...] = (),
        variance: float = 0.0,
        half: float = 0.0,
    ) -> int:
        """The number of a cause that several readings share, made, with its reason, when it is first met."""
        number = self.shared.get(key)
        if number is None:
            number = self.shared[key] = self.add(Part(Reason(code, names, labels), variance, half))
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
        independent = [(number, slope) for number, slope in best.slopes.items() if number < self.own]
        own = math.sqrt(sum((slope * self.us[number]) ** 2 for number, slope in independent))
        if not own:
            return best
        near = {
            frozenset(self.statements[number] for number in point.slopes if number < self.own)
            for point in among
            if abs(float(point.value - best.value)) <= 2 * own
        }
        if len(near) < 2:
            return best
        pull = EXPECTED_EXTREME[min(len(near), len(EXPECTED_EXTREME) - 1)] * (1 if greatest else -1)
        normal = math.sqrt(sum(slope * slope * self.parts[number].variance for number, slope in independent))
        part = Part(Reason(Why.SELECTION), pull=pull * own, pull_normal=pull * normal)
        return Point(best.value, {**best.slopes, self.add(part): 1.0})

    def uncertainty(self, point: Point | None) -> Uncertainty:
        """How sure a point is.

        U is never wider than the sum of the half-widths plus 2u of the rest: a value cannot lie outside its bracket,
        nor can the extreme of several lie outside its own.
        """
        if point is None or not point.slopes:
            return CERTAIN
        variance = halves = brackets = squares = down = up = down_normal = up_normal = 0.0
        parts = self.parts
        for number, slope in point.slopes.items():
            _, own, half, pull, bracket, pull_normal = parts[number]
            if own:
                variance += slope * slope * own
            if half:
                wide = abs(slope) * half
                halves += wide
                squares += wide * wide
                if bracket:
                    brackets += wide
            if pull:
                moved = slope * pull
                if moved > 0:
                    down += moved
                    down_normal += slope * pull_normal
                else:
                    up -= moved
                    up_normal -= slope * pull_normal
        u = math.sqrt(variance + squares / 3)
        widest = halves + 2 * math.sqrt(variance)
        U = widest if self.simple else 2 * u
        if not (U or down or up):
            return CERTAIN
        lower = twelve_digits(min(U + down, widest + down_normal))
        upper = lower if up == down else twelve_digits(min(U + up, widest + up_normal))
        return Uncertainty(lower, upper, u, twelve_digits(brackets), squares / 3 <= variance)

    def budget(self, point: Point) -> tuple[BudgetLine, ...]:
        """What each cause adds, the largest first; readings' own parts one by one, causes that cancel left out."""
        lines = [
            BudgetLine(part.cause, abs(slope) * (part.u or abs(part.pull)))
            for number, slope in point.slopes.items()
            if (part := self.parts[number]).u or part.pull
        ]
        return tuple(sorted((line for line in lines if line.u), key=lambda line: -line.u))


def twelve_digits(U: float) -> Decimal:
    """U to twelve digits: it is never known better, and so a blade just on a limit is on it and not a bit beside it."""
    return Decimal(f"{U:.12g}") if U else CERTAIN.down


def error_sources_of(sheet: Sheet, gaugings: Sequence[Gauging], simple: bool) -> ErrorSources:
    """Number the causes of every reading of a sheet."""
    sources = ErrorSources(
        simple, own=len(sheet.readings), statements=[reading.statement for reading in sheet.readings]
    )
    for reading, gauging in zip(sheet.readings, gaugings, strict=True):
        sources.add(_own(reading, gauging, simple))
    first: dict[int, int] = {}  # of each statement: one figure for many places is one reading, and errs once
    for number, (reading, gauging) in enumerate(zip(sheet.readings, gaugings, strict=True)):
        same = first.setdefault(reading.statement, number)
        own = {number: 1.0} if same == number else {number: 0.0, same: 1.0}
        sources.slopes.append(own if simple else _moves(sources, own, reading, gauging))
    return sources


def enter(sources: ErrorSources, number: int, reading: Reading, gauging: Gauging) -> dict[int, float]:
    """Put a reading's own part in its place as this gauging has it; what the reading moves with."""
    sources.parts[number] = part = _own(reading, gauging, simple=False)
    sources.us[number] = part.u
    return _moves(sources, {number: 1.0}, reading, gauging)


def _moves(sources: ErrorSources, own: dict[int, float], reading: Reading, gauging: Gauging) -> dict[int, float]:
    """What a reading moves with: its own cause first, then what it shares; a stated U says all there is to say."""
    if reading.U is None:
        _shared(sources, own, reading, gauging)
    return own


def _own(reading: Reading, gauging: Gauging, simple: bool) -> Part:
    """What a reading shares with no other: its scatter, its last step, or the bracket that it is."""
    cause = Reason(Why.READING, (reading.name,), reading.station + (reading.position or ()))
    half = 0.0
    if reading.low is not None and reading.high is not None and reading.low != reading.high:
        half = float(reading.high - reading.low) / 2
    if simple or reading.U is not None:
        own = 0.0 if simple or reading.U is None else float(reading.U) ** 2 / 4
        return Part(cause, own, half, bracket=bool(half))
    size = _size(reading)
    able = gauging.capability
    scatter = gauging.scatter if gauging.scatter is not None else _at(able.repeatability, size)
    own = scatter * scatter / reading.repeats
    return Part(cause, own, half, bracket=True) if half else Part(cause, own, _at(able.resolution, size) / 2)


def _shared(sources: ErrorSources, slopes: dict[int, float], reading: Reading, gauging: Gauging) -> None:
    """The calibration of the gauge, and of those that it was set with; and the act of setting it.

    A difference that a comparator shows by itself had the error of what it was set with on both of its sides.
    """
    size, chain = _size(reading), gauging.chain
    for link in chain[:1] if len(chain) > 1 and abs(size) < SMALLEST_SIZE else chain:
        mpe = link.capability.mpe
        if mpe is None:
            continue
        if mpe.absolute:
            half, key = float(mpe.absolute), ("calibration", link.key)
            slopes[sources.common(key, Why.CALIBRATION, (link.name,), link.basis, half=half)] = 1.0
        if mpe.share:
            half, key = float(mpe.share), ("scale", link.key)
            slopes[sources.common(key, Why.SCALE, (link.name,), link.basis, half=half)] = size
    for link, setter in pairwise(chain):
        scatter, step = setter.capability.repeatability, setter.capability.resolution
        variance, half = _at(scatter, size) ** 2, _at(step, size) / 2
        names = (link.name, setter.name)
        if not _by_size(scatter) and not _by_size(step):
            if variance or half:
                event = sources.common(("setting", link.key), Why.SETTING, names, variance=variance, half=half)
                slopes[event] = 1.0
            continue
        if variance:  # one event, with which each reading moves by its own size, whichever comes first
            event = sources.common(("setting", link.key, "scatter"), Why.SETTING, names, variance=1.0)
            slopes[event] = math.sqrt(variance)
        if half:
            slopes[sources.common(("setting", link.key, "step"), Why.SETTING, names, half=1.0)] = half


def _by_size(amount: Amount | None) -> bool:
    return amount is not None and bool(amount.share)


def _at(amount: Amount | None, size: float) -> float:
    if amount is None:
        return 0.0
    fixed = float(amount.absolute)
    return fixed + float(amount.share) * abs(size) if amount.share else fixed


def _size(reading: Reading) -> float:
    known = reading.value if reading.value is not None else reading.low if reading.low is not None else reading.high
    return 0.0 if known is None else float(known)
