"""New, reused or machined: what a sheet says of each part, and what that makes of something that is measured on it.

A part is reused where a value is read from it by the way that was used; what only limits are read from does not count,
since it is the value that wears. A measurand may be of several parts. A reading taken in the state `machined` counts as
of a machined part, whatever the sheet says of the part: that errs on the strict side.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import count, product

from specrules.document import Fault, Fields, Text
from specrules.formula import Station
from specrules.pack import BuildPart, Specification
from specrules.sheet.axes import AxisLabels, not_laid_out
from specrules.sheet.faults import fault, unknown
from specrules.sheet.grid import is_open
from specrules.sheet.reading_shapes import statements
from specrules.sheet.sheet_parts import Sheet
from specrules.sheet.station_cover import touches
from specrules.validation import not_a_word
from specrules.vocabulary import MACHINED, PART_STATES, REUSED, Code

States = Mapping[tuple[str, ...], str]
"""Station of a part -> its state; the empty station is the whole part."""


def settle_parts(written: Fields, spec: Specification, layout: AxisLabels, faults: list[Fault]) -> Mapping[str, States]:
    """The state of each part that a sheet names, by station."""
    found: dict[str, States] = {}
    for name, node in written.items():
        part = spec.parts.get(name)
        if part is None:
            faults.append(unknown(name, "part of these packs", spec.parts, "parts", len(faults)))
            continue
        unstated = [axis for axis in part.at if axis in layout.unstated]
        if unstated and not isinstance(node, Text):
            faults.append(not_laid_out(name, spec.axes[unstated[0]]))
            continue
        grid = layout.grid(part.name, part.at)
        entries, wrong = statements(node, grid, count())
        faults.extend(wrong)
        states: dict[tuple[str, ...], str] = {}
        for entry in entries:
            text = entry.texts[0]
            if entry.repeated:
                said = "a state is stated once; repeats are for readings"
                faults.append(fault(text.place, entry.subject, Code.NOT_ONE_FIGURE, said))
            elif text in PART_STATES:
                states.update((station, str(text)) for station, _ in entry.spots)
            elif not is_open(text):
                faults.append(fault(text.place, entry.subject, *not_a_word(text, PART_STATES)))
        if states:
            found[part.name] = states
    return found


class PartStates:
    """Whether what is measured stands on reused parts, as a sheet says it."""

    def __init__(self, sheet: Sheet, spec: Specification) -> None:
        self._sheet, self._spec = sheet, spec
        self._machined = {(each.name, each.station) for each in sheet.readings if each.state == MACHINED}
        self._measured_on: dict[str, list[BuildPart]] = {}
        for part in spec.parts.values() if sheet.parts else ():
            for name in part.measurands:
                self._measured_on.setdefault(name, []).append(part)
        self._known: dict[tuple[str, tuple[str, ...]], bool | None] = {}

    def reused(self, places: Iterable[tuple[str, tuple[str, ...]]]) -> bool | None:
        """Of measurands at places (labels on all their axes, stations first): whether every part is a reused one.

        None where the sheet does not say it of all of them, and of none that it is not: then the packs' condition for
        wear decides.
        """
        if not (self._measured_on or self._machined):
            return None
        answers = {self._at(name, labels[: len(self._spec.measurands[name].at)]) for name, labels in places} or {None}
        return False if False in answers else None if None in answers else True

    def _at(self, name: str, station: tuple[str, ...]) -> bool | None:
        if (name, station) not in self._known:
            self._known[name, station] = self._told(name, station)
        return self._known[name, station]

    def _told(self, name: str, station: tuple[str, ...]) -> bool | None:
        if (name, station) in self._machined:
            return False
        here = dict(zip(self._spec.measurands[name].at, station, strict=True))
        states = {state for part in self._measured_on.get(name, ()) for state in self._states(part, here)}
        if states - {None, REUSED}:
            return False
        return None if None in states or not states else True

    def _states(self, part: BuildPart, here: Station) -> Iterator[str | None]:
        """What is said of a part at each of its stations that something measured here may be about."""
        told = self._sheet.parts.get(part.name, {})
        if () in told or not told:
            yield told.get(())
            return
        for labels in product(*(self._sheet.labels.get(axis, ()) for axis in part.at)):
            at = {axis: (label,) for axis, label in zip(part.at, labels, strict=True)}
            if touches(at, here, self._sheet, self._spec.axes):
                yield told.get(labels)
