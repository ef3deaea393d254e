"""What a gauge can do, in numbers: its smallest step, its permissible error, how well it repeats; by size."""

from collections.abc import Callable, Iterator, Sequence
from decimal import Decimal
from typing import NamedTuple, Protocol

from specrules.document import Text
from specrules.pack.blades import Blades, Gap, of_one_system, read_blades
from specrules.quantity import NUMBER, Dimension, Exact, Refusal, Unit, read_written
from specrules.vocabulary import Code

NOTHING = Decimal(0)


class Amount(NamedTuple):
    """An amount in base units, a share of what is read (0.02 for 2 percent), or both added."""

    absolute: Decimal = NOTHING
    share: Decimal = NOTHING

    def at(self, size: Decimal) -> Decimal:
        """The amount for a reading of that size, base units."""
        return self.absolute + self.share * abs(size)


class Characteristics(NamedTuple):
    """Resolution; maximum permissible error (JCGM 200:2012, 4.26); repeatability as one standard deviation."""

    resolution: Amount | None = None
    mpe: Amount | None = None
    repeatability: Amount | None = None

    def over(self, other: "Characteristics") -> "Characteristics":
        """These, and where they say nothing, the others."""
        return Characteristics(
            self.resolution or other.resolution, self.mpe or other.mpe, self.repeatability or other.repeatability
        )


class SizeRange(NamedTuple):
    """What holds of readings over one size and to another (base units, ends as standards print them)."""

    over: Decimal
    to: Decimal
    figures: Characteristics

    def holds(self, size: Decimal) -> bool:
        """Whether a reading of that size is in it; nothing at all is in the range that begins there."""
        return abs(size) <= self.to and (self.over < abs(size) or not self.over)

    def says(self, figure: str) -> bool:
        """Whether it has a figure of its own, by its name."""
        return getattr(self.figures, figure, None) is not None


class Capability(NamedTuple):
    """What a gauge can do.

    Where nobody says a figure, it is taken from the gauge's class, and what a class does not say is nothing.
    `by_size` comes before what holds of all sizes. `goes`: a figure is what went, and the true size lies between it and
    the next of `steps`; where there are none, a resolution further. `marked`: the unit of the resolution.
    """

    figures: Characteristics = Characteristics()
    by_size: tuple[SizeRange, ...] = ()
    goes: bool = False
    steps: tuple[Blades, ...] = ()
    marked: Unit | None = None

    @property
    def endless(self) -> bool:
        """It reads what goes, and nothing says what would not go next."""
        step = self.figures.resolution
        return self.goes and not self.steps and not (step is not None and step.absolute)

    def over(self, other: "Capability") -> "Capability":
        """This, then the other; a figure of this for all sizes is before the other's by size."""
        figures = self.figures
        return Capability(
            figures.over(other.figures),
            self.by_size or tuple(each._replace(figures=figures.over(each.figures)) for each in other.by_size),
            self.goes or other.goes,
            self.steps or other.steps,
            self.marked or other.marked,
        )

    def says(self, figure: str, size: Decimal) -> bool:
        """Whether it has a figure of its own, by its name, for readings of one size."""
        if figure == "steps":
            return bool(self.steps)
        return getattr(self.at(size), figure, None) is not None

    def at(self, size: Decimal) -> Characteristics:
        """What holds of readings of one size, in base units."""
        for each in self.by_size:
            if each.holds(size):
                return each.figures.over(self.figures)
        return self.figures

    def of_system(self, unit: Unit) -> Sequence[Blades]:
        """The set that is marked in the system of this unit, else the one there is; none where it reads no blades."""
        return [*(each for each in self.steps if of_one_system(each.unit, unit)), *self.steps][:1] if self.goes else ()

    def gap(self, figure: Decimal, unit: Unit) -> Gap:
        """Where a gap lies of which this figure (base units) goes: between blades of the set that is marked in the
        system of this unit, else of the one there is; without a set, a resolution further."""
        for fit in self.of_system(unit):
            return fit.about(figure)
        step = self.at(figure).resolution
        return Gap(figure, figure + (step.absolute if step is not None else NOTHING), True)


class Sized(Protocol):
    """The texts of what holds over a range of sizes; an empty one says nothing."""

    @property
    def resolution(self) -> Text: ...
    @property
    def mpe(self) -> Text: ...
    @property
    def repeatability(self) -> Text: ...


class SizedRange(Sized, Protocol):
    """And the ends of that range."""

    @property
    def over(self) -> Text: ...
    @property
    def to(self) -> Text: ...


class Written(Sized, Protocol):
    """All that is written of what a gauge can do."""

    @property
    def by_size(self) -> Sequence[SizedRange]: ...
    @property
    def reads(self) -> Text: ...
    @property
    def steps(self) -> Sequence[Text]: ...


Refuse = Callable[[Text, Refusal, str], None]
"""Takes a text, what is wrong with it, and which figure it is."""


def read_capability(written: Written, refuse: Refuse) -> Capability:
    """The texts as numbers; what is wrong with one goes to `refuse`. All must be of one dimension."""
    reading = _Reading(refuse)
    figures = reading.figures(written)
    by_size = tuple(reading.ranges(written.by_size))
    steps, kind = read_blades(written.steps, lambda text, wrong: refuse(text, wrong, "steps"))
    if steps:
        reading.of_kind(written.steps[0], kind, "steps")
    return Capability(figures, by_size, bool(written.reads), steps, reading.marked)


class _Reading:
    """The figures of one gauge as they are read: of which dimension the first of them was."""

    def __init__(self, refuse: Refuse) -> None:
        self.refuse = refuse
        self.kind: Dimension | None = None
        self.marked: Unit | None = None

    def of_kind(self, text: Text, kind: Dimension, which: str) -> None:
        if self.kind is None:
            self.kind = kind
        elif kind != self.kind:
            self.refuse(
                text, Refusal(Code.WRONG_UNIT, f"is {kind.words()}, and the others are {self.kind.words()}", ""), which
            )

    def amount(self, text: Text, which: str) -> Amount | None:
        if not text:
            return None
        absolute, share = NOTHING, NOTHING
        for part in text.split(" and "):
            found = read_written(part, unit=None, dimension=None)
            if isinstance(found, Refusal):
                self.refuse(text, found, which)
                return None
            if not isinstance(found, Exact) or found.value < 0 or found.U is not None:
                write = "0.0001 in, 2 percent, or 0.0001 in and 2 percent"
                self.refuse(text, Refusal(Code.NOT_A_NUMBER, "is no amount", write), which)
                return None
            if found.unit.dimension == NUMBER and found.unit.symbol and which != "resolution":
                share += found.value
                continue
            if found.unit.dimension == NUMBER and not found.unit.symbol and found.value:
                write = f"{text} in, {text} mm or {text} percent"
                self.refuse(text, Refusal(Code.UNIT_MISSING, "has no unit", write), which)
                return None
            if found.value:
                self.of_kind(text, found.unit.dimension, which)
            if which == "resolution":
                self.marked = self.marked or found.unit
            absolute += found.value
        return Amount(absolute, share)

    def figures(self, written: Sized) -> Characteristics:
        return Characteristics(
            self.amount(written.resolution, "resolution"),
            self.amount(written.mpe, "mpe"),
            self.amount(written.repeatability, "repeatability"),
        )

    def ranges(self, written: Sequence[SizedRange]) -> Iterator[SizeRange]:
        before = NOTHING
        for each in written:
            over, to = (self.size(text, which) for text, which in ((each.over, "over"), (each.to, "to")))
            figures = self.figures(each)
            if over is None or to is None:
                continue
            if to <= over:
                self.refuse(each.to, Refusal(Code.WRONG_RANGE, "is not above what it is over"), "by size")
            elif over < before:
                self.refuse(
                    each.over, Refusal(Code.WRONG_RANGE, "begins below the end of the range before it"), "by size"
                )
            else:
                before = to
                yield SizeRange(over, to, figures)

    def size(self, text: Text, which: str) -> Decimal | None:
        found = read_written(text, unit=None, dimension=None)
        if isinstance(found, Exact) and found.U is None and found.value >= 0 and found.unit.symbol:
            self.of_kind(text, found.unit.dimension, f"by size {which}")
            return found.value
        wrong = found if isinstance(found, Refusal) else Refusal(Code.NOT_A_NUMBER, "is no size", "50 mm")
        self.refuse(text, wrong, f"by size {which}")
        return None
