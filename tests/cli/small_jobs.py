"""Sheets of the small trade on disk, one for each way that a job can stand, and the pack that they are judged by."""

from __future__ import annotations

from pathlib import Path

from tests.output.small_screen import PACKS, build

MEASURED = """\
readings:
  hole: {1: [1.5020, 1.5020], 2: [1.5020, 1.5020]}
  shaft: {1: [1.5000, 1.5000], 2: [1.5000, 1.5000]}
  grip: {1: 0.0030, 2: 0.0030}
  tilt: 0.0020
  slot: {others: 0.0150}
  plug: 1.0000
  weight: {1: 100 g, 2: 101 g}
limits: {plug: [{least: 0.9990 in, most: 1.0010 in, source: card in the box}]}
"""
SIGNED = "signed: {clean: {by: ab, on: 2026-10-01}, turned: {by: ab, on: 2026-10-01}}\n"

CLEAR = build(MEASURED + SIGNED)
HELD = CLEAR.replace("tilt: 0.0020", "tilt: 0.0060")
OPEN = CLEAR.replace("tilt: 0.0020", "tilt:")
FAULTY = CLEAR.replace("tilt: 0.0020", "tilt: 0,0020")
NEAR = CLEAR.replace("tilt: 0.0020", "tilt: 0.0039 ±0.0002").replace("decision: simple", "decision: guarded")


def lay_out(folder: Path, **sheets: str) -> Path:
    """Write sheets beside a folder of packs."""
    (folder / "packs").mkdir(exist_ok=True)
    for name, text in PACKS.items():
        (folder / "packs" / f"{name}.pack.yaml").write_text(text, encoding="utf-8")
    for name, text in sheets.items():
        (folder / f"{name}.sheet.yaml").write_text(text, encoding="utf-8")
    return folder
