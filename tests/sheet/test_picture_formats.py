"""What a picture's bytes are, whatever its name says."""

from __future__ import annotations

import io
import struct
import zlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.sheet.picture_formats import picture_format


def png(wide: int, high: int, rows: bytes | None = None) -> bytes:
    """A grey picture as PNG has it (ISO/IEC 15948), each chunk with its check."""

    def chunk(kind: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))

    head = struct.pack(">IIBBBBB", wide, high, 8, 0, 0, 0, 0)
    rows = b"".join(b"\0" + bytes(range(wide)) for _ in range(high)) if rows is None else rows
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b"")


def made(form: str, **how: object) -> bytes:
    image = pytest.importorskip("PIL.Image")
    data = io.BytesIO()
    image.new(how.pop("mode", "RGB"), (37, 21), "red").save(data, form, **how)
    return data.getvalue()


def test_a_png_is_one() -> None:
    assert picture_format(png(5, 3)) == ("image/png", 5, 3)


@pytest.mark.parametrize(
    ("form", "how", "media"),
    [
        ("PNG", {}, "image/png"),
        ("JPEG", {}, "image/jpeg"),
        ("JPEG", {"progressive": True, "comment": b"\xff\xc0 no frame"}, "image/jpeg"),
        ("WEBP", {}, "image/webp"),
        ("WEBP", {"lossless": True}, "image/webp"),
        ("WEBP", {"mode": "RGBA", "exif": b"Exif\0\0MM\0*\0\0\0\x08\0\0\0\0\0\0"}, "image/webp"),
    ],
)
def test_pictures_of_another_program_are_known_with_their_size(form: str, how: dict[str, object], media: str) -> None:
    assert picture_format(made(form, **how)) == (media, 37, 21)


@pytest.mark.parametrize("form", ["GIF", "BMP", "TIFF"])
def test_pictures_of_other_kinds_are_none(form: str) -> None:
    assert picture_format(made(form)) is None


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>",
        b"\x89PNG\r\n\x1a\n",
        png(0, 3),
        b"\xff\xd8\xff\xe0\x00\x10JFIF",
        b"\xff\xd8\xff\xe0\x00\x00" * 3,
        b"\xff\xd8" + b"\xff" * 5000,
        b"RIFF\x00\x00\x00\x00WEBPVP8 " + bytes(20),
        b"%PDF-1.7",
        b"RIFF\x00\x00\x00\x00WAVEfmt " + bytes(20),
    ],
)
def test_what_is_none_is_none(data: bytes) -> None:
    assert picture_format(data) is None


@given(st.sampled_from([png(4, 4), b"\xff\xd8\xff", b"RIFF1234WEBPVP8X", b"RIFF1234WEBPVP8L"]), st.binary(max_size=60))
def test_whatever_the_bytes_are_nothing_is_raised(head: bytes, rest: bytes) -> None:
    for data in (head + rest, head[: len(rest)] + rest):
        found = picture_format(data)
        assert found is None or all(size > 0 for size in found[1:])
