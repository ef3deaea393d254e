"""A shop's register of gauges: what a sheet takes from it, and what comes before what."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from specrules.document import Text
from specrules.effects.register_file import register_for
from specrules.effects.workspace import Loaded, Workspace
from specrules.inspection import inspect
from specrules.output.report_record import record_of
from specrules.record import record_data
from specrules.sheet.register import read_register
from tests.evaluate.small_gauges import pack
from tests.inspecting import words

SHOP = """\
specrules: gauges/1
gauges:
  mic 50: {class: micrometer, serial: M-0412, certificate: C-2291, due: 2026-09-30, mpe: 0.002 mm}
  bore: {class: comparator, set with: mic 50}
  ring 50: {class: setting ring}
  spring tester: {class: no class of this pack}
"""
SHEET = "specrules: build-sheet/1\npacks: [gauged]\nunit: mm\ngauges from: shop.gauges.yaml\n%s\n"


def loaded(folder: Path, body: str, shop: str | None = SHOP) -> Loaded:
    """A sheet in a folder of jobs, and the register in the folder above it."""
    jobs = folder / "jobs"
    jobs.mkdir()
    if shop is not None:
        (folder / "shop.gauges.yaml").write_text(shop, encoding="utf-8")
    path = jobs / "e.sheet.yaml"
    path.write_text(SHEET % body, encoding="utf-8")
    return Workspace(plugins=False, texts={"gauged": pack().encode()}).load(path, "e.sheet.yaml")


def faults(folder: Path, body: str, shop: str | None = SHOP) -> list[str]:
    found = loaded(folder, body, shop)
    assert found.sheet is None
    return [fault.sentence().replace(f"{folder}/", "") for fault in found.faults]


def test_a_gauge_that_the_sheet_names_and_what_it_is_set_with_come_from_the_register(tmp_path: Path) -> None:
    found = loaded(tmp_path, "readings: {hole: {gauge: bore, 1: [50.05, 50.05]}}")
    assert found.sheet is not None, found.faults
    assert list(found.sheet.gauges) == ["bore", "mic 50"]
    mic = found.sheet.gauges["mic 50"]
    assert (mic.serial, mic.certificate, str(mic.due)) == ("M-0412", "C-2291", "2026-09-30")
    assert mic.capability.figures.mpe is not None
    assert mic.capability.figures.mpe.absolute == Decimal("0.002")
    assert (Path(mic.place.file).name, mic.place.line) == ("shop.gauges.yaml", 3)  # where its figures stand


def test_the_sheet_s_own_word_comes_before_the_register_s_key_by_key(tmp_path: Path) -> None:
    found = loaded(
        tmp_path,
        "gauges: {mic 50: {mpe: 0.001 mm, zero: {standard: 50, reads: 50.002}}}\n"
        "readings: {shaft: {gauge: mic 50, 1: [50, 50]}}",
    )
    assert found.sheet is not None, found.faults
    mic = found.sheet.gauges["mic 50"]
    assert mic.capability.figures.mpe is not None
    assert (mic.capability.figures.mpe.absolute, mic.zero) == (Decimal("0.001"), Decimal("0.002"))
    assert (mic.gauge_class, mic.certificate) == ("micrometer", "C-2291")


def test_a_figure_of_the_sheet_is_before_figures_by_size_of_the_register(tmp_path: Path) -> None:
    shop = SHOP.replace("mpe: 0.002 mm}", "by size: [{over: 0 mm, to: 75 mm, mpe: 0.003 mm}]}")
    found = loaded(tmp_path, "gauges: {mic 50: {mpe: 0.001 mm}}\nreadings: {shaft: {gauge: mic 50, 1: [50, 50]}}", shop)
    assert found.sheet is not None, found.faults
    mpe = found.sheet.gauges["mic 50"].capability.at(Decimal(50)).mpe
    assert mpe is not None
    assert mpe.absolute == Decimal("0.001")


def test_the_register_stands_in_the_record_with_its_digest(tmp_path: Path) -> None:
    found = loaded(tmp_path, "readings: {shaft: {gauge: mic 50, 1: [50, 50]}}")
    assert found.sheet is not None
    assert found.spec is not None
    data = record_data(record_of(inspect(found.sheet, found.spec), None, "1.0.0"))
    ((file),) = data["sheet"]["files"]
    register, _ = read_register(SHOP.encode(), "shop.gauges.yaml")
    assert register is not None
    assert Path(file["file"]).name == "shop.gauges.yaml"
    assert file["sha256"] == register.sha256


@pytest.mark.second_lane
@pytest.mark.parametrize(
    ("taken", "day", "said"),
    [
        ("2026-10-01", "", True),
        ("2026-09-30", "", False),
        ("", "2026-10-01", True),
        ("", "2026-09-30", False),
        ("2026-09-29", "2026-10-03", False),  # the readings' day counts before the build's
        ("", "", False),
    ],
)
def test_a_gauge_past_its_due_date_is_remarked_on(tmp_path: Path, taken: str, day: str, said: bool) -> None:
    body = f"build: {{title: T, date: {day or 'open'}}}\n" if day else ""
    when = f"taken: {taken}, " if taken else ""
    found = loaded(tmp_path, f"{body}readings: {{hole: {{gauge: bore, {when}1: [50.05, 50.05]}}}}")
    assert found.sheet is not None, found.faults
    assert found.spec is not None
    remarks = words(inspect(found.sheet, found.spec).remarks)
    used = taken or day
    assert remarks == (
        (
            f"mic 50 was due to be checked by 2026-09-30 and used on {used}: have it checked, and take again what it "
            "read if it is off.",
        )
        if said
        else ()
    )


# --- what is wrong --------------------------------------------------------------------------------------------

READS = "readings: {shaft: {gauge: mic 50, 1: [50, 50]}}"


@pytest.mark.second_lane
@pytest.mark.parametrize(
    ("body", "shop", "said"),
    [
        (
            "readings: {shaft: {gauge: mik 50, 1: [50, 50]}}",
            SHOP,
            ['e.sheet.yaml, line 5, shaft gauge: "mik 50" is no gauge of this sheet; write mic 50.'],
        ),
        (
            "readings: {load: {gauge: spring tester, 1: 900}}",
            SHOP,
            ['shop.gauges.yaml, line 6, gauges spring tester: "no class of this pack" is no gauge class; there are'],
        ),
        (
            READS,
            SHOP.replace("gauges/1", "gauges/2"),
            ['shop.gauges.yaml, line 1, specrules: "gauges/2" is no register'],
        ),
        (
            READS,
            SHOP.replace("specrules: gauges/1\n", ""),
            ["shop.gauges.yaml, line 1: this file does not say that it is"],
        ),
        (
            READS,
            SHOP.replace("serial", "seriall"),
            ['shop.gauges.yaml, line 3, mic 50: "seriall" is no key here; write'],
        ),
        (
            READS,
            SHOP.replace("0.002 mm", "0.002"),
            ['shop.gauges.yaml, line 3, gauges mic 50 mpe: "0.002" has no unit;'],
        ),
        (READS, SHOP.replace("2026-09-30", "30.9.26"), ["shop.gauges.yaml, line 3, gauges mic 50: "]),
        (
            READS,
            SHOP.replace("mpe: 0.002 mm", "zero: {standard: 50, reads: 50.002}"),
            [f"e.sheet.yaml, line 5, shaft 1 {at}: gauge mic 50 has its zero as " for at in ("front", "rear")],
        ),
        (READS, "", ["shop.gauges.yaml, line 1: the file is empty; write specrules: gauges/1 at its head."]),
        (READS, "gauges: [", ["shop.gauges.yaml, line 1"]),
        (
            READS,
            None,
            ['e.sheet.yaml, line 4, gauges from: there is no "shop.gauges.yaml" beside this sheet or in a folder'],
        ),
    ],
)
def test_faults_of_a_register_have_its_places(tmp_path: Path, body: str, shop: str | None, said: list[str]) -> None:
    found = faults(tmp_path, body, shop)
    assert [a[: len(b)] for a, b in zip(found, said, strict=True)] == said


def test_a_gauge_that_no_sheet_names_is_not_held_against_its_packs(tmp_path: Path) -> None:
    assert loaded(tmp_path, READS).sheet is not None


@pytest.mark.parametrize("name", ["../shop.gauges.yaml", "/etc/shop.gauges.yaml", "shop.yaml", "a\\b.gauges.yaml"])
def test_a_register_is_named_by_its_file_alone(tmp_path: Path, name: str) -> None:
    (tmp_path / "jobs").mkdir()
    (tmp_path / "shop.gauges.yaml").write_text(SHOP, encoding="utf-8")
    register, (fault,) = register_for(Text(name), tmp_path / "jobs" / "e.sheet.yaml")
    assert register is None
    assert "is no file name of a register; write shop.gauges.yaml" in fault.sentence()


def test_a_sheet_that_is_a_text_has_no_register_beside_it() -> None:
    register, (fault,) = register_for(Text("shop.gauges.yaml"), None)
    assert register is None
    assert "stands in no file" in fault.sentence()
