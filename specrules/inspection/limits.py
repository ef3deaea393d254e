"""The limits in force at one station: the lines of a rule read in order, then those of the sheet, which are final.

The margins of packs count after all lines of all packs. One is a change of its pack like an amendment, so that it has a
version of the rule, a reason and a place in the ledger. It adds to those of other packs; it settles nothing between
them. `none` as a limit clears what stood. The sheet's own limits leave none of a pack's standing, its wear limits
neither.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Protocol

from specrules.evaluate import UNKNOWN, Environment, Value, add, evaluate, exactly, is_true
from specrules.evaluate.evaluator import evaluate_operator
from specrules.formula import Formula, Station
from specrules.formula.operators import FactLabel, StationLabel, all_operators
from specrules.inspection.finding_parts import Limits
from specrules.pack import LimitLine, Rule, Source, Validity
from specrules.quantity import is_zero
from specrules.vocabulary import LIMIT_PARTS, SIDES, WORN, Reason, Why

SHIFTED = ("least", "aim", "most")
CROSSED = Reason(Why.LIMITS_CROSS)
AIM_OUTSIDE = Reason(Why.AIM_OUTSIDE)


class LimitEnvironment(Environment, Protocol):
    """What limit lines are read against: they may name the limits so far."""

    so_far: Mapping[str, Value | None]

    def speaks(self, validity: Validity, station: Station) -> bool | None:
        """Whether figures hold at a station; None where that is not known."""

    @property
    def speaking(self) -> Failing:
        """What tells why they do not."""


class Failing(Protocol):
    """Tells why figures do not hold."""

    def failing(self, validity: Validity, station: Station) -> tuple[Reason, ...]:
        """For each thing by which they do not hold: what it is here, and what they hold for."""


@dataclass(slots=True)
class ResolvedLimits:
    """The limits as they stand while the lines are read. `lacks`: why there is none to judge by; `counted`: lines.

    `silent`: the parts of which there is no figure here, and why; no reason where it is not known whether there is one.
    """

    sets: dict[str, Value | None] = field(default_factory=dict)
    silent: dict[str, tuple[Reason, ...]] = field(default_factory=dict)
    lacks: Reason | None = None
    counted: int = 0
    from_sheet: bool = False
    notes: list[Reason] = field(default_factory=list)
    sources: list[Source] = field(default_factory=list)

    def clear(self) -> None:
        self.sets.clear()
        self.silent.clear()
        self.notes.clear()
        self.sources.clear()

    def stands(self, part: str) -> bool:
        """Whether something is said of a part, a figure or that there is none here."""
        return self.sets.get(part) is not None or part in self.silent

    def put(self, sets: Mapping[str, Value | None], silent: Mapping[str, tuple[Reason, ...] | None]) -> None:
        """Set some parts afresh; those that are no figure are `None`, and it is said why."""
        self.sets.update(sets)
        for part, why in silent.items():
            self.silent.pop(part, None)
            if why is not None:
                self.silent[part] = why


def limits_at(rule: Rule, station: Station, environment: LimitEnvironment) -> ResolvedLimits:
    """Read the rule's lines, as packs have them, at one station."""
    resolved = ResolvedLimits()
    if rule.from_the_maker:
        resolved.lacks = Reason(Why.ASK_THE_MAKER)
    for line in in_force(rule.lines, station, environment):
        resolved.counted += 1
        if line.from_the_maker:
            resolved.clear()
            resolved.lacks = Reason(Why.ASK_THE_MAKER, text=line.note)
        take(line, resolved, station, environment)
    return _finished(rule, resolved, station, environment)


def limits_of_sheet(
    rule: Rule, own: Sequence[LimitLine], packs: ResolvedLimits | None, station: Station, environment: LimitEnvironment
) -> ResolvedLimits:
    """Read the sheet's `own` lines that count at one station, in the place of what `packs` have there (None: what that
    is cannot be worked out, so that it may be anything that the rule's lines set)."""
    resolved = ResolvedLimits(from_sheet=True)
    for line in own:
        take(line, resolved, station, environment)
    of_packs = {part for line in rule.lines for part in line.sets} if packs is None else _known(packs)
    gone = [side for side in SIDES if side in of_packs and resolved.sets.get(side) is None]
    resolved.notes.extend(Reason(Why.SIDE_DROPPED, (side,)) for side in gone)
    return _finished(rule, resolved, station, environment)


def _known(resolved: ResolvedLimits) -> Collection[str]:
    return [part for part, limit in resolved.sets.items() if limit is not None]


def _finished(rule: Rule, resolved: ResolvedLimits, station: Station, environment: LimitEnvironment) -> ResolvedLimits:
    """What is wrong with lines that were read one by one, and margins."""
    _uncrossed(resolved)
    if rule.margins and resolved.lacks is None:
        _drawn_in(rule, resolved)
    _with_its_aim(resolved)
    if rule.lines and not (resolved.counted or resolved.from_sheet or resolved.lacks):
        resolved.lacks = no_line(rule.lines, station, environment)
    return resolved


def no_line(lines: Sequence[LimitLine], station: Station, environment: LimitEnvironment) -> Reason:
    """That none of some lines counts at a station, and what they ask for is there."""
    asked: dict[str, str] = {}
    for line in lines:
        for each in all_operators(line.when.operators) if line.when is not None else ():
            if isinstance(each, FactLabel | StationLabel):
                name = each.name if isinstance(each, FactLabel) else each.axis
                asked[name] = evaluate_operator(each, environment, station) or ""
    known = {name: said for name, said in asked.items() if said}
    return Reason(Why.NO_LIMIT_LINE, tuple(known), tuple(known.values()))


def counts(line: LimitLine, station: Station, environment: LimitEnvironment) -> bool:
    """Whether a line counts at a station. Raises NotEvaluable where a table that it asks has no row."""
    return line.when is None or is_true(line.when, environment, station) is True


def in_force(lines: Sequence[LimitLine], station: Station, environment: LimitEnvironment) -> Iterator[LimitLine]:
    """The lines that count at a station. One whose amendment does not hold there is as the packs below have it."""
    for line in lines:
        stands: LimitLine | None = line
        while stands is not None and counts(stands, station, environment):
            if stands.below is None or stands.own is None or environment.speaks(stands.own, station) is not False:
                yield stands
                break
            stands = stands.below


def take(line: LimitLine, resolved: ResolvedLimits, station: Station, environment: LimitEnvironment) -> None:
    """Clear, set and shift what one line does. Raises NotEvaluable where a limit has no value.

    What does not hold there is no figure, and neither is what is worked out from one.
    """
    for part in line.clears:
        if part not in line.holds or environment.speaks(line.holds[part], station):
            resolved.sets.pop(part, None)
            resolved.silent.pop(part, None)
    fresh: dict[str, Value | None] = {}
    silent: dict[str, tuple[Reason, ...] | None] = {}
    environment.so_far = {part: resolved.sets.get(part) for part in SHIFTED}
    asked, answer = None, _answer(None, station, environment)
    for part, formula in line.sets.items():
        if line.holds.get(part) is not asked:  # most figures of a line hold for the same
            asked = line.holds.get(part)
            answer = _answer(asked, station, environment)
        why = silent[part] = _silent(asked, answer, formula, resolved, station, environment)
        fresh[part] = evaluate(formula, environment, station) or UNKNOWN if why is None else None
    resolved.put(fresh, silent)
    if line.shift is not None:
        environment.so_far = {part: resolved.sets.get(part) for part in SHIFTED}
        asked = line.holds.get("shift")
        why = _silent(asked, _answer(asked, station, environment), line.shift, resolved, station, environment)
        stood = {part: limit for part in SHIFTED if (limit := resolved.sets.get(part)) is not None}
        shift = evaluate(line.shift, environment, station) if why is None else None
        moved = {part: limit if shift is None else add(limit, shift) for part, limit in stood.items()}
        resolved.put(moved if why is None else dict.fromkeys(stood), dict.fromkeys(stood, why))
    environment.so_far = {}
    if line.source is not None:
        resolved.sources.append(line.source)
    if line.note and not line.from_the_maker:
        resolved.notes.append(Reason(Why.PACK_NOTE, text=line.note))


def _answer(validity: Validity | None, station: Station, environment: LimitEnvironment) -> bool | None:
    """Whether figures hold there; those of which nobody says for what do."""
    return True if validity is None else environment.speaks(validity, station)


def _silent(
    validity: Validity | None,
    answer: bool | None,
    formula: Formula,
    resolved: ResolvedLimits,
    station: Station,
    environment: LimitEnvironment,
) -> tuple[Reason, ...] | None:
    """Why what a line would set, or shift by, is no figure there; None where it is one. `answer`: whether it holds."""
    if validity is not None and answer is False:
        return environment.speaking.failing(validity, station)
    behind = [resolved.silent[name] for name in SHIFTED if name in resolved.silent and name in formula.names]
    if behind or answer is None:
        return tuple(dict.fromkeys(reason for why in behind for reason in why))
    return None


def _uncrossed(resolved: ResolvedLimits) -> None:
    """Limits that cross leave the check to the maker."""
    least, most = [exact(resolved.sets.get(side)) for side in SIDES]
    if least is not None and most is not None and least > most and not is_zero(least - most):
        resolved.clear()
        resolved.lacks = CROSSED


def _drawn_in(rule: Rule, resolved: ResolvedLimits) -> None:
    """Draw the limits in by the margins of packs; a band that they use up leaves no figure."""
    margins = [each for each in rule.margins if each.makers_too or not resolved.from_sheet]
    stood = {side: limit for side in SIDES if (limit := resolved.sets.get(side)) is not None}
    for margin in margins if stood else ():
        for side, limit in stood.items():
            inward = exactly(margin.inward if side == "least" else -margin.inward)
            resolved.sets[side] = stood[side] = add(limit, inward)
        resolved.notes.append(Reason(Why.DRAWN_IN, (margin.pack,), text=margin.text))
    least, most = (exact(resolved.sets.get(side)) for side in SIDES)
    if margins and least is not None and most is not None and (least > most or is_zero(least - most)):
        resolved.clear()
        resolved.lacks = Reason(Why.MARGIN_TAKES_ALL, tuple(margin.pack for margin in margins))


def _with_its_aim(resolved: ResolvedLimits) -> None:
    """An aim outside the limits is dropped and said."""
    least, aim, most = [exact(resolved.sets.get(part)) for part in SHIFTED]
    if aim is not None and ((least is not None and aim < least) or (most is not None and aim > most)):
        resolved.sets["aim"] = None
        resolved.notes.append(AIM_OUTSIDE)


def exact(value: Value | None) -> Decimal | None:
    """The number of a limit that is one number; None where there is none, or not enough is known."""
    if value is None or value.low is None or value.low is not value.high:
        return None
    return value.low.value


def wear_inside_new(resolved: ResolvedLimits, side: str) -> bool:
    """Whether a wear limit bars what is good enough for new work: one of the two is a mistake."""
    new, wear = exact(resolved.sets.get(side)), exact(resolved.sets.get(WORN[side]))
    if new is None or wear is None or is_zero(wear - new):
        return False
    return wear > new if side == "least" else wear < new


def as_limits(resolved: ResolvedLimits) -> Limits:
    """The limits as data, as they are for new work."""
    least, aim, most, wear_least, wear_most = [exact(resolved.sets.get(part)) for part in LIMIT_PARTS]
    notes, sources = tuple(resolved.notes), tuple(resolved.sources)
    return Limits(least, aim, most, (), wear_least, wear_most, resolved.from_sheet, notes, sources)


def over_reused(limits: Limits, worn: tuple[str, ...], resolved: ResolvedLimits) -> Limits:
    """The same where the parts are reused: on a worn side the wear limit decides."""
    inside = [Reason(Why.WEAR_INSIDE_NEW, (side,)) for side in worn if wear_inside_new(resolved, side)]
    return limits._replace(worn=worn, notes=(*limits.notes, *inside))
