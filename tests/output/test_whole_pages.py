"""Whole pages to the letter and the style, stored beside this file: a pack, a rule, its working, the reference of the
language, lessons and exercises, studies, and comparisons of packs at counts of 0, 1, a few and one more.

`[quiet]` and the like stand before what is in that style. A page that changes on purpose is read again, then stored
anew: `python -m tests.output.test_whole_pages`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import NamedTuple

import pytest

from specrules.inspection import inspect
from specrules.inspection.comparison import between
from specrules.output.comparison_page import asked_less_by_each, compared, compared_specifications
from specrules.output.exercise_page import exercise_given, lesson_list, lesson_whole, marked, question, solution, tally
from specrules.output.language_page import contents, of_word
from specrules.output.lines import Line, line
from specrules.output.pack_page import pack_whole
from specrules.output.study import study_lines
from specrules.output.working_page import rule_whole, worked_with
from specrules.pack import Specification
from specrules.pack.language import sections, told_of
from specrules.proving.tried_ledger import pack_ledger
from specrules.proving.written_comparison import between_specifications
from specrules.sheet import Sheet, read_sheet, settle
from specrules.study import analyse
from specrules.teaching import mark
from tests.inspecting import resolved, whole
from tests.inspection.small_build import BASE as EVERY_SHAPE
from tests.output.small_screen import PACKS, build, judged
from tests.output.styled import styled
from tests.pack.ram_packs import RAMS
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


HOUSE = """\
specrules: tolerance-pack/1
pack: {name: house, version: "2", title: Ours, unit: mm, builds on: [rams >= 1 and < 2, fluids]}
margins:
  - {on: [gap, stop], inward: 0.01 mm, reason: Two came back.}
"""
FLUIDS = """\
specrules: tolerance-pack/1
pack:
  name: fluids
  version: "1.10"
  title: Fluids
  unit: mm
  assumed temperature: 20 C ±5 K
  examples assume: {medium: oil}
  builds on: [rams]
hold points: [dry, closed, first_run]
margins: [{on: gap, inward: 0.02 mm, reason: It swells, makers too: yes}]
"""


def _full_heading() -> Iterator[Line]:
    """Of a pack that says nothing itself of what holds for its rules, and has a margin on two of them."""
    packs = {"rams": RAMS, "fluids": FLUIDS, "house": HOUSE}
    spec = _specification(packs, "house")
    for head in spec.packs[1:]:
        yield from pack_whole(spec, head)


def _rule() -> Iterator[Line]:
    """One with several ways to its figure, of which one counts on a condition."""
    yield from rule_whole(_specification({"base": EVERY_SHAPE}, "base"), "fit")


WORKED = """\
decision: guarded
gauges: {own dial: {class: dial}}
readings:
  hole: {gauge: own dial, 1: {front: 1.5034, rear: 1.5036 ±0.0002}}
  shaft: {gauge: own dial, 1: [1.5000, 1.5001], 2: 1.5000}
"""


def _working() -> Iterator[Line]:
    """Of a rule with gauges at one place, and with a reading missing at another."""
    yield from worked_with(judged(WORKED), whole, _specification(PACKS, "base"), "fit")


LANGUAGE = """\
# The language

## rules

A rule has `limits`, and a [title](#title).

- `title` is what it is called.

| key | holds | needed | what for |
|---|---|---|---|
| `limits` | a list or `none` | yes | what is judged |
| `title` | text | | its name |

```yaml
limits: {most: 0.0030 in}
```

### limits: lines

| key | holds | needed | what for |
|---|---|---|---|
| `least` | formula | | under it |

## words

None.
"""


def _language() -> Iterator[Line]:
    """Its headings; a word that has a section and stands in another one, one that has none, and a section with code."""
    yield from contents(sections(LANGUAGE))
    for word in ("limits", "title", "rules"):
        yield line(f"<{word}>")
        yield from of_word(told_of(word, LANGUAGE))


def _lessons() -> Iterator[Line]:
    spec = taught(LESSONS)
    yield from lesson_list(spec, "base")
    yield from lesson_whole(spec.lessons["fits"], spec)


def _exercise() -> Iterator[Line]:
    """With an answer that is right, one that is a foreseen mistake, one that cannot be read, none, and all right."""
    posed = made(seed=3)
    yield from exercise_given(posed, "Measure cold.")
    texts = (*(asked.right.text for asked in posed.asked), posed.asked[0].wrong[0].text)
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


COUNTS = (0, 1, 3, 4)
NAMES = ("ours", "theirs")
COUNTED = """\
specrules: tolerance-pack/1
group: Gaps
pack: {{name: {name}, version: "1", title: So many rules, unit: in}}
axes: {{place: {{count: places}}}}
facts: {{places: {{kind: count}}}}
measurands:
  gap: {{unit: in}}
  row: {{unit: in, at: place}}
rules:
  {rules}
"""
COUNTED_RULE = """{name}:
    title: Rule {name}
    {how}
    limits: [{{name: base, {limits}}}]
    importance: minor
    source: {{kind: house}}
    worked: [{{given: {{readings: {{gap: open}}}}, expect: {{verdict: not measured}}}}]
"""


class Counts(NamedTuple):
    """How many rules two packs have that differ, are alike, only one of them has, and have no figure; and places."""

    differ: int = 1
    alike: int = 2
    own: int = 0
    untold: int = 0
    places: int = 0


def _counted(name: str, most: str, counts: Counts) -> str:
    """A pack of so many rules, with this limit where they differ."""
    gap, row = "formula: gap", "each: place\n    formula: row"
    rules = [
        ("differs", counts.differ, row if counts.places else gap, f"least: 0.0010 in, most: {most} in"),
        ("alike", counts.alike, gap, "most: 0.0040 in"),
        (f"of_{name}", counts.own, gap, "most: 0.0040 in"),
        ("untold", counts.untold, gap, "from the maker: yes"),
    ]
    made = [
        COUNTED_RULE.format(name=f"{kind}_{number}", how=how, limits=limits)
        for kind, many, how, limits in rules
        for number in range(1, many + 1)
    ]
    return COUNTED.format(name=name, rules="  ".join(made))


def _comparisons(on_a_sheet: bool) -> Iterator[Line]:
    """Each kind of rule, and places, at each count, while there are some of the others; then where none differs."""
    each_kind = [Counts()._replace(**{kind: many}) for kind in Counts._fields for many in COUNTS]
    for counts in dict.fromkeys((*each_kind, *(Counts(0, many, 1, 1) for many in COUNTS))):
        yield line(f"<{', '.join(f'{kind} {many}' for kind, many in counts._asdict().items())}>")
        packs = {name: _counted(name, most, counts) for name, most in (("ours", "0.0020"), ("theirs", "0.0030"))}
        specs = _specification(packs, "ours"), _specification(packs, "theirs")
        if on_a_sheet:
            yield from compared(between(*(inspect(_sheet(counts.places, spec), spec) for spec in specs)), NAMES)
        else:
            yield from compared_specifications(between_specifications(*specs), NAMES)


def _sheet(places: int, spec: Specification) -> Sheet:
    """Readings of which all but that at the first place are in spec by one of the two packs."""
    row = ", ".join(f"{number}: {'0.0015' if number == 1 else '0.0025'}" for number in range(1, places + 1))
    body = f"facts: {{places: {max(places, 1)}}}\nreadings: {{gap: 0.0025, row: {{{row}}}}}\n"
    raw, _ = read_sheet(build(body, "ours").encode(), "counted.sheet.yaml")
    assert raw is not None
    sheet, faults = settle(raw, spec)
    assert sheet is not None, faults
    return sheet


def _asked_less() -> Iterator[Line]:
    """Of two packs, by nobody, by one of them, by both, in one way and in many; what both do is not told."""
    for names in (("base", "strict"), ("wide", "base"), ("wide", "lenient"), ("wide", "quiet"), ("quiet", "quiet")):
        yield line(f"<{', '.join(names)}>")
        specs = (_specification(PACKS, name) for name in names)
        one, other = ([entry for head in spec.packs for entry in pack_ledger(spec, head.name)] for spec in specs)
        yield from asked_less_by_each((one, other), names)


PAGES: dict[str, Callable[[], Iterator[Line]]] = {
    "pack_with_everything": lambda: _pack("base"),
    "pack_that_amends": lambda: _pack("wide"),
    "pack_with_a_full_heading": _full_heading,
    "rule": _rule,
    "working": _working,
    "language": _language,
    "lessons": _lessons,
    "exercise": _exercise,
    "study_of_one_part": lambda: _study(ONE_OPERATOR, HEAD.replace("date: 2026-10-02\n", "")),
    "study_of_two_parts": lambda: _study(TWO_OPERATORS, HEAD),
    "comparisons_on_a_sheet": lambda: _comparisons(True),
    "comparisons_as_written": lambda: _comparisons(False),
    "asked_less_by_each": _asked_less,
}


def page(name: str) -> str:
    return "".join(f"{row}\n" for row in styled(PAGES[name]()))


@pytest.mark.second_lane
@pytest.mark.parametrize("name", PAGES)
def test_a_page_is_what_is_stored(name: str) -> None:
    assert page(name) == (HERE / f"{name}.txt").read_text(encoding="utf-8")


if __name__ == "__main__":
    for each in PAGES:
        (HERE / f"{each}.txt").write_text(page(each), encoding="utf-8")
