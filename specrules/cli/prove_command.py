"""`specrules pack prove`: packs' limits, slips and examples; the inputs that examples lack; again after each change."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

import click

from specrules.cli.asked_names import named, workspace_for
from specrules.cli.status import Status, gravest
from specrules.cli.writing import (
    COLOUR,
    NO_PLUGINS,
    FileNotWritten,
    plain,
    progress_of,
    put_faults,
    put_lines,
    written_or_told,
)
from specrules.document import Fault
from specrules.document.source import decode, encode
from specrules.effects.files import rewrite, rewriting
from specrules.effects.watching import changes
from specrules.effects.workspace import Workspace
from specrules.output.lines import Line, folded, line
from specrules.proving import Proof, Proposal
from specrules.vocabulary import Code


@click.command()
@click.argument("names", nargs=-1, metavar="[PACK...]")
@click.option("--rule", default="", metavar="NAME", help="Only this rule.")
@click.option("--write", is_flag=True, help="Put the inputs that examples lack into the pack's file.")
@click.option("--watch", is_flag=True, help="Prove again whenever a file of a pack changes, until stopped.")
@NO_PLUGINS
@COLOUR
def prove(names: tuple[str, ...], rule: str, write: bool, watch: bool, no_plugins: bool, colour: str) -> None:
    """
    \b
    specrules pack prove                        all that a sheet here may name
    specrules pack prove packs/house.pack.yaml
    specrules pack prove house --rule crank_end_float --watch
    specrules pack prove house --write

    Names, units, the order of limits at every usual size, figures that look
    misprinted, every worked example, and what no example shows. A pack is
    named, or its file is. --write adds the values that examples lack; what
    comes out of them you write, for a figure of this program proves nothing.
    Ends with 0 where all proves, 1 where something is to be put right, 2
    where a pack is at fault.
    """
    if write and watch:
        raise click.UsageError("--write changes what --watch waits for; write one of the two")
    rule = plain(rule)
    if watch:
        for number, _ in enumerate(changes(lambda: _watched(names, no_plugins))):
            put_lines([line()] if number else [], colour)
            _prove_all(_jobs(names, no_plugins), bool(names), rule, False, colour)
    raise click.exceptions.Exit(_prove_all(_jobs(names, no_plugins), bool(names), rule, write, colour))


Job = tuple[str, Workspace]


def _jobs(names: tuple[str, ...], no_plugins: bool) -> list[Job]:
    """The packs that are named; or every one that a sheet here may name."""

    if names:
        return [named(name, no_plugins) for name in names]
    workspace = workspace_for(no_plugins)
    return [(name, workspace) for name in workspace.names(Path.cwd())]


def _watched(names: tuple[str, ...], no_plugins: bool) -> Iterator[Path]:
    """The files of every pack that the named ones may stand on."""
    for workspace in dict.fromkeys(workspace for _, workspace in _jobs(names, no_plugins)):
        yield from workspace.pack_paths(Path.cwd())


def _prove_all(jobs: Sequence[Job], asked: bool, rule: str, write: bool, colour: str) -> Status:
    """Prove packs and tell it; of packs that nobody named, those that have the rule."""
    statuses: list[Status] = []
    faults: list[Fault] = []
    strange: list[Fault] = []
    with progress_of(len(jobs), colour) as bar:
        for name, workspace in jobs:
            proof, lines = _proven(name, workspace, rule, write)
            bar.advance(name)
            if rule and not asked and [fault.code for fault in proof.faults] == [Code.UNKNOWN_NAME]:
                strange += proof.faults
                continue
            with bar.aside():
                put_lines(lines, colour)
            faults += (*proof.faults, *workspace.faults)
            statuses.append(Status.FAULT if proof.faults else Status.GO if proof.sound else Status.HELD)
    if not statuses and strange:
        faults, statuses = strange, [Status.FAULT]
    put_faults(faults)
    return gravest(statuses)


def _proven(name: str, workspace: Workspace, rule: str, write: bool) -> tuple[Proof, list[Line]]:
    """The proof of one pack, what is told of it, and, where that is asked, what was written into its files."""
    from specrules.output.proof import proof_lines

    packs, faults = workspace.packs((name,), Path.cwd())
    if faults:
        proof = Proof(name, faults, (), {})
        return proof, list(proof_lines(proof))
    told: list[Line] = []
    if write:
        proposals = workspace.propose(packs, name, rule)
        told = list(_written(name, proposals, workspace))
        packs, _ = workspace.packs((name,), Path.cwd())  # with what was written
    proof = workspace.prove(packs, name, Path.cwd(), rule)
    return proof, [*proof_lines(proof), *told]


def _written(name: str, proposals: Sequence[Proposal], workspace: Workspace) -> Iterable[Line]:
    """Write proposals into the files of a shop's own pack; what cannot be put there is shown, to be pasted."""
    from specrules.proving.proposed_text import with_proposals

    left, number = tuple(proposals), 0
    for label, path in workspace.own_files(name, Path.cwd()).items() if proposals else ():
        try:
            with written_or_told(), rewriting(path):
                before = path.read_bytes()
                text = decode(before, label, "pack")
                if isinstance(text, Fault):
                    raise FileNotWritten(f"{path} cannot be read: {text.said}")
                made = with_proposals(text, label, left)
                if made.placed:
                    rewrite(path, before, encode(made.text, before))
        except OSError as error:
            raise FileNotWritten(f"{path} cannot be read: {error}") from error
        left, number = made.left, number + len(made.placed)
        if made.placed:
            rules = ", ".join(dict.fromkeys(each.rule for each in made.placed))
            yield from folded(f"Wrote what is to be judged into {label}: {rules}. Write in each what comes out.", 2)
    for each in left:
        yield from folded(f"To be pasted under worked of {each.rule}:", 2)
        yield line(f"    - {each.lines[0]}")
        for row in each.lines[1:]:
            yield line(f"      {row}")
    if not (left or number):
        yield line("  No input is lacking that can be proposed.")
