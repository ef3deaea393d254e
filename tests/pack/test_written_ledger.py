"""The ledger of packs: for every key that a pack may amend, what asks less is told and what asks more is not."""

from __future__ import annotations

from types import UnionType
from typing import Annotated, Any, Union, get_args, get_origin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.pack import Relaxation
from specrules.pack.amendable_keys import HEAD, KEYS, TAUGHT, WORDS
from specrules.pack.entries import HeadEntry, SourcedSizeEntry, WayEntry
from specrules.pack.line_entries import PackLineEntry
from specrules.pack.pack_model import SECTIONS, Amendment, amended
from specrules.pack.strictness import laxer
from specrules.validation import FileModel
from specrules.validation.base import fields_of, keys_of
from specrules.vocabulary import DECISION_RULES, Relaxed
from tests.pack.small_packs import BASE, resolved, upper

NEVER_AMENDED = {"axes"}


def models_in(kind: Any) -> set[type[FileModel]]:
    """The models that a field's type holds."""
    if isinstance(kind, type) and issubclass(kind, FileModel):
        return {kind}
    inner = get_args(kind) if get_origin(kind) in (Annotated, Union, UnionType, tuple, dict) else ()
    return set().union(*map(models_in, inner))


def weighed_models() -> dict[str, type[FileModel]]:
    """Every model whose keys a verdict may hang on: the sections', and those inside keys that are more than words."""
    found = {key: model for key, model in SECTIONS.items() if key not in NEVER_AMENDED}
    waiting = [model for key, model in found.items() if key not in TAUGHT]
    while waiting:
        model = waiting.pop()
        for key, field in fields_of(model) if model in KEYS else ():
            if KEYS[model].get(key) not in (None, WORDS):
                for inner in models_in(field.annotation):
                    if inner not in found.values():
                        found[inner.__name__] = inner
                        waiting.append(inner)
    return found


@pytest.mark.parametrize("name", [*SECTIONS])
def test_of_every_key_that_may_be_amended_it_is_decided_when_it_asks_less(name: str) -> None:
    """A new key of a pack fails here until that is decided, or said not to matter."""
    if name in NEVER_AMENDED:
        return
    model = SECTIONS[name]
    assert set(KEYS[model]) == set(keys_of(amended(model))) - set(keys_of(Amendment))


def test_what_lies_deeper_and_the_headings_are_decided_too() -> None:
    deeper = {name: model for name, model in weighed_models().items() if name not in SECTIONS}
    assert set(deeper.values()) == {PackLineEntry, SourcedSizeEntry, WayEntry}
    for model in deeper.values():
        if model not in (WayEntry, SourcedSizeEntry):  # those are added or replaced whole, and never amended
            assert set(KEYS[model]) == set(keys_of(model))
    assert set(HEAD) == set(keys_of(HeadEntry))


def entries(amend: str, more: str = "") -> list[Relaxation]:
    """The ledger of a pack that amends the small one."""
    return list(resolved(BASE, upper("upper", amend, more=more)).ledger)


def told(amend: str) -> list[tuple[str, str, str, str]]:
    return [(each.code.value, each.part, each.was, each.now) for each in entries(amend)]


def change(section: str, name: str, text: str) -> str:
    return f"  {section}:\n    {name}: {{reason: Because., {text}}}\n"


LESS = {
    "a rule retired": ("rules", "fit", "retire: yes", "retired", "", "", ""),
    "a sign-off retired": ("sign-offs", "clean", "retire: yes", "retired", "", "", ""),
    "an operation retired": ("operations", "hone", "retire: yes", "retired", "", "", ""),
    "no needs": ("rules", "fit", "needs: []", "needs less", "needs", "clean", ""),
    "one importance": (
        *("rules", "fit", "importance: {loose: minor}", "importance lowered", "importance"),
        *("tight: critical, loose: critical if coated == yes else minor", "tight: critical, loose: minor"),
    ),
    "a later hold point": (
        *("rules", "fit", "hold point: first_start", "waited for later", "hold point", "dry_fit", "first_start"),
    ),
    "negative values allowed": (
        *("rules", "share", "may be negative: yes", "figures less doubted", "may be negative"),
        *("material == aluminium", "yes"),
    ),
    "a sign-off asked once for all": ("sign-offs", "clean", "at: []", "fewer readings asked for", "at", "place", ""),
    "a sign-off asked less often": (
        *("sign-offs", "clean", "applies when: work == new", "judged less often", "applies when", "", "work == new"),
    ),
    "a sign-off less grave": (
        *("sign-offs", "clean", "importance: minor", "importance lowered", "importance", "", "minor"),
    ),
    "another question": (
        *("sign-offs", "clean", "question: Is it there?", "asked or worked out otherwise", "question"),
        *("Is it clean?", "Is it there?"),
    ),
    "usual sizes widened": (
        *("measurands", "hole", "usual: 0.1..100", "figures less doubted", "usual", "1.5..4.5", "0.1..100"),
    ),
    "usual sizes moved": (
        *("measurands", "shaft", "usual: 31..121 mm", "figures less doubted", "usual", "30..120 mm", "31..121 mm"),
    ),
    "another gauge": (
        *("measurands", "hole", "gauge classes: [tape, bore gauge]", "read by other gauges", "gauge classes"),
        *("bore gauge", "tape, bore gauge"),
    ),
    "fewer repeats": (
        *("measurands", "shaft", "repeats: 1", "fewer readings asked for", "repeats", "2", "1"),
    ),
    "how it expands": (
        *("measurands", "shaft", "expands: 0.00001 / (1 degC_difference)", "asked or worked out otherwise", "expands"),
        *("", "0.00001 / (1 degC_difference)"),
    ),
    "a fact assumed": (
        *("facts", "material", "assumed: iron", "assumed without being stated", "assumed", "", "iron"),
    ),
    "a choice more": (
        *("facts", "work", "choices: [new, refresh, none]", "asked or worked out otherwise", "choices"),
        *("new, refresh", "new, refresh, none"),
    ),
    "a gauge said to be surer": (
        *("gauge classes", "bore gauge", "mpe: 0.0000001 in", "gauge said to be surer", "mpe"),
        *("0.0001 in", "0.0000001 in"),
    ),
    "a finer gauge": (
        *("gauge classes", "bore gauge", "resolution: 0.001 mm", "gauge said to be surer", "resolution"),
        *("0.0001 in", "0.001 mm"),
    ),
    "a gauge said to be surer over some sizes": (
        *("gauge classes", "bore gauge", "by size: [{over: 0 mm, to: 50 mm, mpe: 0.001 mm}]"),
        *("gauge said to be surer", "by size", "", "over 0 mm to 50 mm mpe 0.001 mm"),
    ),
    "a gauge of another way of reading": (
        *("gauge classes", "bore gauge", "reads: goes", "asked or worked out otherwise", "reads", "", "goes"),
    ),
    "a further way": (
        *("figures", "clearance", "ways: {taken: 2 * (card_shaft - mean(shaft))}", "one more way to a figure", "ways"),
        *("two sizes, stated", "two sizes, stated, taken"),
    ),
    "less made stale": (
        *("operations", "hone", "makes stale: [clean]", "work makes less stale", "makes stale", "hole, clean", "clean"),
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", LESS.values(), ids=LESS)
def test_what_asks_less_is_told(case: tuple[str, ...]) -> None:
    section, name, text, *expected = case
    tape = "gauge classes:\n  tape: {resolution: 1 mm, mpe: 1 mm, source: {kind: from memory}}\n"
    found = entries(change(section, name, text), tape if "tape" in text else "")
    if name == "clean" and "retire" in text:
        found = [each for each in found if each.name == "clean"]
    (entry,) = found
    assert [entry.code.value, entry.part, entry.was, entry.now] == expected
    assert (entry.section, entry.name, entry.pack, entry.below, entry.reason) == (
        section,
        name,
        "upper",
        "base",
        "Because.",
    )
    assert (entry.place.file, entry.place.line) == ("pack1.yaml", 7 if "tape" in text else 5)


MORE = {
    "needs more": ("rules", "fit", "needs: [clean, share]"),
    "graver": ("rules", "fit", "importance: {loose: critical}"),
    "earlier": ("sign-offs", "clean", "hold point: dry_fit"),
    "never negative": ("rules", "share", "may be negative: no"),
    "the same": ("rules", "fit", "needs: [clean], hold point: dry_fit"),
    "usual sizes narrowed": ("measurands", "hole", "usual: 2..4"),
    "usual sizes in another unit": ("measurands", "hole", "usual: 38.1..114.3 mm"),
    "usual sizes where there were none": ("measurands", "stand", "usual: 1..2"),
    "more repeats": ("measurands", "shaft", "repeats: 3"),
    "a worse gauge": ("gauge classes", "bore gauge", "mpe: 0.0001 in and 1 percent"),
    "a worse gauge over some sizes": ("gauge classes", "bore gauge", "by size: [{over: 0 mm, to: 50 mm, mpe: 1 mm}]"),
    "checked more often": ("gauge classes", "bore gauge", "days between checks: 30"),
    "more made stale": ("operations", "hone", "makes stale: [hole, clean, shaft]"),
    "words": ("rules", "fit", "title: A fit, note: None, caution: Look., because: {tight: It stops.}"),
    "limits, which are held where they count": ("rules", "fit", "limits: [{name: base, most: 0.1 in}]"),
}


@pytest.mark.parametrize(("section", "name", "text"), MORE.values(), ids=MORE)
def test_what_asks_as_much_or_more_is_not_told(section: str, name: str, text: str) -> None:
    assert told(change(section, name, text)) == []


def test_a_heading_that_asks_less_is_told() -> None:
    more = ", decision: simple, wear when: 0 == 0}}"
    text = upper("upper", "").replace("}", more.replace("}}", "}"), 1)
    found = [(each.code.value, each.part, each.was, each.now) for each in resolved(BASE, text).ledger]
    assert found == [
        ("wear limits count more often", "wear when", "work == refresh", "0 == 0"),
        ("laxer decision rule", "decision", "", "simple"),
    ]


def test_each_pack_answers_for_itself_alone() -> None:
    middle = upper("middle", change("rules", "fit", "needs: []"))
    top = upper("top", change("rules", "fit", "hold point: first_start"), on="middle")
    found = [(each.pack, each.below, each.part) for each in resolved(BASE, middle, top).ledger]
    assert found == [("middle", "base", "needs"), ("top", "middle", "hold point")]


@given(st.sampled_from([*DECISION_RULES]), st.sampled_from([*DECISION_RULES]), st.sampled_from([*DECISION_RULES]))
def test_decision_rules_are_in_one_order_of_laxness(one: str, other: str, third: str) -> None:
    assert not (laxer(one, other) and laxer(other, one))
    assert not (laxer(one, other) and laxer(other, third)) or laxer(one, third)
    assert one == "simple" or laxer(one, "simple")


def test_every_code_of_packs_is_shown_by_a_case() -> None:
    """What only stations and files show is tested with them."""
    shown = {case[3] for case in LESS.values()} | {"wear limits count more often", "laxer decision rule"}
    elsewhere = {
        Relaxed.LIMIT_WIDENED,
        Relaxed.MAKERS_LIMITS,
        Relaxed.SAME_NAME,
        Relaxed.HOLDS_FOR_MORE,
        Relaxed.LEFT_OUT,
    }
    assert shown | {each.value for each in elsewhere} == {each.value for each in Relaxed}
