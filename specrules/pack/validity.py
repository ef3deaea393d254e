"""What packs say their figures hold for, compiled. A figure's validity is its author's: nothing merges across packs.

Within a pack keys add up inward, from its heading over the group and the rule to the line; an inner key replaces the
same one. What a pack does not say at all is as what it amends has it.

A validity belongs to each figure of a line, not to the line: the least may be one pack's and the most another's. A part
that is no figure is told apart from one that nobody sets. Where the wear limit that decides is no figure, the limit of
new work does not stand in for it. An amendment's `holds for` answers for figures that stand only where it brings none
of its own to that line or rule.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from functools import reduce
from types import MappingProxyType
from typing import NamedTuple

from specrules.document import Fields, Items, Text, shown
from specrules.formula import Axis, Declared, Formula, Kind, Role
from specrules.formula import operators as op
from specrules.formula.lowering import Lowering
from specrules.formula.syntax import Name
from specrules.pack.compiling import Compiler
from specrules.pack.holding_parts import ANYTHING, HoldsFor, Validity
from specrules.pack.line_entries import ANY
from specrules.pack.merging import merged, retires
from specrules.pack.pack_reading import Pack
from specrules.quantity import NO_UNIT, NUMBER, Bracket, Exact, Refusal, Unit, read_written
from specrules.validation import not_a_word
from specrules.vocabulary import LIMIT_PARTS, SIDES, Code

FIGURES = (*LIMIT_PARTS, "shift")
"""What an author of a line may write figures under."""
HOLDS = Text("holds for")

Said = Mapping[Text, tuple[Text, ...]]
"""Things by which figures hold -> the labels or the range that they hold for, as written."""


class Layer(NamedTuple):
    """What one pack writes of a rule, and the file that it stands in."""

    pack: str
    file: str
    tree: Fields


class LineHolding(NamedTuple):
    """A line of limits as some layers together leave it, as written: for what each of its figures holds; and the line
    below the last figures, in force where `own`, their validity, fails."""

    tree: Fields
    holds: Mapping[str, Validity]
    own: Validity | None = None
    below: LineHolding | None = None

    def amended(self, node: Fields, here: Validity, stated: bool, otherwise: Validity) -> LineHolding:
        """The line with what one more pack writes. `here`: what that pack says it holds for; `stated`: it does so for
        this line, or for a rule to which it adds no figure, so that it answers for the figures that stand."""
        tree = merged(self.tree, node)
        assert isinstance(tree, Fields)
        mine = _figures(node)
        if not mine:
            return self._replace(tree=tree, holds=dict.fromkeys(self.holds, here) if stated else self.holds)
        usual = next(iter(self.holds.values()), otherwise)
        holds = {**self.holds, **{part: here if here.keys else self.holds.get(part, usual) for part in mine}}
        if all(each.any for each in here.keys):
            return LineHolding(tree, holds, self.own, self.below)
        return LineHolding(tree, holds, here, self)


@dataclass(slots=True)
class Validities:
    """Compiles what the packs of one specification say their figures hold for, each statement once for like stations.

    `bare` says what a bare number means where a text stands.
    """

    compiler: Compiler
    packs: Mapping[str, Pack]
    bare: Callable[[Text], Unit | None]
    _keys: dict[tuple[object, ...], HoldsFor | None] = field(default_factory=dict)
    _made: dict[tuple[object, ...], Validity] = field(default_factory=dict)

    def check_headings(self) -> None:
        """Read what headings say, whether a rule stands below them or not."""
        for pack in self.packs.values():
            for file in pack.files:
                self._stated(pack, file, (), (), "")

    def of_lines(self, layers: Sequence[Layer], each: tuple[str, ...], rule: str) -> Mapping[str, LineHolding]:
        """For each line of a rule, by name, what its figures hold for."""
        found: dict[str, LineHolding] = {}
        amended = ANYTHING
        for number, layer in enumerate(layers):
            pack, of_rule = self.packs[layer.pack], _said(layer.tree)
            whole = self._stated(pack, layer.file, (of_rule,), each, rule)
            lines = _lines(layer.tree)
            answers = number > 0 and bool(of_rule) and not any(map(_figures, lines.values()))
            for name, node in lines.items():
                if retires(node):
                    found.pop(name, None)
                    continue
                of_line = _said(node)
                here = self._stated(pack, layer.file, (of_rule, of_line), each, f"{rule} limits {name}")
                if name in found:
                    found[name] = found[name].amended(node, here, answers or bool(of_line), amended)
                else:
                    found[name] = LineHolding(node, dict.fromkeys(_figures(node), here if here.keys else amended))
            if answers:
                for name in found.keys() - lines.keys():
                    found[name] = found[name]._replace(holds=dict.fromkeys(found[name].holds, whole))
            amended = whole if whole.keys else amended
        return found

    def _stated(self, pack: Pack, file: str, inner: Sequence[Said], each: tuple[str, ...], subject: str) -> Validity:
        """What a pack says in all, its headings first. `subject`: of what the inner statements are."""
        outer = {"pack holds for": pack.head.holds_for, f"{pack.groups.get(file, '')} holds for": pack.holds.get(file)}
        levels = [*outer.items(), *((f"{subject} holds for", said) for said in inner)]
        said = {str(key): (key, some, where) for where, level in levels for key, some in (level or {}).items()}
        headed = frozenset(key for level in outer.values() for key in level or ())
        made = [
            self._key(key, some, each, where, heading=key in headed and where in outer)
            for key, some, where in said.values()
        ]
        keys = tuple(one for one in made if one is not None)
        known = (pack.name, *map(id, keys))
        if known not in self._made:
            self._made[known] = Validity(keys, pack.name, pack.head.title)
        return self._made[known]

    def _key(
        self, key: Text, some: tuple[Text, ...], each: tuple[str, ...], subject: str, heading: bool
    ) -> HoldsFor | None:
        known = (key, key.place, each)
        if known not in self._keys:
            self._keys[known] = _Key(self, key, some, each, subject, heading).compiled()
        return self._keys[known]


class _Key(NamedTuple):
    """One thing by which figures hold, while it is compiled."""

    of: Validities
    key: Text
    some: tuple[Text, ...]
    each: tuple[str, ...]
    subject: str
    heading: bool

    def compiled(self) -> HoldsFor | None:
        """The key; None where it is at fault."""
        compiler, key = self.of.compiler, self.key
        named, axis = compiler.names.get(key), compiler.scope.axes.get(key)
        if key in compiler.broken or (not self.some and not self._fault(key, Code.NO_VALUE, "says nothing", ANY)):
            return None
        if axis is not None:
            return self._of_axis(axis)
        if named is None or named.role is Role.LIMIT:
            known = [
                *(n for n, each in compiler.names.items() if each.role is not Role.MEASURAND),
                *compiler.scope.axes,
            ]
            self._fault(
                key, Code.UNKNOWN_NAME, f"{shown(key)} is no fact, figure or axis", compiler.nearest(key, known)
            )
        elif named.role is Role.MEASURAND:
            said = f"{shown(key)} is measured, and figures hold by facts, labels and figures"
            self._fault(key, Code.CONDITION_ON_MEASURED, said, "a figure of it")
        elif named.kind is Kind.CHOICE:
            return self._labelled(named.choices, named)
        elif named.kind is Kind.QUANTITY:
            return self._sized(named)
        else:
            self._fault(key, Code.WRONG_KIND, f"{shown(key)} is a text or groups", "a fact of choices or numbers")
        return None

    def _of_axis(self, axis: Axis) -> HoldsFor | None:
        bound = axis.name in self.each or axis.of in self.each
        if self.heading or not (bound or any(axis.name == a for one in self.each for a in self._groups(one))):
            said = (
                "names an axis that the rule does not lie along" if not self.heading else "names an axis in a heading"
            )
            self._fault(self.key, Code.WRONG_AXIS, said, "it on a rule that lies along it" if self.heading else "")
            return None
        return self._labelled(axis.names, None)

    def _groups(self, axis: str) -> tuple[str, ...]:
        return self.of.compiler.scope.grouped_by(axis)

    def _fault(self, at: Text, code: Code, said: str, write: str = "") -> bool:
        self.of.compiler.fault(at, f"{self.subject} {self.key}", code, said, write)
        return False

    def _anything(self) -> HoldsFor | None:
        """The key that keeps nothing out; None where more than that is said."""
        for word in self.some[1:]:
            self._fault(word, Code.KEYS_DISAGREE, f"stands beside {shown(ANY)}", f"{ANY} alone")
        return None if self.some[1:] else self._made((), None, None, None, None)

    def _labelled(self, choices: tuple[str, ...], named: Declared | None) -> HoldsFor | None:
        if ANY in self.some:
            return self._anything()
        wrong = [text for text in self.some if choices and text not in choices]
        for text in wrong:
            self._fault(text, *not_a_word(text, choices))
        for number, text in enumerate(self.some):
            if text in self.some[:number]:
                wrong.append(text)
                self._fault(text, Code.DEFINED_TWICE, f"{shown(text)} stands twice", "it once")
        if wrong:
            return None
        said: op.Label = self._lowering(named).label(Name(str(self.key), (), 0))
        asked: list[op.Condition] = [op.Equality(said, op.Literal(str(text)), True) for text in self.some]
        return self._made(
            tuple(map(str, self.some)), None, None, None, reduce(lambda a, b: op.Junction("or", a, b), asked), named
        )

    def _sized(self, named: Declared) -> HoldsFor | None:
        if ANY in self.some:
            return self._anything()
        text, *more = self.some
        for other in more:
            self._fault(other, Code.NOT_A_RANGE, "is one of several, and sizes are one range", "2.7..4.6 in")
        number = named.dimension == NUMBER
        found = read_written(text, unit=NO_UNIT if number else self.of.bare(text), dimension=named.dimension)
        if isinstance(found, Refusal):
            self.of.compiler.refused(text, found, f"{self.subject} {self.key}")
            return None
        if number and isinstance(found, Exact) and found.U is None:
            low, high = found.value, found.value
        elif isinstance(found, Bracket) and found.low is not None and found.high is not None:
            low, high = found.low, found.high
        else:
            self._fault(text, Code.NOT_A_RANGE, f"{shown(text)} is no range with two ends", "2.7..4.6 in")
            return None
        if more:
            return None
        size = self._lowering(named).quantity(Name(str(self.key), (), 0))
        facts = (str(self.key),) if named.role is Role.FACT else ()
        ends = [op.Comparison(sign, size, end, facts) for sign, end in ((">=", low), ("<=", high))]
        return self._made((), low, high, found.unit, op.Junction("and", *ends), named)

    def _along(self, named: Declared | None) -> tuple[str, ...]:
        """The axes of what is asked that the rule's stations don't bind."""
        axes = self.of.compiler.scope.axes
        of = named.axes if named is not None else (str(self.key),)
        return tuple(axis for axis in of if axis not in self.each and axes[axis].of not in self.each)

    def _lowering(self, named: Declared | None) -> Lowering:
        return Lowering(self.of.compiler.scope, (*self.each, *self._along(named)))

    def _made(
        self,
        labels: tuple[str, ...],
        low: Decimal | None,
        high: Decimal | None,
        unit: Unit | None,
        asked: op.Condition | None,
        named: Declared | None = None,
    ) -> HoldsFor:
        if asked is None:
            return HoldsFor(str(self.key), (), None, None, None, None, (), self.key.place)
        along = self._along(named)
        text = f"{self.key}: {', '.join(self.some)}"
        hanging = op.together([op.hanging(asked)], along)
        formula = Formula(
            text, (*self.each, *along), Kind.CONDITION, NUMBER, frozenset({str(self.key)}), True, hanging, asked
        )
        return HoldsFor(str(self.key), labels, low, high, unit, formula, along, self.key.place)


_NOTHING_SAID: Said = MappingProxyType({})


def _said(tree: Fields) -> Said:
    """What stands under `holds for` there."""
    node = tree.get(HOLDS)
    if not isinstance(node, Fields):
        return _NOTHING_SAID
    listed = {key: some if isinstance(some, Items) else (some,) for key, some in node.items()}
    return {key: tuple(each for each in some if isinstance(each, Text)) for key, some in listed.items()}


def _figures(line: Fields) -> list[str]:
    """The parts that a pack writes figures for in a line; a class is of both limits."""
    of_class = SIDES if Text("class") in line else ()
    return [part for part in FIGURES if Text(part) in line or part in of_class]


def _lines(tree: Fields) -> Mapping[str, Fields]:
    """The lines of limits in what a pack writes of a rule, by name."""
    limits = tree.get(Text("limits"))
    lines = [line for line in limits if isinstance(line, Fields)] if isinstance(limits, Items) else []
    return {str(name): line for line in lines if isinstance(name := line.get(Text("name")), Text)}
