"""Sets of blades: the steps of a gauge that goes or does not, and between which two of them a gap lies.

A blade that goes is a lower end. The bracket up to the next of its set is made when the sheet is settled, so that every
decision rule, `simple` too, judges the same reading. A figure between two blades lies between them; one past the last
is open above, since nobody says what did not go. Worked examples of packs give sizes, not readings.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterator, Sequence
from decimal import ROUND_FLOOR, Decimal
from typing import NamedTuple

from specrules.document import Text
from specrules.quantity import CONTEXT, NUMBER, Bracket, Dimension, Exact, Refusal, Unit, read_written
from specrules.vocabulary import Code

NOTHING = Decimal(0)
MOST_BLADES = 500
WRITE = "0.0015..0.025 in by 0.001 in, or [0.05 mm, 0.10 mm, 0.15 mm]"


class Blades(NamedTuple):
    """One set: the unit that it is marked in, and its sizes in base units, the thinnest first."""

    unit: Unit
    sizes: tuple[Decimal, ...]

    def about(self, figure: Decimal) -> "Gap":
        """Where a gap lies of which this figure (base units, not below zero) is said to go.

        A blade goes, and the next one does not; past the last one nothing is known of what would not go. A figure that
        is no blade lies between the two beside it, or between none and the thinnest.
        """
        place = bisect_right(self.sizes, figure)
        below = self.sizes[place - 1] if place else NOTHING
        if place == len(self.sizes):
            return Gap(max(figure, below), None, figure == below)
        return Gap(below, self.sizes[place], figure == below)

    def within(self, low: Decimal | None, high: Decimal | None) -> Sequence[Decimal]:
        """Two ends (base units) and the blades between them, the thinnest first; nothing where an end is open."""
        if low is None or high is None:
            return ()
        return (low, *self.sizes[bisect_right(self.sizes, low) : bisect_left(self.sizes, high)], high)


class Gap(NamedTuple):
    """The blade that goes and the next of its set, base units; None: there is none. `marked`: the figure is a blade."""

    low: Decimal
    high: Decimal | None
    marked: bool


def of_one_system(one: Unit, other: Unit) -> bool:
    """Whether two units belong to one system, in which steps go over into each other as they are."""
    return one.of_inches == other.of_inches


def read_blades(texts: Sequence[Text], refuse: Callable[[Text, Refusal], None]) -> tuple[tuple[Blades, ...], Dimension]:
    """Each text a blade, or a run of them; those in inches and those in millimetres are two sets. What is wrong with a
    text goes to `refuse`, and it is left out."""
    sets: list[tuple[Unit, list[Decimal]]] = []
    for text in texts:
        found = _run(text)
        if isinstance(found, Refusal):
            refuse(text, found)
            continue
        unit, sizes = found
        known = next((each for marked, each in sets if of_one_system(marked, unit)), None)
        if sets and sets[0][0].dimension != unit.dimension:
            kinds = unit.dimension.words(), sets[0][0].dimension.words()
            refuse(text, Refusal(Code.WRONG_UNIT, f"is {kinds[0]}, and the blades before it are {kinds[1]}"))
        elif known is None:
            sets.append((unit, sizes))
        elif sizes[0] <= known[-1]:
            twice = sizes[0] in known
            again = "is in the set already" if twice else "is thinner than the blade before it"
            code = Code.DEFINED_TWICE if twice else Code.OUT_OF_ORDER
            refuse(text, Refusal(code, again, "each blade once, the thinnest first"))
        elif len(known) + len(sizes) > MOST_BLADES:
            refuse(text, Refusal(Code.TOO_MANY, f"makes more than {MOST_BLADES} blades"))
        else:
            known += sizes
    return tuple(Blades(unit, tuple(sizes)) for unit, sizes in sets), sets[0][0].dimension if sets else NUMBER


def _run(text: Text) -> tuple[Unit, list[Decimal]] | Refusal:
    """The blades of one text and their unit: the first, every whole multiple of the step between, the last."""
    ends, by, step = text.partition(" by ")
    found = read_written(ends, unit=None, dimension=None)
    if isinstance(found, Refusal):
        return found
    if isinstance(found, Exact) and not by and found.U is None and found.value > 0 and found.unit.symbol:
        return found.unit, [found.value]
    if not isinstance(found, Bracket) or found.low is None or found.high is None or not by:
        return Refusal(Code.NOT_A_NUMBER, "is no blade, and no run of blades", WRITE)
    apart = read_written(step, unit=None, dimension=found.unit.dimension)
    if isinstance(apart, Refusal):
        return apart
    if not isinstance(apart, Exact) or apart.U is not None or apart.value <= 0 or found.low <= 0:
        return Refusal(Code.WRONG_RANGE, "is no run of blades: its first blade and its step are above nothing", WRITE)
    if (found.high - found.low) / apart.value > MOST_BLADES:
        return Refusal(Code.TOO_MANY, f"makes more than {MOST_BLADES} blades")
    return found.unit, [found.low, *_multiples(found.low, found.high, apart.value), found.high]


def _multiples(low: Decimal, high: Decimal, step: Decimal) -> Iterator[Decimal]:
    number = CONTEXT.divide(low, step).to_integral_value(ROUND_FLOOR) + 1
    while (size := CONTEXT.multiply(number, step)) < high:
        yield size
        number += 1


def whole_step(step: Decimal, marked: Unit, unit: Unit) -> Decimal:
    """The step of a scale (base units, marked in one unit) as it is in another unit, in that unit.

    In the other system it is the power of ten below: what reads half a thou there is made to read 0.01 mm here."""
    found = unit.difference_from_base(step)
    return found if of_one_system(marked, unit) or not found else Decimal(1).scaleb(found.adjusted())
