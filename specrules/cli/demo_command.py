"""`specrules demo`: the engine that comes with the program, judged; and a copy of its sheet to start from."""

from __future__ import annotations

from pathlib import Path

import click

from specrules.api import FilesAtFault, SheetText, examine
from specrules.cli.writing import COLOUR, put_faults, put_lines, put_new, quoted
from specrules.output.console import screen
from specrules.output.full_screen import whole_screen
from specrules.output.lines import line

SHEET = Path(__file__).parent.parent / "demo" / "carousel.sheet.yaml"


@click.command()
@click.option("--copy", "folder", type=click.Path(path_type=Path, file_okay=False), help="Write the sheet to a folder.")
@click.option("--full", is_flag=True, help="A line a check, with all limits, whys and sources.")
@COLOUR
def demo(folder: Path | None, full: bool, colour: str) -> None:
    """
    \b
    specrules demo
    specrules demo --full
    specrules demo --copy my-engine      its sheet, to start your own from
    """
    text = SHEET.read_text(encoding="utf-8")
    try:
        examined = examine(SheetText(text, SHEET.name), plugins=False)
    except FilesAtFault as wrong:
        put_faults(wrong.faults)
        raise click.ClickException("the demo that came with the program is at fault; install it anew") from wrong
    lead = "This is the demo. For its sheet, to read and to start your own from:"
    command = "specrules demo --copy my-engine"
    if folder is not None:
        path = folder / SHEET.name
        put_new(path, text)
        lead, command = f"Its sheet is now {path}. Change a reading, then:", f"specrules inspect {quoted(path)}"
    lines = (whole_screen if full else screen)(examined.report, examined.whole)
    put_lines([*lines, line(), line(lead), line(f"  {command}")], colour)
