"""The C parser gives the pure parser's answer: the same tree, places and spans, or the same faults."""

import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from specrules.document import Budget, composing, read
from tests.document.placed_trees import USUAL, plain
from tests.lanes import first_alone

ROOT = Path(__file__).parents[2]
SHIPPED = sorted([*ROOT.glob("packs/**/*.yaml"), *ROOT.glob("specrules/**/*.yaml")])


def said(text: str, pure: bool) -> list[str]:
    """What is read, as `key=value` down to the texts, or the faults."""
    tree, faults = read(text, "f", pure=pure)
    return [fault.said for fault in faults] or [f"{key}={value}" for key, value in (tree or {}).items()]


def agree(text: str, budget: Budget | None = None) -> bool:
    """Holds that both parsers say the same, and tells whether the text is sound."""
    tree, faults = read(text, "f", budget or Budget())
    pure_tree, pure_faults = read(text, "f", budget or Budget(), pure=True)
    assert faults == pure_faults
    assert plain(tree) == plain(pure_tree)
    return not faults


# Texts that the two parsers take differently when they are asked alone, most of them found with the property below.
DIFFERENT = [
    # The C parser refuses a colon without a space after it inside brackets and braces.
    ("{a:1}", ['"a:1" has no space after its colon']),
    ("a: {b: c:d}", ["a={'b': 'c:d'}"]),
    ("a: {at: 12:30}", ["a={'at': '12:30'}"]),
    ("a: [b:c]", ["a=['b:c']"]),
    ("a: [x:]", ["a=['x:']"]),
    ("a: [b?c]", ["a=['b?c']"]),
    ("a: [?]", ["a key is missing before this colon", '"" has no colon and no value']),
    # It takes one right behind a quoted key, in a list too.
    ('a: ["b":1]', ["a second colon stands outside quotes"]),
    ('a: {"b":1}', ["a={'b': '1'}"]),
    # It takes a comment right behind the header of text below, and lines of spaces alone before that text.
    ("a: |#b\n  c\n", ["a value that starts with | is text on the lines below in YAML"]),
    ("a: >2#b\n  c\n", ["a value that starts with > is text on the lines below in YAML"]),
    (
        "a: |\n \n   x\n",
        ['"x" is indented unlike the lines that it belongs to, or the line above already has a value'],
    ),
    ("a: >  # b\r\n\r\n  \r\n    x\r\n", ["a=\n\nx\n"]),
    # It ends the name of an anchor or an alias earlier.
    ("*a: b", ['"*a:" is an alias in YAML, which is not taken here']),
    ("a: &b?c d", ['"&b?c" is an anchor in YAML, which is not taken here']),
    # It places a second document at the line of its directive.
    ("a: 1\n...\n%YAML 1.2\n---\nb: 2", ["a second document starts here; put it in a file of its own"]),
    # It takes the end of a document twice.
    ("a: 1\n...\n...\n", ["a second document starts here; put it in a file of its own"]),
    # It takes tabs between words, and ends lines at more characters.
    ("a:\tb", ["a tab stands at column 3; use spaces"]),
    ("a: b\n\tc: d", ["a tab stands at column 1; use spaces"]),
    (
        "a: b\x85c: d",
        ["a next-line character (U+0085) stands here; end the line as the editor's other lines end"],
    ),
    # Behind a backslash at the end of a line it looks at what its memory held before.
    ('a: "b\\\n  c"\n', ["a=bc"]),
    ('a: "b\\\r\n', ['the quote " is opened here and not closed']),
    # It places an empty value elsewhere, and counts no byte order mark.
    ("a: #b\n", ['"#b" is read as a comment (if it is one, put a space after the #)']),
    ("a: {b: , c: }\nd:  # e\n", ["a={'b': '', 'c': ''}", "d="]),
    ("\ufeffa: 1\r\nb:\r\n", ["a=1", "b="]),
    # It refuses escapes that name no character.
    ('a: "\\ud800"', ["the text holds a control or invisible character (U+D800)"]),
    ('a: "\\U00110000"', ["this cannot be read as YAML"]),
]


@pytest.mark.parametrize(("text", "expected"), DIFFERENT, ids=[text for text, _ in DIFFERENT])
def test_a_text_that_they_take_differently_has_one_answer(text: str, expected: list[str]) -> None:
    agree(text)
    assert said(text, pure=False) == said(text, pure=True) == expected


@pytest.mark.parametrize("tail", ["z: 1\n", "z: 1", "z:\n", "z: |\n  x\n\n", "z: [1]  # b\n\n"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
@pytest.mark.parametrize("line_end", ["\n", "\r\n"])
def test_a_sheet_is_read_alike_with_any_line_ends(tail: str, mark: str, line_end: str) -> None:
    assert agree(mark + (USUAL + tail).replace("\n", line_end))


@pytest.mark.second_lane
@pytest.mark.parametrize("path", first_alone(*SHIPPED), ids=[path.name for path in SHIPPED])
def test_what_ships_is_read_by_the_c_parser_alone(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    text = path.read_text(encoding="utf-8")
    assert agree(text)
    monkeypatch.setattr(composing, "YAML", None)
    assert read(text, path.name)[0] is not None


def test_where_there_is_no_c_parser_the_pure_one_reads() -> None:
    code = (
        "import sys; sys.modules['_ruamel_yaml'] = None; from specrules.document import read; print(read('a: 1', 'f'))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "({'a': '1'}, ())\n"


@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_budgets_hold_for_both(mark: str) -> None:
    text = f"{mark}a: [{{b: [1]}}]\nc:\n  d:\n    - 1\n"
    assert [agree(text, Budget(depth=depth)) for depth in range(1, 6)] == [False, False, False, True, True]
    assert [agree(text, Budget(nodes=nodes)) for nodes in range(10, 14)] == [False, False, True, True]


LINES = [
    *("a: |", "b: >", "c: |-", "d: >+", "e: |2", "s: |  # c", "> # c", "|"),
    *("- ", "-", "- - x", "- k: v", "- {a: 1}", "p: -", "q: - r", "? o", ": p", "? |", "? - a", "- ? b", "- : c"),
    *("g:", "h: v", "k: v  ", "w w", "m: n, ", "a: b: c", "r: :s", "t: a:b", "a#b", "a #b", "# c", "é: ü", "~: x"),
    *("i: 'q", "q'", 'j: "d', 'd"', "k: 'a''b'", 'k: "a\\"b"', 'k: "a\\', "'x': y", '"x": y', "'", '"'),
    *("k: [", "l: {", "]", "}", "x, y", "n: [a, b]", "o: {a: b, c}", "u: [a:b]", "v: {a: 'b':c}", "[1,2]", "(, )"),
    *("...", "---", "%YAML 1.2", "&a b", "*a", "!t x", "<<: {a: 1}", "", "", " ", "   "),
]
LAID_OUT = st.builds(
    lambda lines, line_end, last: line_end.join(" " * indent + line for indent, line in lines) + line_end * last,
    st.lists(st.tuples(st.integers(0, 4), st.sampled_from(LINES)), max_size=7),
    st.sampled_from(["\n", "\r\n"]),
    st.booleans(),
)
PIECES = [
    *("a", "b: ", "key: ", "1: ", "2.4990", "- ", "- - ", "x y", "é", "-", "-1", "12:30", "=", "\ufeff", "\U0001f600"),
    *("[", "]", "{", "}", "(", ")", ", ", ",", ": ", ":", "#", " # c", "<", "?", "!", "&a", "*a", "|", ">", "%", "\\"),
    *("'", '"', "''", '"q"', "'q'", '"q":', "{a: 1, b: 2}", "[1, 2]", "|\n    x\n", ">-\n    x\n    y\n", "|2"),
    *(
        " ",
        "  ",
        "\n",
        "\n  ",
        "\n    ",
        "\n      z",
        "\n- ",
        ",\n   ",
        "\n\n",
        "\n# own\n",
        "\r\n",
        "...",
        "---",
        "\t",
    ),
]


@given(st.one_of(LAID_OUT, st.lists(st.sampled_from(PIECES), max_size=9).map("".join)))
@example("a: b #c\nd: -\n")
def test_made_up_files_are_read_alike(text: str) -> None:
    agree(text)


@given(st.integers(0, len(USUAL)), st.integers(0, 3), st.sampled_from(PIECES))
def test_a_sheet_with_a_slip_in_it_is_read_alike(start: int, length: int, piece: str) -> None:
    agree(USUAL[:start] + piece + USUAL[start + length :])
