"""Tables in packs: what each says, every fault of one with its place, amendments, what formulas may ask of one."""

from __future__ import annotations

from decimal import Decimal

import pytest

from specrules.evaluate import Value
from specrules.evaluate.explanation import explain
from specrules.formula import Declared, Formula, KeyKind, Kind, Role, Scope
from specrules.formula.formula_reading import read_formula
from specrules.output.pack_page import pack_whole
from specrules.pack.work_budget import WorkCount
from specrules.quantity import NUMBER
from specrules.vocabulary import Code, Relaxed
from tests.evaluate.small_environment import SmallBench
from tests.pack.small_packs import faults_of, resolved, upper
from tests.pack.small_tables import PACK

FAULTS = [
    ("{colour: choice}", "{colour: ¦sort}", 'wall keys colour: "sort" is no kind of key; write choice, whole, band'),
    ("{nominal: band mm}", "{nominal: ¦band}", 'grade keys nominal: "band" is no kind of key'),
    ("{nominal: band mm}", "{nominal: band ¦mn}", "grade keys nominal: "),
    ("{colour: choice}", "{a: choice, b: whole, c: whole}", "wall: has 3 keys and 3 columns"),
    ("thin: mm,", "thin: ¦smoot,", "wall columns thin: "),
    ("maker: label}", "maker: {holds: label, order: ¦rising}}", "wall columns maker: is of labels"),
    ("black: [1.500, 1.504, north]", "¦black: [1.500, 1.504]", 'wall rows: "black" has 2 figures where there are 3'),
    ("black: [1.500,", "black: [¦much,", 'wall rows: "much" '),
    ("over 3 to 6: [8", "¦over 6 to 3: [8", 'grade rows: "over 6 to 3" is a band that ends before it begins'),
    ("over 3 to 6: [8", "¦from 3: [8", 'grade rows: "from 3" is no band of nominal; write over 30 to 50'),
    ("over 3 to 6: [8", "¦over 2 to 6: [8", 'grade rows: "over 2 to 6" shares sizes with "to 3" in line'),
    ("20: 2,", "20: 2, ¦20.0: 2,", 'factor rows: "20.0" stands twice, and first in line'),
    ("A: {1:", "A: {¦1.5:", 'crossed rows: "1.5" is no whole number'),
    ("    rows: {10: 1, 20: 2, 40: 3, 50: 1}\n", "", "factor: has no rows; write rows: or file:"),
    (
        "{most: 0.008 mm}",
        '{most: "¦grade_six(nominal, 1)"}',
        "... gives grade_six 2 where it takes 1; write grade_six(nominal).",
    ),
    ("wall_thin(colour)", "wall_thin(¦0.1 mm)", "... has a quantity where a choice or its label is needed."),
    ("wall_thin(colour)", "¦wall_thin(white)", "... may ask for colour white, and the table wall has no row for it"),
    ("choices: [blue,", "choices: [white, blue,", "... may ask for colour white, and the table wall has no row for it"),
    ("grade_six(nominal)", "grade_six(¦crank_stamp)", "... looks up grade_six by number, and nominal is length."),
    ("wall_thin(colour)", "¦wall_thn(colour)", "... has wall_thn(...), which is no function; write wall_thin(...)."),
    ("wall_thin(colour)", "¦wall_thin", "... has wall_thin without its brackets; write wall_thin(...)."),
]


@pytest.mark.parametrize(("good", "bad", "said"), FAULTS, ids=[row[1] for row in FAULTS])
def test_a_fault_of_a_table_stands_where_it_is(good: str, bad: str, said: str) -> None:
    assert good in PACK
    text = PACK.replace(good, bad, 1)
    found = faults_of(text.replace("¦", ""))
    assert found, "no fault"
    first = found[0]
    if said.startswith("... "):
        assert said[4:].rstrip(".") in f"{first.said}{'; write ' + first.write if first.write else ''}"
    else:
        assert first.sentence().split(", ", 2)[2].startswith(said), first.sentence()
    if "¦" in bad:
        before = text[: text.index("¦")]
        assert (first.place.line, first.place.column) == (
            before.count("\n") + 1,
            len(before) - before.rfind("\n"),
        )


def test_a_table_is_data_in_base_units() -> None:
    table = resolved(PACK).tables["wall"]
    assert (table.title, table.pack, table.source.kind) == ("Wall by colour", "tables", "house")
    assert table.data.keys[0].kind is KeyKind.CHOICE
    assert table.data.columns[2].labels == ("north", "south")
    assert table.data.rows.words == {"blue": 0, "black": 1, "brown": 2}
    assert table.data.rows.numbers[2] == (None, Decimal("1.508"))
    assert resolved(PACK).tables["grade"].data.rows.last[-1] == Decimal("Infinity")


def test_a_name_that_is_taken_is_refused() -> None:
    twice = PACK.replace(
        "  factor:",
        "  wall_thin:\n    keys: {a: whole}\n    columns: {b: number}\n    rows: {1: 2}\n"
        "    source: {kind: house}\n  factor:",
    )
    named = twice.replace("columns: {thin: mm,", "columns: {thin: mm, thin_b: mm,").replace("[1.496,", "[1.496, 1,")
    named = named.replace("[1.500, 1.504", "[1.500, 1, 1.504").replace("[none,", "[none, 1,")
    assert [fault.code for fault in faults_of(named)] == [Code.NAME_TAKEN]


def test_a_pack_above_changes_a_row_and_that_stands_in_the_ledger() -> None:
    house = upper("house", "  tables: {wall: {reason: worn tools, rows: {blue: [1.490, 1.500, north]}}}\n", "tables")
    made = resolved(PACK, house)
    assert made.tables["wall"].data.rows.numbers[0][0] == Decimal("1.490")
    assert made.tables["wall"].pack == "house"
    (entry,) = made.ledger
    assert (entry.code, entry.section, entry.name, entry.part) == (Relaxed.OTHERWISE, "tables", "wall", "rows")
    assert (entry.was, entry.now) == ("blue: 1.496, 1.500, north", "blue: 1.490, 1.500, north")
    assert made.seal != resolved(PACK).seal


@pytest.mark.parametrize("part", ["keys: {colour: whole}", "columns: {thin: in}"])
def test_what_a_table_is_cannot_be_amended(part: str) -> None:
    house = upper("house", f"  tables: {{wall: {{reason: no, {part}}}}}\n", "tables")
    assert [fault.code for fault in faults_of(PACK, house)] == [Code.WRONG_AMENDMENT]


CONDITIONS = [
    "wall_maker(colour[1]) == north",
    "crossed_shell(block_stamp, crank_stamp) == colour[1]",
    "wall_thin(colour[1]) > 1.49 mm",
    "grade_name(nominal) != small",
    "casting == 3970010",
    "casting == ab12",
    "block_stamp == crossed_shell(A, 1)",
]
NO_CONDITIONS = [
    ("wall_maker(colour[1]) == west", Code.UNKNOWN_LABEL),
    ("grade_name(shaft) == small", Code.CONDITION_ON_MEASURED),
    ("grade_six(shaft) > 8 um", Code.CONDITION_ON_MEASURED),
    ("wall_maker(colour[1]) < north", Code.WRONG_KIND),
    ("casting == block_stmp", Code.UNKNOWN_NAME),
    ("wall_maker(colour[1])", Code.WRONG_KIND),
]


@pytest.mark.parametrize("text", CONDITIONS[:-1])
def test_conditions_may_look_up_what_is_stated(text: str) -> None:
    found = read_formula(text, resolved(PACK).scope, kind=Kind.CONDITION)
    assert isinstance(found, Formula), found


@pytest.mark.parametrize(("text", "code"), [*NO_CONDITIONS, (CONDITIONS[-1], Code.UNKNOWN_LABEL)])
def test_and_no_others(text: str, code: Code) -> None:
    found = read_formula(text, resolved(PACK).scope, kind=Kind.CONDITION)
    assert isinstance(found, tuple), found
    assert found[0].code is code


def test_a_pack_is_shown_with_its_tables() -> None:
    made = resolved(PACK)
    shown = ["".join(piece[0] for piece in each) for each in pack_whole(made, made.packs[0])]
    at = shown.index("TABLES")
    assert shown[at + 1 : at + 10] == [
        "  wall: Wall by colour",
        "    wall_thin(colour)   mm",
        "    wall_thick(colour)   mm",
        "    wall_maker(colour)   a label",
        "    3 rows; house",
        "  crossed: Shell by two stamps",
        "    crossed_shell(block, crank)   a label",
        "    crossed_plus(block, crank)   a number",
        "    4 rows; house",
    ]


def test_a_figure_that_was_looked_up_is_told_with_its_keys() -> None:
    scope = resolved(PACK).scope
    formula = read_formula("wall_thick(block_stamp) - wall_thick(black)", scope._replace(names=_coloured(scope)))
    assert isinstance(formula, Formula), formula
    bench = SmallBench(words={("block_stamp", ()): "blue"}, columns=scope.columns)
    said = explain(
        formula, scope._replace(names=_coloured(scope)), bench, {}, lambda value: _mm(value), lambda name: name
    )
    assert said == "wall thick for blue 1.500 - wall thick for black 1.504"


def _coloured(scope: Scope) -> dict[str, Declared]:
    stamp = Declared("block_stamp", Role.FACT, (), NUMBER, Kind.CHOICE, ("blue", "black"))
    return {**scope.names, "block_stamp": stamp}


def _mm(value: Value) -> str:
    assert value.low is not None
    return f"{value.low.value:f}"


def test_a_text_that_is_compared_makes_no_worlds() -> None:
    """Nobody can say what it might be; a choice of two that nobody states is worked out twice."""
    counted = []
    for asked in ("casting == ab12", "block_stamp == A"):
        text = PACK.replace("formula: factor_rise(shaft)", f"applies when: {asked}\n    formula: factor_rise(shaft)")
        shares = WorkCount(resolved(text), {}).shares["steps"]
        counted += [share.amount for share in shares if share.name == "stretched"]
    assert counted[0] > 0
    assert counted[1] == 2 * counted[0]


def long_pack(rows: int) -> str:
    bands = ", ".join(f"over {at} to {at + 1}: {at % 97}" for at in range(rows))
    head = "  long:\n    keys: {at: band mm}\n    columns: {figure: um}\n"
    table = f"{head}    rows: {{{bands}}}\n    source: {{kind: house}}\n"
    return PACK.replace("tables:\n", f"tables:\n{table}", 1)


def test_a_long_table_is_searched_and_not_read_through() -> None:
    """A look at 5,000 rows takes no more comparisons than a search does: as many times as the rows can be halved."""

    class Counted(Decimal):
        compared = 0

        def __lt__(self, other: object) -> bool:
            Counted.compared += 1
            return Decimal(self) < other  # type: ignore[operator]

        def __gt__(self, other: object) -> bool:
            Counted.compared += 1
            return Decimal(self) > other  # type: ignore[operator]

    column = resolved(long_pack(5000)).scope.columns["long_figure"]
    size = Counted("4321.5")
    found = column.table.rows.within(size, size, KeyKind.BAND)
    assert found == range(4321, 4322)
    assert Counted.compared < 40
