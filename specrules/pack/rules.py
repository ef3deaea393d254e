"""One rule, as one pack leaves it, to its compiled part: formula, limits, words, remedies, worked examples.

A rule of yes and no is the number 1 or 0 with a least of 1. Worlds, packs beside it, comparing and records know no
second kind of rule; only what is printed differs.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence, Set
from typing import NamedTuple

from specrules.document import Text, placed, shown
from specrules.document.text import fields_at
from specrules.formula import Declared, Formula, Role
from specrules.formula.formula_reading import YES_OR_NO
from specrules.formula.operators import Conditional
from specrules.pack.compiling import Compiler, check_source, source_of
from specrules.pack.entries import SignOffEntry
from specrules.pack.figure_compiling import unit_shown
from specrules.pack.layering import WORD
from specrules.pack.limit_lines import compile_lines
from specrules.pack.line_entries import LineEntry
from specrules.pack.rule_entries import BOTH, OTHERWISE, ExampleEntry, MarginEntry, RuleEntry, StepEntry
from specrules.pack.specification import HouseMargin, Rule, SignOff, Sold, Step, Worked
from specrules.pack.validity import Layer, Validities
from specrules.pack.wording import disagreement, sides
from specrules.pack.worked_examples import worked_example
from specrules.quantity import NO_UNIT, YES_NO_UNIT, Dimension, Exact, Refusal, Unit, read_written
from specrules.vocabulary import Code


class RuleAuthor(NamedTuple):
    """What a rule's part knows besides its entry: who wrote it."""

    key: Text
    pack: str
    group: str
    reasons: tuple[tuple[str, str], ...] = ()
    new: bool = True  # the pack's own rule, not an amendment of another's
    margins: tuple[tuple[str, MarginEntry], ...] = ()  # by pack
    layers: tuple[Layer, ...] = ()  # what each pack writes of it, weakest first


class Rules(NamedTuple):
    """Compiles rules and sign-offs of one specification."""

    compiler: Compiler
    units: Mapping[str, Unit]
    owners: Mapping[str, str]
    needs: Mapping[str, object]
    retired: Set[str]
    hold_points: tuple[str, ...]
    validities: Validities
    sold: Mapping[str, Sold]

    def rule(self, entry: RuleEntry, by: RuleAuthor) -> Rule | None:
        """The rule; None where its formula or its axes are at fault."""
        compiler, name = self.compiler, str(by.key)
        each = compiler.axes(entry.each, f"{name} each")
        limitless = entry.limits == () and entry.from_the_maker != "yes"
        read = compiler.yes_no if limitless else compiler.formula
        formula = None if each is None else read(entry.formula, f"{name} formula", each)
        yes_no = formula is not None and is_yes_no(formula)
        words = (WRONG, WRONG) if yes_no else self._words(entry.words, name)
        if words and not yes_no and self._without_side(entry, words, name):
            return None
        if by.new and not entry.worked:
            compiler.fault(by.key, name, Code.MISSING_KEY, "has no worked examples", "worked: and at least one")
        check_source(entry.source, f"{name} source", compiler)
        if each is None or not words:
            return None
        importance = self._importance(entry, by.key, words, each)
        hold_point, needs = self._hold_point(entry.hold_point, name), self._needs(entry.needs, name)
        applies_when = compiler.condition(entry.applies_when, f"{name} applies when", each)
        may_be_negative = compiler.allowed(entry.may_be_negative, f"{name} may be negative", each)
        if formula is None:
            return None
        if entry.holds_for and not entry.limits and by.new:  # an amendment may leave it without any
            said = "has no figures, so that none of them hold for anything"
            compiler.fault(next(iter(entry.holds_for)), f"{name} holds for", Code.KEYS_DISAGREE, said)
        holding = self.validities.of_lines(by.layers, each, name)
        return Rule(
            name=name,
            title=entry.title,
            group=by.group,
            pack=by.pack,
            each=each,
            formula=formula,
            unit=YES_NO_UNIT if yes_no else self._unit(entry, formula, by.key),
            lines=compile_lines(
                (_has_to_hold(by.key),) if yes_no else entry.limits or (),
                formula.dimension,
                each,
                compiler,
                self.owners,
                name,
                holding,
            ),
            limits_wanted=yes_no or self._limits_wanted(entry, by.key),
            from_the_maker=entry.from_the_maker == "yes",
            words=words,
            importance=importance,
            hold_point=hold_point,
            applies_when=applies_when,
            needs=needs,
            because=self._by_word(entry.because, words, f"{name} because"),
            remedy=self._remedy(entry.remedy, words, formula, each, name),
            otherwise=self._otherwise(entry.remedy, name),
            caution=entry.caution,
            does_not_test=entry.does_not_test,
            note=entry.note,
            source=source_of(entry.source),
            may_be_negative=may_be_negative,
            worked=self._worked(entry.worked, words, each, by),
            reasons=by.reasons,
            margins=self._margins(by, formula.dimension),
            place=by.key.place,
        )

    def sign_off(self, entry: SignOffEntry, key: Text, group: str) -> SignOff | None:
        """The sign-off; None where its importance is at fault."""
        compiler = self.compiler
        at = compiler.axes(entry.at, f"{key} at") or ()
        check_source(entry.source, f"{key} source", compiler)
        importance = compiler.importance(entry.importance or _MAJOR, f"{key} importance", at)
        if importance is None:
            return None
        return SignOff(
            name=key,
            question=entry.question,
            group=group,
            at=at,
            hold_point=self._hold_point(entry.hold_point, key),
            importance=importance,
            applies_when=compiler.condition(entry.applies_when, f"{key} applies when", at),
            because=entry.because,
            caution=entry.caution,
            source=source_of(entry.source),
            place=key.place,
        )

    def _unit(self, entry: RuleEntry, formula: Formula, key: Text) -> Unit:
        if entry.unit:
            return self.compiler.unit(entry.unit, f"{key} unit", formula.dimension) or NO_UNIT
        found = unit_shown(formula, self.units)
        if found is None and not self.compiler.broken.intersection(formula.names):
            said = f"does not say the unit to show its {formula.dimension.words()} in"
            self.compiler.fault(key, str(key), Code.UNIT_MISSING, said, "unit: and its symbol")
        return found or NO_UNIT

    def _limits_wanted(self, entry: RuleEntry, key: Text) -> bool:
        if entry.limits == () and entry.from_the_maker != "yes":
            said = "has no limits"
            self.compiler.fault(key, str(key), Code.MISSING_KEY, said, "limits: and lines of them, or limits: none")
        return entry.limits is not None

    def _words(self, text: Text, name: str) -> tuple[str, str] | tuple[()]:
        low, slash, high = text.partition("/")
        if not (slash and low.strip() and high.strip()) or low.strip() == high.strip() or "/" in high:
            said = f"{shown(text)} is no pair of words"
            self.compiler.fault(text, f"{name} words", Code.WRONG_SHAPE, said, "a pair such as tight/loose")
            return ()
        return low.strip(), high.strip()

    def _importance(
        self, entry: RuleEntry, key: Text, words: tuple[str, str], each: tuple[str, ...]
    ) -> dict[str, Formula]:
        written = dict(entry.importance)
        if not written and entry.limits is None:
            written = {Text(BOTH): Text("minor")}
        if BOTH in written and len(written) == 1:
            found = self.compiler.importance(next(iter(written.values())), f"{key} importance", each)
            return dict.fromkeys(words, found) if found else {}
        by_word = self._by_word(written, words, f"{key} importance")
        if missing := [word for word in dict.fromkeys(words) if word not in by_word]:
            said = f"has no importance for {' and '.join(missing)}" if by_word else "has no importance"
            self.compiler.fault(key, str(key), Code.MISSING_KEY, said, "critical, major or minor")
        read = {w: self.compiler.importance(text, f"{key} importance {w}", each) for w, text in by_word.items()}
        return {word: formula for word, formula in read.items() if formula is not None}

    def _without_side(self, entry: RuleEntry, words: tuple[str, str], name: str) -> bool:
        """Whether an amendment of `words` leaves what another file says of the sides without any: its own fault."""
        said: dict[str, list[str]] = {}
        for key, written in (("importance", entry.importance), ("because", entry.because), ("remedy", entry.remedy)):
            for word in written:
                if word not in (*words, BOTH, OTHERWISE) and word.place.file != entry.words.place.file:
                    said.setdefault(str(word), []).append(key)
        if not (said and entry.words.place.line):
            return False
        keys = " and ".join(dict.fromkeys(key for some in said.values() for key in some))
        told = f"{shown(entry.words)} leaves {keys} of {' and '.join(said)} without a side"
        write = f"{'/'.join(said)} as it was, or {keys} anew"
        self.compiler.fault(entry.words, f"{name} words", Code.WRONG_AMENDMENT, told, write)
        return True

    def _by_word(self, written: Mapping[Text, Text], words: tuple[str, str], subject: str) -> dict[str, Text]:
        self._check_words(written, words, subject)
        return {str(word): text for word, text in written.items() if word in words}

    def _check_words(self, written: Iterable[Text], words: Iterable[str], subject: str) -> None:
        words = tuple(dict.fromkeys(words))
        for word in written:
            if word not in words:
                said = f"{shown(word)} is no side of this rule"
                self.compiler.fault(
                    word, subject, Code.NOT_A_CHOICE, said, self.compiler.nearest(word, words) or " or ".join(words)
                )

    def _remedy(
        self,
        written: Mapping[Text, tuple[StepEntry, ...]],
        words: tuple[str, str],
        formula: Formula,
        each: tuple[str, ...],
        name: str,
    ) -> dict[str, tuple[Step, ...]]:
        self._check_words(written, (*words, OTHERWISE), f"{name} remedy")
        step = formula.dimension._replace(point=False)
        made = {
            str(word): tuple(self._step(each_step, f"{name} remedy {word}", each, step) for each_step in steps)
            for word, steps in written.items()
        }
        either = tuple(each_step for each_step in made.pop(OTHERWISE, ()) if each_step.one_of)
        if either:  # what is sold may be chosen for either side
            made = {word: (*made.get(word, ()), *either) for word in words}
        return {word: steps for word, steps in made.items() if word in words}

    def _step(self, entry: StepEntry, subject: str, each: tuple[str, ...], dimension: Dimension) -> Step:
        """One step; one that chooses among sizes may name what is sold, and says where the size stands."""
        also: tuple[Declared, ...] = ()
        if entry.one_of and self.compiler.known((entry.one_of,), self.sold, "thing that is sold", f"{subject} one of"):
            also = (Declared(str(entry.one_of), Role.LIMIT, (), self.sold[entry.one_of].sets[0].unit.dimension),)
            if not entry.moves:
                said = "does not say by how much a size moves the value"
                self.compiler.fault(entry.one_of, f"{subject} one of", Code.MISSING_KEY, said, "moves:")
            elif entry.one_of not in WORD.findall(entry.moves):
                said = f"moves by the same whatever the size of {entry.one_of} is"
                self.compiler.fault(entry.moves, f"{subject} moves", Code.KEYS_DISAGREE, said, f"{entry.one_of} in it")
            if f"{{{entry.one_of}}}" not in entry.do:
                said = "does not tell the size"
                self.compiler.fault(entry.do, f"{subject} do", Code.MISSING_KEY, said, f"{{{entry.one_of}}} in it")
        made: list[Formula | None] = []
        for at, written in sides(entry.moves):  # it may be given for both systems of units
            text = Text(written, placed(entry.moves, at))
            made.append(self.compiler.formula(text, f"{subject} moves", each, dimension=dimension, also=also))
        if len(made) > 1 and all(made) and (refused := disagreement(entry.moves)) is not None:
            self.compiler.refused(entry.moves, refused, f"{subject} moves")
        moves, in_metric = (*made, None, None)[:2]
        return Step(entry.do, moves, str(entry.one_of) if also else "", in_metric)

    def _otherwise(self, written: Mapping[Text, tuple[StepEntry, ...]], name: str) -> str:
        steps = [step for step in written.get(Text(OTHERWISE), ()) if not step.one_of]
        for step in steps:
            if step.moves:
                said = "is for where no step is enough"
                self.compiler.fault(step.moves, f"{name} remedy otherwise", Code.KEYS_DISAGREE, said)
        return Text(" ".join(step.do for step in steps), steps[0].do.place) if steps else ""

    def _margins(self, by: RuleAuthor, dimension: Dimension) -> tuple[HouseMargin, ...]:
        found: list[HouseMargin] = []
        for pack, entry in by.margins:
            subject, text = f"margins {by.key} inward", entry.inward
            amount = read_written(text, unit=None, dimension=dimension._replace(point=False))
            if isinstance(amount, Refusal):
                self.compiler.refused(text, amount, subject)
            elif not isinstance(amount, Exact) or amount.U is not None or amount.value <= 0:
                said = f"{shown(text)} is no amount above 0 by which limits are drawn in"
                self.compiler.fault(text, subject, Code.WRONG_RANGE, said, "one amount, such as 0.0002 in")
            else:
                found.append(HouseMargin(pack, amount.value, str(text), entry.makers_too == "yes", entry.place))
        return tuple(found)

    def _worked(
        self, entries: Sequence[ExampleEntry], words: tuple[str, str], each: tuple[str, ...], by: RuleAuthor
    ) -> tuple[Worked, ...]:
        made = (worked_example(entry, words, each, by.key, by.pack, self.compiler) for entry in entries)
        return tuple([worked for worked in made if worked is not None])

    def _hold_point(self, name: Text, subject: str) -> str:
        """Its hold point; where none is said, the last of all waits for it."""
        if not name:
            return self.hold_points[-1] if self.hold_points else ""
        return next(iter(self.compiler.known((name,), self.hold_points, "hold point", f"{subject} hold point")), "")

    def _needs(self, names: Iterable[Text], subject: str) -> tuple[str, ...]:
        kept = [name for name in names if name not in self.retired]
        for name in kept:
            if name == subject:
                self.compiler.fault(name, f"{subject} needs", Code.CIRCULAR, "needs itself")
        return self.compiler.known(kept, self.needs, "sign-off or rule", f"{subject} needs")


_MAJOR = Text("major")
WRONG = "wrong"
"""The side of a rule of yes and no."""


def is_yes_no(formula: Formula) -> bool:
    """Whether a formula is a condition, as the quantity 1 or 0."""
    return isinstance(formula.operators, Conditional) and formula.operators[1:] == YES_OR_NO


def _has_to_hold(key: Text) -> LineEntry:
    """The one limit of a rule of yes and no."""
    line = fields_at(key.place)
    line[Text("name", key.place)] = Text("yes", key.place)
    line[Text("least", key.place)] = Text("1", key.place)
    return LineEntry.model_validate(line)
