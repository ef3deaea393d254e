"""What a command line names: packs, a sheet, measurands, hold points. What is unknown or at fault ends the command."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specrules.cli.status import Status
from specrules.cli.writing import end_at_fault, put_faults
from specrules.document import Fault, Place
from specrules.effects.cache import user_cache
from specrules.effects.pack_files import SUFFIX, pack_folders
from specrules.effects.workspace import Workspace
from specrules.pack import Specification
from specrules.vocabulary import Code

if TYPE_CHECKING:
    from specrules.sheet import RawSheet, Sheet


def workspace_for(no_plugins: bool, folders: tuple[Path, ...] | None = None) -> Workspace:
    """The workspace of a command, with the cache of the one who runs it. `folders`: where packs are looked for."""
    return Workspace(folders, not no_plugins, user_cache())


def named(given: str, no_plugins: bool) -> tuple[str, Workspace]:
    """A pack by its name, looked for from here; or by its file or folder, looked for there first."""
    path = Path(given)
    if path.name.endswith(SUFFIX) and not os.path.exists(path):
        raise click.UsageError(f"there is no file {path}; write a pack's name, or where its file is")
    if not os.path.exists(path) or (path.suffix != ".yaml" and len(path.parts) < 2):
        return given, workspace_for(no_plugins)
    folder = path.resolve().parent
    folders = dict.fromkeys((folder, *pack_folders(folder)))
    return path.name.removesuffix(SUFFIX), workspace_for(no_plugins, tuple(folders))


def resolved(
    workspace: Workspace, asked: Sequence[str], near: Path | None = None, taught: bool = False
) -> Specification:
    """The specification of packs, `taught` with its exercises; where one is at fault that is told, and all ends."""
    spec, faults = (workspace.taught if taught else workspace.resolve)(asked, near or Path.cwd())
    put_faults((*faults, *workspace.faults))
    if spec is None:
        raise click.exceptions.Exit(Status.FAULT)
    return spec


def settled(workspace: Workspace, path: Path, add: Sequence[str] = ()) -> tuple[Sheet, Specification, RawSheet]:
    """A sheet, its specification, and the sheet as it is written; a file at fault is told, and all ends."""
    loaded = workspace.load(path, str(path), add)
    put_faults((*loaded.faults, *workspace.faults))
    if loaded.sheet is None or loaded.spec is None or loaded.raw is None:
        raise click.exceptions.Exit(Status.FAULT)
    return loaded.sheet, loaded.spec, loaded.raw


def unknown_names(spec: Specification, file: str, only: Sequence[str] = (), until: str = "") -> tuple[Fault, ...]:
    """A fault for each name behind --only and --until that the packs of this sheet do not know."""
    from specrules.sheet.faults import not_known  # whoever asks for packs alone reads no sheet

    asked = [("--only", name, "measurand of these packs", [*spec.measurands]) for name in only]
    asked += [("--until", until, "hold point of these packs", [*spec.hold_points])] if until else []
    return tuple(
        Fault(Place(file, 0, 0), option, Code.UNKNOWN_NAME, *not_known(word, what, known))
        for option, word, what, known in asked
        if word not in known
    )


def unless_known(spec: Specification, file: str, only: Sequence[str], until: str) -> None:
    """End with the fault of each of these names that is unknown."""
    if faults := unknown_names(spec, file, only, until):
        end_at_fault(faults)
