"""`specrules gauge study`: what is printed, and an entry that a sheet takes as it stands."""

from __future__ import annotations

from pathlib import Path

import pytest

from specrules.cli.entry_point import run
from specrules.output.study import study_lines
from specrules.output.terminal import text_of
from specrules.sheet import read_sheet
from specrules.study import analyse, gauge_entry
from specrules.study.entry import freedom_text
from tests.study.small_studies import HEAD, Readings, crossed, study, written

ONE = {"JT": {"1": ["2.4990", "2.4993", "2.4990"], "2": ["2.4985", "2.4985", "2.4988"]}}
STILL = {"JT": {"1": ["2.4990", "2.4990"], "2": ["2.4985", "2.4985"]}}


def screen(readings: Readings, head: str = HEAD) -> str:
    """What is printed of a study, on one line."""
    found = study(readings, head)
    return " ".join(text_of(study_lines(found, analyse(found))).split())


def entry(readings: Readings, head: str = HEAD) -> str:
    """The entry for a sheet."""
    found = study(readings, head)
    return gauge_entry(found, analyse(found))


def test_the_crossed_study_on_the_screen() -> None:
    found = study(crossed(), HEAD.replace("unit: in", "unit: mm"))
    rows = text_of(study_lines(found, analyse(found))).splitlines()
    assert max(map(len, rows)) <= 80
    table = {" ".join(row[:25].split()): row[25:].split() for row in rows[3:9]}
    assert table["repeatability"] == ["0.200", "0.016", "78", "0.173", "to", "0.237"]
    assert (table["reproducibility"][0], table["reproducibility"][2]) == ("0.227", "1.9")
    assert table["any of their readings"][0] == "0.302"
    assert table["part to part"][0] == "1.042"
    said = " ".join(" ".join(rows).split())
    assert "F 0.43 on 18 and 60 degrees of freedom, chance 0.974 against a level of 0.25 (our choice)" in said
    assert "pooled into repeatability" in said
    assert "A reads 0.189 above the mean of all" in said
    assert "C reads 0.256 below the mean of all" in said
    assert "B's readings of part 4 spread more than those of the rest allow" in said


def test_what_a_small_study_cannot_show_is_said() -> None:
    said = screen(ONE)
    assert "One operator read, so reproducibility is not estimated." in said
    assert "Fewer than 10 degrees of freedom" in said
    assert "half a step" not in said
    said = screen({"JT": {"1": ["2.4990", "2.4993"]}, "KM": {"1": ["2.4991", "2.4991"]}})
    assert "One part was read, so part variation is not estimated." in said
    assert "cannot be told from the operator" in said
    assert "The variance of operators came out below zero and was set to zero" in said


def test_a_step_that_hides_the_repeatability_is_said() -> None:
    cells = {str(part): ["2.499", "2.499", "2.499"] for part in range(9)} | {"9": ["2.499", "2.500", "2.499"]}
    assert "Repeatability is under half a step of the readings (0.001 in)" in screen({"JT": cells})
    assert "Every reading was the same each time" in screen(STILL)
    assert "not seen" in screen(STILL)


def test_pairs_that_count_are_shown() -> None:
    said = screen({"JT": {"1": ["0", "2"], "2": ["4", "6"]}, "KM": {"1": ["4", "6"], "2": ["0", "2"]}})
    assert "some operators read some parts differently" in said
    assert "part by part" in said
    assert "The variance of part variation came out below zero" in said


def test_chances_that_are_next_to_nothing() -> None:
    said = screen({"JT": {"1": ["1", "1"], "2": ["2", "2"]}, "KM": {"1": ["2", "2"], "2": ["1", "1"]}})
    assert "chance under 0.001" in said
    assert "F infinite" in said


def test_the_entry_is_a_sheet_s_own() -> None:
    text = entry(crossed(), HEAD.replace("unit: in", "unit: mm"))
    sheet, faults = read_sheet(f"specrules: build-sheet/1\npacks: [street]\n{text}", "engine.sheet.yaml")
    assert faults == ()
    assert sheet is not None
    (gauge,) = sheet.model.gauges.values()
    assert (gauge.gauge_class, gauge.repeatability) == ("outside micrometer", "0.200 mm")
    assert "78 degrees of freedom" in text
    assert "# 0.302 mm where any of its operators may take a reading" in text


@pytest.mark.parametrize("name", ['"a: b # c"', "on", "'12'", '"tab\\there"', "mic  2", '"µ 1"', "it's"])
def test_every_name_comes_back_as_it_was(name: str) -> None:
    head = HEAD.replace("name: mic 2-3", f"name: {name}")
    sheet, faults = read_sheet(f"specrules: build-sheet/1\n{entry(ONE, head)}", "engine.sheet.yaml")
    assert faults == ()
    assert sheet is not None
    assert list(sheet.model.gauges) == [study(ONE, head).gauge]


def test_no_repeatability_of_zero_is_ever_written() -> None:
    text = entry(STILL, HEAD.replace("date: 2026-10-02\n", ""))
    assert "repeatability:" not in text
    assert "# the study shows no scatter at all, so the class figure stands" in text


@pytest.mark.parametrize(("freedom", "text"), [(78.0, "78"), (1.96, "1.9"), (16.75, "16"), (2.0, "2"), (0.04, "0.0")])
def test_degrees_of_freedom_are_cut_off(freedom: float, text: str) -> None:
    """GUM G.4.1: 16.7 is used as 16."""
    assert freedom_text(freedom) == text


def test_the_command(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    path, out = tmp_path / "mic.study.yaml", tmp_path / "entry.yaml"
    path.write_text(written(ONE), encoding="utf-8")
    assert run(["gauge", "study", str(path)]) == 0
    whole = capfd.readouterr().out
    assert run(["gauge", "study", str(path), "--entry"]) == 0
    assert capfd.readouterr().out == entry(ONE)
    assert whole.endswith(entry(ONE))
    assert run(["gauge", "study", str(path), "--entry", "--out", str(out)]) == 0
    assert out.read_text(encoding="utf-8") == f"# specrules: gauge-entry/1\n{entry(ONE)}"


def test_a_faulty_file_and_none_at_all(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "mic.study.yaml"
    assert run(["gauge", "study", str(path)]) == 2
    assert "cannot be read" in capfd.readouterr().err
    path.write_text(written(ONE).replace("2.4993", "2,4993"), encoding="utf-8")
    assert run(["gauge", "study", str(path)]) == 2
    captured = capfd.readouterr()
    assert captured.out == ""
    assert "line 7" in captured.err


def test_the_example_in_the_help_is_a_study(capfd: pytest.CaptureFixture[str]) -> None:
    assert run(["gauge", "study", "--help"]) == 0
    rows = capfd.readouterr().out.splitlines()
    first = next(number for number, row in enumerate(rows) if row.strip() == "specrules: gauge-study/1")
    last = next(number for number in range(first, len(rows)) if not rows[number].strip())
    from specrules.study import read_study

    example = "\n".join(row.removeprefix("  ") for row in rows[first:last]) + "\n"
    found, faults = read_study(example, "help.yaml")
    assert faults == ()
    assert found is not None
    assert (len(found.operators), len(found.parts), found.repeats) == (2, 2, 3)
