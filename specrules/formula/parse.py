"""Tokens to a tree, by recursive descent. Knows the grammar and its traps, and no names.

expression  = either [ "if" either "else" expression ]
either      = both { "or" both }
both        = contrary { "and" contrary }
contrary    = "not" contrary | comparison
comparison  = sum [ ( "==" | "!=" | "<" | "<=" | ">" | ">=" ) sum ]
sum         = product { ( "+" | "-" ) product }
product     = signed { ( "*" | "/" ) signed }
signed      = "-" signed | power
power       = atom [ "^" exponent ]
atom        = number [ unit | "[" unit "]" ] | name [ "[" pick { "," pick } "]" ] | name "(" arguments ")"
            | "(" expression ")"
pick        = [ axis ":" ] label
"""

from __future__ import annotations

from decimal import Decimal

from specrules.formula.functions import REDUCERS
from specrules.formula.tokens import KEYWORDS, Refused, Token, tokens
from specrules.formula.tree import (
    Binary,
    Call,
    Choose,
    Compare,
    Logic,
    Name,
    Negative,
    Node,
    Not,
    Number,
    Power,
    Reduce,
)
from specrules.quantity import Refusal, Unit, find_unit

DEEPEST = 30
"""Brackets within brackets: more than this is no algebra that a person wrote."""
MOST_DIGITS = 20
LARGEST_EXPONENT = 9
_COMPARISONS = frozenset({"==", "!=", "<", "<=", ">", ">="})


def parse(text: str) -> Node:
    """The tree of a formula. Raises Refused with the offset of the first thing that cannot be read."""
    parser = _Parser(text)
    tree = parser.expression()
    parser.expect_end()
    return tree


class _Parser:
    def __init__(self, text: str) -> None:
        self.text = text
        self.tokens = tokens(text)
        self.next = 0
        self.depth = 0

    @property
    def token(self) -> Token:
        return self.tokens[self.next]

    def take(self) -> Token:
        token = self.tokens[self.next]
        self.next += 1
        return token

    def at_sign(self, *signs: str) -> bool:
        return self.token.kind == "sign" and self.token.text in signs

    def at_word(self, word: str) -> bool:
        return self.token.kind == "word" and self.token.text == word

    def close(self, sign: str, opened: Token) -> None:
        if not self.at_sign(sign):
            raise Refused(f"has a {opened.text!r} that nothing closes", f"{sign} after it", opened.at)
        self.take()

    def expect_end(self) -> None:
        token = self.token
        if token.kind == "end":
            return
        if token.text == "=":
            raise Refused("has a single =, and a comparison has two", "==", token.at)
        if token.text in _COMPARISONS:
            raise Refused("compares three things in a row", "a < b and b < c", token.at)
        if token.text in (")", "]"):
            raise Refused(f"has a {token.text!r} that nothing opened", "", token.at)
        raise Refused(f"has {token.text!r} where it should have ended", "a sign (+ - * /) before it", token.at)

    def expression(self) -> Node:
        self.depth += 1
        if self.depth > DEEPEST:
            raise Refused(f"is nested more than {DEEPEST} deep", "figures with names of their own", self.token.at)
        then = self.either()
        if self.at_word("if"):
            at = self.take().at
            condition = self.either()
            if not self.at_word("else"):
                raise Refused("has an 'if' without its 'else'", "x if condition else y", at)
            self.take()
            then = Choose(then, condition, self.expression(), at)
        self.depth -= 1
        return then

    def either(self) -> Node:
        left = self.both()
        while self.at_word("or"):
            at = self.take().at
            left = Logic("or", left, self.both(), at)
        return left

    def both(self) -> Node:
        left = self.contrary()
        while self.at_word("and"):
            at = self.take().at
            left = Logic("and", left, self.contrary(), at)
        return left

    def contrary(self) -> Node:
        negations: list[int] = []
        while self.at_word("not"):
            negations.append(self.take().at)
        of = self.comparison()
        for at in reversed(negations):
            of = Not(of, at)
        return of

    def comparison(self) -> Node:
        left = self.sum()
        if self.token.text in _COMPARISONS:
            sign = self.take()
            left = Compare(sign.text, left, self.sum(), sign.at)
        return left

    def sum(self) -> Node:
        left = self.product()
        while self.at_sign("+", "-"):
            sign = self.take()
            left = Binary(sign.text, left, self.product(), sign.at)
        return left

    def product(self) -> Node:
        left = self.signed()
        while self.at_sign("*", "/"):
            sign = self.take()
            start = self.token.at
            right = self.signed()
            if sign.text == "/" and isinstance(right, Number) and right.unit and self.text[start] != "(":
                written = self.text[start : self.tokens[self.next - 1].end]
                raise Refused("has a quantity straight after /, which can be read in two ways", f"/ ({written})", start)
            left = Binary(sign.text, left, right, sign.at)
        return left

    def signed(self) -> Node:
        negations: list[int] = []
        while self.at_sign("-"):
            negations.append(self.take().at)
        of = self.power()
        for at in reversed(negations):
            of = Number(-of.value, of.unit, at) if isinstance(of, Number) else Negative(of, at)
        return of

    def power(self) -> Node:
        start = self.token.at
        of = self.atom()
        if not self.at_sign("^"):
            return of
        sign = self.take()
        if isinstance(of, Number) and of.unit and self.text[start] != "(":
            raise Refused(
                "has ^ straight after a unit, which can be read in two ways",
                f"({self.text[start : sign.at].strip()})^ or [{of.unit}^]",
                sign.at,
            )
        return Power(of, self.exponent(), sign.at)

    def exponent(self) -> Decimal:
        sign = -1 if self.at_sign("-") and self.take() else 1
        token = self.take()
        if token.kind != "number":
            raise Refused("has an exponent that is not a written number", "^2, ^3, ^-1 or ^0.5", token.at)
        exponent = sign * Decimal(token.text)
        if (2 * exponent) % 1 != 0 or abs(exponent) > LARGEST_EXPONENT:
            raise Refused(
                f"has the exponent {token.text}",
                f"a whole number or a half, at most {LARGEST_EXPONENT}",
                token.at,
            )
        return exponent

    def atom(self) -> Node:
        token = self.take()
        if token.kind == "number":
            return self.quantity(token)
        if token.kind == "word" and token.text not in KEYWORDS:
            if self.at_sign("("):
                return self.call(token)
            return self.name(token)
        if token.text == "(":
            inner = self.expression()
            self.close(")", token)
            return inner
        if token.text == "+":
            raise Refused("has a plus with nothing before it", "", token.at)
        if token.kind == "end":
            raise Refused(
                "stops where a number or a name should stand" if self.text.strip() else "is empty",
                "",
                token.at,
            )
        raise Refused(f"has {token.text!r} where a number or a name should stand", "", token.at)

    def quantity(self, token: Token) -> Number:
        if len(token.text.replace(".", "").lstrip("0")) > MOST_DIGITS:
            raise Refused(f"has a number of more than {MOST_DIGITS} digits", "", token.at)
        number = Decimal(token.text)
        unit = self.unit(token)
        return Number(number if unit is None else unit.to_base(number), unit.symbol if unit else "", token.at)

    def unit(self, number: Token) -> Unit | None:
        """The unit after a number: one word, or anything in square brackets."""
        token = self.token
        if token.text == "(" or token.kind == "number":
            raise Refused("has two things side by side and no sign between", f"{number.text} * {token.text}", token.at)
        if token.kind == "word" and token.text not in KEYWORDS:
            self.take()
            found = find_unit(token.text)
            if isinstance(found, Refusal):
                raise Refused(
                    f"has {token.text!r} after a number, which is no unit",
                    found.write or f"{number.text} * {token.text}",
                    token.at,
                )
            return found
        if token.text != "[":
            return None
        opened = self.take()
        while not (self.at_sign("]") or self.token.kind == "end"):
            self.take()
        inside = self.text[opened.end : self.token.at].strip()
        self.close("]", opened)
        found = find_unit(inside)
        if isinstance(found, Refusal):
            raise Refused(f"has [{inside}], which is no unit", found.write, opened.at)
        return found

    def name(self, token: Token) -> Name:
        if not self.at_sign("["):
            return Name(token.text, (), token.at)
        opened = self.take()
        picks = [self.pick()]
        while self.at_sign(","):
            self.take()
            picks.append(self.pick())
        self.close("]", opened)
        return Name(token.text, tuple(picks), token.at)

    def pick(self) -> tuple[str, str]:
        token = self.take()
        if token.kind not in ("word", "number"):
            raise Refused("has square brackets without a label", "name[label]", token.at)
        if not self.at_sign(":"):
            return "", token.text
        self.take()
        label = self.take()
        if label.kind not in ("word", "number"):
            raise Refused(f"names the axis {token.text} and no label on it", f"[{token.text}: label]", label.at)
        return token.text, label.text

    def call(self, token: Token) -> Node:
        opened = self.take()
        arguments: list[Node] = []
        while not self.at_sign(")"):
            arguments.append(self.expression())
            if not self.at_sign(","):
                break
            self.take()
        self.close(")", opened)
        if token.text not in REDUCERS:
            return Call(token.text, tuple(arguments), token.at)
        if len(arguments) == 1:
            return Reduce(token.text, arguments[0], "", token.at)
        if len(arguments) == 2 and isinstance(arguments[1], Name):
            return Reduce(token.text, arguments[0], arguments[1].name, token.at)
        raise Refused(f"gives {token.text} more than a thing and an axis", f"{token.text}(name, axis)", token.at)
