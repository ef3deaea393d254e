"""The pictures that a sheet names, looked for in its folder and below it, and nowhere else.

Where one is missing, or is none, that changes no verdict: it is told beside what the sheet comes to.
"""

from __future__ import annotations

import errno
import os
import stat
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path

from specrules.document import Fault, shown
from specrules.effects.files import STANDARD_INPUT, read, unreadable
from specrules.effects.workspace import Loaded
from specrules.quantity import nearest
from specrules.sheet.picture_formats import picture_format
from specrules.sheet.sheet_parts import Picture, PictureFile, Sheet
from specrules.vocabulary import Code

MOST_BYTES = 32_000_000
MOST_PIXELS = 64_000_000
_SUCH = "the name of a picture saved as JPEG, PNG or WebP"


def looked_at(loaded: Loaded, path: Path | None) -> Loaded:
    """What was loaded, with what lies where its sheet names pictures; what is wrong with any of them is set aside."""
    if loaded.sheet is None or not loaded.sheet.pictures:
        return loaded
    found = [_found(each, path) for each in loaded.sheet.pictures]
    sheet = loaded.sheet._replace(pictures=tuple(picture for picture, _ in found))
    return loaded._replace(sheet=sheet, set_aside=(*loaded.set_aside, *(wrong for _, wrong in found if wrong)))


def paths_of(sheet: Sheet, path: Path | None) -> Iterator[Path]:
    """Where the pictures of a sheet lie."""
    if path is not None:
        yield from (path.resolve().parent / each.file for each in sheet.pictures)


def data_of(file: str, path: Path) -> bytes:
    """The bytes of a picture, one more than it may have at the most. Raises OSError where it is no plain file in the
    folder of the sheet at this path, or below it: nothing else is opened."""
    folder = os.path.realpath(path.resolve().parent)
    there = os.path.realpath(os.path.join(folder, *file.split("/")))
    if os.path.splitdrive(folder)[0] != os.path.splitdrive(there)[0] or os.path.commonpath((folder, there)) != folder:
        raise OSError(errno.EPERM, "it leads out of the folder of this sheet")
    if not stat.S_ISREG(os.lstat(there).st_mode):  # asked before it is opened, which a device may not like
        raise OSError(errno.EINVAL, "no plain file")
    return read(Path(there), MOST_BYTES + 1, plain=True)


def _found(picture: Picture, path: Path | None) -> tuple[Picture, Fault | None]:
    def wrong(code: Code, said: str, write: str = "") -> tuple[Picture, Fault]:
        return picture, Fault(picture.place, "pictures", code, f"{shown(picture.file)} {said}", write, "picture")

    if path is None or path == STANDARD_INPUT:
        return wrong(Code.UNREADABLE, "is not looked for, since this sheet stands in no file")
    try:
        data = data_of(picture.file, path)
    except (FileNotFoundError, NotADirectoryError):
        return wrong(Code.UNREADABLE, "is not there", _near(picture.file, path))
    except OSError as error:
        return wrong(Code.UNREADABLE, unreadable(error))
    if len(data) > MOST_BYTES:
        return wrong(Code.FILE_TOO_LARGE, f"has more than {MOST_BYTES // 1_000_000} MB", "that of a smaller copy")
    kind = picture_format(data)
    if kind is None:
        return wrong(Code.WRONG_FILE, "is no picture by what is in it", _SUCH)
    media, wide, high = kind
    if wide * high > MOST_PIXELS:
        said = f"has {wide} x {high} pixels, more than {MOST_PIXELS // 1_000_000} million"
        return wrong(Code.FILE_TOO_LARGE, said, "that of a smaller copy")
    found = PictureFile(sha256(data).hexdigest(), len(data), media, wide, high)
    return picture._replace(found=found), None


def _near(file: str, path: Path) -> str:
    """The picture beside which this one would lie that is called nearly so; "" for none."""
    folder = os.path.dirname(file)
    try:
        there = os.listdir(os.path.join(path.resolve().parent, folder))
    except OSError:
        return ""
    meant = nearest(os.path.basename(file), there[:1000])
    return os.path.join(folder, meant).replace(os.sep, "/") if meant else ""
