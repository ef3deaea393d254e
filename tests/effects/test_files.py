"""Every effect on files: what is read, created, replaced, left alone and left behind."""

from __future__ import annotations

import errno
import os
import stat
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from specrules.effects import files
from specrules.effects.files import LeftAlone, NotWritten, Spared, WholeFile, create, read, remove_stale, unless_ours

posix = pytest.mark.skipif(sys.platform == "win32", reason="modes, links, FIFOs and limits of POSIX")
MARK = "specrules: some-report/1\n"


def anything(_path: Path) -> str:
    return ""


def replaced(path: Path, text: str, replace: bool = False, inputs: tuple[Path, ...] = ()) -> None:
    with WholeFile(path, unless_ours([MARK], lambda: inputs, replace)) as file:
        file.write(text.encode())


def overtaken(path: Path, spared: Spared, by: str) -> None:
    """Write a file in whose place another appears meanwhile."""
    with WholeFile(path, spared) as file:
        file.write(b"new")
        path.write_text(by, encoding="utf-8")


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


# Reading


def folder(path: Path) -> None:
    path.mkdir()


def pipe(path: Path) -> None:
    os.mkfifo(path)


def device(path: Path) -> None:
    path.symlink_to("/dev/zero")


def loop(path: Path) -> None:
    path.symlink_to(path)


def nothing(_path: Path) -> None:
    pass


@posix
@pytest.mark.parametrize(
    ("lay", "said"),
    [
        (folder, "is a directory"),
        (pipe, "a pipe into which nobody writes"),
        (device, "a device and no file"),
        (loop, "too many levels of symbolic links"),
        (nothing, "no such file or directory"),
    ],
)
def test_what_is_no_file_is_told_at_once(lay: Callable[[Path], None], said: str, here: Path) -> None:
    lay(here / "it")
    with pytest.raises(OSError, match=r".") as refused:
        read(here / "it", 10)
    assert files.why(refused.value) == said


@posix
def test_a_pipe_is_read_to_its_end_where_somebody_writes_into_it(here: Path) -> None:
    """The writer waits for a reader, and the reader for the writer's end."""
    os.mkfifo(here / "pipe")
    writer = os.open(here / "pipe", os.O_RDWR)

    def write() -> None:
        os.write(writer, b"late")
        os.close(writer)

    waiting = threading.Timer(0.1, write)
    waiting.start()
    assert read(here / "pipe", 100) == b"late"
    waiting.join()


def test_no_more_is_read_than_is_asked_for(here: Path) -> None:
    (here / "it").write_bytes(b"abcdef")
    assert read(here / "it", 4) == b"abcd"


# Creating


def test_a_new_file_is_created_with_its_folders_and_the_mode_that_the_user_gives_new_files(here: Path) -> None:
    create(here / "a" / "b" / "new", "text")
    (here / "plain").write_text("", encoding="utf-8")
    assert (here / "a/b/new").read_text(encoding="utf-8") == "text"
    assert (here / "a/b/new").stat().st_mode == (here / "plain").stat().st_mode
    assert os.listdir("a/b") == ["new"]


@posix
@pytest.mark.parametrize("lay", [folder, pipe, device, loop, lambda path: path.symlink_to("nowhere")])
def test_nothing_is_created_where_anything_is(lay: Callable[[Path], None], here: Path) -> None:
    lay(here / "it")
    before = os.lstat("it")
    with pytest.raises(LeftAlone, match="it is there already and is left alone; give another name or folder"):
        create(Path("it"), "text")
    assert (os.lstat("it"), os.listdir(".")) == (before, ["it"])


@pytest.mark.parametrize("links", [True, False])
def test_a_file_that_appears_while_another_is_made_stays(
    links: bool, here: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    if not links:
        monkeypatch.setattr(os, "link", no_links)
    with pytest.raises(LeftAlone):
        overtaken(here / "it", files._there, "theirs")
    assert (here / "it").read_bytes() == b"theirs"
    assert os.listdir(".") == ["it"]


def no_links(*_: object) -> None:
    raise OSError(errno.EPERM, "no links here")


def test_a_file_system_without_links_gets_whole_files_too(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "link", no_links)
    create(here / "it", "text")
    assert (os.listdir("."), (here / "it").read_text(encoding="utf-8")) == (["it"], "text")


def test_of_two_that_create_one_file_at_once_one_does_and_the_other_says_so(here: Path) -> None:
    """Twenty rounds of eight at once: the file is always one of theirs, whole, and seven are told."""
    for number in range(20):
        together = threading.Barrier(8)
        told: list[str] = []

        def one(text: str, path: Path, together: threading.Barrier = together, told: list[str] = told) -> None:
            together.wait()
            try:
                create(path, text)
            except LeftAlone:
                told.append(text)

        path = here / f"it{number}"
        writers = [threading.Thread(target=one, args=(letter * 100_000, path)) for letter in "abcdefgh"]
        for writer in writers:
            writer.start()
        for writer in writers:
            writer.join()
        assert len(told) == 7
        assert {path.read_text(encoding="utf-8"), *told} == {letter * 100_000 for letter in "abcdefgh"}
    assert sorted(os.listdir(".")) == sorted(f"it{number}" for number in range(20))


# Replacing


@pytest.mark.parametrize(
    ("there", "replace", "goes"),
    [
        (MARK + "of yesterday", False, True),
        ("", False, True),
        ("my notes", False, False),
        ("specrules: build-sheet/1\n", False, False),
        (MARK[:-2], False, False),
        (f"\n{MARK}", False, False),
        ("my notes", True, True),
    ],
)
def test_what_is_no_report_is_left_alone_unless_it_is_asked_for(
    there: str, replace: bool, goes: bool, here: Path
) -> None:
    (here / "it").write_text(there, encoding="utf-8")
    if goes:
        replaced(Path("it"), "new", replace)
    else:
        with pytest.raises(LeftAlone, match=r"it is there already and is no report of this program.* --replace"):
            replaced(Path("it"), "new", replace)
    assert (here / "it").read_text(encoding="utf-8") == ("new" if goes else there)
    assert os.listdir(".") == ["it"]


def same(path: Path) -> Path:
    return path


def linked(path: Path) -> Path:
    Path("link").symlink_to(path)
    return Path("link")


def hard_linked(path: Path) -> Path:
    os.link(path, "hard")
    return Path("hard")


def spelt_otherwise(path: Path) -> Path:
    Path("x").mkdir()
    return Path("x/..") / path


def through_a_folder_that_is_not_there(path: Path) -> Path:
    return Path("y/..") / path


def by_its_whole_path(path: Path) -> Path:
    return path.absolute()


@posix
@pytest.mark.parametrize("replace", [False, True])
@pytest.mark.parametrize(
    "called",
    [same, linked, hard_linked, spelt_otherwise, through_a_folder_that_is_not_there, by_its_whole_path],
)
def test_what_is_read_is_never_replaced_by_whatever_name_it_is_called(
    called: Callable[[Path], Path], replace: bool, here: Path
) -> None:
    """Even where it looks like a report."""
    (here / "it").write_text(MARK, encoding="utf-8")
    out = called(Path("it"))
    with pytest.raises(LeftAlone, match="is the file that this run reads as it, so it is left alone"):
        replaced(out, "new", replace, inputs=(Path("gone"), Path("it")))
    assert (here / "it").read_text(encoding="utf-8") == MARK


def test_a_file_that_stops_being_a_report_meanwhile_is_left_alone(here: Path) -> None:
    (here / "it").write_text(MARK, encoding="utf-8")
    with pytest.raises(LeftAlone):
        overtaken(here / "it", unless_ours([MARK], tuple, False), "my notes")
    assert (here / "it").read_text(encoding="utf-8") == "my notes"
    assert os.listdir(".") == ["it"]


@posix
def test_a_report_is_replaced_through_a_link_and_keeps_its_mode(here: Path) -> None:
    (here / "shared").mkdir()
    true = here / "shared" / "report"
    true.write_text(MARK, encoding="utf-8")
    true.chmod(0o664)
    Path("it").symlink_to(true)
    replaced(Path("it"), "new")
    assert Path("it").is_symlink()
    assert (true.read_text(encoding="utf-8"), stat.S_IMODE(true.stat().st_mode)) == ("new", 0o664)
    assert os.listdir("shared") == ["report"]


@posix
def test_a_report_that_is_read_only_is_left_alone(here: Path) -> None:
    """For the superuser too, whom the system would not stop."""
    (here / "it").write_text(MARK, encoding="utf-8")
    (here / "it").chmod(0o444)
    with pytest.raises(LeftAlone, match="it is read-only"):
        replaced(Path("it"), "new")


@posix
def test_a_pipe_or_a_device_is_written_into_and_never_replaced() -> None:
    os.mkfifo("pipe")
    reader = os.open("pipe", os.O_RDONLY | os.O_NONBLOCK)
    replaced(Path("pipe"), "new")
    assert os.read(reader, 100) == b"new"
    os.close(reader)
    replaced(Path("/dev/null"), "new")
    assert stat.S_ISFIFO(os.stat("pipe").st_mode)
    assert stat.S_ISCHR(os.stat("/dev/null").st_mode)


def test_without_a_piece_nothing_happens(here: Path) -> None:
    with WholeFile(here / "folder" / "it", anything) as file:
        pass
    assert (file.written, os.listdir(".")) == (False, [])


# Failing


def full(*_: object) -> None:
    raise OSError(errno.ENOSPC, "No space left on device")


def stopped(*_: object) -> None:
    raise KeyboardInterrupt


@pytest.mark.parametrize("effect", ["open", "write", "fsync", "close", "chmod", "replace"])
@pytest.mark.parametrize("fails", [full, stopped])
def test_whatever_fails_what_was_there_stays_and_nothing_is_left_behind(
    effect: str, fails: Callable[..., None], here: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (here / "it").write_text(MARK, encoding="utf-8")
    before = getattr(os, effect)
    file = WholeFile(Path("it"), unless_ours([MARK], tuple, False))
    monkeypatch.setattr(os, effect, fails)
    with pytest.raises((NotWritten, KeyboardInterrupt)) as raised, file:
        file.write(b"new")
    monkeypatch.setattr(os, effect, before)
    assert (here / "it").read_text(encoding="utf-8") == MARK
    assert os.listdir(here) == ["it"]
    assert not file.written
    if fails is full:
        assert str(raised.value) == "it cannot be written: no space left on device"


LIMITED = """
import resource, sys
from pathlib import Path
from specrules.effects.files import NotWritten, WholeFile
resource.setrlimit(resource.RLIMIT_FSIZE, (100_000, 100_000))
try:
    with WholeFile(Path("it"), lambda _: "") as file:
        for _ in range(3):
            file.write(b"x" * 50_000)
except NotWritten as refused:
    print(refused)
"""


@posix
def test_a_limit_to_the_size_of_files_leaves_what_was_there(here: Path) -> None:
    """The system lets a file grow to the limit, then refuses."""
    (here / "it").write_text("before", encoding="utf-8")
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    ran = subprocess.run([sys.executable, "-c", LIMITED], env=environment, capture_output=True, text=True, check=True)
    assert ran.stdout == "it cannot be written: file too large\n"
    assert ((here / "it").read_text(encoding="utf-8"), os.listdir(".")) == ("before", ["it"])


@posix
@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full")
def test_a_full_device_is_said() -> None:
    with pytest.raises(NotWritten, match="/dev/full cannot be written: no space left on device"):
        replaced(Path("/dev/full"), "new")


def refused(work: Callable[[], object]) -> bool:
    """Whether a piece of work ends in "permission denied" for a user who is not the superuser, who may do all."""
    made = os.fork()
    if made:
        return os.waitstatus_to_exitcode(os.waitpid(made, 0)[1]) == 0
    if not os.geteuid():
        os.setuid(65534)
    said = ""
    try:
        work()
    except (NotWritten, OSError) as error:
        said = str(error).lower()
    os._exit(0 if "permission denied" in said else 1)


@posix
def test_what_a_user_may_not_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    with tempfile.TemporaryDirectory() as folder:
        os.chmod(folder, 0o755)
        monkeypatch.chdir(folder)
        Path("shut").mkdir(mode=0o555)
        for name, mode in (("secret", 0), ("readable", 0o444)):
            Path(name).write_text(MARK, encoding="utf-8")
            Path(name).chmod(mode)
        assert not refused(lambda: read(Path("readable"), 1))
        assert refused(lambda: read(Path("secret"), 1))
        assert refused(lambda: create(Path("shut/it"), "text"))
        assert os.listdir("shut") == []
        monkeypatch.undo()


def test_a_name_of_three_hundred_letters_is_said() -> None:
    with pytest.raises(NotWritten, match="cannot be written: file name too long"):
        create(Path("n" * 300), "text")
    create(Path("n" * 255), "text")
    assert os.listdir(".") == ["n" * 255]


# What killed writers leave


def test_what_a_killed_writer_left_goes_a_day_later_and_nothing_else(here: Path) -> None:
    left = [".specrules-0123.tmp", ".specrules-4567.tmp"]
    theirs = [".specrules-theirs", "my.tmp", "it"]
    for name in (*left, *theirs):
        (here / name).write_bytes(b"")
        os.utime(name, (0, 0))
    os.utime(left[1], (time.time(), time.time()))
    remove_stale(here)
    assert sorted(os.listdir(".")) == sorted([left[1], *theirs])
