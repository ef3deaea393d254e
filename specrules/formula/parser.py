"""Tokens to a tree, by recursive descent. Knows the grammar and its traps, and no names.

expression  = joined [ "if" joined "else" expression ]
joined      = operands and the signs between them, the looser ones outside:
              "or"; "and"; "not" before a comparison; one of == != < <= > >=; + -; * /
signed      = { "-" } atom [ "^" exponent ]
atom        = number [ unit | "[" unit "]" ] | name [ "[" pick { "," pick } "]" ] | name "(" arguments ")"
            | "(" expression ")"
pick        = [ axis ":" ] label
"""

from __future__ import annotations

import re
from decimal import Decimal

from specrules.formula import syntax as tree
from specrules.formula.functions import REDUCERS
from specrules.formula.tokenizer import Refused, is_number, is_word, tokens
from specrules.quantity import NUMBER, Refusal, Unit, find_unit, read_written
from specrules.vocabulary import Code

DEEPEST = 30
"""Brackets within brackets: more than this is no algebra that a person wrote."""
MOST_DIGITS = 20
LARGEST_EXPONENT = 9
_COMPARISONS = frozenset({"==", "!=", "<", "<=", ">", ">="})
_BINDS = {"or": 1, "and": 2, **dict.fromkeys(_COMPARISONS, 4), "+": 5, "-": 5, "*": 6, "/": 6}
_NOT_BINDS = 3
_INSTEAD = {
    "in": "a == b or a == c",
    "is": "a == b",
    "to": "one figure, and the other end in a place of its own",
    "if": "x if condition else y",
}
"""What is meant by words of other languages that stand where none can."""
_POWER_OF_TEN = re.compile(r"[\d.]+[eE][-+]?(\d+)(?!\w)", re.ASCII)


def parse(text: str) -> tree.Node:
    """The tree of a formula. Raises Refused with the offset of the first thing that cannot be read."""
    parser = _Parser(text)
    parsed = parser.expression()
    if parser.token:
        raise parser.unexpected()
    return parsed


class _Parser:
    def __init__(self, text: str) -> None:
        self.text = text
        self.texts, self.starts = tokens(text)
        self.next = 0
        self.token = self.texts[0]
        self.depth = 0

    def take(self) -> int:
        """Go on to the next token; the offset of the one left behind."""
        at = self.starts[self.next]
        if self.token:  # nothing comes after the end
            self.next += 1
            self.token = self.texts[self.next]
        return at

    @property
    def at(self) -> int:
        return self.starts[self.next]

    def written(self, start: int) -> str:
        """The text from an offset to the end of the token taken last."""
        return self.text[start : self.starts[self.next - 1] + len(self.texts[self.next - 1])]

    def close(self, sign: str, opened: str, at: int) -> None:
        if self.token == sign:
            self.take()
        elif self.token:
            raise self.unexpected()
        else:
            raise Refused(Code.UNPAIRED, f"has a {opened!r} that nothing closes", f"{sign} after it", at)

    def unexpected(self) -> Refused:
        """Why the formula, or a bracket in it, ought to have ended before this token."""
        token, at = self.token, self.at
        if token == "=":
            following = self.texts[self.next + 1]
            write = f"{following}=" if following in ("<", ">") else "=="
            return Refused(Code.FORMULA_SYNTAX, "has a single =, and a comparison has two", write, at)
        if token in (")", "]"):
            return Refused(Code.UNPAIRED, f"has a {token!r} that nothing opened", "", at)
        if token in _COMPARISONS:
            return Refused(Code.FORMULA_SYNTAX, "compares three things in a row", "a < b and b < c", at)
        if token == "else":
            return Refused(Code.FORMULA_SYNTAX, "has an 'else' without its 'if'", "x if condition else y", at)
        if token == "not":
            said = "has a 'not' that does not stand before a condition"
            return Refused(Code.FORMULA_SYNTAX, said, "a != b or not (a == b)", at)
        said = f"has {token!r} where it should have ended"
        return Refused(Code.FORMULA_SYNTAX, said, _INSTEAD.get(token, "a sign (+ - * /) before it"), at)

    def expression(self) -> tree.Node:
        self.depth += 1
        if self.depth > DEEPEST:
            said = f"is nested more than {DEEPEST} deep"
            raise Refused(Code.TOO_LONG, said, "figures with names of their own", self.at)
        then = self.joined()
        if self.token == "if":
            at = self.take()
            condition = self.joined()
            if self.token != "else":
                raise Refused(Code.FORMULA_SYNTAX, "has an 'if' without its 'else'", "x if condition else y", at)
            self.take()
            then = tree.Choose(then, condition, self.expression(), at)
        self.depth -= 1
        return then

    def joined(self, least: int = 0) -> tree.Node:
        """Operands and the signs between them that bind at least so tightly."""
        left = self.contrary() if self.token == "not" and least <= _NOT_BINDS else self.signed()
        while (binds := _BINDS.get(self.token, -1)) >= least:
            sign, at = self.token, self.take()
            start = self.at
            right = self.joined(binds + 1)
            if sign in ("and", "or"):
                left = tree.Logic(sign, left, right, at)
            elif binds == _BINDS["=="]:
                if self.token in _COMPARISONS:
                    raise self.unexpected()
                left = tree.Compare(sign, left, right, at)
            else:
                if sign == "/" and isinstance(right, tree.Number) and right.unit and self.text[start] != "(":
                    raise self.two_ways(left, start)
                left = tree.Binary(sign, left, right, at)
        return left

    def two_ways(self, left: tree.Node, start: int) -> Refused:
        """Of a quantity straight after a slash: half an inch and one over two inches are written alike."""
        said = "has a quantity straight after /, which can be read in two ways"
        quantity = self.written(start)
        if not isinstance(left, tree.Number) or left.unit:
            return Refused(Code.AMBIGUOUS, said, f"/ ({quantity})", start)
        number, unit = f"{left.value:f}", re.sub(r"^[-\d.\s]+", "", quantity)
        over = quantity.removesuffix(unit).strip()
        return Refused(Code.AMBIGUOUS, said, f"({number} / {over}) * 1 {unit} or {number} / ({quantity})", start)

    def contrary(self) -> tree.Node:
        """After one `not`, or several: two of them undo each other."""
        odd, at = False, self.at
        while self.token == "not":
            self.take()
            odd = not odd
        of = self.joined(_NOT_BINDS + 1)
        return tree.Not(of, at) if odd else of

    def signed(self) -> tree.Node:
        """After a minus, or several: two of them undo each other."""
        if self.token != "-":
            return self.power()
        odd, at = False, self.at
        while self.token == "-":
            self.take()
            odd = not odd
        of = self.power()
        if not odd:
            return of
        if isinstance(of, tree.Number):
            return tree.Number(_negated(of), of.unit, of.dimension, at)
        return tree.Negative(of, at)

    def power(self) -> tree.Node:
        start = self.at
        of = self.atom()
        if self.token != "^":
            return of
        at = self.take()
        if isinstance(of, tree.Number) and of.unit and self.text[start] != "(":
            quantity = self.text[start:at].strip()
            number, power = re.split(r"[^\d.]", quantity)[0], self.token or "2"
            said = "has ^ straight after a unit, which can be read in two ways"
            raise Refused(Code.AMBIGUOUS, said, f"({quantity})^{power} or {number} [{of.unit}^{power}]", at)
        power_of = tree.Power(of, self.exponent(), at)
        if self.token == "^":
            said = "has a power of a power without brackets"
            raise Refused(Code.AMBIGUOUS, said, f"({self.written(start)})^", self.at)
        return power_of

    def exponent(self) -> Decimal:
        negative = self.token == "-"
        if negative:
            self.take()
        token, at = self.token, self.take()
        if not is_number(token):
            said = "has an exponent that is not a written number"
            raise Refused(Code.WRONG_EXPONENT, said, "^2, ^3, ^-1 or ^0.5", at)
        exponent = Decimal(token) if len(token) <= MOST_DIGITS else Decimal(0)
        if not 0 < exponent <= LARGEST_EXPONENT or 2 * exponent % 1:
            said = f"has the exponent {token}"
            raise Refused(Code.WRONG_EXPONENT, said, f"a whole number or a half, at most {LARGEST_EXPONENT}", at)
        return exponent.copy_negate() if negative else exponent

    def atom(self) -> tree.Node:
        token, at = self.token, self.take()
        if is_word(token):
            return self.call(token, at) if self.token == "(" else self.name(token, at)
        if is_number(token):
            return self.quantity(token, at)
        if token == "(":
            inner = self.expression()
            self.close(")", "(", at)
            return inner
        if not self.text.strip():
            raise Refused(Code.NO_VALUE, "is empty", "", at)
        if not token:
            raise Refused(Code.FORMULA_SYNTAX, "stops where a number or a name should stand", "", at)
        if token == "*" and self.texts[self.next - 2] == "*":
            raise Refused(Code.FORMULA_SYNTAX, "has two signs * in a row, and a power is written ^", "^", at - 1)
        said = f"has {token!r} where a number or a name should stand"
        raise Refused(Code.FORMULA_SYNTAX, said, _INSTEAD.get(token, ""), at)

    def quantity(self, token: str, at: int) -> tree.Number:
        if len(token) > MOST_DIGITS and len(token.replace(".", "").lstrip("0")) > MOST_DIGITS:
            raise Refused(Code.TOO_LONG, f"has a number of more than {MOST_DIGITS} digits", "", at)
        number = Decimal(token)
        if is_word(self.token) or self.token == "[":
            unit = self.unit(token, at)
            return tree.Number(unit.to_base(number), unit.symbol, unit.dimension, at)
        if self.token == "(" or is_number(self.token):
            said = "has two things side by side and no sign between"
            raise Refused(Code.FORMULA_SYNTAX, said, f"{token} * {self.token}", self.at)
        return tree.Number(number, "", NUMBER if number else None, at)

    def unit(self, number: str, start: int) -> Unit:
        """The unit after a number: one word, or anything in square brackets."""
        word, at = self.token, self.take()
        if word == "[":
            while self.token not in ("]", ""):
                self.take()
            word = self.text[at + 1 : self.at].strip()
            self.close("]", "[", at)
        found = find_unit(word)
        if isinstance(found, Unit):
            if self.token == "(":
                raise self.bracket_after(number, word)
            return found
        if self.text[at] == "[":
            raise Refused(Code.UNKNOWN_UNIT, f"has [{word}], which is no unit", found.write and f"[{found.write}]", at)
        ten = _POWER_OF_TEN.match(self.text, start)
        if ten:
            said = "has an exponent"
            raise Refused(Code.MISWRITTEN_NUMBER, said, f"{Decimal(ten[0]):f}" if len(ten[1]) < 3 else "", start)
        written = read_written(f"{number} {word}", unit=None, dimension=None)
        if found.write and isinstance(written, Refusal):  # it knows how many of which: a tenth may be two things
            raise Refused(written.code, written.said, written.write, at)
        raise Refused(Code.UNKNOWN_UNIT, f"has {word!r} after a number, which is no unit", f"{number} * {word}", at)

    def bracket_after(self, number: str, word: str) -> Refused:
        """Of a bracket after a quantity: the second column of a table, or the arguments of `min`."""
        if word == "min":
            said = "has two things side by side and no sign between"
            return Refused(Code.FORMULA_SYNTAX, said, f"{number} * min(", self.at)
        said = "says a size twice, which only a limit that is nothing else may"
        return Refused(Code.SIZE_TWICE, said, f"{number} {word}", self.at)

    def name(self, token: str, at: int) -> tree.Name:
        if self.token != "[":
            return tree.Name(token, (), at)
        opened = self.take()
        picks = [self.pick()]
        while self.token == ",":
            self.take()
            picks.append(self.pick())
        self.close("]", "[", opened)
        return tree.Name(token, tuple(picks), at)

    def pick(self) -> tuple[str, str]:
        axis, at = self.token, self.take()
        if not (is_word(axis) or is_number(axis)):
            raise Refused(Code.FORMULA_SYNTAX, "has square brackets without a label", "name[label]", at)
        if self.token != ":":
            return "", axis
        self.take()
        label, at = self.token, self.take()
        if not (is_word(label) or is_number(label)):
            raise Refused(Code.FORMULA_SYNTAX, f"names the axis {axis} and no label on it", f"[{axis}: label]", at)
        return axis, label

    def call(self, token: str, at: int) -> tree.Node:
        opened = self.take()
        arguments: list[tree.Node] = []
        while self.token != ")":
            arguments.append(self.expression())
            if self.token != ",":
                break
            self.take()
        self.close(")", "(", opened)
        if token not in REDUCERS:
            return tree.Call(token, tuple(arguments), at)
        if len(arguments) == 1:
            return tree.Reduce(token, arguments[0], "", at)
        if len(arguments) == 2 and isinstance(arguments[1], tree.Name) and not arguments[1].picks:
            return tree.Reduce(token, arguments[0], arguments[1].name, at)
        if not arguments:
            raise Refused(Code.WRONG_ARGUMENTS, f"gives {token} nothing", f"{token}(name)", at)
        raise Refused(Code.WRONG_ARGUMENTS, f"gives {token} more than a thing and an axis", f"{token}(name, axis)", at)


def _negated(of: tree.Number) -> Decimal:
    """Minus a written quantity: 40 F below nothing is not minus so many degrees Celsius."""
    unit = find_unit(of.unit) if of.dimension is not None and of.dimension.point else None
    return unit.to_base(unit.from_base(of.value).copy_negate()) if isinstance(unit, Unit) else of.value.copy_negate()
