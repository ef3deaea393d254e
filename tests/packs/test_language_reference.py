"""The reference of the pack language says what is so: its packs prove, its formulas parse, its tables are made anew.

After a change of the language `python -m tests.packs.test_language_reference` writes anew the tables that are made,
and what is said of the traps.
"""

from __future__ import annotations

import re
from decimal import Decimal
from itertools import takewhile
from pathlib import Path
from typing import NamedTuple

import pytest

from specrules.effects.pack_files import PackFiles
from specrules.formula import FUNCTIONS, REDUCERS, Formula, Kind, Scope
from specrules.formula.formula_reading import read_formula
from specrules.inspection.limits import exact, limits_at
from specrules.output.proof import remark_text
from specrules.pack import Specification
from specrules.pack.pack_json_schema import pack_schema
from specrules.pack.pack_model import ADDED_TO, FIXED
from specrules.pack.pack_reading import Pack, read_pack
from specrules.pack.resolving import resolve
from specrules.pack.wording import worded
from specrules.plugins import plug
from specrules.proving import Proof, prove
from specrules.proving.sizes import Setting, Trial
from specrules.quantity import UNITS, Refusal, find_unit
from specrules.quantity.table import TABLE
from specrules.trade import FUNCTIONS as TRADE
from specrules.vocabulary import Code
from tests.packs.tables_of_reference import (
    code_table,
    function_table,
    key_table,
    keys_of,
    marks,
    unit_table,
    with_tables,
)

REFERENCE = Path(__file__).parents[2] / "packs" / "README.md"
TEXT = REFERENCE.read_text(encoding="utf-8")
WHOLE = "<!-- whole pack -->\n"
GIVEN = "bench"
"""The pack of the reference whose names its formulas use."""


TRAPS = f"traps of {GIVEN}"
INCH, MILLIMETRE = (next(unit for unit in UNITS if unit.symbol == symbol) for symbol in ("in", "mm"))


def examples() -> dict[str, str]:
    """The packs of the reference, by name."""
    found = re.findall(rf"{WHOLE}```yaml\n(.*?)^```$", TEXT, re.DOTALL | re.MULTILINE)
    return {re.findall(r"name: (\w+)", block)[0]: block for block in found}


def parts() -> dict[str, str]:
    """The parts of packs, by their section."""
    return dict(re.findall(r"<!-- part of a pack: (\w+) -->\n```yaml\n(.*?)^```$", TEXT, re.DOTALL | re.MULTILINE))


def made_of(name: str) -> str:
    """A table of the reference as it has to be, by what its mark says."""
    if name == "units":
        return unit_table(TABLE)
    if name == "functions of the language":
        return function_table(FUNCTIONS.values())
    if name == "kinds of fault":
        return code_table(Code)
    if name == "functions of the trade":
        return function_table(TRADE)
    return key_table(keys_of(pack_schema(), *path_of(name)))


def path_of(name: str) -> tuple[str, ...]:
    """The path in the schema that a mark such as `keys of gauge classes source` stands for."""
    words = name.removeprefix("keys").removeprefix(" of ").replace("gauge classes", "gauge_classes").split()
    return tuple(word.replace("_", " ") for word in words)


def written_anew() -> str:
    """The reference with every table that is made as it has to be."""
    return with_tables(TEXT, {name: made_of(name) for name in marks(TEXT)})


class Row(NamedTuple):
    """One row of a table of formulas."""

    formula: str
    each: tuple[str, ...]


def rows_of(mark: str) -> list[list[str]]:
    """The cells of the table that follows a mark, without its head."""
    after = TEXT.split(f"<!-- {mark} -->\n")[1].split("\n")
    table = takewhile(lambda line: line.startswith("|"), after)
    return [[cell.strip() for cell in re.split(r"(?<!\\)\|", line.strip("|"))] for line in table][2:]


def formulas_of(mark: str) -> list[Row]:
    return [Row(formula.strip("`"), tuple(each.split())) for formula, each, _ in rows_of(mark)]


def with_traps(text: str, scope: Scope) -> str:
    """The reference with what is said of each trap, and what is to be written, as the language says it now."""
    before, mark, after = text.partition(f"<!-- {TRAPS} -->\n")
    table, end, rest = after.partition("\n\n")
    head, rows = table.split("\n")[:2], []
    for written, _, _ in rows_of(TRAPS):
        found = read_formula(written.strip("`"), scope)
        assert isinstance(found, tuple), written
        (refusal,) = found
        rows.append(f"| {written} | {refusal.said} | {f'`{refusal.write}`' if refusal.write else ''} |")
    return "".join((before, mark, "\n".join([*head, *rows]), end, rest))


def read_examples() -> tuple[Pack, ...]:
    """The packs of the reference, and those that ship, on which some of them build."""
    read = [read_pack([(f"packs/{name}.pack.yaml", text.encode())]) for name, text in examples().items()]
    assert [fault.sentence() for _, faults in read for fault in faults] == []
    shipped, faults = PackFiles().load(("general", "towing"))
    assert faults == ()
    return (*(pack for pack, _ in read if pack is not None), *shipped)


def scope_of(packs: tuple[Pack, ...]) -> Scope:
    """What formulas with the names of the given pack may speak of."""
    made, faults = resolve(packs, (GIVEN,), plug().functions)
    assert isinstance(made, Specification), faults
    return made.scope


@pytest.fixture(scope="module")
def packs() -> tuple[Pack, ...]:
    return read_examples()


@pytest.fixture(scope="module")
def scope(packs: tuple[Pack, ...]) -> Scope:
    return scope_of(packs)


def needed(packs: tuple[Pack, ...], name: str) -> list[Pack]:
    """A pack and all that it builds on."""
    by_name = {pack.name: pack for pack in packs}
    found: dict[str, Pack] = {}
    waiting = [name]
    while waiting:
        found[waiting[0]] = by_name[waiting[0]]
        waiting = [*waiting[1:], *by_name[waiting[0]].builds_on]
    return list(found.values())


def proof_of(packs: tuple[Pack, ...], name: str) -> Proof:
    return prove(needed(packs, name), name, plug().functions)


def test_every_example_is_a_whole_pack() -> None:
    assert list(examples()) == ["house", "bench", "seals", "rings", "bench_boosted", "house_all", "class"]
    assert TEXT.count("```yaml\n") == len(examples()) + len(parts())


@pytest.mark.parametrize("section", ["tables", "sold"])
def test_a_part_of_a_pack_stands_in_one(section: str) -> None:
    """With a head before it it is a pack without a fault."""
    head = f'specrules: tolerance-pack/1\npack: {{name: part, version: "1", title: {section}, unit: mm}}\n'
    pack, faults = read_pack([("packs/part.pack.yaml", (head + parts()[section]).encode())])
    assert [fault.sentence() for fault in faults] == []
    assert pack is not None
    made, faults = resolve([pack], ["part"], plug().functions)
    assert [fault.sentence() for fault in faults] == []
    assert made is not None
    assert list(pack.sections[section]) == list(getattr(made, section))


@pytest.mark.second_lane
@pytest.mark.parametrize("name", examples())
def test_its_packs_prove_and_show_all_that_they_hold(packs: tuple[Pack, ...], name: str) -> None:
    proof = proof_of(packs, name)
    assert [fault.sentence() for fault in proof.faults] == []
    assert [remark_text(remark) for remark in proof.remarks] == []
    assert proof.counts["expectations"] + proof.counts.get("questions", 0) > 0


@pytest.mark.second_lane
@pytest.mark.parametrize("application", ["street", "towing", "racing"])
def test_its_house_pack_for_any_application_draws_each_of_them_in(application: str) -> None:
    loaded, faults = PackFiles().load((application,))
    assert faults == ()
    leasts: list[Decimal] = []
    for asked in ((application,), (application, "house_all")):
        made, faults = resolve((*loaded, *read_examples()), asked, plug().functions)
        assert made is not None, [fault.sentence() for fault in faults]
        (rule,) = made.rules["crank_end_float"].governing
        least = exact(limits_at(rule, {}, Trial(made, {}, Setting({}, {}, frozenset()))).sets["least"])
        leasts += () if least is None else (least,)
        side = made.rules["rod_side_clearance"].governing[0]
        assert [margin.pack for margin in side.margins] == [*asked[1:]]
    assert leasts[1] - leasts[0] == Decimal("0.0005") * Decimal("25.4")


@pytest.mark.parametrize("row", formulas_of(f"formulas of {GIVEN}"), ids=lambda row: row.formula)
def test_its_formulas_are_formulas(scope: Scope, row: Row) -> None:
    found = read_formula(row.formula, scope, each=row.each)
    assert isinstance(found, Formula), found


@pytest.mark.parametrize("row", formulas_of(f"conditions of {GIVEN}"), ids=lambda row: row.formula)
def test_its_conditions_are_conditions(scope: Scope, row: Row) -> None:
    found = read_formula(row.formula, scope, each=row.each, kind=Kind.CONDITION)
    assert isinstance(found, Formula), found


@pytest.mark.parametrize(("written", "said", "write"), rows_of(TRAPS))
def test_its_traps_are_faults_that_say_what_to_write(scope: Scope, written: str, said: str, write: str) -> None:
    found = read_formula(written.strip("`"), scope)
    assert isinstance(found, tuple), "it is a formula"
    assert [(refusal.said, refusal.write) for refusal in found] == [(said, write.strip("`"))]


@pytest.mark.parametrize(
    ("said", "fits", "does_not", "why"),
    [
        ("at most 500 characters", "1 + " + "1" + " " * 495, "1 + " + "1" + " " * 495 + "1", "is 501 characters long"),
        ("200 words and signs", "1" + "+1" * 99, "1" + "+1" * 100, "has more than 200 words and signs"),
        ("brackets 30 deep", "(" * 29 + "1" + ")" * 29, "(" * 30 + "1" + ")" * 30, "is nested more than 30 deep"),
        ("at most 20 digits", "1" * 20, "1" * 21, "has a number of more than 20 digits"),
        ("up to 9", "2^9", "2^10", "has the exponent 10"),
    ],
)
def test_its_bounds_are_those_of_the_language(scope: Scope, said: str, fits: str, does_not: str, why: str) -> None:
    assert said in " ".join(TEXT.split())
    assert isinstance(read_formula(fits, scope), Formula)
    refused = read_formula(does_not, scope)
    assert isinstance(refused, tuple)
    assert refused[0].said.startswith(why)


@pytest.mark.second_lane
def test_the_tables_that_are_made_are_as_the_program_has_it() -> None:
    assert written_anew() == TEXT, "run python -m tests.packs.test_language_reference"


def test_every_section_has_its_table() -> None:
    schema = pack_schema()
    heading = {"specrules", "group", "applies when", "holds for", "hold points", "amend"}
    held = {key.name for key in keys_of(schema)} - heading
    assert {path_of(mark)[0] for mark in marks(TEXT) if mark.startswith("keys of ")} == held


def test_an_amendment_may_have_every_key_but_those_that_are_named() -> None:
    schema = pack_schema()
    for section in {key.name for key in keys_of(schema, "amend")}:
        whole = {key.name for key in keys_of(schema, section)}
        amended = {key.name for key in keys_of(schema, "amend", section)}
        may_have = {*ADDED_TO, "reason"} if section == "axes" else whole - set(FIXED) | {"reason", "retire"}
        assert amended == may_have, section
    assert {key.name for key in keys_of(schema)} - {key.name for key in keys_of(schema, "amend")} == {
        "specrules",
        "holds for",
        "group",
        "applies when",
        "pack",
        "hold points",
        "margins",
        "amend",
    }


def test_every_function_and_reducer_is_there() -> None:
    functions = TEXT.split("## Functions")[1].split("\n## ")[0]
    named = set(re.findall(r"`(\w+)", functions))
    assert {*plug().functions, *REDUCERS, "min", "max"} <= named


def test_amounts_in_texts_are_told_as_the_reference_says() -> None:
    rows = rows_of("amounts in texts")
    assert len(rows) == 5
    for written, among_inches, among_millimetres in rows:
        text = written.strip("`").replace("\\|", "|")
        assert (worded(text, INCH), worded(text, MILLIMETRE)) == (among_inches, among_millimetres)


def test_every_unit_and_every_name_of_it_is_that_unit() -> None:
    rows = rows_of("made: units")
    assert [symbol.strip("`") for _, symbol, *_ in rows] == [unit.symbol for unit in UNITS]
    for words, symbol, other, names in rows:
        for name in [symbol, *names.split(", ")] if names else [symbol]:
            unit = next(unit for unit in UNITS if unit.symbol == symbol.strip("`"))
            found = find_unit(name.strip("`"), dimension=unit.dimension, beside=INCH)
            assert not isinstance(found, Refusal), name
            assert (found.symbol, found.dimension.words()) == (symbol.strip("`"), words)
            assert {found.in_inches, found.in_millimetres} == {"", other.strip("`")}


def test_what_is_not_there_has_no_table() -> None:
    with pytest.raises(KeyError):
        keys_of(pack_schema(), "rules", "colour")
    with pytest.raises(KeyError):
        with_tables("<!-- made: colours -->\n<!-- end of made -->", {})


def test_it_is_no_pack_itself() -> None:
    names = PackFiles(shipped=REFERENCE.parent).names()
    assert names == ("general", "racing", "street", "teaching", "towing")


def test_every_heading_that_it_links_to_is_there() -> None:
    headings = re.findall(r"^#+ (.+)$", TEXT, re.MULTILINE)
    anchors = {re.sub(r"[^\w -]", "", heading.lower()).replace(" ", "-") for heading in headings}
    assert set(re.findall(r"\]\(#([^)]+)\)", TEXT)) <= anchors


if __name__ == "__main__":
    REFERENCE.write_text(with_traps(written_anew(), scope_of(read_examples())), encoding="utf-8")
