"""The grammar: what binds more tightly, which texts cannot be read, and where and how that is said."""

from __future__ import annotations

from decimal import Decimal

import pytest

from specrules.formula.parser import DEEPEST, parse
from specrules.formula.syntax import Negative, Node, Not, Number
from specrules.quantity import LENGTH, Refusal
from specrules.vocabulary import Code
from tests.evaluate.small_environment import base, bench, read, refused, worth

WORTHS = [
    ("2 + 3 * 4", "14"),
    ("(2 + 3) * 4", "20"),
    ("2 - 3 - 4", "-5"),
    ("24 / 4 / 2", "3"),
    ("24 / 4 * 2", "12"),
    ("7 * 1 / 7", "1"),  # and not 7 times what of a seventh can be written
    ("-2^2", "-4"),
    ("(-2)^2", "4"),
    ("2^-1", "0.5"),
    ("4^0.5", "2"),
    ("4^-0.5", "0.5"),
    ("4^1.5", "8"),
    ("2^9", "512"),
    ("0^2", "0"),
    ("2 * -3", "-6"),
    ("2 - -3", "5"),
    ("---2", "-2"),
    ("--2", "2"),
    (".5 + 5.", "5.5"),
    ("1/2", "0.5"),
    ("1 1/2", "1.5"),
    ("2 - 1/2", "1.5"),
    ("min(3, 1, 2)", "1"),
    ("max(1, 3, 2)", "3"),
    ("2 if 1 < 2 else 3", "2"),
    ("2 if 1 > 2 else 3 if 1 == 1 else 4", "3"),
    ("2 if not 1 == 2 and 3 <= 3 else 3", "2"),
    ("2 if 1 == 2 or 1 != 2 and 2 >= 3 else 3", "3"),
    ("2 if not not 1 == 1 else 3", "2"),
    ("2 if not (1 == 1) else 3", "3"),
    ("1 if 1 + 1 == 2 else 0", "1"),
    ("0.0015 in", "0.0015 in"),
    ("2in", "2 in"),
    ("-0.0015 in", "-0.0015 in"),
    ("- 2 * 3 in", "-6 in"),
    ("(0.5 in)^2", "0.25 in^2"),
    ("120 [lbf/in]", "120 lbf/in"),
    ("120 lbf/in", "120 lbf/in"),
    ("20 lbf ft", "20 lbf ft"),
    ("11.5 um/m/K", "11.5 um/m/K"),
    ("1 in / 2", "0.5 in"),
    ("2 1/2 in", "2.5 in"),
    ("1/2 in", "0.5 in"),
    ("0.018 mm (0.0007 in)", "0.018 mm"),
    ("20 C", "20 C"),
    ("-40 F", "-40 C"),
    ("max(-40 F, -60 C)", "-40 C"),
    ("max(20 C - 10 K, -40 F)", "10 C"),
    ("0.0000000000000000000001 in", "0.0000000000000000000001 in"),
]


@pytest.mark.parametrize(("text", "wanted"), WORTHS)
def test_what_a_text_is_worth(text: str, wanted: str) -> None:
    assert worth(text) == base(wanted)


def test_one_over_a_length_is_no_length() -> None:
    assert read("1 / (2 in)").dimension.words() == "mm^-1"
    assert worth("1 / (2 mm)") == Decimal("0.5")


REFUSED = [
    ("", Code.NO_VALUE, "is empty", "", 0),
    ("   ", Code.NO_VALUE, "is empty", "", 3),
    ("x +", Code.FORMULA_SYNTAX, "stops where a number or a name should stand", "", 3),
    ("x + + y", Code.FORMULA_SYNTAX, "has '+' where a number or a name should stand", "", 4),
    ("* x", Code.FORMULA_SYNTAX, "has '*' where a number or a name should stand", "", 0),
    ("if", Code.FORMULA_SYNTAX, "has 'if' where a number or a name should stand", "x if condition else y", 0),
    ("max(, x)", Code.FORMULA_SYNTAX, "has ',' where a number or a name should stand", "", 4),
    ("x // y", Code.FORMULA_SYNTAX, "has '/' where a number or a name should stand", "", 3),
    ("x y", Code.FORMULA_SYNTAX, "has 'y' where it should have ended", "a sign (+ - * /) before it", 2),
    ("x, y", Code.FORMULA_SYNTAX, "has ',' where it should have ended", "a sign (+ - * /) before it", 1),
    ("max(x: y)", Code.FORMULA_SYNTAX, "has ':' where it should have ended", "a sign (+ - * /) before it", 5),
    ("3 in of x", Code.FORMULA_SYNTAX, "has 'of' where it should have ended", "a sign (+ - * /) before it", 5),
    ("x)", Code.UNPAIRED, "has a ')' that nothing opened", "", 1),
    ("(x]", Code.UNPAIRED, "has a ']' that nothing opened", "", 2),
    ("(x + y", Code.UNPAIRED, "has a '(' that nothing closes", ") after it", 0),
    ("max(x, y", Code.UNPAIRED, "has a '(' that nothing closes", ") after it", 3),
    ("journal[1", Code.UNPAIRED, "has a '[' that nothing closes", "] after it", 7),
    ("2 [in", Code.UNPAIRED, "has a '[' that nothing closes", "] after it", 2),
    ("x = y", Code.FORMULA_SYNTAX, "has a single =, and a comparison has two", "==", 2),
    ("x => y", Code.FORMULA_SYNTAX, "has a single =, and a comparison has two", ">=", 2),
    ("x =< y", Code.FORMULA_SYNTAX, "has a single =, and a comparison has two", "<=", 2),
    ("x =", Code.FORMULA_SYNTAX, "has a single =, and a comparison has two", "==", 2),
    ("(x = y)", Code.FORMULA_SYNTAX, "has a single =, and a comparison has two", "==", 3),
    ("1 < x < 2", Code.FORMULA_SYNTAX, "compares three things in a row", "a < b and b < c", 6),
    ("(1 < x < 2)", Code.FORMULA_SYNTAX, "compares three things in a row", "a < b and b < c", 7),
    ("x == not y", Code.FORMULA_SYNTAX, "has 'not' where a number or a name should stand", "", 5),
    ("x not y", Code.FORMULA_SYNTAX, "has a 'not' that does not stand before a condition", "a != b or not (a == b)", 2),
    ("x if y", Code.FORMULA_SYNTAX, "has an 'if' without its 'else'", "x if condition else y", 2),
    ("(x if y) else z", Code.FORMULA_SYNTAX, "has an 'if' without its 'else'", "x if condition else y", 3),
    ("x else y", Code.FORMULA_SYNTAX, "has an 'else' without its 'if'", "x if condition else y", 2),
    ("2 ** 3", Code.FORMULA_SYNTAX, "has two signs * in a row, and a power is written ^", "^", 2),
    ("x ^ y", Code.WRONG_EXPONENT, "has an exponent that is not a written number", "^2, ^3, ^-1 or ^0.5", 4),
    ("x ^", Code.WRONG_EXPONENT, "has an exponent that is not a written number", "^2, ^3, ^-1 or ^0.5", 3),
    ("x^(2)", Code.WRONG_EXPONENT, "has an exponent that is not a written number", "^2, ^3, ^-1 or ^0.5", 2),
    ("x^10", Code.WRONG_EXPONENT, "has the exponent 10", "a whole number or a half, at most 9", 2),
    ("x^0", Code.WRONG_EXPONENT, "has the exponent 0", "a whole number or a half, at most 9", 2),
    ("x^0.3", Code.WRONG_EXPONENT, "has the exponent 0.3", "a whole number or a half, at most 9", 2),
    ("x^-9.5", Code.WRONG_EXPONENT, "has the exponent 9.5", "a whole number or a half, at most 9", 3),
    ("x^2^3", Code.AMBIGUOUS, "has a power of a power without brackets", "(x^2)^", 3),
    (
        "max(0.5 in^2, x)",
        Code.AMBIGUOUS,
        "has ^ straight after a unit, which can be read in two ways",
        "(0.5 in)^2 or 0.5 [in^2]",
        10,
    ),
    (
        "x * 2 in^",
        Code.AMBIGUOUS,
        "has ^ straight after a unit, which can be read in two ways",
        "(2 in)^2 or 2 [in^2]",
        8,
    ),
    ("x / 2 in", Code.AMBIGUOUS, "has a quantity straight after /, which can be read in two ways", "/ (2 in)", 4),
    ("x / -2 in", Code.AMBIGUOUS, "has a quantity straight after /, which can be read in two ways", "/ (-2 in)", 4),
    (
        "max(1/2 in, x)",
        Code.AMBIGUOUS,
        "has a quantity straight after /, which can be read in two ways",
        "(1 / 2) * 1 in or 1 / (2 in)",
        6,
    ),
    (
        "x + 3 / 8 [in]",
        Code.AMBIGUOUS,
        "has a quantity straight after /, which can be read in two ways",
        "(3 / 8) * 1 [in] or 3 / (8 [in])",
        8,
    ),
    ("2 (x)", Code.FORMULA_SYNTAX, "has two things side by side and no sign between", "2 * (", 2),
    ("x + 2 3", Code.FORMULA_SYNTAX, "has two things side by side and no sign between", "2 * 3", 6),
    ("2 min(x, y)", Code.FORMULA_SYNTAX, "has two things side by side and no sign between", "2 * min(", 5),
    (
        "max(0.018 mm (0.0007 in), x)",
        Code.SIZE_TWICE,
        "says a size twice, which only a limit that is nothing else may",
        "0.018 mm",
        13,
    ),
    ("x + 2 journals", Code.UNKNOWN_UNIT, "has 'journals' after a number, which is no unit", "2 * journals", 6),
    ("x + 2 inhc", Code.UNKNOWN_UNIT, "has the unknown unit inhc", "2 in", 6),
    (
        "x + 2 tenths",
        Code.AMBIGUOUS_UNIT,
        "says tenths, which may be tenths of a thou or of a millimetre",
        "0.0002 in or 0.2 mm",
        6,
    ),
    ("x + 5 lb", Code.AMBIGUOUS_UNIT, "says lb, which may be a force or a mass", "5 lbf or 5 lbm", 6),
    ("x + 2 [lbf/im]", Code.UNKNOWN_UNIT, "has [lbf/im], which is no unit", "[lbf/in]", 6),
    ("x + 2 []", Code.UNKNOWN_UNIT, "has [], which is no unit", "", 6),
    ("x + 1.5e-3", Code.MISWRITTEN_NUMBER, "has an exponent", "0.0015", 4),
    ("x + 1E3", Code.MISWRITTEN_NUMBER, "has an exponent", "1000", 4),
    ("1e308*10", Code.MISWRITTEN_NUMBER, "has an exponent", "", 0),
    ("x + 123456789012345678901", Code.TOO_LONG, "has a number of more than 20 digits", "", 4),
    ("x[]", Code.FORMULA_SYNTAX, "has square brackets without a label", "name[label]", 2),
    ("x[", Code.FORMULA_SYNTAX, "has square brackets without a label", "name[label]", 2),
    ("x[-1]", Code.FORMULA_SYNTAX, "has square brackets without a label", "name[label]", 2),
    ("x[plane:]", Code.FORMULA_SYNTAX, "names the axis plane and no label on it", "[plane: label]", 8),
    ("x[a:b:c]", Code.FORMULA_SYNTAX, "has ':' where it should have ended", "a sign (+ - * /) before it", 5),
    ("largest()", Code.WRONG_ARGUMENTS, "gives largest nothing", "largest(name)", 0),
    ("largest(x, y, z)", Code.WRONG_ARGUMENTS, "gives largest more than a thing and an axis", "largest(name, axis)", 0),
    (
        "largest(x, plane[front])",
        Code.WRONG_ARGUMENTS,
        "gives largest more than a thing and an axis",
        "largest(name, axis)",
        0,
    ),
    ("2-1/2", Code.AMBIGUOUS, "can be read as a mixed fraction and as a difference", "2 1/2 or 2 - 1/2", 0),
    ("2,4990 in", Code.COMMA_IN_NUMBER, "has a comma", "2.4990 in", 1),
    (
        "0.018 mm (0.0009 in)",
        Code.SIZE_TWICE,
        "says its size twice, and the two differ by 0.005 mm",
        "0.018 mm (0.0007 in) or 0.023 mm (0.0009 in)",
        10,
    ),
    ("00098 in", Code.MISWRITTEN_NUMBER, "starts with a nought and has no point", "0.0098 in or 0.00098 in", 0),
    ("x + 02", Code.MISWRITTEN_NUMBER, "has 02, which starts with a nought and has no point", "0.2 or 0.02", 4),
    ("x * 007.50", Code.MISWRITTEN_NUMBER, "has 007.50, which starts with noughts", "7.50", 4),
    ("x * 00.5", Code.MISWRITTEN_NUMBER, "has 00.5, which starts with noughts", "0.5", 4),
]


@pytest.mark.parametrize(("text", "code", "said", "write", "at"), REFUSED)
def test_what_cannot_be_read(text: str, code: Code, said: str, write: str, at: int) -> None:
    assert refused(text) == (Refusal(code, said, write, at),)


def test_an_unknown_unit_is_held_against_those_of_the_dimension_that_is_wanted() -> None:
    wanted = (Refusal(Code.UNKNOWN_UNIT, "has the unknown unit mmm", "10.000 mm", 7),)
    assert refused("10.000 mmm", dimension=LENGTH) == wanted


def test_brackets_may_be_just_so_deep() -> None:
    inside = DEEPEST - 1
    assert worth("(" * inside + "1" + ")" * inside) == 1
    deeper = "(" * DEEPEST + "1" + ")" * DEEPEST
    said, write = "is nested more than 30 deep", "figures with names of their own"
    assert refused(deeper) == (Refusal(Code.TOO_LONG, said, write, DEEPEST),)


def test_a_chain_of_ifs_counts_as_depth() -> None:
    assert worth("1 if 1==2 else " * 29 + "2") == 2
    assert refused("1 if 1==2 else " * 30 + "2")[0].said == "is nested more than 30 deep"


def test_a_longest_chain_of_every_sign_is_read_and_worked_out() -> None:
    assert worth("+".join(["1"] * 100)) == 100
    assert worth("-".join(["1"] * 100)) == -98
    assert worth("*".join(["1"] * 100)) == 1
    assert worth("-" * 199 + "1") == -1
    assert worth("max(" + ",".join(["1"] * 98) + ")") == 1
    assert worth("1 if " + " or ".join(["1==2"] * 48) + " else 2") == 2


def test_a_negated_number_is_a_number_and_knows_where_it_stands() -> None:
    assert parse("x - - 2").at == 2
    assert parse(" -2 in") == Number(Decimal("-50.8"), "in", LENGTH, 1)


@pytest.mark.parametrize(("text", "kind"), [("-x", Negative), ("not x", Not)])
def test_signs_before_a_name_undo_each_other(text: str, kind: type[Node]) -> None:
    sign = text[:-1]
    assert isinstance(parse(text), kind)
    assert parse(sign + sign + "x") == parse(" " * 2 * len(sign) + "x")
    assert isinstance(parse(sign * 3 + "x"), kind)


def test_names_meet_the_numbers_of_the_bench() -> None:
    on = bench({"x": "2 in", "y": "1 in"})
    assert worth("x - y", on) == base("1 in")
    assert worth("x / y", on) == 2
    assert worth("3/8 * x", on) == base("0.75 in")
