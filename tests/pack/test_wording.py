"""Texts of packs in which quantities stand: what they say in each system of units, and what cannot be told."""

import pytest

from specrules.pack import told_in
from specrules.pack.in_units import step_in
from specrules.pack.wording import worded
from specrules.quantity import Unit, find_unit
from tests.pack.small_packs import BASE, faults_of, resolved


def unit_of(symbol: str) -> Unit:
    found = find_unit(symbol)
    assert isinstance(found, Unit)
    return found


INCH, MM = unit_of("in"), unit_of("mm")


@pytest.mark.parametrize(
    ("text", "among_inches", "among_millimetres"),
    [
        ("Measure cold.", "Measure cold.", "Measure cold."),
        ("Leave {0.0015 in}.", "Leave 0.0015 in.", "Leave 0.038 mm."),
        ("{0.010 in | 0.25 mm}, {0.020 in | 0.5 mm}", "0.010 in, 0.020 in", "0.25 mm, 0.5 mm"),
        ("a brace {{ and }} {{0.001 in}}", "a brace { and } {0.001 in}", "a brace { and } {0.001 in}"),
        ("the shim of {lash_shims}", "the shim of {lash_shims}", "the shim of {lash_shims}"),
    ],
)
def test_a_text_is_told_in_the_units_of_its_reader(text: str, among_inches: str, among_millimetres: str) -> None:
    """A name that is not known yet stays for whoever knows it."""
    assert (worded(text, INCH), worded(text, MM)) == (among_inches, among_millimetres)
    assert worded("the shim of {lash_shims}", MM, {"lash_shims": "2.35 mm"}) == "the shim of 2.35 mm"


FAULTS = [
    (
        "caution: Measure cold.",
        'caution: "Within {0.0005} of it."',
        '"{0.0005}" in its text, which is no quantity, ...',
    ),
    (
        "caution: Measure cold.",
        'caution: "Within {moves}."',
        'has "{moves}" in its text, which is nothing that this text can tell; write {0.0015 in}.',
    ),
    ("caution: Measure cold.", 'caution: "Within {0.001 in."', "which is a brace that nothing closes; ..."),
    ("caution: Measure cold.", 'caution: "{0.001 in | 0.1 mm}"', "; write {0.001 in | 0.025 mm}."),
    ("caution: Measure cold.", 'caution: "Within {{0.001 in} of it."', "which is a brace that nothing opens; ..."),
    ("do: the larger hole", 'do: "larger by {moved}"', "is nothing that this text can tell; write {moves}."),
    ("title: Shaft size", 'title: "Shaft of {3 foo}"', 'shaft title: has "{3 foo}" in its text, ... write {3 ft}.'),
    ("question: Is it clean?", 'question: "Within {x}?"', "clean question: ..."),
]


@pytest.mark.parametrize(("old", "new", "said"), FAULTS, ids=[row[1] for row in FAULTS])
def test_what_cannot_be_told_is_a_fault_of_the_pack(old: str, new: str, said: str) -> None:
    assert old in BASE
    (fault,) = faults_of(BASE.replace(old, new))
    for part in said.split("..."):
        assert part.strip() in fault.sentence()
    assert fault.place.line == BASE[: BASE.index(old)].count("\n") + 1


MOVES = [
    ("0.0005 in", "larger by 0.0005 in", "0.0005 in", "larger by 0.01 mm", "0.01 mm"),
    ("0.0005 in | 0.012 mm", "larger by 0.0005 in", "0.0005 in", "larger by 0.012 mm", "0.012 mm"),
    ("-0.002 in", "larger by 0.002 in", "-0.002 in", "larger by 0.05 mm", "-0.05 mm"),
]


@pytest.mark.parametrize("row", MOVES, ids=[row[0] for row in MOVES])
def test_a_step_moves_by_what_its_text_says(row: tuple[str, ...]) -> None:
    moves, *wanted = row
    spec = resolved(BASE.replace("do: the larger hole, moves: 0.0005 in", f'do: "larger by {{moves}}", moves: {moves}'))
    (step,) = spec.rules["fit"].governing[0].remedy["tight"]
    told = [step_in(step, lengths_in) for lengths_in in (INCH, MM)]
    assert [text for each in told for text in (each.do, each.moves.text if each.moves else "")] == wanted


def test_what_a_step_moves_may_be_worked_out_for_each_system() -> None:
    both = "0.001 in * (1 + grip) | 0.02 mm * (1 + grip)"
    spec = resolved(BASE.replace("moves: 0.0005 in", f"moves: {both}"))
    (step,) = spec.rules["fit"].governing[0].remedy["tight"]
    told = [step_in(step, each).moves for each in (INCH, MM)]
    assert [each.text for each in told if each is not None] == both.split(" | ")


@pytest.mark.parametrize(
    ("moves", "said"),
    [
        ("0.0005 in | 0.1 mm", "gives two amounts that are more than a quarter apart; write 0.0005 in | 0.01 mm."),
        ("0.01 mm | 0.0005 in", "and not first inches, then metric; write 0.0005 in | 0.01 mm."),
        ("0.0005 in | 2 g", "is mass, and length is needed"),
    ],
)
def test_two_amounts_that_are_not_one_are_a_fault(moves: str, said: str) -> None:
    (fault,) = faults_of(BASE.replace("moves: 0.0005 in", f"moves: {moves}"))
    assert said in fault.sentence()


def test_a_limit_is_given_once() -> None:
    """No verdict hangs on the units of a sheet."""
    (fault,) = faults_of(BASE.replace("aim: 0.0010 * size", "aim: 0.0010 in | 0.025 mm"))
    assert fault.sentence().endswith(
        'fit limits base aim: "0.0010 in | 0.025 mm" is given for both systems of units, and is one figure here; write'
        " 0.0010 in."
    )


def test_a_specification_is_told_in_the_units_of_a_sheet_and_again_in_those_of_another() -> None:
    text = BASE.replace("caution: Measure cold.", 'caution: "Within {0.001 in} of it."')
    made = resolved(text)
    for lengths_in, unit, caution in ((MM, "mm", "Within 0.025 mm of it."), (INCH, "in", "Within 0.001 in of it.")):
        told = told_in(made, lengths_in)
        rule = told.rules["fit"].governing[0]
        assert (rule.unit.symbol, told.measurands["hole"].unit.symbol, rule.caution) == (unit, unit, caution)
        assert told_in(told, lengths_in) is told
        assert told.seal == made.seal
        made = told
    assert told_in(made, None).rules["fit"].governing[0].unit.symbol == "in"
