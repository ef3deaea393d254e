"""`specrules demo`: the engine that comes with the program, judged; and a copy of its sheet to start from."""

from __future__ import annotations

from pathlib import Path

import click

from specrules.cli.loading import Shelf
from specrules.cli.writing import COLOUR, put_faults, put_lines, write_whole
from specrules.inspection import inspect as judge
from specrules.output.console import screen
from specrules.output.lines import Line, line

SHEET = Path(__file__).parent.parent / "demo" / "carousel.sheet.yaml"


@click.command()
@click.option("--copy", "folder", type=click.Path(path_type=Path, file_okay=False), help="Write the sheet to a folder.")
@COLOUR
def demo(folder: Path | None, colour: str) -> None:
    """Judge the demo engine, measured but for one station.

    \b
    specrules demo
    specrules demo --copy my-engine      its sheet, to start your own from
    """
    loaded = Shelf().load(SHEET, SHEET.name)
    if loaded.sheet is None or loaded.stack is None:
        put_faults(loaded.faults)
        raise click.ClickException("the demo that came with the program is at fault")
    lines = screen(judge(loaded.sheet, loaded.stack))
    if folder is None:
        put_lines([*lines, *_hint("specrules demo --copy my-engine")], None, colour)
        return
    path = folder / SHEET.name
    if path.exists():
        raise click.ClickException(f"{path} is there already and is left alone; give another folder")
    folder.mkdir(parents=True, exist_ok=True)
    write_whole(path, SHEET.read_text(encoding="utf-8"))
    put_lines(
        [*lines, *_hint(f"specrules inspect {path}", f"Its sheet is now {path}. Change a reading, then:")], None, colour
    )


def _hint(
    command: str, lead: str = "This is the demo. For its sheet, to read and to start your own from:"
) -> list[Line]:
    return [line(), line(lead), line(f"  {command}")]
