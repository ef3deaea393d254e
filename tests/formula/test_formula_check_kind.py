"""Names, kinds and dimensions: what each expression is, and every fault of those that are nothing."""

from __future__ import annotations

import pytest

from specrules.evaluate import label
from specrules.formula import Declared, Formula, Function, Kind, Role, Scope, takes, with_functions
from specrules.formula.formula_reading import read_formula
from specrules.quantity import (
    ANGLE,
    AREA,
    LENGTH,
    MASS,
    NUMBER,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    VOLUME,
    Dimension,
    Refusal,
)
from specrules.vocabulary import Code
from tests.evaluate.small_environment import SCOPE, bench, read, refused, worth

DIMENSIONS = [
    ("x", LENGTH),
    ("x + 1 in", LENGTH),
    ("x + 0", LENGTH),
    ("0 + x", LENGTH),
    ("0 * x", NUMBER),
    ("0 / x", NUMBER),
    ("x * 0 + y", LENGTH),
    ("0", NUMBER),
    ("-x", LENGTH),
    ("x * y", AREA),
    ("x * y / z", LENGTH),
    ("x / y", NUMBER),
    ("pi * x", LENGTH),
    ("x^3", VOLUME),
    ("x^-1 * y^2", LENGTH),
    ("(x * y)^0.5", LENGTH),
    ("(x * y)^1.5", VOLUME),
    ("0^2 + x", LENGTH),
    ("sqrt(x * y)", LENGTH),
    ("abs(x - y)", LENGTH),
    ("sin(slant)", NUMBER),
    ("asin(0.5)", ANGLE),
    ("x * tan(slant)", LENGTH),
    ("max(x, 0)", LENGTH),
    ("max(0, 0, x)", LENGTH),
    ("x if coated else 0", LENGTH),
    ("0 if coated else x", LENGTH),
    ("spread(weight)", MASS),
    ("count(weight)", NUMBER),
    ("count(heat)", NUMBER),
    ("room", TEMPERATURE),
    ("room - 20 C", TEMPERATURE_DIFFERENCE),
    ("room + 5 K", TEMPERATURE),
    ("5 K + room", TEMPERATURE),
    ("room - 5 K", TEMPERATURE),
    ("room + 0", TEMPERATURE),
    ("mean(heat)", TEMPERATURE),
    ("spread(heat)", TEMPERATURE_DIFFERENCE),
    ("abs(room - 20 C)", TEMPERATURE_DIFFERENCE),
    ("x * 11.5 [um/m/K] * (room - 20 C)", LENGTH),
    ("max(least, 0.0008 in)", LENGTH),
    ("smallest(housing) - largest(journal)", LENGTH),
]


@pytest.mark.parametrize(("text", "dimension"), DIMENSIONS)
def test_dimensions(text: str, dimension: Dimension) -> None:
    assert read(text).dimension == dimension


@pytest.mark.parametrize("dimension", [LENGTH, VOLUME, TEMPERATURE])
def test_a_written_nothing_is_of_any_dimension(dimension: Dimension) -> None:
    assert read("0", dimension=dimension).dimension == dimension
    assert read("0 * ratio", dimension=dimension).dimension == dimension


def test_what_is_expected_tells_which_unit_is_meant() -> None:
    assert read("5 lb", dimension=MASS).dimension == MASS
    assert read("5 lb", dimension=read("5 lbf").dimension).dimension == read("5 lbf").dimension


FAULTS = [
    ("strok", Code.UNKNOWN_NAME, "has 'strok', which is no measurand, fact or figure", "stroke", 0),
    ("x + qqq", Code.UNKNOWN_NAME, "has 'qqq', which is no measurand, fact or figure", "", 4),
    ("__import__", Code.UNKNOWN_NAME, "has '__import__', which is no measurand, fact or figure", "", 0),
    ("x + largest", Code.FORMULA_SYNTAX, "has largest without its brackets", "largest(...)", 4),
    ("x + max", Code.FORMULA_SYNTAX, "has max without its brackets", "max(...)", 4),
    ("x * sqrt", Code.FORMULA_SYNTAX, "has sqrt without its brackets", "sqrt(...)", 4),
    (
        "n * 120 lbf/in",
        Code.FORMULA_SYNTAX,
        "has the unit in and no number before it",
        "1 in or, of a unit of several, square brackets: 1 [lbf/in]",
        12,
    ),
    ("foo(x)", Code.UNKNOWN_NAME, "has foo(...), which is no function", "", 0),
    ("sqr(x)", Code.UNKNOWN_NAME, "has sqr(...), which is no function", "sqrt(...)", 0),
    ("largst(x)", Code.UNKNOWN_NAME, "has largst(...), which is no function", "largest(...)", 0),
    ("x(1)", Code.UNKNOWN_NAME, "has x(...), which is no function", "x", 0),
    ("pi()", Code.UNKNOWN_NAME, "has pi(...), which is no function", "pi", 0),
    ("max(x)", Code.WRONG_ARGUMENTS, "gives max too little to compare", "max(a, b)", 0),
    ("min()", Code.WRONG_ARGUMENTS, "gives min too little to compare", "min(a, b)", 0),
    ("sin(slant, slant)", Code.WRONG_ARGUMENTS, "gives sin 2 where it takes 1", "sin(a)", 0),
    ("sin(x)", Code.WRONG_DIMENSION, "gives sin length, and it takes angle", "", 0),
    ("sqrt(x)", Code.WRONG_DIMENSION, "gives sqrt length, and it takes a number, an area or another square", "", 0),
    ("abs(room)", Code.WRONG_DIMENSION, "gives abs temperature, and it takes a temperature difference", "", 0),
    ("x + 0.002", Code.WRONG_DIMENSION, "adds length and number", "0.002 in or 0.002 mm", 2),
    ("x - 0.002", Code.WRONG_DIMENSION, "takes number from length", "0.002 in or 0.002 mm", 2),
    ("chamber[1] + 2", Code.WRONG_DIMENSION, "adds volume and number", "2 cc", 11),
    ("0.002 + x", Code.WRONG_DIMENSION, "adds number and length", "0.002 in or 0.002 mm", 6),
    ("x + ratio", Code.WRONG_DIMENSION, "adds length and number", "", 2),
    ("x + 1 g", Code.WRONG_DIMENSION, "adds length and mass", "", 2),
    ("1 g - x", Code.WRONG_DIMENSION, "takes length from mass", "", 4),
    ("max(x, 0.002)", Code.WRONG_DIMENSION, "gives max length and number", "0.002 in or 0.002 mm", 0),
    ("max(x, 0, 2 g)", Code.WRONG_DIMENSION, "gives max length and mass", "", 0),
    (
        "x if coated else 0.002",
        Code.WRONG_DIMENSION,
        "has an 'if' between length and number",
        "0.002 in or 0.002 mm",
        2,
    ),
    ("x if coated else use", Code.WRONG_KIND, "has an 'if' between a quantity and a choice", "", 2),
    ("x if stroke > 4 else y", Code.WRONG_DIMENSION, "compares length and number", "4 in or 4 mm", 12),
    ("x if stroke > coated else y", Code.WRONG_KIND, "orders choices with >", "== or !=", 12),
    ("x / 0", Code.DIVIDES_BY_ZERO, "divides by 0", "", 2),
    ("x^0.5", Code.WRONG_DIMENSION, "takes the root of length, which has no unit", "", 1),
    ("use + 1", Code.WRONG_KIND, "has a choice where a quantity is needed", "", 0),
    ("largest(alloy)", Code.WRONG_KIND, "has a choice where a quantity is needed", "", 8),
    ("-(use == street)", Code.WRONG_KIND, "has a condition where a quantity is needed", "", 6),
    ("x if y else z", Code.WRONG_KIND, "has a quantity where a condition is needed", "a comparison such as a == b", 5),
    ("x if use else z", Code.WRONG_KIND, "has a choice where a condition is needed", "a comparison such as a == b", 5),
    (
        "x if use == stret else y",
        Code.UNKNOWN_LABEL,
        "has 'stret', which is none of street, towing, racing",
        "street",
        12,
    ),
    (
        "x if stret != use else y",
        Code.UNKNOWN_LABEL,
        "has 'stret', which is none of street, towing, racing",
        "street",
        5,
    ),
    ("x if use == 3 else y", Code.UNKNOWN_LABEL, "has '3', which is none of street, towing, racing", "", 12),
    ("x if usee == street else y", Code.UNKNOWN_NAME, "has 'usee', which is no measurand, fact or figure", "use", 5),
    ("x if use < street else y", Code.WRONG_KIND, "orders choices with <", "== or !=", 9),
    ("x if (use if coated else breathing) == turbo else y", Code.UNKNOWN_LABEL, "has 'turbo', which is none", "", 39),
    (
        "x if (use if x else breathing) == boosted else y",
        Code.WRONG_KIND,
        "has a quantity where a condition is needed",
        "a",
        13,
    ),
    ("x if use == stroke else y", Code.WRONG_KIND, "has a quantity where a choice or its label is needed", "", 12),
    (
        "x if use == (stroke > 1 in) else y",
        Code.WRONG_KIND,
        "has a condition where a choice or its label is needed",
        "",
        20,
    ),
    (
        "x if builder == smith else y",
        Code.WRONG_KIND,
        "compares a text, and only numbers and choices can be",
        "a fact of choices",
        5,
    ),
    (
        "x if (use == street) == (breathing == natural) else y",
        Code.WRONG_KIND,
        "compares a condition with another",
        "and, or, not between conditions",
        21,
    ),
    ("x if main == 3 else y", Code.NOT_ONE_VALUE, "asks for the label on main, and there is not one main here", "", 5),
    (
        "x if x > 1 in else y",
        Code.CONDITION_ON_MEASURED,
        "compares x, which is measured; a condition reads facts and labels only",
        "it in the limit",
        7,
    ),
    (
        "x if size[1] > 1 in else y",
        Code.CONDITION_ON_MEASURED,
        "compares the figure size, and figures may stand on readings; a condition",
        "the facts that size is of",
        13,
    ),
    (
        "x if least > 1 in else y",
        Code.CONDITION_ON_MEASURED,
        "compares a limit so far; a condition reads facts and labels only",
        "it in the limit",
        11,
    ),
    (
        "x if max(stroke, x) > 1 in else y",
        Code.CONDITION_ON_MEASURED,
        "compares x, which is measured; a condition reads",
        "it in the limit",
        20,
    ),
    ("x if strok > 1 in else y", Code.UNKNOWN_NAME, "has 'strok', which is no measurand, fact or figure", "stroke", 5),
    ("room + room", Code.TEMPERATURE_ARITHMETIC, "adds two temperatures", "a - b", 5),
    ("5 K - room", Code.TEMPERATURE_ARITHMETIC, "takes a temperature from a difference", "a - b", 4),
    (
        "room * 2",
        Code.TEMPERATURE_ARITHMETIC,
        "multiplies a temperature, which has no meaning; only a difference may be",
        "(a - b)",
        5,
    ),
    (
        "2 * room",
        Code.TEMPERATURE_ARITHMETIC,
        "multiplies a temperature, which has no meaning; only a difference may be",
        "(a - b)",
        2,
    ),
    (
        "room / 2",
        Code.TEMPERATURE_ARITHMETIC,
        "divides a temperature, which has no meaning; only a difference may be",
        "(a - b)",
        5,
    ),
    ("room^2", Code.TEMPERATURE_ARITHMETIC, "takes a power of a temperature; only a difference has one", "(a - b)", 4),
    ("-room", Code.TEMPERATURE_ARITHMETIC, "takes a temperature from nothing", "(a - b)", 0),
    ("sum(heat)", Code.TEMPERATURE_ARITHMETIC, "adds temperatures, which has no meaning", "mean(...)", 0),
    ("x[1]", Code.WRONG_AXIS, "picks 1 on x, and there is one x in all", "x", 0),
    (
        "journal[plain: front]",
        Code.WRONG_AXIS,
        "picks on plain, and journal lies along main, plane, clock",
        "journal[plane: front]",
        0,
    ),
    ("journal[frnt]", Code.UNKNOWN_LABEL, "has journal[frnt], and no axis of journal has that label", "front", 0),
    ("journal[plane: a]", Code.UNKNOWN_LABEL, "has journal[a], and no axis of journal has that label", "a", 0),
    ("chamber[front]", Code.UNKNOWN_LABEL, "has chamber[front], and no axis of chamber has that label", "", 0),
    (
        "largest(land[top])",
        Code.AMBIGUOUS,
        "has land[top], a label on ring and on depth",
        "land[ring: top] or land[depth: top]",
        8,
    ),
    ("largest(gap[top, second])", Code.WRONG_AXIS, "picks twice on ring", "gap[second]", 8),
]


@pytest.mark.parametrize(("text", "code", "said", "write", "at"), FAULTS)
def test_faults(text: str, code: Code, said: str, write: str, at: int) -> None:
    first = refused(text)[0]
    assert first.code is code
    assert first.said.startswith(said)
    assert first.write.startswith(write)
    assert bool(first.write) is bool(write)
    assert first.at == at


def test_every_fault_of_one_formula_is_found_in_one_run() -> None:
    found = refused("strok + largst(x) + max(x, 0.5) + journal[frnt] + (1 if use == stret else roum)")
    assert [refusal.at for refusal in found] == [0, 8, 20, 34, 63, 74]


UNFIT = [
    (
        "0.0025",
        Kind.QUANTITY,
        LENGTH,
        Code.UNIT_MISSING,
        "is a bare number, and length is needed",
        "0.0025 in or 0.0025 mm",
    ),
    ("ratio", Kind.QUANTITY, LENGTH, Code.UNIT_MISSING, "is a bare number, and length is needed", ""),
    ("0.1 cc", Kind.QUANTITY, LENGTH, Code.WRONG_DIMENSION, "is volume, and length is needed", ""),
    ("use", Kind.QUANTITY, None, Code.WRONG_KIND, "is a choice, not a quantity", ""),
    ("use == street", Kind.QUANTITY, None, Code.WRONG_KIND, "is a condition, not a quantity", ""),
    ("builder", Kind.QUANTITY, None, Code.WRONG_KIND, "is a text, not a quantity", ""),
    ("x", Kind.CONDITION, None, Code.WRONG_KIND, "is a quantity, not a condition", "a comparison such as a == b"),
    ("use", Kind.CONDITION, None, Code.WRONG_KIND, "is a choice, not a condition", "a comparison such as a == b"),
    ("stroke", Kind.CHOICE, None, Code.WRONG_KIND, "is a quantity, not a choice", ""),
    ("coated == yes", Kind.CHOICE, None, Code.WRONG_KIND, "is a condition, not a choice", ""),
    ("use", Kind.CHOICE, None, Code.NOT_A_CHOICE, "may come to street, and critical, minor are wanted", ""),
    (
        "minor if coated else use",
        Kind.CHOICE,
        None,
        Code.NOT_A_CHOICE,
        "may come to street, and critical, minor are wanted",
        "",
    ),
    (
        "critcal",
        Kind.CHOICE,
        None,
        Code.UNKNOWN_NAME,
        "has 'critcal', which is no measurand, fact or figure, nor one of critical, minor",
        "critical",
    ),
]


@pytest.mark.parametrize(("text", "kind", "dimension", "code", "said", "write"), UNFIT)
def test_what_is_sound_and_not_what_was_asked_for(
    text: str, kind: Kind, dimension: Dimension | None, code: Code, said: str, write: str
) -> None:
    choices = ("critical", "minor")
    assert refused(text, kind=kind, dimension=dimension, choices=choices) == (Refusal(code, said, write, 0),)


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("x + y * 2", {"x", "y"}),
        ("largest(journal) if use == street and main == 3 else least", {"journal", "use", "least"}),
        ("pi * stroke", {"stroke"}),
    ],
)
def test_the_names_that_a_formula_uses(text: str, names: set[str]) -> None:
    assert read(text, ("main",)).names == names


def test_a_scope_with_names_more() -> None:
    more = SCOPE.with_names(Declared("most", Role.LIMIT, (), LENGTH))
    assert read("min(most, x)", scope=more).dimension == LENGTH
    assert "most" not in SCOPE.names
    assert SCOPE.grouped_by("cylinder") == ("throw", "bank")
    assert SCOPE.grouped_by("main") == ()


def test_labels_of_an_axis_are_checked() -> None:
    assert refused("x if main == front else y", ("main",))[0] == Refusal(
        Code.UNKNOWN_LABEL, "has 'front', and the labels of main are whole numbers", "", 13
    )
    assert refused("x if main == 3.0 else y", ("main",))[0].said.startswith("has '3.0'")
    assert refused("x if ring == topp else y", ("cylinder", "ring"))[0] == Refusal(
        Code.UNKNOWN_LABEL, "has 'topp', which is none of top, second, oil", "top", 13
    )
    assert refused("main", ("main",), kind=Kind.CHOICE, choices=("minor",)) == (
        Refusal(Code.NOT_A_CHOICE, "may come to any label, and minor are wanted", "", 0),
    )
    assert refused("x if main + 1 == 2 else y", ("main",))[0].said == "has a choice where a quantity is needed"


def test_a_formula_knows_whether_it_is_exact() -> None:
    assert read("sqrt(x^2 + y^2)").exact
    assert not read("x * sin(slant)").exact


def test_functions_of_others_are_checked_by_their_own_dimensions() -> None:
    area = Function("ringed", 2, takes(LENGTH, LENGTH, gives=AREA), lambda a, b: a * b, (float, float))
    scope = Scope(SCOPE.axes, SCOPE.names, functions=with_functions([area]))
    formula = read_formula("ringed(x, y)", scope)
    assert isinstance(formula, Formula)
    assert formula.dimension == AREA
    assert read_formula("ringed(x, ratio)", scope) == (
        Refusal(Code.WRONG_DIMENSION, "gives ringed length and number, and it takes length and length", "", 0),
    )
    wanted = Refusal(Code.WRONG_ARGUMENTS, "gives ringed 1 where it takes 2", "ringed(a, b)", 0)
    assert read_formula("ringed(x)", scope) == (wanted,)


def test_a_choice_may_come_to_one_of_its_labels() -> None:
    on = bench(facts={"breathing": "boosted"})
    importance = read(
        "critical if breathing == boosted else minor", kind=Kind.CHOICE, choices=("critical", "major", "minor")
    )
    assert label(importance, on, {}) == "critical"
    assert label(read("minor", kind=Kind.CHOICE, choices=("major", "minor")), on, {}) == "minor"
    assert worth("2 if breathing == boosted else 1", on) == 2
