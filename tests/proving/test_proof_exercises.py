"""Exercises are proven as examples are: worked as they are written, and with the readings of many seeds."""

import pytest

from specrules.output.proof import proof_lines, remark_text
from specrules.output.terminal import text_of
from specrules.pack.pack_reading import read_pack
from specrules.proving import Proof, prove
from tests.pack.small_packs import BASE
from tests.teaching.small_lessons import PACK, changed


def proof(text: str = PACK) -> Proof:
    pack, faults = read_pack([("base.pack.yaml", text.encode())])
    assert pack is not None, [fault.sentence() for fault in faults]
    proven = prove((pack,), "base")
    assert proven.faults == ()
    return proven


def told(text: str = PACK) -> list[str]:
    """What was found of the exercises, without the file."""
    kinds = ("exercise", "unexercised")
    before = {remark.said for remark in proof(BASE).remarks}
    found = [remark for remark in proof(text).remarks if remark.kind in kinds and remark.said not in before]
    return [remark_text(remark).removeprefix("base.pack.yaml, ") for remark in found]


def test_exercises_that_come_out_are_counted_and_nothing_else_is_said() -> None:
    proven = proof()
    assert [remark for remark in proven.remarks if remark.kind == "exercise"] == []
    assert {key: proven.counts[key] for key in ("exercises", "questions", "mistakes")} == {
        "exercises": 2,
        "questions": 4,
        "mistakes": 3,
    }
    assert "2 exercises, 4 questions, 3 mistakes." in " ".join(text_of(proof_lines(proven)).split())
    assert "exercises" not in proof(BASE).counts


def test_a_question_that_foresees_no_mistake_is_remarked_on() -> None:
    assert told() == [
        "line 108, one_fit: question 2 foresees no mistake; write mistakes: and what each shows.",
        "line 121, sure: question 1 foresees no mistake; write mistakes: and what each shows.",
    ]


@pytest.mark.second_lane
@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        (
            '"clearance[1] / 2"',
            '"clearance[1] * 1"',
            "exercise one_fit: a mistake at question 1 comes to the right answer, 0.0023 in.",
        ),
        (
            '"clearance[1] / 2"',
            '"largest(hole) - largest(shaft) + 0.001 in"',
            "exercise one_fit: two mistakes at question 1 come to one figure, 0.0033 in.",
        ),
        (
            '"clearance[1] / 2"',
            '"clearance[2]"',
            "exercise one_fit: a mistake at question 1 comes to no figure.",
        ),
        (
            "answer: largest(shaft)",
            "answer: largest(card_shaft)",
            "exercise one_fit: question 2 has no answer with these readings.",
        ),
        ("at: {place: 1}", "at: {place: 7}", "exercise sure: question 2 has no answer with these readings."),
        (
            "answer: out of spec",
            "answer: just out",
            "exercise sure: a mistake at question 2 comes to the right answer, just out.",
        ),
        (
            "shaft: {1: 2.5000}}}",
            "shaft: {1: 25.000}}}",
            "exercise one_fit: shaft 25.000 is 10 times too large for the usual sizes",
        ),
        (
            "steps: 100,",
            "steps: 10000,",
            "exercise one_fit: hole 2.5023 may be moved out of its usual sizes; write fewer steps under vary.",
        ),
        (
            "by: 0.0001 in",
            "by: 0.00001 in",
            "exercise one_fit: hole 2.5023 cannot be moved by so fine a step; write a step of its last place.",
        ),
        (
            "hole: {1: 2.5023}",
            "hole: {1: 2.5020..2.5026}",
            "exercise one_fit: hole 2.5020..2.5026 is no one figure that can be moved.",
        ),
        (
            "- {names: [hole, shaft], by: 0.001 in",
            "- {names: [hole, stand], by: 0.001 in",
            "exercise one_fit: stand is varied and is not given.",
        ),
        ("{1: 2.5023}", "{1: 2.50x}", 'exercise one_fit hole 1: "2.50x" '),
    ],
)
def test_what_does_not_come_out_keeps_a_pack_from_being_proven(old: str, new: str, said: str) -> None:
    text = changed(old, new)
    wrong = [remark for remark in proof(text).remarks if remark.kind == "exercise"]
    assert any(said in remark_text(remark) for remark in wrong), wrong
    assert all(remark.wrong for remark in wrong)


def test_new_readings_that_never_make_a_sound_question_are_found() -> None:
    """As written the mistake is a thou off; moved by a thou or more it is always right."""
    mistake = '"clearance[1] + max(0 in, 0.001 in - abs(largest(shaft) - 2.5 in))"'
    text = changed('"clearance[1] / 2"', mistake).replace("steps: 4}", "steps: 0}").replace("+ 0.001 in", "+ 0.002 in")
    (found,) = [remark for remark in proof(text).remarks if remark.kind == "exercise"]
    assert found.wrong
    assert "makes no sound question of the seed " in found.said


def test_a_lesson_that_nothing_practises_is_remarked_on() -> None:
    text = changed("lessons:\n", "lessons:\n  idle: {title: Idle, text: [Words.], source: {kind: house}}\n")
    assert "line 86, idle: no exercise belongs to this lesson." in told(text)
