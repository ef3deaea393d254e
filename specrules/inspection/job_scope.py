"""What of a specification a job covers, where its sheet names headings: the rest is neither asked for nor counted."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from specrules.inspection.report import Finding, SignOffState
from specrules.pack import Specification
from specrules.vocabulary import Verdict

UNREAD = (Verdict.NOT_MEASURED, Verdict.NOT_APPLICABLE)
"""Verdicts on what was not measured."""


class JobScope:
    """The rules under some headings, with those that they need wherever they stand. No heading: all of them."""

    def __init__(self, spec: Specification, groups: Sequence[str]) -> None:
        self.spec, self.groups = spec, groups
        inside = [name for name, chain in spec.rules.items() if chain.governing[-1].group in groups]
        self.rules = set(self._with_needs(inside))

    def kept(self, findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
        """The findings of these rules, and whatever else was measured: that is judged in any case."""
        if not self.groups:
            return findings
        return tuple([each for each in findings if each.rule in self.rules or each.verdict not in UNREAD])

    def asked(self, states: tuple[SignOffState, ...], kept: Iterable[Finding]) -> tuple[SignOffState, ...]:
        """The sign-offs that what is kept needs, those under the headings that nothing needs, and any answered no."""
        if not self.groups:
            return states
        needed = set(self._needs({finding.rule for finding in kept}))
        anywhere = set(self._needs(self.spec.rules))
        return tuple(
            each
            for each in states
            if each.name in needed
            or (each.group in self.groups and each.name not in anywhere)
            or each.state == "answered no"
        )

    def _with_needs(self, names: Iterable[str]) -> Iterator[str]:
        waiting, seen = [*names], set[str]()
        while waiting:
            name = waiting.pop()
            if name in self.spec.rules and name not in seen:
                seen.add(name)
                waiting += self.spec.rules[name].governing[-1].needs
                yield name

    def _needs(self, rules: Iterable[str]) -> Iterator[str]:
        """What rules need, and the ways of the figures behind them."""
        for rule in (version for name in rules for version in self.spec.rules[name].governing):
            yield from rule.needs
            waiting, seen = [rule.formula], set[str]()
            while waiting:
                for name in waiting.pop().names & self.spec.figures.keys() - seen:
                    seen.add(name)
                    for way in self.spec.figures[name].ways:
                        yield from way.needs
                        waiting.append(way.formula)
