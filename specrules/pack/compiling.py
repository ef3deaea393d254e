"""Texts of a pack to checked values: formulas, units, names. What is refused becomes a fault at its column."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from specrules.document import MOST_FAULTS, Fault, Place, Text, placed, shown
from specrules.document.place import Kind as FaultKind
from specrules.formula import LIMIT_NAMES, Axis, Declared, Formula, Kind, Role, Scope, TableColumn
from specrules.formula.formula_reading import read_formula, read_yes_no
from specrules.pack.class_tables import PREFIX, column_of
from specrules.pack.layering import WORD
from specrules.pack.line_entries import SourceEntry
from specrules.pack.specification import Source
from specrules.quantity import NO_UNIT, Dimension, Refusal, Unit, find_unit, nearest
from specrules.quantity.amounts import BOTH_SYSTEMS, read_amount
from specrules.validation.texts import NOTHING
from specrules.vocabulary import IMPORTANCES, Code

NO_LIMIT = "none"
"""What a line says of a part of the limits that it takes away."""

_ALWAYS = Text("0 == 0")


@dataclass(slots=True)
class Compiler:
    """Reads texts against one scope and keeps the faults. The same text is read once for each use."""

    scope: Scope
    kind: FaultKind = "pack"
    faults: list[Fault] = field(default_factory=list)
    broken: set[str] = field(default_factory=set)  # names at fault themselves: what uses them says no more
    names: dict[str, Declared] = field(init=False)
    _read: dict[tuple[object, ...], Formula | None] = field(default_factory=dict)
    _scopes: dict[Dimension, Scope] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.enter(self.scope.axes, self.scope.names.values())

    def enter(self, axes: Mapping[str, Axis], names: Iterable[Declared]) -> None:
        """Speak of these axes and names from now on. `names` may grow until the specification is made."""
        self.names = {name.name: name for name in names}
        self.scope = self.scope._replace(axes=axes, names=self.names)

    def enter_tables(self, columns: Mapping[str, TableColumn]) -> None:
        """Know these tables from now on."""
        self.scope = self.scope._replace(columns=columns)

    @property
    def full(self) -> bool:
        """Whether there are more faults than anyone reads: nothing is worth its time any more."""
        return len(self.faults) >= MOST_FAULTS

    def nearest(self, word: str, choices: Iterable[str]) -> str:
        """The known word that is meant, "" where there is none."""
        return "" if self.full else nearest(word, choices) or ""

    def fault(self, at: Text | Place, subject: str, code: Code, said: str, write: str = "") -> None:
        """Note one fault."""
        if self.full:
            return
        self.faults.append(Fault(at.place if isinstance(at, Text) else at, subject, code, said, write, self.kind))

    def refused(self, text: Text, refusal: Refusal, subject: str) -> None:
        """Note what was refused, at its column."""
        self.fault(placed(text, refusal.at), subject, refusal.code, f"{shown(text)} {refusal.said}", refusal.write)

    def formula(
        self,
        text: Text,
        subject: str,
        each: tuple[str, ...] = (),
        *,
        kind: Kind = Kind.QUANTITY,
        dimension: Dimension | None = None,
        choices: tuple[str, ...] = (),
        limits: Dimension | None = None,
        also: tuple[Declared, ...] = (),
    ) -> Formula | None:
        """The formula, or None once its faults are noted. `limits`: it may use the limits so far, of that dimension;
        `also`: it may use these names too."""
        key = (text, text.place, each, kind, dimension, choices, limits, also)
        if key not in self._read and self.full:
            return None
        if key not in self._read:
            self._read[key] = self._formula(text, subject, each, kind, dimension, choices, limits, also)
        return self._read[key]

    def _formula(
        self,
        text: Text,
        subject: str,
        each: tuple[str, ...],
        kind: Kind,
        dimension: Dimension | None,
        choices: tuple[str, ...],
        limits: Dimension | None,
        also: tuple[Declared, ...],
    ) -> Formula | None:
        self.know_classes(text)
        scope = (self.scope if limits is None else self._with_limits(limits)).with_names(*also)
        found = read_formula(text, scope, each=each, kind=kind, dimension=dimension, choices=choices)
        if isinstance(found, Formula):
            return found
        if BOTH_SYSTEMS in text and not isinstance(amount := read_amount(text), Refusal):
            said = f"{shown(text)} is given for both systems of units, and is one figure here"
            self.fault(text, subject, Code.NOT_ONE_FIGURE, said, amount.given.text())
        else:
            self._noted(text, subject, found)
        return None

    def _with_limits(self, dimension: Dimension) -> Scope:
        if dimension not in self._scopes:
            names = (Declared(name, Role.LIMIT, (), dimension) for name in LIMIT_NAMES)
            self._scopes[dimension] = self.scope.with_names(*names)
        return self._scopes[dimension]

    def know_classes(self, text: str) -> None:
        """Know the tables of the tolerance classes that a text names."""
        new = {word for word in WORD.findall(text) if word not in self.scope.columns} if PREFIX in text else ()
        found = {word: column for word in new if (column := column_of(word)) is not None}
        if found:
            self.enter_tables({**self.scope.columns, **found})
            self._scopes.clear()

    def yes_no(self, text: Text, subject: str, each: tuple[str, ...]) -> Formula | None:
        """A condition as the quantity 1 or 0, None once its faults are noted; a quantity is read as one."""
        self.know_classes(text)
        found = read_yes_no(text, self.scope, each)
        if isinstance(found, Formula):
            return found
        if any(refusal.code is Code.WRONG_KIND and refusal.said.startswith("is ") for refusal in found):
            return self.formula(text, subject, each)
        self._noted(text, subject, found)
        return None

    def _noted(self, text: Text, subject: str, found: tuple[Refusal, ...]) -> None:
        """Note what was refused, unless something that is at fault itself is behind it."""
        if not self.broken.intersection(WORD.findall(text)):
            for refusal in found:
                self.refused(text, refusal, subject)

    def condition(self, text: Text, subject: str, each: tuple[str, ...] = ()) -> Formula | None:
        """A condition over facts and labels; None where nothing is written."""
        return self.formula(text, subject, each, kind=Kind.CONDITION) if text else None

    def allowed(self, text: Text, subject: str, each: tuple[str, ...] = ()) -> Formula | None:
        """A condition, or yes for always and no for never (None)."""
        return self.condition(_ALWAYS if text == "yes" else NOTHING if text == "no" else text, subject, each)

    def importance(self, text: Text, subject: str, each: tuple[str, ...] = ()) -> Formula | None:
        """One of the three importances, or a formula that chooses one."""
        return self.formula(text, subject, each, kind=Kind.CHOICE, choices=IMPORTANCES)

    def unit(self, text: Text, subject: str, dimension: Dimension | None = None) -> Unit | None:
        """The unit, none of a plain number; None where nothing is written or it is at fault."""
        if not text:
            return None
        found = NO_UNIT if text == "number" else find_unit(text, dimension=dimension)
        if isinstance(found, Refusal):
            self.refused(text, found, subject)
            return None
        if dimension is not None and found.dimension != dimension:
            said = f"{shown(text)} is a unit of {found.dimension.words()}, and this is {dimension.words()}"
            self.fault(text, subject, Code.WRONG_UNIT, said)
            return None
        return found

    def known(self, names: Iterable[Text], among: Collection[str], what: str, subject: str) -> tuple[str, ...]:
        """Those of the names that exist; the others are faults."""
        found: list[str] = []
        for name in names:
            if name in among:
                found.append(name)
            elif name not in self.broken:
                self.fault(name, subject, Code.UNKNOWN_NAME, f"{shown(name)} is no {what}", self.nearest(name, among))
        return tuple(dict.fromkeys(found))

    def axes(self, names: Sequence[Text], subject: str) -> tuple[str, ...] | None:
        """The axes of those names; None where one doesn't exist."""
        found = self.known(names, self.scope.axes, "axis", subject)
        return found if len(found) == len(names) else None


def source_of(entry: SourceEntry) -> Source:
    """Where a figure comes from, as a part of the specification."""
    return Source(entry.kind, entry.note, entry.document, entry.edition, entry.page, entry.clause)


def check_source(source: SourceEntry, subject: str, compiler: Compiler, place: bool = True) -> None:
    """A published source names its document, and its place in it unless the document is enough, as of gauges."""
    where = source.page or source.clause or not place
    if source.kind == "published" and not (source.document and where):
        lacks = "page or clause" if source.document else "document"
        said = f"is published and names no {lacks}"
        compiler.fault(source.kind, subject, Code.MISSING_KEY, said, f"{lacks.split()[0]}: in it")
