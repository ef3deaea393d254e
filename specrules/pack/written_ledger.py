"""The ledger of packs: each thing as a pack leaves it, held against what the packs below it leave, key by key.

Limits and conditions of rules are held elsewhere, where they count.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from specrules.document import Fields, Place, Text
from specrules.formula import Formula
from specrules.pack.amendable_keys import HEAD, KEYS, TAUGHT, Ground, Weigher
from specrules.pack.layering import Change, Order, Thing
from specrules.pack.pack_model import SECTIONS
from specrules.pack.rule_entries import BOTH
from specrules.pack.specification import LimitLine, Relaxation, Rule, RuleChain
from specrules.validation import FileModel, checked
from specrules.validation.base import key_of
from specrules.vocabulary import Relaxed


def written_entries(
    order: Order, things: Mapping[str, Mapping[str, Thing]], rules: Mapping[str, RuleChain | None], ground: Ground
) -> Iterator[Relaxation]:
    """Every entry that the packs themselves bring, in the order of sections and things."""
    for section, known in things.items():
        if section not in TAUGHT:
            for thing in known.values():
                for change in thing.changes:
                    yield from _of_change(thing, change, order, ground)
    yield from _widened_entries(rules.values())
    yield from _of_headings(order, ground)


def _widened_entries(chains: Iterable[RuleChain | None]) -> Iterator[Relaxation]:
    """Where a pack says that figures of the packs below hold for more than those say, and brings none of its own."""
    for versions in (chain.versions for chain in chains if chain is not None):
        for version in versions[1:]:
            beneath = [each for each in versions if set(each.reasons) < set(version.reasons)]
            lines = {line.name: line for line in beneath[-1].lines}
            for line in version.lines:
                yield from _widened(version, line, lines.get(line.name))


def _widened(version: Rule, line: LimitLine, below: LimitLine | None) -> Iterator[Relaxation]:
    found: dict[tuple[str, str], Relaxation] = {}
    for part, validity in line.holds.items():
        stood = below.holds.get(part) if below is not None else None
        if below is None or stood is None or validity.pack != version.pack or stood.lets_pass(validity):
            continue
        if _figure(below, part) is _figure(line, part):
            found[stood.text, validity.text] = Relaxation(
                code=Relaxed.HOLDS_FOR_MORE,
                section="rules",
                name=version.name,
                title=version.title,
                part="holds for",
                was=stood.text,
                now=validity.text,
                pack=version.pack,
                below=stood.pack,
                reason=dict(version.reasons).get(version.pack, ""),
                place=validity.keys[0].place,
            )
    yield from found.values()


def _figure(line: LimitLine, part: str) -> Formula | None:
    return line.shift if part == "shift" else line.sets.get(part)


def _of_change(thing: Thing, change: Change, order: Order, ground: Ground) -> Iterator[Relaxation]:
    grounds = [each for each in thing.changes if each.pack in order.below[change.pack] and not each.retires]
    below = grounds[-1].pack if grounds else thing.pack
    title = str(thing.base.get(Text("title"), "")) or thing.key.replace("_", " ")

    def entry(code: Relaxed, place: Place, part: str = "", was: str = "", now: str = "") -> Relaxation:
        args = (str(thing.key), title, part, was, now, change.pack, below, change.reason, place)
        return Relaxation(code, thing.section, *args)

    if change.retires:
        if thing.retired(order):
            yield entry(Relaxed.RETIRED, change.key.place)
        return
    model = SECTIONS[thing.section]
    pair = [checked(model, thing.folded(changes))[0] for changes in (grounds, [*grounds, change])]
    one, other = pair
    if one is None or other is None:
        return  # a fault, and told as one
    for key, weighed in KEYS[model].items():
        if isinstance(weighed, Weigher) and weighed.less(one, other, ground):
            was, now = differing(*(getattr(each, key.replace(" ", "_")) for each in pair))
            place = change.parts.get(Text(key), change.key).place
            yield entry(weighed.code, place, key, written(was), written(now))


def _of_headings(order: Order, ground: Ground) -> Iterator[Relaxation]:
    """By what a heading asks less than the strongest one below it that says anything."""
    for pack in order.packs:
        grounds = [each for each in order.packs if each.name in order.below[pack.name]]
        for key, weighed in HEAD.items():
            field = key.replace(" ", "_")
            said = getattr(pack.head, field)
            if not isinstance(weighed, Weigher) or not said or not grounds:
                continue
            under = next((each for each in reversed(grounds) if getattr(each.head, field)), grounds[-1])
            if weighed.less(under.head, pack.head, ground):
                was = written(getattr(under.head, field))
                title = key[:1].upper() + key[1:]
                yield Relaxation(
                    weighed.code, "pack", key, title, key, was, written(said), pack.name, under.name, "", said.place
                )


def differing(was: Any, now: Any) -> tuple[Any, Any]:
    """What is told of two values: of the rows of a table those that are not the same."""
    if not (isinstance(was, Fields) and isinstance(now, Fields)):
        return was, now
    pairs = {
        key: differing(was.get(key, Text("none")), now.get(key, Text("none")))
        for key in {**was, **now}
        if was.get(key) != now.get(key)
    }
    return {key: one for key, (one, _) in pairs.items()}, {key: other for key, (_, other) in pairs.items()}


def written(value: Any) -> str:
    """A value as a pack writes it, in a line."""
    if value is None:
        return ""
    if isinstance(value, Mapping):
        if value.keys() == {BOTH}:
            return written(value[BOTH])
        things = value.items()
        return ", ".join(str(key) if isinstance(each, FileModel) else f"{key}: {written(each)}" for key, each in things)
    if isinstance(value, FileModel):
        fields = value.__class__.model_fields
        parts = ((key_of(name, field), written(getattr(value, name))) for name, field in fields.items())
        return " ".join(f"{key} {text}" for key, text in parts if text)
    if isinstance(value, tuple | list):
        return ("; " if any(isinstance(each, FileModel) for each in value) else ", ").join(map(written, value))
    return str(value)
