"""What a tolerance pack holds for teaching: lessons, and exercises whose answers the program works out itself."""

from typing import Annotated

from specrules.document import Text
from specrules.pack.entries import SourceEntry
from specrules.pack.entry import Entry, part
from specrules.pack.leaves import NOTHING, Free, Label, Leaf, Name, Names, Prose, Proses, Written, YesNo

Whole = Annotated[Text, Leaf(schema=("integer",))]


class LessonEntry(Entry):
    """What a learner reads before the exercises."""

    title: Prose = part(description="what it is about, for a reader")
    text: Proses = part(description="its paragraphs")
    rules: Names = part((), description="rules that it explains")
    source: SourceEntry = part(description="where what it says comes from")


class MistakeEntry(Entry):
    """A likely wrong answer."""

    answer: Written = part(description="the formula that leads to it, or the wrong verdict")
    shows: Prose = part(description="what was done wrong, and how to do it right, without the answer")


class QuestionEntry(Entry):
    """One question: `answer`, `uncertainty of` or `verdict of` says how the right answer is worked out."""

    ask: Prose = part(description="the question")
    answer: Written = part(NOTHING, description="the formula of the right answer, with a label for each axis")
    uncertainty_of: Written = part(NOTHING, description="the formula whose expanded uncertainty (k = 2) is asked")
    verdict_of: Name = part(NOTHING, description="the rule whose verdict is asked")
    at: dict[Name, Label] = part({}, description="the station of the verdict, by axis")
    unit: Prose = part(NOTHING, description="the unit that is asked for")
    places: Whole = part(NOTHING, description="the decimals that are asked for")
    working: Prose = part(NOTHING, description="how it is worked out, shown with the answer")
    mistakes: tuple[MistakeEntry, ...] = part((), description="likely wrong answers")


class VariationEntry(Entry):
    """How a seed changes the given figures: by whole steps up or down."""

    names: Names = part(description="measurands, and facts that are numbers")
    by: Written = part(description="one step, such as 0.0001 in")
    steps: Whole = part(description="the most steps, either way")
    together: YesNo = part(NOTHING, description="yes: all of them by the same; else each figure by its own")


class ExerciseEntry(Entry):
    """Some readings and questions about them."""

    title: Prose = part(description="what it is about, for a reader")
    lesson: Name = part(description="the lesson that it belongs to")
    task: Prose = part(NOTHING, description="what to know before the readings")
    given: Free = part(description="facts and readings, as in a sheet")
    vary: tuple[VariationEntry, ...] = part((), description="what a seed changes")
    questions: tuple[QuestionEntry, ...] = part(description="the questions, in order")
