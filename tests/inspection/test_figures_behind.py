"""Whose word it is what the gauges behind a value can do."""

from __future__ import annotations

from specrules.output.finding_records import InputRecords, finding_parts
from specrules.output.telling import sources_of_figures
from specrules.pack import Source
from specrules.record import SourceRecord
from specrules.record.finding_record import GaugeFigureRecord
from tests.evaluate.small_gauges import looked, of

READ = "readings: {hole: {gauge: bore, 1: [50.050, open]}, shaft: {gauge: mic, 1: [50.000, open]}}"
BY_CLASS = "gauges: {mic: {class: micrometer}, bore: {class: comparator, set with: mic}}\n"


def told(body: str, rule: str = "first_fit") -> list[tuple[str, str, float, Source]]:
    figures = of(looked(body), rule).gauge_figures
    return [(each.gauge, each.figure, float(each.value), each.source) for each in figures]


def test_of_a_gauge_and_of_what_it_was_set_with_the_figures_are_those_of_their_class() -> None:
    house = Source("house")
    assert told(BY_CLASS + READ) == [
        ("bore", "mpe", 0.003, house),
        ("bore", "repeatability", 0.002, house),
        ("mic", "mpe", 0.004, house),
        ("mic", "repeatability", 0.001, house),
    ]


def test_a_certificate_comes_before_the_class_in_what_it_says() -> None:
    body = BY_CLASS.replace("{class: micrometer}", "{class: micrometer, mpe: 0.002 mm, certificate: K 17}") + READ
    assert [each for each in told(body) if each[0] == "mic"] == [
        ("mic", "mpe", 0.002, Source("house", "certificate K 17")),
        ("mic", "repeatability", 0.001, Source("house")),
    ]


def test_a_figure_by_size_is_that_of_the_size_that_was_read() -> None:
    ranges = "[{over: 0 mm, to: 30 mm, mpe: 0.001 mm}, {over: 30 mm, to: 60 mm, mpe: 0.002 mm}]"
    body = BY_CLASS.replace("{class: micrometer}", f"{{class: micrometer, by size: {ranges}}}") + READ
    stated = Source("house", "as it is stated for this gauge")
    assert [each for each in told(body) if each[:2] == ("mic", "mpe")] == [("mic", "mpe", 0.002, stated)]


def test_repeats_of_the_sheet_come_before_any_other_word_of_how_a_gauge_repeats() -> None:
    front = "{front: {repeats: [50.000, 50.004, 50.000, 50.004]}, rear: open}"
    body = f"gauges: {{mic: {{class: micrometer}}}}\nreadings: {{shaft: {{gauge: mic, 1: {front}}}}}"
    found = {each[1]: each for each in told(body, "largest_shaft")}
    assert found["repeatability"][3] == Source("house", "as the repeats of this sheet scatter")


def test_a_gauge_that_nobody_named_is_of_the_kind_that_the_pack_lists_first() -> None:
    assert {each[0] for each in told(READ.replace("gauge: bore, ", "").replace("gauge: mic, ", ""))} == {
        "comparator",
        "micrometer",
    }


def test_a_stated_uncertainty_and_simple_acceptance_leave_no_figure_to_tell() -> None:
    assert told("readings: {shaft: {1: [50.000 ±0.002, open]}}", "largest_shaft") == []
    assert of(looked(BY_CLASS + READ, decision="simple"), "first_fit").gauge_figures == ()


def test_what_is_said_of_them() -> None:
    body = BY_CLASS.replace("{class: micrometer}", "{class: micrometer, mpe: 0.002 mm, certificate: K 17}") + READ
    assert list(sources_of_figures(of(looked(body), "first_fit").gauge_figures)) == [
        "bore: MPE 0.003 mm, repeatability 0.002 mm (house)",
        "mic: MPE 0.002 mm (house: certificate K 17); repeatability 0.001 mm (house)",
    ]


def test_a_record_has_them_with_their_source() -> None:
    found = of(looked(BY_CLASS + READ), "first_fit")
    kept = finding_parts(found, found, False, False, InputRecords("e.sheet.yaml"))["gauge_figures"]
    source = SourceRecord.of({"kind": "house"})
    figure = {"gauge": "bore", "figure": "mpe", "value": 0.003, "unit": "mm", "source": source}
    assert kept[0] == GaugeFigureRecord.of(figure)
    assert len(kept) == 4
