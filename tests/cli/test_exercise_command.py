"""`specrules pack exercise`: lists, lessons, answers that are typed or stand in a file, marks and statuses."""

from __future__ import annotations

import csv
import io
import re
from decimal import Decimal
from pathlib import Path

import pytest

from tests.cli.shell import call
from tests.output.page_reading import safe_page, said
from tests.teaching.small_lessons import PACK

pytestmark = pytest.mark.usefixtures("here")


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the small pack in it."""
    (tmp_path / "packs").mkdir()
    (tmp_path / "packs" / "base.pack.yaml").write_text(PACK, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


GIVEN = """\
One fit                                                                  one_fit
Lesson: How fits are made (fits)
Two sizes were read.
  material                                                                  iron
  hole, place 1                                                        2.5023 in
  Shaft size, place 1                                                  2.5000 in

"""


def test_without_a_name_lessons_and_exercises_are_listed() -> None:
    ran = call("pack", "exercise", "base")
    assert (ran.status, ran.err) == (0, "")
    assert ran.out == (
        "How fits are made                                                           fits\n"
        "  One fit                                                                one_fit\n"
        "  How sure it is                                                            sure\n"
        "\n"
        "To read a lesson, or to take an exercise, put its name behind:\n"
        "  specrules pack exercise base one_fit\n"
    )


def test_a_lesson_is_read() -> None:
    ran = call("pack", "exercise", "packs/base.pack.yaml", "fits")
    assert ran.status == 0
    assert "\nKeep every decimal.\n\nIt explains: Fit of shaft and hole\n  One fit " in ran.out


def test_readings_and_questions_are_printed_without_the_answers() -> None:
    ran = call("pack", "exercise", "base", "one_fit")
    assert (ran.status, ran.err) == (0, "")
    assert ran.out == GIVEN + (
        "1  What is the clearance? (in, 4 decimals)\n2  How large is the shaft? (in, 4 decimals)\n"
    )


def test_typed_answers_are_marked_one_by_one() -> None:
    ran = call("pack", "exercise", "base", "one_fit", "--ask", typed="0.0012\n63.5 mm\n")
    assert ran.status == 3
    assert ran.out.startswith(GIVEN)
    first, second = ran.out.index("1  What"), ran.out.index("2  How")
    assert "0.0012: That is half of it.\n" in ran.out[first:second]
    assert "63.5 mm: Right as far as it goes, but 4 places are asked for.\n" in ran.out[second:]
    assert ran.out.endswith("\n1 too few places, 1 mistaken.\n")
    assert "0.0023" not in ran.out


def test_right_answers_end_with_nought() -> None:
    ran = call("pack", "exercise", "base", "one_fit", "--ask", typed="0.0023\n2.5000\n")
    assert ran.status == 0
    assert ran.out.endswith("\n2 right.\n")


def test_an_empty_answer_leaves_the_question_open() -> None:
    ran = call("pack", "exercise", "base", "one_fit", "--ask", typed="\n2.5000\n")
    assert ran.status == 3
    assert "Open." in ran.out
    assert ran.out.endswith("\n1 right, 1 open.\n")


@pytest.mark.parametrize(
    ("text", "status", "said"),
    [
        ("0.0023\n2.5000\n", 0, "2 right.\n"),
        ("- 0.0023\n- 2.5000 in\n", 0, "2 right.\n"),
        ("2: 63.500 mm\n1: 2.3 thou\n", 0, "2 right.\n"),
        (
            "1: 0.0033\n",
            3,
            "   0.0033: One was borrowed twice.\n2  How large is the shaft? (in, 4 decimals)\n   Open.\n",
        ),
        ("0.0024\n2.5010\n", 3, "   0.0024: Not it.\n"),
        ("0,0023\n2,5000\n", 0, "2 right.\n"),
        ("0,0023 1\n2.5000\n", 3, '   0,0023 1: "0,0023 1" '),
    ],
)
def test_answers_in_a_file_are_marked(text: str, status: int, said: str, here: Path) -> None:
    (here / "mine.txt").write_text(text, encoding="utf-8")
    ran = call("pack", "exercise", "base", "one_fit", "--answers", "mine.txt")
    assert (ran.status, ran.err) == (status, "")
    assert ran.out.startswith(GIVEN)
    assert said in ran.out


def test_answers_may_be_piped_in() -> None:
    ran = call("pack", "exercise", "base", "sure", "--answers", "-", typed="0.0005\njust out\n")
    assert ran.status == 0


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (b"1: 5\n1: 6\n", "mine.txt, line 2, answers: question 1 is answered twice."),
        (b"1\n2\n3\n", "mine.txt, line 3, answers: question 3 is asked nowhere: there are 2."),
        (b"\xff\xfe\n", "mine.txt: is no text in UTF-8."),
    ],
)
def test_a_file_that_holds_no_answers_is_at_fault(content: bytes, sentence: str, here: Path) -> None:
    (here / "mine.txt").write_bytes(content)
    ran = call("pack", "exercise", "base", "one_fit", "--answers", "mine.txt")
    assert (ran.status, ran.out) == (2, "")
    assert sentence in ran.err


def test_the_answers_are_shown_when_they_are_asked_for() -> None:
    ran = call("pack", "exercise", "base", "one_fit", "--solve")
    assert ran.status == 0
    assert "   0.0023 in\n   smallest hole 2.5023 - largest shaft size 2.5000\n" in ran.out
    assert "     0.0012 in: That is half of it.\n" in ran.out


def test_answers_may_be_marked_and_solved_at_once(here: Path) -> None:
    (here / "mine.txt").write_text("0.0012\n2.5000\n", encoding="utf-8")
    ran = call("pack", "exercise", "base", "one_fit", "--answers", "mine.txt", "--solve")
    assert ran.status == 3
    assert ran.out.index("0.0012: That is half of it.") < ran.out.index("   0.0023 in\n")


def test_a_seed_gives_the_same_new_readings_each_time() -> None:
    one, again, other = (call("pack", "exercise", "base", "one_fit", "--seed", seed).out for seed in "778")
    assert one == again
    assert one != other
    assert "seed 7\n" in one
    assert "2.5023 in" not in one


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("base", "one_fti"), '"one_fti" is no lesson and no exercise of this pack; write one_fit'),
        (("base", "xxxxxxx"), "leave the name out for a list of them"),
        (("bsae",), '"bsae" is no pack that was found; write base.'),
        (("base", "sure", "--seed", "1"), "exercise sure: varies nothing, so that no seed gives it new readings."),
        (("base", "one_fit", "--seed", "-1"), "-1"),
        (("base", "one_fit", "--answers", "nothere.txt"), "nothere.txt"),
    ],
)
def test_what_cannot_be_done_is_said(arguments: tuple[str, ...], said: str) -> None:
    ran = call("pack", "exercise", *arguments)
    assert ran.status == 2
    assert said in ran.err


@pytest.mark.second_lane
def test_a_pack_without_lessons_says_so() -> None:
    ran = call("pack", "exercise", "street")
    assert ran.status == 0
    assert "street has no lessons and no exercises." in ran.out


@pytest.mark.second_lane
def test_the_shown_pack_lists_what_it_teaches() -> None:
    assert "specrules pack exercise teaching inch_micrometer\n" in call("pack", "show", "teaching").out


@pytest.mark.second_lane
@pytest.mark.parametrize(
    ("unit", "there", "elsewhere"),
    [
        ((), "a gap of 0.001 to 0.002 in is left", " mm is left"),
        (("--unit", "in"), "two sizes of 2.5 in", "65 mm"),
        (("--unit", "mm"), "Of two sizes of 65 mm a gap of 0.025 to 0.05 mm is left", "2.5 in"),
    ],
)
def test_a_lesson_tells_its_lengths_in_the_unit_asked_for(unit: tuple[str, ...], there: str, elsewhere: str) -> None:
    told = " ".join(call("pack", "exercise", "teaching", "subtracting", *unit).out.split())
    assert there in told
    assert elsewhere not in told
    assert "{" not in told


@pytest.mark.second_lane
def test_an_exercise_is_in_the_units_of_its_readings() -> None:
    ran = call("pack", "exercise", "teaching", "hole_less_shaft", "--unit", "mm")
    assert ran.status == 2
    assert "--unit is for the words of a lesson" in ran.err


@pytest.mark.second_lane
def test_a_hint_is_given_to_who_asks_for_it() -> None:
    typed = "0.0008\n?\nb\n"
    ran = call("pack", "exercise", "teaching", "which_shells", "--ask", typed=typed)
    assert "   An extra-clearance wall is thinner, so the hole grows." in ran.out
    assert ran.out.endswith("\n2 not it.\n")
    assert "   a  the standard pair\n   b  one extra-clearance half\n" in ran.out


PAPERS = """\
Name ______________________________                                      Paper 1

One fit                                                                  one_fit
Lesson: How fits are made (fits)                                          seed 1
Two sizes were read.
"""
ROOM = """\
1  What is the clearance? (in, 4 decimals)

   ______________________________

2  How large is the shaft? (in, 4 decimals)

   ______________________________
"""


def test_papers_differ_and_their_key_comes_last() -> None:
    ran = call("pack", "exercise", "base", "one_fit", "--papers", "3")
    assert (ran.status, ran.err) == (0, "")
    pages = ran.out.split("\f")
    assert len(pages) == 6
    assert pages[0].startswith(PAPERS)
    assert all(page.endswith(ROOM) for page in pages[:3])
    sizes = [re.findall(r"hole, place 1 +(\S+) in", page) for page in pages[:3]]
    assert len({size for (size,) in sizes}) == 3
    key = [re.findall(r"(?m)^   (\S+) in$", page)[:2] for page in pages[3:]]
    assert [page.split("  ")[0] for page in pages[3:]] == ["Key to paper 1", "Key to paper 2", "Key to paper 3"]
    for (hole,), (clearance, shaft) in zip(sizes, key, strict=True):
        assert Decimal(hole) - Decimal(shaft) == Decimal(clearance)
    assert "   " + key[0][0] not in pages[0]


@pytest.mark.second_lane
def test_papers_that_are_alike_all_the_same_are_said_to_be_beside_them() -> None:
    ran = call("pack", "exercise", "teaching", "hole_less_shaft", "--papers", "24")
    assert ran.status == 0
    keys = [tuple(re.findall(r"(?m)^   (\S+) in$", page)) for page in ran.out.split("\f")[24:]]
    assert len(keys) == 24
    assert len(set(keys)) < 24
    assert f"{len(set(keys))} sets of right answers among 24 papers" in " ".join(ran.err.split())


def answered(number: int, wrong: str = "") -> str:
    """The right answers to a paper, as a learner writes them; or a wrong one to its first question."""
    solved = call("pack", "exercise", "base", "one_fit", "--seed", str(number), "--solve").out
    first, second = re.findall(r"(?m)^   (\S+ in)$", solved)
    return f"paper: {number}\n1: {wrong or first}\n2: {second}\n"


@pytest.fixture
def handed_in(here: Path) -> Path:
    """What a class of four handed in: one all right, one with half of it, one without a paper, one with nothing."""
    folder = here / "class"
    folder.mkdir()
    half = str(Decimal(answered(2).split()[3]) / 2)
    for name, text in {
        "ab": answered(1),
        "cd": "name: C. D.\n" + answered(2, half),
        "ef": "1: 0.0023\n",
        "gh": "paper: 4\n",
    }.items():
        (folder / f"{name}.txt").write_text(text, encoding="utf-8")
    (folder / "notes.md").write_text("no answers\n", encoding="utf-8")
    return folder


MARKS = """\
One fit                                                               3 learners

ab                        paper 1                                         2 of 2
C. D.                     paper 2, 1 mistaken                             1 of 2
gh                        paper 4, 1 open, 2 open                         0 of 2

Question 1: 1 of 3
  1: That is half of it. (C. D.)
  1 open.

Question 2: 2 of 3
  1 open.
"""


def test_a_folder_of_answers_gives_a_marks_sheet_and_a_file_at_fault_is_told(handed_in: Path) -> None:
    ran = call("pack", "exercise", "base", "one_fit", "--answers", "class")
    assert ran.out == MARKS
    assert ran.status == 2
    assert "ef.txt, answers: does not say which paper it is of; write paper: 3 at its head" in ran.err
    (handed_in / "ef.txt").unlink()
    assert call("pack", "exercise", "base", "one_fit", "--answers", "class").status == 3


@pytest.mark.second_lane
def test_the_marks_are_a_table_too(handed_in: Path) -> None:
    (handed_in / "ef.txt").unlink()
    (handed_in / "ij.txt").write_text('name: "=1+1"\npaper: 1\n1: @SUM(A1)\n', encoding="utf-8")
    ran = call("pack", "exercise", "base", "one_fit", "--answers", "class", "--form", "csv")
    heading, *rows = csv.reader(io.StringIO(ran.out))
    assert heading == [
        *("exercise", "learner", "file", "paper", "question", "answer", "outcome", "shows", "mark"),
    ]
    assert [row[1:4] + row[6:7] + row[8:] for row in rows[:4]] == [
        ["ab", "ab.txt", "1", "right", "1"],
        ["ab", "ab.txt", "1", "right", "1"],
        ["C. D.", "cd.txt", "2", "mistaken", "0"],
        ["C. D.", "cd.txt", "2", "right", "1"],
    ]
    assert rows[6][5].startswith("'@SUM")


def test_the_marks_are_a_page_too_with_what_was_not_marked(handed_in: Path) -> None:
    ran = call("pack", "exercise", "base", "one_fit", "--answers", "class", "--form", "page", "--out", "marks.html")
    assert (ran.status, ran.out) == (2, "")
    text = said(safe_page(Path("marks.html").read_text(encoding="utf-8")))
    assert (
        "3 learners. one_fit. Fewest have question 1 right: 1 of 3. Question 1, 1 learner: That is half of it." in text
    )
    assert "ef.txt, answers: does not say which paper it is of" in text
    refused = call("pack", "exercise", "base", "one_fit", "--answers", "class", "--out", "class/ab.txt", "--replace")
    assert refused.status == 2
    assert "is the file that this run reads as class/ab.txt" in refused.err
    assert handed_in.is_dir()


@pytest.mark.second_lane
def test_answers_to_a_paper_are_marked_by_it(here: Path) -> None:
    (here / "mine.txt").write_text(answered(7), encoding="utf-8")
    ran = call("pack", "exercise", "base", "one_fit", "--answers", "mine.txt")
    assert (ran.status, ran.err) == (0, "")
    assert "seed 7\n" in ran.out
    other = call("pack", "exercise", "base", "one_fit", "--answers", "mine.txt", "--seed", "8")
    assert other.status == 2
    assert "mine.txt is of paper 7" in other.err


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("one_fit", "--papers", "2", "--solve"), "leave out --answers and --solve"),
        (("one_fit", "--hints"), "--hints is for --papers"),
        (("one_fit", "--form", "csv"), "--form and --out for the --answers of a folder"),
        (("one_fit", "--out", "a.txt"), "--form and --out for the --answers of a folder"),
        (("sure", "--papers", "2"), "varies nothing, so that no seed gives it new readings"),
        (("one_fit", "--papers", "0"), "0"),
        (("one_fit", "--answers", "."), "holds no .txt with answers"),
    ],
)
def test_what_a_class_cannot_have_is_said(arguments: tuple[str, ...], said: str) -> None:
    ran = call("pack", "exercise", "base", *arguments)
    assert ran.status == 2
    assert said in " ".join(ran.err.split())
