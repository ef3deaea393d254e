"""How things lie in rows: every field has its key, no two the same, and none that a label could be taken for."""

from __future__ import annotations

import pytest

from specrules.record import FindingRecord, InputRecord, ReasonRecord, SourceRecord
from specrules.record.record_columns import OWN, SHARED, TABLES, Lies, keys_in_row, laid, numbers_in_row
from specrules.record.record_part import RecordPart


def test_a_part_lies_behind_its_own_key_and_a_list_of_parts_as_lists() -> None:
    keys = keys_in_row(FindingRecord)
    assert {"rule", "limits least", "limits from sheet", "rests on readings", "beside limits most", "steps do"} < {
        *keys
    }
    assert not {"limits", "rests on", "beside", "steps", "station"} & {*keys}
    numbers = numbers_in_row(FindingRecord)
    assert (numbers["source"], numbers["inputs"], numbers["budget cause"]) == (SourceRecord, InputRecord, ReasonRecord)


@pytest.mark.parametrize("model", TABLES)
def test_every_key_of_a_row_is_of_one_field(model: type[RecordPart]) -> None:
    keys = keys_in_row(model)
    assert len({*keys}) == len(keys) > 0
    labels = tuple(f"{each.key} " for each in laid(model) if each.lies is Lies.LABELS)
    assert not [key for key in keys if key.startswith(labels or "\0")]
    assert {*TABLES[model].together, TABLES[model].lead, *TABLES[model].apart} <= {*keys}
    assert not {"each", "outcome", "outcomes"} & {*keys}


@pytest.mark.parametrize("model", TABLES)
def test_labels_lie_in_things_and_not_in_their_lists(model: type[RecordPart]) -> None:
    for each in laid(model):
        if each.lies is Lies.PARTS:
            assert each.model is not None
            assert [inner for inner in laid(each.model) if inner.lies is Lies.LABELS] == []


def test_what_goes_by_its_number_has_only_what_does_before_it() -> None:
    for place, model in enumerate(SHARED):
        assert {*numbers_in_row(model).values()} <= {*SHARED[:place]}
    assert {*OWN.values(), *SHARED} == {*TABLES}
