"""Papers for a class: verdicts and answers differ as far as seeds allow, the same each time; what is alike is said."""

from __future__ import annotations

from collections import Counter

import pytest

from specrules.output.class_sheet import likeness
from specrules.output.terminal import text_of
from specrules.pack import Specification
from specrules.teaching import Alike, Asked, Posed, Right, alike, papers, pose
from specrules.teaching.class_papers import LOOKED_AT, answers_of, words_of
from tests.pack.small_packs import resolved
from tests.teaching.small_lessons import PACK, made


def drawing(monkeypatch: pytest.MonkeyPatch, *verdicts: str) -> list[int]:
    """Have seeds come to these verdicts, over and over; "-" makes no sound question. The seeds that are asked for."""
    base = made()
    asked_for: list[int] = []

    def posed(_spec: Specification, _name: str, seed: int) -> tuple[Posed | None, tuple[()]]:
        asked_for.append(seed)
        words = verdicts[seed % len(verdicts)]
        if words == "-":
            return None, ()
        question = base.asked[0].question._replace(rule="fit")
        asked = tuple(Asked(question, Right(None, word), ()) for word in words.split(", "))
        return base._replace(seed=seed, asked=asked), ()

    monkeypatch.setattr("specrules.teaching.class_papers.pose", posed)
    return asked_for


def taken(number: int, first: int = 1) -> list[int | None]:
    found, faults = papers(resolved(PACK), "one_fit", first, number)
    assert faults == ()
    return [each.seed for each in found]


def test_papers_are_those_of_their_seeds_and_none_is_left_out_where_all_differ() -> None:
    spec = resolved(PACK)
    found, faults = papers(spec, "one_fit", 1, 3)
    assert faults == ()
    assert [each.seed for each in found] == [1, 2, 3]
    for each in found:
        again, _ = pose(spec, "one_fit", each.seed)
        assert again is not None
        assert (each.given, answers_of(each)) == (again.given, answers_of(again))


def test_a_class_of_more_has_the_papers_of_a_class_of_fewer(monkeypatch: pytest.MonkeyPatch) -> None:
    drawing(monkeypatch, *["in spec"] * 5, "just out", *["just in"] * 3)
    assert taken(9)[:5] == taken(5)
    assert taken(5, first=4) == taken(9, first=4)[:5]


def test_verdicts_are_shared_out_evenly(monkeypatch: pytest.MonkeyPatch) -> None:
    verdicts = (*["in spec"] * 6, "just out", "out of spec")
    drawing(monkeypatch, *verdicts)
    counts = Counter(verdicts[(seed or 0) % len(verdicts)] for seed in taken(12))
    assert set(counts.values()) == {4}


def test_a_paper_whose_own_verdicts_differ_comes_first(monkeypatch: pytest.MonkeyPatch) -> None:
    verdicts = (*["in spec, in spec"] * 5, "in spec, just out", "out of spec, out of spec")
    drawing(monkeypatch, *verdicts)
    assert {verdicts[(seed or 0) % len(verdicts)] for seed in taken(4)} == {"in spec, just out"}


def test_answers_differ_where_verdicts_cannot() -> None:
    found, _ = papers(resolved(PACK), "one_fit", 1, 6)
    assert len({answers_of(each) for each in found}) == 6
    assert {words_of(each) for each in found} == {()}


def test_a_seed_that_makes_no_sound_question_is_passed_over(monkeypatch: pytest.MonkeyPatch) -> None:
    drawing(monkeypatch, "-", "in spec", "-")
    assert taken(3) == [1, 4, 7]


def test_so_many_seeds_are_looked_at_and_no_more(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = drawing(monkeypatch, "in spec")
    assert taken(5) == [1, 2, 3, 4, 5]
    assert asked == list(range(1, 5 + LOOKED_AT))


def test_an_exercise_that_no_seed_changes_is_refused() -> None:
    found, (fault,) = papers(resolved(PACK), "sure", 1, 3)
    assert found == ()
    assert "varies nothing" in fault.said


@pytest.mark.parametrize(
    ("verdicts", "found", "said"),
    [
        (("in spec", "just out"), Alike(4, (), 0, 2), "2 sets of right answers among 4 papers"),
        (("in spec", "in spec"), Alike(4, ("in spec",), 0, 1), "All 4 papers come to the same: in spec."),
        (("in spec, in spec", "just in, just in"), Alike(4, (), 4, 2), "4 papers with one verdict throughout."),
    ],
)
def test_what_is_alike_all_the_same_is_said(
    verdicts: tuple[str, ...], found: Alike, said: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    drawing(monkeypatch, *verdicts)
    chosen, _ = papers(resolved(PACK), "one_fit", 1, 4)
    assert alike(chosen) == found
    assert said in " ".join(text_of(list(likeness(found))).split())


def test_of_papers_that_all_differ_nothing_is_said() -> None:
    assert list(likeness(Alike(3, (), 0, 3))) == []
    assert alike(papers(resolved(PACK), "one_fit", 1, 1)[0]) == Alike(1, (), 0, 1)
