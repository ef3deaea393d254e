"""Two specifications without a sheet: limit lines that are not written alike, and by how much where that is known."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal, localcontext

from specrules.document import Text
from specrules.evaluate import NotEvaluable, evaluate
from specrules.formula import Formula
from specrules.inspection.comparison import wider
from specrules.inspection.limits import exact
from specrules.pack import LimitLine, Rule, Specification
from specrules.pack.compiling import NO_LIMIT
from specrules.proving.names import behind
from specrules.proving.sizes import Point, Setting, Trial, stated_sizes
from specrules.proving.trial_settings import MOST_TRIED, points_of
from specrules.quantity import CONTEXT, Unit, is_zero

_HOLDS = "holds for"
_OTHERS = ("shift", "when", "from the maker", _HOLDS)


@dataclass(frozen=True, slots=True)
class WrittenDifference:
    """One part of one line of limits that is not written alike; "" where one of them does not have it. `wider`: 0 or 1
    for which lets more pass at every usual size, None where that cannot be told. `by`: from how much to how much."""

    rule: str
    title: str
    group: str
    line: str
    when: str
    part: str
    texts: tuple[str, str]
    wider: int | None
    by: tuple[Decimal, Decimal] | None
    unit: Unit


@dataclass(frozen=True, slots=True)
class WrittenComparison:
    """All that differs. `alone`: rules that only one of the two has. `alike`: how many rules do not differ."""

    differences: tuple[WrittenDifference, ...]
    alone: tuple[tuple[str, ...], tuple[str, ...]]
    alike: int


def between_specifications(one: Specification, other: Specification) -> WrittenComparison:
    """The lines of limits of the rules that both specifications have, held against each other."""
    shared = [name for name in one.rules if name in other.rules]
    with localcontext(CONTEXT):
        found = tuple(each for name in shared for each in _Pair(one, other, name).differences())
    alone = (tuple(n for n in one.rules if n not in other.rules), tuple(n for n in other.rules if n not in one.rules))
    return WrittenComparison(found, alone, len(shared) - len({each.rule for each in found}))


class _Pair:
    """One rule as each of two specifications has it."""

    def __init__(self, one: Specification, other: Specification, name: str) -> None:
        self.specs = (one, other)
        self.rules: tuple[Rule, Rule] = (one.rules[name].governing[-1], other.rules[name].governing[-1])

    def differences(self) -> Iterator[WrittenDifference]:
        lines, others = ({line.name: line for line in rule.lines} for rule in self.rules)
        for name in (*lines, *(name for name in others if name not in lines)):
            pair = (lines.get(name), others.get(name))
            for part in dict.fromkeys(
                part for line in pair if line is not None for part in (*line.sets, *line.clears, *_OTHERS)
            ):
                texts = (_text(pair[0], part), _text(pair[1], part))
                if texts[0] != texts[1]:
                    yield self._written(name, part, pair, texts)

    def _written(
        self, name: str, part: str, pair: tuple[LimitLine | None, LimitLine | None], texts: tuple[str, str]
    ) -> WrittenDifference:
        rule = self.rules[0]
        formulas = [line.sets.get(part) for line in pair if line is not None]
        apart = list(self._apart(*formulas)) if len(formulas) == 2 else []
        which = {wider(part, Decimal(0), step) for step in apart if not is_zero(step)}
        line = pair[0] or pair[1]
        when = line.when.text if line is not None and line.when is not None else ""
        return WrittenDifference(
            rule=rule.name,
            title=rule.title,
            group=rule.group,
            line=name,
            when=when,
            part=part,
            texts=texts,
            wider=which.pop() if len(which) == 1 else None,
            by=(min(map(abs, apart)), max(map(abs, apart))) if apart and len(which) <= 1 else None,
            unit=rule.unit,
        )

    def _apart(self, one: Formula | None, other: Formula | None) -> Iterator[Decimal]:
        """How much more the second comes to than the first, at every usual size; nothing where that is not known."""
        if one is None or other is None:
            return
        for point in self._points(one, other):
            sizes = [
                _at(f, point, spec, rule) for f, spec, rule in zip((one, other), self.specs, self.rules, strict=True)
            ]
            if sizes[0] is None or sizes[1] is None:
                return
            yield sizes[1] - sizes[0]

    def _points(self, one: Formula, other: Formula) -> list[Point]:
        read: set[str] = set()
        for formula, spec in zip((one, other), self.specs, strict=True):
            read |= {n for each in behind((formula,), spec) for n in each.names if n in spec.measurands}
        sizes = stated_sizes(self.specs[0], ())
        return points_of(sorted(read & sizes.keys()), sizes, 1, MOST_TRIED)


def _at(formula: Formula, point: Point, spec: Specification, rule: Rule) -> Decimal | None:
    station = {axis: spec.axes[axis].first for axis in rule.each}
    try:
        return exact(evaluate(formula, Trial(spec, point, Setting({}, station, frozenset())), station))
    except NotEvaluable:
        return None


def _text(line: LimitLine | None, part: str) -> str:
    """What a line says of one part, its blanks evened out."""
    if line is None:
        return ""
    if part == _HOLDS:
        said = {validity.text: None for validity in line.holds.values()}
        return " or ".join(said)
    if part == "from the maker":
        return "yes" if line.from_the_maker else ""
    if part in line.clears:
        return NO_LIMIT
    formula = line.when if part == "when" else line.shift if part == "shift" else line.sets.get(part)
    return " ".join(Text(formula.text).split()) if formula is not None else ""
