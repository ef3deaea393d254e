"""A specification, made of packs: frozen, checked, every formula compiled. Nothing here reads files."""

import re
from collections.abc import Iterator, Mapping
from decimal import Decimal
from types import MappingProxyType
from typing import NamedTuple

from specrules.document import Fields, Place, Text
from specrules.formula import Axis, Formula, LookupTable, Scope, Station
from specrules.pack.blades import Blades
from specrules.pack.capability import Capability
from specrules.pack.holding_parts import Validity
from specrules.pack.lesson_parts import Exercise, Lesson
from specrules.quantity import Bracket, Exact, Unit
from specrules.vocabulary import Relaxed

PLAIN_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]*")
"""What a pack may be called: a word that is no path."""


class Source(NamedTuple):
    """Where a figure comes from. kind: published, maker, house, common practice, from memory."""

    kind: str
    note: str = ""
    document: str = ""
    edition: str = ""
    page: str = ""
    clause: str = ""


class Fact(NamedTuple):
    """A stated, not measured, property. `assumed` is what stands where nobody states it ('' : it must be stated)."""

    name: str
    kind: str  # one of FACT_KINDS
    title: str
    at: tuple[str, ...]
    choices: tuple[str, ...]  # the labels that there may be, where it says which of them there are
    unit: Unit | None
    assumed: str
    assumed_figure: Exact | None  # the same as a figure, where it is one
    place: Place
    usual: Bracket | None = None
    question: str = ""  # how it is asked for, in plain words
    why: str = ""  # why it matters


class PackTable(NamedTuple):
    """A table, as the packs leave it, and where its figures come from."""

    data: LookupTable
    title: str
    pack: str  # that wrote it, or changed it last
    source: Source
    place: Place


class Sold(NamedTuple):
    """Something that is sold in sizes, in one system of units or in both."""

    name: str
    title: str
    sets: tuple[Blades, ...]
    source: Source
    place: Place


class GaugeSlip(NamedTuple):
    """A step by which a kind of gauge is easily misread: what that is called, and the length, as it is written."""

    name: str
    by: Decimal  # base units
    unit: Unit


class NewSize(NamedTuple):
    """The fact that states the size of a part when new, and whether wear makes it larger, or else smaller."""

    fact: str
    grows: bool


class GaugeClass(NamedTuple):
    """What a kind of gauge can do, as its pack says. `must_not_decide`: names of rules, or what it cannot see."""

    name: str
    capability: Capability
    must_not_decide: tuple[str, ...]
    source: Source
    place: Place
    slips: tuple[GaugeSlip, ...] = ()
    days_between_checks: int | None = None
    sources: Mapping[str, Source] = MappingProxyType({})  # of single figures, where that is not `source`
    by_size_sources: tuple[Source | None, ...] = ()  # of each range of sizes

    def source_of(self, figure: str, size: Decimal) -> Source:
        """Where a figure (mpe, repeatability ...) of readings of one size (base units) comes from."""
        ranges = zip(self.capability.by_size, self.by_size_sources, strict=False)
        found = next((source for each, source in ranges if each.holds(size) and each.says(figure)), None)
        return found or self.sources.get(figure, self.source)


class Measurand(NamedTuple):
    """A quantity that is measured: at stations (axes `at`), at positions on the part there (axes `positions`)."""

    name: str
    title: str
    group: str
    at: tuple[str, ...]
    positions: tuple[str, ...]
    unit: Unit
    repeats: int
    usual: Bracket | None
    gauge_classes: tuple[str, ...]
    how: str
    may_be_negative: Formula | None  # None: never
    expands: Formula | None  # by how much for each degree; None: nothing says it
    place: Place
    new: NewSize | None = None

    @property
    def axes(self) -> tuple[str, ...]:
        """Stations first, then positions: the order in which readings are keyed."""
        return self.at + self.positions


class BuildPart(NamedTuple):
    """A part of the thing that is built. `at`: there is one at each of their labels."""

    name: str
    title: str
    at: tuple[str, ...]
    measurands: tuple[str, ...]
    place: Place


class Way(NamedTuple):
    """One way to a figure."""

    name: str
    formula: Formula
    when: Formula | None
    needs: tuple[str, ...]
    gauge_classes: tuple[str, ...]
    place: Place


class Figure(NamedTuple):
    """A derived quantity and the ways to it, most trusted first."""

    name: str
    title: str
    group: str
    each: tuple[str, ...]
    unit: Unit
    ways: tuple[Way, ...]
    may_be_negative: Formula | None
    place: Place


class SignOff(NamedTuple):
    """A check answered yes or no by a named person on a date."""

    name: str
    question: str
    group: str
    at: tuple[str, ...]
    hold_point: str
    importance: Formula
    applies_when: Formula | None
    because: str
    caution: str
    source: Source
    place: Place


class LimitLine(NamedTuple):
    """One line of limits: what it sets or shifts, when it counts, and for what its figures hold.

    `holds` has a key for each part that it sets, and `shift`, where their author states a validity. `below` is the line
    as the packs beneath have it, which stands in its place where `own`, that of the last one's own figures, fails.
    `written` says where a part stands that stands in another row, or another file, than the line begins in.
    """

    name: str
    when: Formula | None
    sets: Mapping[str, Formula]  # keys of LIMIT_PARTS
    shift: Formula | None
    from_the_maker: bool
    note: str
    source: Source | None
    pack: str  # the pack, or the sheet's file, that wrote it last
    place: Place
    clears: tuple[str, ...] = ()  # parts of the limits so far that it takes away
    holds: Mapping[str, Validity] = MappingProxyType({})
    own: Validity | None = None
    below: "LimitLine | None" = None
    written: Mapping[str, Place] = MappingProxyType({})

    def validities(self) -> Iterator[Validity]:
        """Every validity that reading it may come to, those of the line below it among them."""
        own = () if self.own is None else (self.own,)
        yield from {id(each): each for each in (*self.holds.values(), *own)}.values()
        if self.below is not None:
            yield from self.below.validities()

    def formulas(self) -> Iterator[Formula]:
        """Every formula that reading it may come to, those of what it holds for and of the line below it among them."""
        asked = (key.asked for validity in self.validities() for key in validity.keys)
        written = (self.when, self.shift, *self.sets.values())
        yield from (each for each in (*written, *asked) if each is not None)
        if self.below is not None:
            yield from self.below.formulas()


class HouseMargin(NamedTuple):
    """How far a pack draws the limits of a rule in, after all lines: base units, and as it is written."""

    pack: str
    inward: Decimal
    text: str
    makers_too: bool
    place: Place


class Step(NamedTuple):
    """One remedy and what it does to the judged value. `in_metric`: the same among millimetres, where it is said."""

    do: str
    moves: Formula | None
    one_of: str = ""  # what is sold, of which the size that fits is told in it
    in_metric: Formula | None = None


class Expected(NamedTuple):
    """What must come out at one station: texts as written, "" where the example does not say."""

    at: Mapping[str, str]
    value: Text
    verdict: Text
    side: Text
    beyond: Text
    place: Place


class Worked(NamedTuple):
    """A worked example: a fragment of a sheet (its placed tree) and what must come out.

    It is run in the specification up to `pack`; sign-offs count as given but those that `unsigned` names. `compact`:
    the value of each expectation is not worked out from readings but judged as it stands there.
    """

    given: Fields
    expect: tuple[Expected, ...]
    unsigned: tuple[str, ...]
    note: str
    pack: str
    place: Place
    compact: bool = False


class Rule(NamedTuple):
    """A figure or formula judged against limit lines, as one pack of the specification leaves it."""

    name: str
    title: str
    group: str
    pack: str  # the pack that wrote it, or amended it last
    each: tuple[str, ...]
    formula: Formula
    unit: Unit
    lines: tuple[LimitLine, ...]
    limits_wanted: bool  # False: `limits: none`, shown and never judged
    from_the_maker: bool
    words: tuple[str, str]  # under the least, over the most
    importance: Mapping[str, Formula]  # by word of side
    hold_point: str
    applies_when: Formula | None
    needs: tuple[str, ...]
    because: Mapping[str, str]
    remedy: Mapping[str, tuple[Step, ...]]
    otherwise: str
    caution: str
    does_not_test: str
    note: str
    source: Source
    may_be_negative: Formula | None
    worked: tuple[Worked, ...]
    reasons: tuple[tuple[str, str], ...]  # (pack, reason) of each amendment
    place: Place
    margins: tuple[HouseMargin, ...] = ()


class RuleChain(NamedTuple):
    """One rule as each pack of its chain would have it, weakest first. `governing` are those that decide: one, or one
    for each of several packs, of which none builds on another."""

    name: str
    versions: tuple[Rule, ...]
    governing: tuple[Rule, ...]


class Relaxation(NamedTuple):
    """One entry of the ledger: something by which a pack asks less than a pack below it, or the sheet than its packs.

    `part` is the key or the limit that differs, "" for the whole thing; `was` and `now` are as they are written, "" for
    nothing. Limits that were worked out stand in `limits` instead, as (was, now) in `unit`: one pair for each of the
    `stations`, or for each size and setting that they were tried at.
    """

    code: Relaxed
    section: str  # of the pack's file: rules, sign-offs, gauge classes ...; gauges or decision of a sheet
    name: str
    title: str
    part: str
    was: str
    now: str
    pack: str  # that asks less; `SHEET` or `ASKED` where no pack does
    below: str  # the pack that asks more
    reason: str
    place: Place
    stations: tuple[Station, ...] = ()
    limits: tuple[tuple[Decimal | None, Decimal | None], ...] = ()
    unit: Unit | None = None


SHEET = "this sheet"
ASKED = "whoever asked"


class Operation(NamedTuple):
    """Work that makes earlier readings, facts and sign-offs stale."""

    name: str
    title: str
    makes_stale: tuple[str, ...]
    place: Place


class PackHead(NamedTuple):
    """What a pack says of itself."""

    name: str
    version: str
    title: str
    licence: str
    caution: str
    unit: Unit | None  # what a bare number of its own examples means
    builds_on: tuple[str, ...]
    sets: Mapping[str, str]
    decision: str
    sha256: str
    file: str
    author: str = ""
    changes: Mapping[str, tuple[str, ...]] = MappingProxyType({})
    grounds: tuple[str, ...] = ()  # what it builds on as it is written, with the versions that it takes


class Specification(NamedTuple):
    """The packs that apply, weakest first, merged and compiled. Nothing in it depends on a sheet."""

    packs: tuple[PackHead, ...]
    scope: Scope
    axes: Mapping[str, Axis]
    facts: Mapping[str, Fact]
    gauge_classes: Mapping[str, GaugeClass]
    measurands: Mapping[str, Measurand]
    figures: Mapping[str, Figure]
    sign_offs: Mapping[str, SignOff]
    hold_points: tuple[str, ...]
    rules: Mapping[str, RuleChain]
    operations: Mapping[str, Operation]
    parts: Mapping[str, BuildPart]
    sets: Mapping[str, str]  # facts that using these packs implies
    wear_when: Formula | None
    gauges_expand: Formula | None  # by how much a gauge expands for each degree
    assumed_temperature: Exact | None  # of parts and gauges where nobody states one; U: the range either way
    decision: str
    unit: Unit | None  # what a bare length means in the packs' own fragments
    groups: tuple[str, ...] = ()  # headings, in the order of the work
    figures_hold_by: tuple[str, ...] = ()  # facts of which every figure has to say for which of their labels it holds
    examples_assume: Mapping[str, str] = MappingProxyType({})  # facts of worked examples and exercises that state none
    lessons: Mapping[str, Lesson] = MappingProxyType({})
    exercises: Mapping[str, Exercise] = MappingProxyType({})
    ledger: tuple[Relaxation, ...] = ()  # what packs write; limits and conditions of rules are held where they count
    exists_when: Mapping[str, Mapping[str, Formula]] = MappingProxyType({})
    """By section (axes, facts, measurands, figures, groups) and name: the condition without which there is none."""
    seal: str = ""  # the digest of all that is judged by, see `sealing`
    tables: Mapping[str, PackTable] = MappingProxyType({})
    sold: Mapping[str, Sold] = MappingProxyType({})
    axes_amended: Mapping[str, tuple[tuple[str, str], ...]] = MappingProxyType({})  # (pack, reason) of each amendment
    labels_borne: int = 0  # how many labels every counted axis may have, for sure, within the work budget
    lengths_in: Unit | None = None  # of the sheet in whose units it is told, see `in_units`
    written: "Specification | None" = None  # as its packs write it, where it is told in the units of a sheet

    def head(self, pack: str) -> PackHead:
        """What one of its packs says of itself. Raises StopIteration for a pack that it has not."""
        return next(each for each in self.packs if each.name == pack)
