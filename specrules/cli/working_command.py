"""`specrules working`: one rule in full, and worked with a sheet's numbers."""

from __future__ import annotations

from pathlib import Path

import click

from specrules.cli.asked_names import workspace_for
from specrules.cli.writing import COLOUR, NO_PLUGINS, READABLE, end_at_fault, put_faults, put_lines
from specrules.inspection import Examination
from specrules.output.working_page import rule_whole, worked_with
from specrules.pack import Specification
from specrules.quantity import likely


@click.command()
@click.argument("rule")
@click.argument("sheet", required=False, type=READABLE)
@click.option("--add", multiple=True, metavar="PACK", help="A pack to read it from; without a sheet: general.")
@NO_PLUGINS
@COLOUR
def working(rule: str, sheet: Path | None, add: tuple[str, ...], no_plugins: bool, colour: str) -> None:
    """
    \b
    specrules working main_oil_clearance
    specrules working main_oil_clearance engine.sheet.yaml

    Formula, limits, reasons and source; with a sheet also every station, and
    the lines to paste into it for the part maker's own limit.
    """
    workspace = workspace_for(no_plugins)
    if sheet is None:
        spec, faults = workspace.resolve(add or ("general",), Path.cwd())
        if spec is None:
            end_at_fault((*faults, *workspace.faults))
        put_lines(rule_whole(spec, _known(rule, spec)), colour)
        put_faults(workspace.faults)
        return
    loaded = workspace.load(sheet, str(sheet), add)
    if loaded.sheet is None or loaded.spec is None:
        end_at_fault((*loaded.faults, *workspace.faults))
    name = _known(rule, loaded.spec)
    examined = Examination(loaded.sheet, loaded.spec)
    worked = worked_with(examined.report, examined.whole, loaded.spec, name)
    put_lines([*rule_whole(loaded.spec, name), *worked], colour)
    put_faults(workspace.faults)


def _known(rule: str, spec: Specification) -> str:
    if rule in spec.rules:
        return rule
    offered = likely(rule, [*spec.rules])
    write = f"write {offered}" if offered else "see: specrules pack show general"
    raise click.UsageError(f'"{rule}" is no rule of these packs; {write}')
