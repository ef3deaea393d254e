"""Lines of limits, of packs and of build sheets, to their compiled parts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import TYPE_CHECKING, NamedTuple

from specrules.document import Text
from specrules.pack.compiling import NO_LIMIT, Compiler, source_of
from specrules.pack.line_entries import LineEntry, PackLineEntry
from specrules.pack.specification import LimitLine
from specrules.quantity import LENGTH, Dimension, Refusal
from specrules.quantity.tolerance_class import read_class
from specrules.validation import checked
from specrules.vocabulary import LIMIT_PARTS, SIDES, Code

if TYPE_CHECKING:
    from specrules.pack.validity import LineHolding


def _of_class(line: LineEntry, dimension: Dimension, compiler: Compiler, where: str) -> Mapping[str, Text]:
    """The limits that a tolerance class sets, as texts; nothing where there is none, or its fault is noted."""
    text = line.class_
    if not text:
        return {}
    found = read_class(text)
    if dimension != LENGTH:
        compiler.fault(text, f"{where} class", Code.WRONG_DIMENSION, f"is of lengths, and this is {dimension.words()}")
    elif line.least or line.most:
        said = "sets least and most, and one of them stands beside it"
        compiler.fault(text, f"{where} class", Code.KEYS_DISAGREE, said, "the class, or the limits")
    elif isinstance(found, Refusal):
        compiler.refused(text, found, f"{where} class")
    else:
        return {side: Text(f"{limit:f} mm", text.place) for side, limit in zip(SIDES, found[:2], strict=True)}
    return {}


def compile_lines(
    lines: Sequence[LineEntry],
    dimension: Dimension,
    each: tuple[str, ...],
    compiler: Compiler,
    owners: Mapping[str, str],
    subject: str,
    holding: Mapping[str, LineHolding] = MappingProxyType({}),
) -> tuple[LimitLine, ...]:
    """Limit lines of a rule of that dimension; faults are kept by the compiler.

    `owners` says which pack, or sheet, a file belongs to: each line knows who wrote it last. `holding`: for what the
    figures of each line hold, by its name.
    """
    making = _Lines(dimension, each, compiler, owners, subject)
    made: list[LimitLine] = []
    names: set[str] = set()
    for line in lines:
        where = f"{subject} limits {line.name}"
        if line.name in names:
            compiler.fault(line.name, where, Code.DEFINED_TWICE, "stands twice in these limits", "another name")
        names.add(line.name)
        if line.retire == "yes":
            said = "retires a limit line that no pack below has"
            compiler.fault(line.name, where, Code.AMENDS_NOTHING, said, compiler.nearest(line.name, names))
        else:
            made.append(making.line(line, holding.get(line.name)))
    return tuple(made)


class _Lines(NamedTuple):
    """Compiles the lines of one rule."""

    dimension: Dimension
    each: tuple[str, ...]
    compiler: Compiler
    owners: Mapping[str, str]
    subject: str

    def line(self, line: LineEntry, held: LineHolding | None) -> LimitLine:
        """One line; faults are kept by the compiler."""
        compiler, dimension, each = self.compiler, self.dimension, self.each
        where = f"{self.subject} limits {line.name}"
        written = {part: getattr(line, part.replace(" ", "_")) for part in LIMIT_PARTS}
        written.update(_of_class(line, dimension, compiler, where))
        sets = {
            part: compiler.formula(text, f"{where} {part}", each, dimension=dimension, limits=dimension)
            for part, text in written.items()
            if text and text != NO_LIMIT
        }
        clears = tuple([part for part, text in written.items() if text == NO_LIMIT])
        shift = None
        if line.shift:
            step = dimension._replace(point=False)
            shift = compiler.formula(line.shift, f"{where} shift", each, dimension=step, limits=dimension)
        if not (sets or clears or line.class_ or line.shift or line.from_the_maker == "yes"):
            said = "sets no limit and shifts none"
            compiler.fault(line.name, where, Code.MISSING_KEY, said, "least, aim, most or shift in it")
        return LimitLine(
            name=line.name,
            when=compiler.condition(line.when, f"{where} when", each),
            sets={part: formula for part, formula in sets.items() if formula is not None},
            shift=shift,
            from_the_maker=line.from_the_maker == "yes",
            clears=clears,
            note=line.note,
            source=source_of(line.source) if line.source is not None else None,
            pack=self.owners.get(line.place.file, line.place.file),
            place=line.place,
            holds={part: validity for part, validity in held.holds.items() if validity.keys} if held else {},
            own=held.own if held else None,
            below=self._below(held.below) if held and held.below else None,
            written={
                part: text.place
                for part, text in {**written, "shift": line.shift}.items()
                if text and text.place[:2] != line.place[:2]
            },
        )

    def _below(self, held: LineHolding) -> LimitLine | None:
        """The line as the packs beneath have it; None where it is at fault, which is said of it there."""
        entry, _ = checked(PackLineEntry, held.tree)
        return self.line(entry, held) if entry is not None else None
