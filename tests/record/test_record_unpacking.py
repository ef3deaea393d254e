"""Tables put together again, each thing whole; what cannot be put together refused with its place, and what grows."""

from __future__ import annotations

import json
from typing import Any

import pytest

from specrules.record import read_record, record_text
from specrules.record.record_unpacking import MOST, pointer, unpacked
from tests.record.texts import IN_TABLES_WRONG, JUDGED, TABLES_WRONG, Change, as_json

WRITTEN = record_text(read_record(JUDGED))


def refused(made: Any) -> str:
    with pytest.raises(ValueError, match="no record is written by hand") as found:
        read_record(as_json(made))
    return str(found.value)


@pytest.mark.parametrize(
    ("change", "said"), [*TABLES_WRONG.values(), *IN_TABLES_WRONG.values()], ids=[*TABLES_WRONG, *IN_TABLES_WRONG]
)
def test_what_cannot_be_put_together_is_refused_with_its_place(change: Change, said: str) -> None:
    made = json.loads(WRITTEN)
    change(made)
    assert refused(made).startswith(said)


def test_what_a_finding_lacks_is_told_of_the_finding() -> None:
    made = json.loads(WRITTEN)
    for each in (made["findings"]["usual"], *made["findings"]["sets"]):
        each.pop("conceded", None)
    assert refused(made).startswith('/findings/0: lacks the key "conceded"')


def test_what_stands_nearer_counts() -> None:
    made = json.loads(WRITTEN)
    made["findings"]["usual"]["title"] = "far"
    made["findings"]["sets"][0]["title"] = "near"
    del made["findings"]["sets"][1]["title"]
    record = read_record(as_json(made))
    titles = {each.rule: each.title for each in record.findings}
    assert [titles[each["rule"]] for each in made["findings"]["sets"]][:2] == ["near", "far"]


def test_pieces_of_a_text_are_texts_and_labels() -> None:
    made = json.loads(WRITTEN)
    said: dict[str, Any] = {"code": None, "names": [], "text": None, "said": ["at ", 1, ", not ", 0]}
    said["each"] = {"labels": [["a", "b"]]}
    made["shared"]["reasons"]["sets"] = [said, *made["shared"]["reasons"]["sets"]]
    assert next(iter(read_reasons(made))) == "at b, not a"
    for pieces, told in (([2], "2 is no number of what there is, 2 in all"), ([None], "null is no number")):
        said["said"] = pieces
        assert told in refused(made)
    said["said"], said["each"] = [0], {"labels": [[1]]}
    assert "a piece is a text, or the number of a label" in refused(made)


def read_reasons(made: Any) -> list[str]:
    """What the shared reasons say, as a finding has them that names them all."""
    count = sum(len(each["each"]["labels"]) for each in made["shared"]["reasons"]["sets"])
    made["findings"]["sets"][0]["notes"] = list(range(count))
    return [each.said for each in read_record(as_json(made)).findings[0].notes]


@pytest.mark.second_lane
def test_a_small_file_is_not_put_together_to_a_huge_record() -> None:
    """A text of a million letters that a thousand findings say, a list of a million numbers, pieces of a label."""
    made = json.loads(WRITTEN)
    one = made["findings"]["sets"][0]
    long = {**one, "caution": "a" * 1_000_000, "each": {key: column[:1] * 1000 for key, column in one["each"].items()}}
    many = {**long, "caution": None, "notes": [0] * 1_000_000}
    for each in (long, many):
        assert f"it has more than {MOST} letters" in refused({**made, "findings": {**made["findings"], "sets": [each]}})
    said = {"code": None, "names": [], "text": None, "said": [0] * 100_000, "each": {"labels": [["a" * 10_000]]}}
    made["shared"]["reasons"]["sets"] = [said]
    assert f"it has more than {MOST} letters" in refused(made)


def test_a_place_is_a_pointer() -> None:
    """RFC 6901, section 5: the key a/b is /a~1b, and m~n is /m~0n."""
    assert pointer(["a/b", "m~n", 0]) == "/a~1b/m~0n/0"
    assert pointer([]) == "the record"


def test_the_tree_that_is_put_together_is_left_as_it_was() -> None:
    made = json.loads(WRITTEN)
    unpacked(made)
    assert made == json.loads(WRITTEN)
