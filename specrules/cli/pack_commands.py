"""`specrules pack`: what packs there are, one of them whole, whether it proves, and its schema for an editor."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path

import click

from specrules.cli.asked_names import named, resolved, settled, workspace_for
from specrules.cli.editor_schemas import NO_SCHEMA, with_schema
from specrules.cli.status import Status
from specrules.cli.writing import (
    COLOUR,
    NO_PLUGINS,
    READABLE,
    plain,
    put_faults,
    put_lines,
    put_new,
    put_text,
    quoted,
    unless_there,
)
from specrules.document.safe_text import safe_json
from specrules.effects.pack_files import SUFFIX
from specrules.effects.workspace import Faults, Workspace
from specrules.output.lines import line
from specrules.pack import PackHead, Relaxation, Specification
from specrules.pack.specification import PLAIN_NAME


@click.command("list")
@NO_PLUGINS
@COLOUR
def list_(no_plugins: bool, colour: str) -> None:
    """
    \b
    specrules pack list

    They are those that ship, those of installed plugins, and those in
    `packs` here or above.
    """
    from specrules.output.pack_list import listing

    workspace, here = workspace_for(no_plugins), Path.cwd()
    heads: list[PackHead] = []
    faults: Faults = ()
    for name in workspace.names(here):
        head, more = workspace.head(name, here)
        faults += more
        if head is not None:
            heads.append(head)
    put_lines(listing(heads), colour)
    put_faults((*faults, *workspace.faults))
    raise click.exceptions.Exit(Status.FAULT if faults else Status.GO)


@click.command()
@click.argument("name")
@NO_PLUGINS
@COLOUR
def show(name: str, no_plugins: bool, colour: str) -> None:
    """
    \b
    specrules pack show street
    """
    from specrules.output.pack_page import pack_whole

    asked, workspace = named(name, no_plugins)
    spec = resolved(workspace, (asked,))
    head = spec.head(asked)
    put_lines(pack_whole(spec, head, _ledger(workspace, spec, (asked,), Path.cwd())), colour)


@click.command()
@click.argument("path", type=click.Path(path_type=Path))
@click.option("--on", multiple=True, metavar="PACK", help="What it builds on: street, towing, racing or another.")
@click.option("--from", "sheet", type=READABLE, help="A sheet whose facts and own limits it takes over.")
@click.option("--unit", type=click.Choice(("in", "mm")), default="in", help="Of lengths, where it builds on none.")
@click.option("--name", default="", help="Its name, where PATH is a folder.")
@click.option("--title", default="", help="What it says of itself.")
@NO_SCHEMA
@NO_PLUGINS
def new(
    path: Path,
    on: tuple[str, ...],
    sheet: Path | None,
    unit: str,
    name: str,
    title: str,
    no_schema: bool,
    no_plugins: bool,
) -> None:
    """
    \b
    specrules pack new packs/house.pack.yaml --on street
    specrules pack new packs/four.pack.yaml --from my.sheet.yaml
    specrules pack new packs/axle.pack.yaml

    Put it in a folder packs beside your sheets. On another pack it holds what
    that one holds until you change something, and says in it how that is done.
    From a sheet it has the facts and the maker's limits that the sheet states,
    for all that is built like it. On none it is one rule to start from, for
    any trade. A file that is there already is never written over.
    """
    from specrules.pack.new_pack import start_alone, start_pack

    folder = os.path.isdir(path) or not path.name.endswith(".yaml")
    of_folder = folder and path.resolve().parent.name == "packs"  # a pack that is a folder is called as that is
    called = path.name if of_folder else name or "house" if folder else path.name.removesuffix(SUFFIX)
    target = path / f"{called}{SUFFIX}" if folder else path
    if not target.name.endswith(SUFFIX) or not PLAIN_NAME.fullmatch(called) or name not in ("", called):
        raise click.UsageError(f"{target} is no name for a pack's file; write one such as packs/house{SUFFIX}")
    unless_there(target)
    if on and sheet is not None:
        raise click.UsageError("what a pack from a sheet builds on the sheet says: write --on or --from")
    workspace = workspace_for(no_plugins)
    if called in workspace.names(target.parent):
        raise click.UsageError(f'a pack called "{called}" is there already; give another name')
    if sheet is not None:
        text, on = _from_sheet(workspace, sheet, called, plain(title) or "What the maker gives", quoted(target))
        spec, _ = workspace.resolve(on, sheet)
    elif on:
        spec = resolved(workspace, on, target.parent)
        text = start_pack(spec, called, plain(title) or "What this shop holds", on, quoted(target))
    else:
        spec, text = None, start_alone(called, plain(title) or "What this shop holds", quoted(target), unit)
    put_new(target, text if no_schema else with_schema(text, target, spec, on, "pack"))
    told = [line(f"Wrote {target}. Open it in a text editor; what is in it says how to go on. After every change:")]
    told.append(line(f"  specrules pack prove {quoted(target)}"))
    if not of_folder and target.resolve().parent.name != "packs":
        told.append(
            line("No sheet finds it there: packs are looked for in a folder called packs beside the sheet or above.")
        )
    put_lines(told)


def _from_sheet(workspace: Workspace, sheet: Path, name: str, title: str, file: str) -> tuple[str, tuple[str, ...]]:
    """The pack of a sheet's own facts and limits, and the packs that it builds on; where the sheet is at fault that is
    told, and all ends."""
    from specrules.sheet.pack_from_sheet import family_pack

    found, spec, _ = settled(workspace, sheet)
    return family_pack(found, spec, name, title, file), tuple(map(str, found.packs))


@click.command()
@click.argument("one", metavar="PACK")
@click.argument("other", metavar="PACK")
@click.argument("sheet", required=False, type=READABLE)
@NO_PLUGINS
@COLOUR
def compare(one: str, other: str, sheet: Path | None, no_plugins: bool, colour: str) -> None:
    """
    \b
    specrules pack compare street towing
    specrules pack compare towing house my.sheet.yaml

    With a sheet, at each of its stations, and where the verdicts differ too;
    without one, line by line as they are written. A pack is named, or its
    file is.
    """
    from specrules.output.comparison_page import asked_less_by_each, compared, compared_specifications
    from specrules.proving.written_comparison import between_specifications

    (first, workspace), (second, other_workspace) = named(one, no_plugins), named(other, no_plugins)
    near = Path.cwd() if sheet is None else sheet
    specs = resolved(workspace, (first,), near), resolved(other_workspace, (second,), near)
    names = first, second
    ledgers = [
        _ledger(by, spec, [head.name for head in spec.packs], near)
        for by, spec in zip((workspace, other_workspace), specs, strict=True)
    ]
    less = list(asked_less_by_each((ledgers[0], ledgers[1]), names))
    if sheet is None:
        put_lines([*less, *compared_specifications(between_specifications(*specs), names)], colour)
        return
    comparison, faults = workspace.compare(sheet, str(sheet), specs)
    put_faults((*faults, *workspace.faults))
    if comparison is None:
        raise click.exceptions.Exit(Status.FAULT)
    put_lines([*less, *compared(comparison, names)], colour)


@click.command()
@click.argument("names", nargs=-1, metavar="[PACK...]")
@click.option("--pack", "of_pack", is_flag=True, help="The schema of a pack that builds on these.")
@NO_PLUGINS
def schema(names: tuple[str, ...], of_pack: bool, no_plugins: bool) -> None:
    """
    \b
    specrules pack schema                      the structure of a sheet
    specrules pack schema street > sheet.schema.json
    specrules pack schema --pack street > pack.schema.json

    It is a JSON Schema. With packs named it also knows their readings, facts,
    rules and sign-offs; for a pack their hold points, axes, gauge classes and
    what there is to amend.
    Put this at the head of a file for an editor that reads it:
    # yaml-language-server: $schema=sheet.schema.json
    New sheets and packs have that line, and their schema in .specrules.
    """
    from specrules.schemas import build_sheet_schema, pack_schema, pack_schema_on, schema_for, text_of

    if not names:
        put_text(text_of(pack_schema() if of_pack else build_sheet_schema()))
        return
    workspaces = [named(name, no_plugins) for name in names]
    made = pack_schema_on if of_pack else schema_for
    put_text(safe_json(text_of(made(resolved(workspaces[-1][1], [asked for asked, _ in workspaces])))))


@click.command()
@click.argument("word", required=False, default="")
@COLOUR
def language(word: str, colour: str) -> None:
    """
    \b
    specrules pack language             its sections and keys
    specrules pack language margins
    specrules pack language largest

    A word is a section, a key, a function, a unit or a kind of fault.
    """
    from specrules.effects.pack_files import shipped_folder
    from specrules.formula.check_advice import FOREIGN
    from specrules.output.language_page import contents, of_word
    from specrules.pack.language import sections, told_of, words
    from specrules.quantity import nearest

    reference = (shipped_folder() / "README.md").read_text(encoding="utf-8")
    if not word:
        put_lines(contents(sections(reference)), colour)
        return
    told = told_of(word, reference)
    if not told:
        foreign = FOREIGN.get(word.casefold())
        meant = nearest(word, words(reference)) if foreign is None else foreign
        said = f"; write {meant}" if meant else " (see: specrules pack language)"
        raise click.UsageError(f'"{plain(word)}" is no word of the language of packs{said}')
    put_lines(of_word(told), colour)


def _ledger(workspace: Workspace, spec: Specification, names: Sequence[str], near: Path) -> tuple[Relaxation, ...]:
    """By what packs of a specification ask less than those below them, and which of them hide others of their name."""
    from specrules.proving.tried_ledger import pack_ledger

    return (*workspace.same_names(names, near), *(entry for name in names for entry in pack_ledger(spec, name)))
