"""`specrules inspect`: sheets in, screens or records out, and a status that says whether the work may go on."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path

import click

from specrules.cli.inspector import Inspected, InspectionRequest, Inspector, SheetBytes
from specrules.cli.status import GRAVITY, Status, gravest
from specrules.cli.writing import (
    ADD,
    COLOUR,
    NO_PLUGINS,
    READABLE,
    REPLACE,
    for_a_pdf,
    progress_of,
    put_faults,
    put_lines,
    put_page,
    put_text,
    report_file,
)
from specrules.document import Fault
from specrules.effects.files import WholeFile, read_bytes
from specrules.effects.watching import changes, state_of
from specrules.inspection import Options
from specrules.output.lines import Line, columns, line
from specrules.output.progress_bar import Bar
from specrules.plugins import Form
from specrules.quantity import nearest
from specrules.vocabulary import DECISION_RULES, IMPORTANCES


@click.command()
@click.argument("sheets", nargs=-1, required=True, metavar="SHEET...", type=READABLE)
@ADD
@click.option("--until", metavar="HOLD_POINT", default="", help="How far to ask; else the last.")
@click.option("--held-by", type=click.Choice(IMPORTANCES), default="minor", help="Nothing less grave holds the job.")
@click.option("--sure", is_flag=True, help="Just in holds the job too.")
@click.option(
    "--at-least", type=click.IntRange(1), default=None, metavar="N", help="Checks to be judged, of each sheet."
)
@click.option("--decision", type=click.Choice(DECISION_RULES), default=None, help="Decide so, whatever the sheet says.")
@click.option("--full", is_flag=True, help="A line a check, with all limits, whys and sources.")
@click.option(
    "--form",
    metavar="FORM",
    default="console",
    help="console, page, json, csv, readings_csv, spreadsheet, parquet, readings_parquet, junit, sarif, or a plugin's.",
)
@click.option("--watch", is_flag=True, help="Judge again whenever a sheet or pack is saved, until stopped.")
@click.option(
    "--out",
    metavar="PATH",
    default=None,
    help="Write to a file; of pages, also to a folder: one that is there, or a name without an ending.",
)
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
    full: bool,
    form: str,
    watch: bool,
    out: str | None,
    replace: bool,
    no_plugins: bool,
    colour: str,
) -> None:
    """
    \b
    specrules inspect engine.sheet.yaml
    specrules inspect engine.sheet.yaml --until dry_fit
    specrules inspect engine.sheet.yaml --full
    specrules inspect engine.sheet.yaml --watch
    specrules inspect jobs/*.sheet.yaml --form json --out record.json
    specrules inspect jobs/*.sheet.yaml --form page --out pages/

    \b
    Exit status  0  nothing holds the job and nothing is open
                 1  something is beyond its limits and holds the job
                 2  a file is at fault, or cannot be read or written
                 3  nothing holds it, but something is not measured, not
                    proven or not signed, or nothing was judged, or fewer
                    checks than --at-least asks for
    """
    options = Options(decision or "", until, held_by, sure, at_least or 0, add)
    folder = out is not None and _for_a_folder(out, form)
    asked = InspectionRequest(options, form, len(sheets) > 1, not no_plugins, full, folder)
    if not watch:
        raise click.exceptions.Exit(
            _judge(Inspector(asked), sheets, None if out is None else Path(out), replace, colour)
        )
    if out is not None:
        raise click.UsageError("--watch draws a screen anew, and --out writes a file once; write one of the two")
    _watch(asked, sheets, colour)


def _for_a_folder(out: str, form: str) -> bool:
    """Whether `--out` is for a folder of pages: one that there is, or a name that ends as a folder's or has no ending.
    Ends the command where it is a folder, and the form makes one file."""
    path = Path(out)
    there = not out or os.path.isdir(path)
    if form != "page" or not out:
        if there:
            raise click.UsageError(f"--out: {out or 'nothing'} is no name of a file, and the form {form} makes one")
        return False
    return there or out.endswith(("/", os.sep)) or not (path.suffix or os.path.lexists(path))


def _watch(asked: InspectionRequest, sheets: Sequence[Path], colour: str) -> None:
    """Judge the sheets at once and whenever one of them, or a pack that they may name, is saved."""
    finder = judging = Inspector(asked, again=True)
    packs = state_of(_packs_beside(finder, sheets))
    for number, _ in enumerate(changes(lambda: (*sheets, *_packs_beside(finder, sheets)))):
        now = state_of(_packs_beside(finder, sheets))
        if now != packs:  # else the specifications that were made of them stand
            judging, packs = Inspector(asked, again=True), now
        _judge(judging, sheets, None, False, colour)
        gc.collect()  # while nobody waits, so that it doesn't come between a save and its screen
        if not number:
            gc.freeze()  # what there is now mostly stays: from here on only what is new is looked through


def _packs_beside(inspector: Inspector, sheets: Sequence[Path]) -> Iterator[Path]:
    """The files of all packs that these sheets may name."""
    for folder in dict.fromkeys(sheet.parent for sheet in sheets):
        yield from inspector.workspace.pack_paths(folder)


def _judge(inspector: Inspector, sheets: Sequence[Path], out: Path | None, replace: bool, colour: str) -> Status:
    """Judge the sheets and put what the form makes of them."""
    form, full = inspector.asked.form, inspector.asked.full
    known = inspector.workspace.plugged.forms
    wanted = known.get(form)

    pictures: list[Path] = []

    def inputs() -> Iterator[Path]:
        yield from sheets
        yield from _packs_beside(inspector, sheets)
        yield from pictures

    marks = [each.mark for each in known.values() if each.mark]
    if out is not None and inspector.asked.folder:
        from specrules.cli.folder_of_pages import FolderOfPages  # only for pages: it takes a part of the start

        _asked_for(known, form, full)
        pages = FolderOfPages(out, sheets, inputs, replace, marks)
        with _inspected(inspector, sheets) as results, progress_of(len(sheets), colour) as bar:
            return pages.filled_with(_moving(bar, results, pictures))
    head = wanted.mark if wanted is not None and wanted.of == "report" else ""
    with report_file(out, inputs, replace, head, marks) as file:
        wanted = _asked_for(known, form, full)
        if wanted.binary and file is None and sys.stdout.isatty():
            raise click.UsageError(f"--form: {form} makes a file that no terminal shows; write --out FILE with it")
        with _inspected(inspector, sheets) as results, progress_of(len(sheets), colour) as bar:
            shown = _on_a_clear_screen(results) if inspector.again and sys.stdout.isatty() else results
            told = _put(_moving(bar, shown, pictures), wanted, bar, file, colour)
        put_faults([fault for each in told for fault in each.unmade])
        if wanted.of == "report":
            put_faults(
                [*(f for each in told for f in each.faults), *(f for each in told for f in each.set_aside)], file
            )
    return gravest([each.status for each in told])


def _asked_for(known: Mapping[str, Form], form: str, full: bool) -> Form:
    """The form of this name. Ends the command where there is none, or it has no more to show."""
    if form not in known:
        offered = nearest(form, known) or " or ".join(known)
        raise click.UsageError(f'--form: "{form}" is no form here; write {offered}')
    if full and known[form].full is None:
        raise click.UsageError(f"--full: the form {form} has no more to show; leave it out")
    return known[form]


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


def _on_a_clear_screen(results: Iterator[Inspected]) -> Iterator[Inspected]:
    """The results; what is on the screen stays there until the first of them is to be shown."""
    for number, each in enumerate(results):
        if not number:
            click.clear()
        yield each


def _moving(bar: Bar, results: Iterable[Inspected], pictures: list[Path]) -> Iterator[Inspected]:
    """The results as they come; where pictures were read is noted."""
    for each in results:
        pictures += each.pictures
        bar.advance(each.name)
        yield each


def _put(results: Iterable[Inspected], form: Form, bar: Bar, out: WholeFile | None, colour: str) -> list[Inspected]:
    """What the form makes of each sheet as soon as it is there, or of all of them; of several screens a line each.

    A PDF is made of all pages at once.
    """
    told: list[Inspected] = []
    records: list[object] = []
    pages: list[str] = []
    as_pdf = out is not None and form.name == "page" and for_a_pdf(out.path)

    def put(text: str) -> None:
        if as_pdf:
            pages.append(text)
        else:
            put_text(text, out)

    blank: list[Line] = []
    lead, after = form.around.before, ""
    for each in results:
        if form.of == "records":
            records.append(each.made)
        elif each.made and form.of == "record":
            with bar.aside():
                put(f"{lead}{each.made}")
            lead, after = form.around.between, form.around.after
        elif each.made:
            with bar.aside():
                put_lines([*blank, *each.made], colour, out)
            blank = [line()]
        told.append(each.small())
    if form.of == "records":
        made = form.make(records)
        if isinstance(made, Fault):
            return [each._replace(status=Status.FAULT, unmade=(made,)) for each in told]
        put_text(made, out)
    elif after:
        put(after)
        if as_pdf:
            put_page("".join(pages), out)
    elif form.of == "report" and len(told) > 1:
        width = min(max(len(each.name) for each in told), 40)
        by_gravity = sorted(told, key=lambda each: -GRAVITY.index(each.status))  # the gravest last: read from below
        ends = (row for each in by_gravity for row in columns(each.name, each.conclusion, wide=width))
        with bar.aside():
            put_lines([*blank, *ends], colour, out)
    return told
