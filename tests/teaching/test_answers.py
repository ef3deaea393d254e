"""Answers in a file: in order or by number, as a list or a mapping, with remarks; what is none has its line."""

import pytest

from specrules.teaching import Answers, read_answers


@pytest.mark.parametrize(
    "text",
    [
        "0.0023\njust in\n",
        "1: 0.0023\n2: just in\n",
        "2: just in\n1: 0.0023\n",
        "1. 0.0023\n2) just in",
        "---\n- 0.0023   # subtracted twice\n- 'just in'\n",
        "# mine\n\n0.0023\r\n  just in  \r\n",
        '1: "0.0023"\n2: "just in"\n',
    ],
)
def test_every_plain_way_of_writing_is_taken(text: str) -> None:
    assert read_answers(text, "mine.txt", 2) == (Answers("", None, {1: "0.0023", 2: "just in"}), ())


def test_one_left_out_or_left_empty_is_no_answer() -> None:
    assert read_answers("2: 2.5018", "mine.txt", 3) == (Answers("", None, {2: "2.5018"}), ())
    assert read_answers("1:\n2: open\n", "mine.txt", 3) == (Answers("", None, {1: "", 2: "open"}), ())
    assert read_answers("- \n- 5\n", "mine.txt", 3) == (Answers("", None, {1: "", 2: "5"}), ())


def test_a_size_is_not_taken_for_a_number_of_a_question() -> None:
    assert read_answers("2.5018\n1.9 in", "mine.txt", 3) == (Answers("", None, {1: "2.5018", 2: "1.9 in"}), ())


@pytest.mark.parametrize("text", ["name: A. B.\npaper: 7\n0.0023", "Paper: 007\n1: 0.0023\n\nNAME :  A. B. # mine"])
def test_a_name_and_a_paper_may_stand_among_them(text: str) -> None:
    assert read_answers(text, "mine.txt", 2) == (Answers("A. B.", 7, {1: "0.0023"}), ())


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("paper: seven", "mine.txt, line 1, answers: paper has no number behind it; write paper: 3."),
        ("paper:", "mine.txt, line 1, answers: paper has no number behind it; write paper: 3."),
        ("paper: 1\npaper: 2", "mine.txt, line 2, answers: paper is said twice."),
        ("1: 5\n1: 6", "mine.txt, line 2, answers: question 1 is answered twice."),
        ("5\n6\n7", "mine.txt, line 3, answers: question 3 is asked nowhere: there are 2."),
        ("0: 5", "mine.txt, line 1, answers: question 0 is asked nowhere: there are 2."),
    ],
)
def test_what_answers_nothing_is_a_fault(text: str, sentence: str) -> None:
    _, (fault,) = read_answers(text, "mine.txt", 2)
    assert fault.sentence() == sentence
