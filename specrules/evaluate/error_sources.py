"""Every separate cause of error behind a sheet's readings, numbered; what a reading moves with, and by how much.

A value's slopes run over these numbers. What two readings share (one gauge's calibration, the one act of setting a
comparator, an expansion coefficient) is one cause with one number, so that it cancels in a difference and adds up in a
sum by itself (JCGM 100:2008, clause 5.2 and F.1.2.3, where correlation is taken out by common inputs).
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from itertools import pairwise
from typing import NamedTuple, TypeAlias

from specrules.evaluate import Point, Slopes
from specrules.evaluate.error_distribution import ErrorDistribution, Selected, expected_extreme, variance_of_extreme
from specrules.evaluate.gaugings import Gauging
from specrules.pack import Amount, Capability
from specrules.pack.capability import Characteristics
from specrules.sheet import Reading
from specrules.sheet.gauges import SMALLEST_SIZE
from specrules.vocabulary import Reason, Why

NO_SLOPE = 1e-12
"""A slope as small as this is what rounding leaves of none."""
MOSTLY = 0.5
"""A pick scatters as an earlier one did where that makes up so much of its variance."""
APART = 3 * math.sqrt(2)
"""Of a thousand pairs of equal values 997 differ by no more than so many times u of one: they cannot be told apart."""

Able: TypeAlias = Callable[[Capability, Decimal], Characteristics]
"""What a gauge can do at a size."""


class Selection(NamedTuple):
    """That a value was picked as an extreme `among` so many that cannot be told apart.

    `u`: the standard uncertainty of what each of them errs by alone, negative where the least was picked; `normal`: the
    normal part of it. `replaces`: the sources, with their slopes, of which that is made up. `like`: the statements that
    the values stand on.
    """

    among: int
    u: float
    normal: float
    replaces: Slopes
    like: frozenset[frozenset[int]]

    @property
    def pull(self) -> float:
        """How far the pick is expected to be off: the greatest of equal values is too great."""
        return self.u * expected_extreme(self.among)

    @property
    def certainty(self) -> float:
        """By how much less an extreme scatters than a single value: a variance."""
        return self.u * self.u * (1 - variance_of_extreme(self.among))


class Part(NamedTuple):
    """One cause: a normal variance, the half-width of a rectangular one, or what picking an extreme does.

    `bracket`: the half-width is a bracket's, and the value is somewhere in it under every decision rule.
    """

    cause: Reason
    variance: float = 0.0
    half: float = 0.0
    bracket: bool = False
    selection: Selection | None = None

    @property
    def u(self) -> float:
        """The standard uncertainty; a half-width counts as rectangular (JCGM 100:2008, clause 4.3.7)."""
        return math.sqrt(self.variance + self.half * self.half / 3)


class Uncertainty(NamedTuple):
    """How sure a point is, base units: expanded uncertainty (k = 2) downwards and upwards, and what of it brackets
    make up."""

    down: Decimal
    up: Decimal
    half: Decimal

    @property
    def expanded(self) -> Decimal:
        """The larger of the two sides: what is printed behind a value."""
        return max(self.down, self.up)


CERTAIN = Uncertainty(Decimal(0), Decimal(0), Decimal(0))


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
    _known: dict[int, tuple[Point, Uncertainty]] = field(default_factory=dict)  # by identity

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

        The greatest of m values that cannot be told apart is too great by what the greatest of m like errors is
        expected to be. The value is not put right; the allowance counts on the side away from which it was pulled.
        """
        if self.simple or len(among) == 1:
            return best
        parts, own_ones = self.parts, self.own  # what a value has for itself: its readings' own parts, earlier picks
        replaces = {n: slope for n, slope in best.slopes.items() if n < own_ones or parts[n].selection is not None}
        variance, normal = self._variance_alone(replaces)
        if not variance:
            return best
        own, statements = math.sqrt(variance), self.statements
        near = frozenset(
            [
                frozenset([statements[number] for number in point.slopes if number < own_ones])
                for point in among
                if abs(float(point.value - best.value)) <= APART * own
            ]
        )
        if len(near) < 2:
            return best
        sign = 1.0 if greatest else -1.0
        selection = Selection(len(near), sign * own, sign * math.sqrt(normal), replaces, near)
        return Point(best.value, {**best.slopes, self.add(Part(Reason(Why.SELECTION), selection=selection)): 1.0})

    def _variance_alone(self, slopes: Slopes) -> tuple[float, float]:
        """The variance that such sources make up, brackets left out, and the normal part of it."""
        variance = normal = 0.0
        for number, slope in slopes.items():
            part, u = self.parts[number], self.us[number]
            squared = slope * slope
            if part.selection is not None:
                variance -= squared * part.selection.certainty
            else:
                normal += squared * part.variance
                variance += squared * (part.variance if part.bracket else u * u)
        return max(variance, 0.0), normal

    def uncertainty(self, point: Point | None) -> Uncertainty:
        """How sure a point is: worked out once, however many figures and rules stand on it.

        U is never wider than the sum of the half-widths plus 2u of the rest: a value cannot lie outside its bracket,
        nor can the extreme of several lie outside its own.
        """
        if point is None or not point.slopes:
            return CERTAIN
        known = self._known.get(id(point))
        if known is None:
            known = self._known[id(point)] = (point, self._uncertainty(point))
        return known[1]

    def _uncertainty(self, point: Point) -> Uncertainty:
        variance = halves = brackets = squares = pull_normal = 0.0
        picked = False
        parts = self.parts
        for number, slope in point.slopes.items():
            _, own, half, bracket, selection = parts[number]
            if own:
                variance += slope * slope * own
            if half:
                wide = abs(slope) * half
                halves += wide
                squares += wide * wide
                if bracket:
                    brackets += wide
            if selection is not None:
                picked = True
                pull_normal += slope * selection.normal * expected_extreme(selection.among)
        widest = halves + 2 * math.sqrt(variance)
        U = widest if self.simple else min(2 * math.sqrt(variance + squares / 3), widest)
        down = up = twelve_digits(U)
        if picked:
            error = self.distribution(point.slopes)
            pulled = twelve_digits(min(abs(error.mean) + 2 * error.u, widest + abs(pull_normal)))
            down, up = (max(down, pulled), up) if error.mean > 0 else (down, max(up, pulled))
        return Uncertainty(down, up, twelve_digits(brackets)) if down or up else CERTAIN

    def distribution(self, slopes: Slopes) -> ErrorDistribution:
        """The distribution of the error of what moves so with the sources.

        An extreme scatters as the greatest of its like do, in place of the own errors of the one that was picked; of a
        pick among picks only the last one scatters so, and the earlier ones are off by what they are expected to be.
        """
        left, shift = dict(slopes), 0.0
        picked: list[tuple[Selection, float]] = []
        of_picks: list[Selected] = []
        rough = False
        for number in sorted((each for each in slopes if self.parts[each].selection is not None), reverse=True):
            selection, slope = self.parts[number].selection, left.pop(number)
            if selection is None or abs(slope) < NO_SLOPE:
                continue
            rough = rough or 2 * abs(selection.normal) < abs(selection.u)
            earlier = self._earlier(selection, slope)
            for replaced, by in selection.replaces.items():
                left[replaced] = left.get(replaced, 0.0) - slope * by
            if len(earlier) == 1 and earlier[0].variance > MOSTLY * selection.u * selection.u * slope * slope:
                of_picks.append(earlier[0].picked_from(selection.among, greatest=slope * selection.u > 0))
            else:
                picked.append((selection, slope * selection.u))
                shift += sum(each.mean for each in earlier)
                rough = rough or bool(earlier)
        parts = self.parts
        variance = sum(slope * slope * parts[number].variance for number, slope in left.items())
        moving = ((parts[at], slopes.get(at, 0.0) if parts[at].bracket else slope) for at, slope in left.items())
        halves = [abs(slope) * part.half for part, slope in moving if part.half and abs(slope) >= NO_SLOPE]
        selected = (*of_picks, *_together(picked))
        return ErrorDistribution(variance, halves, shift, selected, rough or len(selected) > 2)

    def _earlier(self, selection: Selection, slope: float) -> Sequence[Selected]:
        """The picks among which this one picked again, as they move with a value."""
        found = [
            (earlier, slope * by * earlier.u)
            for number, by in selection.replaces.items()
            if (earlier := self.parts[number].selection) is not None and abs(by) >= NO_SLOPE
        ]
        return _together(found)

    def budget(self, point: Point) -> tuple[BudgetLine, ...]:
        """What each cause adds, the largest first; readings' own parts one by one, causes that cancel left out."""
        lines = [
            BudgetLine(part.cause, abs(slope) * (part.u if part.selection is None else abs(part.selection.pull)))
            for number, slope in point.slopes.items()
            if (part := self.parts[number]).u or part.selection
        ]
        return tuple(sorted((line for line in lines if line.u), key=lambda line: -line.u))


def _together(picked: Sequence[tuple[Selection, float]]) -> Sequence[Selected]:
    """The picks of a value; the greatest less the least of the same values is one of both."""
    if len(picked) == 2:
        (one, u), (other, u_of_other) = picked
        all_like = one.like | other.like
        if 2 * len(one.like & other.like) >= len(all_like) and math.isclose(u, u_of_other, rel_tol=0.1):
            return (Selected(len(all_like), (u + u_of_other) / 2, both=True),)
    return [Selected(selection.among, u) for selection, u in picked]


def twelve_digits(U: float) -> Decimal:
    """U to twelve digits: it is never known better, and so a blade just on a limit is on it and not a bit beside it."""
    return Decimal(f"{U:.12g}") if U else CERTAIN.down


def error_sources_of(readings: Sequence[Reading], gaugings: Sequence[Gauging], simple: bool) -> ErrorSources:
    """Number the causes of every reading."""
    sources = ErrorSources(simple, own=len(readings), statements=[reading.statement for reading in readings])
    known: dict[tuple[int, Decimal], Characteristics] = {}

    def able(of: Capability, size: Decimal) -> Characteristics:
        """What a gauge can do at a size; what one gauge reads is of few sizes."""
        if not of.by_size:
            return of.figures
        found = known.get((id(of), size))
        if found is None:
            found = known[id(of), size] = of.at(size)
        return found

    for reading, gauging in zip(readings, gaugings, strict=True):
        sources.add(_own(reading, gauging, simple, able))
    first: dict[int, int] = {}  # of each statement: one figure for many places is one reading, and errs once
    for number, (reading, gauging) in enumerate(zip(readings, gaugings, strict=True)):
        same = first.setdefault(reading.statement, number)
        own = {number: 1.0} if same == number else {number: 0.0, same: 1.0}
        if not simple and reading.U is None:  # a stated U says all there is to say
            _shared(sources, own, reading, gauging, able)
        sources.slopes.append(own)
    return sources


def _own(reading: Reading, gauging: Gauging, simple: bool, able: Able) -> Part:
    """What a reading shares with no other: its scatter, its last step, or the bracket that it is."""
    cause = Reason(Why.READING, (reading.name,), reading.station + (reading.position or ()))
    half = 0.0
    if reading.low is not None and reading.high is not None and reading.low != reading.high:
        half = float(reading.high - reading.low) / 2
    if simple or reading.U is not None:
        own = 0.0 if simple or reading.U is None else float(reading.U) ** 2 / 4
        return Part(cause, own, half, bracket=bool(half))
    read = _read(reading)
    size, figures = float(read), able(gauging.capability, read)
    scatter = gauging.scatter if gauging.scatter is not None else _at(figures.repeatability, size)
    own = scatter * scatter / reading.repeats
    if half:
        return Part(cause, own, half, bracket=True)
    bound = gauging.capability.goes and reading.low != reading.high  # one-sided: a blade that went, and no scale
    return Part(cause, own, 0.0 if bound else _at(figures.resolution, size) / 2)


def _shared(sources: ErrorSources, slopes: dict[int, float], reading: Reading, gauging: Gauging, able: Able) -> None:
    """The calibration of the gauge, and of those that it was set with; and the act of setting it.

    A difference that a comparator shows by itself had the error of what it was set with on both of its sides.
    """
    read, chain = _read(reading), gauging.chain
    size = float(read)
    for link in chain[:1] if len(chain) > 1 and abs(size) < SMALLEST_SIZE else chain:
        mpe = able(link.capability, read).mpe
        if mpe is None:
            continue
        if mpe.absolute:  # one error, however large it may be at a size
            cause = sources.common(("calibration", link.key), Why.CALIBRATION, (link.name,), link.basis, half=1.0)
            slopes[cause] = float(mpe.absolute)
        if mpe.share:
            half, key = float(mpe.share), ("scale", link.key)
            slopes[sources.common(key, Why.SCALE, (link.name,), link.basis, half=half)] = size
    for link, setter in pairwise(chain):
        figures = able(setter.capability, read)
        scatter, step = figures.repeatability, figures.resolution
        variance, half = _at(scatter, size) ** 2, _at(step, size) / 2
        names = (link.name, setter.name)
        if not setter.capability.by_size and not _by_size(scatter) and not _by_size(step):
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


def _read(reading: Reading) -> Decimal:
    """The size that was read, of a bracket its middle or the end that is known, base units."""
    known = reading.value if reading.value is not None else reading.low if reading.low is not None else reading.high
    return CERTAIN.down if known is None else known
