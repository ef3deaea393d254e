"""`inspect --form page --out FOLDER`: which pages there are, their order, what stays, and what is said."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from pathlib import Path
from xml.etree.ElementTree import Element

import pytest

from specrules.cli.entry_point import run as run_command
from specrules.output.marks import INDEX, PAGE
from tests.cli.shell import Ran, call
from tests.cli.small_jobs import CLEAR, FAULTY, HELD, OPEN, lay_out
from tests.lanes import first_alone
from tests.output.page_reading import of_class, safe_page, said

SHEETS = [f"{name}.sheet.yaml" for name in ("clear", "held", "open", "faulty")]
FOLDER = Path("pages")


@pytest.fixture(autouse=True)
def jobs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return lay_out(tmp_path, clear=CLEAR, held=HELD, open=OPEN, faulty=FAULTY)


def pages(*sheets: str, out: str = "pages", more: tuple[str, ...] = ()) -> Ran:
    return call("inspect", *sheets, "--form", "page", "--out", out, *more)


def index(folder: Path = FOLDER) -> Element:
    text = (folder / "index.html").read_text(encoding="utf-8")
    assert text.startswith(INDEX)
    return safe_page(text, links=True)


def linked(folder: Path = FOLDER) -> Iterator[tuple[str, Element]]:
    """The pages that the index links to."""
    for each in index(folder).iter("a"):
        text = (folder / each.get("href", "")).read_text(encoding="utf-8")
        assert text.startswith(PAGE)
        yield each.get("href", ""), safe_page(text, links=True)


def test_each_sheet_has_a_page_and_the_index_has_the_gravest_first() -> None:
    ran = pages(*SHEETS)
    assert ran == (call("inspect", *SHEETS, "--form", "page").status, "", "")
    assert ran.status == 2
    stands = {name: [said(each) for each in of_class(tree, "stands")] for name, tree in linked()}
    assert stands == {
        "faulty.html": ["Not inspected: a file is at fault."],
        "held.html": ["Stop: something holds the job."],
        "open.html": ["Not yet: something is still open."],
        "clear.html": ["Go on: nothing holds the job and nothing is open."],
    }
    assert list(stands) == ["faulty.html", "held.html", "open.html", "clear.html"]
    assert sorted(os.listdir("pages")) == sorted([*stands, "index.html"])


def test_one_sheet_has_a_page_and_an_index_too() -> None:
    assert pages("held.sheet.yaml", out="new/pages/") == (1, "", "")
    assert [name for name, _ in linked(Path("new/pages"))] == ["held.html"]


@pytest.mark.second_lane
def test_sheets_of_one_name_have_a_page_each() -> None:
    for folder, text in (("one", HELD), ("two", CLEAR)):
        Path(folder).mkdir()
        Path(folder, "a.sheet.yaml").write_text(text, encoding="utf-8")
        Path(folder, "packs").symlink_to("../packs")
    assert pages("two/a.sheet.yaml", "one/a.sheet.yaml").status == 1
    found = [said(next(of_class(tree, "stands"))) for _, tree in linked()]
    assert [each.split(":")[0] for each in found] == ["Stop", "Go on"]


@pytest.mark.parametrize(
    ("out", "there", "folder"),
    first_alone(
        ("a.html", "", False),
        ("a", "", True),
        ("a.b/", "", True),
        ("a.b", "folder", True),
        ("a", "file", False),
    ),
)
def test_which_names_are_those_of_folders(out: str, there: str, folder: bool) -> None:
    if there == "folder":
        Path(out).mkdir()
    elif there:
        Path(out).write_text("", encoding="utf-8")
    assert pages("clear.sheet.yaml", "held.sheet.yaml", out=out).status == 1
    assert Path(out).is_dir() is folder
    if not folder:
        safe_page(Path(out).read_text(encoding="utf-8"), of=2)


@pytest.mark.parametrize("form", first_alone("json", "console", "spreadsheet", "jason"))
def test_other_forms_make_one_file_and_no_folder(form: str) -> None:
    FOLDER.mkdir()
    ran = call("inspect", "clear.sheet.yaml", "--form", form, "--out", "pages")
    assert (ran.status, ran.out) == (2, "")
    assert f"--out: pages is no name of a file, and the form {form} makes one" in ran.err
    assert os.listdir("pages") == []


def test_no_name_at_all_is_no_folder() -> None:
    before = os.listdir(".")
    assert "--out: nothing is no name of a file" in pages("clear.sheet.yaml", out="").err
    assert os.listdir(".") == before


def test_yesterdays_pages_are_replaced_and_one_that_is_asked_for_no_more_is_named_and_not_linked() -> None:
    pages(*SHEETS)
    Path("held.sheet.yaml").write_text(CLEAR, encoding="utf-8")
    ran = pages("clear.sheet.yaml", "held.sheet.yaml")
    stays = "is of an earlier run: it stays, and the index does not link to it."
    assert ran == (0, "", f"pages/faulty.html {stays}\npages/open.html {stays}\n")
    assert [name for name, _ in linked()] == ["clear.html", "held.html"]
    assert "Go on" in Path("pages/held.html").read_text(encoding="utf-8")
    assert "faulty" not in said(index())


@pytest.mark.second_lane
def test_what_is_no_page_beside_them_is_no_matter() -> None:
    FOLDER.mkdir()
    Path("pages/notes.html").write_text("of mine", encoding="utf-8")
    Path("pages/folder.html").mkdir()
    assert pages("clear.sheet.yaml") == (0, "", "")


def files() -> dict[str, bytes]:
    return {path.as_posix(): path.read_bytes() for path in Path().rglob("*") if path.is_file()}


@pytest.mark.parametrize("name", first_alone("clear.html", "index.html"))
def test_what_is_not_ours_ends_it_before_anything_is_written(name: str) -> None:
    FOLDER.mkdir()
    Path("pages", name).write_text("of mine", encoding="utf-8")
    before = files()
    ran = pages(*SHEETS)
    said_ = "is there already and is no report of this program, so it is left alone; give another name, or --replace"
    assert (ran.status, ran.err, files()) == (2, f"Error: pages/{name} {said_}\n", before)
    assert pages(*SHEETS, more=("--replace",)).err == ""
    assert len(list(linked())) == 4


def test_what_is_read_is_never_replaced() -> None:
    FOLDER.mkdir()
    os.link("clear.sheet.yaml", "pages/held.html")
    before = files()
    ran = pages(*SHEETS, more=("--replace",))
    assert (ran.status, files()) == (2, before)
    assert "pages/held.html is the file that this run reads as clear.sheet.yaml" in ran.err


@pytest.mark.parametrize("raised", first_alone(RuntimeError, KeyboardInterrupt))
def test_a_run_that_ends_early_leaves_no_index_of_yesterday(
    raised: type[BaseException], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    pages("held.sheet.yaml")
    yesterday = Path("pages/held.html").read_bytes()

    def failing(*_: object) -> None:
        raise raised

    monkeypatch.setattr("specrules.output.page_folder.article", failing)
    monkeypatch.delenv("SPECRULES_DEBUG", raising=False)
    asked = ["inspect", "held.sheet.yaml", "--form", "page", "--out", "pages"]
    assert run_command(asked) == (130 if raised is KeyboardInterrupt else 2)
    assert capsys.readouterr().err.startswith("pages/index.html says that this run did not come to its end.\n")
    assert "Not all judged of 1 sheet." in said(index())
    assert list(linked()) == []
    assert Path("pages/held.html").read_bytes() == yesterday


@pytest.mark.second_lane
@pytest.mark.skipif(sys.platform == "win32" or not hasattr(os, "geteuid"), reason="links of POSIX")
def test_a_page_that_cannot_be_written_ends_it_and_the_index_says_so() -> None:
    Path("pages/clear.html").mkdir(parents=True)
    ran = pages(*SHEETS)
    assert ran.status == 2
    assert "pages/clear.html cannot be written: is a directory" in ran.err
    assert "Not all judged of 4 sheets." in said(index())


def test_the_form_is_asked_for_before_anything_is_written() -> None:
    ran = pages("clear.sheet.yaml", more=("--full",))
    assert (ran.status, FOLDER.exists()) == (2, False)
    assert "--full: the form page has no more to show" in ran.err
