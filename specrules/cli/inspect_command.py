"""`specrules inspect`: sheets in, screens or records out, and a status that says whether the work may go on."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import click

from specrules.cli.inspector import CONSOLE, FORMS, JSON, Inspected, InspectionRequest, Inspector, SheetBytes
from specrules.cli.status import Status, gravest
from specrules.cli.writing import (
    COLOUR,
    NO_PLUGINS,
    OUT,
    READABLE,
    REPLACE,
    progress_of,
    put_faults,
    put_lines,
    put_text,
    report_file,
)
from specrules.document import Fault
from specrules.effects.files import WholeFile, read_bytes
from specrules.inspection import Options
from specrules.output.lines import Line, columns, line
from specrules.output.marks import REPORT
from specrules.output.progress_bar import Bar
from specrules.quantity import nearest
from specrules.vocabulary import DECISION_RULES, IMPORTANCES


@click.command()
@click.argument("sheets", nargs=-1, required=True, metavar="SHEET...", type=READABLE)
@click.option("--add", multiple=True, metavar="PACK", help="One more pack, over those of the sheet.")
@click.option("--until", metavar="HOLD_POINT", default="", help="How far to ask; else the last.")
@click.option("--held-by", type=click.Choice(IMPORTANCES), default="minor", help="Nothing less grave holds the job.")
@click.option("--sure", is_flag=True, help="Just in holds the job too.")
@click.option(
    "--at-least", type=click.IntRange(1), default=None, metavar="N", help="Checks to be judged, of each sheet."
)
@click.option("--decision", type=click.Choice(DECISION_RULES), default=None, help="Decide so, whatever the sheet says.")
@click.option("--form", metavar="FORM", default="console", help="console, json (for machines), or a plugin's form.")
@OUT
@REPLACE
@NO_PLUGINS
@COLOUR
def inspect(
    sheets: tuple[Path, ...],
    add: tuple[str, ...],
    until: str,
    held_by: str,
    sure: bool,
    at_least: int | None,
    decision: str | None,
    form: str,
    out: Path | None,
    replace: bool,
    no_plugins: bool,
    colour: str,
) -> None:
    """Judge build sheets and say whether the work may go on.

    \b
    specrules inspect engine.sheet.yaml
    specrules inspect engine.sheet.yaml --until dry_fit
    specrules inspect jobs/*.sheet.yaml --form json --out record.json

    \b
    Exit status  0  nothing holds the job and nothing is open
                 1  something is beyond its limits and holds the job
                 2  a file is at fault, or cannot be read or written
                 3  nothing holds it, but something is not measured, not
                    proven or not signed, or nothing was judged, or fewer
                    checks than --at-least asks for
    """
    options = Options(decision or "", until, held_by, sure, at_least or 0)
    asked = InspectionRequest(add, options, form, len(sheets) > 1, not no_plugins)
    inspector = Inspector(asked)
    plugged = inspector.workspace.plugged.forms
    known = (*FORMS, *plugged)

    def inputs() -> Iterator[Path]:
        yield from sheets
        for folder in dict.fromkeys(sheet.parent for sheet in sheets):
            yield from inspector.workspace.pack_paths(folder)

    head, marks = REPORT if form == CONSOLE else "", [each.mark for each in plugged.values() if each.mark]
    with report_file(out, inputs, replace, head, marks) as file:
        if form not in known:
            offered = nearest(form, known) or " or ".join(known)
            raise click.UsageError(f'--form: "{form}" is no form here; write {offered}')
        with _inspected(inspector, sheets) as results, progress_of(len(sheets), colour) as bar:
            come = _moving(bar, results)
            if form == CONSOLE:
                told = _put_screens(come, bar, file, colour)
            elif form == JSON:
                told = _put_records(come, bar, file)
            else:
                told = _put_plugged(come, plugged[form].text, file)
        if form == CONSOLE:
            put_faults(
                [*(f for each in told for f in each.faults), *(f for each in told for f in each.set_aside)], file
            )
    raise click.exceptions.Exit(gravest([each.status for each in told]))


@contextmanager
def _inspected(inspector: Inspector, paths: Sequence[Path]) -> Iterator[Iterator[Inspected]]:
    """What comes of each sheet, in order. They are read here: what is no file, a pipe say, may be this process's own.

    What the program does not foresee stops a sheet that was asked for alone, and of several none but the one.
    """
    files = (SheetBytes(path, read_bytes(path, str(path))) for path in paths)
    if len(paths) == 1:
        yield map(inspector, files)
        return
    from specrules.effects.processes import FailedWork, in_order  # only for several: it takes a part of the start

    with in_order(inspector, files, len(paths)) as results:
        yield (
            inspector.failed(path, each.why) if isinstance(each, FailedWork) else each
            for path, each in zip(paths, results, strict=True)
        )


def _moving(bar: Bar, results: Iterable[Inspected]) -> Iterator[Inspected]:
    for each in results:
        bar.advance(each.name)
        yield each


def _put_screens(results: Iterable[Inspected], bar: Bar, out: WholeFile | None, colour: str) -> list[Inspected]:
    """Each sheet's screen as soon as it is there; of several a line each at the end."""
    told: list[Inspected] = []
    blank: list[Line] = []
    for each in results:
        if each.lines:
            with bar.aside():
                put_lines([*blank, *each.lines], out, colour)
            blank = [line()]
        told.append(each.small())
    if len(told) > 1:
        width = min(max(len(each.name) for each in told), 40)
        ends = (row for each in told for row in columns(each.name, each.conclusion, wide=width))
        with bar.aside():
            put_lines([*blank, *ends], out, colour)
    return told


def _put_records(results: Iterable[Inspected], bar: Bar, out: WholeFile | None) -> list[Inspected]:
    """Each sheet's record as soon as it is there."""
    told = []
    for each in results:
        with bar.aside():
            put_text(each.text, out)
        told.append(each.small())
    return told


def _put_plugged(
    results: Iterable[Inspected], form: Callable[[Sequence[dict[str, Any]]], str | Fault], out: WholeFile | None
) -> list[Inspected]:
    """What a plugin's form makes of all records together; where it fails, that counts as a sheet at fault does."""
    told = list(results)
    made = form([each.record for each in told if each.record is not None])
    if isinstance(made, Fault):
        put_faults([made])
        return [each._replace(status=Status.FAULT) for each in told]
    put_text(made, out)
    return told
