"""`specrules sheet`: starting a build sheet."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from specrules.cli.status import Status
from specrules.cli.writing import NO_PLUGINS, plain, put_faults, put_lines, put_new, quoted, unless_there
from specrules.document import Place
from specrules.effects.cache import user_cache
from specrules.effects.workspace import Workspace
from specrules.output.lines import line
from specrules.pack import Fact, Specification
from specrules.sheet.new_sheet import start


@click.group()
def sheet() -> None:
    """Start a build sheet.

    \b
    specrules sheet new my.sheet.yaml
    """


@sheet.command()
@click.argument("path", type=click.Path(path_type=Path, dir_okay=False))
@click.option("--pack", "packs", multiple=True, metavar="PACK", help="A pack to judge by; more than one is allowed.")
@click.option("--title", default="", help="What is being built.")
@click.option("--unit", type=click.Choice(("in", "mm")), default=None, help="What a bare length means.")
@click.option("--fact", "stated", multiple=True, metavar="NAME=VALUE", help="A fact, written as in a sheet.")
@click.option("--ask/--no-ask", default=None, help="Ask for what is not given, as it does at a terminal.")
@NO_PLUGINS
def new(
    path: Path,
    packs: tuple[str, ...],
    title: str,
    unit: str | None,
    stated: tuple[str, ...],
    ask: bool | None,
    no_plugins: bool,
) -> None:
    """Write a new sheet, with a cell for every reading.

    \b
    specrules sheet new my.sheet.yaml
    specrules sheet new my.sheet.yaml --pack street --unit in \\
        --fact cylinders=8 --fact mains=5 \\
        --fact "throws=[[1, 2], [3, 4], [5, 6], [7, 8]]"

    The readings stand in the order of the work, each with how to take it. A
    file that is there already is never written over. The new sheet can be
    inspected at once: nothing is measured yet, it says.
    """
    unless_there(path)
    asking = sys.stdin.isatty() if ask is None else ask
    workspace = Workspace(plugins=not no_plugins, cache=user_cache())
    if not packs:
        packs = _packs(asking)
    spec, faults = workspace.resolve(packs, path.parent)
    put_faults((*faults, *workspace.faults))
    if spec is None:
        raise click.exceptions.Exit(Status.FAULT)
    if asking and not title:
        title = click.prompt("What is being built", default="New build")
    if asking and unit is None:
        unit = click.prompt("Lengths in", type=click.Choice(("in", "mm")), default="in")
    facts = _facts(spec, stated, asking)
    text = start(spec, facts, plain(title) or "New build", packs, unit or "in")
    faults = workspace.settle(text.encode("utf-8"), path, str(path)).faults
    if faults:
        nowhere = Place(f"{path}, not written", 0, 0)
        put_faults([fault._replace(place=nowhere) for fault in faults])
        raise click.exceptions.Exit(Status.FAULT)
    put_new(path, text)
    lead = f"Wrote {path}. Fill in what you measure, leave empty what you do not, then:"
    put_lines([line(lead), line(f"  specrules inspect {quoted(path)}")])


def _packs(asking: bool) -> tuple[str, ...]:
    if not asking:
        return ("general",)
    answer: str = click.prompt("Judge by which pack (see: specrules pack list)", default="street")
    return tuple(answer.replace(",", " ").split())


def _facts(spec: Specification, stated: tuple[str, ...], asking: bool) -> dict[str, str]:
    """The facts that were given, and those that decide how many cells the sheet has, asked for."""
    facts: dict[str, str] = {}
    for each in stated:
        name, equals, value = each.partition("=")
        if not equals:
            raise click.UsageError(f"--fact {each}: write NAME=VALUE, such as cylinders=8")
        facts[plain(name.strip())] = plain(value.strip())
    if asking:
        for fact in _shaping(spec):
            if fact.name not in facts:
                such = "such as [[1, 2], [3, 4]]; " if fact.kind == "groups" else ""
                answer: str = click.prompt(f"{fact.title} ({such}empty: not yet)", default="", show_default=False)
                if answer.strip():
                    facts[fact.name] = answer.strip()
    return facts


def _shaping(spec: Specification) -> list[Fact]:
    """The facts that axes stand on and that have nothing to stand in for them."""
    names = [axis.count for axis in spec.axes.values() if axis.count]
    names += [axis.groups for axis in spec.axes.values() if axis.groups and not axis.default]
    return [spec.facts[name] for name in dict.fromkeys(names)]
