"""Alterations of a text by its grammar: of its words, numbers, lines, blocks, YAML and characters, drawn by a seed."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from random import Random

from tests.fuzz.yaml_kinds import LINES, VALUES

WORD = re.compile(r"[^\W\d]\w*")
NUMBER = re.compile(r"[-+]?\d+(?:\.\d+)?")
DIGIT = re.compile(r"\d")
OPERATOR = re.compile(r" (?:[-+*/<>]|[<>=!]=|and|or) ")
MARK = re.compile(r"[^\w\s]+")
VALUE = re.compile(r"(?<=: )[^\s{}\[\],#][^\n{}\[\],#]*|(?<=- )[^\s{}\[\],#][^\n{}\[\],#]*")

MARKS = (
    *"+-*/^()[]{}<>=!,.:;#&|%@`~'\"?$\\_",
    "..",
    "==",
    "<=",
    "!=",
    "±",
    "+/-",
    "−",
    "–",
    "½",
    "µ",
    "°",
    "²",
    ": ",
    ", ",
)
CHARACTERS = (
    *"\x00\x07\x1b\x7f\x85\xa0\u200b\u202e\u2028\ufeff\ufffe\ud800\u0661\uff11\u0301\r\t\n",
    "\U0001f600",
    "\r\n",
)
FIGURES = (
    *(
        "0",
        "-0",
        "0.0",
        "1",
        "-1",
        "2",
        "256",
        "257",
        "1000000",
        "99999999999999999999",
        "1e5",
        "1E-400",
        "0.00001",
        ".5",
    ),
    *(
        "5.",
        "1/2",
        "1 1/2",
        "1/0",
        "0/0",
        "1,5",
        "1'000",
        "2.49O0",
        "2.4990.1",
        "NaN",
        "inf",
        "1e999999999",
        "0x10",
        "٣",
    ),
    *("9" * 61, "0." + "0" * 50 + "1", "-1e-30", "1.0000000000000000000000000000000000000000000000000001"),
)
AFFIXES = (
    "under {}",
    "over {}",
    "{}..{}",
    "{} ±0.0002",
    "{} ±0",
    "{} in",
    "{} mm",
    "{} thou",
    "{} deg",
    "{} g",
    "{} °F",
)
MORE_AFFIXES = (
    "{} ({} mm)",
    "about {}",
    "<{}",
    "{}%",
    "{}/64",
    "-{}",
    "{} or {}",
    "{}..",
    "..{}",
    "[{}]",
    "{} x {}",
    "{} in mm",
)

DIGITS = (*"0123456789", "", "00", "9.")
OPERATORS = (" + ", " - ", " * ", " / ", " < ", " > ", " <= ", " >= ", " == ", " != ", " and ", " or ")

Alteration = Callable[[str, Random, Sequence[str]], str]


def altered(text: str, draw: Random, words: Sequence[str], how: Sequence[Alteration]) -> str:
    """A text after an alteration or a few."""
    for _ in range(draw.choice((1, 1, 1, 1, 2, 2, 3, 6))):
        text = draw.choice(how)(text, draw, words)
    return text


def word(text: str, draw: Random, words: Sequence[str]) -> str:
    """Another word of the grammar for one of them."""
    return _swapped(text, draw, WORD, draw.choice(words))


def number(text: str, draw: Random, _words: Sequence[str]) -> str:
    """Another number for one of them, or one with something about it."""
    form, figure = draw.choice((*AFFIXES, *MORE_AFFIXES, *["{}"] * 12)), draw.choice(FIGURES)
    if draw.random() < 0.4:
        figure = str(round(draw.uniform(-3, 9), draw.randint(0, 6)))
    return _swapped(text, draw, NUMBER, form.replace("{}", figure))


def digit(text: str, draw: Random, _words: Sequence[str]) -> str:
    """Another digit for one of them: what was sound mostly stays so, and comes to something else."""
    return _swapped(text, draw, DIGIT, draw.choice(DIGITS))


def own_word(text: str, draw: Random, _words: Sequence[str]) -> str:
    """A word of the text once more, for another one."""
    return _swapped(text, draw, WORD, draw.choice(WORD.findall(text) or [""]))


def operator(text: str, draw: Random, _words: Sequence[str]) -> str:
    """Another operator for one of them."""
    return _swapped(text, draw, OPERATOR, draw.choice(OPERATORS))


def mark(text: str, draw: Random, _words: Sequence[str]) -> str:
    """Other signs for those that stand together, or some more."""
    new = draw.choice(MARKS)
    return _swapped(text, draw, MARK, new) if draw.random() < 0.7 else _inserted(text, draw, new)


def dropped(text: str, draw: Random, _words: Sequence[str]) -> str:
    """A stretch of characters left out."""
    at = draw.randint(0, len(text))
    return text[:at] + text[at + draw.choice((1, 1, 1, 2, 3, 8, 40)) :]


def doubled(text: str, draw: Random, _words: Sequence[str]) -> str:
    """A stretch of characters twice, or a few times."""
    at = draw.randint(0, len(text))
    piece = text[at : at + draw.choice((1, 2, 3, 8, 30))]
    return _inserted(text, draw, piece * draw.choice((1, 1, 1, 2, 9)))


def character(text: str, draw: Random, _words: Sequence[str]) -> str:
    """A character that hides, steers, or is a look-alike."""
    return _inserted(text, draw, draw.choice(CHARACTERS))


def added_word(text: str, draw: Random, words: Sequence[str]) -> str:
    """A word of the grammar more, anywhere."""
    return _inserted(
        text, draw, draw.choice(("{}", " {} ", "{}: ", ", {}", "\n{}: ")).replace("{}", draw.choice(words))
    )


def line(text: str, draw: Random, _words: Sequence[str]) -> str:
    """A line left out, doubled, moved, indented otherwise, or joined to the next."""
    lines = text.split("\n")
    at, to = draw.randrange(len(lines)), draw.randrange(len(lines))
    what = draw.randrange(5)
    if what == 0:
        del lines[at]
    elif what == 1:
        lines.insert(to, lines[at])
    elif what == 2:
        lines.insert(to, lines.pop(at))
    elif what == 3:
        lines[at] = " " * draw.randint(0, 9) + lines[at].lstrip()
    else:
        lines[at : at + 2] = [" ".join(lines[at : at + 2])]
    return "\n".join(lines)


def block(text: str, draw: Random, _words: Sequence[str]) -> str:
    """A line with all that is indented under it moved, doubled or left out."""
    lines = text.split("\n")
    start = draw.randrange(len(lines))
    end, depth = start + 1, _depth(lines[start])
    while end < len(lines) and lines[end].strip() and _depth(lines[end]) > depth:
        end += 1
    piece, what, to = lines[start:end], draw.randrange(3), draw.randrange(len(lines))
    if what < 2:
        del lines[start:end]
    if what > 0:
        lines[to:to] = piece
    return "\n".join(lines)


def yaml_value(text: str, draw: Random, _words: Sequence[str]) -> str:
    """Another kind of value for one of them."""
    return _swapped(text, draw, VALUE, draw.choice(VALUES))


def yaml_line(text: str, draw: Random, _words: Sequence[str]) -> str:
    """A line of another kind."""
    lines = text.split("\n")
    lines.insert(draw.randint(0, len(lines)), " " * draw.choice((0, 0, 2, 2, 4, 1, 3)) + draw.choice(LINES))
    return "\n".join(lines)


def nested(text: str, draw: Random, _words: Sequence[str]) -> str:
    """A value in more brackets, or lists and mappings many times over."""
    times = draw.choice((1, 1, 2, 60))
    opened, closed = draw.choice((("[", "]"), ("{a: ", "}"), ("(", ")"), ("- ", "")))
    return _swapped(text, draw, VALUE, f"{opened * times}1{closed * times}")


GENTLE: tuple[Alteration, ...] = (digit, digit, own_word, operator)
ROUGH: tuple[Alteration, ...] = (word, number, mark, dropped, doubled, character, added_word)
ROUGH_OF_A_FILE: tuple[Alteration, ...] = (*ROUGH, line, line, block, block, yaml_value, yaml_line, nested)
ON_ONE_LINE = (*GENTLE * 3, *ROUGH)
OF_A_FILE = (*(digit, digit, digit, own_word) * 6, *ROUGH_OF_A_FILE)


def _depth(text: str) -> int:
    return len(text) - len(text.lstrip(" "))


def _inserted(text: str, draw: Random, piece: str) -> str:
    at = draw.randint(0, len(text))
    return text[:at] + piece + text[at:]


def _swapped(text: str, draw: Random, what: re.Pattern[str], new: str) -> str:
    """One of the finds written anew: the first behind a place that is drawn, so that a long text costs little."""
    found = what.search(text, draw.randint(0, len(text))) or what.search(text)
    return text[: found.start()] + new + text[found.end() :] if found else _inserted(text, draw, new)
