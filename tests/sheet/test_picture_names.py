"""Pictures that a sheet names: which names there may be, where they stand, and what each picture shows."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.document import Place, Text
from specrules.sheet import Sheet
from specrules.sheet.picture_names import LONGEST, MOST, names_of_pictures
from specrules.sheet.settling import settle
from specrules.sheet.sheet_parts import Depicted
from specrules.sheet.sheet_reading import read_sheet
from specrules.vocabulary import Code
from tests.sheet.small_shop import FILE, shop

HEAD = "specrules: build-sheet/1\npacks: [small]\nunit: in\nfacts: {mains: 3, cylinders: 2, throws: [[1, 2]]}\n"


def settled(body: str) -> tuple[Sheet | None, list[tuple[Code, int, int, str]]]:
    raw, faults = read_sheet((HEAD + body).encode(), FILE)
    assert raw is not None
    sheet, wrong = settle(raw, shop())
    return sheet, [(each.code, each.place.line, each.place.column, each.write) for each in (*faults, *wrong)]


def shown(body: str) -> dict[str, tuple[Depicted, ...]]:
    sheet, faults = settled(body)
    assert sheet is not None, faults
    return {each.file: each.shows for each in sheet.pictures}


def test_one_reading_a_set_and_a_sign_off_name_pictures_one_or_several() -> None:
    found = shown(
        "readings:\n"
        "  main_journal: {pictures: [a.jpg, both.png], 1: {front: {a: 2.5, b: 2.5}},\n"
        "    3: {rear: {b: {value: 2.5, pictures: sub folder/rear.webp}}}}\n"
        "  crank_end_float: {value: 0.005, pictures: both.png, was: {value: 0.004, pictures: before.jpg}}\n"
        "signed:\n"
        "  rotates_freely: {by: ab, on: 2026-10-01, pictures: both.png}\n"
        "  rings_squared: [{by: ab, at: {cylinder: 2}, pictures: [rings.jpg]}]\n"
    )
    journals = Depicted("readings", "main_journal", {"main": ("1", "3")})
    assert found == {
        "a.jpg": (journals,),
        "both.png": (journals, Depicted("readings", "crank_end_float", {}), Depicted("signed", "rotates_freely", {})),
        "sub folder/rear.webp": (
            Depicted("readings", "main_journal", {"main": ("3",), "plane": ("rear",), "clock": ("b",)}),
        ),
        "before.jpg": (Depicted("readings", "crank_end_float", {}, replaced=True),),
        "rings.jpg": (Depicted("signed", "rings_squared", {"cylinder": ("2",)}),),
    }


def test_what_a_set_shows_does_not_show_what_stood_there_before() -> None:
    found = shown("readings: {main_journal: {pictures: a.jpg, 2: {front: {a: {value: 2.5, was: 2.4}}}}}\n")
    labels = {"main": ("2",), "plane": ("front",), "clock": ("a",)}
    assert found == {"a.jpg": (Depicted("readings", "main_journal", labels),)}


@pytest.mark.parametrize("name", ["''", "", "[]", "['']"])
def test_a_place_for_a_picture_may_stay_empty(name: str) -> None:
    assert shown(f"readings: {{crank_end_float: {{value: 0.005, pictures: {name}}}}}\n") == {}


@pytest.mark.parametrize(
    ("name", "code", "write"),
    [
        ("../a.jpg", Code.NOT_A_NAME, "a name such as photos/main-3.jpg"),
        ("photos/../../a.jpg", Code.NOT_A_NAME, "a name such as photos/main-3.jpg"),
        ("/etc/passwd", Code.NOT_A_NAME, "a name such as photos/main-3.jpg"),
        ("C:/a.jpg", Code.NOT_A_NAME, "a name such as photos/main-3.jpg"),
        ("https://somewhere/a.jpg", Code.NOT_A_NAME, "a name such as photos/main-3.jpg"),
        ("data:image/png;base64,AAAA", Code.NOT_A_NAME, "a name such as photos/main-3.jpg"),
        (r"photos\a.jpg", Code.NOT_A_NAME, "photos/a.jpg"),
        (r"..\a.jpg", Code.NOT_A_NAME, "a name such as photos/main-3.jpg"),
        ("./a.jpg", Code.NOT_A_NAME, "a.jpg"),
        ("photos//a.jpg", Code.NOT_A_NAME, "photos/a.jpg"),
        ("photos/", Code.NOT_A_NAME, "photos"),
        (".", Code.NOT_A_NAME, "a name such as photos/main-3.jpg"),
        ("a\u202egpj.exe", Code.UNWANTED_CHARACTER, "a name such as photos/main-3.jpg"),
        ("a" * (LONGEST + 1), Code.TOO_LONG, ""),
    ],
)
def test_a_name_that_leads_anywhere_else_is_at_fault_whatever_lies_there(name: str, code: Code, write: str) -> None:
    body = f"readings:\n  crank_end_float: {{value: 0.005, pictures: [ok.jpg, '{name}']}}\n"
    assert settled(body) == (None, [(code, 6, 54, write)])


def test_a_picture_is_named_once_in_a_list() -> None:
    sheet, faults = settled("signed:\n  rotates_freely: {by: ab, pictures: [a.jpg, b.jpg, a.jpg]}\n")
    assert (sheet, faults) == (None, [(Code.DEFINED_TWICE, 6, 53, "")])


@pytest.mark.parametrize("said", ["{a: b.jpg}", "[[a.jpg]]"])
def test_a_picture_is_named_in_one_text(said: str) -> None:
    _, faults = settled(f"readings: {{crank_end_float: {{value: 0.005, pictures: {said}}}}}\n")
    assert [code for code, *_ in faults] == [Code.WRONG_SHAPE]


def test_a_fact_has_no_picture() -> None:
    _, faults = settled("readings: {}\n".replace("readings", "parts") + "limits: {}\n")
    assert faults == []
    raw, _ = read_sheet((HEAD.replace("facts: {", "facts: {stroke: {value: 3, pictures: a.jpg}, ")).encode(), FILE)
    assert raw is not None
    assert [each.code for each in settle(raw, shop())[1]] == [Code.MISPLACED]


def test_so_many_pictures_and_no_more() -> None:
    names = [f"{number}.jpg" for number in range(MOST)]
    body = f"readings: {{crank_end_float: {{value: 0.005, pictures: [{', '.join(names)}]}}}}\n"
    assert len(shown(body)) == MOST
    _, faults = settled(body.replace("]", ", more.jpg]"))
    assert [code for code, *_ in faults] == [Code.TOO_MANY]


@given(st.text(max_size=20))
def test_a_name_that_is_taken_leads_nowhere_but_down(name: str) -> None:
    for taken in names_of_pictures(Text(name, Place(FILE, 1, 1)), "pictures", []):
        assert not {"", ".", ".."} & set(taken.split("/"))
        assert not {"\\", ":", "\0"} & set(taken)
