"""A placed text behaves as the string it is, also in models; trees copy and pickle whole."""

import copy
import pickle

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
