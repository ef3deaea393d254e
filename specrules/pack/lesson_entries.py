"""What a tolerance pack holds for teaching: lessons, and exercises whose answers the program works out itself."""

from pydantic import Field

from specrules.pack.line_entries import SourceEntry
from specrules.validation import FileModel
from specrules.validation.texts import NOTHING, Free, Label, Name, Names, Prose, Proses, Whole, Written, YesNo


class LessonEntry(FileModel):
    """What a learner reads before the exercises."""

    title: Prose = Field(description="what it is about, for a reader")
    text: Proses = Field(description="its paragraphs")
    rules: Names = Field((), description="rules that it explains")
    source: SourceEntry = Field(description="where what it says comes from")


class MistakeEntry(FileModel):
    """A likely wrong answer."""

    answer: Written = Field(description="the formula that leads to it, or the wrong verdict or choice")
    shows: Prose = Field(description="what was done wrong, and how to do it right, without the answer")


class QuestionEntry(FileModel):
    """One question: `answer`, `uncertainty of` or `verdict of` says how the right answer is worked out."""

    ask: Prose = Field(description="the question")
    answer: Written = Field(NOTHING, description="the formula of the right answer, with a label for each axis")
    uncertainty_of: Written = Field(NOTHING, description="the formula whose expanded uncertainty (k = 2) is asked")
    verdict_of: Name = Field(NOTHING, description="the rule whose verdict is asked")
    at: dict[Name, Label] = Field(default_factory=dict, description="the station of the verdict, by axis")
    unit: Prose = Field(NOTHING, description="the unit that is asked for")
    places: Whole = Field(NOTHING, description="the decimals that are asked for")
    choices: dict[Label, Written] = Field(
        default_factory=dict, description="what to choose from, each with its size; right is the nearest to the answer"
    )
    hint: Prose = Field(NOTHING, description="what helps a learner on who asks for it, without the answer")
    working: Prose = Field(NOTHING, description="how it is worked out, shown with the answer")
    mistakes: tuple[MistakeEntry, ...] = Field((), description="likely wrong answers")


class VariationEntry(FileModel):
    """How a seed changes the given figures: by whole steps up or down."""

    names: Names = Field(description="measurands, and facts that are numbers")
    by: Written = Field(description="one step, such as 0.0001 in")
    steps: Whole = Field(description="the most steps, either way")
    together: YesNo = Field(NOTHING, description="yes: all of them by the same; else each figure by its own")


class ExerciseEntry(FileModel):
    """Some readings and questions about them."""

    title: Prose = Field(description="what it is about, for a reader")
    lesson: Name = Field(description="the lesson that it belongs to")
    task: Prose = Field(NOTHING, description="what to know before the readings")
    given: Free = Field(description="facts and readings, as in a sheet")
    vary: tuple[VariationEntry, ...] = Field((), description="what a seed changes")
    questions: tuple[QuestionEntry, ...] = Field(description="the questions, in order")
