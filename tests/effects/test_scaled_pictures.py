"""Pictures as a page has them: small, upright, of pixels alone."""

from __future__ import annotations

import base64
import io
import sys
from hashlib import sha256
from pathlib import Path

import pytest

from specrules.document import Place
from specrules.effects.scaled_pictures import SIDE, embedded
from specrules.plugins import Embedded
from specrules.sheet.picture_formats import picture_format
from specrules.sheet.sheet_parts import Picture, PictureFile
from tests.sheet.test_picture_formats import png

Image = pytest.importorskip("PIL.Image")


def placed(folder: Path, data: bytes, name: str = "a.jpg") -> Embedded:
    """What a page gets of a picture with these bytes."""
    (folder / name).write_bytes(data)
    known = picture_format(data)
    assert known is not None
    found = PictureFile(sha256(data).hexdigest(), len(data), *known)
    (made,) = embedded([Picture(name, (), Place("", 1, 1), found)], folder / "a.sheet.yaml").values()
    return made


def bytes_of(made: Embedded) -> bytes:
    head, _, text = made.uri.partition(",")
    assert head == "data:image/jpeg;base64"
    return base64.b64decode(text, validate=True)


def opened(made: Embedded) -> Image.Image:  # type: ignore[name-defined]
    shown = Image.open(io.BytesIO(bytes_of(made)))
    assert shown.size == (made.wide, made.high)
    return shown


def photo(wide: int, high: int, orientation: int = 1, form: str = "JPEG") -> bytes:
    """A grey picture with a red corner at the top left, as a camera saves it that knows where it is."""
    made = Image.new("RGB", (wide, high), "grey")
    made.paste("red", (0, 0, wide // 4, high // 4))
    tags = Image.Exif()
    tags[0x0112] = orientation
    tags[0x010F] = "CAMERA OF SOMEBODY"
    tags.get_ifd(0x8825)[2] = (51.0, 2.0, 3.0)
    data = io.BytesIO()
    made.save(data, form, exif=tags, quality=90)
    return data.getvalue()


def is_red(pixel: tuple[int, int, int]) -> bool:
    return pixel[0] > 150 > 80 > max(pixel[1:])


@pytest.mark.parametrize("form", ["JPEG", "WEBP", "PNG"])
def test_it_is_scaled_down_and_never_up(tmp_path: Path, form: str) -> None:
    made = placed(tmp_path, photo(1800, 1200, form=form))
    assert (made.wide, made.high) == (SIDE, SIDE * 2 // 3)
    assert is_red(opened(made).getpixel((5, 5)))
    assert len(made.uri) < 20_000
    small = placed(tmp_path, photo(60, 40, form=form))
    assert (small.wide, small.high) == (60, 40)


def test_it_is_turned_upright(tmp_path: Path) -> None:
    for orientation, corner in ((3, (95, 75)), (6, (75, 5)), (8, (5, 95))):
        shown = opened(placed(tmp_path, photo(100, 80, orientation)))
        assert shown.size == ((100, 80) if orientation == 3 else (80, 100))
        assert is_red(shown.getpixel(corner))


@pytest.mark.parametrize("form", ["JPEG", "WEBP", "PNG"])
def test_nothing_but_its_pixels_goes_with_it(tmp_path: Path, form: str) -> None:
    data = photo(64, 64, 6, form)
    assert b"CAMERA" in data
    made = placed(tmp_path, data)
    assert b"CAMERA" not in bytes_of(made)
    assert b"Exif" not in bytes_of(made)
    assert not opened(made).getexif()


def test_what_shows_through_is_white(tmp_path: Path) -> None:
    data = io.BytesIO()
    Image.new("RGBA", (8, 8), (0, 0, 0, 0)).save(data, "PNG")
    assert min(opened(placed(tmp_path, data.getvalue())).getpixel((4, 4))) > 250


@pytest.mark.parametrize("mode", ["L", "1", "P", "CMYK", "I;16"])
def test_whatever_its_colours_are_it_is_shown(tmp_path: Path, mode: str) -> None:
    data = io.BytesIO()
    Image.new(mode, (8, 8)).save(data, "JPEG" if mode == "CMYK" else "PNG")
    assert opened(placed(tmp_path, data.getvalue())).mode == "RGB"


def test_a_damaged_one_is_told(tmp_path: Path) -> None:
    for data in (photo(300, 300)[:900], png(5, 3, b"none of that"), png(5, 3)[:40]):
        assert placed(tmp_path, data) == Embedded(why_not="it is damaged")


def test_one_that_is_no_more_what_was_judged_is_not_shown(tmp_path: Path) -> None:
    found = PictureFile(sha256(b"").hexdigest(), 5, "image/png", 5, 3)
    pictures = [
        Picture("a.png", (), Place("", 1, 1), found._replace(sha256="0" * 64)),
        Picture("b", (), Place("", 1, 1)),
    ]
    (tmp_path / "a.png").write_bytes(png(5, 3))
    made = embedded(pictures, tmp_path / "a.sheet.yaml")
    assert made["a.png"] == Embedded(why_not="it was changed while this page was made")
    assert made["b"] == Embedded(why_not="no picture could be taken there")
    (tmp_path / "a.png").unlink()
    assert embedded(pictures, tmp_path / "a.sheet.yaml")["a.png"].why_not


def test_without_what_scales_it_nothing_of_it_is_shown(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "PIL", None)
    made = placed(tmp_path, png(5, 3))
    assert made == Embedded(why_not="showing it takes what is not installed: pip install 'specrules[pictures]'")
