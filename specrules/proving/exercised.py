"""What the worked examples leave unexercised: lines, sides of limits, ways, conditions, and something left out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence, Set

from specrules.document import Place
from specrules.formula import Formula
from specrules.pack import Figure, LimitLine, Rule, Specification
from specrules.proving.examples import ExampleOutcome
from specrules.proving.names import choosing, figures_of, text_of
from specrules.proving.proof_parts import ProofRemark
from specrules.proving.reached import PLACES, Reached
from specrules.quantity import YES_NO_UNIT
from specrules.vocabulary import SIDE_OF, Verdict

Files = Set[str]


def unexercised(
    spec: Specification, rules: Sequence[Rule], worked: Mapping[str, Sequence[ExampleOutcome]], files: Files
) -> Iterator[ProofRemark]:
    """What a pack's own examples do not show of what stands in its `files`.

    Of a rule with an example that does not come out nothing is said: first that one has to be put right.
    """
    reached = Reached()
    failing = {rule.name for rule in rules if any(outcome.remarks for outcome in worked[rule.name])}
    for rule in rules:
        for outcome in worked[rule.name]:
            reached.take(rule, outcome)
    for rule in (rule for rule in rules if rule.name not in failing):
        if not rule.worked:
            if any(line.place.file in files for line in rule.lines):
                said = "its limits are amended, and no example works them"
                yield _remark(rule.place, rule.name, said, "worked: and an example on each side")
            continue
        for line in rule.lines:
            yield from _of_line(rule, line, reached, files)
        yield from _of_condition(rule.applies_when, rule.name, "applies when", reached, files)
        yield from _of_choices(rule.formula, rule.name, reached, files)
        if not rule.reasons and rule.name not in reached.whole:
            said = "no example works its value out of readings"
            yield _remark(rule.place, rule.name, said, "one with given and expect")
        if not rule.reasons and rule.limits_wanted and Verdict.NOT_MEASURED not in reached.verdicts[rule.name]:
            said = "no example leaves something out"
            yield _remark(rule.place, rule.name, said, "one without a reading, and expect not measured")
    behind_failing = {name for rule in rules if rule.name in failing for name in figures_of(rule, spec)}
    figures = {name for rule in rules for name in figures_of(rule, spec)} - behind_failing
    for figure in (figure for name, figure in spec.figures.items() if name in figures):
        yield from _of_figure(figure, reached, files)


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
            if rule.unit == YES_NO_UNIT:
                yield from _of_yes_no(text.place, rule.name, seen)
                continue
            lacking = [place for place in PLACES if place not in seen]
            if side in SIDE_OF and lacking and (seen or part != "shift"):
                of = f"as {where} shifts it" if part == "shift" else f"of {where}"
                does = f"lies {' or '.join(lacking)}" if seen else "works"
                write = f"an example {lacking[0]} it" if seen else "an example on each side, and one on it"
                yield _remark(text.place, rule.name, f"no example {does} the {side} {of}", write)


def _of_yes_no(place: Place, rule: str, seen: Set[str]) -> Iterator[ProofRemark]:
    """A rule of yes and no is shown by one example that fits and one that is wrong."""
    for where, said in {"on": "fits", "beyond": "is wrong"}.items():
        if where not in seen:
            yield _remark(place, rule, f"no example {said}", f"an example that {said}")


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


def _of_figure(figure: Figure, reached: Reached, files: Files) -> Iterator[ProofRemark]:
    for way in (way for way in figure.ways if way.place.file in files):
        if (figure.name, way.name) in reached.ways:
            yield from _of_condition(way.when, figure.name, f"the way {way.name}", reached, files)
            yield from _of_choices(way.formula, figure.name, reached, files)
        else:
            called = f"the way {way.name}" if len(figure.ways) > 1 else "it"
            names = ", ".join(sorted(way.formula.names))
            write = f"an example with {names} and nothing that a way before it needs" if names else "an example of it"
            yield _remark(way.place, figure.name, f"no example uses {called}", write)


def _remark(place: Place, subject: str, said: str, write: str) -> ProofRemark:
    return ProofRemark(place, subject, said, write, "unexercised")
