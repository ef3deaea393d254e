"""What is wrong with a file: each fault at its place in its own words, all in one run, whatever stands there."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from specrules.document import MOST_FAULTS, Fields, Items, Node, Text, placed, read
from specrules.document.place import Place
from specrules.document.text import fields_at, items_at
from specrules.pack.pack_model import pack_file
from specrules.sheet.sheet_model import SheetFile
from specrules.validation import FileModel, checked
from specrules.validation.base import model_at
from specrules.validation.checking import headed, nearest_name
from specrules.vocabulary import Code
from tests.pack.small_packs import BASE
from tests.validation.small_models import FILE, GOOD, Note, Small, tree_of

KEYS = "title, kind, parts, notes, needs, cells, free"
NO_NAME = "cannot be a name: letters, digits and _, not a digit first"

ROWS = [
    ("title: Small", "¦titel: Small", '"titel" is no key here; write title.'),
    ("title: Small", "title: Small\n¦bogus: 1", f'"bogus" is no key here; write one of {KEYS}.'),
    ("title: Small", "title: Small\n¦by: me", '"by" is no key here; write it under notes.'),
    ("title: Small", "title:¦", "title: has no value; write a value, or leave the key out."),
    ("title: Small", "title: ¦[Small]", "title: has a list where a text belongs."),
    ("kind: round", "kind: ¦sqare", 'kind: "sqare" is none of round, square; write square.'),
    ("wet: yes", "wet: ¦on", 'first wet: "on" is neither yes nor no; write yes.'),
    ("wet: yes", "¦wett: yes", 'first: "wett" is no key here; write wet.'),
    ("  first: {size: 2, ", "  ¦first: {", 'first: has no "size" (how large it is).'),
    ("size: 2", "size: 2¦;5", 'first size: has a semicolon; write 2.5.'),
    ("size: 2", 'size: "2¦;5"', 'first size: has a semicolon; write 2.5.'),
    ("2026-10-02", "¦2026-02-30", 'first made on: there is no day "2026-02-30".'),
    ("  second", "  ¦no name", f'parts: "no name" {NO_NAME}; write no_name.'),
    ("second: 3", "second: ¦[3]", "second: has a list where a mapping belongs; write keys such as size, wet, made on."),
    ("{text: two, by: me}", "¦{by: me}", 'notes 2: has no "text" (what it says).'),
    ("needs: first", "needs: [first, ¦2nd]", f'needs 2: "2nd" {NO_NAME}; write _2nd.'),
    ("['', x]", "¦[]", "a: has nothing where a list belongs."),
    ("['', x]", "¦x", 'a: has "x" where a list belongs.'),
    ("{any: [thing]}", "¦any", 'free: has "any" where a mapping belongs.'),
]  # fmt: skip


@pytest.mark.parametrize(("good", "bad", "sentence"), ROWS)
def test_a_fault_has_its_place_and_its_sentence(good: str, bad: str, sentence: str) -> None:
    assert GOOD.count(good) == 1
    before, mark, after = GOOD.replace(good, bad).partition("¦")
    assert mark
    model, faults = checked(Small, tree_of(before + after), "file")
    (fault,) = faults
    line, column = before.count("\n") + 1, len(before) - before.rfind("\n")
    assert model is None
    assert (fault.place, fault.kind) == (Place(FILE, line, column), "file")
    assert fault.sentence() in (f"{FILE}, line {line}, {sentence}", f"{FILE}, line {line}: {sentence}")


def test_every_fault_comes_in_one_run_and_a_missing_key_that_was_mistyped_is_told_once() -> None:
    _, faults = checked(Small, tree_of("titel: Small\nparts: {a: {wet: maybe}, b: [1]}\nneeds: [[x]]\n"), "sheet")
    assert [fault.sentence().removeprefix(f"{FILE}, ") for fault in faults] == [
        'line 1: has no "kind" (its kind).',
        'line 2, a: has no "size" (how large it is).',
        'line 2, a wet: "maybe" is neither yes nor no.',
        "line 2, b: has a list where a mapping belongs; write keys such as size, wet, made on.",
        "line 3, needs 1: has a list where a text belongs.",
        'line 1: "titel" is no key here; write title.',
    ]


def test_the_caller_says_where_the_tree_stands_and_what_he_knows_of_an_unknown_key() -> None:
    def advise(path: tuple[int | str, ...], write: str | None) -> tuple[Code, str, str]:
        return Code.UNKNOWN_KEY, f"knows {path} {write}", "this"

    assert checked(Small, tree_of(GOOD), advise=advise)[1] == ()
    _, (fault,) = checked(Note, tree_of("{text: one, bogus: 1}"), within=("notes", "2"), advise=advise)
    assert fault.sentence() == f"{FILE}, line 1, notes 2: knows ('bogus',) None; write this."


@pytest.mark.parametrize(
    "parts", [{f"p{number}": "{}" for number in range(3000)}, {f"p {number}": "1" for number in range(3000)}]
)
def test_a_file_with_endless_faults_gives_the_first_of_them(parts: dict[str, str]) -> None:
    """Hazard: a message for each of a million faults, or one step of work for each pair of them."""
    rows = "".join(f"  {name}: {value}\n" for name, value in parts.items())
    _, faults = checked(Small, tree_of(f"title: x\nkind: round\nparts:\n{rows}"))
    assert [fault.place.line for fault in faults] == list(range(4, 4 + MOST_FAULTS + 1))
    assert [fault.code for fault in faults].count(Code.TOO_MANY_FAULTS) == 1
    assert faults[-1].said == f"here and below are {3000 - MOST_FAULTS} faults more"


def test_a_file_says_what_it_is() -> None:
    def said(text: str) -> str | None:
        found = headed(tree_of(text), "small/1", "small file", "file")
        return None if found is None else found.sentence()

    assert said("specrules: small/1") is None
    assert said("a: 1") == (
        f"{FILE}, line 1: this file does not say that it is a small file; write specrules: small/1 on its first line."
    )
    assert said("specrules: small/2") == (
        f'{FILE}, line 1, specrules: "small/2" is no small file that is known here; write small/1.'
    )
    assert said("specrules: [small/1]") == (
        f"{FILE}, line 1, specrules: this is no small file that is known here; write small/1."
    )


@pytest.mark.parametrize(
    ("source", "column"), [("a: 2;5", 5), ("a: '2;5'", 6), ('a: "2\\x3b5"', 4), ("a: |\n  2;5", 4), ("a: [2;5]", 4)]
)
def test_a_character_is_placed_where_the_text_stands_as_it_is(source: str, column: int) -> None:
    (node,) = tree_of(source).values()
    assert placed(node, 1).column == column


@pytest.mark.parametrize(
    ("text", "name"), [("dry fit", "dry_fit"), ("2nd", "_2nd"), ("Ölpumpe 1", "lpumpe_1"), ("-", "")]
)
def test_a_name_is_made_of_a_text(text: str, name: str) -> None:
    assert nearest_name(text) == name


# Anything may stand in a file.

DEMO = Path(__file__).parents[2] / "specrules" / "demo" / "carousel.sheet.yaml"


def without_empty(node: Node) -> Node:
    """A form's empty cells are taken out before its shape is looked at."""
    if isinstance(node, Fields):
        made = fields_at(node.place)
        made.update({key: without_empty(value) for key, value in node.items() if value != ""})
        return made
    return node


SOUND: dict[str, tuple[type[FileModel], str]] = {
    "pack": (pack_file(), BASE),
    "sheet": (SheetFile, DEMO.read_text(encoding="utf-8")),
    "small": (Small, GOOD),
}


def sound(kind: str) -> tuple[type[FileModel], Fields]:
    model, text = SOUND[kind]
    tree, faults = read(text, FILE)
    assert faults == ()
    whole = without_empty(tree or Text())
    assert isinstance(whole, Fields)
    return model, whole


def nodes(node: Node, path: tuple[int | str, ...] = ()) -> Iterator[tuple[tuple[int | str, ...], Node]]:
    """Every node of a tree, with the path to it."""
    yield path, node
    if isinstance(node, Fields):
        for key, value in node.items():
            yield from nodes(value, (*path, key))
    elif isinstance(node, Items):
        for number, item in enumerate(node):
            yield from nodes(item, (*path, number))


@pytest.mark.parametrize("kind", SOUND)
def test_a_sound_file_has_no_fault(kind: str) -> None:
    model, tree = sound(kind)
    made, faults = checked(model, tree)
    assert faults == ()
    assert made is not None
    assert made.place == tree.place


@pytest.mark.second_lane
@pytest.mark.parametrize("kind", SOUND)
def test_a_key_that_a_mapping_does_not_have_is_told_wherever_it_stands(kind: str) -> None:
    """Hazard: a mapping that takes what it does not know, so that a slip in a key passes for a key left out."""
    model, whole = sound(kind)
    closed = [path for path, node in nodes(whole) if isinstance(node, Fields) and model_at(model, path)]
    assert len(closed) > 2
    for path in closed:
        _, tree = sound(kind)
        at = dict(nodes(tree))[path]
        assert isinstance(at, Fields)
        place = Place(FILE, 7777, 7)
        at[Text("zzz", place)] = Text("1", place)
        _, faults = checked(model, tree)
        assert [fault.place for fault in faults if fault.said == '"zzz" is no key here'] == [place]


WORDS = st.sampled_from(["", "yes", "none", "a", "not a name", "limits", "name", "reason", "2.4990", "base", "0", "é"])
PLACE = Place("made-up", 1, 1)


def put_together(made: list[Node] | dict[str, Node]) -> Node:
    if isinstance(made, dict):
        tree = fields_at(PLACE)
        tree.update({Text(key, PLACE): value for key, value in made.items()})
        return tree
    listed = items_at(PLACE)
    listed.extend(made)
    return listed


TREES = st.recursive(
    WORDS.map(lambda word: Text(word, PLACE)),
    lambda inner: (st.lists(inner, max_size=3) | st.dictionaries(WORDS, inner, max_size=3)).map(put_together),
    max_leaves=6,
)


@pytest.mark.second_lane
@pytest.mark.parametrize("kind", SOUND)
@settings(max_examples=100, deadline=None)
@given(data=st.data())
def test_a_broken_file_has_faults_or_is_taken_and_never_raises(kind: str, data: st.DataObject) -> None:
    """What is told stands where the file was broken, or at the thing that lacks what was taken out."""
    model, tree = sound(kind)
    path, _ = data.draw(st.sampled_from([each for each in nodes(tree) if each[0]]))
    holder = dict(nodes(tree))[path[:-1]]
    new = data.draw(TREES)
    holder[path[-1]] = new  # type: ignore[index]  # a list by number, a mapping by key
    made, faults = checked(model, tree)
    assert (made is None) == bool(faults)
    assert {fault.place for fault in faults} <= {
        PLACE, holder.place, *(key.place for key in (holder if isinstance(holder, Fields) else ()) if key == path[-1])
    }  # fmt: skip


@settings(max_examples=100, deadline=None)
@given(tree=TREES)
def test_anything_has_faults(tree: Node) -> None:
    for model, _ in SOUND.values():
        made, faults = checked(model, tree)
        assert made is None
        assert {fault.place for fault in faults} == {PLACE}
