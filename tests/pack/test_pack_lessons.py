"""Lessons and exercises in a pack: each fault in full and at its place, and what an upper pack may change.

In each row the second text takes the place of the first in a good pack; the mark ¦ shows where the fault must be.
A sentence that ends in ... has the words of another room after that.
"""

import pytest

from tests.pack.small_packs import faults_of, resolved, upper
from tests.teaching.small_lessons import PACK, changed

ROWS = [
    ("    rules: [fit]\n", "    rules: [¦fitt]\n", 'fits rules: "fitt" is no rule; write fit.'),
    (
        "    rules: [fit]\n    source: {kind: house}",
        "    rules: [fit]\n    source: {kind: ¦published}",
        "fits source: is published and names no document; write document: in it.",
    ),
    (
        "    title: One fit\n    lesson: fits",
        "    title: One fit\n    lesson: ¦fit",
        'one_fit lesson: "fit" is no lesson; write fits.',
    ),
    ("  one_fit:\n", "  ¦fits:\n", "fits: is a lesson already; write another name."),
    ("answer: clearance[1]\n", "answer: ¦clearence[1]\n", 'one_fit questions 1 answer: "clearence[1]" ...'),
    ("answer: clearance[1]\n", "answer: ¦clearance\n", 'one_fit questions 1 answer: "clearance" ...'),
    (
        "answer: clearance[1]\n",
        "answer: ¦clearance[1] * 2 in\n",
        'one_fit questions 1 answer: "clearance[1] * 2 in" ...',
    ),
    ('answer: "clearance[1] / 2"', 'answer: "¦2"', 'one_fit questions 1 mistakes: "2" ...'),
    (
        "      - ask: What is the clearance?\n        answer: clearance[1]\n",
        "      - ¦ask: What is the clearance?\n",
        "one_fit questions 1: has none of answer, uncertainty of, verdict of where one of them says what is right.",
    ),
    (
        "      - ask: What is the clearance?\n",
        "      - ¦ask: What is the clearance?\n        verdict of: fit\n        at: {place: 1}\n",
        "one_fit questions 1: has answer and verdict of where one of them says what is right.",
    ),
    (
        "        unit: in\n        places: 4\n        mistakes:",
        "        unit: in\n        places: ¦four\n        mistakes:",
        'one_fit questions 1 places: "four" is no whole number up to 9; write a whole number, 9 at most.',
    ),
    (
        "      - ask: How large is the shaft?\n        answer: largest(shaft)\n        unit: in\n        places: 4\n",
        "      - ¦ask: How large is the shaft?\n        answer: largest(shaft)\n        unit: in\n",
        "one_fit questions 2 places: is not said; write a whole number, 9 at most.",
    ),
    (
        "        answer: largest(shaft)\n        unit: in\n        places: 4\n",
        "        answer: largest(shaft)\n        unit: in\n        choices: {¦standard: 2.5 in}\n",
        "one_fit questions 2 choices: is no choice: there is one thing.",
    ),
    (
        "        answer: largest(shaft)\n        unit: in\n        places: 4\n",
        "        answer: largest(shaft)\n        unit: in\n        places: ¦4\n        choices: {a: 2 in, b: 3 in}\n",
        "one_fit questions 2 places: is of a figure, and a choice is asked.",
    ),
    (
        "        answer: largest(shaft)\n        unit: in\n        places: 4\n",
        "        answer: largest(shaft)\n        unit: in\n        choices: {a: 2.5 in, b: ¦2.4 g}\n",
        "one_fit questions 2 choices: ...",
    ),
    (
        "        answer: largest(shaft)\n        unit: in\n        places: 4\n",
        "        answer: largest(shaft)\n        unit: in\n        choices: {a: 2.5 in, b: 2.4 in}\n"
        "        mistakes: [{answer: ¦c, shows: That is none.}]\n",
        'one_fit questions 2 mistakes: "c" is none of a, b...',
    ),
    (
        "        verdict of: fit\n",
        "        verdict of: fit\n        choices: {¦a: 0 in, b: 1 in}\n",
        "sure questions 2 choices: needs an answer that its size is near to.",
    ),
    ("steps: 100,", f"steps: ¦{'9' * 5000},", 'one_fit vary steps: "999...'),
    ("verdict of: fit\n", "verdict of: ¦fitt\n", 'sure questions 2 verdict of: "fitt" is no rule; write fit.'),
    (
        "        verdict of: fit\n        at: {place: 1}\n",
        "        verdict of: ¦fit\n",
        "sure questions 2: does not say which place; write at: {place: LABEL}.",
    ),
    (
        "        verdict of: fit\n        at: {place: 1}\n",
        "        verdict of: fit\n        at: {place: 1, ¦plane: front}\n",
        'sure questions 2 at: "plane" is no axis of fit; write place.',
    ),
    (
        "        verdict of: fit\n",
        "        verdict of: fit\n        unit: ¦in\n",
        "sure questions 2 unit: is of a figure, and a verdict is asked.",
    ),
    (
        "{ask: How sure?, uncertainty of:",
        "{ask: How sure?, at: {¦place: 1}, uncertainty of:",
        "sure questions 1 at: is the station of a verdict, and none is asked.",
    ),
    (
        "[{answer: out of spec,",
        "[{answer: ¦out of specs,",
        'sure questions 2 mistakes: "out of specs" is none of in spec, ...',
    ),
    (
        "names: [hole, shaft], by: 0.001 in",
        "names: [hole, ¦shaff], by: 0.001 in",
        'one_fit vary names: "shaff" is no measurand, and no fact that is a number; write shaft.',
    ),
    (
        "names: [hole, shaft], by: 0.001 in",
        "names: [hole, ¦places], by: 0.001 in",
        'one_fit vary names: "places" is no measurand, and no fact that is a number...',
    ),
    (
        "names: [hole, shaft], by: 0.001 in",
        "names: [hole, ¦clearance], by: 0.001 in",
        'one_fit vary names: "clearance" is no measurand, and no fact that is a number...',
    ),
    (
        "- {names: [hole, shaft], by: 0.001 in",
        "- ¦{names: [hole, grip], by: 0.001 in",
        "one_fit vary: moves length and number by one step; write an entry for each.",
    ),
    ("by: 0.001 in", "by: ¦0.001", 'one_fit vary by: "0.001" ...'),
    ("by: 0.001 in", "by: ¦-0.001 in", 'one_fit vary by: "-0.001 in" is no step; write 0.0001 in.'),
    (
        "steps: 100,",
        "steps: ¦all,",
        'one_fit vary steps: "all" is no whole number up to 100000; write a whole number, 100000 at most.',
    ),
]


@pytest.mark.second_lane
@pytest.mark.parametrize(("good", "bad", "sentence"), ROWS)
def test_a_fault_has_its_place_and_its_sentence(good: str, bad: str, sentence: str) -> None:
    assert PACK.count(good) == 1
    before, mark, _ = PACK.replace(good, bad).partition("¦")
    assert mark
    line, column = before.count("\n") + 1, len(before) - before.rfind("\n")
    fault = faults_of(PACK.replace(good, bad.replace("¦", "")))[0]
    assert (fault.place.line, fault.place.column, fault.kind) == (line, column, "pack")
    whole = f"base.pack.yaml, line {line}, {sentence}"
    assert fault.sentence().startswith(whole.removesuffix("..."))
    assert fault.sentence() == whole or sentence.endswith("...")


def test_an_exercise_asks_something() -> None:
    start = PACK.index("    questions:\n")
    end = PACK.index("  sure:\n")
    (fault,) = faults_of(PACK[:start] + "    questions: []\n" + PACK[end:])
    assert fault.said == "asks nothing"


def test_a_pack_holds_its_lessons_and_exercises_in_written_order() -> None:
    spec = resolved(PACK)
    assert [*spec.lessons] == ["fits"]
    assert spec.lessons["fits"].text == ("A fit is what is left of two sizes.", "Keep every decimal.")
    assert [*spec.exercises] == ["one_fit", "sure"]
    assert {each.pack for each in spec.exercises.values()} == {"base"}
    assert spec.exercises["one_fit"].place.file == "pack0.yaml"


def test_an_upper_pack_amends_and_retires_what_is_taught() -> None:
    amend = (
        "  lessons: {fits: {reason: ours, title: How we fit}}\n  exercises: {sure: {reason: too hard, retire: yes}}\n"
    )
    spec = resolved(PACK, upper("house", amend))
    assert (spec.lessons["fits"].title, spec.lessons["fits"].pack) == ("How we fit", "house")
    assert spec.lessons["fits"].rules == ("fit",)
    assert [*spec.exercises] == ["one_fit"]


def test_an_amended_exercise_is_the_upper_packs_own() -> None:
    questions = '[{ask: How long?, answer: "largest(hole)", unit: mm, places: 2}]'
    spec = resolved(PACK, upper("house", f"  exercises: {{one_fit: {{reason: ours, questions: {questions}}}}}\n"))
    exercise = spec.exercises["one_fit"]
    assert exercise.pack == "house"
    assert [question.ask for question in exercise.questions] == ["How long?"]
    assert len(exercise.vary) == 2


@pytest.mark.parametrize(
    ("braces", "said"),
    [
        ("{0.001 in}", []),
        ("{0.001 in | 0.025 mm}", []),
        ("{moves}", ['fits text 1: has "{moves}" in its text, which is nothing that this text can tell']),
        ("{0.001 in | 0.1 mm}", ['fits text 1: has "{0.001 in | 0.1 mm}" in its text, which gives two amounts']),
    ],
)
def test_a_lesson_tells_amounts_in_braces(braces: str, said: list[str]) -> None:
    text = changed("[A fit is what is left of two sizes., Keep", f"['A fit is {braces} wide.', Keep")
    found = [fault.sentence() for fault in faults_of(text)]
    assert len(found) == len(said)
    assert all(part in sentence for part, sentence in zip(said, found, strict=True))
