"""Text to tokens: every kind with its offset, and what is said of a character that no formula has."""

from __future__ import annotations

import pytest
from hypothesis import event, given
from hypothesis import strategies as st

from specrules.formula.tokenizer import LONGEST, MOST_TOKENS, Refused, is_number, is_word, tokens
from specrules.quantity import Refusal
from specrules.vocabulary import Code

TAKEN = [
    ("", [("", 0)]),
    ("  ", [("", 2)]),
    ("2.4990", [("2.4990", 0), ("", 6)]),
    (".5+5.", [(".5", 0), ("+", 2), ("5.", 3), ("", 5)]),
    ("a<=b", [("a", 0), ("<=", 1), ("b", 3), ("", 4)]),
    ("a < =b", [("a", 0), ("<", 2), ("=", 4), ("b", 5), ("", 6)]),
    (" x_1 [ top ]\n", [("x_1", 1), ("[", 5), ("top", 7), ("]", 11), ("", 13)]),
    ("2in", [("2", 0), ("in", 1), ("", 3)]),
]


@pytest.mark.parametrize(("text", "wanted"), TAKEN)
def test_tokens_and_their_offsets(text: str, wanted: list[tuple[str, int]]) -> None:
    found = tokens(text)
    assert list(zip(found.texts, found.starts, strict=True)) == wanted


STRAYS = [
    ("x @ y", Code.UNWANTED_CHARACTER, "has '@', which no formula needs", "", 2),
    ("x # y", Code.UNWANTED_CHARACTER, "has '#', which no formula needs", "", 2),
    ("max(x; y)", Code.UNWANTED_CHARACTER, "has ';', which no formula needs", ",", 5),
    ("{x}", Code.UNWANTED_CHARACTER, "has '{', which no formula needs", "(", 0),
    ("a & b", Code.UNWANTED_CHARACTER, "has '&', which no formula needs", "and", 2),
    ("!a", Code.UNWANTED_CHARACTER, "has '!', which no formula needs", "not", 0),
    ("1.2.3", Code.MISWRITTEN_NUMBER, "has a number with two points", "", 0),
    ("2 + 1..5", Code.MISWRITTEN_NUMBER, "has a number with two points", "", 4),
    ("x.real", Code.MISWRITTEN_NUMBER, "has a point that belongs to no number", "", 1),
    ("use == 'street'", Code.UNWANTED_CHARACTER, "has a quotation mark; labels are written bare", "use == street", 7),
    ("open('a b')", Code.UNWANTED_CHARACTER, "has a quotation mark; labels are written bare", "", 5),
    ("x + 2 %", Code.UNWANTED_CHARACTER, "has a percent sign", "0.02", 6),
    ("x + 0.5%", Code.UNWANTED_CHARACTER, "has a percent sign", "0.005", 7),
    ("x % y", Code.UNWANTED_CHARACTER, "has a percent sign", "", 2),
    ("x × y", Code.UNWANTED_CHARACTER, "has '×', and a formula is plain letters", "*", 2),
    ("x − y", Code.UNWANTED_CHARACTER, "has '−', and a formula is plain letters", "-", 2),
    ("x²", Code.UNWANTED_CHARACTER, "has '²', and a formula is plain letters", "^2", 1),
    ("x ≤ y", Code.UNWANTED_CHARACTER, "has '≤', and a formula is plain letters", "<=", 2),
    ("5 µm", Code.UNWANTED_CHARACTER, "has 'µ', and a formula is plain letters", "um", 2),
    ("größe", Code.UNWANTED_CHARACTER, "has 'ö', and a formula is plain letters", "", 2),
    ("x + ٣", Code.UNWANTED_CHARACTER, "has '٣', and a formula is plain letters", "", 4),
    ("x\x00y", Code.UNWANTED_CHARACTER, "has '\\x00', which no formula needs", "", 1),
]


@pytest.mark.parametrize(("text", "code", "said", "write", "at"), STRAYS)
def test_strays(text: str, code: Code, said: str, write: str, at: int) -> None:
    with pytest.raises(Refused) as error:
        tokens(text)
    assert error.value.refusal == Refusal(code, said, write, at)


def test_a_text_may_be_just_so_long() -> None:
    assert tokens("x" * LONGEST).texts == ["x" * LONGEST, ""]
    with pytest.raises(Refused) as error:
        tokens("x" * (LONGEST + 1))
    assert error.value.refusal.said == "is 501 characters long, more than the 500 that a formula may have"
    assert error.value.refusal.at == LONGEST


def test_a_text_may_have_just_so_many_tokens() -> None:
    assert len(tokens("(" * MOST_TOKENS).texts) == MOST_TOKENS + 1
    with pytest.raises(Refused) as error:
        tokens("(" * (MOST_TOKENS + 1))
    assert error.value.refusal.said == "has more than 200 words and signs"
    assert error.value.refusal.at == MOST_TOKENS


def test_kinds() -> None:
    assert [is_number(text) for text in ("2", ".5", "x", "-", "")] == [True, True, False, False, False]
    assert [is_word(text) for text in ("x", "_x1", "if", "not", "2", "(", "")] == [True, True] + [False] * 5


@given(st.text(alphabet="ab_1.2 +-*/^()[],:<>=!\t", max_size=40))
def test_the_tokens_are_the_text_without_its_spaces(text: str) -> None:
    try:
        found = tokens(text)
    except Refused as refused:
        at = refused.refusal.at
        event("refused")
        assert 0 <= at < len(text)
        return
    assert "".join(found.texts) == "".join(text.split())
    for token, start in zip(found.texts, found.starts, strict=True):
        assert text[start : start + len(token)] == token
