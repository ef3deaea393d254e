"""Texts of packs in which quantities stand: `{0.0005 in | 0.01 mm}`, `{moves}`, names of what else a text may tell.

A pack writes an amount once; a sheet reads it in its own units. `{{` is a brace.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from specrules.quantity import Refusal, Unit
from specrules.quantity.amounts import BOTH_SYSTEMS, ToldAmount, read_amount
from specrules.vocabulary import Code

MOVES = "moves"
"""The name of how far a step moves the value, without its sign."""
_OPEN = Code.WRONG_SHAPE, "is a brace that nothing closes", "{0.0015 in}, or {{ for a brace"
_QUANTITY = "{0.0015 in}"
_PIECE = re.compile(r"\{\{|\}\}|\{([^{}]*)\}?|\}")
_NAME = re.compile(r"[A-Za-z_]\w*")


def worded(text: str, lengths_in: Unit | None, known: Mapping[str, str] | None = None) -> str:
    """A text as a sheet with that unit of lengths has it. Names that are not `known` stay, for whoever knows them."""
    if "{" not in text and "}" not in text:
        return text

    def told(piece: re.Match[str]) -> str:
        inside = piece[1]
        if inside is None:
            return piece[0][0]
        if known is not None and inside.strip() in known:
            return known[inside.strip()]
        amount = read_amount(inside)
        return piece[0] if isinstance(amount, Refusal) else amount.told(lengths_in)

    return _PIECE.sub(told, text)


def refusals(text: str, known: frozenset[str]) -> Iterator[tuple[str, Refusal]]:
    """What stands in braces in a text and is neither a name that it may tell nor a quantity, and why not."""
    for piece in _PIECE.finditer(text):
        if piece[0] == "}":
            yield piece[0], Refusal(Code.WRONG_SHAPE, "is a brace that nothing opens", "}} for a brace")
        elif piece[1] is None or (piece[1].strip() in known and piece[0].endswith("}")):
            continue
        elif not piece[0].endswith("}"):
            yield piece[0], Refusal(*_OPEN)
        elif isinstance(amount := read_amount(piece[1]), Refusal):
            if _NAME.fullmatch(piece[1].strip()):
                others = " or ".join(f"{{{name}}}" for name in sorted(known))
                yield piece[0], amount._replace(said="is nothing that this text can tell", write=others or _QUANTITY)
            else:
                write = f"{{{amount.write}}}" if amount.write else f"{_QUANTITY}, or {{{{ for a brace"
                yield piece[0], amount._replace(write=write)


def sides(text: str) -> Iterator[tuple[int, str]]:
    """A text that may be given for both systems of units, each part with its offset; none of an empty one."""
    first, both, second = text.partition(BOTH_SYSTEMS)
    if first.strip() or both:
        yield 0, first.strip()
    if both:
        yield len(text) - len(second.lstrip()), second.strip()


def disagreement(text: str) -> Refusal | None:
    """Why two plain quantities of a text are no one amount in the two systems; None where they are, or are formulas."""
    found = read_amount(text)
    return found if isinstance(found, Refusal) and found.code in (Code.KEYS_DISAGREE, Code.CONTRADICTION) else None


def plain_amount(text: str) -> ToldAmount | None:
    """The quantity that a text is, and nothing else."""
    found = read_amount(text.strip())
    return None if isinstance(found, Refusal) else found
