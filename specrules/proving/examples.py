"""The worked examples of a rule, each inspected by itself, and what came out held against what its author expected."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from specrules.document import Fault, Place, shown
from specrules.evaluate.binding import Binding
from specrules.inspection import Examination, Options, WholeFinding
from specrules.inspection.judge import Judge
from specrules.pack import Expected, Rule, Specification, Worked
from specrules.pack.work_budget import excess_of
from specrules.pack.worked_examples import TO_JUDGE
from specrules.proving.held import differences
from specrules.proving.needed_parts import needed_for
from specrules.proving.proof_parts import CameFrom, ProofRemark
from specrules.proving.tried_values import NAME, Trying
from specrules.quantity import nearest
from specrules.sheet import RawSheet, Sheet, Signature, read_fragment, settle
from specrules.vocabulary import Verdict


@dataclass(frozen=True, slots=True)
class ExampleOutcome:
    """One example worked. `held`: the stations that came out as expected. No sheet: it could not be read.

    `absent`: its facts say that there is nothing to judge, as it expects."""

    remarks: tuple[ProofRemark, ...]
    held: tuple[WholeFinding, ...] = ()
    sheet: Sheet | None = None
    judge: Judge | None = None
    judging: Rule | None = None  # the rule that judged, where the example gives it its value
    absent: bool = False


def work(rule: Rule, spec: Specification) -> list[ExampleOutcome]:
    """Every worked example of one rule; of a compact one all values at once, unless one does not come out."""
    found: list[ExampleOutcome] = []
    alone = needed_for(rule, spec)
    most = max((len(worked.expect) for worked in rule.worked if worked.compact), default=0)
    at_once = Trying.of(rule, spec, most) if most else None
    for number, worked in enumerate(rule.worked, 1):
        if at_once is not None and worked.compact:
            outcome = _tried(at_once, number, worked, worked.expect)
            if outcome.remarks and most > 1:  # what is told is of a value by itself
                one = Trying.of(rule, spec)
                found += [_tried(one, number, worked, [value]) for value in worked.expect]
            else:
                found.append(outcome)
        else:
            found.append(_Example(rule, number, worked, spec, alone).outcome())
    return found


def _tried(trying: Trying, number: int, worked: Worked, values: Sequence[Expected]) -> ExampleOutcome:
    """These values of a compact example worked."""
    example = trying.example(worked, values)
    return replace(_Example(trying.rule, number, example, trying.spec, trying.alone).outcome(), judging=trying.rule)


@dataclass(frozen=True, slots=True)
class _Example:
    """One example of one rule, while it is worked."""

    rule: Rule
    number: int
    worked: Worked
    spec: Specification
    alone: Specification

    def outcome(self) -> ExampleOutcome:
        raw, faults = read_fragment(self.worked.given, self.worked.place.file, self.spec.examples_assume)
        sheet = None
        if raw is not None and not faults:
            sheet, faults = self._settled(raw)
        remarks = [
            self._remark(fault.place, f"{fault.subject}: {fault.said}" if fault.subject else fault.said, fault.write)
            for fault in (_without_name(fault) if self.worked.compact else fault for fault in faults)
        ]
        remarks += (
            self._remark(self.worked.place, f"{shown(name)} is no sign-off", nearest(name, self.spec.sign_offs) or "")
            for name in self.worked.unsigned
            if name not in self.spec.sign_offs
        )
        if sheet is None or remarks:
            return ExampleOutcome(tuple(remarks))
        sheet = sheet._replace(signed=self._signatures(sheet))
        only = {self.rule.each: [one.at for one in self.worked.expect]} if self.worked.compact else {}
        examined = Examination(sheet, self.alone, Options(decision="simple"), only=only)
        judge = examined.judge
        if examined.spec is not self.alone:  # what is reached is told of the rule as it stands, with all that is absent
            judge = Judge(Binding(sheet, self.alone, simple=True).environment(), judge.acceptance, sheet.limits)
        findings = [*map(examined.whole, examined.findings)]
        held: list[WholeFinding] = []
        absent = self.rule.name not in examined.spec.rules
        for expected in self.worked.expect if not absent else ():
            if expected.verdict == TO_JUDGE:
                write = f"what comes out by the specification: in spec, or {self.rule.words[0]} by 0.0001 in"
                remarks.append(self._remark(expected.place, "is still to be judged", write))
                continue
            found = [each for each in findings if each.rule == self.rule.name and _there(each, expected)]
            wrong = [*self._misses(expected, found)]
            remarks += wrong
            held += () if wrong else found
        if absent:
            remarks += (
                self._remark(one.place, f"{one.verdict} is expected, and its facts say that there is nothing to judge")
                for one in self.worked.expect
                if one.verdict != str(Verdict.NOT_APPLICABLE)
            )
        return ExampleOutcome(tuple(remarks), tuple(held), sheet, judge, absent=absent and not remarks)

    def _settled(self, raw: RawSheet) -> tuple[Sheet | None, tuple[Fault, ...]]:
        """The sheet of the example: what the rule needs says all of it, but for what only the whole finds at fault."""
        sheet, faults = settle(raw, self.alone)
        if sheet is None or excess_of(self.spec, sheet.labels, sheet.described.stated) is not None:
            return settle(raw, self.spec)
        return sheet, faults

    def _remark(self, place: Place, said: str, write: str = "") -> ProofRemark:
        return ProofRemark(place, f"{self.rule.name}, example {self.number}", said, write, "example")

    def _signatures(self, sheet: Sheet) -> dict[str, tuple[Signature, ...]]:
        """Every sign-off given, after whatever was done, but for those that the example signs itself or leaves open."""
        after = tuple(work.operation for work in sheet.work_done)
        given = {
            name: (Signature(name, True, "", None, {}, self.worked.place, after),)
            for name in self.spec.sign_offs
            if name not in self.worked.unsigned
        }
        return {**given, **sheet.signed}

    def _misses(self, expected: Expected, found: list[WholeFinding]) -> Iterator[ProofRemark]:
        """What of one expectation did not come out."""
        where = "".join(f" at {axis} {label}" for axis, label in expected.at.items())
        if len(found) != 1:
            said = f"the rule is judged at {len(found)} stations{where}" if found else f"the rule is not judged{where}"
            which = f"at: {{{', '.join(f'{axis}: LABEL' for axis in self.rule.each)}}}"
            yield self._remark(expected.place, said, which if found else "a station that its given part has")
            return
        differing = differences(expected, found[0], self.rule, self.spec.unit)
        if isinstance(differing, str):
            yield self._remark(expected.place, differing)
        elif differing:
            wanted = ", ".join(each.wanted for each in differing)
            came = ", ".join(each.came for each in differing)
            said = f"{wanted} is expected{where}, and what came out is {came}"
            worked = found[0].worked if found[0].value is not None else ""
            yield self._remark(expected.place, said)._replace(came_from=CameFrom(worked, found[0]))


def _without_name(fault: Fault) -> Fault:
    """A fault of a value that is tried, which no one has given a name."""
    return fault._replace(subject="") if fault.subject.startswith(NAME) else fault


def _there(finding: WholeFinding, expected: Expected) -> bool:
    return all(finding.station.get(axis) == label for axis, label in expected.at.items())
