"""The known ways in which a written number goes wrong, each with what it is and what to write instead.

Looked at only when a text could not be read as a number, in order, the first that fits. A suggestion may
itself be a slip (a decimal comma inside a span): the reader follows it until it reads, or else drops it.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal
from functools import cache

from specrules.vocabulary import Code

from .number import CONTEXT
from .refusal import Refusal

Slip = tuple[Code, str, str]
"""Its kind, what is said of it, and what to write."""

_Answer = Callable[[re.Match[str]], Slip]

_P = r"(?:\d+(?:\.\d+)?|\.\d+)"  # a number in a damaged text, without its sign
_N = rf"([+-]?{_P})"
_UNSEEN = r"[\x00-\x08\x0e-\x1f\x7f-\x9f\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff]"
_ONE = r"(?<=[\d.])[lI](?=[\d.])|^[lI](?=\.?\d)"
_GAP = r"(?<=\d)\s+(?=\d+(?![\d/]))"
_DO_NOT = r"(?:doesn't|does not|didn't|did not|won't|will not|not)"
_VAGUE = r"(?:(?:a (?:bit|little|hair|shade|touch)|just|slightly|probably|maybe)\s+)*"
_UNDER = r"(?:under|below|less than|smaller than|up to|at most|no more than|max(?:imum)?\.?)"
_OVER = r"(?:over|above|more than|larger than|at least|no less than|min(?:imum)?\.?)"
_ABOUT = r"about|around|approx\w*|roughly|circa|ca|nearly|almost|right (?:at|on)|probably|perhaps|maybe|say"


def _says(code: Code, said: str, write: str = "") -> _Answer:
    """What is said, and what to write with the match's groups filled in."""
    return lambda match: (code, said, match.expand(write))


def _swaps(code: Code, said: str, what: str, instead: str) -> _Answer:
    """Write the text with every `what` put right."""
    return lambda match: (code, said, re.sub(what, instead, match.string))


def _comma(match: re.Match[str]) -> Slip:
    text = match.string
    said = "has a comma"
    return Code.COMMA_IN_NUMBER, said, text.replace(",", "" if "." in text or re.search(r",\d+,", text) else ".")


def _exponent(match: re.Match[str]) -> Slip:
    return Code.MISWRITTEN_NUMBER, "has an exponent", f"{Decimal(match[1]):f}{match[2]}" if match[1] else ""


def _other_digits(match: re.Match[str]) -> Slip:
    text = "".join(str(int(each)) if each.isdecimal() else each for each in match.string)
    return Code.MISWRITTEN_NUMBER, "has digits other than 0 to 9", text


def _letter_o(match: re.Match[str]) -> Slip:
    text = re.sub(r"(?<=\w)o(?=[FC]$)", " ", match.string)  # a raised o for a degree sign
    return (Code.MISWRITTEN_NUMBER, "has the letter O in a number", re.sub(r"(?<=[\d.])[oO]|[oO](?=[\d.])", "0", text))


def _shade(match: re.Match[str]) -> Slip:
    word, size = match[1].lower(), match[2]
    side = "under" if word == "tight" else "over"
    if size.isdigit():  # counted in tenths of a thou
        size = f"{CONTEXT.scaleb(Decimal(size), -4):f} in"
    return Code.RANGE_IN_WORDS, f"says {word}, but not by how much and in which unit", f"{side} {size}"


def _deviations(match: re.Match[str]) -> Slip:
    size, *moves = (Decimal(re.sub(r"\s", "", match[group])) for group in (1, 2, 3))
    low, high = sorted(CONTEXT.add(size, move) for move in moves)
    return Code.NOT_A_READING, "is a size with a tolerance, not a reading", f"{low:f}..{high:f}{match[4]}"


def _span(match: re.Match[str]) -> Slip:
    first, first_unit, between, second, tail = match.groups("")
    if first_unit in ("", tail.strip()):
        size, cut = Decimal(first), Decimal(second)
        if between == "-" and cut > 0 and CONTEXT.divide(size, cut) >= 100:
            least = CONTEXT.subtract(size, cut)
            return Code.NOT_A_READING, "is a size with a tolerance, not a reading", f"{least:f}..{size:f}{tail}"
        if size > cut:
            return larger_first(first, second, tail)
    both = f"{first} {first_unit} .. {second}{tail}"
    return Code.SEVERAL_NUMBERS, "has two numbers, where one number or one bracket belongs", both


def larger_first(first: str, second: str, tail: str) -> Slip:
    """What to say of two ends in the wrong order: exchanged, or, where too far apart, a nought lost."""
    tenth, small = CONTEXT.scaleb(Decimal(first), -1), Decimal(second)
    if tenth <= 0 or small <= 0 or CONTEXT.divide(tenth, small) <= Decimal("0.2"):
        return Code.WRONG_RANGE, "runs from the larger to the smaller", f"{second} .. {first}{tail}"
    found = f"{tenth:f}..{second}{tail}" if tenth < small else ""
    said = "runs from the larger to the smaller, too far for an exchange; a nought may be lost"
    return Code.WRONG_RANGE, said, found


_SLIPS: tuple[tuple[str, _Answer], ...] = (
    (_UNSEEN, _swaps(Code.UNWANTED_CHARACTER, "has a character that cannot be seen", _UNSEEN, "")),
    (r"(?![0-9])\d", _other_digits),
    (r"^-+$", _says(Code.NO_VALUE, "is only a dash; what was not measured is left empty or open", "open")),
    (
        r"^(?:zero|nought|nil|none|null|nothing|n/?a|no|\?+|~)$",
        _says(Code.AMBIGUOUS, "does not say whether 0 was measured or nothing was", "0 or open"),
    ),
    (r"^[+-]?\.?(?:nan|inf|infinity)$", _says(Code.NOT_A_NUMBER, "is not a number")),
    # a bracket, in words
    (
        rf"^{_N}\s*(\S*?)\s*goes\W+(?:(?:and|but|the)\s+)*{_N}\s*(\S*?)\s*{_DO_NOT}\b",
        _says(Code.RANGE_IN_WORDS, "is a bracket in words", r"\1 \2 .. \3 \4"),
    ),
    (rf"^{_VAGUE}({_P}.*?)\s+or (?:less|under|smaller)$", _says(Code.RANGE_IN_WORDS, "is an estimate", r"under \1")),
    (rf"^{_VAGUE}({_P}.*?)\s+or (?:more|over|larger)$", _says(Code.RANGE_IN_WORDS, "is an estimate", r"over \1")),
    (rf"^(?:max|min)\w*\.?\s*{_N}\s*(?:-|to)\s*{_N}", _says(Code.WRONG_RANGE, "says one limit but gives two numbers")),
    (
        rf"^{_VAGUE}{_UNDER}\s+([+-]?{_P}.*)$",
        _says(Code.RANGE_IN_WORDS, "is one side of a size, which is written with under", r"under \1"),
    ),
    (
        rf"^{_VAGUE}{_OVER}\s+([+-]?{_P}.*)$",
        _says(Code.RANGE_IN_WORDS, "is one side of a size, which is written with over", r"over \1"),
    ),
    (rf"^{_VAGUE}(?:{_UNDER}|{_OVER})$", _says(Code.NOT_A_NUMBER, "gives no number")),
    (rf"^(tight|loose)\s+({_P})$", _shade),
    # damaged digits
    (
        r"\d,\d[^,]*,\s",
        _says(Code.COMMA_IN_NUMBER, "is a list with commas inside its numbers, which split each in two"),
    ),
    (r"^[\[{]|;|,\s", _says(Code.SEVERAL_NUMBERS, "has several numbers, where one belongs")),
    (
        r"^(.*?)(?<!\d)([1-9]\d{0,2})(?P<at>,)(\d{3})(?![\d,.])(.*)$",
        _says(Code.COMMA_IN_NUMBER, "has a comma", r"\1\2.\4\5 or \1\2\4\5"),
    ),
    (r"(?P<at>,)", _comma),
    (r"(?<=\d)_(?=\d)", _swaps(Code.MISWRITTEN_NUMBER, "has an underscore in a number", r"(?<=\d)_(?=\d)", "")),
    (rf"^([+-]?{_P}e[+-]?\d\d?(?!\d))(?![\d.])(.*)$", _exponent),
    (r"\d(?P<at>e)[+-]?\d", _says(Code.MISWRITTEN_NUMBER, "has an exponent")),
    (r"(?<=[\d.])o(?=o?[fc]$|[\d.\s]|$)|(?<![a-z])o(?=\.?\d)", _letter_o),
    (_ONE, _swaps(Code.MISWRITTEN_NUMBER, "has a letter where a 1 belongs", _ONE, "1")),
    (r"^([+-]?)0+(\d+\.\d.*)$", _says(Code.MISWRITTEN_NUMBER, "starts with noughts", r"\1\2")),
    (
        r"^([+-]?)0(\d+)(?![\d./])(.*)$",
        _says(Code.MISWRITTEN_NUMBER, "starts with a nought and has no point", r"\g<1>0.\2\3 or \g<1>0.0\2\3"),
    ),
    (
        r"^(.*?)(?P<at>\.{3,})(.*)$",
        _says(Code.MISWRITTEN_NUMBER, "has three points in a row", r"\1 .. .\3 or \1 .. \3"),
    ),
    (r"^(.*\d)(?P<at>\.)(\s.*)?$", _says(Code.MISWRITTEN_NUMBER, "has a point after its last digit", r"\1\3")),
    (r"\.\d+(?P<at>\.)(?!\.)", _says(Code.MISWRITTEN_NUMBER, "has two points")),
    (
        r"^(\d+)\s+(\d\d?)\s+(2|4|8|16|32|64)(?!\d)(.*)$",
        _says(Code.SEVERAL_NUMBERS, "has three numbers, where one belongs", r"\1 \2/\3\4"),
    ),
    (_GAP, _swaps(Code.MISWRITTEN_NUMBER, "has a space inside a number", _GAP, ".")),
    # other things in one text
    (
        r"^(.*\d)\s*(?:Ra|Rz|RMS|AA|CLA)$",
        _says(Code.UNKNOWN_UNIT, "names a kind of roughness, not a unit", r"\1 um or \1 uin"),
    ),
    (
        r"^M\d+(?:\.\d+)?\s*[x×]\s*(\d+(?:\.\d+)?)$",
        _says(Code.NOT_A_READING, "is a thread: a size and a pitch in one", r"\1 mm"),
    ),
    (
        r"^(\d+/\d+)\s*-\s*(\d+)$",
        _says(Code.NOT_A_READING, "is a thread: a size and a pitch in one", r"\1 in or 1/\2 in"),
    ),
    (r"^(0?\.0+)-(\d+)\s*thousandths?$", _says(Code.NOT_A_NUMBER, "is neither a number nor a range", r"\1\2 in")),
    (rf"^{_N}\s*([+-]\s*{_P})\s*(?:/|to)\s*([+-]\s*{_P})(.*)$", _deviations),
    (rf"^[+-]\s*{_P}\s*/?\s*[+-]\s*{_P}", _says(Code.NOT_A_READING, "gives two deviations and no size")),
    (
        rf"^([+-]?{_P}(?:\s*(?!to\b)[a-z\"']+?)?)\s*(?P<at>\+\s*/?|/\s*-|\bplus(?:\s+or)?(?:\s+minus)?)\s*({_P}.*)$",
        _says(Code.WRONG_UNCERTAINTY, "has a ± that is not written as ± or +/-", r"\1 ±\3"),
    ),
    (r"^([+-])\s+(.*)$", _says(Code.MISWRITTEN_NUMBER, "has a space after its sign", r"\1\2")),
    (rf"^{_N}\s*([a-z\"']*)\s*(-|\bto\b|~|\bor\b|\band\b)\s*{_N}(\s*[a-z\"'%°(].*)?$", _span),
    (rf"^({_P}.*?)\s*@\s*{_P}", _says(Code.WORDS_WITH_NUMBER, "gives where it was taken beside the number", r"\1")),
    (rf"{_P}\s*[x×*]\s*{_P}", _says(Code.SEVERAL_NUMBERS, "has two numbers, where one belongs")),
    (r"\(\s*x\s*\d+\s*\)", _says(Code.WORDS_WITH_NUMBER, "counts several as one; write the figure of one alone")),
    (rf"^{_P}\s*[a-z\"']+\s+{_P}", _says(Code.SEVERAL_NUMBERS, "has two numbers side by side; write one, in one unit")),
    (
        rf"~|ish\b|\b(?:{_ABOUT})\b",
        _says(
            Code.APPROXIMATE, "is approximate, and never judged as exact; write what the gauge showed, and the gauge"
        ),
    ),
    (
        r"could ?n[o']t|can ?no?'?t|won'?t|would ?n[o']t|\bno (?:gap|play|light)\b",
        _says(Code.NOT_A_NUMBER, "names no size; write under and the thinnest blade that would not go"),
    ),
    (
        r"\b(?:under|over|(?:under|over)size|bigger|larger|smaller|radial|per|of|marks?|divisions?)\b",
        _says(Code.WORDS_WITH_NUMBER, "has words that change what its number means; write the size itself"),
    ),
    (rf"^\D*[a-z]\D*?{_P}", _says(Code.WORDS_WITH_NUMBER, "has words before the number; a note belongs in a comment")),
)


@cache
def _compiled() -> tuple[tuple[re.Pattern[str], _Answer], ...]:
    """Compiled when the first slip is met: most sheets have none."""
    return tuple((re.compile(pattern, re.IGNORECASE), answer) for pattern, answer in _SLIPS)


def known_slip(text: str) -> Refusal | None:
    """The first known slip that a folded text shows, with a suggestion that is not yet known to read."""
    for pattern, answer in _compiled():
        if found := pattern.search(text):
            return Refusal(*answer(found), found.start("at" if "at" in pattern.groupindex else 0))
    return None


def tidy(write: str) -> str:
    """A suggestion with a nought before each bare point and nothing around the points of a bracket."""
    return re.sub(r"\s*\.\.\s+|\s+\.\.\s*", "..", re.sub(r"(?<![\d.])\.(?=\d)", "0.", write)).strip()
