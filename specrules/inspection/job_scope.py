"""What of a specification a job covers, where its sheet names headings: the rest is neither asked for nor counted."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from specrules.inspection.report import Finding, SignOffState
from specrules.pack import Specification
from specrules.pack.needing import rules_with_needs, sign_offs_asked
from specrules.vocabulary import Verdict

UNREAD = (Verdict.NOT_MEASURED, Verdict.NOT_APPLICABLE)
"""Verdicts on what was not measured."""


class JobScope:
    """The rules under some headings, with those that they need wherever they stand. No heading: all of them."""

    def __init__(self, spec: Specification, groups: Sequence[str]) -> None:
        self.spec, self.groups = spec, groups
        inside = [name for name, chain in spec.rules.items() if chain.governing[-1].group in groups]
        self.rules = set(rules_with_needs(spec, inside))

    def kept(self, findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
        """The findings of these rules, and whatever else was measured: that is judged in any case."""
        if not self.groups:
            return findings
        return tuple([each for each in findings if each.rule in self.rules or each.verdict not in UNREAD])

    def asked(self, states: tuple[SignOffState, ...], kept: Iterable[Finding]) -> tuple[SignOffState, ...]:
        """The sign-offs that what is kept needs, those under the headings that nothing needs, and any answered no."""
        asked = sign_offs_asked(self.spec, {finding.rule for finding in kept}, self.groups)
        return tuple(each for each in states if each.name in asked or each.state == "answered no")
