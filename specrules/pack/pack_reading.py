"""One pack from its file or files: every fault of all of them in one run, two definitions of one thing among them."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from hashlib import sha256
from types import MappingProxyType
from typing import NamedTuple

from specrules.document import Fault, Fields, Node, Place, Text, read, shown
from specrules.document.text import fields_at
from specrules.pack.entries import HeadEntry
from specrules.pack.grounds import PackGround, read_ground
from specrules.pack.line_entries import Holds
from specrules.pack.pack_model import HEADER, SECTIONS, FileEntry, misplaced, pack_file
from specrules.pack.rule_entries import MarginEntry
from specrules.pack.specification import PLAIN_NAME
from specrules.pack.table_files import SUFFIX, TableFile, beside, take_rows
from specrules.validation import checked, fits
from specrules.validation.base import keys_of
from specrules.vocabulary import Code

AMEND, SPECRULES, TABLES = Text("amend"), Text("specrules"), Text("tables")
SOME_NAME = Text("name")
Things = Mapping[Text, Fields]
"""Named things of one section, as they were written."""


class ReadFile(NamedTuple):
    """One file of a pack, read: its tree, the hash of its bytes, and whether its tables have all their rows."""

    file: str
    tree: Fields
    sha256: str
    filled: bool


class Pack(NamedTuple):
    """One pack as it was written: the shape is right, the meaning is still to be checked.

    `left_out`: names of things that are not in it since they are at fault. A pack at fault is never used; it is only
    read on for more faults.
    """

    name: str
    head: HeadEntry
    sections: Mapping[str, Things]
    amends: Mapping[str, Things]
    hold_points: tuple[Text, ...]
    groups: Mapping[str, str]  # file -> the heading that its rules print under
    conditions: Mapping[str, Text]  # file -> when there is what prints under its heading
    holds: Mapping[str, Holds]  # file -> what the figures in it hold for
    files: tuple[str, ...]
    sha256: str
    grounds: tuple[PackGround, ...] = ()
    margins: tuple[MarginEntry, ...] = ()
    left_out: frozenset[str] = frozenset()

    @property
    def builds_on(self) -> tuple[Text, ...]:
        """The packs that it names as its ground."""
        return tuple([ground.name for ground in self.grounds])


def read_pack(files: Sequence[tuple[str, bytes]]) -> tuple[Pack | None, tuple[Fault, ...]]:
    """One pack from its files, as (name to show, bytes), those of its tables among them. Every fault of all of them.

    Where there are faults and a pack, resolving it tells the rest of the faults; it must not be used.
    """
    sources: list[ReadFile] = []
    faults: list[Fault] = []
    tables = beside(files)
    used: dict[str, TableFile] = {}
    texts = [(file, raw) for file, raw in files if not file.endswith(SUFFIX)]
    for file, raw in texts:
        tree, found = read(raw, file, kind="pack")
        faults += found
        if tree is not None:
            wrong = tuple(take_rows(tree.get(TABLES, Text()), tables, used))
            faults += wrong
            sources.append(ReadFile(file, tree, sha256(raw).hexdigest(), not wrong))
    pack, found = _pack_of(sources, [used[name] for name in sorted(used)], whole=len(sources) == len(texts))
    return pack, (*faults, *found)


def _pack_of(
    sources: Sequence[ReadFile], tables: Sequence[TableFile], *, whole: bool
) -> tuple[Pack | None, tuple[Fault, ...]]:
    """One pack from the trees of its files. Not `whole`: a file is missing, so nothing is said of what isn't there."""
    faults: list[Fault] = []
    sections: dict[str, dict[Text, Fields]] = {key: {} for key in SECTIONS}
    amends: dict[str, dict[Text, Fields]] = {key: {} for key in SECTIONS}
    heads: list[tuple[Text, HeadEntry]] = []
    hold_points: list[tuple[Text, tuple[Text, ...]]] = []
    groups: dict[str, str] = {}
    margins: list[MarginEntry] = []
    conditions: dict[str, Text] = {}
    holds: dict[str, Holds] = {}
    firsts: dict[tuple[int, str], Text] = {}
    left_out: set[str] = set()
    for source in sources:
        model, tree, found = _shape(source, left_out)
        faults += found
        if model is None:
            whole = False
            continue
        keys = {str(key): key for key in tree}
        if model.pack is not None:
            heads.append((keys["pack"], model.pack))
        if "hold points" in keys:
            hold_points.append((keys["hold points"], model.hold_points))
        groups[source.file], holds[source.file] = model.group, model.holds_for
        margins += model.margins
        if model.applies_when:
            conditions[source.file] = model.applies_when
        again = [*_gather(tree, sections, firsts), *_gather(tree.get(AMEND, Text()), amends, firsts)]
        faults += again
        left_out.update(fault.subject for fault in again)
    faults += [_twice(key, heads[0][0], "pack") for key, _ in heads[1:]]
    faults += [_twice(key, hold_points[0][0], "hold points") for key, _ in hold_points[1:]]
    if sources and whole and not heads and not faults:
        said, write = 'has no "pack" section', "pack: and its name, version and title"
        faults.append(Fault(Place(sources[0].file, 1, 1), "", Code.MISSING_KEY, said, write, "pack"))
    if not heads:
        return None, tuple(faults)
    head = heads[0][1]
    faults += _of_versions(head)
    grounds = [read_ground(written) for written in head.builds_on]
    known = tuple([each for each in grounds if isinstance(each, PackGround)])
    strange = [each for each in grounds if isinstance(each, Fault)]
    for name in (head.name, *(ground.name for ground in known)):
        if not PLAIN_NAME.fullmatch(name):
            said = f"{shown(name)} is no plain name for a pack"
            strange.append(Fault(name.place, "pack", Code.NOT_A_NAME, said, "", "pack"))
    if strange or not whole:
        return None, (*faults, *strange)
    pack = Pack(
        name=head.name,
        head=head,
        sections=MappingProxyType(sections),
        amends=MappingProxyType(amends),
        hold_points=hold_points[0][1] if hold_points else (),
        groups=MappingProxyType({file: group or head.title for file, group in groups.items()}),
        conditions=MappingProxyType(conditions),
        holds=MappingProxyType(holds),
        files=(*(source.file for source in sources), *(table.label for table in tables)),
        sha256=_fingerprint(sources, tables),
        grounds=known,
        margins=tuple(margins),
        left_out=frozenset(left_out),
    )
    return pack, tuple(faults)


def _of_versions(head: HeadEntry) -> list[Fault]:
    """A log of changes that says nothing of the version at hand."""
    if not head.changes or head.version in head.changes:
        return []
    said = f"says nothing of version {head.version}, which this is"
    place = next(iter(head.changes)).place
    return [Fault(place, "pack changes", Code.MISSING_KEY, said, f'"{head.version}": what it changed', "pack")]


def _shape(source: ReadFile, left_out: set[str]) -> tuple[FileEntry | None, Fields, tuple[Fault, ...]]:
    """The file's model, its tree and every fault of its shape; what is at fault in it is left out of both. None for a
    model where that is not a named thing alone. A file that isn't a pack's file at all gets that one fault."""
    tree = source.tree
    first, header = next(iter(tree), None), tree.get(SPECRULES)
    if first is None or first != "specrules" or header != HEADER:
        at = first.place if first is not None else tree.place
        if isinstance(header, Text):
            at = header.place if header != HEADER else at
        said = f"does not start with specrules: {HEADER}"
        return None, tree, (Fault(at, "", Code.WRONG_FILE, said, f"specrules: {HEADER} on its first line", "pack"),)
    model, faults = checked(pack_file(), tree, advise=misplaced)
    if faults or not source.filled:
        tree = _sound(tree, () if source.filled else (TABLES,), left_out)
        model, _ = checked(pack_file(), tree)
    return model, tree, faults


def _sound(tree: Fields, wrong: Collection[str], left_out: set[str], within: tuple[Text, ...] = ()) -> Fields:
    """A file, or what it amends, without the named things that are at fault by themselves and the keys that it cannot
    have; `left_out` takes the names of those things. One whose name is at fault stays: what it was to be called, and so
    what hangs on it, nobody knows."""
    made = fields_at(tree.place)
    for key, held in tree.items():
        if key == AMEND and not within and isinstance(held, Fields):
            made[key] = _sound(held, (), left_out, (AMEND,))
        elif key in SECTIONS and isinstance(held, Fields):
            things = made[key] = fields_at(held.place)
            for name, thing in held.items():
                if key in wrong or not fits(pack_file(), _alone((*within, key, SOME_NAME), thing)):
                    left_out.add(str(name))
                else:
                    things[name] = thing
        elif key in SECTIONS or (key in keys_of(FileEntry) and not within):
            made[key] = held
    return made


def _alone(path: Sequence[Text], thing: Node) -> Fields:
    """A file that holds one thing and nothing else."""
    made = fields_at(thing.place)
    made[path[-1]] = thing
    for key in reversed(path[:-1]):
        inner, made = made, fields_at(thing.place)
        made[key] = inner
    made[SPECRULES] = Text(HEADER)
    return made


def _gather(tree: Node, sections: Mapping[str, dict[Text, Fields]], firsts: dict[tuple[int, str], Text]) -> list[Fault]:
    """Take in the named things of one file; those that stand already are faults. `firsts` knows where."""
    faults: list[Fault] = []
    for section, known in sections.items():
        held = tree.get(Text(section)) if isinstance(tree, Fields) else None
        for key, thing in held.items() if isinstance(held, Fields) else ():
            first = firsts.setdefault((id(known), key), key)
            if first is not key:
                faults.append(_twice(key, first, str(key)))
            elif isinstance(thing, Fields):
                known[key] = thing
    return faults


def _twice(again: Text, first: Text, subject: str) -> Fault:
    where = f"{first.place.file}, line {first.place.line}"
    said = f"stands twice in this pack, and first in {where}"
    return Fault(again.place, subject, Code.DEFINED_TWICE, said, "one of them only", "pack")


def _fingerprint(sources: Sequence[ReadFile], tables: Sequence[TableFile]) -> str:
    """The hash of the pack: of its file, or of the list of its files' hashes and names."""
    if len(sources) == 1 and not tables:
        return sources[0].sha256
    each = [(source.sha256, source.file) for source in sources]
    each += [(sha256(table.raw).hexdigest(), table.label) for table in tables]
    return sha256("".join(f"{digest}  {file}\n" for digest, file in each).encode()).hexdigest()
