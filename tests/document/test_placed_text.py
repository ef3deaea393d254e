"""A placed text behaves as the string it is, also in models; trees copy and pickle whole."""

import copy
import json
import pickle

import pydantic
import pytest

from specrules.document import Fields, Place, Text, read
from tests.document.placed_trees import USUAL, plain

TEXT = Text("2.4990", Place("s.yaml", 3, 4), True, (7, 15))


def tree() -> Fields:
    made, faults = read(USUAL, "s.yaml")
    assert made is not None
    assert faults == ()
    return made


def test_it_equals_and_hashes_as_its_string() -> None:
    assert TEXT == "2.4990"
    assert hash(TEXT) == hash("2.4990")
    assert {"2.4990": 1}[TEXT] == 1
    assert tree()["packs"] == ["towing"]  # type: ignore[index]


def test_it_carries_nothing_beside_its_slots() -> None:
    with pytest.raises(AttributeError):
        TEXT.note = "x"  # type: ignore[attr-defined]
    assert Text("a").span == (0, 0)


@pytest.mark.parametrize("twin", [lambda x: copy.deepcopy(x), lambda x: pickle.loads(pickle.dumps(x))])
def test_it_is_copied_whole(twin: object) -> None:
    assert callable(twin)
    assert plain(twin(TEXT)) == plain(TEXT)
    assert plain(twin(tree())) == plain(tree())


class Model(pydantic.BaseModel):
    value: Text
    by_name: dict[Text, list[Text]] = {}


def test_a_model_keeps_it_with_its_place() -> None:
    model = Model(value=TEXT, by_name={TEXT: [TEXT]})
    assert model.value is TEXT
    assert next(iter(model.by_name)).place == TEXT.place
    assert json.loads(model.model_dump_json()) == {"value": "2.4990", "by_name": {"2.4990": ["2.4990"]}}
    with pytest.raises(pydantic.ValidationError):
        Model(value="2.4990")  # type: ignore[arg-type]
    assert Model.model_json_schema()["properties"]["value"] == {"title": "Value", "type": "string"}
