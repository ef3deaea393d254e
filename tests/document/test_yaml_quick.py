"""The quick reader's answer is the thorough reader's, wherever it gives one."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from specrules.document import read
from specrules.document.compose import compose
from specrules.document.quick import quick
from specrules.document.source import Budget, Source, unwanted
from tests.document.placed_trees import USUAL, plain


def agree(text: str, budget: Budget | None = None) -> bool:
    """Whether the quick reader took a text; when it did, the thorough one must say the same."""
    source, budget = Source("f", text, "sheet"), budget or Budget()
    if unwanted(source, 1) or (tree := quick(source, budget)) is None:
        return False
    thorough, faults = compose(source, budget)
    assert faults == []
    assert plain(tree) == plain(thorough)
    return True


@pytest.mark.parametrize(
    "text",
    [
        USUAL,
        USUAL.replace("\n", "\r\n"),
        "\ufeff" + USUAL,
        USUAL.rstrip(),
        USUAL.replace("one\n", "one  \n"),
        "  a: 1\n  b:\n",
    ],
)
def test_usual_shapes_are_taken(text: str) -> None:
    assert agree(text)


def test_the_packs_that_ship_agree() -> None:
    for pack in sorted(Path(__file__).parents[2].glob("packs/**/*.yaml")):
        text = pack.read_text(encoding="utf-8")
        assert agree(text) or read(text, pack.name)[1]


@pytest.mark.parametrize(
    "text",
    [
        "",
        "- a\n",
        "a: 1\na: 2\n",
        "é: 1\n",
        "a: [1,2]\n",
        "a: (x\nb: [(x, y)]\n",
        "a: 'it''s'\n",
        'a: "\\n"\n',
        "a: one\n  two\n",
        "a: |\n  x\n\n  y\n",
        "a: >\n  x\n   y\n",
        "a: |\nx: 1\n",
        "a: |\n\n  x\n",
        "a: |2\n  x\n",
        "a: 1 #x\n",
        "a: &x 1\n",
        "a: - b\n",
        "a:\n  b: 1\n c: 2\n",
        "a: [1, 2,]\n",
        "a: {b}\n",
        "a: {b:1}\n",
        "a: [1\n",
        "a: {b: c: d}\n",
        "a: [%]\n",
        "<<: {a: 1}\n",
        "a: b: c\n",
        "k" * 950 + ": 1\n",
        "a: {b: 1} c\n",
        "---\na: 1\n",
        "a:\n- 1\nb\n",
        "a:\n  - 1\n  b: 2\n",
        "a:\n  b: 1\n  - 2\n",
        "a: [...\n]\n",
    ],
)
def test_all_else_is_left_to_the_thorough_reader(text: str) -> None:
    assert quick(Source("f", text, "sheet"), Budget()) is None


def test_budgets_hold_for_both() -> None:
    text = "a: [{b: [1]}]\nc:\n  d:\n    - 1\n"
    for depth in range(1, 6):
        assert agree(text, Budget(depth=depth)) == (depth >= 4)
    taken = [agree(text, Budget(nodes=nodes)) for nodes in range(1, 25)]
    assert taken == sorted(taken)
    assert taken[-1]


PIECES = [
    "a",
    "b: ",
    "key: ",
    "1: ",
    "2.4990",
    "- ",
    "[",
    "]",
    "{",
    "}",
    ", ",
    ",",
    ": ",
    ":",
    "#",
    " # c",
    "'",
    '"',
    "x y",
    " ",
    "  ",
    "\n",
    "\n  ",
    "\n    ",
    "\n- ",
    "\r\n",
    "...",
    "---",
    "12:30",
    "(",
    ")",
    "é",
    "-",
    "-1",
    "{a: 1, b: 2}",
    "[1, 2]",
    '"q"',
    "'q'",
    "''",
    ",\n   ",
    "\n\n",
    "\n# own\n",
    "- - ",
    "<",
    "?",
    "!",
    "&a",
    "*a",
    "|",
    ">",
    "%",
    "=",
    "|\n    x\n",
    ">-\n    x\n    y\n",
    "\n      z",
]
LINES = st.builds(
    lambda indent, start, rest: indent + start + "".join(rest) + "\n",
    st.sampled_from(["", "  ", "    "]),
    st.sampled_from(["a: ", "b:", "c: ", "d:", "- ", "- e: ", "-"]),
    st.lists(st.sampled_from(PIECES), max_size=3),
)


@settings(max_examples=200, deadline=None)
@given(st.lists(LINES, max_size=6).map("".join))
def test_made_up_files_agree(text: str) -> None:
    agree("top: 1\n" + text)


@settings(max_examples=200, deadline=None)
@given(st.integers(0, len(USUAL)), st.integers(0, 3), st.sampled_from(PIECES))
def test_a_sheet_with_a_slip_in_it_agrees(start: int, length: int, piece: str) -> None:
    agree(USUAL[:start] + piece + USUAL[start + length :])
