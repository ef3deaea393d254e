"""The picture in the README: two sheets of paper of the demo's page, as Chromium prints them.

Run `python -m tests.output.picture_of_page` where Chromium, Poppler's pdftoppm and Pillow are installed.
"""

from __future__ import annotations

import io
import subprocess
import sys
import tempfile
from pathlib import Path

from tests.cli.browser import run as browse

ROOT = Path(__file__).parents[2]
PICTURE = Path(__file__).parent / "pictures" / "page.png"
DEMO = ROOT / "specrules" / "demo" / "carousel.sheet.yaml"
SHEETS = (1, 2)
"""The sheets of paper that are shown: what a customer asks, and the first checks with their drawings."""
DOTS = 72
"""Per inch."""
SHOWN = 0.66
"""How much of each sheet's height is shown."""
EDGE, GREYS = 3, 16


def picture(folder: Path) -> bytes:
    """The picture as PNG. `folder`: for all that is needed on the way."""
    from PIL import Image, ImageOps

    page, paper = folder / "page.html", folder / "page.pdf"
    inspect = [
        sys.executable,
        "-m",
        "specrules",
        "inspect",
        DEMO.name,
        "--form",
        "page",
        "--out",
        str(page),
        "--no-plugins",
    ]
    subprocess.run(inspect, cwd=DEMO.parent, check=False, stderr=subprocess.DEVNULL)
    browse(folder, page, f"--print-to-pdf={paper}")
    sheets = []
    for number in SHEETS:
        only = ["-f", str(number), "-l", str(number), "-singlefile", "-r", str(DOTS), "-png"]
        subprocess.run(["pdftoppm", *only, paper, folder / f"sheet-{number}"], check=True)
        with Image.open(folder / f"sheet-{number}.png") as opened:
            shown = opened.convert("L").crop((0, 0, opened.width, int(opened.height * SHOWN)))
        sheets.append(ImageOps.expand(shown, 1, "#999"))
    wide = sum(each.width for each in sheets) + EDGE * (len(sheets) - 1)
    both, left = Image.new("L", (wide, sheets[0].height), "white"), 0
    for each in sheets:
        both.paste(each, (left, 0))
        left += each.width + EDGE
    made = io.BytesIO()
    both.quantize(GREYS).save(made, "PNG", optimize=True)
    return made.getvalue()


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as name:
        made = picture(Path(name))
    PICTURE.parent.mkdir(exist_ok=True)
    PICTURE.write_bytes(made)
