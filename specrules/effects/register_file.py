"""The register of gauges that a sheet names: found beside the sheet or above it, and read.

It is found by its file name, never by a path.
"""

from __future__ import annotations

from os.path import relpath
from pathlib import Path

from specrules.document import Fault, Text, shown
from specrules.effects.files import read_bytes
from specrules.quantity import nearest
from specrules.sheet.register import SUFFIX, Register, read_register
from specrules.vocabulary import Code


def register_for(name: Text, near: Path | None) -> tuple[Register | None, tuple[Fault, ...]]:
    """The register of that file name, the nearest one beside a sheet's path or above it; or what is wrong.

    A name is never a path: a sheet from elsewhere reads nothing but registers of whoever keeps it.
    """

    def wrong(code: Code, said: str, write: str = "") -> tuple[None, tuple[Fault, ...]]:
        return None, (Fault(name.place, "gauges from", code, said, write, "sheet"),)

    if not name.endswith(SUFFIX) or "/" in name or "\\" in name or "\0" in name:
        return wrong(Code.NOT_A_NAME, f"{shown(name)} is no file name of a register", f"shop{SUFFIX}")
    if near is None:
        return wrong(Code.UNREADABLE, "a sheet that stands in no file has no register beside it")
    folders = near.resolve().parents
    found = next((path for folder in folders if (path := folder / name).is_file()), None)
    if found is None:
        beside = sorted(path.name for path in folders[0].glob(f"*{SUFFIX}"))
        said = f"there is no {shown(name)} beside this sheet or in a folder above it"
        return wrong(Code.UNREADABLE, said, nearest(name, beside) or "")
    file = str(found) if near.is_absolute() else relpath(found)
    source = read_bytes(found, file)
    if isinstance(source, Fault):
        empty = source.place.line and source._replace(kind="file", write="specrules: gauges/1 at its head")
        return None, (empty or source,)
    return read_register(source, file)
