"""The worked examples of a rule, each inspected by itself, and what came out held against what its author expected."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from specrules.document import Place, shown
from specrules.evaluate.binding import Binding
from specrules.inspection import Finding, Options, inspect
from specrules.inspection.decide import ACCEPTANCES
from specrules.inspection.judge import Judge
from specrules.pack import Expected, Rule, RuleChain, Stack, Worked
from specrules.proving.held import differences
from specrules.proving.names import figures_of
from specrules.proving.parts import ProofRemark
from specrules.quantity import nearest, places_to_agree, show
from specrules.sheet import Sheet, Signature, read_fragment, settle


@dataclass(frozen=True, slots=True)
class Outcome:
    """One example worked. `held`: the stations that came out as expected. No sheet: it could not be read."""

    remarks: tuple[ProofRemark, ...]
    held: tuple[Finding, ...] = ()
    sheet: Sheet | None = None
    judge: Judge | None = None


def work(rule: Rule, stack: Stack) -> list[Outcome]:
    """Every worked example of one rule."""
    alone = _alone(rule, stack)
    return [_Example(rule, number, worked, stack, alone).outcome() for number, worked in enumerate(rule.worked, 1)]


def _alone(rule: Rule, stack: Stack) -> Stack:
    """The stack with nothing in it but what this rule needs: so that an example costs no more than its own sums."""
    rules = {rule.name: RuleChain(rule.name, (rule,), (rule,))}
    waiting = [*rule.needs]
    while waiting:
        name = waiting.pop()
        if name in stack.rules and name not in rules:
            rules[name] = stack.rules[name]
            waiting += (need for version in rules[name].governing for need in version.needs)
    judged = [version for chain in rules.values() for version in chain.governing]
    figures = {name: stack.figures[name] for each in judged for name in figures_of(each, stack)}
    needs = {need for each in judged for need in each.needs}
    needs.update(need for figure in figures.values() for way in figure.ways for need in way.needs)
    sign_offs = {name: sign_off for name, sign_off in stack.sign_offs.items() if name in needs}
    return stack._replace(rules=rules, figures=figures, sign_offs=sign_offs)


@dataclass(frozen=True, slots=True)
class _Example:
    """One example of one rule, while it is worked."""

    rule: Rule
    number: int
    worked: Worked
    stack: Stack
    alone: Stack

    def outcome(self) -> Outcome:
        raw, faults = read_fragment(self.worked.given, self.worked.place.file)
        sheet = None
        if raw is not None and not faults:
            sheet, faults = settle(raw, self.stack)
        remarks = [
            self._remark(fault.place, f"{fault.subject}: {fault.said}" if fault.subject else fault.said, fault.write)
            for fault in faults
        ]
        remarks += (
            self._remark(self.worked.place, f"{shown(name)} is no sign-off", nearest(name, self.stack.sign_offs) or "")
            for name in self.worked.unsigned
            if name not in self.stack.sign_offs
        )
        if sheet is None or remarks:
            return Outcome(tuple(remarks))
        sheet = sheet._replace(signed=self._signatures(sheet))
        judge = Judge(Binding(sheet, self.alone, simple=True).environment(), ACCEPTANCES["simple"], sheet.limits)
        findings = inspect(sheet, self.alone, Options(decision="simple")).findings
        held: list[Finding] = []
        for expected in self.worked.expect:
            found = [each for each in findings if each.rule == self.rule.name and _there(each, expected)]
            wrong = [*self._misses(expected, found)]
            remarks += wrong
            held += () if wrong else found
        return Outcome(tuple(remarks), tuple(held), sheet, judge)

    def _remark(self, place: Place, said: str, write: str = "") -> ProofRemark:
        return ProofRemark(place, f"{self.rule.name}, example {self.number}", said, write, "example")

    def _signatures(self, sheet: Sheet) -> dict[str, tuple[Signature, ...]]:
        """Every sign-off given, after whatever was done, but for those that the example signs itself or leaves open."""
        after = tuple(work.operation for work in sheet.work_done)
        given = {
            name: (Signature(name, True, "", None, {}, self.worked.place, after),)
            for name in self.stack.sign_offs
            if name not in self.worked.unsigned
        }
        return {**given, **sheet.signed}

    def _misses(self, expected: Expected, found: list[Finding]) -> Iterator[ProofRemark]:
        """What of one expectation did not come out."""
        where = "".join(f" at {axis} {label}" for axis, label in expected.at.items())
        if len(found) != 1:
            said = f"the rule is judged at {len(found)} stations{where}" if found else f"the rule is not judged{where}"
            which = f"at: {{{', '.join(f'{axis}: LABEL' for axis in self.rule.each)}}}"
            yield self._remark(expected.place, said, which if found else "a station that its given part has")
            return
        differing = differences(expected, found[0], self.rule, self.stack.unit)
        if isinstance(differing, str):
            yield self._remark(expected.place, differing)
        elif differing:
            wanted = ", ".join(each.wanted for each in differing)
            came = ", ".join(each.came for each in differing)
            said = f"{wanted} is expected{where}, and what came out is {came}{self._because(found[0])}"
            yield self._remark(expected.place, said)

    def _because(self, finding: Finding) -> str:
        """What a verdict came from: the sum with its numbers, and what else it rests on."""
        rests_on = finding.rests_on
        summed = finding.worked if finding.value is not None else ""
        limits = [
            f"{side} {show(limit, finding.unit, places_to_agree(limit, finding.value, finding.unit, finding.places))}"
            for side, limit in (("least", finding.limits.least), ("most", finding.limits.most))
            if limit is not None and finding.value is not None
        ]
        reasons = [
            f"from {summed}" if summed else "",
            f"held to {', '.join(limits)}" if limits else "",
            f"for want of: {', '.join(rests_on.missing)}" if rests_on.missing else "",
            f"unsigned: {', '.join(rests_on.unsigned)}" if rests_on.unsigned else "",
            f"out of date: {', '.join(rests_on.stale)}" if rests_on.stale else "",
            *(f"in doubt: {each.name} {each.text} {each.said}" for each in rests_on.suspect),
        ]
        said = "; ".join(each for each in reasons if each)
        return f" ({said})" if said else ""


def _there(finding: Finding, expected: Expected) -> bool:
    return all(finding.station.get(axis) == label for axis, label in expected.at.items())
