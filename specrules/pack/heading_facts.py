"""Headings of packs, and the facts that they name: those that figures hold by, and what worked examples take for
granted."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from specrules.document import shown
from specrules.pack.compiling import Compiler
from specrules.pack.naming import stated
from specrules.pack.pack_reading import Pack
from specrules.pack.specification import Fact, PackHead
from specrules.quantity import Unit
from specrules.vocabulary import Code


def held_by(packs: Sequence[Pack], facts: Mapping[str, Fact], compiler: Compiler) -> tuple[str, ...]:
    """The facts that figures hold by, of all packs. They have to be stated, so none of them may be assumed."""
    subject = "pack figures hold by"
    names = [name for pack in packs for name in pack.head.figures_hold_by]
    for name in names:
        fact = facts.get(name)
        if fact is not None and not fact.choices:
            said = f"{shown(name)} is no choice, and figures hold by choices"
            compiler.fault(name, subject, Code.WRONG_KIND, said, "a fact of choices")
        elif fact is not None and fact.assumed:
            said = f"{shown(name)} is assumed, and what figures hold by has to be stated"
            compiler.fault(name, subject, Code.KEYS_DISAGREE, said, "it without assumed")
    return compiler.known(names, facts, "fact", subject)


def assumed_in_examples(packs: Sequence[Pack], facts: Mapping[str, Fact], compiler: Compiler) -> dict[str, str]:
    """What worked examples and exercises take for facts that they do not state; a pack above has the last word, and
    what using the packs implies is not taken for granted besides."""
    found: dict[str, str] = {}
    for pack in packs:
        for name, value in pack.head.examples_assume.items():
            if compiler.known((name,), facts, "fact", "pack examples assume"):
                stated(value, facts[name], f"pack examples assume {name}", compiler)
                found[str(name)] = str(value)
    implied = {str(name) for pack in packs for name in pack.head.sets}
    return {name: said for name, said in found.items() if name not in implied}


def pack_head(pack: Pack, unit: Unit | None) -> PackHead:
    """What a pack says of itself."""
    head = pack.head
    return PackHead(
        name=head.name,
        version=head.version,
        title=head.title,
        licence=head.licence,
        caution=head.caution,
        unit=unit,
        builds_on=pack.builds_on,
        sets={str(name): str(value) for name, value in head.sets.items()},
        decision=head.decision,
        sha256=pack.sha256,
        file=head.place.file,
        author=head.author,
        changes={str(version): tuple(map(str, said)) for version, said in head.changes.items()},
        grounds=tuple([str(ground.written) for ground in pack.grounds]),
    )
