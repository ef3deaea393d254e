"""One pack from its file or files: every fault of all of them in one run, two definitions of one thing among them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from hashlib import sha256
from types import MappingProxyType
from typing import NamedTuple

from specrules.document import Fault, Fields, Node, Place, Text, read, shown
from specrules.pack.entries import HeadEntry
from specrules.pack.grounds import PackGround, read_ground
from specrules.pack.line_entries import Holds
from specrules.pack.pack_model import HEADER, SECTIONS, FileEntry, misplaced, pack_file
from specrules.pack.rule_entries import MarginEntry
from specrules.pack.specification import PLAIN_NAME
from specrules.pack.table_files import SUFFIX, TableFile, beside, take_rows
from specrules.validation import checked
from specrules.vocabulary import Code

Things = Mapping[Text, Fields]
"""Named things of one section, as they were written."""

"""What a pack may be called: a word that is no path."""


class ReadFile(NamedTuple):
    """One file of a pack, read: its tree, and the hash of its bytes."""

    file: str
    tree: Fields
    sha256: str


class Pack(NamedTuple):
    """One pack as it was written: the shape is right, the meaning is still to be checked."""

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

    @property
    def builds_on(self) -> tuple[Text, ...]:
        """The packs that it names as its ground."""
        return tuple([ground.name for ground in self.grounds])


def read_pack(files: Sequence[tuple[str, bytes]]) -> tuple[Pack | None, tuple[Fault, ...]]:
    """One pack from its files, as (name to show, bytes), those of its tables among them. Every fault of all of them; no
    pack where there is one."""
    sources: list[ReadFile] = []
    faults: list[Fault] = []
    tables = beside(files)
    used: dict[str, TableFile] = {}
    texts = [(file, raw) for file, raw in files if not file.endswith(SUFFIX)]
    for file, raw in texts:
        tree, found = read(raw, file, kind="pack")
        faults += found
        if tree is not None:
            faults += take_rows(tree.get(Text("tables"), Text()), tables, used)
            sources.append(ReadFile(file, tree, sha256(raw).hexdigest()))
    pack, found = _pack_of(sources, [used[name] for name in sorted(used)], whole=len(sources) == len(texts))
    faults += found
    return (None if faults else pack), tuple(faults)


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
    for source in sources:
        model, found = _shape(source)
        faults += found
        if model is None:
            continue
        keys = {str(key): key for key in source.tree}
        if model.pack is not None:
            heads.append((keys["pack"], model.pack))
        if "hold points" in keys:
            hold_points.append((keys["hold points"], model.hold_points))
        groups[source.file], holds[source.file] = model.group, model.holds_for
        margins += model.margins
        if model.applies_when:
            conditions[source.file] = model.applies_when
        faults += _gather(source.tree, sections, firsts)
        faults += _gather(source.tree.get(Text("amend"), Text()), amends, firsts)
    faults += [_twice(key, heads[0][0], "pack") for key, _ in heads[1:]]
    faults += [_twice(key, hold_points[0][0], "hold points") for key, _ in hold_points[1:]]
    if sources and whole and not heads and not faults:
        said = 'has no "pack" section'
        faults.append(
            Fault(
                Place(sources[0].file, 1, 1),
                "",
                Code.MISSING_KEY,
                said,
                "pack: and its name, version and title",
                "pack",
            )
        )
    if faults or not heads:
        return None, tuple(faults)
    head = heads[0][1]
    read_grounds = [read_ground(written) for written in head.builds_on]
    faults += [each for each in read_grounds if isinstance(each, Fault)]
    grounds = tuple([each for each in read_grounds if isinstance(each, PackGround)])
    faults += _of_versions(head)
    for name in (head.name, *(ground.name for ground in grounds)):
        if not PLAIN_NAME.fullmatch(name):
            said = f"{shown(name)} is no plain name for a pack"
            faults.append(Fault(name.place, "pack", Code.NOT_A_NAME, said, "", "pack"))
    return (
        None
        if faults
        else Pack(
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
            grounds=grounds,
            margins=tuple(margins),
        )
    ), tuple(faults)


def _of_versions(head: HeadEntry) -> list[Fault]:
    """A log of changes that says nothing of the version at hand."""
    if not head.changes or head.version in head.changes:
        return []
    said = f"says nothing of version {head.version}, which this is"
    place = next(iter(head.changes)).place
    return [Fault(place, "pack changes", Code.MISSING_KEY, said, f'"{head.version}": what it changed', "pack")]


def _shape(source: ReadFile) -> tuple[FileEntry | None, tuple[Fault, ...]]:
    """The file's model. A file that isn't a pack's file at all gets that one fault."""
    first = next(iter(source.tree), None)
    header = source.tree.get(Text("specrules"))
    if first is None or first != "specrules" or header != HEADER:
        at = first.place if first is not None else source.tree.place
        if isinstance(header, Text):
            at = header.place if header != HEADER else at
        said = f"does not start with specrules: {HEADER}"
        return None, (Fault(at, "", Code.WRONG_FILE, said, f"specrules: {HEADER} on its first line", "pack"),)
    return checked(pack_file(), source.tree, advise=misplaced)


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
