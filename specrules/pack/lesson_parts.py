"""The lessons and exercises of a specification once they are read: frozen, every formula compiled."""

from decimal import Decimal
from typing import NamedTuple

from specrules.document import Fields, Place
from specrules.formula import Formula, Station
from specrules.quantity import Unit


class Lesson(NamedTuple):
    """What a learner reads: paragraphs, and the rules that they explain."""

    name: str
    title: str
    text: tuple[str, ...]
    rules: tuple[str, ...]
    pack: str
    place: Place


class Mistake(NamedTuple):
    """A likely wrong answer, a formula or a word (a verdict or a choice), and what whoever gives it has to hear."""

    formula: Formula | None
    word: str
    shows: str
    place: Place


class Offered(NamedTuple):
    """One of several things to choose from, with the formula of its size."""

    name: str
    size: Formula


class Question(NamedTuple):
    """One question. A `rule` asks for its verdict at a station; else a formula for its value, or `uncertainty` for
    the expanded uncertainty (k = 2) of that, in `unit` to so many `places`, or for whichever of the `choices` is the
    nearest to that value."""

    ask: str
    formula: Formula | None
    uncertainty: bool
    rule: str
    at: Station
    unit: Unit
    places: int
    choices: tuple[Offered, ...]
    hint: str
    working: str
    mistakes: tuple[Mistake, ...]
    place: Place

    @property
    def least(self) -> Decimal:
        """What the last place asked for is worth, base units."""
        return self.unit.difference_to_base(Decimal((0, (1,), -self.places)))


class Variation(NamedTuple):
    """Whole steps, base units, by which a seed moves given figures up or down."""

    names: tuple[str, ...]
    by: Decimal
    steps: int
    together: bool
    place: Place


class Exercise(NamedTuple):
    """A fragment of a sheet (its placed tree), questions about it, and what a seed changes in it."""

    name: str
    title: str
    lesson: str
    task: str
    given: Fields
    vary: tuple[Variation, ...]
    questions: tuple[Question, ...]
    pack: str
    place: Place
