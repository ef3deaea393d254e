"""Pictures as a page embeds them: scaled down, turned upright, and made anew of their pixels, so that nothing else that
a file bears (where and when it was taken, by whom) goes with them. By Pillow, which only the extra `pictures` installs.

Nothing else surely drops what a camera wrote beside them, so without Pillow the page says what to install, and shows
none.
"""

from __future__ import annotations

import base64
import io
import warnings
from collections.abc import Iterable, Mapping
from hashlib import sha256
from pathlib import Path

from specrules.effects.picture_files import data_of
from specrules.plugins import Embedded
from specrules.sheet.sheet_parts import Picture

SIDE = 900
"""Pixels that an embedded picture has at the most, each way."""
_QUALITY = 78
_WITHOUT = "showing it takes what is not installed: pip install 'specrules[pictures]'"


def embedded(pictures: Iterable[Picture], path: Path | None) -> Mapping[str, Embedded]:
    """By file, the pictures of the sheet at a path as they can stand in a page, or why one cannot."""
    return {each.file: _embedded(each, path) for each in pictures}


def _embedded(picture: Picture, path: Path | None) -> Embedded:
    if picture.found is None or path is None:
        return Embedded(why_not="no picture could be taken there")
    try:
        data = data_of(picture.file, path)
    except OSError:
        data = b""
    if sha256(data).hexdigest() != picture.found.sha256:
        return Embedded(why_not="it was changed while this page was made")
    try:
        return _scaled(data)
    except ImportError:
        return Embedded(why_not=_WITHOUT)
    except Exception:  # a stranger's bytes: there is nothing that their reading does not raise
        return Embedded(why_not="it is damaged")


def _scaled(data: bytes) -> Embedded:
    from PIL import Image, ImageOps

    with warnings.catch_warnings():  # of damage that it reads over, and of tags, which are not kept
        warnings.simplefilter("ignore")
        with Image.open(io.BytesIO(data), formats=("PNG", "JPEG", "WEBP")) as opened:
            opened.draft("RGB", (SIDE, SIDE))  # of a JPEG no more is decoded than will be shown
            upright = ImageOps.exif_transpose(opened).convert("RGBA")
    upright.thumbnail((SIDE, SIDE))
    on_white = Image.new("RGB", upright.size, "white")
    on_white.paste(upright, mask=upright)
    made = io.BytesIO()
    on_white.save(made, "JPEG", quality=_QUALITY, optimize=True)
    return Embedded(f"data:image/jpeg;base64,{base64.b64encode(made.getvalue()).decode()}", *on_white.size)
