"""Whole pages to the letter and the style, stored beside this file: a pack, a rule, lessons and exercises, studies.

`[quiet]` and the like stand before what is in that style. A page that changes on purpose is read again, then stored
anew: `python -m tests.output.test_whole_pages`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from specrules.output.exercise_page import exercise_given, lesson_list, lesson_whole, marked, question, solution, tally
from specrules.output.lines import Line
from specrules.output.pack_page import pack_whole
from specrules.output.study import study_lines
from specrules.output.working_page import rule_whole
from specrules.pack import Specification
from specrules.study import analyse
from specrules.teaching import mark
from tests.inspecting import resolved
from tests.inspection.small_build import BASE as EVERY_SHAPE
from tests.output.small_screen import PACKS
from tests.output.styled import styled
from tests.pack.small_packs import resolved as taught
from tests.study.small_studies import HEAD, Readings, study
from tests.teaching.small_lessons import PACK as LESSONS
from tests.teaching.small_lessons import made

HERE = Path(__file__).parent / "pages"


def _specification(packs: dict[str, str], name: str) -> Specification:
    spec, faults = resolved(tuple(packs.items()), (name,))
    assert spec is not None, faults
    return spec


def _pack(name: str) -> Iterator[Line]:
    spec = _specification(PACKS, name)
    yield from pack_whole(spec, spec.packs[-1])


def _rule() -> Iterator[Line]:
    """One with several ways to its figure, of which one counts on a condition."""
    yield from rule_whole(_specification({"base": EVERY_SHAPE}, "base"), "fit")


def _lessons() -> Iterator[Line]:
    spec = taught(LESSONS)
    yield from lesson_list(spec, "base")
    yield from lesson_whole(spec.lessons["fits"], spec)


def _exercise() -> Iterator[Line]:
    """With an answer that is right, one that is a foreseen mistake, one that cannot be read, none, and all right."""
    posed = made(seed=3)
    yield from exercise_given(posed, "Measure cold.")
    texts = (*(asked.text for asked in posed.asked), posed.asked[0].wrong[0].text)
    right, other, mistake = (text.split()[0] for text in texts)
    for answers in ({1: right, 2: "2.5O00"}, {1: mistake}, {1: right, 2: other}):
        marks = mark(posed, answers)
        for asked, each in zip(posed.asked, marks, strict=True):
            yield from question(asked, each.number)
            yield from marked(each)
        yield from tally(marks)
    yield from solution(posed)


def _study(readings: Readings, head: str) -> Iterator[Line]:
    found = study(readings, head)
    yield from study_lines(found, analyse(found))


ONE_OPERATOR: Readings = {"JT": {"1": ["2.4990", "2.4993"]}}
TWO_OPERATORS: Readings = {
    "JT": {"1": ["2.4990", "2.4991"], "2": ["2.4985", "2.4986"]},
    "KM": {"1": ["2.4991", "2.4991"], "2": ["2.4986", "2.4985"]},
}
PAGES: dict[str, Callable[[], Iterator[Line]]] = {
    "pack_with_everything": lambda: _pack("base"),
    "pack_that_amends": lambda: _pack("wide"),
    "rule": _rule,
    "lessons": _lessons,
    "exercise": _exercise,
    "study_of_one_part": lambda: _study(ONE_OPERATOR, HEAD.replace("date: 2026-10-02\n", "")),
    "study_of_two_parts": lambda: _study(TWO_OPERATORS, HEAD),
}


def page(name: str) -> str:
    return "".join(f"{row}\n" for row in styled(PAGES[name]()))


@pytest.mark.parametrize("name", PAGES)
def test_a_page_is_what_is_stored(name: str) -> None:
    assert page(name) == (HERE / f"{name}.txt").read_text(encoding="utf-8")


if __name__ == "__main__":
    for each in PAGES:
        (HERE / f"{each}.txt").write_text(page(each), encoding="utf-8")
