"""The pictures that a sheet names, looked for in its folder and below it, and nowhere else.

Where one is missing, or is none, that changes no verdict: it is told beside what the sheet comes to.

That is done once the sheet is settled, where it is inspected and nowhere else: entering readings reads no pictures.
What is wrong with a file is a fault of the kind `picture`. The digest of each is a ground on which a record stands.
"""

from __future__ import annotations

import errno
import os
import stat
import time
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path
from typing import NamedTuple

from specrules.document import Fault, shown
from specrules.effects.files import STANDARD_INPUT, read, unreadable
from specrules.effects.workspace import Loaded
from specrules.quantity import nearest
from specrules.sheet.picture_formats import picture_format
from specrules.sheet.sheet_parts import Picture, PictureFile, Sheet
from specrules.vocabulary import Code

MOST_BYTES = 32_000_000
MOST_PIXELS = 64_000_000
SETTLED = 2_000_000_000
"""Nanoseconds after which a file that is written again has other times; before that they may be the same."""
_SUCH = "the name of a picture saved as JPEG, PNG or WebP"


class Seen(NamedTuple):
    """A picture as it was looked at, and the state of its file then: which one it is, its size, its times."""

    state: tuple[int, ...]
    found: PictureFile


SeenPictures = dict[Path, Seen]


def looked_at(loaded: Loaded, path: Path | None, seen: SeenPictures | None = None) -> Loaded:
    """What was loaded, with what lies where its sheet names pictures; what is wrong with any of them is set aside.

    `seen`: what pictures were before, by where they lie, which is put in step: one whose file is in the same state is
    not read again."""
    if loaded.sheet is None or not loaded.sheet.pictures:
        return loaded
    seen = {} if seen is None else seen
    found = [_found(each, path, seen) for each in loaded.sheet.pictures]
    sheet = loaded.sheet._replace(pictures=tuple(picture for picture, _ in found))
    return loaded._replace(sheet=sheet, set_aside=(*loaded.set_aside, *(wrong for _, wrong in found if wrong)))


def paths_of(sheet: Sheet, path: Path | None) -> Iterator[Path]:
    """Where the pictures of a sheet lie."""
    if path is not None:
        yield from (path.resolve().parent / each.file for each in sheet.pictures)


def data_of(file: str, path: Path) -> bytes:
    """The bytes of a picture, one more than it may have at the most. Raises OSError where it is no plain file in the
    folder of the sheet at this path, or below it: nothing else is opened."""
    return _data(_place(file, path)[0])


def _place(file: str, path: Path) -> tuple[Path, os.stat_result]:
    """Where a picture lies, and the state of that file. Raises OSError where `data_of` does."""
    folder = os.path.realpath(path.resolve().parent)
    there = os.path.realpath(os.path.join(folder, *file.split("/")))
    if os.path.splitdrive(folder)[0] != os.path.splitdrive(there)[0] or os.path.commonpath((folder, there)) != folder:
        raise OSError(errno.EPERM, "it leads out of the folder of this sheet")
    state = os.lstat(there)
    if not stat.S_ISREG(state.st_mode):  # asked before it is opened, which a device may not like
        raise OSError(errno.EINVAL, "no plain file")
    return Path(there), state


def _data(there: Path) -> bytes:
    return read(there, MOST_BYTES + 1, plain=True)


def _found(picture: Picture, path: Path | None, seen: SeenPictures) -> tuple[Picture, Fault | None]:
    def wrong(code: Code, said: str, write: str = "") -> tuple[Picture, Fault]:
        return picture, Fault(picture.place, "pictures", code, f"{shown(picture.file)} {said}", write, "picture")

    if path is None or path == STANDARD_INPUT:
        return wrong(Code.UNREADABLE, "is not looked for, since this sheet stands in no file")
    try:
        there, of_file = _place(picture.file, path)
        state = (of_file.st_dev, of_file.st_ino, of_file.st_size, of_file.st_mtime_ns, of_file.st_ctime_ns)
        if there in seen and seen[there].state == state:
            return picture._replace(found=seen[there].found), None
        data = _data(there)
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
    if time.time_ns() - max(of_file.st_mtime_ns, of_file.st_ctime_ns) > SETTLED:
        seen[there] = Seen(state, found)
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
