"""Marking: an answer held against the right one by its written places, and against the mistakes that are likely."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from string import ascii_lowercase

from specrules.document import shown
from specrules.quantity import Exact, Open, Refusal, read_written
from specrules.teaching.drawn_slips import slip
from specrules.teaching.exercise_parts import GOOD, Asked, Mark, Outcome, Posed
from specrules.teaching.sound import near
from specrules.validation import not_a_word
from specrules.vocabulary import BEYOND, VERDICTS, Verdict

NOT_IT = "Not it."
RIGHT = "Right."
FOLLOWS = "Right for the figure that was carried on, and that figure is not right."
OTHER_SIDE = "Not on that side. Hold the value against both limits."
HOW_SURE = "The side is right. Say as well whether it is surely beyond."
_DECIMAL_COMMA = re.compile(r"(?<![\d,.])([+-]?\d*),(\d+)(?![\d,.])")
_THOUSANDS = re.compile(r"(?<![\d,.])[+-]?[1-9]\d{0,2}(?:,\d{3})+(?![\d,])")


Judged = tuple[Outcome, str]
"""What an answer is found to be, and what is said of it."""


def mark(posed: Posed, answers: Mapping[int, str]) -> tuple[Mark, ...]:
    """Every question marked, by its number from 1; one without an answer is open."""
    marks: list[Mark] = []
    for number in range(1, len(posed.asked) + 1):
        marks.append(mark_one(posed, answers.get(number, ""), marks))
    return tuple(marks)


def mark_one(posed: Posed, answer: str, before: Sequence[Mark] = ()) -> Mark:
    """The answer to the question after those that are marked already. Right at the places that are asked for is right,
    in whatever unit of the kind; so is what would be right by earlier figures of the learner's own."""
    number = len(before) + 1
    asked = posed.asked[number - 1]
    found = _marked(asked, number, answer)
    wrong = {each.number: each.value for each in before if each.value is not None and each.outcome is not Outcome.RIGHT}
    if found.outcome not in (Outcome.MISTAKE, Outcome.WRONG) or not wrong:
        return found
    follows = posed.follow(number, wrong)
    if follows is None or _marked(asked._replace(right=follows, wrong=()), number, answer).outcome is not Outcome.RIGHT:
        return found
    return found._replace(outcome=Outcome.FOLLOWS, said=FOLLOWS)


def points(marks: Sequence[Mark]) -> int:
    """How many of these answers count as right."""
    return sum(each.outcome in GOOD for each in marks)


def _marked(asked: Asked, number: int, answer: str) -> Mark:
    if asked.question.rule or asked.question.choices:
        judge = _verdict if asked.question.rule else _choice
        word = _plain(answer)
        found = (Outcome.OPEN, "") if word in ("", "open") else judge(asked, word)
        return Mark(number, answer, *found)
    readings = [Mark(number, answer, *_figure(asked, answer, text)) for text in _with_points(answer)]
    return next((each for each in readings if each.outcome is Outcome.RIGHT), readings[0])


def _with_points(answer: str) -> Iterator[str]:
    """An answer with a decimal point where it has a decimal comma; without it where it may part thousands."""
    yield _DECIMAL_COMMA.sub(r"\1.\2", answer) if answer.count(",") == 1 else answer
    if _THOUSANDS.search(answer):
        yield answer.replace(",", "")


def _unread(said: str, write: str) -> Judged:
    return Outcome.UNREAD, f"{said}{f'; write {write}' if write else ''}."


def _figure(asked: Asked, answer: str, text: str) -> tuple[Outcome, str, Decimal | None]:
    """A figure, read as `text`, with its value."""
    question, right = asked.question, asked.right.value
    written = read_written(text, unit=question.unit, dimension=question.unit.dimension)
    if isinstance(written, Open):
        return Outcome.OPEN, "", None
    if isinstance(written, Refusal):
        return *_unread(f"{shown(answer)} {written.said}", written.write), None
    if not isinstance(written, Exact):
        return Outcome.UNREAD, f"{shown(answer)} is a range, and one figure is asked for.", None
    value = written.value
    place = max(question.least, written.place_value) if value else question.least  # 0 is near to all, coarsely
    if right is not None and near(value, right, place):
        if written.place_value <= question.least:
            return Outcome.RIGHT, RIGHT, value
        return Outcome.COARSE, f"Right as far as it goes, but {question.places} places are asked for.", value
    mistakes = (each for each in asked.wrong if each.value is not None and near(value, each.value, place))
    shows = next((each.mistake.shows for each in mistakes), "") or slip(written, asked)
    return Outcome.MISTAKE if shows else Outcome.WRONG, shows or NOT_IT, value


def _verdict(asked: Asked, word: str) -> Judged:
    """A verdict, the pack's word for a side that is beyond, or both."""
    right = asked.right
    said = [side for side in asked.sides if side in word.replace(",", " ").split()]
    rest = " ".join(each for each in word.replace(",", " ").split() if each not in said)
    if (rest or not said) and rest not in VERDICTS:
        return _unread(*not_a_word(word, (*VERDICTS, *asked.sides))[1:])
    if rest in ("", right.text) and said in ([], [right.side]):
        if rest or right.text == Verdict.OUT:
            return Outcome.RIGHT, RIGHT
        return Outcome.COARSE, HOW_SURE
    if right.side and said not in ([], [right.side]) and rest in ("", *BEYOND):
        return Outcome.MISTAKE, OTHER_SIDE
    return _word(asked, rest or Verdict.OUT)


def _choice(asked: Asked, word: str) -> Judged:
    """One of the things that there are to choose from, by its name or its letter."""
    names = [offered.name for offered in asked.question.choices]
    letters = dict(zip(ascii_lowercase, names, strict=False))
    known = {
        **{f"{letter}{end}": name for letter, name in letters.items() for end in ("", ")", ".")},
        **{_plain(name): name for name in names},
    }
    if word not in known:
        return _unread(*not_a_word(word, (*names,))[1:])
    if known[word] == asked.right.text:
        return Outcome.RIGHT, RIGHT
    return _word(asked, known[word])


def _word(asked: Asked, word: str) -> Judged:
    """A word that is not the right one, and what it shows where that was foreseen."""
    shows = next((wrong.mistake.shows for wrong in asked.wrong if wrong.text == word), "")
    return Outcome.MISTAKE if shows else Outcome.WRONG, shows or NOT_IT


def _plain(answer: str) -> str:
    return " ".join(answer.lower().split())
