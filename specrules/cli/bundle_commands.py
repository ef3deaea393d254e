"""`specrules pack bundle` and `pack add`: a pack handed on as one file, and looked at before it is taken."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path

import click

from specrules import VERSION
from specrules.cli.asked_names import named, resolved, workspace_for
from specrules.cli.status import Status
from specrules.cli.writing import (
    COLOUR,
    NO_PLUGINS,
    OUT,
    READABLE,
    REPLACE,
    FileNotWritten,
    end_at_fault,
    put_faults,
    put_lines,
    put_text,
    quoted,
    report_file,
)
from specrules.document import Fault, Place
from specrules.document.source import decode
from specrules.effects.files import NotWritten, create, laid_out, read, read_bytes, rewrite, rewriting, unreadable
from specrules.effects.pack_files import pack_folders
from specrules.effects.workspace import Workspace
from specrules.output.lines import Line, line, under
from specrules.output.terminal import text_of
from specrules.pack.bundle import MOST_BYTES, Bundle, bundle_of, bundle_text, grounds_here, read_bundle
from specrules.proving import Proof
from specrules.vocabulary import Code, Relaxed


@click.command()
@click.argument("name")
@OUT
@REPLACE
@NO_PLUGINS
def bundle(name: str, out: Path | None, replace: bool, no_plugins: bool) -> None:
    """
    \b
    specrules pack bundle house --out house.bundle.json
    specrules pack add house.bundle.json                  there

    It holds the pack's files and those of your other packs that it builds on,
    their digests, the versions of all that it stands on, and what proving it
    said. A pack that does not prove is not bundled.
    """
    from specrules.output.proof import proof_lines

    asked, workspace = named(name, no_plugins)
    spec = resolved(workspace, (asked,))
    packs, faults = workspace.packs((asked,), Path.cwd())
    put_faults(faults)
    paths = {label: path for head in spec.packs for label, path in workspace.own_files(head.name, Path.cwd()).items()}
    if not workspace.own_files(asked, Path.cwd()):
        raise click.UsageError(f"{asked} is no pack of your own, and every copy of the program has it")
    proof = workspace.prove(packs, asked, Path.cwd())
    lines = list(proof_lines(proof))
    if not proof.sound:
        put_lines(lines)
        raise click.exceptions.Exit(Status.HELD)
    texts = {label.partition("/")[2]: _text(path, label) for label, path in paths.items()}
    made = bundle_of(spec, asked, texts, text_of(lines).splitlines(), VERSION)
    with report_file(out, lambda: list(paths.values()), replace) as file:
        put_text(bundle_text(made), file)


@click.command()
@click.argument("file", type=READABLE)
@click.option("--write", is_flag=True, help="Take it: write its files.")
@click.option("--replace", is_flag=True, help="With --write: in place of what is there under the same names.")
@click.option("--to", "folder", type=click.Path(path_type=Path), default=None, help="A folder packs; else the nearest.")
@NO_PLUGINS
@COLOUR
def add(file: Path, write: bool, replace: bool, folder: Path | None, no_plugins: bool, colour: str) -> None:
    """
    \b
    specrules pack add house.bundle.json
    specrules pack add house.bundle.json --write

    It says whose pack it is, what it stands on, what differs from the one that
    is here, what it asks less than the packs below it, and whether it proves
    here. Nothing is written without --write. Ends with 0 where it proves, 1
    where it does not, 2 where it is at fault.
    """
    from specrules.output.bundle_page import files_taken

    nearest = next(iter(pack_folders(Path.cwd())), Path("packs").absolute())
    there = folder or Path(os.path.relpath(nearest))
    if there.resolve().name != "packs":
        raise click.UsageError(f"--to {there}: packs are looked for in folders called packs")
    taken, faults = _read(file)
    if taken is None:
        end_at_fault(faults)
    fates = {each.name: _fate(there / each.name, each.text) for each in taken.files}
    with laid_out({f"packs/{each.name}": each.text for each in taken.files}) as temporary:
        lines, proof = _look(taken, temporary / "packs", there, no_plugins)
    put_lines([*lines, *files_taken({str(there / name): fate for name, fate in fates.items()})], colour)
    if left := _left_over(taken, there, no_plugins):
        said = f"has {left.name}, which the bundled pack does not have and which would go on counting"
        end_at_fault([Fault(Place(str(there), 0, 0), "", Code.CONTRADICTION, said, "remove it", "file")])
    if write and proof.sound:
        _write(taken, there, fates, replace)
        put_lines([line(), line(f"Written. A sheet names it: packs: [{taken.name}]")], colour)
    else:
        again = f"specrules pack add {quoted(file)} --write"
        said = f"Nothing is written. To take it: {again}" if proof.sound else "Nothing is written."
        put_lines([line(), line(said)], colour)
    raise click.exceptions.Exit(Status.GO if proof.sound else Status.HELD)


def _read(file: Path) -> tuple[Bundle | None, tuple[Fault, ...]]:
    try:
        return read_bundle(read(file, MOST_BYTES + 1), str(file))
    except OSError as error:
        return None, (Fault(Place(str(file), 0, 0), "", Code.UNREADABLE, unreadable(error), "", "file"),)


def _look(bundle: Bundle, packs: Path, there: Path, no_plugins: bool) -> tuple[list[Line], Proof]:
    """What it would change, in lines, held against the pack of its name here, if there is one; and its proof here."""
    from specrules.output.bundle_page import bundle_head, proof_here, stands_on
    from specrules.output.comparison_page import compared_specifications
    from specrules.proving.written_comparison import between_specifications

    folders = tuple(dict.fromkeys((packs, there, *pack_folders(Path.cwd()))))
    workspace = workspace_for(no_plugins, folders)
    spec = resolved(workspace, (bundle.name,))
    loaded, faults = workspace.packs((bundle.name,), Path.cwd())
    put_faults(faults)
    proof = workspace.prove(loaded, bundle.name)
    here = workspace_for(no_plugins, folders[1:])
    before, _ = here.resolve((bundle.name,), Path.cwd())
    lines = [*bundle_head(bundle, spec.head(bundle.name), None if before is None else before.head(bundle.name))]
    lines += stands_on(grounds_here(bundle, spec))
    for name in bundle.packs:  # those that it stands on may be others of the shop's here too
        was, _ = here.resolve((name,), Path.cwd())
        now = resolved(workspace, (name,))
        if was is not None and was.head(name).sha256 != now.head(name).sha256:
            differing = compared_specifications(between_specifications(was, now), ("here", "bundle"))
            lines += under(f"{name.upper()} AGAINST THE ONE THAT IS HERE", differing)
    ledger = [entry for entry in proof.ledger if entry.code is not Relaxed.SAME_NAME]  # the one here, which it replaces
    return [*lines, *proof_here(proof, ledger)], proof


NEW, SAME, OTHER = "new", "there already", "in place of another"


def _fate(path: Path, text: str) -> str:
    """What would become of one file."""
    if not path.exists():
        return NEW
    return SAME if read_bytes(path, str(path)) == text.encode("utf-8") else OTHER


def _left_over(bundle: Bundle, there: Path, no_plugins: bool) -> Path | None:
    """A file of the pack that is here already, which its bundle does not have: it would be part of the new one."""
    own = Workspace((there,), not no_plugins).own_files(bundle.name, Path.cwd())
    names = {each.name for each in bundle.files}
    return next((path for label, path in own.items() if label.partition("/")[2] not in names), None)


def _write(bundle: Bundle, there: Path, fates: Mapping[str, str], replace: bool) -> None:
    others = [name for name, fate in fates.items() if fate == OTHER]
    if others and not replace:
        raise click.UsageError(f"--write: {there / others[0]} is another; with --replace it is written over")
    for each in bundle.files:
        path = there / each.name
        try:
            if fates[each.name] == NEW:
                create(path, each.text)
            elif fates[each.name] == OTHER:
                with rewriting(path):
                    rewrite(path, read(path, MOST_BYTES), each.text.encode("utf-8"))
        except (NotWritten, OSError) as refused:
            raise FileNotWritten(f"{refused}. What stands before it in the list is written") from refused


def _text(path: Path, label: str) -> str:
    """A file's text; what is no text ends the command with a fault."""
    source = read_bytes(path, label)
    text = source if isinstance(source, Fault) else decode(source, label, "pack")
    if isinstance(text, Fault):
        end_at_fault([text])
    return text
