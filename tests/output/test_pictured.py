"""The pictures of a sheet in its page, its record and its tables: each says what it shows, and none is in a record."""

from __future__ import annotations

import csv
import io
import json
import sys
from hashlib import sha256
from pathlib import Path
from xml.etree.ElementTree import Element

import pytest

from specrules.output.csv_tables import readings_table
from specrules.output.pdf import pdf_of
from specrules.output.pictured import pictures_of
from specrules.output.report_record import record_for
from specrules.output.table_columns import READING_COLUMNS
from specrules.plugins import Embedded
from specrules.record import PictureRecord
from tests.cli.browser import in_browser, measured
from tests.cli.shell import Ran, call
from tests.cli.small_jobs import CLEAR, lay_out
from tests.output.hostile_records import BODY, HOSTILE
from tests.output.page_reading import of_class, safe_page, said
from tests.output.small_screen import looked
from tests.sheet.test_picture_formats import png

RECORD = record_for("jobs/a.sheet.yaml", looked(BODY), (), "1.0.0")
GREY, DARK = png(5, 3), png(4, 4)
SHEET = (
    CLEAR.replace(
        "1: [1.5000, 1.5000], 2: [1.5000, 1.5000]",
        "1: [1.5000, {value: 1.5000, pictures: photos/front.png}], 2: [1.5000, 1.5000]",
    )
    .replace("tilt: 0.0020", "tilt: {value: 0.0020, pictures: [photos/tilt.png, gone.jpg], was: 0.0060}")
    .replace("clean: {by: ab, on: 2026-10-01}", "clean: {by: ab, on: 2026-10-01, pictures: photos/tilt.png}")
)
READINGS = {"photos/front.png": GREY, "photos/tilt.png": DARK}


@pytest.fixture(autouse=True)
def jobs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    lay_out(tmp_path, clear=SHEET)
    (tmp_path / "photos").mkdir()
    for name, data in READINGS.items():
        (tmp_path / name).write_bytes(data)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def inspected(form: str) -> Ran:
    return call("inspect", "clear.sheet.yaml", "--form", form, "--no-plugins")


def figures(page: str) -> list[Element]:
    return list(of_class(safe_page(page), "picture"))


def test_each_picture_stands_in_the_page_with_what_it_shows() -> None:
    pytest.importorskip("PIL")
    shown = figures(inspected("page").out)
    assert [said(each) for each in shown] == [
        "Shaft, place 1 rear. photos/front.png",
        "Tilt. Is every part clean? Signed. photos/tilt.png",
        "Not shown: no picture could be taken there. Tilt. gone.jpg",
    ]
    images = [image for each in shown for image in each.iter("img")]
    assert [each.get("alt") for each in images] == ["Shaft, place 1 rear.", "Tilt. Is every part clean? Signed."]
    assert [(each.get("width"), each.get("height")) for each in images] == [("5", "3"), ("4", "4")]


def test_a_page_in_a_folder_has_them_too(jobs: Path) -> None:
    pytest.importorskip("PIL")
    call("inspect", "clear.sheet.yaml", "--form", "page", "--out", "pages", "--no-plugins")
    made = (jobs / "pages" / "clear.html").read_text(encoding="utf-8")
    assert len(list(safe_page(made, links=True).iter("img"))) == 2


def test_without_what_scales_them_the_page_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "PIL", None)
    ran = inspected("page")
    assert not list(safe_page(ran.out).iter("img"))
    assert "pip install 'specrules[pictures]'" in said(figures(ran.out)[0])


def test_the_record_has_what_they_are_and_nothing_of_them() -> None:
    made = json.loads(inspected("json").out)
    front, tilt, gone = made["pictures"]
    assert front == {
        "file": "photos/front.png",
        "line": 8,
        "shows": [
            {"section": "readings", "name": "shaft", "at": {"place": ["1"], "plane": ["rear"]}, "replaced": False}
        ],
        "sha256": sha256(GREY).hexdigest(),
        "size": len(GREY),
        "media": "image/png",
        "wide": 5,
        "high": 3,
    }
    assert [each["section"] for each in tilt["shows"]] == ["readings", "signed"]
    assert gone["sha256"] is None
    assert "base64" not in json.dumps(made)


def test_one_that_is_missing_changes_no_verdict_and_is_told(jobs: Path) -> None:
    ran = inspected("console")
    assert ran.status == 0
    assert ran.err == 'clear.sheet.yaml, line 10, pictures: "gone.jpg" is not there.\n'
    made = json.loads(inspected("json").out)
    assert [(each["kind"], each["code"], each["line"], each["column"]) for each in made["faults"]] == [
        ("picture", "unreadable", 10, 53)
    ]
    (jobs / "gone.jpg").write_bytes(GREY)
    whole = inspected("console")
    assert (whole.status, whole.out, whole.err) == (ran.status, ran.out, "")
    for form in ("junit", "sarif"):
        (jobs / "gone.jpg").write_bytes(GREY)
        there = inspected(form)
        (jobs / "gone.jpg").unlink()
        missing = inspected(form)
        assert missing.status == there.status
        assert "gone.jpg" in missing.out
        assert missing.out.count("<error") == there.out.count("<error")
        assert missing.out.count('"kind": "fail"') == there.out.count('"kind": "fail"')


def test_a_row_of_readings_has_the_pictures_of_that_reading() -> None:
    rows = list(csv.DictReader(io.StringIO(inspected("readings_csv").out.removeprefix("\ufeff"))))
    pictures = {(row["name"], row["station"], row["position"], row["replaced"]): row["pictures"] for row in rows}
    assert {place: said for place, said in pictures.items() if said} == {
        ("shaft", "place 1", "rear", "false"): f"photos/front.png SHA-256 {sha256(GREY).hexdigest()}",
        ("tilt", "", "", "false"): (f"photos/tilt.png SHA-256 {sha256(DARK).hexdigest()}; gone.jpg SHA-256 unknown"),
    }
    assert ("tilt", "", "", "true") in pictures


def test_record_check_tells_of_each_that_is_no_more_what_was_judged(jobs: Path) -> None:
    call("inspect", "clear.sheet.yaml", "--form", "json", "--out", "kept.json")

    def check() -> tuple[int, str]:
        ran = call("record", "check", "kept.json")
        return ran.status, " ".join(ran.out.split())

    status, told = check()
    assert status == 0
    assert "picture photos/tilt.png the same" in told
    assert "picture gone.jpg not there then, nor now" in told
    (jobs / "photos" / "tilt.png").write_bytes(GREY)
    (jobs / "photos" / "front.png").unlink()
    (jobs / "gone.jpg").write_bytes(GREY)
    status, told = check()
    assert status == 1
    assert (
        f"picture photos/tilt.png changed: {sha256(DARK).hexdigest()[:12]}, now {sha256(GREY).hexdigest()[:12]}" in told
    )
    assert "picture photos/front.png gone" in told
    assert "picture gone.jpg not there then" in told
    assert told.endswith(
        "Not as it was; not what was judged: the picture photos/front.png, the picture photos/tilt.png and the picture "
        "gone.jpg; judging again gives the same all the same. Put back what was judged, or inspect it anew and keep "
        "that record beside this one."
    )


def test_no_picture_is_written_over(jobs: Path) -> None:
    ran = call("inspect", "clear.sheet.yaml", "--form", "page", "--out", "photos/tilt.png", "--replace")
    assert ran.status == 2
    assert "is the file that this run reads" in ran.err
    assert (jobs / "photos" / "tilt.png").read_bytes() == DARK


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
def test_hostile_texts_stay_texts(text: str) -> None:
    shows = [
        {"section": section, "name": text, "at": {text: [text]}, "replaced": False}
        for section in ("readings", "signed")
    ]
    parts = {"file": text, "line": 1, "shows": shows, "sha256": None, "size": None}
    picture = PictureRecord.of({**parts, "media": None, "wide": None, "high": None})
    record = RECORD.model_copy(update={"pictures": (picture,)})
    embedded = {picture.file: Embedded("data:image/png;base64,AAAA", 1, 1)}
    (made,) = pictures_of(record, embedded)
    assert [each.tag for each in made.iter()] == ["figure", "img", "figcaption", "span"]
    assert readings_table(record).count("\r\n") >= 1
    assert all(len(row) == len(READING_COLUMNS) for row in csv.reader(io.StringIO(readings_table(record), newline="")))


@pytest.mark.second_lane
def test_a_pdf_has_them_and_loads_nothing(jobs: Path) -> None:
    pytest.importorskip("weasyprint")
    ran = call("inspect", "clear.sheet.yaml", "--form", "page", "--out", "clear.pdf", "--no-plugins")
    assert ran.status == 0, ran.err
    assert (jobs / "clear.pdf").read_bytes().count(b"/Subtype /Image") == 2
    page = f'<img src="{(jobs / "photos" / "tilt.png").as_uri()}" alt="a"><img src="http://localhost:9/a.png" alt="b">'
    assert b"/Subtype /Image" not in pdf_of(page)


@in_browser
@pytest.mark.second_lane
def test_a_browser_shows_them(jobs: Path) -> None:
    pytest.importorskip("PIL")
    script = "[...document.images].map(i => [i.complete, i.naturalWidth, i.naturalHeight])"
    found = measured(jobs, inspected("page").out, script, 800)
    assert "[[true,5,3],[true,4,4]]" in found.replace("&quot;", '"')
