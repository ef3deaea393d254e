"""Pages of a folder: their names, what the index says of each sheet, and that nothing in a record is markup there."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.document import Fault, Place
from specrules.inspection import Examination, Options
from specrules.output.page_folder import (
    COMES_TO,
    HEADS,
    SheetLine,
    file_names,
    index_line,
    index_page,
    page_in_folder,
    unfinished_index,
)
from specrules.output.report_record import record_for, record_of_faults
from specrules.record import Record
from specrules.vocabulary import Code
from tests.cli.small_jobs import CLEAR
from tests.inspecting import settled
from tests.lanes import first_alone
from tests.output.hostile_records import HOSTILE, dressed, faulty
from tests.output.page_reading import of_class, safe_page, said
from tests.output.small_screen import PACKS, build
from tests.output.test_records_page import READ, record, record_of_sheet

SIGNED = "signed: {clean: {by: ab, on: 2026-10-01}, turned: {by: ab, on: 2026-10-01, answer: no}}\n"


@pytest.mark.parametrize(
    ("sheets", "names"),
    [
        (("a.sheet.yaml",), ["a.html"]),
        (("jobs/V8 for Mr. O'Hara.sheet.yaml", "b.yml"), ["v8-for-mr-o-hara.html", "b.html"]),
        (("Index.sheet.yaml", "CON.sheet.yaml", "-"), ["sheet-index.html", "sheet-con.html", "sheet.html"]),
        (("..", '"><script>.yaml'), ["sheet.html", "script.html"]),
        (("Größe.sheet.yaml", "c:\\jobs\\d.sheet.yaml"), ["groe.html", "d.html"]),
        (("a.sheet.yaml", "a.sheet.yaml"), ["a.html", "a-2.html"]),
    ],
)
def test_a_page_is_called_as_its_sheet(sheets: tuple[str, ...], names: list[str]) -> None:
    assert file_names(sheets) == names


def test_sheets_of_one_name_keep_theirs_in_whatever_order() -> None:
    asked = ["one/a.sheet.yaml", "two/A.sheet.yaml", "two/b.sheet.yaml"]
    names = dict(zip(asked, file_names(asked), strict=True))
    assert dict(zip(reversed(asked), file_names(asked[::-1]), strict=True)) == names
    assert names["two/b.sheet.yaml"] == "b.html"
    assert all(names[each].startswith("a-") for each in asked[:2])


PATHS = st.text(st.sampled_from("abAB.-/ \\é\u202e\x00\ud800'\"") | st.characters(), max_size=90)


@given(st.lists(PATHS, max_size=12))
def test_names_are_safe_and_no_two_are_alike(sheets: list[str]) -> None:
    names = file_names(sheets)
    assert len({*names, "index.html"}) == len(sheets) + 1
    for name in names:
        stem = name.removesuffix(".html")
        assert set(stem) <= {*"abcdefghijklmnopqrstuvwxyz0123456789-"}
        assert 0 < len(stem) < 90
        assert stem[0] != "-"


def lines(*records: Record) -> list[dict[str, str]]:
    """The rows of an index of these, each cell by its head."""
    tree = safe_page(index_page([(f"p{n}.html", index_line(each)) for n, each in enumerate(records)]), links=True)
    rows = [[said(cell) for cell in row] for row in tree.iter("tr")]
    assert tuple(rows[0]) == HEADS
    return [dict(zip(HEADS, row, strict=True)) for row in rows[1:]]


FAULT = Fault(Place("b.sheet.yaml", 3, 1), "tilt", Code.MISWRITTEN_NUMBER, "has a comma", "0.5", "sheet")


@pytest.mark.second_lane
def test_a_line_says_whose_engine_how_it_stands_and_by_what() -> None:
    head = "title: A pair, job: J-1, serial: S-9, customer: The ferry, date: 2026-10-02"
    held = record_of_sheet(build(READ).replace("title: A pair, job: J-1", head))
    refused = record_of_sheet(build("readings: {tilt: 0.0060}\n" + SIGNED))
    opened = record("readings: {tilt: 0.0020}\n")
    wrong = record_of_faults((FAULT,), "9.9", "b.sheet.yaml")
    by_what = [
        "Running fit tight at place 2.",
        "Tilt of the plate high. Turned, answered no.",
        "10 to measure. 2 to sign.",
        "b.sheet.yaml, line 3, tilt: has a comma; write 0.5.",
    ]
    rows = lines(held, refused, opened, wrong)
    assert [row["Comes to"] for row in rows] == ["Stop", "Stop", "Not yet", "At fault"]
    assert [row["By what"] for row in rows] == by_what
    assert list(rows[0].values())[:5] == ["A pair engine.sheet.yaml", "The ferry", "S-9", "J-1", "2026-10-02"]
    assert rows[3]["Build"] == "b.sheet.yaml"
    counts = {str(verdict): number for verdict, number in held.counts.items() if number}
    assert rows[0]["Findings"] == ", ".join(f"{number} {verdict}" for verdict, number in counts.items())


def test_a_sheet_of_which_too_little_is_judged_waits_for_that() -> None:
    read, spec, _ = settled(CLEAR, PACKS)
    assert read is not None
    assert spec is not None
    (row,) = lines(record_for("a", Examination(read, spec, Options(at_least=40)), (), "9.9"))
    assert row["Comes to"] == "Not yet"
    assert row["By what"] == "6 checks were judged, and at least 40 are asked for."


def test_what_comes_after_the_first_three_is_counted() -> None:
    (row,) = lines(record_of_faults((FAULT,) * 5, "9.9", "b.sheet.yaml"))
    assert row["By what"].endswith("write 0.5. 2 more")


def test_an_index_counts_its_sheets_and_says_its_order() -> None:
    none = SheetLine("A", "", "", "", "", "", "", "clear", ())
    tree = safe_page(index_page([("a.html", none), ("b.html", none._replace(verdict="held"))]), links=True)
    assert "2 sheets: 1 stop, 1 go on. The gravest stands first" in said(tree)
    assert [each.get("href") for each in tree.iter("a")] == ["a.html", "b.html"]
    assert [each.get("role") for each in tree.iter("th")] == ["columnheader"] * len(HEADS) + ["rowheader"] * 2
    assert "run it again" in said(safe_page(unfinished_index(2)))
    assert {*COMES_TO} == {"not inspected", "held", "open", "clear"}


def test_a_page_of_a_folder_has_the_title_of_its_engine_and_a_way_back() -> None:
    tree = safe_page(page_in_folder(record()), links=True)
    assert said(next(tree.iter("title"))) == said(next(tree.iter("h1"))) == "A pair"
    assert [(each.get("href"), said(each)) for each in tree.iter("a")] == [("index.html", "All sheets")]


@pytest.mark.parametrize("kind", first_alone(*HOSTILE))
def test_hostile_text_is_text(kind: str) -> None:
    for made in (dressed(HOSTILE[kind]), faulty(HOSTILE[kind])):
        for text in (index_page([("a.html", index_line(made))]), page_in_folder(made)):
            tree = safe_page(text, links=True)
            assert not {"\x1b", "\x00", "\u202e", "\ud800"} & {*said(tree)}
            text.encode("utf-8")
        assert len(list(of_class(tree, "stands"))) == 1
