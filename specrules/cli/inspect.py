"""`specrules inspect`: sheets in, screens or records out, and a status that says whether the work may go on."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

import click

from specrules import VERSION
from specrules.cli.loading import Faults, Shelf
from specrules.cli.status import Status, gravest, status_of
from specrules.cli.writing import COLOUR, NO_PLUGINS, progress_of, put_faults, put_lines, put_text
from specrules.document import Fault
from specrules.effects.cache import user_cache
from specrules.inspection import Examination, Options
from specrules.output.closing import in_a_line
from specrules.output.console import screen
from specrules.output.lines import Line, columns, line
from specrules.quantity import nearest
from specrules.vocabulary import DECISION_RULES, IMPORTANCES

FORMS = ("console", "json")


@click.command()
@click.argument("sheets", nargs=-1, required=True, metavar="SHEET...", type=click.Path(path_type=Path))
@click.option("--add", multiple=True, metavar="PACK", help="One more pack, over those of the sheet.")
@click.option("--until", metavar="HOLD_POINT", default="", help="How far to ask; else the last.")
@click.option("--held-by", type=click.Choice(IMPORTANCES), default="minor", help="Nothing less grave holds the job.")
@click.option("--sure", is_flag=True, help="Just in holds the job too.")
@click.option("--decision", type=click.Choice(DECISION_RULES), default=None, help="Decide so, whatever the sheet says.")
@click.option("--form", metavar="FORM", default="console", help="console, json (for machines), or a plugin's form.")
@click.option("--out", type=click.Path(path_type=Path, dir_okay=False), default=None, help="Write to a file instead.")
@NO_PLUGINS
@COLOUR
def inspect(
    sheets: tuple[Path, ...],
    add: tuple[str, ...],
    until: str,
    held_by: str,
    sure: bool,
    decision: str | None,
    form: str,
    out: Path | None,
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
                 2  a file could not be read, or is at fault
                 3  nothing holds it, but something is not measured, not
                    proven or not signed
    """
    options = Options(decision or "", until, held_by, sure)
    shelf = Shelf(plugins=not no_plugins, cache=user_cache())
    known = (*FORMS, *shelf.plugged.forms)
    if form not in known:
        raise click.UsageError(f'--form: "{form}" is no form here; write {nearest(form, known) or " or ".join(known)}')
    judged: list[Judged] = []
    with progress_of(len(sheets), colour) as bar:
        for path in sheets:
            judged.append(_judged(shelf, path, add, options))
            bar.advance(str(path))
    statuses = [each.status for each in judged]
    if form == "console":
        if any(each.examined is not None for each in judged) or len(judged) > 1:
            put_lines(_screens(judged), out, colour)
        put_faults([*(fault for each in judged for fault in each.faults), *shelf.faults])
    elif not _recorded(judged, shelf, form, out):
        statuses.append(Status.FAULT)
    raise click.exceptions.Exit(gravest(statuses))


class Judged(NamedTuple):
    """One sheet as it came out: an inspection, or the faults that kept it from one."""

    name: str
    examined: Examination | None
    faults: Faults

    @property
    def status(self) -> Status:
        """The sheet's own status."""
        return Status.FAULT if self.examined is None else status_of(self.examined.report)


def _judged(shelf: Shelf, path: Path, add: tuple[str, ...], options: Options) -> Judged:
    loaded = shelf.load(path, str(path), add)
    if loaded.sheet is None or loaded.stack is None:
        return Judged(str(path), None, loaded.faults)
    points = loaded.stack.hold_points
    if options.until and options.until not in points:
        offered = nearest(options.until, points) or ", ".join(points)
        raise click.UsageError(f'--until: "{options.until}" is no hold point of these packs; write {offered}')
    return Judged(str(path), Examination(loaded.sheet, loaded.stack, options), ())


def _recorded(judged: Sequence[Judged], shelf: Shelf, form: str, out: Path | None) -> bool:
    """Put the records of the sheets where they belong; whether they could be written in that form."""
    from specrules.output.record import record_for, text_of

    made = [record_for(each.name, each.examined, (*each.faults, *shelf.faults), VERSION) for each in judged]
    text = text_of(made) if form == "json" else shelf.plugged.forms[form](made)
    if isinstance(text, Fault):
        put_faults([text])
        return False
    put_text(text, out)
    return True


def _screens(judged: Sequence[Judged]) -> list[Line]:
    """Each sheet's screen; of several a line each at the end."""
    lines: list[Line] = []
    for each in judged:
        if each.examined is not None:
            lines += [*([line()] if lines else []), *screen(each.examined.report, each.examined.whole)]
    if len(judged) == 1:
        return lines
    lines += [line()] if lines else []
    width = max(len(each.name) for each in judged)
    for each in judged:
        said = "at fault, not judged" if each.examined is None else in_a_line(each.examined.report)
        lines += columns(each.name, said, wide=min(width, 40))
    return lines
