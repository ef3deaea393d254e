"""Reading: every scalar as written, every key and value with its place, bounded cost, no exception ever."""

import codecs
import threading
from concurrent.futures import ThreadPoolExecutor
from typing import Any, cast

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from specrules.document import Budget, Fields, Node, Place, read
from tests.document.placed_trees import texts

SHEET = """\
# a comment
build: {title: Inline six, serial: , date: 2026-10-03}
readings:
  main_journal:
    gauge: "mic 2-3"   # the good one
    2: [2.4991, open]
    4:
  list:
  - {at: 1}
  -
"""


PARSERS = pytest.mark.parametrize("pure", [False, True], ids=["C parser", "pure parser"])


def clean(source: str | bytes, pure: bool = False) -> Fields:
    tree, faults = read(source, "s.yaml", pure=pure)
    assert faults == ()
    assert tree is not None
    return tree


def at(node: Node, *path: str | int) -> Node:
    for step in path:
        node = cast(Any, node)[step]
    return node


@PARSERS
def test_every_key_and_value_knows_its_place(pure: bool) -> None:
    tree = clean(SHEET, pure)
    assert tree.place == Place("s.yaml", 2, 1)
    build = at(tree, "build")
    assert isinstance(build, Fields)
    assert build.place == ("s.yaml", 2, 8)
    assert [(key, key.place.line, key.place.column) for key in build] == [
        ("title", 2, 9),
        ("serial", 2, 28),
        ("date", 2, 38),
    ]
    assert [(value.place.line, value.place.column) for value in build.values()] == [(2, 16), (2, 35), (2, 44)]
    journal = at(tree, "readings", "main_journal")
    assert isinstance(journal, Fields)
    assert (at(journal, "gauge"), at(journal, "gauge").place) == ("mic 2-3", ("s.yaml", 5, 12))
    assert at(journal, "2", 1).place == ("s.yaml", 6, 17)
    assert (at(journal, "4"), at(journal, "4").place) == ("", ("s.yaml", 7, 7))
    assert at(tree, "readings", "list").place == ("s.yaml", 9, 3)
    assert (at(tree, "readings", "list", 1), at(tree, "readings", "list", 1).place) == ("", ("s.yaml", 10, 4))


@PARSERS
def test_a_span_holds_what_was_written(pure: bool) -> None:
    source = SHEET + 'odd: "\\x41"\n'
    for text in texts(clean(source, pure)):
        written = source[slice(*text.span)]
        if not text.quoted:
            assert written == text
        else:
            assert written[0] == written[-1] == '"'
            assert text == "A" or written[1:-1] == text


def test_quoted_says_whether_the_text_is_bare() -> None:
    tree = clean("a: 1\n'b': '1'\nc: \"1\"\nd: |\n  1\n")
    assert [key.quoted for key in tree] == [False, True, False, False]
    assert [text.quoted for text in texts(tree) if text.strip() == "1"] == [False, True, True, True]


@pytest.mark.parametrize(
    ("source", "value"),
    [
        ("a: one\n  two\n", "one two"),
        ("a: >\n  one\n  two\n\nb: x\n", "one two\n"),
        ("a: |-\n  one\n   two\n", "one\n two"),
        ("a: 'it''s'\n", "it's"),
        ('a: "tab\\t and \\u00b5"\n', "tab\t and µ"),
        ("---\na: one\n...\n", "one"),
        ("%YAML 1.2\n---\na: one\n", "one"),
        ("? a\n: one\n", "one"),
        ("a: -1", "-1"),
        ("a: bolt#6 # a comment", "bolt#6"),
        ('a: 4.030"', '4.030"'),
    ],
)
def test_yaml_is_read_as_yaml(source: str, value: str) -> None:
    assert clean(source)["a"] == value  # type: ignore[index]


def test_lines_and_columns_are_the_same_with_either_line_end_and_a_byte_order_mark() -> None:
    plain = SHEET + "multi: one\n  two\nlast: 1\n"
    crlf = plain.replace("\n", "\r\n")
    places = [(text, text.place) for text in texts(clean(plain))]
    for source in (crlf, "\ufeff" + crlf, crlf.encode(), codecs.BOM_UTF8 + plain.encode()):
        assert [(text, text.place) for text in texts(clean(source))] == places
    for mark, name in ((codecs.BOM_UTF16_LE, "utf-16-le"), (codecs.BOM_UTF16_BE, "utf-16-be")):
        assert [(text, text.place) for text in texts(clean(mark + crlf.encode(name)))] == places


def test_a_span_counts_a_byte_order_mark() -> None:
    source = "\ufeffa: 1\nb: 2\n"
    assert [source[slice(*text.span)] for text in texts(clean(source))] == ["a", "1", "b", "2"]


def test_the_kind_of_file_is_the_callers() -> None:
    for source in ("", b"\xb5", "a:\t1", "a: 1\na: 2", "a: [", "x" * 30):
        _, faults = read(source, "p.yaml", Budget(size=20), kind="pack")
        assert [fault.kind for fault in faults] == ["pack"]


@pytest.mark.parametrize(
    ("budget", "source", "said"),
    [
        (Budget(size=10), "a: 23456789", "the file is larger than 10 bytes"),
        (Budget(depth=3), "a:\n  b:\n    c:\n      d: 1\n", "the file is nested more than 3 levels deep"),
        (Budget(depth=3), "a: {b: {c: {d: 1}}}", "the file is nested more than 3 levels deep"),
        (Budget(depth=3), "- - - - a", "the file is nested more than 3 levels deep"),
        (Budget(nodes=6), "a: 1\nb: [1, 2]\n", "the file holds more than 6 keys and values"),
    ],
)
def test_a_file_over_budget_is_refused(budget: Budget, source: str, said: str) -> None:
    tree, faults = read(source, "s.yaml", budget)
    assert tree is None
    assert [fault.said for fault in faults] == [said]


def test_a_file_within_budget_is_taken() -> None:
    within = [
        (Budget(size=10), "a: 3456789"),
        (Budget(depth=3), "a:\n  b:\n    c: 1\n"),
        (Budget(depth=3), "a: {b: {c: 1}}"),
        (Budget(nodes=7), "a: 1\nb: [1, 2]\n"),
    ]
    for budget, source in within:
        tree, faults = read(source, "s.yaml", budget)
        assert tree is not None
        assert not faults


def test_faults_are_counted_and_cut_off() -> None:
    tree, faults = read("a: 1\n" * 30, "s.yaml", Budget(faults=5))
    assert tree is None
    assert len(faults) == 6
    assert sum(fault.said == "too many faults; the rest are not shown" for fault in faults) == 1
    _, faults = read("\0" * 30 + "\n" + "a\tb\n" * 30, "s.yaml", Budget(faults=5))
    assert len(faults) == 5


HOSTILE = {
    "deep brackets": "a: " + "[" * 100_000,
    "deep braces": "a: " + "{b: " * 100_000,
    "deep dashes": "- " * 100_000,
    "deep indentation": "".join(" " * i + "a:\n" for i in range(600)),
    "one long line of faults": "a: [" + "*x, " * 50_000 + "]",
    "long run of spaces": "a: {b" + " " * 200_000 + "#x",
    "long key": "k" * 200_000 + ": 1",
    "long number": "a: " + "9" * 200_000,
    "merge keys": "m0: &m0 {a: 1}\n"
    + "\n".join(f"m{i}: &m{i} {{<<: [{', '.join([f'*m{i - 1}'] * 10)}], k{i}: 1}}" for i in range(1, 8)),
    "aliases": "a: &a [1]\n" + "\n".join(f"b{i}: &b{i} [{', '.join(['*a'] * 9)}]" for i in range(9)),
    "a ring": "a: &a {b: *a}",
}


@pytest.mark.parametrize("source", HOSTILE.values(), ids=HOSTILE.keys())
def test_hostile_files_get_short_faults_and_stay_small(source: str) -> None:
    tree, faults = read(source, "s.yaml")
    assert tree is None or len(texts(tree)) < 1000  # nothing multiplies
    assert len(faults) <= 101
    assert all(len(fault.sentence()) < 1000 for fault in faults)


@PARSERS
def test_threads_do_not_disturb_each_other(pure: bool) -> None:
    # Hazard seen in public: one parser shared by threads mixes up their files.
    sources = [f"n: {i}\n" + SHEET for i in range(8)]
    start = threading.Barrier(4)

    def job(_: int) -> list[bool]:
        start.wait()
        return [clean(source, pure)["n"] == str(i) for i, source in enumerate(sources)]  # type: ignore[index]

    with ThreadPoolExecutor(4) as pool:
        assert all(all(each) for each in pool.map(job, range(4)))


MARKS = "a1 \n\r\t:-?#,[]{}'\"|>%&*!@`=<~.\\\x00\x85\u2028\ufeffé(\ud800"


@given(
    st.one_of(
        st.text(), st.text(alphabet=MARKS, max_size=40), st.binary(), st.binary().map(lambda b: codecs.BOM_UTF16_LE + b)
    )
)
@example('a: "\\U00110000"')
@example("a: !<")
@example("%YAML 1.1\n---\n")
@example("---\n---\n")
@example("{a: 1}: {b: 2}")
def test_no_input_raises(source: str | bytes) -> None:
    tree, faults = read(source, "s.yaml")
    assert tree is not None or faults
    for fault in faults:
        assert fault.place.line >= 1
        assert fault.place.column >= 1
        assert fault.sentence().startswith("s.yaml, line ")
        fault.sentence().encode()
    for text in texts(tree) if tree is not None else []:
        text.encode()
