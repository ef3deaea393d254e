"""`specrules record`: whether a kept record still stands, and what changed from one to the next."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import click

from specrules.cli.inspector import InspectionRequest, Inspector, SheetBytes
from specrules.cli.status import Status, gravest
from specrules.cli.writing import (
    COLOUR,
    NO_PLUGINS,
    OUT,
    READABLE,
    REPLACE,
    put_faults,
    put_lines,
    put_page,
    put_text,
    report_file,
)
from specrules.effects.files import STANDARD_INPUT, read, read_bytes, unreadable
from specrules.inspection import Options
from specrules.output.lines import folded, line
from specrules.output.marks import CHANGES
from specrules.record import NOT_INSPECTED, Record, records_in

MOST = 1 << 28
"""Bytes of a file of records."""


class NotRead(click.ClickException):
    """A file of records is not read."""

    exit_code = Status.FAULT


@click.command()
@click.argument("path", metavar="FILE", type=READABLE)
@click.option("--sheet", type=READABLE, help="Where its sheet is now, if not where it was.")
@NO_PLUGINS
@COLOUR
def check(path: Path, sheet: Path | None, no_plugins: bool, colour: str) -> None:
    """
    \b
    specrules record check as-built.json
    specrules record check as-built.json --sheet archive/my.sheet.yaml

    Holds the sheet, the packs and the specification against the digests that
    the record has of them, and judges again what was judged, as it was asked.
    Ends with 0 where all is as it was, 1 where anything is not, 2 where the
    record or the sheet cannot be read, or nothing was judged.
    """
    kept = read_records(path)
    if sheet is not None and len(kept) > 1:
        raise click.UsageError(f"--sheet is of one sheet, and {path} has records of {len(kept)}; leave it out")
    statuses = []
    for number, one in enumerate(kept):
        if number:
            put_lines([line()], colour)
        statuses.append(_checked(one, path, sheet, not no_plugins, colour))
    raise click.exceptions.Exit(gravest(statuses))


@click.command()
@click.argument("old", metavar="OLD", type=READABLE)
@click.argument("new", metavar="NEW", type=READABLE)
@click.option(
    "--form", type=click.Choice(("console", "page", "json")), default="console", help="For people or machines."
)
@OUT
@REPLACE
@COLOUR
def compare(old: Path, new: Path, form: str, out: Path | None, replace: bool, colour: str) -> None:
    """
    \b
    specrules record compare as-found.json as-built.json
    specrules record compare old.json new.json --form page --out changes.html
    specrules record compare 2024.json 2026.json --form json

    Of one engine before and after the work, or through the years: verdicts
    that changed, what moved by more than its U, limits that are others, and
    what was read again. Units may differ.
    """
    from specrules.output.changes_page import page_of_changes
    from specrules.output.record_comparison_page import compared_records
    from specrules.record.record_comparison import compare as compared
    from specrules.record.record_writing import comparison_text

    files = (str(old), str(new))
    head = CHANGES if form == "console" else ""
    with report_file(out, lambda: (old, new), replace, head) as file:
        found = compared(*map(_one_record, (old, new)))
        if form == "json":
            put_text(comparison_text(found), file)
        elif form == "page":
            put_page(page_of_changes(found, files), file)
        else:
            put_lines(compared_records(found, files), colour, file)


def _one_record(path: Path) -> Record:
    kept = read_records(path)
    if len(kept) > 1:
        raise NotRead(f"{path} has records of {len(kept)} sheets; give a file of one")
    if kept[0].verdict == NOT_INSPECTED:
        raise NotRead(f"{path}: nothing was judged there, so there is nothing to compare")
    return kept[0]


def read_records(path: Path) -> tuple[Record, ...]:
    """The records of a file. Ends the command where there are none."""
    try:
        source = read(path, MOST + 1)
    except OSError as error:
        raise NotRead(f"{path} {unreadable(error)}") from error
    if len(source) > MOST:
        raise NotRead(f"{path} has more than {MOST} bytes, so it is no record of sheets")
    try:
        return records_in(source)
    except ValueError as wrong:
        raise NotRead("\n".join(f"{path}: {each}" for each in str(wrong).splitlines())) from wrong


def _checked(kept: Record, path: Path, sheet: Path | None, plugins: bool, colour: str) -> Status:
    """Check one record, and tell it."""
    from specrules.output.standing_page import heading, standing_lines
    from specrules.record.standing import standing_of

    put_lines(heading(kept, str(path)), colour)
    if kept.verdict == NOT_INSPECTED:
        put_lines(folded("Nothing was judged then: there is nothing to check.", style="bad"), colour)
        return Status.FAULT
    found = sheet or next(_places(kept, path), None)
    if found is None:
        told = f"The sheet {kept.sheet.file} is gone: nothing says whether the record still stands. Where it is now, "
        put_lines(folded(f"{told}--sheet says.", style="bad"), colour)
        return Status.FAULT
    asked = kept.asked
    options = Options(
        (asked.decision if asked else kept.decision) or "",
        (asked.until if asked else kept.until) or "",
        kept.held_by or "minor",
        bool(kept.sure),
        kept.at_least or 0,
        asked.add if asked else (),
    )
    request = InspectionRequest(options, "json", several=False, plugins=plugins)
    judged = SheetBytes(found, read_bytes(found, str(found)), kept.sheet.file or "")
    now, faults = Inspector(request).recorded(judged)
    if faults:
        put_faults(faults)
        put_lines(folded("It cannot be judged again, so nothing says that it still stands.", style="bad"))
        return Status.FAULT
    stands = standing_of(kept, now)
    put_lines(standing_lines(stands, asked is not None), colour)
    return Status.GO if stands.as_it_was else Status.HELD


def _places(kept: Record, path: Path) -> Iterator[Path]:
    """Where the sheet of a record may be: where it was, from here or from beside the record; beside the record."""
    file = Path(kept.sheet.file or "")
    if str(file) not in ("", str(STANDARD_INPUT), "."):
        yield from (each for each in (file, path.parent / file, path.parent / file.name) if os.path.isfile(each))
