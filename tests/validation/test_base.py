"""Models of files: the placed tree goes in, and its places and texts come out."""

from __future__ import annotations

from datetime import date

import pytest
from pydantic import ValidationError

from specrules.document import Place, Text
from specrules.validation.base import keys_of, model_at, section_with
from tests.validation.small_models import FILE, GOOD, Note, Part, Small, tree_of


def test_every_mapping_knows_its_place_and_keeps_the_very_texts() -> None:
    tree = tree_of(GOOD)
    made = Small.model_validate(tree)
    assert made.place == tree.place
    assert made.title is tree[Text("title")]
    first, second = made.parts.values()
    assert (first.place, second.place) == (Place(FILE, 4, 10), Place(FILE, 5, 11))
    assert next(iter(made.parts)).place == Place(FILE, 4, 3)
    assert (first.size, first.wet, first.made_on) == ("2", "yes", date(2026, 10, 2))
    assert (second.size, second.wet, second.made_on) == ("3", "", None)
    assert (made.needs, made.notes[0].text, made.notes[0].place.line) == (("first",), "one", 6)
    assert [text.place.column for text in made.cells[Text("a")]] == [13, 17]
    assert made.free is tree[Text("free")]


def test_a_model_does_not_change_and_a_changed_copy_keeps_its_place() -> None:
    made = Small.model_validate(tree_of(GOOD))
    with pytest.raises(ValidationError, match="frozen"):
        made.title = made.kind
    assert made.model_copy(update={"title": made.kind}).place == made.place


def test_keys_are_names_with_spaces() -> None:
    assert keys_of(Part) == ("size", "wet", "made on")


@pytest.mark.parametrize(
    ("path", "model"),
    [
        ((), Small),
        (("parts", "first"), Part),
        (("notes", 0), Note),
        (("parts",), None),
        (("parts", "first", "size"), None),
        (("free", "any"), None),
        (("nowhere", "at", "all"), None),
    ],
)
def test_the_model_at_a_path(path: tuple[int | str, ...], model: type | None) -> None:
    assert model_at(Small, path) is model


@pytest.mark.parametrize(("key", "section"), [("by", "notes"), ("size", ""), ("title", ""), ("bogus", "")])
def test_the_section_that_has_a_key(key: str, section: str) -> None:
    """Not one whose things have a short form: there the key is mostly left out."""
    assert section_with(Small, key) == section
