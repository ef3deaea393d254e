"""A specification as a sheet reads it: every unit and text in the sheet's own system of units.

Formulas, limits and usual sizes stay as they are: no verdict hangs on the units of a sheet.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from specrules.document import Text, shown
from specrules.formula import Formula
from specrules.formula.operators import Constant
from specrules.pack.lesson_parts import Lesson
from specrules.pack.specification import (
    BuildPart,
    Fact,
    Figure,
    LimitLine,
    Measurand,
    Operation,
    PackHead,
    Relaxation,
    Rule,
    RuleChain,
    SignOff,
    Source,
    Specification,
    Step,
)
from specrules.pack.wording import MOVES, plain_amount, refusals, worded
from specrules.quantity import Exact, Unit
from specrules.quantity.amounts import in_sheet, settable, used_among

if TYPE_CHECKING:
    from specrules.pack.compiling import Compiler

TOLD: Mapping[type, tuple[str, ...]] = {
    PackHead: ("title", "caution"),
    Fact: ("title",),
    Measurand: ("title", "how"),
    BuildPart: ("title",),
    Figure: ("title",),
    SignOff: ("question", "because", "caution"),
    LimitLine: ("note",),
    Step: ("do",),
    Rule: ("title", "because", "otherwise", "caution", "does_not_test", "note", "reasons"),
    Operation: ("title",),
    Lesson: ("title", "text"),
    Relaxation: ("title", "reason"),
    Source: ("note",),
}
"""The texts of each part in which quantities may stand."""


def told_in(spec: Specification, lengths_in: Unit | None) -> Specification:
    """The specification for a sheet whose lengths are in that unit; None, a sheet that states none: as its packs write
    it. What is told already is told again from what its packs write."""
    if spec.written is not None and spec.lengths_in == lengths_in:
        return spec
    whole = spec.written or spec
    telling = _Telling(lengths_in)
    return whole._replace(
        packs=tuple(map(telling.part, whole.packs)),
        facts={name: telling.fact(fact) for name, fact in whole.facts.items()},
        measurands={name: telling.with_unit(each) for name, each in whole.measurands.items()},
        parts={name: telling.part(each) for name, each in whole.parts.items()},
        figures={name: telling.with_unit(each) for name, each in whole.figures.items()},
        sign_offs={name: telling.part(each) for name, each in whole.sign_offs.items()},
        rules={name: telling.chain(each) for name, each in whole.rules.items()},
        operations={name: telling.part(each) for name, each in whole.operations.items()},
        lessons={name: telling.part(each) for name, each in whole.lessons.items()},
        ledger=tuple(map(telling.part, whole.ledger)),
        assumed_temperature=telling.stated(whole.assumed_temperature),
        lengths_in=lengths_in,
        written=whole,
    )


def told_head(spec: Specification) -> PackHead:
    """What the last of its packs says of itself, in that pack's own unit."""
    head: PackHead = _Telling(spec.unit).part(spec.packs[-1])
    return head


def with_parts(spec: Specification, **parts: Any) -> Specification:
    """A specification with other parts, whatever units it is told in."""
    written = None if spec.written is None else spec.written._replace(**parts)
    return spec._replace(**parts, written=written)


def note_wording(spec: Specification, compiler: Compiler) -> None:
    """A fault for whatever stands in braces in a text of these packs and cannot be told."""
    for name, part in (*_parts(spec), *spec.lessons.items()):
        known = _known_in(part) if isinstance(part, Step) else frozenset()
        for key, text in _told(part):
            for braces, refusal in refusals(text, known) if "{" in text or "}" in text else ():
                said = f"has {shown(braces)} in its text, which {refusal.said}"
                compiler.fault(text, f"{name} {key}", refusal.code, said, refusal.write)


def told_texts(spec: Specification) -> Iterator[tuple[str, Text]]:
    """The texts in which quantities may stand, as they are written, each with what it is of; lessons aside."""
    for name, part in _parts(spec.written or spec):
        yield from ((f"{name} {key}", text) for key, text in _told(part))


def _parts(spec: Specification) -> Iterator[tuple[str, Any]]:
    for section in (spec.facts, spec.measurands, spec.parts, spec.figures, spec.sign_offs, spec.operations):
        yield from section.items()
    yield from ((head.name, head) for head in spec.packs)
    yield from ((check.name, check.source) for check in spec.sign_offs.values())
    yield from ((entry.name, entry) for entry in spec.ledger)
    for name, chain in spec.rules.items():
        for rule in chain.versions:
            yield name, rule
            yield f"{name} source", rule.source
            yield from ((f"{name} limits {line.name}", line) for line in rule.lines)
            yield from ((f"{name} limits {line.name}", line.source) for line in rule.lines if line.source is not None)
            yield from ((f"{name} remedy {word}", step) for word, steps in rule.remedy.items() for step in steps)


def _told(part: Any) -> Iterator[tuple[str, Text]]:
    for field in TOLD[type(part)]:
        yield from _texts(part, field)


def _texts(part: Any, field: str) -> Iterator[tuple[str, Text]]:
    value, key = getattr(part, field), field.replace("_", " ")
    texts = {key: value}
    if isinstance(part, Lesson) and isinstance(value, tuple):
        texts = {f"{key} {number}": each for number, each in enumerate(value, 1)}
    elif isinstance(value, Mapping | tuple):
        texts = {f"{key} {word}": each for word, each in dict(value).items()}
    yield from ((key, text) for key, text in texts.items() if isinstance(text, Text))


def _known_in(step: Step) -> frozenset[str]:
    """The names that the text of a step may tell: what it moves, where that is told beforehand, and what is sold."""
    moved = step.moves is not None and plain_amount(step.moves.text) is not None
    return frozenset(filter(None, (MOVES if moved else "", step.one_of)))


class _Telling:
    """Parts of a specification, each told once."""

    def __init__(self, lengths_in: Unit | None) -> None:
        self.lengths_in = lengths_in
        self._rules: dict[int, Rule] = {}
        self._units: dict[str, Unit] = {}

    def unit(self, unit: Unit) -> Unit:
        known = self._units.get(unit.symbol)
        if known is None:
            known = self._units[unit.symbol] = in_sheet(unit, self.lengths_in)
        return known

    def part(self, part: Any) -> Any:
        """A part with its texts told; the part itself where nothing in them is."""
        new: dict[str, Any] = {}
        source = getattr(part, "source", None)
        if source is not None and "{" in source.note:
            new["source"] = self.part(source)
        for field in TOLD[type(part)]:
            value = getattr(part, field)
            if isinstance(part, Lesson) and isinstance(value, tuple):
                new[field] = tuple(map(self.text, value))
            elif isinstance(value, tuple):
                if any("{" in text for _, text in value):
                    new[field] = tuple((word, self.text(text)) for word, text in value)
            elif isinstance(value, Mapping):
                if any("{" in text for text in value.values()):
                    new[field] = {word: self.text(text) for word, text in value.items()}
            elif "{" in value:
                new[field] = self.text(value)
        return part._replace(**new) if new else part

    def text(self, text: str) -> str:
        return worded(text, self.lengths_in)

    def with_unit(self, part: Any) -> Any:
        part, unit = self.part(part), self.unit(part.unit)
        return part if unit is part.unit else part._replace(unit=unit)

    def fact(self, fact: Fact) -> Fact:
        if fact.unit is None:
            return fact
        figure = self.stated(fact.assumed_figure)
        assumed = fact.assumed if figure is fact.assumed_figure or figure is None else _written(figure)
        told: Fact = self.with_unit(fact)
        return told._replace(assumed=assumed)

    def stated(self, figure: Exact | None) -> Exact | None:
        """A stated figure in the unit that stands for its own."""
        if figure is None or (unit := self.unit(figure.unit)) == figure.unit:
            return figure
        return figure._replace(unit=unit, number=unit.from_base(figure.value))

    def chain(self, chain: RuleChain) -> RuleChain:
        return chain._replace(
            versions=tuple(map(self.rule, chain.versions)), governing=tuple(map(self.rule, chain.governing))
        )

    def rule(self, rule: Rule) -> Rule:
        known = self._rules.get(id(rule))
        if known is None:
            known = self.with_unit(rule)
            if any("{" in line.note or (line.source and "{" in line.source.note) for line in rule.lines):
                known = known._replace(lines=tuple(map(self.part, rule.lines)))
            self._rules[id(rule)] = known
        return known


def step_in(step: Step, lengths_in: Unit | None) -> Step:
    """A remedy's step for a sheet with that unit of lengths: what is given for both systems as it is given, what is
    given once as far as somebody there can set it. Told only when somebody reads it, for most are not."""
    moves = step.moves
    if step.in_metric is not None and lengths_in is not None and not lengths_in.of_inches:
        moves = step.in_metric
    if moves is None:
        return step._replace(do=worded(step.do, lengths_in))
    amount = plain_amount(moves.text)
    if amount is not None and lengths_in is not None and not used_among(amount.given.unit, lengths_in):
        moves = _converted(moves, amount.given.values()[0], in_sheet(amount.given.unit, lengths_in))
    said = {} if amount is None else {MOVES: moves.text.strip().lstrip("+-")}
    return step._replace(do=worded(step.do, lengths_in, said), moves=moves)


def _converted(moves: Formula, amount: Decimal, unit: Unit) -> Formula:
    step = settable(amount, unit)
    return replace(moves, text=f"{step:f} {unit.symbol}", operators=Constant(unit.difference_to_base(step)))


def _written(figure: Exact) -> str:
    """A figure in its unit, as a sheet may state it."""
    ends = [f"{Decimal(f'{figure.number:.5g}'):f} {figure.unit.symbol}"]
    if figure.U is not None:
        ends.append(f"{Decimal(f'{figure.unit.difference_from_base(figure.U):.2g}'):f} {figure.unit.symbol}")
    return " ±".join(ends)
