"""What the worked examples leave unexercised: lines, sides of limits, ways, conditions, and something left out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence, Set

from specrules.document import Place
from specrules.formula import Formula
from specrules.inspection import Verdict
from specrules.pack import LimitLine, Rule, Stack
from specrules.proving.examples import Outcome
from specrules.proving.names import choosing, figures_of, text_of
from specrules.proving.parts import ProofRemark
from specrules.proving.reached import PLACES, Reached

JUDGING = ("least", "most", "wear least", "wear most")
Files = Set[str]


def unexercised(
    stack: Stack, rules: Sequence[Rule], worked: Mapping[str, Sequence[Outcome]], files: Files
) -> Iterator[ProofRemark]:
    """What a pack's own examples do not show of what stands in its `files`."""
    reached = Reached()
    for rule in rules:
        for outcome in worked[rule.name]:
            reached.take(rule, outcome)
    for rule in rules:
        if not rule.worked:
            if any(line.place.file in files for line in rule.lines):
                said = "its limits are amended, and no example works them"
                yield _remark(rule.place, rule.name, said, "worked: and an example on each side")
            continue
        for line in rule.lines:
            yield from _of_line(rule, line, reached, files)
        yield from _of_condition(rule.applies_when, rule.name, "applies when", reached, files)
        yield from _of_choices(rule.formula, rule.name, reached, files)
        if not rule.reasons and rule.limits_wanted and Verdict.NOT_MEASURED not in reached.verdicts[rule.name]:
            said = "no example leaves something out"
            yield _remark(rule.place, rule.name, said, "one without a reading, and expect not measured")
    yield from _of_figures(stack, rules, reached, files)


def _of_line(rule: Rule, line: LimitLine, reached: Reached, files: Files) -> Iterator[ProofRemark]:
    where = f"the line {line.name}"
    if (rule.name, line.name) not in reached.lines:
        if line.place.file in files:
            when = "" if line.when is None else f" in which {line.when.text}"
            yield _remark(line.place, rule.name, f"no example reaches {where}", f"an example{when}")
        return
    yield from _of_condition(line.when, rule.name, where, reached, files)
    formulas = dict(line.sets) if line.shift is None else {**line.sets, "shift": line.shift}
    for part, formula in formulas.items():
        text = text_of(formula)
        if text.place.file not in files:
            continue
        yield from _of_choices(formula, rule.name, reached, files)
        for side in ("least", "most") if part == "shift" else (part,):
            seen = reached.places.get((rule.name, line.name, side), set())
            lacking = [place for place in PLACES if place not in seen]
            if side in JUDGING and lacking and (seen or part != "shift"):
                of = f"as {where} shifts it" if part == "shift" else f"of {where}"
                said = f"no example lies {' or '.join(lacking)} the {side} {of}"
                yield _remark(text.place, rule.name, said, f"an example {lacking[0]} it")


def _of_condition(
    condition: Formula | None, subject: str, where: str, reached: Reached, files: Files
) -> Iterator[ProofRemark]:
    if condition is not None and text_of(condition).place.file in files:
        yield from _never(condition, condition.text, subject, where, reached)


def _of_choices(formula: Formula, subject: str, reached: Reached, files: Files) -> Iterator[ProofRemark]:
    if text_of(formula).place.file in files:
        for _, text in choosing(formula):
            yield from _never(formula, text, subject, formula.text, reached)


def _never(formula: Formula, text: str, subject: str, where: str, reached: Reached) -> Iterator[ProofRemark]:
    """One remark where a condition was not seen both true and false."""
    seen = reached.answers.get((id(formula), text), set())
    lacking = [word for word, answer in (("true", True), ("false", False)) if answer not in seen]
    if lacking:
        said = f"'{text}' is never {' or '.join(lacking)} in an example ({where})"
        yield _remark(text_of(formula).place, subject, said, "an example in which it is")


def _of_figures(stack: Stack, rules: Sequence[Rule], reached: Reached, files: Files) -> Iterator[ProofRemark]:
    """The ways of the figures that rules stand on, where they are this pack's own."""
    names = {name for rule in rules for name in figures_of(rule, stack)}
    for figure in (figure for name, figure in stack.figures.items() if name in names):
        for way in figure.ways:
            if way.place.file not in files:
                continue
            if (figure.name, way.name) not in reached.ways:
                called = f"the way {way.name}" if way.name else "it"
                given = f"an example with nothing but {', '.join(sorted(way.formula.names))}"
                yield _remark(way.place, figure.name, f"no example uses {called}", given)
                continue
            yield from _of_condition(way.when, figure.name, f"the way {way.name}", reached, files)
            yield from _of_choices(way.formula, figure.name, reached, files)


def _remark(place: Place, subject: str, said: str, write: str) -> ProofRemark:
    return ProofRemark(place, subject, said, write, "unexercised")
