"""`import specrules`: build sheets judged from Python, on the workspace that the commands use."""

from __future__ import annotations

import os
import warnings
from collections.abc import Collection, Iterable, Mapping
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, NamedTuple, TypeAlias

from specrules.document import Fault as Fault
from specrules.document import Place as Place
from specrules.document import shown
from specrules.effects.cache import user_cache
from specrules.effects.files import unreadable
from specrules.effects.pack_files import SUFFIX, pack_folders
from specrules.effects.picture_files import looked_at
from specrules.effects.workspace import Workspace
from specrules.inspection import Examination as Examination
from specrules.inspection import Extent as Extent
from specrules.inspection import Finding as Finding
from specrules.inspection import Limits as Limits
from specrules.inspection import Options
from specrules.inspection import Report as Report
from specrules.inspection import WholeFinding as WholeFinding
from specrules.pack import Relaxation as Relaxation
from specrules.pack import Source as Source
from specrules.pack import Specification as Specification
from specrules.quantity import Unit as Unit
from specrules.quantity import nearest
from specrules.vocabulary import DECISION_RULES, IMPORTANCES, Code
from specrules.vocabulary import Reason as Reason
from specrules.vocabulary import Relaxed as Relaxed
from specrules.vocabulary import Verdict as Verdict

if TYPE_CHECKING:
    from specrules.record import Record

AnyPath: TypeAlias = str | os.PathLike[str]
Packs: TypeAlias = AnyPath | Iterable[AnyPath] | Mapping[str, str]


class SheetText(NamedTuple):
    """A build sheet handed over as text. `name` stands for its file in faults and in the report."""

    text: str
    name: str = "sheet"


class FilesAtFault(Exception):
    """A sheet or a pack is at fault, or cannot be read: nothing was judged.

    `faults` are all that were found: of each its `place` (file, line and column from 1, line 0 where it is the whole
    file's), `kind` (sheet, pack, plugin or file), `code` (such as unknown-key; packs/README.md lists them), what it is
    about, what is said and what to write instead. The text of the exception is a sentence a line.
    """

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__(self.faults)

    def __str__(self) -> str:
        return "\n".join(fault.sentence() for fault in self.faults)


def read_record(record: AnyPath | bytes) -> Record:
    """The record of an inspection that was kept as JSON, of any version: a file's path, or its bytes.

    Numbers are in the unit that each finding states. Raises OSError where the file cannot be read, and ValueError where
    it is no record, with every fault, its place and what to do.
    """
    from specrules.record import read_record as read  # only who keeps records needs their models

    return read(record if isinstance(record, bytes) else Path(record).read_bytes())


def inspect(
    sheet: AnyPath | SheetText,
    *,
    packs: Packs = (),
    add: str | Iterable[str] = (),
    decision: str = "",
    until: str = "",
    held_by: str = "minor",
    sure: bool = False,
    at_least: int = 0,
    plugins: bool = True,
    cache: bool = True,
) -> Report:
    """Judge a build sheet by the packs that it names: a finding for each rule at each station.

    sheet: the path of a file, or a `SheetText`.
    packs: where packs are besides those that ship: files, folders with files of packs in them, or texts by name. For a
        sheet in a file the folders `packs` beside it and above it are looked through too. What is handed over is only
        judged by where the sheet, or `add`, names it.
    add: names of packs over those that the sheet names.
    decision: the decision rule, such as "simple" or "guarded"; "" is as the sheet says, then the packs.
    until: the hold point as far as which open checks count; "" is the last.
    held_by: nothing less grave than this (critical, major or minor) holds the job.
    sure: what is just in holds the job too.
    at_least: how many rules are to be judged, each at one station or more; with fewer the report is open, as it is with
        none whatever is asked for.
    plugins: with what installed plugins offer. One at fault is left out, with a RuntimeWarning; so is a picture.
    cache: read and keep compiled packs in the user's cache folder.

    Numbers of the report are exact decimals in the unit shown: lengths in the sheet's unit, all else in the packs'. The
    limits' sources stand in each finding.

    Raises FilesAtFault where a file is at fault, ValueError for a decision rule, a hold point or an importance that
    there is not, and for a number of rules below nothing, with what to write.
    """
    return _examined(sheet, packs, Options(decision, until, held_by, sure, at_least, _all(add)), plugins, cache).report


def examine(
    sheet: AnyPath | SheetText,
    *,
    packs: Packs = (),
    add: str | Iterable[str] = (),
    decision: str = "",
    until: str = "",
    held_by: str = "minor",
    sure: bool = False,
    at_least: int = 0,
    plugins: bool = True,
    cache: bool = True,
) -> Examination:
    """Judge a build sheet, and keep at hand what its findings stand on.

    `examine(...).report` is what `inspect` gives for the same arguments, and `examine(...).whole(finding)` one of its
    findings with its working, inputs, uncertainty budget, margins, remedies and what other packs of the chain would
    have said, each worked out when it is asked for. Raises what `inspect` raises.
    """
    return _examined(sheet, packs, Options(decision, until, held_by, sure, at_least, _all(add)), plugins, cache)


def specification(name: str, *more: str, packs: Packs = (), plugins: bool = True, cache: bool = True) -> Specification:
    """The packs of these names and all that they build on, as one specification: what there is to measure, to state,
    to sign and to judge, with every limit line and its source.

    `packs`, `plugins` and `cache` are as for `inspect`; no folder is looked through but those given. Worked examples
    and exercises may be left out. Raises FilesAtFault where a pack is at fault or not there.
    """
    workspace = _workspace(packs, (), plugins, cache)
    spec, faults = workspace.resolve((name, *more), None)
    if spec is None:
        raise FilesAtFault((*faults, *workspace.faults))
    _warn(workspace.faults, 3)
    return spec


def _examined(sheet: AnyPath | SheetText, packs: Packs, options: Options, plugins: bool, cache: bool) -> Examination:
    if options.decision:
        _check("decision", options.decision, DECISION_RULES, "decision rule")
    _check("held_by", options.held_by, IMPORTANCES, "importance")
    if options.at_least < 0:
        raise ValueError(f"at_least: {options.at_least} is no number of rules; write 0 or more")
    if isinstance(sheet, SheetText):
        workspace = _workspace(packs, (), plugins, cache)
        path = None
        loaded = workspace.settle(sheet.text.encode("utf-8", "surrogatepass"), None, sheet.name, options.add)
    else:
        path = Path(sheet)
        workspace = _workspace(packs, pack_folders(path), plugins, cache)
        loaded = workspace.load(path, str(path), options.add)
    if loaded.sheet is None or loaded.spec is None:
        raise FilesAtFault((*loaded.faults, *workspace.faults))
    if options.until:
        _check("until", options.until, loaded.spec.hold_points, "hold point of these packs")
    seen = looked_at(loaded, path)
    assert seen.sheet is not None
    examined = Examination(seen.sheet, loaded.spec, options, loaded.same_names)
    _warn((*workspace.faults, *(each for each in seen.set_aside if each.kind == "picture")), 4)
    return examined


def _all(add: str | Iterable[str]) -> tuple[str, ...]:
    return (add,) if isinstance(add, str) else tuple(add)


def _workspace(packs: Packs, beside: tuple[Path, ...], plugins: bool, cache: bool) -> Workspace:
    texts: Mapping[str, bytes] = MappingProxyType({})
    paths: list[Path] = []
    if isinstance(packs, Mapping):
        texts = {name: text.encode("utf-8", "surrogatepass") for name, text in packs.items()}
    else:
        paths = [Path(each) for each in ((packs,) if isinstance(packs, str | os.PathLike) else packs)]
    faults = [fault for path in paths if (fault := _no_pack(path)) is not None]
    if faults:
        raise FilesAtFault(faults)
    return Workspace(
        (*(path for path in paths if path.is_dir()), *beside),
        plugins,
        user_cache() if cache else None,
        [path for path in paths if not path.is_dir()],
        texts,
    )


def _no_pack(path: Path) -> Fault | None:
    """The fault of a path that is neither a folder nor a pack's file."""
    try:
        path.stat()
    except OSError as error:
        return Fault(Place(str(path), 0, 0), "", Code.UNREADABLE, unreadable(error), "", "file")
    if path.is_dir() or path.name.endswith(SUFFIX):
        return None
    said = "is not named as a pack's file"
    return Fault(Place(str(path), 0, 0), "", Code.WRONG_FILE, said, f"a name such as house{SUFFIX}", "file")


def _check(argument: str, said: str, known: Collection[str], what: str) -> None:
    if said not in known:
        offered = nearest(said, known) or ", ".join(known)
        raise ValueError(f"{argument}: {shown(said)} is no {what}; write {offered}")


def _warn(faults: Iterable[Fault], level: int) -> None:
    """Say which plugins and pictures were set aside, at the line of whoever called: so many calls up."""
    for fault in faults:
        warnings.warn(fault.sentence(), RuntimeWarning, stacklevel=level)
