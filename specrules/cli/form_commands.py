"""`specrules sheet blank` and `specrules sheet limits`: a sheet on paper, to write on and to hang up."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import click

from specrules.cli.asked_names import settled, unless_known, workspace_for
from specrules.cli.writing import ADD, NO_PLUGINS, OUT, READABLE, REPLACE, put_page, report_file
from specrules.effects.workspace import Workspace
from specrules.inspection import Examination
from specrules.pack import Specification
from specrules.pack.needing import covered_by_job
from specrules.sheet.cells import cells_of_sheet, in_order_of_work
from specrules.sheet.sheet_reading import RawSheet

UNTIL = click.option("--until", metavar="HOLD_POINT", default="", help="How far it goes; else as the sheet says.")


class _Settled(NamedTuple):
    """A sheet held against its packs, and what of them its job covers."""

    raw: RawSheet
    examination: Examination
    job: Specification
    workspace: Workspace
    path: Path

    def inputs(self) -> Iterator[Path]:
        """What was read for it."""
        yield self.path
        yield from self.workspace.pack_paths(self.path.parent)


def _settled(path: Path, add: tuple[str, ...], only: tuple[str, ...], until: str, no_plugins: bool) -> _Settled:
    workspace = workspace_for(no_plugins)
    sheet, spec, raw = settled(workspace, path, add)
    examined = Examination(sheet, spec)
    unless_known(examined.spec, str(path), only, until)
    job = covered_by_job(examined.spec, sheet.scope, until or sheet.until)
    return _Settled(raw, examined, job, workspace, path)


def _put(page: str, of: _Settled, out: Path | None, replace: bool) -> None:
    """A page to a file, as PDF where its name says so, or to the standard output."""
    with report_file(out, of.inputs, replace) as file:
        put_page(page, file)


@click.command()
@click.argument("sheet", type=READABLE)
@ADD
@click.option("--only", multiple=True, metavar="NAME", help="What to measure; else all that the job needs.")
@UNTIL
@OUT
@REPLACE
@NO_PLUGINS
def blank(
    sheet: Path,
    add: tuple[str, ...],
    only: tuple[str, ...],
    until: str,
    out: Path | None,
    replace: bool,
    no_plugins: bool,
) -> None:
    """
    \b
    specrules sheet blank engine.sheet.yaml --out form.html
    specrules sheet blank engine.sheet.yaml --only main_journal --out form.pdf

    A box a place, in the order of the work, with what is read already in its
    box, drawings of the places and the limits that are known. It prints on A4
    and on Letter. A name that ends in .pdf makes a PDF, with the extra pdf.
    """
    from specrules.output.blank_form import form_to_print

    of = _settled(sheet, add, only, until, no_plugins)
    examined, job = of.examination, of.job
    if only:
        job = job._replace(measurands={name: examined.spec.measurands[name] for name in only}, sign_offs={})
    cells = cells_of_sheet(of.raw, examined.sheet, examined.spec)
    wanted = [cell for cell in cells if cell.measurand.name in job.measurands]
    steps = in_order_of_work(wanted, job.sign_offs.values(), examined.spec.groups)
    _put(form_to_print(examined, job, steps), of, out, replace)


@click.command()
@click.argument("sheet", type=READABLE)
@ADD
@UNTIL
@OUT
@REPLACE
@NO_PLUGINS
def limits(sheet: Path, add: tuple[str, ...], until: str, out: Path | None, replace: bool, no_plugins: bool) -> None:
    """
    \b
    specrules sheet limits engine.sheet.yaml --out limits.html
    specrules sheet limits engine.sheet.yaml --until dry_fit --out limits.pdf

    Least, aim, most and wear limit of every check, place by place where they
    differ. Where a limit hangs on what is not read or stated yet, it says so.
    """
    from specrules.output.limits_card import card_to_print

    of = _settled(sheet, add, (), until, no_plugins)
    _put(card_to_print(of.examination, of.job), of, out, replace)
