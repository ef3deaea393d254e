"""Fits that cannot be: values that question the readings behind them, and the slip that would explain each.

Four readings of one shaft that are all a turn of the thimble out agree with one another; only what runs on that shaft
tells. A value is such a question where it is negative and never can be, where one step of a gauge in all the
readings of a part there explains it, or where it lies many times farther beyond its limits than they are wide.

Many times is more than ten widths, and 12 thou: the worst honest fit of the simulation (`tests/benchmarks`) lies within
6 widths. Such a fit says something of readings and nothing of parts, so it has no remedy. Of two parts that would
explain it, the one is in doubt that stands the step off from its other stations, else from its stated size, else both
are.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from decimal import Decimal
from itertools import chain
from typing import NamedTuple

from specrules.evaluate import Point
from specrules.inspection.finding_parts import Limits
from specrules.inspection.judge import Judgement
from specrules.pack import Specification
from specrules.quantity import CONTEXT, LENGTH, show
from specrules.sheet import Reading, Sheet, Suspect
from specrules.sheet.family import middle_of
from specrules.sheet.reading_slips import INCH, NEAR, WORN_APART, Factor, exchanges, outside, plain, too_fine
from specrules.sheet.suspicion import gauge_resolution, gauge_steps
from specrules.vocabulary import PAIR, WITHIN, Reason, Why

WIDTHS = 10
"""So many times the width of its limits beyond them, a fit is no worn or bad part any more: the worst real one of the
invented honest builds lies within 6 (tests/benchmarks/README.md). And so far that no part wears by it, for limits may
be as narrow as one likes."""

NEW = 4
"""A stated size speaks for a step, or against it, where the readings lie within this part of it."""

CLEARLY = 4
"""So many widths beyond its limits lies what a step explains although without it the part would be a little bad."""

LEAST_SLOPE = 0.001
"""A value that moves a thousand times slower than a reading, or faster, says nothing of a slip in it."""

TENS = (Decimal(10), INCH)


Part = tuple[str, tuple[str, ...]]
"""A measurand at a station."""


class Contributor(NamedTuple):
    """The readings of one measurand at one station that a value stands on, and how fast the value moves with them."""

    name: str
    station: tuple[str, ...]
    used: tuple[Reading, ...]  # of those at the station the ones that count
    slope: Decimal
    confirmed: str  # by whom what counts was read again and found right, there and in the same figures; "" if not all

    @property
    def size(self) -> Decimal:
        """What counts of it, in base units."""
        return middle_of([reading.low for reading in self.used if reading.low is not None])


class Explained(NamedTuple):
    """A slip in one part that would bring a value within its limits."""

    part: Contributor
    slip: str
    would_be: Decimal
    within: bool = True  # the limits; else only a little beyond them
    step: Decimal = Decimal(0)  # how much more the part would measure, where a gauge was misread by a step


class Fits:
    """What the readings of one sheet say of fits that cannot be."""

    def __init__(self, sheet: Sheet, spec: Specification) -> None:
        self.sheet, self.spec = sheet, spec
        self.at: dict[str, dict[tuple[str, ...], list[Reading]]] = {}
        for reading in sheet.readings:
            self.at.setdefault(reading.name, {}).setdefault(reading.station, []).append(reading)

    def doubts(self, judged: Judgement, negative: bool) -> tuple[Suspect, ...]:
        """The parts whose readings this value, which is beyond a limit, questions, each with the slip that explains it.

        `negative`: the value is below nothing, where it never can be."""
        value = judged.value
        if value is None or not value.exact or value.low is None:
            return ()
        parts, limits, of = self._parts(value.low), judged.limits, judged.rule
        if of.unit.dimension != LENGTH or not parts:
            return ()
        least, most = limits.least, limits.most
        if len(parts) == 1:
            return self._direct(parts[0], value.low.value, limits)
        if least is None or most is None or {part.slope > 0 for part in parts} != {True, False}:
            return ()
        far = negative or _far(value.low.value, least, most)
        found = self._narrowed([*self._steps(parts, value.low.value, limits)])
        if far and not found:
            found = [*_exchanged(parts, value.low.value, limits), *_digits(parts, value.low.value, limits)]
        code = Why.IMPOSSIBLE_NEGATIVE if negative else Why.IMPOSSIBLE_FIT
        if found:
            return tuple([self._suspect(each, code, of.name) for each in found])
        if not far or negative:
            return ()
        return tuple([self.suspect(part, Reason(code, (of.name,)), None) for part in parts])

    def parts_behind(self, judged: Judgement) -> set[Part]:
        """The names and stations of the readings that a value stands on."""
        readings = self.sheet.readings
        return {(readings[number].name, readings[number].station) for number in judged.trace.numbers()}

    def with_all_that_hold_them(
        self, judged: Sequence[Judgement], doubts: Mapping[int, tuple[Suspect, ...]]
    ) -> Mapping[int, tuple[Suspect, ...]]:
        """The doubts by judgement, those of a fit of several parts that nothing explains also at every other value that
        holds all of them: what is made of that fit is as doubtful, what is made of one part alone is not."""
        of_fits = {found for found in doubts.values() if len(found) > 1 and not any(each.would_be for each in found)}
        parts = {found: {(suspect.name, suspect.station) for suspect in found} for found in of_fits}
        if not parts:
            return doubts
        held = {
            id(each): [found for found, those in parts.items() if those <= self.parts_behind(each)] for each in judged
        }
        return {
            number: tuple(dict.fromkeys([*doubts.get(number, ()), *chain.from_iterable(found)]))
            for number, found in held.items()
        }

    def _parts(self, point: Point) -> list[Contributor]:
        numbers: dict[tuple[str, tuple[str, ...]], list[int]] = {}
        for number, slope in point.slopes.items():
            if number < len(self.sheet.readings) and slope:
                reading = self.sheet.readings[number]
                numbers.setdefault((reading.name, reading.station), []).append(number)
        made = []
        for (name, station), each in numbers.items():
            slope = round(sum(point.slopes[number] for number in each), 9)
            if LEAST_SLOPE < abs(slope) < 1 / LEAST_SLOPE:
                used = tuple([self.sheet.readings[number] for number in each])
                by = [self._confirmed(reading) for reading in used]
                made.append(Contributor(name, station, used, Decimal(slope), by[0] if all(by) else ""))
        return made

    def _confirmed(self, reading: Reading) -> str:
        """By whom this number was confirmed at its station; "" by nobody."""
        there = self.at[reading.name][reading.station]
        return next((each.confirmed for each in there if each.confirmed and each.value == reading.value), "")

    def _direct(self, part: Contributor, value: Decimal, limits: Limits) -> tuple[Suspect, ...]:
        """A value that is one reading as it stands: a factor of ten, or of one unit for another, that explains it."""
        reading = part.used[0]
        if len(part.used) > 1 or abs(part.slope) != 1 or not value or reading.value is None:
            return ()
        least, most = limits.least, limits.most
        shows = gauge_resolution(reading, self.spec.measurands[reading.name], self.sheet, self.spec)
        ways: list[Factor] = []
        if least is not None and most is not None and _far(value, least, most):
            ways = [Factor(times, too_large) for times in TENS for too_large in (True, False)]
        elif least is not None and most is not None and value < least and not reading.unit.of_inches:
            ways = [Factor(INCH, False)] if too_fine(reading, shows) else []
        usual = self.spec.measurands[reading.name].usual
        undone = {way: way.undone(value) for way in ways}
        found = [way for way, size in undone.items() if _within(size, limits) and not outside(size, usual)]
        if len(found) != 1:
            return ()
        would_be = found[0].undone(reading.value)
        shown = plain(would_be, reading.unit, found[0].undone(reading.place_value))
        return (self.suspect(part, found[0].reason("limits", shown), would_be),)

    def _steps(self, parts: Sequence[Contributor], value: Decimal, limits: Limits) -> Iterator[Explained]:
        """Parts all of whose readings there would be a step of their gauge out."""
        for part in parts:
            first = part.used[0]
            for name, by, unit in gauge_steps(first.gauge, self.spec.measurands[part.name], self.sheet, self.spec):
                if unit.of_inches != first.unit.of_inches or abs(part.size) < 2 * by:
                    continue
                for step in (by, -by):
                    undone = value + part.slope * step
                    if _within(undone, limits) or _near(value, undone, limits):
                        yield Explained(part, name, part.size + step, _within(undone, limits), step)

    def _narrowed(self, found: list[Explained]) -> list[Explained]:
        """Of several parts that would explain a value those that their other stations, or a stated size, speak of."""
        for speaks in (self._by_stations, self._by_size_when_new):
            said = [speaks(each) for each in found]
            if any(said):
                return [each for each, so in zip(found, said, strict=True) if so]
            found = [each for each, so in zip(found, said, strict=True) if so is None] if None in said else found
        return found

    def _by_stations(self, explained: Explained) -> bool | None:
        """Whether a part stands the step off from its other stations, each of which has one vote."""
        part, spec = explained.part, self.spec
        axes = spec.measurands[part.name].at
        named = [(place, axis) for place, axis in enumerate(axes) if spec.axes[axis].names]
        kind = self.sheet.kind
        here = {reading.statement for reading in self.at[part.name][part.station]}
        votes: dict[int, Decimal] = {}
        for station, readings in self.at[part.name].items():
            sizes = [reading.low for reading in readings if reading.low is not None]
            alike = all(kind(axis, station[place]) == kind(axis, part.station[place]) for place, axis in named)
            if station != part.station and alike and sizes and here.isdisjoint(r.statement for r in readings):
                votes[readings[0].statement] = middle_of(sizes)
        if not votes:
            return None
        return _speaks(part.size - middle_of(list(votes.values())), explained.step, NEAR)

    def _by_size_when_new(self, explained: Explained) -> bool | None:
        """Whether a part stands the step off from its stated size."""
        part, measurand = explained.part, self.spec.measurands[explained.part.name]
        if measurand.new is None:
            return None
        labels = dict(zip(measurand.at, part.station, strict=True))
        axes = self.spec.facts[measurand.new.fact].at
        stated = {each.station: each.value for each in self.sheet.facts.get(measurand.new.fact, ())}
        size = stated.get(tuple([labels[axis] for axis in axes]), stated.get(()))
        return _speaks(part.size - size, explained.step, NEW) if isinstance(size, Decimal) else None

    def _suspect(self, explained: Explained, code: Why, rule: str) -> Suspect:
        part, slip, would_be, within, step = explained
        first = part.used[0]
        if step:
            would_be = step + middle_of([r.low for r in self.at[part.name][part.station] if r.low is not None])
        place = CONTEXT.divide(first.place_value, first.unit.difference_to_base(Decimal(1)))
        shown = show(would_be, first.unit, max(-place.adjusted(), 0))
        labels = (shown, WITHIN) if within else (shown,)
        return self.suspect(part, Reason(code, (rule, slip), labels), would_be)

    def suspect(self, part: Contributor, reason: Reason, would_be: Decimal | None) -> Suspect:
        """The readings of a part as suspect ones: all at its station, as one."""
        there, measurand = self.at[part.name][part.station], self.spec.measurands[part.name]
        first = there[0]
        return Suspect(
            part.name,
            part.station,
            None,
            first.place,
            ", ".join(dict.fromkeys(reading.text for reading in there)),
            would_be,
            first.unit,
            (),
            reason,
            measurand.at,
            measurand.positions,
            part.confirmed,
        )


def _within(value: Decimal, limits: Limits) -> bool:
    return (limits.least is None or value >= limits.least) and (limits.most is None or value <= limits.most)


def _far(value: Decimal, least: Decimal, most: Decimal) -> bool:
    """Whether a value lies farther beyond its limits than worn and bad parts do."""
    return _widths(value, least, most) > WIDTHS and max(least - value, value - most) > WORN_APART


def _near(value: Decimal, undone: Decimal, limits: Limits) -> bool:
    """Whether a value many times its limits' width beyond them would come to lie within one width of them."""
    least, most = limits.least, limits.most
    if least is None or most is None or most <= least:
        return False
    return _widths(undone, least, most) <= 1 and _widths(value, least, most) > CLEARLY


def _widths(value: Decimal, least: Decimal, most: Decimal) -> Decimal:
    """How many times the width of its limits a value lies beyond them."""
    return CONTEXT.divide(max(least - value, value - most), most - least) if most > least else Decimal(0)


def _speaks(off: Decimal, step: Decimal, near: int) -> bool | None:
    """Of how far a part is off from what it is held against: whether by just that step; None where by neither."""
    close = abs(step) / near
    return True if abs(off + step) <= close else False if abs(off) <= close else None


def _exchanged(parts: Sequence[Contributor], value: Decimal, limits: Limits) -> Iterator[Explained]:
    """A hole written for its shaft, and the shaft for the hole."""
    if len(parts) == 2 and {part.slope for part in parts} == {1, -1} and _within(-value, limits):
        one, other = parts
        if not (one.confirmed or other.confirmed):
            yield Explained(one, PAIR, other.size)
            yield Explained(other, PAIR, one.size)


def _digits(parts: Iterable[Contributor], value: Decimal, limits: Limits) -> Iterator[Explained]:
    """Two digits side by side exchanged in the one reading of a part."""
    for part in parts:
        if len(part.used) == 1 and part.used[0].repeats == 1:
            found = [off for *_, off in exchanges(part.used[0]) if _within(value + part.slope * off, limits)]
            if len(found) == 1:
                yield Explained(part, Why.DIGITS_EXCHANGED, part.size + found[0])
