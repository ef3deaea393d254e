"""The parts of a build sheet read against a specification: frozen, corrected to base units, every line known."""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from typing import NamedTuple

from specrules.document import Place, Text
from specrules.formula.axis_kinds import kind_axis
from specrules.pack import Capability, Described, LimitLine
from specrules.quantity import Exact, Unit
from specrules.vocabulary import Why


class Reading(NamedTuple):
    """One measured number, or a bracket, as corrected; all lengths and the like in base units.

    A number has low == high == value; a two-sided bracket has value in the middle; a one-sided one has None for the
    open side and value None. What a gauge reads that goes or does not is such a bracket, `text` the figure as written.
    `position` is None where one figure was given for the whole station. `statement` is the
    same number for all readings that one written figure stands for (a bare figure over positions, `others`).
    """

    name: str
    station: tuple[str, ...]  # labels on the measurand's `at` axes
    position: tuple[str, ...] | None  # labels on its `positions` axes
    value: Decimal | None
    low: Decimal | None
    high: Decimal | None
    U: Decimal | None  # stated expanded uncertainty (k = 2), or None
    place_value: Decimal  # size of the last written place
    unit: Unit
    text: str
    repeats: int
    gauge: str
    taken: date | None
    after: tuple[str, ...]
    because: str
    squares: Decimal  # of the repeats about their mean, summed, in base units squared
    statement: int
    part_at: Exact | None  # the temperature of the part, where it is stated
    gauge_at: Exact | None  # and of the gauge; None: that of the part
    group: bool  # written once for several places, stations or positions
    confirmed: str  # by whom the number was read again and found right; "" by nobody
    place: Place
    remark: Why | None = None  # what its gauge says against the figure as it is written
    figure: Decimal | None = None  # the one figure that was written, where the gauge makes a bracket of it
    state: str = ""  # of the part: one of READING_STATES, "" where the set does not say it
    bare: bool = False  # written without a unit, in a set that names none
    pictures: tuple[Text, ...] = ()  # files that show it, each where it is named

    def as_written(self) -> "Reading":
        """The reading as the one figure that was written, for what hunts slips of the hand."""
        figure = self.figure
        return self if figure is None else self._replace(value=figure, low=figure, high=figure)


class FactValue(NamedTuple):
    """A stated fact. value: int (count), Decimal (number; quantity in base units), str (choice, yes/no, text, labels),
    or groups as (label, members) pairs. `station` is () where one value was stated for all."""

    name: str
    station: tuple[str, ...]
    value: int | Decimal | str | tuple[tuple[str, tuple[str, ...]], ...]
    U: Decimal | None
    text: str
    place: Place
    confirmed: str = ""  # by whom it was looked up again and found right


class Gauge(NamedTuple):
    """A gauge of the sheet. `zero` is what it reads too much, in base units, to be subtracted from its readings."""

    name: str
    gauge_class: str
    zero: Decimal | None
    set_with: str
    capability: Capability  # what the sheet says of it; its class says the rest
    checked: date | None
    place: Place
    serial: str = ""
    certificate: str = ""
    due: date | None = None


class Work(NamedTuple):
    """Work that was done: an operation of the specification, on a day, at some stations (empty: everywhere)."""

    operation: str
    on: date | None
    at: Mapping[str, tuple[str, ...]]
    place: Place
    restated: tuple[str, ...] = ()  # facts that it makes stale and that the sheet states as they are since


class Signature(NamedTuple):
    """A sign-off given: yes or no, by whom, when, at which stations (empty: everywhere)."""

    name: str
    answer: bool
    by: str
    on: date | None
    at: Mapping[str, tuple[str, ...]]
    place: Place
    after: tuple[str, ...] = ()  # operations of the same day that it was given after
    pictures: tuple[Text, ...] = ()


class Depicted(NamedTuple):
    """What a picture shows: what was read, or signed, at the labels of some axes (none: everywhere). `replaced`: a
    reading that another one has replaced."""

    section: str  # readings or signed
    name: str
    at: Mapping[str, tuple[str, ...]]
    replaced: bool = False


class PictureFile(NamedTuple):
    """What a picture's file is: the hash of its bytes and how many there are, its kind of data, its size in pixels."""

    sha256: str
    size: int
    media: str
    wide: int
    high: int


class Picture(NamedTuple):
    """A picture that a sheet names, in its folder or below it. `found`: what lies there; None where none could be
    taken, or nobody has looked."""

    file: str
    shows: tuple[Depicted, ...]
    place: Place
    found: PictureFile | None = None


class Concession(NamedTuple):
    """A named person's written permission to use a part that is out of spec."""

    rule: str
    at: Mapping[str, tuple[str, ...]]
    reason: str
    by: str
    on: date | None
    place: Place


class Sheet(NamedTuple):
    """One measured build. `readings` governs; `history` holds what a later set replaced."""

    file: str
    sha256: str
    title: str
    build: Mapping[str, str]  # job, serial, customer, builder, date ... as written
    packs: tuple[str, ...]
    unit: Unit | None
    decision: str
    labels: Mapping[str, tuple[str, ...]]  # every axis's labels for this build
    groups: Mapping[str, Mapping[str, str]]  # group axis -> member label -> group label
    facts: Mapping[str, tuple[FactValue, ...]]
    parts: Mapping[str, Mapping[tuple[str, ...], str]]  # what it names -> station, () for all of it -> state
    assumed: Mapping[str, str]  # counts taken from the readings: fact -> what was taken
    gauges: Mapping[str, Gauge]
    readings: tuple[Reading, ...]
    history: tuple[Reading, ...]
    limits: Mapping[str, tuple[LimitLine, ...]]
    work_done: tuple[Work, ...]
    signed: Mapping[str, tuple[Signature, ...]]
    concessions: tuple[Concession, ...]
    beside: tuple[tuple[str, str], ...] = ()  # files read besides it and its packs, each with the hash of its bytes
    scope: tuple[str, ...] = ()  # headings of rules that the job covers; none: all of them
    until: str = ""  # the hold point that it goes up to; "": the last
    pictures: tuple[Picture, ...] = ()
    described: Described = Described()  # what it says of the whole thing, by which parts of it are absent

    def kind(self, axis: str, label: str) -> str:
        """The kind of a label on an axis of kinds, which others are alike to; any other label itself."""
        return self.groups.get(kind_axis(axis), {}).get(label, label)
