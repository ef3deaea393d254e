"""What is left of a formula where something that it names does not exist; and conditions over stated facts alone.

A comparison that asks about something absent is false, whichever way it asks (`==` and `!=` alike). `not` is pushed
inward first, so that what it denies is asked the other way round and is false as well.
"""

from collections.abc import Mapping, Set
from dataclasses import replace
from decimal import Decimal
from types import MappingProxyType
from typing import Any, NamedTuple

from specrules.formula import operators as op
from specrules.formula.axis_kinds import picked_kind, whole
from specrules.formula.formula import Formula

NEVER = op.Equality(op.Literal(""), op.Literal(""), equal=False)
"""The condition that no station meets."""


class StandsOnAbsent(Exception):
    """A quantity or a label stands on something that does not exist."""


class KnownFacts(NamedTuple):
    """What a thing is said to be: words of its facts of choices, numbers of its other ones in base units (each stated
    once for all stations), names that are absent, and labels that an axis lacks."""

    words: Mapping[str, str]
    numbers: Mapping[str, Decimal]
    absent: Set[str] = frozenset()
    lacking: Mapping[str, Set[str]] = MappingProxyType({})

    def names_lacking(self, text: str) -> bool:
        """Whether the text of a formula has a label in it that an axis lacks: without, it can pick none of them."""
        for labels in self.lacking.values():
            for label in labels:
                if label in text:
                    return True
        return False


def truth(condition: op.Condition, known: KnownFacts, contrary: bool = False) -> bool | None:
    """Whether a condition, or its contrary, is true of the whole thing; None where that hangs on what is not stated,
    or on the station."""
    match condition:
        case op.Negation(of):
            return truth(of, known, not contrary)
        case op.Junction(word, left, right):
            answers = (truth(left, known, contrary), truth(right, known, contrary))
            decides = (word == "or") != contrary
            return decides if decides in answers else None if None in answers else not decides
        case op.ConditionalCondition(asked, then, otherwise):
            chosen = truth(asked, known)
            either = {truth(each, known, contrary) for each in _branches(chosen, then, otherwise)}
            return either.pop() if len(either) == 1 else None
    if misses(condition, known):
        return False
    said = _answer(condition, known)
    return None if said is None else said is not contrary


def without(formula: Formula, known: KnownFacts) -> Formula | None:
    """The formula without what is absent; None where it cannot be read so."""
    if known.absent.isdisjoint(formula.names) and not known.names_lacking(formula.text):
        return formula
    try:
        left = _left(formula.operators, known)
    except StandsOnAbsent:
        return None
    return formula if left is formula.operators else _of(formula, left)


def both(one: Formula | None, *others: Formula) -> Formula | None:
    """The condition that all of these are true; None for always."""
    made = one
    for other in others:
        if made is None:
            made = other
        elif other.text not in made.text.split(" and "):
            joined = op.Junction("and", made.operators, other.operators)  # type: ignore[arg-type]  # conditions
            text, names = f"{made.text} and {other.text}", made.names | other.names
            made = _of(replace(made, text=text, names=names, each=made.each or other.each), joined)
    return made


def _of(formula: Formula, operators: op.Operator) -> Formula:
    named = (each.name for each in op.all_operators(operators) if isinstance(each, op.Slot | op.FactLabel))
    return replace(formula, operators=operators, names=frozenset(named), hanging=op.hanging(operators))


def misses(of: op.Operator, known: KnownFacts) -> bool:
    """Whether anything in it is absent."""
    return any(isinstance(each, op.Slot | op.FactLabel) and _is_absent(each, known) for each in op.all_operators(of))


def _is_absent(of: op.Slot | op.FactLabel, known: KnownFacts) -> bool:
    return of.name in known.absent or any(
        label in known.lacking.get(whole(finder.axis), ())
        for finder in of.finders
        if (label := finder.label or picked_kind(finder.axis))
    )


def _branches(chosen: bool | None, then: op.Condition, otherwise: op.Condition) -> tuple[op.Condition, ...]:
    return (then, otherwise) if chosen is None else (then,) if chosen else (otherwise,)


def _left(of: op.Operator, known: KnownFacts) -> op.Operator:
    """An operator without what is absent. Raises StandsOnAbsent."""
    if not misses(of, known):
        return of
    match of:
        case op.Slot() | op.FactLabel():
            raise StandsOnAbsent
        case op.Conditional(asked, then, otherwise) | op.ConditionalLabel(asked, then, otherwise):
            chosen = truth(asked, known)
            if chosen is not None:
                return _left(then if chosen else otherwise, known)
            sides: dict[str, Any] = {"then": _left(then, known), "otherwise": _left(otherwise, known)}
            return of._replace(condition=_asked(asked, known), **sides)
        case op.Elementwise():
            return of._replace(operands=tuple([_left(each, known) for each in of.operands]))  # type: ignore[misc]
        case op.Lookup() | op.LabelLookup():
            return of._replace(keys=tuple([_left(each, known) for each in of.keys]))  # type: ignore[misc]
        case op.Reduction():
            return of._replace(of=_left(of.of, known))  # type: ignore[arg-type]
    return _asked(of, known)  # type: ignore[arg-type]  # what is left are conditions


def _asked(condition: op.Condition, known: KnownFacts, contrary: bool = False) -> op.Condition:
    """A condition, or its contrary, in which what is absent answers no."""
    if not misses(condition, known):
        return op.Negation(condition) if contrary else condition
    match condition:
        case op.Negation(of):
            return _asked(of, known, not contrary)
        case op.Junction(word, left, right):
            other = {"and": "or", "or": "and"}[word] if contrary else word
            return op.Junction(other, _asked(left, known, contrary), _asked(right, known, contrary))
        case op.ConditionalCondition(asked, then, otherwise):
            return op.ConditionalCondition(
                _asked(asked, known), _asked(then, known, contrary), _asked(otherwise, known, contrary)
            )
    return NEVER


def _answer(atom: op.Condition, known: KnownFacts) -> bool | None:
    """What a single comparison comes to; None where it hangs on what is not stated once for all."""
    match atom:
        case op.Equality(left, right, equal):
            words = (_word(left, known), _word(right, known))
            return None if None in words else (words[0] == words[1]) is equal
        case op.Affirmation(of):
            word = _word(of, known)
            return None if word is None else word == "yes"
        case op.Comparison(sign, quantity, threshold):
            number = _number(quantity, known)
            return None if number is None else _SIGNS[sign](number, threshold)
    return None


def _word(label: op.Label, known: KnownFacts) -> str | None:
    match label:
        case op.Literal(word):
            return word
        case op.FactLabel(name):
            return known.words.get(name)
        case op.ConditionalLabel(asked, then, otherwise):
            chosen = truth(asked, known)
            return None if chosen is None else _word(then if chosen else otherwise, known)
    return None


def _number(quantity: op.Quantity, known: KnownFacts) -> Decimal | None:
    match quantity:
        case op.Constant(value):
            return value
        case op.Slot(name):
            return known.numbers.get(name)
        case op.Elementwise("-", (left, right)):
            one, other = _number(left, known), _number(right, known)
            return None if one is None or other is None else one - other
    return None


_SIGNS = {
    "==": Decimal.__eq__,
    "!=": Decimal.__ne__,
    "<": Decimal.__lt__,
    "<=": Decimal.__le__,
    ">": Decimal.__gt__,
    ">=": Decimal.__ge__,
}
