"""Writing one value anew: it reads back as given, and nothing else moves."""

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from specrules.document import Text, read
from specrules.document.replacing import replace
from tests.document.placed_trees import texts

SOURCE = (
    "\ufeff# first\r\nbuild: {title: Inline six, serial: , note: 'x', w: \"y\"}   # kept\r\n"
    "packs: [towing,racing]\r\nlist:\r\n  - one\r\n  -\r\n  - two\r\nblock: |  # kept too\r\n  a\r\n  b\r\n\r\n"
    "empty:\r\nfolded: some\r\n  words\r\nlast: 1"
)


def all_texts(source: str) -> list[Text]:
    tree, faults = read(source, "s.yaml")
    assert tree is not None
    assert faults == ()
    return texts(tree)


PLACES = range(len(all_texts(SOURCE)))
VALUES = st.one_of(
    st.text(st.characters(exclude_categories=["Cs", "Cc", "Cn"], exclude_characters="\u2028\u2029\ufeff"), max_size=12),
    st.text("a1 -:#,[]{}'\"|>%&*!@`=<?~.\\()\n\t", max_size=8),
    st.decimals(allow_nan=False, allow_infinity=False, places=4).map(str),
)


@pytest.mark.second_lane
@given(st.sampled_from(PLACES), VALUES)
@example(3, "")
@example(0, "<<")
@example(5, "-")
@example(5, "max(a")
@example(5, "2,5 mm")
def test_a_value_reads_back_and_all_else_stays(number: int, new: str) -> None:
    before = all_texts(SOURCE)
    start, end = before[number].span
    written = replace(SOURCE, before[number], new)
    assert written.startswith(SOURCE[:start])
    rest = SOURCE[end:]
    assert written.endswith(rest) or (start == end and written.endswith(rest.removeprefix(" ")))
    tree, faults = read(written, "s.yaml")
    assert tree is not None
    if any(" stands here and on line " in fault.said for fault in faults):
        return  # a key given the name of another
    assert faults == ()
    after = texts(tree)
    assert after[number] == new
    assert [*after[:number], *after[number + 1 :]] == [*before[:number], *before[number + 1 :]]


@pytest.mark.parametrize(
    ("source", "value", "new", "written"),
    [
        ("a: 2.4990  # mic 3\n", "2.4990", "2.4991", "a: 2.4991  # mic 3\n"),
        ("a: 1\n", "1", "2.5 thou", "a: 2.5 thou\n"),
        ("a: 1\n", "1", "0.015..0.016", "a: 0.015..0.016\n"),
        ("a: 1\n", "1", '4.030"', 'a: 4.030"\n'),
        ("a: 1\n", "1", ">= 5", 'a: ">= 5"\n'),
        ("a: 1\n", "1", "bolt #6", 'a: "bolt #6"\n'),
        ("a: 1\n", "1", "x: y", 'a: "x: y"\n'),
        ("a: '1'\n", "1", "2", 'a: "2"\n'),
        ("a: {serial: , b: 1}\n", "", "R-1", "a: {serial: R-1, b: 1}\n"),
        ("a:\nb: 1\n", "", "2", "a: 2\nb: 1\n"),
        ("a: [1,b]\n", "b", "2", 'a: [1,"2"]\n'),
        ("a: |\n  x\n  y\n\nb: 1\n", "x\ny\n", "z", 'a: "z"\n\nb: 1\n'),
        ("a: 1", "1", "\u2028\U0001f600\U000e0001", 'a: "\\u2028\U0001f600\\U000e0001"'),
    ],
)
def test_quotes_only_where_needed(source: str, value: str, new: str, written: str) -> None:
    (text,) = [each for each in all_texts(source) if each == value]
    assert replace(source, text, new) == written


def test_a_text_of_unknown_place_is_refused() -> None:
    with pytest.raises(ValueError, match="not known"):
        replace("a: 1", Text("1"), "2")
    with pytest.raises(ValueError, match="not known"):
        replace("a: 1", Text("1", span=(7, 8)), "2")
