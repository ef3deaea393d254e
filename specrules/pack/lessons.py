"""Lessons and exercises to their compiled parts. What they give as readings is read where sheets are."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple, Protocol

from specrules.document import Text, shown
from specrules.formula import Kind, Role
from specrules.pack.compiling import Compiler, check_source
from specrules.pack.layering import Thing
from specrules.pack.lesson_entries import ExerciseEntry, LessonEntry, MistakeEntry, QuestionEntry, VariationEntry
from specrules.pack.lesson_parts import Exercise, Lesson, Mistake, Offered, Question, Variation
from specrules.pack.specification import RuleChain
from specrules.quantity import NO_UNIT, Dimension, Exact, Refusal, Unit, read_written
from specrules.validation import SomeModel, not_a_word
from specrules.vocabulary import VERDICTS, Code

MOST_PLACES = 9
MOST_STEPS = 100_000
GIVEN = (Role.MEASURAND, Role.FACT)


class Entries(Protocol):
    """Everything of a section as all packs together leave it."""

    def __call__(self, section: str, model: type[SomeModel]) -> Mapping[str, SomeModel]: ...


def taught(
    compiler: Compiler,
    rules: Mapping[str, RuleChain | None],
    things: Mapping[str, Mapping[str, Thing]],
    entries: Entries,
) -> tuple[dict[str, Lesson], dict[str, Exercise]]:
    """The lessons and the exercises, each of the pack that wrote it or amended it last."""
    lessons, exercises = things["lessons"], things["exercises"]
    made = Lessons(compiler, rules, lessons)
    return (
        {n: made.lesson(e, lessons[n].key, lessons[n].last) for n, e in entries("lessons", LessonEntry).items()},
        {
            n: made.exercise(e, exercises[n].key, exercises[n].last)
            for n, e in entries("exercises", ExerciseEntry).items()
        },
    )


class Lessons(NamedTuple):
    """Compiles lessons and exercises of one specification. `rules` holds None for a rule that is itself at fault."""

    compiler: Compiler
    rules: Mapping[str, RuleChain | None]
    lessons: Mapping[str, object]

    def lesson(self, entry: LessonEntry, key: Text, pack: str) -> Lesson:
        """One lesson."""
        check_source(entry.source, f"{key} source", self.compiler)
        rules = self.compiler.known(entry.rules, self.rules, "rule", f"{key} rules")
        return Lesson(key, entry.title, entry.text, rules, pack, key.place)

    def exercise(self, entry: ExerciseEntry, key: Text, pack: str) -> Exercise:
        """One exercise; worth nothing where the compiler has faults."""
        if key in self.lessons:
            self.compiler.fault(key, key, Code.NAME_TAKEN, "is a lesson already", "another name")
        self.compiler.known((entry.lesson,), self.lessons, "lesson", f"{key} lesson")
        if not entry.questions:
            self.compiler.fault(key, key, Code.MISSING_KEY, "asks nothing", "questions: and at least one")
        return Exercise(
            name=key,
            title=entry.title,
            lesson=entry.lesson,
            task=entry.task,
            given=entry.given,
            vary=tuple(made for each in entry.vary if (made := self._variation(each, f"{key} vary"))),
            questions=tuple(self._question(q, f"{key} questions {n}") for n, q in enumerate(entry.questions, 1)),
            pack=pack,
            place=key.place,
        )

    def _question(self, entry: QuestionEntry, subject: str) -> Question:
        compiler = self.compiler
        ways = {"answer": entry.answer, "uncertainty of": entry.uncertainty_of, "verdict of": entry.verdict_of}
        given = [word for word, there in ways.items() if there]
        if len(given) != 1:
            said = f"has {' and '.join(given) or 'none of answer, uncertainty of, verdict of'}"
            compiler.fault(entry.place, subject, Code.KEYS_DISAGREE, f"{said} where one of them says what is right")
        text = entry.answer or entry.uncertainty_of
        unit = compiler.unit(entry.unit, f"{subject} unit") or NO_UNIT
        if text and not entry.choices:
            places = self._whole(entry.places or Text("", entry.place), f"{subject} places", MOST_PLACES)
        else:
            places = 0
            if (entry.unit and not text) or entry.places:
                key, asked = "places" if entry.places else "unit", "choice" if entry.choices else "verdict"
                said = f"is of a figure, and a {asked} is asked"
                compiler.fault(entry.places or entry.unit, f"{subject} {key}", Code.KEYS_DISAGREE, said)
        formula = compiler.formula(text, f"{subject} {given[0]}", dimension=unit.dimension) if text else None
        if entry.verdict_of:
            self._station(entry, subject)
        elif entry.at:
            said = "is the station of a verdict, and none is asked"
            compiler.fault(next(iter(entry.at)), f"{subject} at", Code.KEYS_DISAGREE, said)
        return Question(
            ask=entry.ask,
            formula=formula,
            uncertainty=bool(entry.uncertainty_of),
            rule=entry.verdict_of,
            at={str(axis): str(label) for axis, label in entry.at.items()},
            unit=unit,
            places=places,
            choices=self._choices(entry, unit, subject),
            hint=entry.hint,
            working=entry.working,
            mistakes=tuple(self._mistake(each, unit, entry, subject) for each in entry.mistakes),
            place=entry.place,
        )

    def _station(self, entry: QuestionEntry, subject: str) -> None:
        """Whether the verdict's station has a label on each axis of the rule, and on no other."""
        known = self.compiler.known((entry.verdict_of,), self.rules, "rule", f"{subject} verdict of")
        chain = self.rules[known[0]] if known else None
        if chain is None:
            return
        each = chain.governing[-1].each
        self.compiler.known(entry.at, each, f"axis of {chain.name}", f"{subject} at")
        for axis in each:
            if axis not in entry.at:
                said = f"does not say which {axis}"
                self.compiler.fault(entry.verdict_of, subject, Code.STATION_NOT_NAMED, said, f"at: {{{axis}: LABEL}}")

    def _choices(self, entry: QuestionEntry, unit: Unit, subject: str) -> tuple[Offered, ...]:
        """What there is to choose from; only what an answer is the size of can be chosen by it."""
        where, compiler = f"{subject} choices", self.compiler
        if entry.choices and (not entry.answer or len(entry.choices) == 1):
            said = "is no choice: there is one thing" if entry.answer else "needs an answer that its size is near to"
            compiler.fault(next(iter(entry.choices)), where, Code.KEYS_DISAGREE, said)
        sizes = {name: compiler.formula(text, where, dimension=unit.dimension) for name, text in entry.choices.items()}
        return tuple(Offered(" ".join(name.split()), size) for name, size in sizes.items() if size is not None)

    def _mistake(self, entry: MistakeEntry, unit: Unit, of: QuestionEntry, subject: str) -> Mistake:
        where = f"{subject} mistakes"
        words = VERDICTS if of.verdict_of else tuple(map(str, of.choices))
        if not words:
            formula = self.compiler.formula(entry.answer, where, dimension=unit.dimension, kind=Kind.QUANTITY)
            return Mistake(formula, "", entry.shows, entry.place)
        if entry.answer not in words:
            self.compiler.fault(entry.answer, where, *not_a_word(entry.answer, words))
        return Mistake(None, str(entry.answer), entry.shows, entry.place)

    def _variation(self, entry: VariationEntry, subject: str) -> Variation | None:
        compiler, dimensions = self.compiler, dict[Dimension, None]()
        counts = {fact for axis in compiler.scope.axes.values() for fact in (axis.count, *axis.kinds)}
        numbers = {n: d for n, d in compiler.names.items() if d.role in GIVEN and d.kind is Kind.QUANTITY}
        given = {name: declared for name, declared in numbers.items() if name not in counts}
        for name in entry.names:
            if name in given:
                dimensions[given[name].dimension._replace(point=False)] = None
            else:
                said = f"{shown(name)} is no measurand, and no fact that is a number"
                compiler.fault(name, f"{subject} names", Code.UNKNOWN_NAME, said, compiler.nearest(name, given))
        steps = self._whole(entry.steps, f"{subject} steps", MOST_STEPS)
        if len(dimensions) > 1:
            said = f"moves {' and '.join(each.words() for each in dimensions)} by one step"
            compiler.fault(entry.place, subject, Code.WRONG_UNIT, said, "an entry for each")
        if len(dimensions) != 1:
            return None
        by = read_written(entry.by, unit=None, dimension=next(iter(dimensions)))
        if isinstance(by, Refusal):
            compiler.refused(entry.by, by, f"{subject} by")
        elif not isinstance(by, Exact) or by.value <= 0:
            compiler.fault(entry.by, f"{subject} by", Code.NOT_A_NUMBER, f"{shown(entry.by)} is no step", "0.0001 in")
        else:
            return Variation(tuple(map(str, entry.names)), by.value, steps, entry.together == "yes", entry.place)
        return None

    def _whole(self, text: Text, subject: str, most: int) -> int:
        if text.isdecimal() and text.isascii() and len(text) <= len(str(most)) and int(text) <= most:
            return int(text)
        said = f"{shown(text)} is no whole number up to {most}" if text else "is not said"
        self.compiler.fault(text, subject, Code.NOT_WHOLE, said, f"a whole number, {most} at most")
        return 0
