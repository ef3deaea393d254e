"""The way in: what comes of any text at all, hostile ones among them, and that it comes soon."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.evaluate import NotEvaluable
from specrules.evaluate.evaluator import evaluate_operator
from specrules.formula import FUNCTIONS, REDUCERS, Formula, Kind
from specrules.formula.formula_reading import read_formula
from specrules.quantity import CONTEXT, LENGTH, Dimension, Refusal
from specrules.vocabulary import Code
from tests.evaluate.small_environment import AXES, NAMES, SCOPE, bench, read, refused, trouble, worth
from tests.timing import times_as_long

SOON = 20
"""No text takes so many times as long as `PLAIN` does: the longest of the hostile ones takes about as long."""

PLAIN = [f"1 + 1{number} x" for number in range(25)]

HOSTILE = [
    # what expression evaluators have been seen to fall to: attributes, calls, strings, powers, depth, other letters
    "x.__class__.__mro__",
    "().__class__.__bases__[0].__subclasses__()",
    "f().gi_frame",
    "open('/etc/hostname').read()",
    "__import__('os').system('true')",
    "getattr(x, '__class__')",
    "type(x)",
    "eval('1')",
    "lambda: x",
    "[x for x in x]",
    "x if x else x.y",
    "{x.__init__.__globals__}",
    "'{0.__class__}'.format(x)",
    "'x' * 10**9",
    '"x" * 1000000000',
    "9**9**9",
    "9^9^9",
    "x := 1",
    "x = 1",
    "x; y",
    "x\\\ny",
    "𝐱 + 1 in",
    "ｘ + 1 in",
    "𝟏 in",
    "١ in",
    "＿＿class＿＿",
    "µ",
    "nan",
    "inf",
    "Infinity in",
    "1e999999999",
    "0x10 in",
    "1_000 in",
    "True",
    "x\x00",
    "\ud800",
    "x" * 100_000,
    "9" * 100_000,
    "1/" * 100_000,
    "/" * 100_000,
    "1" + "/" * 100_000,
    "1 " + "a " * 100_000,
    "(" * 100_000,
    "-" * 100_000 + "1",
    "not " * 100_000 + "x",
    "1+" * 5_000 + "1",
    "2^" * 5_000 + "1",
    "x[" * 5_000,
    "1 if 1 == 1 else " * 5_000 + "1",
    "max(" * 5_000,
]


def plain() -> None:
    for text in PLAIN:
        refused(text)


@pytest.mark.parametrize("text", HOSTILE, ids=lambda text: ascii(text[:24]))
@pytest.mark.parametrize("kind", [Kind.QUANTITY, Kind.CONDITION, Kind.CHOICE])
def test_hostile_texts_are_refused(text: str, kind: Kind) -> None:
    refusals = refused(text, kind=kind, choices=("minor",))
    assert all(0 <= refusal.at <= len(text) for refusal in refusals)


@pytest.mark.second_lane
@pytest.mark.parametrize("text", HOSTILE, ids=lambda text: ascii(text[:24]))
@pytest.mark.parametrize("kind", [Kind.QUANTITY, Kind.CONDITION, Kind.CHOICE])
def test_hostile_texts_are_refused_soon(text: str, kind: Kind) -> None:
    assert times_as_long(lambda: refused(text, kind=kind, choices=("minor",)), plain) < SOON


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("(-1)^0.5", "it takes the root of a negative value"),
        ("(9^9)^9 * ((9^9)^9)^9", "it is too large a number"),
        ("(((((9^9)^9)^9)^9)^9)^9", "it is too large a number"),
        ("(((0.00000000000000000001^9)^9)^9)^-9", "it divides by something that cannot be told from zero"),
        ("1 / (1 - 1)", "it divides by something that cannot be told from zero"),
        ("sqrt(0 - 1)", "sqrt has no value there"),
        ("exp(99999)", "exp has no value there"),
    ],
)
def test_hostile_numbers_have_no_value(text: str, said: str) -> None:
    assert trouble(text) == said


def test_the_largest_of_numbers() -> None:
    assert worth("99999999999999999999 * 10") == Decimal("999999999999999999990")
    assert worth("99999999999999999999^9") > Decimal("9e179")


WORDS = "min max pi if else and or not top front street yes 1 2 0 0.5 3 in mm cc deg C K g"
SIGNS = "+ - * / ^ ( ) [ ] , : == != < <= > >= = ( ) , ( )"
ANY_TEXT = st.one_of(
    st.text(max_size=60),
    st.lists(
        st.sampled_from(
            [
                *[name.name for name in NAMES],
                *[axis.name for axis in AXES],
                *FUNCTIONS,
                *REDUCERS,
                *WORDS.split(),
                *SIGNS.split(),
            ]
        ),
        max_size=25,
    ).map(" ".join),
)


@pytest.mark.second_lane
@given(
    ANY_TEXT,
    st.sampled_from([(), ("main",), ("cylinder",), ("throw",), ("cylinder", "ring")]),
    st.sampled_from(list(Kind)[:3]),
    st.sampled_from([None, LENGTH]),
)
def test_any_text_gives_a_formula_or_refusals(
    text: str, each: tuple[str, ...], kind: Kind, dimension: Dimension | None
) -> None:
    def reading() -> Formula | tuple[Refusal, ...]:
        return read_formula(text, SCOPE, each=each, kind=kind, dimension=dimension, choices=("top", "street"))

    found = reading()
    assert times_as_long(reading, plain) < SOON
    if not isinstance(found, Formula):
        assert found
        assert all(isinstance(refusal, Refusal) and refusal.said for refusal in found)
        assert all(0 <= refusal.at <= len(text) for refusal in found)
        return
    assert found.kind is kind
    assert found.names <= SCOPE.names.keys()
    assert kind is not Kind.QUANTITY or not dimension or found.dimension == LENGTH
    station = {axis: "top" if axis == "ring" else "1" for axis in each}
    try:
        evaluate_operator(found.operators, bench(), station)
    except NotEvaluable as trouble:
        assert trouble.reason.code  # noqa: PT017 - what is tested is that nothing else is raised


EXPRESSION = st.recursive(
    st.sampled_from(["x", "y", "z", "stroke", "0.5 in", "3 mm", "runout"]),
    lambda inner: st.one_of(
        st.tuples(inner, st.sampled_from(["+", "-"]), inner).map(lambda t: f"({t[0]} {t[1]} {t[2]})"),
        st.tuples(st.sampled_from(["2 *", "-", "0.5 *", "ratio *"]), inner).map(lambda t: f"({t[0]} {t[1]})"),
        st.tuples(inner, inner, inner).map(lambda t: f"({t[0]} * {t[1]} / ({t[2]}))"),
        st.tuples(st.sampled_from(["min", "max"]), inner, inner).map(lambda t: f"{t[0]}({t[1]}, {t[2]})"),
        st.tuples(inner, inner).map(lambda t: f"({t[0]} if coated else {t[1]})"),
        inner.map(lambda t: f"abs({t})"),
        st.tuples(inner, inner).map(lambda t: f"sqrt(({t[0]})^2 + ({t[1]})^2)"),
    ),
    max_leaves=8,
)


@given(EXPRESSION)
def test_sound_algebra_of_lengths_reads_as_a_length(text: str) -> None:
    if len(text) <= 480:
        assert read(text).dimension == LENGTH


@given(EXPRESSION, st.data())
def test_a_mistyped_name_is_refused_where_it_stands(text: str, data: st.DataObject) -> None:
    places = [at for at in range(len(text)) if text.startswith("stroke", at)]
    if not places or len(text) > 480:
        text, places = "2 * (x + stroke)", [9]
    at = data.draw(st.sampled_from(places))
    mistyped = text[:at] + "strokke" + text[at + len("stroke") :]
    wanted = Refusal(Code.UNKNOWN_NAME, "has 'strokke', which is no measurand, fact or figure", "stroke", at)
    assert wanted in refused(mistyped)


@pytest.mark.parametrize(
    ("text", "code", "said"),
    [
        ("5 µn", Code.UNKNOWN_UNIT, "has un after the number, which is no unit; a note belongs in a comment"),
        ("5 °", Code.WRONG_UNIT, "is in deg, which is angle, not length"),
        ("5 * µ", Code.UNWANTED_CHARACTER, "has 'µ', and a formula is plain letters"),
    ],
)
def test_what_only_a_written_number_would_hold_is_refused_as_one(text: str, code: Code, said: str) -> None:
    (refusal,) = refused(text, dimension=LENGTH)
    assert (refusal.code, refusal.said) == (code, said)


def test_reading_needs_no_decimal_context_of_the_caller() -> None:
    assert CONTEXT.prec == 50
    for text, sign in (("1 [degF_difference]", ""), ("-1 [degF_difference]", "-"), ("-(1 [degF_difference])", "-")):
        assert worth(text) == Decimal(sign + "0." + "5" * 49 + "6")
