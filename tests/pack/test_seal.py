"""The seal of a specification: the same for the same specification however it is written, another for any change."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass, replace
from decimal import Decimal
from enum import Enum
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.document import Place
from specrules.pack import Specification
from specrules.pack.pack_reading import read_pack
from specrules.pack.resolving import resolve
from specrules.pack.seal import LEFT_OUT, seal_of
from specrules.plan import Plan, keep, restore
from specrules.quantity import Unit
from tests.pack.small_packs import BASE, resolved, upper

SPEC = resolved(BASE)
HEAD, BODY = BASE.split("axes:\n", 1)
REST, LAST = BODY.split("operations:")


def sealed(*files: tuple[str, str]) -> str:
    """The seal of one pack in these files."""
    pack, faults = read_pack([(name, text.encode()) for name, text in files])
    assert pack is not None, [fault.sentence() for fault in faults]
    made, faults = resolve([pack], [pack.name])
    assert made is not None, [fault.sentence() for fault in faults]
    return made.seal


def in_two(first: str, second: str) -> str:
    """The same pack in two files, which are read in the order of these names."""
    things, rules = BASE.split("rules:\n", 1)
    more = "specrules: tolerance-pack/1\nrules:\n" + rules
    return sealed(*sorted([(first, things), (second, more)]))


def but(*pairs: tuple[str, str]) -> str:
    """The pack with some texts changed."""
    text = BASE
    for old, new in pairs:
        assert old in text
        text = text.replace(old, new)
    return text


SAME = {
    "comments": but(("rules:\n", "# the rules\nrules:  # are here\n")),
    "blanks": but(("0.0007 * size", "0.0007*size"), ("{names: [front, rear]}", "\n    names: [front, rear]")),
    "a number written otherwise": but(("0.0015 in", "0.00150 in")),
    "words": but(("It seizes.", "It stops."), ("Measure cold.", "Measure warm."), ("the larger hole", "a larger hole")),
    "titles and sources": but(("Fit of shaft and hole", "Fit"), ("a thou an inch", "a thou")),
    "sections in another order": f"{HEAD}operations:{LAST}axes:\n{REST}",
    "a new version": but(('version: "1.0"', 'version: "1.1"')),
}


@pytest.mark.parametrize("text", SAME.values(), ids=SAME)
def test_how_it_is_written_does_not_change_the_seal(text: str) -> None:
    assert text != BASE
    assert sealed(("base.pack.yaml", text)) == SPEC.seal


def test_files_and_their_order_do_not_change_the_seal() -> None:
    assert in_two("a.pack.yaml", "b.pack.yaml") == in_two("b.pack.yaml", "a.pack.yaml") == SPEC.seal


OTHER = {
    "a limit": ("0.0015 in", "0.0016 in"),
    "the places of no matter, the value of some": ("most: 0.0014 * size", "most: 0.0015 * size"),
    "a condition": ("when: material == aluminium", "when: material == iron"),
    "where it applies": ("applies when: work == new", "applies when: work == refresh"),
    "a figure of a gauge": ("mpe: 0.0001 in", "mpe: 0.0002 in"),
    "usual sizes": ("usual: 1.5..4.5", "usual: 1.5..5"),
    "an importance": ("tight: critical", "tight: major"),
    "a need": ("    needs: [clean]\n", ""),
    "a hold point": ("hold point: dry_fit", "hold point: first_start"),
    "when wear counts": ("wear when: work == refresh", "wear when: work == new"),
    "an assumption": ("assumed: no", "assumed: yes"),
    "repeats": ("repeats: 2", "repeats: 3"),
    "what work makes stale": ("makes stale: [hole, clean]", "makes stale: [hole]"),
    "a way": ("card: card_shaft", "card: 1.0 * card_shaft"),
}


@pytest.mark.parametrize(("old", "new"), OTHER.values(), ids=OTHER)
def test_what_is_judged_by_changes_the_seal(old: str, new: str) -> None:
    assert BASE.count(old) >= 1
    assert sealed(("base.pack.yaml", BASE.replace(old, new))) != SPEC.seal


def test_a_pack_that_changes_nothing_leaves_the_seal() -> None:
    again = upper("again", "  rules:\n    fit: {reason: Again., hold point: dry_fit}\n")
    assert resolved(BASE, again).seal == SPEC.seal
    tighter = upper("tighter", "  rules:\n    fit: {reason: Less., limits: [{name: base, most: 0.0012 * size}]}\n")
    assert resolved(BASE, tighter).seal != SPEC.seal


def test_packs_of_equal_say_are_in_no_order() -> None:
    one, other = (
        upper(name, f"  rules:\n    fit: {{reason: So., limits: [{{name: base, most: {most} * size}}]}}\n")
        for name, most in (("one", "0.0012"), ("other", "0.0013"))
    )
    assert (
        resolved(BASE, one, other, asked=["one", "other"]).seal
        == resolved(BASE, one, other, asked=["other", "one"]).seal
    )


def test_a_plan_keeps_its_seal() -> None:
    kept = restore("key", keep("key", Plan(SPEC, frozenset())), lambda _: SPEC.scope.functions)
    assert kept is not None
    assert kept.specification.seal == SPEC.seal == seal_of(kept.specification)


def parts(thing: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """The path to every text, number and truth that a specification judges by."""
    if isinstance(thing, Mapping):
        for key, value in thing.items():
            yield from parts(value, (*path, key))
    elif isinstance(thing, tuple) and not hasattr(thing, "_fields"):
        for number, value in enumerate(thing):
            yield from parts(value, (*path, number))
    elif is_dataclass(thing) or hasattr(thing, "_fields"):
        if isinstance(thing, Unit | Place):
            return
        for name in names_of(thing):
            if name not in LEFT_OUT.get(type(thing), ()):
                yield from parts(getattr(thing, name), (*path, f".{name}"))
    elif isinstance(thing, bool | int | Decimal) or (isinstance(thing, str) and not isinstance(thing, Enum)):
        yield path


def names_of(thing: Any) -> list[str]:
    return [each.name for each in fields(thing) if each.init] if is_dataclass(thing) else list(thing._fields)


def changed(thing: Any, path: tuple[Any, ...]) -> Any:
    """The same with the part at a path made another."""
    if not path:
        return not thing if isinstance(thing, bool) else f"{thing}x" if isinstance(thing, str) else thing + 1
    step, *rest = path
    if isinstance(thing, Mapping):
        return {key: changed(value, tuple(rest)) if key == step else value for key, value in thing.items()}
    if isinstance(step, int):
        return tuple(changed(each, tuple(rest)) if number == step else each for number, each in enumerate(thing))
    name = step[1:]
    value = changed(getattr(thing, name), tuple(rest))
    made: Any = replace(thing, **{name: value}) if is_dataclass(thing) else thing._replace(**{name: value})  # type: ignore[type-var]
    return made


PATHS = list(parts(SPEC))


@given(st.sampled_from(PATHS))
def test_any_part_that_is_judged_by_changes_the_seal(path: tuple[Any, ...]) -> None:
    made: Specification = changed(SPEC, path)
    assert seal_of(made) != SPEC.seal


def test_there_are_many_such_parts() -> None:
    assert len(PATHS) > 300


def test_what_is_left_out_are_fields_that_there_are() -> None:
    """A name in the list that no part has would leave nothing out; the words that all parts share are looked for."""
    for kind, names in LEFT_OUT.items():
        known = {each.name for each in fields(kind)} if is_dataclass(kind) else set(kind._fields)  # type: ignore[attr-defined]
        assert known & set(names) or not names, kind
