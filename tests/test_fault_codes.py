"""Every kind of fault, each made by what is wrong in that way, and none that nothing makes."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import partial
from pathlib import Path

import pytest

from specrules.cli.inspector import InspectionRequest, Inspector
from specrules.document import Budget, Fault, read
from specrules.effects.files import read_bytes
from specrules.inspection import Options
from specrules.pack.axis_compiling import MOST_AXES
from specrules.plugins import Found, plug
from specrules.quantity import LENGTH, Refusal, find_unit, read_written
from specrules.sheet import read_sheet, settle
from specrules.teaching import pose
from specrules.vocabulary import ONCE, Code
from tests.evaluate.small_environment import refused
from tests.pack.small_packs import BASE, faults_of, resolved, upper
from tests.pack.small_pump import PUMP
from tests.plugins.small_plugins import found, plugin
from tests.sheet.small_shop import settled, shop
from tests.teaching.small_lessons import changed

INCH = find_unit("in")

TEXTS = {
    "": Code.EMPTY_FILE,
    "a: \x01": Code.UNWANTED_CHARACTER,
    "a: {": Code.UNPAIRED,
    'a: "\\U00110000"': Code.NOT_YAML,
    "a: *b": Code.YAML_FEATURE,
    "? [a]\n: b": Code.NOT_A_KEY,
    "a: {b:2.49}": Code.COLON_WITHOUT_SPACE,
    "a: 1\nb\nc: 2": Code.COLON_MISSING,
    "a: @b": Code.NOT_QUOTED,
    'a: "b" c': Code.AFTER_QUOTE,
    'a: "\\q"': Code.WRONG_ESCAPE,
    "a: 1\n  b: 2": Code.WRONG_INDENTATION,
    "a: 5 #3": Code.READ_AS_COMMENT,
    "a: > 5": Code.TEXT_BELOW,
    "a: - b": Code.WRONG_LIST,
    "a: [, b]": Code.COMMA_MISPLACED,
    "a: -": Code.NO_VALUE,
    "a: 1\na: 2": Code.DEFINED_TWICE,
}
"""Files of any kind."""

NUMBERS = {
    "2.49.9": Code.MISWRITTEN_NUMBER,
    "2,49": Code.COMMA_IN_NUMBER,
    "1; 2": Code.SEVERAL_NUMBERS,
    "gap 2.49": Code.WORDS_WITH_NUMBER,
    "about 2.49": Code.APPROXIMATE,
    "nil": Code.AMBIGUOUS,
    "2.5 +0.001/-0.002": Code.NOT_A_READING,
    "less than 2": Code.RANGE_IN_WORDS,
    "3..2": Code.WRONG_RANGE,
    "nan": Code.NOT_A_NUMBER,
    "2.49 ±0": Code.WRONG_UNCERTAINTY,
    "1.000 in (25.00 mm)": Code.SIZE_TWICE,
    "1" * 30: Code.TOO_LONG,
    "1 inhc": Code.UNKNOWN_UNIT,
    "1 hundredth": Code.AMBIGUOUS_UNIT,
    "1 deg": Code.WRONG_UNIT,
}
"""Lengths in inches."""

FORMULAS = {
    "x +": Code.FORMULA_SYNTAX,
    "x + use": Code.WRONG_KIND,
    "x + weight[1]": Code.WRONG_DIMENSION,
    "sqrt(x, y)": Code.WRONG_ARGUMENTS,
    "room + room": Code.TEMPERATURE_ARITHMETIC,
    "x / 0": Code.DIVIDES_BY_ZERO,
    "x^10": Code.WRONG_EXPONENT,
    "1 if x > y else 2": Code.CONDITION_ON_MEASURED,
    "journal": Code.NOT_ONE_VALUE,
    "x[front]": Code.WRONG_AXIS,
    "x + strok": Code.UNKNOWN_NAME,
}

SET = "{taken: 2026-10-02, at: 0.005}"

SHEETS = {
    "bogus: 1": Code.UNKNOWN_KEY,
    "readings: {main_bore: {1: 2.5}}\nwork done: [{on: 2026-10-02}]": Code.MISSING_KEY,
    "facts: {mains: 5}\nbuild: [1]": Code.WRONG_SHAPE,
    "facts: {use: sailing}": Code.NOT_A_CHOICE,
    "facts: {main_bore: 2.5}": Code.WRONG_SECTION,
    "gauges: {a: {set with: b}, b: {set with: a}}": Code.CIRCULAR,
    "facts: {mains: many}": Code.NOT_WHOLE,
    "facts: {stroke: 3..4}": Code.NOT_ONE_FIGURE,
    "build: {date: 2.10.2026}": Code.NOT_A_DATE,
    "facts: {mains: 5}\nreadings: {main_bore: {9: 2.5}}": Code.UNKNOWN_LABEL,
    "facts: {mains: 5}\nreadings: {main_bore: 2.5}": Code.STATION_NOT_NAMED,
    "facts: {mains: 5}\nreadings: {main_bore: {1: [1, 2, 3, 4, 5]}}": Code.WRONG_COUNT,
    "readings: {main_bore: {1: 2.5, unit: in, at: {}}}": Code.MISPLACED,
    "readings: {rod_journal: {1: 2.1}}": Code.GROUPS_NOT_STATED,
    "facts: {cylinders: 2, throws: [[1, 2], [2]]}": Code.NOT_GROUPED,
    f"readings: {{crank_end_float: [{SET}, {SET.replace('-02', '-01')}, {{gauge: a, at: 0.006}}]}}": Code.OUT_OF_ORDER,
}
"""What follows the head of a sheet in inches."""

SETS = "hold points: [{}]\n"

PACKS = {
    (BASE.replace("fit:", "2 fits:"),): Code.NOT_A_NAME,
    (BASE.replace("kind: yes/no,", "kind: yes/no, choices: [a],"),): Code.KEYS_DISAGREE,
    (BASE.replace("unit: in, usual: 1.5..4.5", "unit: in, usual: 1.5"),): Code.NOT_A_RANGE,
    (BASE.replace("0.0010 * size", "0.0010"),): Code.UNIT_MISSING,
    (BASE.replace("  stand:", "  pi:"),): Code.NAME_TAKEN,
    (BASE, upper("one", "", more=SETS.format("iron")), upper("two", "", "base, one", SETS.format("aluminium"))): (
        Code.PACKS_DISAGREE
    ),
    (BASE, upper("top", "  rules: {none: {reason: no, caution: Mind.}}\n")): Code.AMENDS_NOTHING,
    (BASE, upper("top", "  rules: {fit: {reason: no, formula: hole}}\n")): Code.WRONG_AMENDMENT,
    ("specrules: build-sheet/1\n",): Code.WRONG_FILE,
    (BASE, upper("top", "", on='"base >= 1.1"')): Code.WRONG_VERSION,
}
"""Files of packs, each building on those before it."""


def of_text(text: str) -> Iterable[Fault]:
    return read(text, "a.yaml")[1]


def of_number(text: str) -> Iterable[Refusal]:
    assert not isinstance(INCH, Refusal)
    found = read_written(text, unit=INCH, dimension=LENGTH)
    return [found] if isinstance(found, Refusal) else []


def of_sheet(body: str) -> Iterable[Fault]:
    return settled(body)[1]


def of_a_file_that_is_not_there() -> Iterable[Fault]:
    found = read_bytes(Path("none"), "none")
    return [found] if isinstance(found, Fault) else []


def of_a_sheet_and_its_pack() -> Iterable[Fault]:
    return settled("facts: {use: street}", "towing")[1]


def of_bytes() -> Iterable[Fault]:
    return read(b"a: \xff", "a.yaml")[1]


def of_much() -> Iterable[Fault]:
    return read("a: 1", "a.yaml", Budget(size=3))[1]


def of_many_faults() -> Iterable[Fault]:
    return read("a: *b\nc: *d\ne: *f", "a.yaml", Budget(faults=2))[1]


def of_many_axes() -> Iterable[Fault]:
    axes = "".join(f"  axis{number}: {{names: [a, b]}}\n" for number in range(MOST_AXES + 1))
    return faults_of(BASE.replace("axes:\n", f"axes:\n{axes}"))


def of_a_sheet_without_a_unit() -> Iterable[Fault]:
    raw, faults = read_sheet("specrules: build-sheet/1\nreadings: {crank_end_float: 5, main_bore: {1: 2}}", "a.yaml")
    assert raw is not None, faults
    return settle(raw, shop())[1]


def of_what_is_not_there() -> Iterable[Fault]:
    raw, _ = read_sheet(
        "specrules: build-sheet/1\nunit: in\nfacts: {seal: face}\nreadings: {packing_gap: 0.4}\n", "e.yaml"
    )
    assert raw is not None
    return settle(raw, resolved(PUMP))[1]


def of_an_exercise() -> Iterable[Fault]:
    return pose(resolved(changed("title: One fit", "title: One")), "sure", 1)[1]


def of_plugins(*plugins: Found) -> Iterable[Fault]:
    return plug(plugins).faults


def of_the_program() -> Iterable[Fault]:
    request = InspectionRequest(Options(), "console", several=True, plugins=False)
    return Inspector(request).failed(Path("a.yaml"), "MemoryError").faults


def fails() -> None:
    raise RuntimeError


OTHERS: Mapping[Code, Callable[[], Iterable[Fault | Refusal]]] = {
    Code.UNREADABLE: of_a_file_that_is_not_there,
    Code.NOT_UTF_8: of_bytes,
    Code.FILE_TOO_LARGE: of_much,
    Code.TOO_MANY_FAULTS: of_many_faults,
    Code.TOO_MANY: of_many_axes,
    Code.CONTRADICTION: of_a_sheet_and_its_pack,
    Code.UNIT_UNSAID: of_a_sheet_without_a_unit,
    Code.ABSENT: of_what_is_not_there,
    Code.NO_NEW_READINGS: of_an_exercise,
    Code.PLUGIN_FAILED: partial(of_plugins, found(fails)),
    Code.PLUGIN_TWICE: partial(of_plugins, found(fails), found(fails, version="2.0")),
    Code.WRONG_OFFER: partial(of_plugins, found(plugin(functions=lambda: 5))),
    Code.PROGRAM_FAILED: of_the_program,
}
"""What takes more than a text."""

CASES: list[tuple[Code, Callable[[], Iterable[Fault | Refusal]]]] = [
    *((code, partial(of_text, text)) for text, code in TEXTS.items()),
    *((code, partial(of_number, text)) for text, code in NUMBERS.items()),
    *((code, partial(refused, text)) for text, code in FORMULAS.items()),
    *((code, partial(of_sheet, body)) for body, code in SHEETS.items()),
    *((code, partial(faults_of, *texts)) for texts, code in PACKS.items()),
    *OTHERS.items(),
]


@pytest.mark.parametrize(("code", "made"), CASES, ids=[code for code, _ in CASES])
def test_what_is_wrong_has_its_code(code: Code, made: Callable[[], Iterable[Fault | Refusal]]) -> None:
    assert code in [fault.code for fault in made()], list(made())


def test_every_code_is_made_and_means_something() -> None:
    assert {code for code, _ in CASES} == set(Code)
    assert all(code.meaning for code in Code)


@pytest.mark.parametrize("code", Code)
def test_a_code_is_its_name_in_plain_letters(code: Code) -> None:
    assert code.value == code.name.lower().replace("_", "-")


def test_a_slip_of_the_whole_file_is_told_once() -> None:
    assert [fault.code for fault in of_a_sheet_without_a_unit()] == [*ONCE]
