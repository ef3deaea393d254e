"""A report: what came of an inspection, as frozen data that can be copied, compared and sent anywhere.

Every number stands in the unit that it is shown in; differences (U, margins, amounts beyond a limit) likewise.

Nothing judged is no go, whatever is signed. What a hold point later than the one asked for waits for does not count.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import NamedTuple, overload

from specrules.document import Place
from specrules.formula import Station
from specrules.inspection.finding_parts import About, Limits, OtherWay, RestsOn
from specrules.inspection.summary import At, Row, at_station, head_of, line_of, of_rule, page_of, rows_of
from specrules.pack import PackHead, Relaxation, Source
from specrules.quantity import Unit
from specrules.sheet import Suspect
from specrules.sheet.sheet_parts import Picture
from specrules.vocabulary import Reason, Verdict


class Options(NamedTuple):
    """What whoever asks for an inspection may choose. Only the exit status depends on held_by, sure and at_least."""

    decision: str = ""  # "" : as the sheet says, then the packs, then simple
    until: str = ""  # a hold point; "" : the last
    held_by: str = "minor"
    sure: bool = False  # just in holds too
    at_least: int = 0  # rules to be judged, at one station or more; one is always asked for
    add: tuple[str, ...] = ()  # packs over those that the sheet names: kept, the specification has them already


class Finding(NamedTuple):
    """One rule at one station.

    `station` maps axes to labels, both as text (`{"hole": "2"}`). Every number is an exact decimal in `unit`. `value`
    is None where no single number is known; `low` and `high` are then what is sure of it, None at an open end. `U` is
    the expanded uncertainty (k = 2) of the value. `beyond` is how far it is past its limit, at least, and
    `beyond_at_most` at most. `limits.sources` and `source` say where the limits come from.
    """

    rule: str
    about: About
    station: Station
    verdict: Verdict
    would_be: Verdict | None
    side: str  # the pack's word for it: tight, loose, low, high
    limit_side: str  # least, most or ""
    value: Decimal | None
    low: Decimal | None  # what is sure of the value where no single number is
    high: Decimal | None
    U: Decimal | None
    limits: Limits
    beyond: Decimal | None
    beyond_at_most: Decimal | None
    way: str
    other_ways: tuple[OtherWay, ...]
    formula: str
    rests_on: RestsOn
    importance: str
    notes: tuple[Reason, ...]
    places: int  # decimals that the readings were written to
    conceded: bool = False

    def __repr__(self) -> str:
        return line_of(self)

    @property
    def title(self) -> str:
        """The rule's title."""
        return self.about.title

    @property
    def group(self) -> str:
        """The heading that the rule stands under."""
        return self.about.group

    @property
    def pack(self) -> str:
        """The pack that wrote the rule, or amended it last."""
        return self.about.pack

    @property
    def unit(self) -> Unit:
        """The unit of every number in the finding."""
        return self.about.unit

    @property
    def hold_point(self) -> str:
        """The hold point that waits for the rule."""
        return self.about.hold_point

    @property
    def because(self) -> str:
        """Why the side that it is beyond matters."""
        return self.about.because.get(self.side, "")

    @property
    def caution(self) -> str:
        """The usual caution of the work."""
        return self.about.caution

    @property
    def does_not_test(self) -> str:
        """What the rule says nothing of."""
        return self.about.does_not_test

    @property
    def source(self) -> Source:
        """Where the limits come from."""
        return self.limits.sources[-1] if self.limits.from_sheet and self.limits.sources else self.about.source

    @property
    def place(self) -> Place:
        """Where the rule is written."""
        return self.about.place


class SignOffState(NamedTuple):
    """A sign-off at its stations: signed, missing, answered no, stale, or not applicable."""

    name: str
    question: str
    group: str
    hold_point: str
    importance: str
    state: str
    by: str
    on: str
    missing_at: tuple[Station, ...]
    caution: str
    because: str


class FigureValue(NamedTuple):
    """A derived quantity at a station; value None where it is not known."""

    name: str
    title: str
    group: str
    station: Station
    value: Decimal | None
    U: Decimal | None
    unit: Unit
    way: str
    places: int
    judged: bool  # a rule of the specification judges just this
    in_doubt: bool  # it stands on a reading that looks like a slip


class Extent(NamedTuple):
    """What a verdict on the whole sheet stands on, as far as `until`.

    `judged`: rules with a verdict on the part at one station or more; `apply`: rules that apply at one or more, or may;
    `readings`: readings behind what was judged; `entered`: readings that the sheet has.
    """

    judged: int
    apply: int
    readings: int
    entered: int


class WantedFact(NamedTuple):
    """A fact that figures hold by and that the sheet does not state, with the labels that it may have."""

    name: str
    title: str
    choices: tuple[str, ...]


class WorkDone(NamedTuple):
    """Work that was done: an operation of the packs, on a day, at the labels of some axes (none: everywhere)."""

    operation: str
    title: str
    on: str
    at: Mapping[str, tuple[str, ...]]
    place: Place


class ConcessionUse(NamedTuple):
    """A concession of the sheet, the stations at which something needed it, and those at which something would if what
    is not proven there were so (none of either: nothing needs it)."""

    rule: str
    reason: str
    by: str
    used_at: tuple[Station, ...]
    waits_at: tuple[Station, ...]
    place: Place


@dataclass(frozen=True, slots=True)
class Report:
    """All that came of one sheet against one specification: frozen data that can be compared, copied and pickled.

    A report is a collection of its findings, in the order of the work: `len(report)`, `for finding in report`, and

        report["fit"]                  the findings of a rule, a tuple
        report["fit", {"hole": 2}]     the finding at one station; {} where the rule has no axis

    A label may be a whole number. KeyError says what to write instead. Every number stands in the unit shown,
    `finding.unit`. `counts` is how many findings have each verdict; `held` are those that stop the job, `open` those
    that are not settled, `unsigned` the sign-offs that are missing, stale or answered no, and `evidence` how much was
    judged on how much, all as far as `until`. `ledger` is all by which a pack asks less than those below it, or the
    sheet than its packs; `seal` the digest of the specification in force, words left out. `pictures` are those that the
    sheet names, with what each shows and the digest of its file.
    """

    file: str
    sha256: str
    title: str
    build: Mapping[str, str]
    packs: tuple[PackHead, ...]
    groups: tuple[str, ...]
    hold_points: tuple[str, ...]
    decision: str
    until: str
    options: Options
    findings: tuple[Finding, ...]
    sign_offs: tuple[SignOffState, ...]
    figures: tuple[FigureValue, ...]
    suspects: tuple[Suspect, ...]
    ledger: tuple[Relaxation, ...]
    concessions: tuple[ConcessionUse, ...]
    assumed: Mapping[str, str]
    remarks: tuple[Reason, ...]
    counts: Mapping[Verdict, int]
    evidence: Extent
    held: tuple[Finding, ...]
    open: tuple[Finding, ...]
    unsigned: tuple[SignOffState, ...]
    seal: str
    unstated: tuple[WantedFact, ...] = ()  # what figures hold by, where some check waits for it
    waiting: int = 0  # rules that wait for it
    scope: tuple[str, ...] = ()  # the headings that the sheet says its job covers; none: all of them
    sheet_until: str = ""  # the hold point that the sheet asks for; "" : the last
    figures_hold_by: Mapping[str, str] = field(default_factory=dict)  # what is stated of the facts that figures hold by
    beside: tuple[tuple[str, str], ...] = ()  # files read besides the sheet and its packs, each with its hash
    work_done: tuple[WorkDone, ...] = ()
    lies: Mapping[str, str] = field(default_factory=dict)  # axis -> how it lies on the part, for drawings
    pictures: tuple[Picture, ...] = ()

    @property
    def verdict(self) -> str:
        """held: something stops the job; open: something is not settled, or too little was judged; clear: go on."""
        refused = any(state.state == "answered no" for state in self.unsigned)
        if self.held or refused:
            return "held"
        return "clear" if self.enough and not (self.open or self.unsigned) else "open"

    @property
    def enough(self) -> bool:
        """Whether so many rules were judged as were asked for, and one at the least: nothing judged is no go."""
        return self.evidence.judged >= max(1, self.options.at_least)

    @overload
    def __getitem__(self, key: str) -> tuple[Finding, ...]: ...
    @overload
    def __getitem__(self, key: tuple[str, At]) -> Finding: ...
    def __getitem__(self, key: str | tuple[str, At]) -> Finding | tuple[Finding, ...]:
        if isinstance(key, str):
            return of_rule(self.findings, key)
        rule, at = key
        return at_station(of_rule(self.findings, rule), rule, at)

    def __iter__(self) -> Iterator[Finding]:
        return iter(self.findings)

    def __len__(self) -> int:
        return len(self.findings)

    def __repr__(self) -> str:
        return head_of(self)

    def _repr_html_(self) -> str:
        """A table of what waits or is beyond, for a notebook."""
        return page_of(self)

    def rows(self) -> list[Row]:
        """A named tuple for each finding, all of one class, for a data frame or a CSV file; `_asdict()` for JSON.

        Texts, whole numbers, yes/no, and floats: numbers stand in the unit of the row's `unit`, rounded from the exact
        decimals of the finding. None where there is nothing to say. Each axis has a column, `at_` and its name; its
        labels are texts. `U` is the expanded uncertainty (k = 2). `missing` is the codes of what is missing, with
        names and labels, "; " between them.
        """
        return rows_of(self.findings)
