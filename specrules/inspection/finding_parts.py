"""The parts of a finding: limits, margins, inputs, what it rests on, and what each way or step would bring.

Numbers stand in the unit that the finding is shown in, those of an input in its own.
"""

from collections.abc import Iterator, Mapping
from datetime import date
from decimal import Decimal
from typing import NamedTuple

from specrules.document import Place
from specrules.formula import Station
from specrules.pack import Source
from specrules.quantity import Unit
from specrules.sheet import Suspect
from specrules.vocabulary import WORN, Reason, Verdict


class Earlier(NamedTuple):
    """What stood where a later set was read again, in the unit of the input. `moved`: by how much the reading that is
    judged is larger (negative: smaller); None where either is no one number. `state`: of the part, "" where not said.
    `places`: decimals that the two were written to.
    """

    value: Decimal | None
    low: Decimal | None
    high: Decimal | None
    moved: Decimal | None
    places: int
    text: str
    state: str
    taken: date | None
    place: Place


class Input(NamedTuple):
    """One reading or stated fact that a value stands on, in its own unit."""

    name: str
    station: Station
    position: Station
    value: Decimal | None
    low: Decimal | None
    high: Decimal | None
    U: Decimal | None
    unit: Unit
    text: str
    gauge: str
    place: Place
    confirmed: str = ""  # by whom the number was read again and found right
    state: str = ""  # of the part when it was read: as found, machined, as built
    taken: date | None = None
    earlier: tuple[Earlier, ...] = ()  # of a reading, the oldest first
    gauge_error: Decimal | None = None  # of a bracket: the permissible error of the gauge at that size, either way
    expanded: Decimal | None = None  # of a bracket: U of its middle, the bracket and the gauge together


class Limits(NamedTuple):
    """The limits in force at one station: of new work, of worn parts, and on which sides the wear limit decides."""

    least: Decimal | None = None
    aim: Decimal | None = None
    most: Decimal | None = None
    worn: tuple[str, ...] = ()  # sides on which the wear limit decides
    wear_least: Decimal | None = None
    wear_most: Decimal | None = None
    from_sheet: bool = False
    notes: tuple[Reason, ...] = ()
    sources: tuple[Source, ...] = ()

    def deciding(self, side: str) -> Decimal | None:
        """What a side is judged by: its wear limit where that decides."""
        if side in self.worn:
            return self.wear_least if side == "least" else self.wear_most
        return self.least if side == "least" else self.most

    def told(self) -> Iterator[tuple[str, Decimal]]:
        """The parts that there are to tell, by name: those of new work, then the wear limits that decide."""
        parts = {"least": self.least, "aim": self.aim, "most": self.most}
        parts |= {WORN[side]: self.deciding(side) for side in self.worn}
        yield from ((part, limit) for part, limit in parts.items() if limit is not None)


class SideMargin(NamedTuple):
    """How far inside a limit the value is (negative: beyond), and the expanded uncertainty of that."""

    side: str
    value: Decimal | None
    U: Decimal


class OtherWay(NamedTuple):
    """What another way to the same figure says, and whether the two agree (None: nothing says how sure either is).

    `surer`: it is the surer of the two, its U being the smaller; of two as sure the first in the pack's order is.
    """

    way: str
    value: Decimal
    U: Decimal
    agrees: bool | None
    surer: bool = False


class StepOutcome(NamedTuple):
    """A remedy's step, what the value would then be and the verdict it would have; None where it is not known.

    `none_of`: of what is sold under this title no size brings the value inside.
    """

    do: str
    value: Decimal | None
    verdict: Verdict | None
    side: str
    beyond: Decimal | None
    none_of: str = ""


class Beside(NamedTuple):
    """What one pack of the chain would have said by itself."""

    pack: str
    verdict: Verdict
    side: str
    beyond: Decimal | None
    limits: Limits


class RestsOn(NamedTuple):
    """What a verdict stands on."""

    found: int = 0  # readings there are
    asked: int = 0  # readings there would be
    gauges: tuple[str, ...] = ()
    assumed: tuple[Reason, ...] = ()
    needed_rules: tuple[str, ...] = ()
    unsigned: tuple[str, ...] = ()
    answered_no: tuple[str, ...] = ()  # of those unsigned: signed as not good
    signed_before: tuple[str, ...] = ()  # likewise: signed before work that undid it
    stale: tuple[Reason, ...] = ()
    suspect: tuple[Suspect, ...] = ()
    missing: tuple[Reason, ...] = ()
    group_statement: bool = False
    measured: tuple[str, ...] = ()  # names of what was read for it


class FigureOfGauge(NamedTuple):
    """What a gauge behind a value is taken to be able to do (`figure`: mpe, repeatability), in `unit`, and whose word
    that is."""

    gauge: str
    figure: str
    value: Decimal
    unit: Unit
    source: Source


class Alternative(NamedTuple):
    """Another way to take the readings behind a value, with U and the verdict that it would bring."""

    how: Reason
    U: Decimal
    verdict: Verdict

    @property
    def decides(self) -> bool:
        """Whether it would leave no doubt."""
        return self.verdict in (Verdict.IN_SPEC, Verdict.WORN, Verdict.OUT)


class About(NamedTuple):
    """What is the same of all findings of a rule."""

    title: str
    group: str
    pack: str
    unit: Unit
    hold_point: str
    because: Mapping[str, str]  # by word of side
    caution: str
    does_not_test: str
    source: Source
    place: Place
