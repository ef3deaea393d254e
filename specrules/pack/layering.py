"""Which packs apply, weakest first, and what each of them makes of every named thing."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import accumulate
from typing import NamedTuple

from specrules.document import MOST_FAULTS, Fault, Fields, Items, Node, Place, Text, shown
from specrules.document.text import NOWHERE, fields_at, items_at, texts_in
from specrules.pack.merging import NOT_PARTS, leaves, long_form, merged, overlap, without
from specrules.pack.pack_model import SECTIONS
from specrules.pack.pack_reading import Pack
from specrules.pack.rule_entries import MarginEntry
from specrules.pack.work_budget import BUDGET
from specrules.quantity import nearest
from specrules.vocabulary import Code

JUDGED = frozenset(
    {
        "limits",
        "holds for",
        "importance",
        "hold point",
        "applies when",
        "needs",
        "from the maker",
        "may be negative",
    }
)
"""Parts of a rule that a verdict stands on: of the others (titles, cautions, notes) the last one said stands."""


WORD = re.compile(r"[A-Za-z_][A-Za-z0-9_]*")
LONGEST_NAME = 100
"""A word of more letters counts as no name where it is asked what names what: looking takes as long as its square."""


class Order(NamedTuple):
    """The packs, weakest first, and for each the names of those that it builds on, directly or not."""

    packs: tuple[Pack, ...]
    below: Mapping[str, frozenset[str]]

    def strangers(self, one: str, other: str) -> bool:
        """Whether neither of two packs builds on the other."""
        return one != other and one not in self.below[other] and other not in self.below[one]


def ordered(packs: Sequence[Pack], asked: Sequence[str]) -> tuple[Order | None, tuple[Fault, ...]]:
    """The packs asked for and all that they build on. An unknown one and a loop are faults."""
    known = {pack.name: pack for pack in packs}
    below: dict[str, frozenset[str]] = {}
    done: list[Pack] = []
    begun: set[str] = set()
    faults: list[Fault] = []

    def visit(name: str, path: tuple[str, ...]) -> None:
        if name in path:
            loop = " builds on ".join((*path[path.index(name) :], name))
            faults.append(Fault(_place(name), "pack", Code.CIRCULAR, f"the packs go in a circle: {loop}", "", "pack"))
        elif name not in known:
            said = f"{shown(name)} is no pack that was found"
            faults.append(Fault(_place(name), "pack", Code.UNKNOWN_NAME, said, nearest(name, known) or "", "pack"))
        elif name not in below and len(begun) >= BUDGET.packs:
            said = f"more than {BUDGET.packs} packs build one on another"
            faults.append(Fault(_place(name), "pack", Code.TOO_MANY, said, "fewer of them", "pack"))
        elif name not in below:
            begun.add(name)
            for ground in known[name].grounds:
                visit(ground.name, (*path, name))
                if (there := known.get(ground.name)) is not None:
                    wrong = ground.wrong(there.head.version, there.head.place.file)
                    faults.extend(() if wrong is None else (wrong,))
            grounds = known[name].builds_on
            below[name] = frozenset(grounds).union(*(below.get(ground, ()) for ground in grounds))
            done.append(known[name])

    for name in asked:
        visit(name, ())
    return (None, tuple(dict.fromkeys(faults))) if faults else (Order(tuple(done), below), ())


def _place(name: str) -> Place:
    return name.place if isinstance(name, Text) else NOWHERE


def too_much_amended(rules: Mapping[str, Thing]) -> Fault | None:
    """The fault of amendments that are more than the work budget has, at the rule with most of them."""
    total = sum(len(rule.changes) ** 2 for rule in rules.values())
    if total <= BUDGET.amendments:
        return None
    rule = max(rules.values(), key=lambda each: len(each.changes))
    said = (
        f"is amended by {len(rule.changes)} packs; the amendments of all rules, each times those of the same rule,"
        f" come to {total:,}, more than the {BUDGET.amendments:,} allowed"
    )
    return Fault(rule.changes[-1].key.place, str(rule.key), Code.TOO_MANY, said, "them in one pack", "pack")


class Change(NamedTuple):
    """What one pack amends in a thing."""

    pack: str
    key: Text
    parts: Fields
    reason: Text
    worked: Items | None
    retires: bool
    margins: tuple[MarginEntry, ...] = ()


class Thing(NamedTuple):
    """A named thing: as it was defined, and every change to it, weakest first."""

    section: str
    key: Text
    pack: str
    base: Fields
    changes: tuple[Change, ...]

    @property
    def reasons(self) -> tuple[tuple[str, str], ...]:
        """Each pack that amends it, with its reason."""
        return tuple((change.pack, str(change.reason)) for change in self.changes)

    @property
    def last(self) -> str:
        """The pack that wrote it, or amended it last."""
        return self.changes[-1].pack if self.changes else self.pack

    def words(self) -> set[str]:
        """Every text in it, or in a change to it, and every word of each, but those that are too long for a name."""
        texts = [text for tree in (self.base, *(change.parts for change in self.changes)) for text in texts_in(tree)]
        return {word for text in texts for word in (text, *WORD.findall(text)) if len(word) <= LONGEST_NAME}

    def retired(self, order: Order) -> bool:
        """Whether it is dropped: no pack that knows nothing of that still works with it."""
        kept = [change.pack for change in self.changes if not change.retires]
        gone = [change.pack for change in self.changes if change.retires]
        return any(not any(order.strangers(pack, other) for other in kept) for pack in gone)

    def clashing(self, order: Order) -> tuple[Change, ...]:
        """Changes that set the same part differently, neither pack building on the other, none above settling it."""
        kept = [change for change in self.changes if not change.retires]
        found: list[Change] = []
        for number, one in enumerate(kept):
            for other in kept[number + 1 :]:
                if order.strangers(one.pack, other.pack) and self._clash(one, other, kept, order):
                    found += [one, other]
        return tuple(change for change in kept if change in found)

    def _clash(self, one: Change, other: Change, kept: list[Change], order: Order) -> bool:
        above = [c for c in kept if {one.pack, other.pack} <= order.below[c.pack]]
        settled = [path for change in above for path, _ in leaves(change.parts)]
        return any(
            overlap(path, its_path) and node != its and path not in settled
            for path, node in leaves(one.parts)
            if self.section != "rules" or path[0] in JUDGED
            for its_path, its in leaves(other.parts)
        )

    def folded(self, changes: Sequence[Change]) -> Fields:
        """The thing with these changes; the worked examples are those of the last one that had a say."""
        if not changes:
            return self.base
        made = long_form(without(self.base, NOT_PARTS))
        for change in changes:
            both = merged(made, change.parts)
            made = both if isinstance(both, Fields) else made
        if changes[-1].worked is not None:
            made[Text("worked", changes[-1].worked.place)] = changes[-1].worked
        return made


def gathered(order: Order) -> tuple[dict[str, dict[str, Thing]], tuple[Fault, ...], frozenset[str]]:
    """Every thing of every section with its changes, and the names of those at fault. Two definitions, and amendments
    that hit nothing, are faults."""
    things: dict[str, dict[str, Thing]] = {section: {} for section in SECTIONS}
    faults: list[Fault] = []
    at_fault = set[str]().union(*(pack.left_out for pack in order.packs))
    left_out = frozenset(at_fault)
    for pack in order.packs:
        if len(faults) >= MOST_FAULTS:
            break
        for section, known in things.items():
            for key, base in pack.sections[section].items():
                if (first := known.get(key)) is not None:
                    place = first.key.place
                    said = f"is defined already, by the pack {first.pack} ({place.file}, line {place.line})"
                    write = f"it under amend, {section}"
                    faults.append(Fault(key.place, str(key), Code.DEFINED_TWICE, said, write, "pack"))
                    at_fault.add(str(key))
                else:
                    known[str(key)] = Thing(section, key, pack.name, base, ())
            for key, parts in pack.amends[section].items():
                if key in left_out:
                    continue
                fault = _missed(pack, section, key, known, order) if len(faults) < MOST_FAULTS else None
                if fault is not None:
                    faults.append(fault)
                if fault is not None or key not in known:
                    continue
                thing = known[key]
                change = _change(pack.name, key, parts)
                wrong = _labels_changed(thing, change, order) if section == "axes" else _ways_changed(thing, change)
                faults += wrong
                at_fault.update({str(key)} if wrong else ())
                known[str(key)] = Thing(section, thing.key, thing.pack, thing.base, (*thing.changes, change))
        faults += _drawn_in(pack, things["rules"], order, left_out)
    for section, known in things.items():
        for name, thing in known.items() if section != "rules" else ():
            if clashing := thing.clashing(order):
                others = " and ".join(change.pack for change in clashing)
                said = f"the packs {others} set it differently, and neither builds on the other"
                faults.append(Fault(clashing[-1].key.place, name, Code.PACKS_DISAGREE, said, "", "pack"))
                at_fault.add(name)
    return things, tuple(faults), frozenset(at_fault)


def naming_none(
    things: Mapping[str, Mapping[str, Thing]], names: Collection[str]
) -> tuple[dict[str, dict[str, Thing]], set[str]]:
    """The things in which none of these names stands, nor one that is made of them as wall_thin is of the table wall,
    nor that of a thing in which one does; and all of those names.

    What is wrong with the rest is wrong whatever is said of these."""
    every = [(name, thing) for known in things.values() for name, thing in known.items()]
    users: dict[str, set[str]] = {name: set() for name in (*names, *(name for name, _ in every))}
    for name, thing in every:
        for word in thing.words():
            for stem in accumulate(word.split("_"), "{}_{}".format):
                if stem in users:
                    users[stem].add(name)
    gone, waiting = set(names), [*names]
    while waiting:
        new = users[waiting.pop()] - gone
        gone |= new
        waiting += new
    return {s: {n: thing for n, thing in known.items() if n not in gone} for s, known in things.items()}, gone


def _drawn_in(pack: Pack, rules: dict[str, Thing], order: Order, left_out: Collection[str]) -> Iterator[Fault]:
    """Add a pack's margins to the rules that they are on, to its amendments where it has any; what is wrong of them."""
    for margin in pack.margins:
        for name in (each for each in margin.on if each not in left_out):
            fault = _missed(pack, "rules", name, rules, order)
            if fault is not None:
                yield fault
                continue
            thing = rules[name]
            mine = thing.changes[-1] if thing.changes and thing.changes[-1].pack == pack.name else None
            if mine is not None and (mine.margins or mine.retires):
                said = "is retired by this pack" if mine.retires else "has a margin of this pack already"
                yield Fault(name.place, f"margins {name}", Code.DEFINED_TWICE, said, "one of the two", "pack")
                continue
            change = mine or Change(pack.name, name, fields_at(margin.place), margin.reason, None, False)
            others = thing.changes[: len(thing.changes) - (mine is not None)]
            rules[name] = thing._replace(changes=(*others, change._replace(margins=(margin,))))


def _change(pack: str, key: Text, parts: Fields) -> Change:
    worked, reason, retire = (parts.get(Text(word)) for word in ("worked", "reason", "retire"))
    return Change(
        pack,
        key,
        long_form(without(parts, NOT_PARTS)),
        reason if isinstance(reason, Text) else Text(),
        worked if isinstance(worked, Items) else None,
        retire == "yes",
    )


def _missed(pack: Pack, section: str, key: Text, known: Mapping[str, Thing], order: Order) -> Fault | None:
    """Why an amendment hits nothing, or None where it does hit."""
    ground = order.below[pack.name]
    thing = known.get(key)
    if thing is not None and thing.pack == pack.name:
        said = "is defined in this pack itself"
        return Fault(key.place, str(key), Code.WRONG_AMENDMENT, said, f"the change under {section}", "pack")
    if thing is not None and thing.pack in ground:
        gone = next((c for c in thing.changes if c.retires and c.pack in ground), None)
        if gone is None:
            return None
        said = f"is amended here, and the pack {gone.pack} retired it"
        return Fault(key.place, str(key), Code.WRONG_AMENDMENT, said, "", "pack")
    offered = nearest(key, (name for name, each in known.items() if each.pack in ground))
    said = f"amends nothing: no pack below has it among its {section}"
    return Fault(key.place, str(key), Code.AMENDS_NOTHING, said, offered or "", "pack")


def _labels_changed(thing: Thing, change: Change, order: Order) -> list[Fault]:
    """Labels may be added to an axis that has its own, anywhere among them; none is taken away, moved or counted by
    another fact."""
    below = thing.folded([each for each in thing.changes if each.pack in order.below[change.pack]])
    faults: list[Fault] = []
    for word in ("names", "kinds"):
        there, more = (_listed(of.get(Text(word))) for of in (below, change.parts))
        if more is None:
            continue
        subject, place = f"{thing.key} {word}", more.place
        if there is None:
            by = next((key for key in ("count", "labels", "groups", "kinds", "names") if Text(key) in below), "names")
            said = f"has no {word} to add to; its labels are by {by}"
            write = f"{by}: under it" if by in ("names", "kinds") else "an axis of its own"
            write = f"of: under amend, facts, {below[Text(by)]}" if by == "labels" else write
            faults.append(Fault(place, subject, Code.WRONG_AMENDMENT, said, write, "pack"))
        elif isinstance(there, Fields) and isinstance(more, Fields):
            moved = [kind for kind, fact in more.items() if there.get(kind, fact) != fact]
            said = "stands already, and another fact cannot count it"
            faults += [
                Fault(k.place, f"{subject} {k}", Code.WRONG_AMENDMENT, said, "another name", "pack") for k in moved
            ]
        elif isinstance(there, Items) and [*dict.fromkeys(each for each in more if each in there)] != [*there]:
            names = ", ".join(str(name) for name in there)
            said = f"does not have the labels of the packs below it, in their order: {names}"
            write = "all of them, and its own between"
            faults.append(Fault(place, subject, Code.WRONG_AMENDMENT, said, write, "pack"))
    return faults


def _listed(node: Node | None) -> Node | None:
    """A text that stands for a list of one, as that list."""
    if not isinstance(node, Text):
        return node
    made = items_at(node.place)
    made.append(node)
    return made


def _ways_changed(thing: Thing, change: Change) -> list[Fault]:
    """Ways may be added, never changed: a way is a formula."""
    ways, more = thing.folded(thing.changes).get(Text("ways")), change.parts.get(Text("ways"))
    if not (isinstance(ways, Fields) and isinstance(more, Fields)):
        return []
    said = "stands already, and a formula cannot be amended"
    again = (name for name in more if name in ways)
    return [
        Fault(name.place, f"{thing.key} ways {name}", Code.WRONG_AMENDMENT, said, "another name", "pack")
        for name in again
    ]
