"""`specrules gauge`: what a gauge can do, found out from readings of its own."""

from __future__ import annotations

from pathlib import Path

import click

from specrules.cli.asked_names import settled, workspace_for
from specrules.cli.writing import (
    COLOUR,
    NO_PLUGINS,
    OUT,
    READABLE,
    REPLACE,
    end_at_fault,
    put_lines,
    put_text,
    report_file,
)
from specrules.document import Fault
from specrules.effects.files import read_bytes


@click.command()
@click.argument("path", metavar="SHEET", type=READABLE)
@click.option("--add", multiple=True, metavar="PACK", help="A pack more, over those that the sheet names.")
@NO_PLUGINS
@COLOUR
def able(path: Path, add: tuple[str, ...], no_plugins: bool, colour: str) -> None:
    """
    \b
    specrules gauge able my.sheet.yaml

    Ask before the day is spent: nothing has to be measured yet. A gauge that
    a sheet does not name is taken to be of the first kind that the packs list.
    """
    from specrules.inspection.gauge_capability import capable
    from specrules.output.adequacy_page import able_lines

    sheet, spec, _ = settled(workspace_for(no_plugins), path, add)
    put_lines(able_lines(capable(sheet, spec)), colour)


@click.command()
@click.argument("path", metavar="FILE", type=READABLE)
@click.option("--entry", is_flag=True, help="Only the gauge's entry for a sheet.")
@OUT
@REPLACE
@COLOUR
def study(path: Path, entry: bool, out: Path | None, replace: bool, colour: str) -> None:
    """
    \b
    specrules gauge study mic.study.yaml
    specrules gauge study mic.study.yaml --entry

    Every operator reads every part, each equally often and at least twice,
    without looking at the last reading:

    \b
    specrules: gauge-study/1
    gauge: {name: mic 2-3, class: outside micrometer}
    unit: in
    date: 2026-10-02
    readings:
      first operator:
        part 1: [2.4990, 2.4991, 2.4990]
        part 2: [2.4985, 2.4985, 2.4986]
      second operator:
        part 1: [2.4991, 2.4991, 2.4990]
        part 2: [2.4986, 2.4985, 2.4986]
    """
    from specrules.output.marks import ENTRY, STUDY
    from specrules.output.study import study_lines
    from specrules.study import analyse, gauge_entry, read_study

    with report_file(out, lambda: (path,), replace, ENTRY if entry else STUDY) as file:
        source = read_bytes(path, str(path))
        found, faults = (None, (source,)) if isinstance(source, Fault) else read_study(source, str(path))
        if found is None:
            end_at_fault(faults)
        analysis = analyse(found)
        if entry:
            put_text(gauge_entry(found, analysis), file)
        else:
            put_lines(study_lines(found, analysis), colour, file)
