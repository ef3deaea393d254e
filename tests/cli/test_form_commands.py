"""`specrules sheet blank` and `sheet limits`: what they write, refuse and say; print cuts nothing off any page."""

from __future__ import annotations

import html
import json
import re
import shutil
import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import pytest

from specrules.output.blank_form import LINE
from specrules.output.changes_page import page_of_changes
from specrules.output.class_page import page_of_marks
from specrules.output.page_folder import index_line, index_page, page_in_folder
from specrules.record.finding_record import LimitsRecord
from specrules.record.record_comparison import compare
from specrules.teaching import Marked, mark
from specrules.vocabulary import Verdict
from tests.cli.browser import in_browser, measured
from tests.cli.browser import run as browse
from tests.cli.shell import call
from tests.cli.small_jobs import CLEAR, FAULTY, lay_out
from tests.lanes import first_alone
from tests.output.hostile_records import HOSTILE, dressed, faulty
from tests.output.page_reading import of_class, safe_page, said
from tests.output.small_screen import build
from tests.teaching.small_lessons import made

ENGINES = Path(__file__).parent.parent / "engines"
CAROUSEL = Path(__file__).parent.parent.parent / "specrules" / "demo" / "carousel.sheet.yaml"
EMPTY = build("readings:\n")


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return lay_out(tmp_path, new=EMPTY, clear=CLEAR, faulty=FAULTY)


both = pytest.mark.parametrize("command", first_alone("blank", "limits"))


@both
def test_a_page_goes_to_the_standard_output_or_to_a_file(command: str) -> None:
    ran = call("sheet", command, "new.sheet.yaml")
    assert (ran.status, ran.err) == (0, "")
    safe_page(ran.out)
    assert call("sheet", command, "new.sheet.yaml", "--out", "page.html") == (0, "", "")
    assert Path("page.html").read_text(encoding="utf-8") == ran.out


def test_only_what_is_named_has_boxes_and_no_question_is_asked() -> None:
    tree = safe_page(call("sheet", "blank", "new.sheet.yaml", "--only", "grip", "--only", "tilt").out)
    assert [box.get("data-cell") for box in of_class(tree, "box")] == ["grip 1", "grip 2", "tilt"]
    assert list(of_class(tree, "signing")) == []


def test_a_form_goes_no_further_than_the_hold_point() -> None:
    tree = safe_page(call("sheet", "blank", "new.sheet.yaml", "--until", "dry_fit").out)
    assert {box.get("data-cell", "").split()[0] for box in of_class(tree, "box")} == {"hole", "shaft", "grip"}
    assert "Does it turn by hand?" not in said(tree)


def test_the_boxes_of_a_form_are_empty_where_nothing_is_read() -> None:
    tree = safe_page(call("sheet", "blank", "clear.sheet.yaml").out)
    assert all(said(box) for box in of_class(tree, "box"))
    tree = safe_page(call("sheet", "blank", "new.sheet.yaml").out)
    assert not any(said(box) for box in of_class(tree, "box"))


@pytest.mark.parametrize(
    ("arguments", "told"),
    first_alone(
        (("blank", "faulty.sheet.yaml"), "faulty.sheet.yaml, line"),
        (("limits", "faulty.sheet.yaml"), "faulty.sheet.yaml, line"),
        (("blank", "gone.sheet.yaml"), "gone.sheet.yaml: cannot be read"),
        (("blank", "new.sheet.yaml", "--only", "gripp"), "--only: gripp is no measurand of these packs; write grip"),
        (("blank", "new.sheet.yaml", "--until", "dry"), "--until: dry is no hold point of these packs"),
        (("limits", "new.sheet.yaml", "--until", "dry_fot"), "write dry_fit"),
        (("limits", "new.sheet.yaml", "--add", "strickt"), "strickt"),
        (("blank", "new.sheet.yaml", "--out", "new.sheet.yaml"), "is the file that this run reads"),
        (("limits", "new.sheet.yaml", "--out", "packs/base.pack.yaml", "--replace"), "is the file that this run reads"),
    ),
)
def test_mistakes_end_with_a_fault_and_no_page(arguments: tuple[str, ...], told: str) -> None:
    before = {path: path.read_bytes() for path in Path().rglob("*") if path.is_file()}
    ran = call("sheet", *arguments)
    assert (ran.status, ran.out) == (2, "")
    assert told in ran.err.replace('"', "")
    kept = {path: path.read_bytes() for path in Path().rglob("*") if path.is_file() and "cache" not in path.parts}
    assert kept == {path: text for path, text in before.items() if "cache" not in path.parts}


AS_PDF = {
    "blank": ("sheet", "blank", "new.sheet.yaml"),
    "limits": ("sheet", "limits", "new.sheet.yaml"),
    "page": ("inspect", "clear.sheet.yaml", "clear.sheet.yaml", "--form", "page"),
    "changes": ("record", "compare", "old.json", "old.json", "--form", "page"),
}
as_pdf = pytest.mark.parametrize("what", first_alone(*AS_PDF))


@as_pdf
def test_without_what_makes_pdf_it_says_what_to_install(what: str, monkeypatch: pytest.MonkeyPatch) -> None:
    call("inspect", "clear.sheet.yaml", "--form", "json", "--out", "old.json")
    monkeypatch.setitem(sys.modules, "weasyprint", None)
    ran = call(*AS_PDF[what], "--out", "form.pdf")
    assert (ran.status, ran.out) == (2, "")
    assert "form.pdf: a PDF takes what is not installed: pip install 'specrules[pdf]'" in ran.err
    assert not Path("form.pdf").exists()


def _pdf_is_there() -> bool:
    if find_spec("weasyprint") is None:
        return False
    try:
        import weasyprint  # noqa: F401
    except OSError:  # without Pango
        return False
    return True


@pytest.mark.second_lane
@as_pdf
@pytest.mark.skipif(not find_spec("weasyprint"), reason="WeasyPrint is not installed")
def test_a_name_that_ends_in_pdf_makes_a_pdf_that_is_replaced_only_when_asked(what: str) -> None:
    if not _pdf_is_there():
        pytest.skip("Pango is not installed")
    call("inspect", "clear.sheet.yaml", "--form", "json", "--out", "old.json")
    asked = (*AS_PDF[what], "--out", "page.PDF")
    assert call(*asked).status == 0
    made = Path("page.PDF").read_bytes()
    assert made.startswith(b"%PDF-")
    assert b"%%EOF" in made[-16:]
    again = call(*asked)
    assert again.status == 2
    assert "--replace" in again.err
    assert call(*asked, "--replace").status == 0


PAGES = {
    "blank": ("sheet", "blank"),
    "limits": ("sheet", "limits"),
    "page": ("inspect", "--form", "page"),
}
OTHERS = ("index", "changes", "class")
every_page = pytest.mark.parametrize("command", [*PAGES, *OTHERS])
ENGINE_SHEETS = [CAROUSEL, *sorted(ENGINES.glob("*.sheet.yaml"))]
EVERY = [*((engine, page) for engine in ENGINE_SHEETS for page in PAGES), *((CAROUSEL, page) for page in OTHERS)]
every_page_of_every_engine = pytest.mark.parametrize(
    ("engine", "command"), EVERY, ids=lambda each: each.name.split(".")[0] if isinstance(each, Path) else each
)
PAPER = {"A4": (210, 297), "Letter": (215.9, 279.4)}
INSIDE = """[...document.querySelectorAll("td, th, p, li, svg, h1, h2, h3, h4")].filter(
  each => each.getBoundingClientRect().right > document.body.getBoundingClientRect().right + 1
    || (each.tagName !== "svg" && each.scrollWidth > each.clientWidth + 1)
).map(each => each.textContent.slice(0, 60))"""
BOXES = """[...document.querySelectorAll("td.box")].map(each => each.getBoundingClientRect()).map(
  box => [box.width, box.height])"""
DRAWN = """[...document.querySelectorAll("svg text, svg line, svg circle, svg rect")].filter(each => {
  const box = each.getBoundingClientRect(), all = each.ownerSVGElement.getBoundingClientRect();
  return box.left < all.left - 1 || box.right > all.right + 1 || box.top < all.top - 1 || box.bottom > all.bottom + 1
}).map(each => each.outerHTML)"""


CONTRAST = """[...document.querySelectorAll("body *")].filter(
  each => [...each.childNodes].some(child => child.nodeType === 3 && child.textContent.trim())
).map(each => {
  const levels = text => text.match(/[\\d.]+/g).map(Number), parts = ([r, g, b]) => [r, g, b].map(
    part => part / 255 <= 0.04045 ? part / 255 / 12.92 : ((part / 255 + 0.055) / 1.055) ** 2.4);
  const light = color => { const [r, g, b] = parts(levels(color)); return 0.2126 * r + 0.7152 * g + 0.0722 * b };
  let behind = each;
  while (behind && levels(getComputedStyle(behind).backgroundColor)[3] === 0) behind = behind.parentElement;
  const style = getComputedStyle(each), ink = light(each.closest("svg") ? style.fill : style.color);
  const paper = behind ? light(getComputedStyle(behind).backgroundColor) : 1;
  return (Math.max(ink, paper) + 0.05) / (Math.min(ink, paper) + 0.05);
})"""
"""Of every text on a page, how far it stands off from what is behind it: the ratio of WCAG 2.2, from memory."""


def page_of(command: str, engine: Path) -> str:
    """What a command writes of an engine; of an index one with a sheet at fault beside it; of changes what another pack
    and another decision rule would change; of a class one that has little right."""
    if command == "class":
        Path("class").mkdir(exist_ok=True)
        for number in range(1, 30):
            answers = f"name: Learner number {number}\npaper: {number}\n1: 0.00{number}\n2: {'abcde'[number % 5]}\n"
            Path(f"class/{number}.txt").write_text(answers, encoding="utf-8")
        return call("pack", "exercise", "teaching", "which_shells", "--answers", "class", "--form", "page").out
    if command == "changes":
        other = re.sub(r"^packs: .*$", "packs: [racing]", engine.read_text(encoding="utf-8"), flags=re.MULTILINE)
        Path("other.sheet.yaml").write_text(other, encoding="utf-8")
        call("inspect", engine, "--form", "json", "--out", "old.json")
        call("inspect", "other.sheet.yaml", "--decision", "simple", "--form", "json", "--out", "new.json")
        return call("record", "compare", "old.json", "new.json", "--form", "page").out
    if command != "index":
        return call(*PAGES[command], engine).out
    assert call("inspect", "faulty.sheet.yaml", engine, "--form", "page", "--out", "pages").status == 2
    return Path("pages/index.html").read_text(encoding="utf-8")


def found(dom: str) -> list[Any]:
    return list(json.loads(html.unescape(re.findall(r'data-found="([^"]*)"', dom)[0])))


@pytest.mark.second_lane
@in_browser
@every_page_of_every_engine
def test_on_a_screen_and_as_wide_as_paper_nothing_is_cut_off_and_boxes_are_large_enough(
    engine: Path, command: str, folder: Path
) -> None:
    page = page_of(command, engine)
    for wide in (820, 1280, *((480,) if command == "index" else ())):  # a tablet upright, a desk; a telephone
        assert found(measured(folder, page, INSIDE, wide)) == []
    assert found(measured(folder, page, DRAWN, 820)) == []
    millimetre = 96 / 25.4 - 0.01  # browsers lay out in 64ths of a pixel
    for width, height in found(measured(folder, page, BOXES, 820)):
        assert width >= 22 * millimetre
        assert height >= LINE * millimetre


LONG = HOSTILE["long"][:3000]
NONE = LimitsRecord(least=None, aim=None, most=None, wear_least=None, wear_most=None, worn=(), from_sheet=False)


def hostile_page(command: str) -> str:
    """A page in which every text is one long word."""
    if command == "index":
        return index_page([("a.html", index_line(dressed(LONG))), ("b.html", index_line(faulty(LONG)))])
    if command == "page":
        return page_in_folder(dressed(LONG))
    if command == "changes":
        new = dressed(LONG)
        other = [each.model_copy(update={"verdict": Verdict.NOT_PROVEN, "limits": NONE}) for each in new.findings]
        found_ = compare(new.model_copy(update={"findings": tuple(other)}), new)
        assert found_.findings
        return page_of_changes(found_, (LONG, LONG))
    posed = made(seed=3)
    marked = Marked(LONG, LONG, 3, mark(posed, {1: LONG, 2: LONG}))
    return page_of_marks(posed.exercise._replace(title=LONG), [marked], (LONG,))


@pytest.mark.second_lane
@in_browser
@pytest.mark.parametrize("command", ["page", *OTHERS])
def test_one_long_word_in_every_place_makes_no_page_wider(command: str, folder: Path) -> None:
    assert found(measured(folder, hostile_page(command), INSIDE, 820)) == []


@pytest.mark.second_lane
@in_browser
@every_page
def test_every_text_stands_off_from_what_is_behind_it(command: str, folder: Path) -> None:
    """By WCAG 2.2, level AA: 4.5 to 1."""
    ratios = found(measured(folder, page_of(command, CAROUSEL), CONTRAST, 820))
    assert len(ratios) > 20
    assert min(ratios) >= 4.5


@pytest.mark.second_lane
@in_browser
@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="what reads a PDF's words (poppler) is not installed")
@pytest.mark.parametrize("paper", PAPER)
@every_page_of_every_engine
def test_printed_by_a_browser_every_word_is_inside_the_margins(
    engine: Path, command: str, paper: str, folder: Path
) -> None:
    page = page_of(command, engine)
    Path("page.html").write_text(page.replace("size: auto", f"size: {paper.lower()}"), encoding="utf-8")
    browse(folder, folder / "page.html", f"--print-to-pdf={folder / 'page.pdf'}")
    words_inside(Path("page.pdf"), paper, page)


def words_inside(pdf: Path, paper: str, page: str) -> None:
    """Every word of the page stands on some sheet of paper, inside its margins."""
    layout = subprocess.run(["pdftotext", "-bbox", pdf, "-"], capture_output=True, text=True, check=True).stdout
    point = 72 / 25.4
    wide, high = (side * point for side in PAPER[paper])
    sizes = re.findall(r'<page width="([\d.]+)" height="([\d.]+)">', layout)
    assert all(abs(float(w) - wide) < 1 and abs(float(h) - high) < 1 for w, h in sizes)
    words = re.findall(
        r'<word xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.-]+)" yMax="([\d.-]+)">(.*?)</word>', layout
    )
    for left, top, right, bottom, word in words:
        assert float(left) >= 11 * point, word
        assert float(top) >= 9 * point, word
        assert float(right) <= wide - 11 * point, word
        assert float(bottom) <= high - 4 * point, word
    printed = {html.unescape(word) for *_, word in words}
    tree = safe_page(page, links="<a " in page)
    figures = {figure for box in of_class(tree, "box") for figure in said(box).split()}
    assert figures <= printed
    assert {word for head in tree.iter("h4") for word in said(head).split()} <= printed
