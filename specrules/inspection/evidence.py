"""What a verdict rests on besides its numbers: work done since, signatures, and readings that look like a slip."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from decimal import Decimal

from specrules.evaluate import Point, holds, label
from specrules.evaluate.binding import SheetEnvironment
from specrules.evaluate.trace import Place
from specrules.formula import Station
from specrules.inspection.adequacy import width_of
from specrules.inspection.judge import Judgement
from specrules.inspection.report import SignOffState
from specrules.pack import Measurand, SignOff, Specification
from specrules.sheet import Reading, Sheet, Signature, Suspect, Work
from specrules.sheet.station_cover import covered, touches
from specrules.vocabulary import Reason, Why

LACKING = ("missing", "answered no", "stale")
"""The states of a sign-off that keep from being proven what needs it."""


def outdated(taken: date | None, work: Work, after: Sequence[str]) -> bool:
    """Whether something dated so came before the work: on the same day or undated it counts as before."""
    if work.operation in after:
        return False
    return taken is None or work.on is None or taken <= work.on


def stale_readings(sheet: Sheet, spec: Specification) -> Mapping[int, str]:
    """Reading's number -> the operation that made it stale."""
    stale: dict[int, str] = {}
    for work in sheet.work_done:
        touched = spec.operations[work.operation].makes_stale
        for number, reading in enumerate(sheet.readings):
            if reading.name not in touched or not outdated(reading.taken, work, reading.after):
                continue
            station = dict(zip(spec.measurands[reading.name].at, reading.station, strict=True))
            if touches(work.at, station, sheet, spec.axes):
                stale[number] = work.operation
    return stale


def read_after(
    name: str, station: Sequence[str], on: date, sheet: Sheet, spec: Specification
) -> tuple[str, ...] | None:
    """The operations of that day, and undated ones, that a reading taken then has to say it was taken after; None where
    no work touched what it reads."""
    at = dict(zip(spec.measurands[name].at, station, strict=True))
    touching = [
        work
        for work in sheet.work_done
        if name in spec.operations[work.operation].makes_stale and touches(work.at, at, sheet, spec.axes)
    ]
    if not touching:
        return None
    return tuple(dict.fromkeys(work.operation for work in touching if outdated(on, work, ())))


def signed_after(name: str, on: date, sheet: Sheet, spec: Specification) -> tuple[str, ...]:
    """The operations of that day, and undated ones, that a sign-off given then has to say it was given after."""
    done = (work for work in sheet.work_done if name in spec.operations[work.operation].makes_stale)
    return tuple(dict.fromkeys(work.operation for work in done if outdated(on, work, ())))


def doubted_figures(sheet: Sheet, suspects: Sequence[Suspect]) -> Mapping[int | Place, Suspect]:
    """Reading's number, or a stated fact's name and labels, -> what makes it suspect."""
    suspects = [suspect for suspect in suspects if suspect.bars]
    by_reading = {(suspect.name, suspect.station, suspect.position): suspect for suspect in suspects}
    by_place = {suspect.place: suspect for suspect in suspects}
    doubted: dict[int | Place, Suspect] = {}
    names = {suspect.name for suspect in suspects}
    for number, reading in [(n, reading) for n, reading in enumerate(sheet.readings) if reading.name in names]:
        here = by_reading.get((reading.name, reading.station, None))
        suspect = by_reading.get((reading.name, reading.station, reading.position), here)
        if suspect is not None:
            doubted[number] = suspect
    for name, values in sheet.facts.items() if suspects else ():
        doubted.update({(name, each.station): by_place[each.place] for each in values if each.place in by_place})
    return doubted


def stale_facts(sheet: Sheet, spec: Specification) -> Mapping[str, str]:
    """Fact -> the operation that made it stale. A fact bears no date: the work says which were restated since."""
    return {
        name: work.operation
        for work in sheet.work_done
        for name in spec.operations[work.operation].makes_stale
        if name in sheet.facts and name not in work.restated
    }


class SignOffs:
    """The sign-offs of a specification as a sheet gives them."""

    def __init__(self, sheet: Sheet, spec: Specification, environment: SheetEnvironment) -> None:
        self.sheet = sheet
        self.spec = spec
        self.environment = environment
        self._states: dict[tuple[str, tuple[tuple[str, str], ...]], str] = {}

    def state(self, name: str, station: Station) -> str:
        """signed, missing, answered no, stale or not applicable, at a station (of any axes)."""
        key = (name, tuple(station.items()))
        if key not in self._states:
            self._states[key] = self._state(name, station)
        return self._states[key]

    def lacking(self, names: Iterable[str], station: Station) -> Mapping[str, str]:
        """Those of some sign-offs that keep what needs them from being proven there, each with its state."""
        return {name: state for name in names if (state := self.state(name, station)) in LACKING}

    def _state(self, name: str, station: Station) -> str:
        sign_off = self.spec.sign_offs[name]
        if not self.applies(sign_off, station):
            return "not applicable"
        given = self.sheet.signed.get(name, ())
        here = [signature for signature in given if touches(signature.at, station, self.sheet, self.spec.axes)]
        if any(not signature.answer for signature in here):
            return "answered no"
        if not covered((s.at for s in here), station, self.sheet, sign_off.at):
            return "missing"
        fresh = [signature for signature in here if not self._outdated(name, signature, station)]
        return "signed" if covered((s.at for s in fresh), station, self.sheet, sign_off.at) else "stale"

    def applies(self, sign_off: SignOff, station: Station) -> bool:
        """Whether the question is asked there; a fact that nobody stated leaves it asked."""
        when = sign_off.applies_when
        if when is None or not set(when.each) <= set(station):
            return True
        return holds(when, self.environment, station) is not False

    def _outdated(self, name: str, signature: Signature, station: Station) -> bool:
        return any(
            name in self.spec.operations[work.operation].makes_stale
            and outdated(signature.on, work, signature.after)
            and touches(work.at, station, self.sheet, self.spec.axes)
            for work in self.sheet.work_done
        )

    def states(self) -> tuple[SignOffState, ...]:
        """Every sign-off of the specification, with the stations at which it is not given."""
        return tuple(self._whole(sign_off) for sign_off in self.spec.sign_offs.values())

    def _whole(self, sign_off: SignOff) -> SignOffState:
        stations = self._stations(sign_off)
        states = [self.state(sign_off.name, station) for station in stations]
        order = ("answered no", "stale", "missing", "signed", "not applicable")
        state = min(states, key=order.index)
        lacking = tuple(
            station for station, each in zip(stations, states, strict=True) if station and each not in order[3:]
        )
        given = self.sheet.signed.get(sign_off.name, ())
        importance = label(sign_off.importance, self.environment, stations[0])
        return SignOffState(
            sign_off.name,
            sign_off.question,
            sign_off.group,
            sign_off.hold_point,
            importance or "critical",
            state,
            ", ".join(dict.fromkeys(signature.by for signature in given if signature.by)),
            ", ".join(dict.fromkeys(str(signature.on) for signature in given if signature.on)),
            () if len(lacking) == len(stations) else lacking,
            sign_off.caution,
            sign_off.because,
        )

    def _stations(self, sign_off: SignOff) -> list[dict[str, str]]:
        stations: list[dict[str, str]] = [{}]
        for axis in sign_off.at:
            labels = self.sheet.labels.get(axis, ())
            stations = [{**station, axis: label} for station in stations for label in labels]
        return stations or [{}]


def too_coarse_for_limits(
    judged: Judgement, readings: Sequence[Reading], measurands: Mapping[str, Measurand]
) -> tuple[Suspect, ...]:
    """Readings that only the rule shows to be doubtful: written to too few places for it."""
    value = judged.value
    if value is None or not value.exact or value.low is None or not judged.trace.found:
        return ()
    coarse = _too_coarse(judged, value.low, readings)
    return tuple([_suspect(readings[number], Reason(Why.TOO_FEW_PLACES), measurands) for number in coarse])


def behind_negative(
    judged: Judgement, readings: Sequence[Reading], measurands: Mapping[str, Measurand]
) -> tuple[Suspect, ...]:
    """Of a value below nothing, where it never can be and nothing explains it, the reading with the fewest places of
    those that nobody confirmed."""
    doubtful = [readings[number] for number in judged.trace.found if not readings[number].confirmed]
    if not doubtful:
        return ()
    coarsest = max(doubtful, key=lambda reading: reading.place_value)
    return (_suspect(coarsest, Reason(Why.IMPOSSIBLE_NEGATIVE, (judged.rule.name,)), measurands),)


def _suspect(r: Reading, reason: Reason, measurands: Mapping[str, Measurand]) -> Suspect:
    axes = measurands[r.name]
    return Suspect(r.name, r.station, r.position, r.place, r.text, None, r.unit, (), reason, axes.at, axes.positions)


def _too_coarse(judged: Judgement, point: Point, readings: Sequence[Reading]) -> Sequence[int]:
    """Those whose last written place is worth more than the whole tolerance, where it is that place that decides."""
    width = width_of(judged.limits)
    if width is None:
        return ()
    coarse = {
        number: worth
        for number in judged.trace.found
        if number in point.slopes
        and width < (worth := abs(Decimal(point.slopes[number])) * readings[number].place_value)
    }
    if not coarse:
        return ()
    room = min((abs(margin.low) for margin in judged.margins if margin.low is not None), default=Decimal(0))
    return [number for number, worth in coarse.items() if worth / 2 >= room]
