"""Pictures are looked for in the sheet's folder and below it: what is there, what is not, and what is never opened."""

from __future__ import annotations

import os
import struct
import sys
from hashlib import sha256
from pathlib import Path

import pytest

from specrules.document import Fault, Place
from specrules.effects import picture_files
from specrules.effects.files import STANDARD_INPUT, read
from specrules.effects.picture_files import SeenPictures, data_of, looked_at, paths_of
from specrules.effects.workspace import Loaded
from specrules.sheet.sheet_parts import Picture, PictureFile
from specrules.vocabulary import Code
from tests.sheet.small_shop import settled
from tests.sheet.test_picture_formats import png

GREY = png(5, 3)
posix = pytest.mark.skipif(sys.platform == "win32", reason="links and FIFOs of POSIX")


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    (tmp_path / "jobs" / "photos").mkdir(parents=True)
    (tmp_path / "jobs" / "photos" / "main-3.png").write_bytes(GREY)
    (tmp_path / "secret.png").write_bytes(GREY)
    return tmp_path / "jobs" / "a.sheet.yaml"


def named(*files: str) -> Loaded:
    sheet, _ = settled("")
    assert sheet is not None
    pictures = tuple(Picture(file, (), Place("a.sheet.yaml", 7, 9)) for file in files)
    return Loaded(sheet._replace(pictures=pictures), None, ())


def looked(path: Path | None, file: str) -> tuple[PictureFile | None, tuple[Fault, ...]]:
    loaded = looked_at(named(file), path)
    assert loaded.sheet is not None
    assert loaded.faults == ()
    return loaded.sheet.pictures[0].found, loaded.set_aside


def test_a_picture_is_known_by_its_digest(sheet: Path) -> None:
    found = PictureFile(sha256(GREY).hexdigest(), len(GREY), "image/png", 5, 3)
    assert looked(sheet, "photos/main-3.png") == (found, ())


def test_a_sheet_without_pictures_is_as_it_was(sheet: Path) -> None:
    loaded = named()
    assert looked_at(loaded, sheet) is loaded
    faulty = Loaded(None, None, ())
    assert looked_at(faulty, sheet) is faulty


def told(path: Path | None, file: str) -> tuple[Code, str, str]:
    found, faults = looked(path, file)
    assert found is None
    (wrong,) = faults
    assert (wrong.kind, wrong.place, wrong.subject) == ("picture", Place("a.sheet.yaml", 7, 9), "pictures")
    return wrong.code, wrong.said, wrong.write


def test_one_that_is_not_there_is_told_with_the_nearest(sheet: Path) -> None:
    said = (Code.UNREADABLE, '"photos/main-3.jpg" is not there', "photos/main-3.png")
    assert told(sheet, "photos/main-3.jpg") == said
    assert told(sheet, "nowhere/quite.jpg") == (Code.UNREADABLE, '"nowhere/quite.jpg" is not there', "")
    assert told(sheet, "photos/main-3.png/x.jpg")[:2] == (Code.UNREADABLE, '"photos/main-3.png/x.jpg" is not there')


@pytest.mark.parametrize("data", [b"", b"<svg/>", b"GIF89a" + bytes(40)])
def test_what_is_in_it_counts_and_not_its_name(sheet: Path, data: bytes) -> None:
    (sheet.parent / "a.png").write_bytes(data)
    said = '"a.png" is no picture by what is in it'
    assert told(sheet, "a.png") == (Code.WRONG_FILE, said, "the name of a picture saved as JPEG, PNG or WebP")
    (sheet.parent / "a.txt").write_bytes(GREY)
    assert looked(sheet, "a.txt")[1] == ()


def test_one_with_too_many_bytes_or_pixels_is_not_taken(sheet: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    bomb = GREY[:16] + struct.pack(">II", 30_000, 30_000) + GREY[24:]
    (sheet.parent / "bomb.png").write_bytes(bomb)
    said = '"bomb.png" has 30000 x 30000 pixels, more than 64 million'
    assert told(sheet, "bomb.png") == (Code.FILE_TOO_LARGE, said, "that of a smaller copy")
    monkeypatch.setattr(picture_files, "MOST_BYTES", len(GREY) - 1)
    assert told(sheet, "photos/main-3.png")[0] is Code.FILE_TOO_LARGE


def test_one_whose_file_is_as_it_was_is_not_read_again(sheet: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    there, seen, opened = sheet.parent / "photos" / "main-3.png", SeenPictures(), list[str]()

    def counted(path: Path, most: int, plain: bool) -> bytes:
        opened.append(path.name)
        return read(path, most, plain=plain)

    monkeypatch.setattr(picture_files, "read", counted)

    def look(seconds_later: int) -> PictureFile | None:
        monkeypatch.setattr("time.time_ns", lambda: there.stat().st_ctime_ns + seconds_later * 10**9)
        loaded = looked_at(named("photos/main-3.png", "photos/main-3.png"), sheet, seen)
        assert loaded.sheet is not None
        assert loaded.sheet.pictures[0].found == loaded.sheet.pictures[1].found
        return loaded.sheet.pictures[0].found

    assert look(1) == look(1)
    assert len(opened) == 4  # just written: it may be written again without another time
    assert look(3) == look(3)
    assert len(opened) == 5
    before = look(3)
    there.write_bytes(png(5, 4))
    assert look(3) != before
    assert len(opened) == 6
    there.unlink()
    gone = looked_at(named("photos/main-3.png"), sheet, seen).sheet
    assert gone is not None
    assert gone.pictures[0].found is None


@posix
def test_a_link_may_lead_about_the_folder_and_never_out_of_it(sheet: Path) -> None:
    folder = sheet.parent
    (folder / "inside.png").symlink_to(folder / "photos" / "main-3.png")
    assert looked(sheet, "inside.png")[1] == ()
    (folder / "out.png").symlink_to(folder.parent / "secret.png")
    (folder / "up").symlink_to(folder.parent)
    (folder / "round").symlink_to("round")
    said = "cannot be read: it leads out of the folder of this sheet"
    assert told(sheet, "out.png")[1] == f'"out.png" {said}'
    assert told(sheet, "up/secret.png")[1] == f'"up/secret.png" {said}'
    assert told(sheet, "round")[0] is Code.UNREADABLE


@posix
def test_a_folder_whose_name_begins_alike_is_another(sheet: Path) -> None:
    beside = sheet.parent.parent / "jobs-of-others"
    beside.mkdir()
    (beside / "a.png").write_bytes(GREY)
    (sheet.parent / "a").symlink_to(beside)
    assert told(sheet, "a/a.png")[0] is Code.UNREADABLE


@posix
def test_what_is_no_plain_file_is_never_opened(sheet: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    os.mkfifo(sheet.parent / "pipe.png")

    def opened(*_: object, **__: object) -> bytes:
        raise AssertionError("opened")

    monkeypatch.setattr(picture_files, "read", opened)
    assert told(sheet, "pipe.png")[1] == '"pipe.png" cannot be read: no plain file'
    assert told(sheet, "photos")[1] == '"photos" cannot be read: no plain file'


@posix
def test_what_becomes_another_thing_meanwhile_is_not_read(sheet: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    there = sheet.parent / "photos" / "main-3.png"
    outside = sheet.parent.parent / "secret.png"

    def swapped(path: Path, most: int, plain: bool) -> bytes:
        there.unlink()
        there.symlink_to(outside)
        return read(path, most, plain=plain)

    monkeypatch.setattr(picture_files, "read", swapped)
    with pytest.raises(OSError, match="symbolic links"):
        data_of("photos/main-3.png", sheet)


def test_a_sheet_in_no_file_has_no_pictures_beside_it() -> None:
    said = '"photos/main-3.png" is not looked for, since this sheet stands in no file'
    assert told(None, "photos/main-3.png")[1] == told(STANDARD_INPUT, "photos/main-3.png")[1] == said


def test_where_they_lie(sheet: Path) -> None:
    loaded = named("photos/main-3.png", "b.jpg")
    assert loaded.sheet is not None
    there = [sheet.parent.resolve() / "photos" / "main-3.png", sheet.parent.resolve() / "b.jpg"]
    assert list(paths_of(loaded.sheet, sheet)) == there
    assert list(paths_of(loaded.sheet, None)) == []
