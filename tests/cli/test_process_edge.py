"""Where the program meets the machine: streams that take nothing, signals, names and places that there are not.

Each has a sentence and its status, and none is a traceback, a hang or said to be the program's fault.
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from random import Random

import pytest

from specrules.cli.entry_point import run as run_command
from tests.cli.shell import process
from tests.cli.small_jobs import HELD, lay_out
from tests.lanes import first_alone

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="signals and streams of POSIX")

LONG = "n" * 300
ENVIRONMENT = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}


@pytest.fixture(autouse=True)
def jobs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    lay_out(tmp_path, held=HELD)
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("SPECRULES_DEBUG", raising=False)
    return tmp_path


# Streams

FULL, CLOSED, PIPE = "full", "closed", "a pipe"


def ran(*arguments: str, out: str = PIPE, err: str = PIPE, typed: str | None = None) -> tuple[int, str, str]:
    """The program's status and what it said where its streams are full, closed or pipes.

    typed: what is piped in; None: its standard input is closed.
    """
    closed = [number for number, said in enumerate((CLOSED if typed is None else PIPE, out, err)) if said == CLOSED]

    def close() -> None:
        for number in closed:
            os.close(number)

    with open("/dev/full", "w", encoding="utf-8") as full:
        streams = [full if said == FULL else subprocess.PIPE for said in (out, err)]
        made = subprocess.run(
            [sys.executable, "-m", "specrules", *arguments],
            env=ENVIRONMENT,
            input=typed,
            stdout=streams[0],
            stderr=streams[1],
            text=True,
            check=False,
            timeout=60,
            preexec_fn=close,
        )
    return made.returncode, made.stdout or "", made.stderr or ""


INSPECT = ("inspect", "held.sheet.yaml")
WITHOUT_ROOM = "The standard output cannot be written: no space left on device.\n"
OUT_FULL = "Error: /dev/full cannot be written: no space left on device\n"
SHUT = "The standard output cannot be written: it is closed.\n"


@pytest.mark.second_lane
@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full")
@pytest.mark.parametrize(
    ("arguments", "out", "err", "status", "said"),
    first_alone(
        (INSPECT, CLOSED, PIPE, 2, SHUT),
        (INSPECT, FULL, PIPE, 2, WITHOUT_ROOM),
        ((*INSPECT, "--form", "json"), FULL, PIPE, 2, WITHOUT_ROOM),
        (("inspect", *["held.sheet.yaml"] * 4), FULL, PIPE, 2, WITHOUT_ROOM),
        (("--help",), FULL, PIPE, 2, WITHOUT_ROOM),
        (("--version",), CLOSED, PIPE, 2, SHUT),
        (("demo",), FULL, PIPE, 2, WITHOUT_ROOM),
        (("pack", "schema"), CLOSED, PIPE, 2, SHUT),
        ((*INSPECT, "--out", "out"), CLOSED, PIPE, 1, ""),
        ((*INSPECT, "--out", "/dev/full"), PIPE, PIPE, 2, OUT_FULL),
        (("inspect", "nothere"), PIPE, FULL, 2, ""),
        (INSPECT, PIPE, FULL, 1, ""),
        (INSPECT, PIPE, CLOSED, 1, ""),
        (("inspect", "nothere"), PIPE, CLOSED, 2, ""),
        (INSPECT, FULL, FULL, 2, ""),
        (INSPECT, CLOSED, CLOSED, 2, ""),
        (("sheet", "new", "new.yaml"), CLOSED, CLOSED, 2, ""),
    ),
)  # fmt: skip
def test_a_stream_that_takes_nothing_has_a_sentence_and_its_status(
    arguments: tuple[str, ...], out: str, err: str, status: int, said: str
) -> None:
    """The standard input is closed besides."""
    found = ran(*arguments, out=out, err=err)
    assert (found[0], found[2]) == (status, said)
    assert bool(found[1]) == (out == PIPE and arguments == INSPECT)


@pytest.mark.second_lane
def test_with_every_stream_closed_the_report_is_what_it_is_and_nothing_else_is_written_into_it() -> None:
    """A file that is opened where a standard stream was closed would get what is meant for the stream."""
    assert ran(*INSPECT, "--out", "one", out=CLOSED, err=CLOSED)[0] == 1
    assert run_command([*INSPECT, "--out", "other"]) == 1
    assert Path("one").read_bytes() == Path("other").read_bytes()


@pytest.mark.second_lane
@pytest.mark.parametrize(
    ("arguments", "status", "said"),
    first_alone(
        (("inspect", "-"), 1, ""),
        (("working", "tilt", "-"), 0, ""),
        (("gauge", "able", "-"), 0, ""),
        (("pack", "compare", "base", "wide", "-"), 0, ""),
        (("gauge", "study", "-"), 2, "-, line 1, "),
        (("inspect", "./-"), 2, "/-: cannot be read: no such file or directory"),
    ),
)
def test_a_dash_is_what_is_piped_in(arguments: tuple[str, ...], status: int, said: str) -> None:
    found = ran(*arguments, typed=HELD)
    assert found[0] == status
    assert said in found[2] if said else not found[2]
    assert bool(found[1]) is (status != 2)


@pytest.mark.second_lane
def test_a_closed_standard_input_holds_nothing() -> None:
    status, _, err = ran("inspect", "-")
    assert status == 2
    assert err.startswith("-, line 1: the file is empty")


# Signals

AT_AN_IMPORT = """
import os, signal, sys
number, sent = int(sys.argv.pop(1)), int(sys.argv.pop(1))

class At:
    seen = 0

    def find_spec(self, *_):
        At.seen += 1
        if At.seen == number:
            os.kill(os.getpid(), sent)

from specrules.cli import main
signal.signal(signal.SIGINT, signal.default_int_handler)  # who runs the tests may be deaf to it
sys.meta_path.insert(0, At())
main()
"""
"""Runs the program and sends a signal at one of its imports, the first of them the first that it does itself."""


def at_an_import(number: int, sent: int) -> tuple[int, str]:
    """What comes of a signal at the so-manieth import of the program: its status and what is said."""
    made = subprocess.run(
        [sys.executable, "-c", AT_AN_IMPORT, str(number), str(sent), *INSPECT, "--out", "out"],
        env=ENVIRONMENT,
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )
    return made.returncode, made.stderr


SIGNALS = (signal.SIGINT, signal.SIGTERM, signal.SIGHUP)
IMPORTS = 300
"""So many there are at the least, with everything that the program stands on."""
EARLY = [(number, sent) for number in (1, 2, 3, 10) for sent in SIGNALS]
LATER = [(number, Random(number).choice(SIGNALS)) for number in Random(9).sample(range(11, IMPORTS), 40)]


@pytest.mark.parametrize(("number", "sent"), first_alone(*EARLY, *LATER))
def test_a_signal_at_any_import_ends_it_in_a_word(number: int, sent: int) -> None:
    """The first tenth of a second is spent there. No report and nothing half written is left."""
    assert at_an_import(number, sent) == (128 + sent, "Stopped.\n")
    assert sorted(os.listdir(".")) == ["held.sheet.yaml", "packs"]


UNTIL_IT_HEEDS = """
import sys

class Names:
    asked = []

    def find_spec(self, name, *_):
        self.asked.append(name)

sys.meta_path.insert(0, Names())
from specrules.cli import main
print(*Names.asked)
"""


def test_nothing_else_is_imported_before_the_first_signal_is_heeded() -> None:
    """What comes before is Python's to answer, which it does with a traceback: there is as little of it as can be."""
    made = subprocess.run([sys.executable, "-c", UNTIL_IT_HEEDS], env=ENVIRONMENT, capture_output=True, check=True)
    assert made.stdout.split() == [b"specrules", b"specrules.cli", b"specrules.cli.interrupts", b"__future__"]


@pytest.mark.second_lane
@pytest.mark.parametrize("sent", first_alone(*SIGNALS))
def test_a_signal_while_it_waits_for_a_sheet_ends_it_in_a_word(sent: int, jobs: Path) -> None:
    """One screen is there, and it waits for what is piped in. A shell sees 128 and the signal's number."""
    reader, writer = os.pipe()
    before = signal.signal(signal.SIGINT, signal.default_int_handler)  # a job in the background inherits deafness to it
    started = process("inspect", *["held.sheet.yaml"] * 2, "-", folder=jobs, piped=reader)
    signal.signal(signal.SIGINT, before)
    os.close(reader)
    assert started.stdout is not None
    started.stdout.readline()
    started.send_signal(sent)
    _, err = started.communicate(timeout=60)
    os.close(writer)
    assert (started.returncode, err) == (128 + sent, "Stopped.\n")


@pytest.mark.second_lane
def test_a_signal_that_whoever_started_it_wants_ignored_is_ignored(jobs: Path) -> None:
    reader, writer = os.pipe()
    before = signal.signal(signal.SIGHUP, signal.SIG_IGN)
    started = process("inspect", *["held.sheet.yaml"] * 2, "-", folder=jobs, piped=reader)
    signal.signal(signal.SIGHUP, before)
    os.close(reader)
    assert started.stdout is not None
    started.stdout.readline()
    started.send_signal(signal.SIGHUP)
    os.write(writer, HELD.encode())
    os.close(writer)
    _, err = started.communicate(timeout=60)
    assert (started.returncode, err) == (1, "")


# Names and places

NAMED: list[tuple[str, ...]] = [
    ("inspect", LONG),
    (*INSPECT, "--out", LONG),
    (*INSPECT, "--add", LONG),
    ("working", "tilt", LONG),
    ("sheet", "new", LONG, "--no-ask"),
    ("pack", "new", LONG, "--on", "street"),
    ("pack", "new", f"{LONG}.pack.yaml", "--on", "street"),
    ("pack", "show", LONG),
    ("pack", "prove", LONG),
    ("pack", "prove", f"./{LONG}"),
    ("pack", "prove", f"{LONG}.pack.yaml"),
    ("pack", "compare", "base", "wide", LONG),
    ("pack", "exercise", "teaching", "hole_less_shaft", "--answers", LONG),
    ("demo", "--copy", LONG),
    ("gauge", "study", LONG),
    ("gauge", "able", LONG),
]


@pytest.mark.second_lane
@pytest.mark.parametrize("arguments", NAMED, ids=lambda each: " ".join(each).replace(LONG, "LONG"))
def test_a_name_of_three_hundred_letters_is_no_fault_of_the_program(
    arguments: tuple[str, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    assert run_command([*arguments]) == 2
    err = capsys.readouterr().err
    assert "itself" not in err
    told = ("file name too long", "is no pack that was found", "is no plain name for a pack", "there is no file")
    assert any(said in err for said in told)


@pytest.fixture
def gone(jobs: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A working folder that is removed while one is in it; the folder with a sheet in it is another."""
    (jobs / "gone").mkdir()
    monkeypatch.chdir(jobs / "gone")
    (jobs / "gone").rmdir()
    return jobs


IS_GONE = "The folder that you are working in is gone; change to one that is there.\n"
NOT_THERE = "no such file or directory"


@pytest.mark.second_lane
@pytest.mark.parametrize(
    ("arguments", "status", "said"),
    [
        (("inspect", "held.sheet.yaml"), 2, f"held.sheet.yaml: cannot be read: {NOT_THERE}"),
        (("inspect", "{}/held.sheet.yaml"), 1, ""),
        (("inspect", "{}/held.sheet.yaml", "--out", "out"), 2, f"out cannot be written: {NOT_THERE}"),
        (("inspect", "{}/held.sheet.yaml", "{}/held.sheet.yaml", "--out", "{}/out"), 1, ""),
        (("working", "main_oil_clearance"), 2, IS_GONE),
        (("sheet", "new", "new", "--no-ask"), 2, f"new cannot be written: {NOT_THERE}"),
        (("pack", "list"), 2, IS_GONE),
        (("pack", "show", "street"), 2, IS_GONE),
        (("pack", "new", "packs/new.pack.yaml", "--on", "street"), 2, f"cannot be written: {NOT_THERE}"),
        (("pack", "prove", "street"), 2, IS_GONE),
        (("pack", "compare", "street", "towing"), 2, IS_GONE),
        (("pack", "exercise", "teaching"), 2, IS_GONE),
        (("demo", "--copy", "copy"), 2, f"cannot be written: {NOT_THERE}"),
        (("gauge", "able", "{}/held.sheet.yaml"), 0, ""),
        (("gauge", "study", "study"), 2, f"study: cannot be read: {NOT_THERE}"),
    ],
)
def test_a_working_folder_that_is_gone_is_said(
    arguments: tuple[str, ...], status: int, said: str, gone: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run_command([each.format(gone) for each in arguments]) == status
    err = capsys.readouterr().err
    assert said in err
    assert ("itself" in err, bool(said)) == (False, bool(err))


def a_pipe(path: Path) -> None:
    os.mkfifo(path)


def a_folder(path: Path) -> None:
    path.mkdir()


def a_device(path: Path) -> None:
    path.symlink_to("/dev/zero")


def a_loop(path: Path) -> None:
    path.symlink_to(path)


@pytest.mark.second_lane
@pytest.mark.parametrize(
    ("lay", "said"),
    [
        (a_pipe, "a pipe into which nobody writes"),
        (a_folder, "is a directory"),
        (a_device, "a device and no file"),
        (a_loop, "too many levels of symbolic links"),
    ],
)
@pytest.mark.parametrize(
    "arguments",
    [
        ("inspect", "it"),
        ("inspect", "held.sheet.yaml", "it", "held.sheet.yaml"),
        ("working", "tilt", "it"),
        ("gauge", "able", "it"),
        ("gauge", "study", "it"),
    ],
    ids=" ".join,
)
def test_what_is_no_file_is_told_and_keeps_nobody_waiting(
    arguments: tuple[str, ...], lay: Callable[[Path], None], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    lay(Path("it"))
    assert run_command([*arguments]) == 2
    out, err = capsys.readouterr()
    assert err.startswith(f"it: cannot be read: {said}.\n")
    assert out.count("Stop at the hold point") == arguments.count("held.sheet.yaml")


@pytest.mark.second_lane
@pytest.mark.parametrize(
    ("lay", "said"),
    [
        (a_pipe, "cannot be read: a pipe into which nobody writes"),
        (a_folder, "holds no .txt with answers"),
        (a_device, "cannot be read: a device and no file"),
        (a_loop, "cannot be read: too many levels of symbolic links"),
    ],
)
def test_answers_that_are_no_file_are_a_folder_of_them_or_at_fault(
    lay: Callable[[Path], None], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    lay(Path("it"))
    assert run_command(["pack", "exercise", "teaching", "hole_less_shaft", "--answers", "it"]) == 2
    assert capsys.readouterr().err.startswith(f"it: {said}.\n")


@pytest.mark.parametrize(
    ("raised", "said"),
    [
        (OSError(28, "No space left on device"), "The system refuses: no space left on device.\n"),
        (PermissionError(13, "Permission denied", "some/file"), "The system refuses: some/file: permission denied.\n"),
        (MemoryError(), "There is not enough memory for this.\n"),
    ],
    ids=repr,
)
def test_what_the_machine_refuses_is_not_the_programs_fault(
    raised: Exception, said: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def failing(*_: object) -> None:
        raise raised

    monkeypatch.setattr("specrules.output.console.screen", failing)
    assert run_command([*INSPECT]) == 2
    assert capsys.readouterr().err == said
