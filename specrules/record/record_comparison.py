"""Two records held against each other, before and after the work or years apart: `record-comparison/1`.

Readings meet by measurand, station and position; findings by rule and station. What is in another unit is converted
exactly. U of a change is that of both values together, as if they had nothing in common: what the same gauge errs alike
in both cancels in truth, and no record says how much that is, so that a change is never called surer than it is.

A limit that is worked out from what was measured is another only beyond a tenth of U. A U of nought is no U: nothing is
known of that gauge, or nothing was asked of it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from decimal import Decimal
from typing import Annotated, Any, Literal, NamedTuple, TypeVar, get_args

from pydantic import Field

from specrules.quantity import CONTEXT, Unit, find_unit
from specrules.record.finding_record import FindingRecord, InputRecord, LimitsRecord
from specrules.record.inspection_record import BuildRecord, Record
from specrules.record.record_part import (
    AT,
    GROUP,
    UNIT,
    Amount,
    Pair,
    RecordPart,
    SafeText,
    Sha256,
    SomeText,
    StationRecord,
)
from specrules.vocabulary import LIMIT_PARTS, Verdict

ComparisonHeader = Literal["record-comparison/1"]
(COMPARISON_HEADER,) = get_args(ComparisonHeader)
LITTLE = Decimal("0.1")
"""A limit worked out from what was measured moves with it: so much of U of the value is no other limit."""

Count = Annotated[int, Field(ge=0)]
Kept = TypeVar("Kept", FindingRecord, InputRecord)


class ComparedRecord(BuildRecord):
    """One of the two."""

    verdict: SafeText = Field(description="held, open or clear")
    decision: SomeText = Field(description="the decision rule in force")
    packs: tuple[SafeText, ...] = Field(description="the packs, each with its version")
    seal: Sha256 | None = Field(description="the digest of the specification in force")


class ChangedLimit(RecordPart):
    """A limit that is another, in the unit of the newer finding; null: there is none."""

    part: SafeText = Field(description="which limit")
    old: Amount = Field(description="what it was")
    new: Amount = Field(description="what it is")


class ChangedFinding(RecordPart):
    """A rule at one station of which anything changed."""

    rule: SafeText = Field(description="the rule's name in its pack")
    title: SafeText = Field(description="what is judged, for a reader")
    group: SomeText = Field(description=GROUP)
    station: StationRecord = Field(description=AT)
    unit: SafeText = Field(description=UNIT + ", that of the newer record")
    verdicts: tuple[Verdict, Verdict] = Field(description="what it was, what it is")
    sides: tuple[SomeText, SomeText] = Field(description="the packs' words for the side beyond, such as tight")
    values: tuple[Amount, Amount] = Field(description="the values; null where one was no single number")
    between: tuple[Pair | None, Pair | None] = Field(
        description="what is sure of a value that is no single number, then and now; null: it is one, or not known"
    )
    each_U: tuple[Amount, Amount] = Field(description="the expanded uncertainty (k = 2) of each value")
    in_force: tuple[LimitsRecord, LimitsRecord] = Field(description="the limits, then and now; all in the same unit")
    moved: Amount = Field(description="by how much the value is larger, negative: smaller; null: not two numbers")
    U: Amount = Field(description="U of that, both values as if they had nothing in common; null: not known")
    beyond_U: bool | None = Field(description="whether it moved by more than that; null where either is not known")
    limits: tuple[ChangedLimit, ...] = Field(description="the limits that are others")


class ChangedReading(RecordPart):
    """A place that was read again."""

    name: SafeText = Field(description="what was measured")
    station: StationRecord = Field(description=AT)
    position: StationRecord = Field(description="the place on the part, by axis")
    texts: tuple[SafeText, SafeText] = Field(description="as written, then and now")
    unit: SafeText = Field(description=UNIT + ", that of the newer record")
    moved: Amount = Field(description="by how much it is larger, negative: smaller; null: not two numbers")
    taken: tuple[SomeText, SomeText] = Field(description="the days on which they were read")


class ChangedSignOff(RecordPart):
    """A sign-off that stands otherwise."""

    name: SafeText = Field(description="its name in its pack")
    question: SafeText = Field(description="what is answered yes or no")
    states: tuple[SafeText, SafeText] = Field(description="how it stood, how it stands")


class OnlyThere(RecordPart):
    """What one of the two alone has."""

    name: SafeText = Field(description="the rule, or what was measured")
    stations: tuple[StationRecord, ...] = Field(description="where")


class OnlyInOne(RecordPart):
    """What the older one alone has, and what the newer one alone has."""

    old: tuple[OnlyThere, ...] = Field(description="only in the older record")
    new: tuple[OnlyThere, ...] = Field(description="only in the newer record")


class Compared(RecordPart):
    """How much was compared."""

    findings: Count = Field(description="findings that both have")
    verdicts: Count = Field(description="those of another verdict")
    moved: Count = Field(description="those that moved by more than U")
    within_U: Count = Field(description="those that moved by no more than U")
    without_U: Count = Field(description="those that moved where nobody knows how sure the values are")
    limits: Count = Field(description="those of other limits")
    readings: Count = Field(description="readings that both have")
    read_again: Count = Field(description="those that were read again")


class RecordComparison(RecordPart):
    """All that changed from one record to the next."""

    specrules: ComparisonHeader = Field(description="what this file is")
    old: ComparedRecord = Field(description="the older one")
    new: ComparedRecord = Field(description="the newer one")
    counts: Compared = Field(description="how much was compared")
    findings: tuple[ChangedFinding, ...] = Field(description="the findings of which anything changed")
    readings: tuple[ChangedReading, ...] = Field(description="the places that were read again")
    sign_offs: tuple[ChangedSignOff, ...] = Field(description="the sign-offs that stand otherwise")
    findings_of_one: OnlyInOne = Field(description="findings that only one of the two has")
    readings_of_one: OnlyInOne = Field(description="readings that only one of the two has")


def compare(old: Record, new: Record) -> RecordComparison:
    """What changed from one record to the next."""
    findings, finding_only = _meet(old.findings, new.findings, lambda each: (each.rule, *each.station.items()))
    readings, reading_only = _meet(_readings(old), _readings(new), _place)
    changed = list(filter(None, (_finding(*pair) for pair in findings)))
    again = list(filter(None, (_reading(*pair) for pair in readings)))
    return RecordComparison.of(
        {
            "specrules": COMPARISON_HEADER,
            "old": _head(old),
            "new": _head(new),
            "counts": {
                "findings": len(findings),
                "verdicts": sum(each.verdicts[0] is not each.verdicts[1] for each in changed),
                "moved": sum(each.beyond_U is True for each in changed),
                "without_U": sum(each.beyond_U is None and bool(each.moved) for each in changed),
                "within_U": sum(each.beyond_U is False and bool(each.moved) for each in changed),
                "limits": sum(bool(each.limits) for each in changed),
                "readings": len(readings),
                "read_again": len(again),
            },
            "findings": changed,
            "readings": again,
            "sign_offs": list(_sign_offs(old, new)),
            "findings_of_one": finding_only,
            "readings_of_one": reading_only,
        }
    )


def _head(of: Record) -> dict[str, Any]:
    told = {name: getattr(of.sheet, name) for name in BuildRecord.model_fields}
    packs = [f"{pack.name} {pack.version}" for pack in of.packs]
    return {**told, "verdict": of.verdict, "decision": of.decision, "packs": packs, "seal": of.seal}


def _sign_offs(old: Record, new: Record) -> Iterator[dict[str, Any]]:
    states = {each.name: each.state for each in old.sign_offs}
    for each in new.sign_offs:
        if each.name in states and states[each.name] != each.state:
            yield {"name": each.name, "question": each.question, "states": (states[each.name], each.state)}


def _readings(of: Record) -> Iterable[InputRecord]:
    """All readings of a record; of an older one those that its findings stand on, each once."""
    if of.readings is not None:
        return of.readings
    inputs = (each for finding in of.findings for each in finding.inputs or ())
    return {_place(each): each for each in inputs}.values()


def _place(of: InputRecord) -> tuple[Any, ...]:
    return (of.name, *of.station.items(), *of.position.items())


def _meet(
    old: Iterable[Kept], new: Iterable[Kept], place: Callable[[Kept], tuple[Any, ...]]
) -> tuple[list[tuple[Kept, Kept]], dict[str, list[dict[str, Any]]]]:
    """What stands in the same place in both, in the order of the newer; and what only one of them has."""
    mine, theirs = ({place(each): each for each in of} for of in (old, new))
    both = [(mine[at], each) for at, each in theirs.items() if at in mine]
    alone = {"old": list(_alone(mine, theirs)), "new": list(_alone(theirs, mine))}
    return both, alone


def _alone(these: Mapping[Any, Kept], others: Mapping[Any, Kept]) -> Iterator[dict[str, Any]]:
    by_name: dict[str, list[StationRecord]] = {}
    for at, each in these.items():
        if at not in others:
            name = each.rule if isinstance(each, FindingRecord) else each.name
            stations = by_name.setdefault(name, [])
            if each.station not in stations:
                stations.append(each.station)
    yield from ({"name": name, "stations": stations} for name, stations in by_name.items())


def _finding(old: FindingRecord, new: FindingRecord) -> ChangedFinding | None:
    """What changed of a finding; None where nothing did."""
    into = _into(old.unit, new.unit)
    was, is_ = into.number(old.value), _decimal(new.value)
    moved = is_ - was if was is not None and is_ is not None else None
    U = _together(into.amount(old.U), _decimal(new.U)) or None  # of a value that nothing is known of it is nought
    limits = tuple(_limits(old.limits, new.limits, into, _decimal(new.U)))
    if old.verdict is new.verdict and not moved and not limits and (was is None) is (is_ is None):
        return None
    return ChangedFinding.of(
        {
            "rule": new.rule,
            "title": new.title,
            "group": new.group,
            "station": new.station,
            "unit": new.unit,
            "verdicts": (old.verdict, new.verdict),
            "sides": (old.side, new.side),
            "values": (was, is_),
            "between": (old.between and tuple(map(into.number, old.between)), new.between),
            "each_U": (into.amount(old.U), new.U),
            "in_force": (_in_unit(old.limits, into), new.limits),
            "moved": moved,
            "U": U,
            "beyond_U": None if moved is None or U is None else abs(moved) > U,
            "limits": limits,
        }
    )


def _reading(old: InputRecord, new: InputRecord) -> ChangedReading | None:
    """What changed of a reading; None where nothing says that it was taken again."""
    known = ((old.taken, new.taken), (old.gauge, new.gauge), (old.state, new.state))
    told = any(then != now for then, now in known if then and now)
    if (old.text, old.unit) == (new.text, new.unit) and not told:
        return None
    was, is_ = _into(old.unit, new.unit).number(_single(old)), _decimal(_single(new))
    return ChangedReading.of(
        {
            "name": new.name,
            "station": new.station,
            "position": new.position,
            "texts": (old.text, new.text),
            "unit": new.unit,
            "moved": is_ - was if was is not None and is_ is not None else None,
            "taken": (old.taken, new.taken),
        }
    )


def _single(of: InputRecord) -> float | None:
    """A reading as one number, where it is one."""
    return of.value if of.low is None and of.high is None else None


def _in_unit(limits: LimitsRecord, into: _Into) -> dict[str, Any]:
    given = limits.model_dump()
    names = [part.replace(" ", "_") for part in LIMIT_PARTS]
    return {**given, **{name: into.number(given[name]) for name in names}}


def _limits(old: LimitsRecord, new: LimitsRecord, into: _Into, U: Decimal | None) -> Iterator[dict[str, Any]]:
    for part in LIMIT_PARTS:
        name = part.replace(" ", "_")
        was, is_ = into.number(getattr(old, name)), _decimal(getattr(new, name))
        if was is None and is_ is None:
            continue
        if was is None or is_ is None or abs(is_ - was) > LITTLE * (U or 0):
            yield {"part": part, "old": was, "new": is_}


class _Into(NamedTuple):
    """Numbers of one unit in another, exactly; None where nobody knows how."""

    unit: Unit | None
    other: Unit | None
    alike: bool

    def number(self, value: float | None) -> Decimal | None:
        """A number of the one unit in the other."""
        return self._put(value, lambda number, one, other: other.from_base(one.to_base(number)))

    def amount(self, value: float | None) -> Decimal | None:
        """A difference of two such numbers."""
        return self._put(value, lambda size, one, other: other.difference_from_base(one.difference_to_base(size)))

    def _put(self, value: float | None, put: Callable[[Decimal, Unit, Unit], Decimal]) -> Decimal | None:
        number = _decimal(value)
        if number is None or self.alike:
            return number
        if self.unit is None or self.other is None or self.unit.dimension != self.other.dimension:
            return None
        return put(number, self.unit, self.other)


def _into(old: str, new: str) -> _Into:
    units = [each if isinstance(each := find_unit(symbol), Unit) else None for symbol in (old, new)]
    return _Into(units[0], units[1], old == new)


def _decimal(value: float | None) -> Decimal | None:
    return None if value is None else Decimal(repr(value))


def _together(one: Decimal | None, other: Decimal | None) -> Decimal | None:
    """U of a difference of two values that have nothing in common."""
    return None if one is None or other is None else CONTEXT.sqrt(one * one + other * other)
