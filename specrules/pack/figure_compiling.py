"""Figures: compiled in the order of what they stand on, each with one dimension however many ways lead to it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter

from specrules.document import Text
from specrules.formula import Declared, Formula, Role
from specrules.pack.compiling import Compiler
from specrules.pack.entries import WAY, FigureEntry, WayEntry
from specrules.pack.layering import WORD
from specrules.pack.naming import plain
from specrules.pack.specification import Figure, Way
from specrules.quantity import NO_UNIT, NUMBER, Dimension, Unit
from specrules.vocabulary import Code

_MOST_LOOPS = 10  # each costs a search of its own, and one loop is enough to go on with
_MOST_NAMED = 12
_PICKS = re.compile(r"\[[^\]]*\]")


def unit_shown(formula: Formula, units: Mapping[str, Unit]) -> Unit | None:
    """The unit of what the formula names, where all of its dimension agree; plain numbers need none."""
    named = (units[name] for name in formula.names if name in units)
    found = {unit.symbol: unit for unit in named if unit.dimension == formula.dimension}
    if len(found) == 1:
        return next(iter(found.values()))
    return NO_UNIT if formula.dimension == NUMBER and not found else None


def in_order(graph: Mapping[str, Set[str]]) -> tuple[list[str], list[tuple[str, ...]]]:
    """The names, those that others stand on first, and the loops, which are left out. Edges that leave are no edges."""
    left, loops, written = dict(graph), list[tuple[str, ...]](), {name: number for number, name in enumerate(graph)}
    while True:
        try:
            return list(TopologicalSorter({name: left.keys() & on for name, on in left.items()}).static_order()), loops
        except CycleError as error:
            loop = tuple(reversed(error.args[1]))
            first = min(range(len(loop) - 1), key=lambda at: written[loop[at]])
            loops.append((*loop[first:-1], *loop[:first], loop[first]))
            left = {name: on for name, on in left.items() if name not in loop}
            if len(loops) == _MOST_LOOPS:
                return [], loops


@dataclass(slots=True)
class Figures:
    """The figures of a specification while they are compiled."""

    keys: Mapping[str, Text]
    entries: Mapping[str, FigureEntry]
    groups: Mapping[str, str]
    needs: Mapping[str, object]
    retired: Set[str]
    classes: Mapping[str, object]
    units: dict[str, Unit]  # of every measurand and fact, and of each figure once it is known
    compiler: Compiler

    def compiled(self) -> dict[str, Figure]:
        """All of them, in written order; the compiler's scope holds them afterwards."""
        for name, entry in self.entries.items():
            self._declare_stated(name, entry)
        waiting = {name: set(self._stands_on(entry)) for name, entry in self.entries.items() if name not in self.units}
        order, loops = in_order(waiting)
        self._fault_loops(loops)
        order += [name for name in self.entries if name not in waiting]
        done = {name: self._figure(name, self.entries[name]) for name in order}
        made = {name: figure for name in self.entries if (figure := done.get(name)) is not None}
        # Figures that state their units were compiled in any order: their loops are found by what they really use.
        used = {name: {other for way in figure.ways for other in way.formula.names} for name, figure in made.items()}
        self._fault_loops(in_order(used)[1])
        return made

    def _declare_stated(self, name: str, entry: FigureEntry) -> None:
        """A figure whose unit is written can be used before it is compiled."""
        each = self.compiler.axes(entry.each, f"{name} each")
        unit = self.compiler.unit(entry.unit, f"{name} unit")
        if each is None or (entry.unit and unit is None):
            self.compiler.broken.add(name)
        elif unit is not None:
            self.units[name] = unit
            self._declare(name, each, unit.dimension)

    def _declare(self, name: str, each: tuple[str, ...], dimension: Dimension) -> None:
        self.compiler.names[name] = Declared(name, Role.FIGURE, each, dimension)

    def _stands_on(self, entry: FigureEntry) -> Iterator[str]:
        for way in ways_of(entry).values():
            yield from (word for word in WORD.findall(_PICKS.sub(" ", way.formula)) if word in self.entries)

    def _fault_loops(self, loops: Sequence[tuple[str, ...]]) -> None:
        for loop in loops:
            self.compiler.broken.update(loop)
            named = loop if len(loop) <= _MOST_NAMED else (*loop[: _MOST_NAMED - 2], "...", loop[-1])
            self.compiler.fault(self.keys[loop[0]], loop[0], Code.CIRCULAR, f"stands on itself: {' uses '.join(named)}")

    def _figure(self, name: str, entry: FigureEntry) -> Figure | None:
        compiler, key = self.compiler, self.keys[name]
        if name in compiler.broken:
            return None
        written = ways_of(entry)
        if not written or (entry.formula and entry.ways):
            said = "has a formula and ways" if written else "has neither formula nor ways"
            compiler.fault(key, name, Code.KEYS_DISAGREE, said, "one of the two")
        each = compiler.axes(entry.each, f"{name} each") or ()
        unit = self.units.get(name)
        dimension = unit.dimension if unit else None
        ways: list[Way] = []
        for called, way in written.items():
            subject = f"{name} ways {called}" if entry.ways else name
            formula = compiler.formula(way.formula, f"{subject} formula", each, dimension=dimension)
            if formula is not None:
                dimension = formula.dimension
                ways.append(self._way(called, way, formula, subject, each))
        if not ways or dimension is None:
            compiler.broken.add(name)
            return None
        unit = unit or unit_shown(ways[0].formula, self.units)
        if unit is None:
            said = f"does not say the unit to show its {dimension.words()} in"
            compiler.fault(key, name, Code.UNIT_MISSING, said, "unit: and its symbol")
            compiler.broken.add(name)
        self.units[name] = unit = unit or NO_UNIT
        self._declare(name, each, dimension)
        return Figure(
            name=key,
            title=entry.title or plain(name),
            group=self.groups[name],
            each=each,
            unit=unit,
            ways=tuple(ways),
            may_be_negative=compiler.allowed(entry.may_be_negative, f"{name} may be negative", each),
            place=key.place,
        )

    def _way(self, called: str, way: WayEntry, formula: Formula, subject: str, each: tuple[str, ...]) -> Way:
        kept = [need for need in way.needs if need not in self.retired]
        return Way(
            name=called,
            formula=formula,
            when=self.compiler.condition(way.when, f"{subject} when", each),
            needs=self.compiler.known(kept, self.needs, "sign-off or rule", f"{subject} needs"),
            gauge_classes=self.compiler.known(
                way.gauge_classes, self.classes, "gauge class", f"{subject} gauge classes"
            ),
            place=way.formula.place,
        )


def ways_of(entry: FigureEntry) -> dict[str, WayEntry]:
    """The ways of a figure; a formula alone is the one way to it."""
    if entry.formula and not entry.ways:
        return {"formula": WayEntry.model_validate(WAY.widen(entry.formula))}
    return {str(name): way for name, way in entry.ways.items()}
