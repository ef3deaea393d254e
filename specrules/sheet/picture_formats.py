"""What a picture's bytes are, whatever its file is called: PNG, JPEG or WebP, and how many pixels it has.

PNG: ISO/IEC 15948, 5.2 and 11.2.2. JPEG: ITU-T T.81, B.1.1 and B.2.2. WebP: RFC 9649, 2.4 to 2.7. Drawings (SVG) are
none: they are programs.
"""

from __future__ import annotations

_PNG = b"\x89PNG\r\n\x1a\n"
_ALONE = {0x01, *range(0xD0, 0xD9)}
"""Markers of JPEG with nothing behind them."""
_FRAMES = {*range(0xC0, 0xD0)} - {0xC4, 0xC8, 0xCC}
"""Markers of JPEG behind which the size of the picture stands."""


def picture_format(data: bytes) -> tuple[str, int, int] | None:
    """The kind of data, such as image/png, and the width and height in pixels; None of anything else."""
    for media, size in (("image/png", _of_png(data)), ("image/jpeg", _of_jpeg(data)), ("image/webp", _of_webp(data))):
        if size is not None and all(size):
            return media, *size
    return None


def _of_png(data: bytes) -> tuple[int, int] | None:
    if not data.startswith(_PNG) or data[12:16] != b"IHDR" or len(data) < 24:
        return None
    return int.from_bytes(data[16:20], "big"), int.from_bytes(data[20:24], "big")


def _of_jpeg(data: bytes) -> tuple[int, int] | None:
    if not data.startswith(b"\xff\xd8\xff"):
        return None
    at = 2
    while at + 9 <= len(data) and data[at] == 0xFF:
        marker = data[at + 1]
        if marker in _FRAMES:
            return int.from_bytes(data[at + 7 : at + 9], "big"), int.from_bytes(data[at + 5 : at + 7], "big")
        if marker == 0xFF:
            at += 1
        elif marker in _ALONE:
            at += 2
        else:
            at += 2 + int.from_bytes(data[at + 2 : at + 4], "big")
    return None


def _of_webp(data: bytes) -> tuple[int, int] | None:
    if data[:4] != b"RIFF" or data[8:12] != b"WEBP" or len(data) < 30:
        return None
    kind = data[12:16]
    if kind == b"VP8X":
        return int.from_bytes(data[24:27], "little") + 1, int.from_bytes(data[27:30], "little") + 1
    if kind == b"VP8L" and data[20] == 0x2F:
        bits = int.from_bytes(data[21:25], "little")
        return (bits & 0x3FFF) + 1, (bits >> 14 & 0x3FFF) + 1
    if kind == b"VP8 " and data[23:26] == b"\x9d\x01\x2a":
        return int.from_bytes(data[26:28], "little") & 0x3FFF, int.from_bytes(data[28:30], "little") & 0x3FFF
    return None
