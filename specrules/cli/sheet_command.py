"""`specrules sheet new`: starting a build sheet."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from specrules.cli.asked_names import resolved, workspace_for
from specrules.cli.editor_schemas import NO_SCHEMA, with_schema
from specrules.cli.writing import NO_PLUGINS, end_at_fault, plain, put_lines, put_new, quoted, unless_there
from specrules.document import Fault, Place
from specrules.effects.workspace import Workspace
from specrules.output.lines import WIDTH, line
from specrules.pack import Fact, Specification
from specrules.sheet.new_sheet import NewSheet, next_to_ask, start, wrong_answer


@click.command()
@click.argument("path", type=click.Path(path_type=Path, dir_okay=False))
@click.option("--pack", "packs", multiple=True, metavar="PACK", help="A pack to judge by; more than one is allowed.")
@click.option("--title", default="", help="What is being built.")
@click.option("--unit", type=click.Choice(("in", "mm")), default=None, help="What a bare length means.")
@click.option("--fact", "stated", multiple=True, metavar="NAME=VALUE", help="A fact, written as in a sheet.")
@click.option("--scope", multiple=True, metavar="GROUP", help="A heading that the job covers; else all of them.")
@click.option("--until", default="", metavar="HOLD_POINT", help="How far the job goes; else to the last.")
@click.option("--with-how", is_flag=True, help="With how to take each reading, and every fact there is.")
@click.option("--ask/--no-ask", default=None, help="Ask for what is not given, as it does at a terminal.")
@NO_SCHEMA
@NO_PLUGINS
def new(
    path: Path,
    packs: tuple[str, ...],
    title: str,
    unit: str | None,
    stated: tuple[str, ...],
    scope: tuple[str, ...],
    until: str,
    with_how: bool,
    ask: bool | None,
    no_schema: bool,
    no_plugins: bool,
) -> None:
    """
    \b
    specrules sheet new my.sheet.yaml
    specrules sheet new my.sheet.yaml --pack street --unit in \\
        --fact cylinders=8 --fact mains=5 \\
        --fact "throws=[[1, 2], [3, 4], [5, 6], [7, 8]]"
    specrules sheet new short.sheet.yaml --scope Crank --scope "Plain bearings"

    The readings stand in the order of the work, a line a station. A
    file that is there already is never written over. The new sheet can be
    inspected at once: nothing is measured yet, it says. Editors that read the
    first line of it complete and check what is typed, by a schema in the folder
    .specrules beside it.
    """
    unless_there(path)
    asking = sys.stdin.isatty() if ask is None else ask
    workspace = workspace_for(no_plugins)
    if asking and not packs:
        packs = _asked_for(workspace, path.parent)
    packs = packs or ("general",)
    spec = resolved(workspace, packs, path.parent)
    if asking and not title:
        title = click.prompt("What is being built", default="New build")
    if asking and unit is None:
        unit = click.prompt("Lengths in", type=click.Choice(("in", "mm")), default="in")
    facts = _facts(spec, stated, asking)
    asked = NewSheet(plain(title) or "New build", packs, unit or "in", tuple(map(plain, scope)), plain(until), with_how)
    text = start(spec, facts, asked)
    faults = workspace.settle(text.encode("utf-8"), path, str(path)).faults
    if faults:
        nowhere = Place(f"{path}, not written", 0, 0)
        end_at_fault([fault._replace(place=nowhere) for fault in faults])
    put_new(path, text if no_schema else with_schema(text, path, spec, packs))
    lead = f"Wrote {path}. Fill in what you measure, leave empty what you do not, then:"
    put_lines([line(lead), line(f"  specrules inspect {quoted(path)}")])


def _asked_for(workspace: Workspace, near: Path) -> tuple[str, ...]:
    """The packs to judge by, asked for until there are such packs and nothing is wrong with them."""
    while True:
        answer: str = click.prompt("Judge by which pack (see: specrules pack list)", default="street")
        packs = tuple(answer.replace(",", " ").split())
        _, faults = workspace.resolve(packs, near)
        if packs and not faults:
            return packs
        for fault in faults:
            _refuse(fault)


def _refuse(wrong: Fault) -> None:
    """Say what is wrong with an answer."""
    click.echo(f"{wrong.said}{f'; write {wrong.write}' if wrong.write else ''}.", err=True)


def _facts(spec: Specification, stated: tuple[str, ...], asking: bool) -> dict[str, str]:
    """The facts that were given, and those that decide how many cells the sheet has, asked for."""
    facts: dict[str, str] = {}
    for each in stated:
        name, equals, value = each.partition("=")
        if not equals:
            raise click.UsageError(f"--fact {each}: write NAME=VALUE, such as cylinders=8")
        facts[plain(name.strip())] = plain(value.strip())
    if asking:
        _ask(spec, facts)
    return facts


def _ask(spec: Specification, facts: dict[str, str]) -> None:
    """Ask for one fact after another; a wrong answer is refused at once, and what was answered before is kept."""
    done: set[str] = set()
    while (fact := next_to_ask(spec, facts, done)) is not None:
        answer = str(click.prompt(_question(fact), default="", show_default=False)).strip()
        wrong = wrong_answer(spec, {**facts, fact.name: answer}, fact.name) if answer else None
        if wrong is not None:
            _refuse(wrong)
            continue
        done.add(fact.name)
        if answer:
            facts[fact.name] = answer


def _question(fact: Fact) -> str:
    """A fact in plain words, why it matters, and what may be answered; as wide as the screens."""
    choices = (", " if fact.kind == "labels" else " or ").join(fact.choices)
    such = "such as [[1, 2], [3, 4]]" if fact.kind == "groups" else choices
    empty = f"empty: {fact.assumed or 'not yet'}"
    asked = " ".join(filter(None, (fact.question or fact.title, fact.why)))
    return click.wrap_text(f"{asked} ({'; '.join(filter(None, (such, empty)))})", WIDTH - len(": "))
