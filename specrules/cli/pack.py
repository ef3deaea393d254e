"""`specrules pack`: what packs there are, one of them whole, whether it proves, and its schema for an editor."""

from __future__ import annotations

from pathlib import Path

import click

from specrules.cli.loading import Shelf, pack_folders
from specrules.cli.status import Status
from specrules.cli.writing import COLOUR, put_faults, put_lines, put_text
from specrules.output.lines import Line
from specrules.pack import PackHead, Stack
from specrules.pack.library import Library


@click.group()
def pack() -> None:
    """Read and prove tolerance packs.

    \b
    specrules pack list
    specrules pack show towing
    specrules pack prove house.pack.yaml
    """


@pack.command("list")
@COLOUR
def list_(colour: str) -> None:
    """List the packs that a sheet here may name: those that ship, and those in `packs` here or above."""
    from specrules.output.pack import listing

    shelf, here = Shelf(), Path.cwd()
    heads: list[PackHead] = []
    for name in Library(pack_folders(here)).names():
        stack, faults = shelf.stack((name,), here)
        put_faults(faults)
        if stack is not None:
            heads.append(stack.packs[-1])
    put_lines(list(listing(heads)), None, colour)


@pack.command()
@click.argument("name")
@COLOUR
def show(name: str, colour: str) -> None:
    """Show one pack whole, as a person reads it.

    \b
    specrules pack show street
    """
    from specrules.output.pack import pack_whole

    asked, near = _named(name)
    stack = _stacked(Shelf(), asked, near)
    put_lines(list(pack_whole(stack, next(head for head in stack.packs if head.name == asked))), None, colour)


@pack.command()
@click.argument("names", nargs=-1, required=True, metavar="PACK...")
@COLOUR
def prove(names: tuple[str, ...], colour: str) -> None:
    """Prove packs out: names, units, order of limits, and every worked example.

    \b
    specrules pack prove street
    specrules pack prove packs/house.pack.yaml

    A pack is named, or its file is. Ends with 0 where all proves out, 1 where
    an example fails or limits are out of order, 2 where a pack is at fault.
    """
    from specrules.output.proof import proof_lines
    from specrules.proving import prove as proven

    status = Status.GO
    shelf = Shelf(examples=True)
    for name in names:
        asked, near = _named(name)
        packs, faults = shelf.packs((asked,), near)
        if faults:
            put_faults(faults)
            status = Status.FAULT
            continue
        proof = proven(packs, asked)
        put_faults(proof.faults)
        lines: list[Line] = list(proof_lines(proof))
        put_lines(lines, None, colour)
        if proof.faults:
            status = Status.FAULT
        elif not proof.good and status is Status.GO:
            status = Status.HELD
    raise click.exceptions.Exit(status)


@pack.command()
@click.argument("names", nargs=-1, metavar="[PACK...]")
def schema(names: tuple[str, ...]) -> None:
    """Print the JSON Schema that lets an editor complete and check a sheet.

    \b
    specrules pack schema                      the structure of a sheet
    specrules pack schema street > sheet.schema.json

    With packs named it also knows their readings, facts, rules and sign-offs.
    Put this at the head of a sheet for an editor that reads it:
    # yaml-language-server: $schema=sheet.schema.json
    """
    import json

    from specrules.schemas import build_sheet_schema, schema_for

    if names:
        made = schema_for(_stacked(Shelf(), tuple(_named(name)[0] for name in names), _named(names[-1])[1]))
    else:
        made = build_sheet_schema()
    put_text(json.dumps(made, indent=2, ensure_ascii=False) + "\n")


def _named(given: str) -> tuple[str, Path]:
    """A pack by its name, looked for from here; or by its file or folder, looked for from there."""
    path = Path(given)
    if path.exists() and (path.suffix == ".yaml" or len(path.parts) > 1):
        return path.name.removesuffix(".pack.yaml"), path.parent.parent
    return given, Path.cwd()


def _stacked(shelf: Shelf, asked: str | tuple[str, ...], near: Path) -> Stack:
    names = (asked,) if isinstance(asked, str) else asked
    stack, faults = shelf.stack(names, near)
    if stack is None:
        put_faults(faults)
        raise click.exceptions.Exit(Status.FAULT)
    return stack
