"""The program as users meet it: help, slips, closed pipes, interrupts, terminals and what was not foreseen."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import click
import pytest

from specrules import VERSION
from specrules.cli.commands import ListedCommand, specrules
from specrules.cli.entry_point import run as run_command
from specrules.cli.status import Status, gravest
from tests.cli.shell import call, process, run
from tests.cli.small_jobs import HELD, lay_out
from tests.lanes import first_alone

EXIT_HELP = ("0  nothing holds", "1  something is beyond", "2  a file", "3  nothing holds it, but")


def commands(group: click.Group = specrules, path: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """Every command and group, by the words that call it."""
    yield path
    for name in group.list_commands(click.Context(group)):
        command = group.commands[name]
        if isinstance(command, click.Group):
            yield from commands(command, (*path, name))
        else:
            yield (*path, name)


def listed(group: click.Group = specrules) -> Iterator[ListedCommand]:
    """Every command as its group lists it."""
    for command in group.commands.values():
        if isinstance(command, click.Group):
            yield from listed(command)
        else:
            assert isinstance(command, ListedCommand)
            yield command


@pytest.mark.parametrize("path", list(commands()), ids=" ".join)
def test_every_command_has_help_with_an_example_within_80_columns(path: tuple[str, ...]) -> None:
    ran = call(*path, "--help")
    assert (ran.status, ran.err) == (0, "")
    assert call(*path, "-h").out == ran.out
    assert re.search(rf"^ +.*specrules {' '.join(path)}", ran.out, re.MULTILINE)
    assert [row for row in ran.out.split("\n") if len(row) > 80] == []
    listed = ran.out.partition("Commands:")[2]
    assert "..." not in listed


@pytest.mark.parametrize("command", list(listed()), ids=lambda command: command.where)
def test_a_command_is_listed_by_its_name_and_the_first_sentence_of_its_help(command: ListedCommand) -> None:
    itself = command.imported()
    assert command.name == itself.name
    assert command.help == itself.get_short_help_str(limit=200)


@pytest.mark.second_lane
@pytest.mark.parametrize("group", ["", "sheet", "pack", "gauge", "record"])
def test_a_list_of_commands_is_told_without_importing_them(group: str) -> None:
    told = "import sys; from specrules.cli.entry_point import run; run([*sys.argv[1:], '--help'])"
    loaded = "print([name for name in sys.modules if name.endswith(('_command', '_commands'))])"
    call_of_it = [sys.executable, "-c", f"{told}; {loaded}", *group.split()]
    ran = subprocess.run(call_of_it, capture_output=True, text=True, check=True)
    assert "Commands:" in ran.stdout
    assert ran.stdout.endswith("\n[]\n")


def test_help_of_inspect_tells_every_status() -> None:
    said = call("inspect", "--help").out
    assert [text for text in EXIT_HELP if text not in said] == []


def test_the_version_is_told() -> None:
    assert call("--version").out == f"specrules {VERSION}\n"


@pytest.mark.parametrize("word", ["inspekt", "inspct"])
def test_a_misspelt_command_is_answered_with_the_nearest(word: str) -> None:
    ran = call(word)
    assert ran.status == 2
    assert f'"{word}" is no command; write inspect' in ran.err


@pytest.mark.parametrize(("group", "word", "meant"), [("pack", "lst", "list"), ("sheet", "takes", "take")])
def test_so_is_one_of_a_group(group: str, word: str, meant: str) -> None:
    ran = call(group, word)
    assert ran.status == 2
    assert ran.err.endswith(f'"{word}" is no command; write {meant}\n')


def test_an_unknown_command_is_answered_with_all() -> None:
    assert f"write {', '.join(specrules.commands)}" in call("zzz").err


def test_of_many_statuses_a_fault_is_gravest_then_held_then_open() -> None:
    assert gravest([Status.GO, Status.OPEN, Status.HELD, Status.FAULT]) is Status.FAULT
    assert gravest([Status.OPEN, Status.HELD]) is Status.HELD
    assert gravest([Status.OPEN, Status.GO]) is Status.OPEN
    assert gravest([]) is Status.GO


# A process of its own


@pytest.mark.second_lane
def test_the_program_ends_with_the_status_of_its_command(tmp_path: Path) -> None:
    lay_out(tmp_path, held=HELD)
    assert run("inspect", "held.sheet.yaml", folder=tmp_path).status == 1


@pytest.mark.second_lane
def test_what_it_is_asked_wrongly_ends_with_2_and_nothing_with_its_usage(tmp_path: Path) -> None:
    assert run("inspect", "nothere.yaml", folder=tmp_path).status == 2
    assert run(folder=tmp_path).out.startswith("Usage: specrules")
    assert run("inspect", folder=tmp_path).status == 2


@pytest.mark.second_lane
def test_what_is_not_foreseen_is_one_sentence_and_no_traceback(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def broken(*_: object) -> None:
        raise RuntimeError("a \x1b[2J bolt\nloose")

    monkeypatch.delenv("SPECRULES_DEBUG", raising=False)
    monkeypatch.setattr("specrules.cli.demo_command.screen", broken)
    assert run_command(["demo"]) == Status.FAULT
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith("specrules itself is at fault here, not your files: RuntimeError: a \\x1b[2J bolt")
    assert "Traceback" not in err
    monkeypatch.setenv("SPECRULES_DEBUG", "1")
    with pytest.raises(RuntimeError):
        run_command(["demo"])


def test_a_hostile_name_on_the_command_line_is_shown_harmless(capsys: pytest.CaptureFixture[str]) -> None:
    assert run_command(["working", "x\x1b[2J\u202e"]) == Status.FAULT
    err = capsys.readouterr().err
    assert "\x1b" not in err
    assert "\u202e" not in err
    assert '\\u202e" is no rule of these packs' in err


@pytest.mark.second_lane
def test_a_pipe_that_is_closed_early_is_no_failure(tmp_path: Path) -> None:
    """The status is 141, as of a program that the signal of a closed pipe (13) ends: 128 + 13."""
    lay_out(tmp_path, held=HELD)
    more_than_a_pipe_holds = ["held.sheet.yaml"] * 300
    started = process("inspect", *more_than_a_pipe_holds, folder=tmp_path)
    assert started.stdout is not None
    assert started.stderr is not None
    assert started.stdout.readline().startswith("A pair")
    started.stdout.close()
    err = started.stderr.read()
    started.stderr.close()
    assert (started.wait(timeout=60), err) == (141, "")


@pytest.mark.second_lane
def test_a_short_answer_into_a_closed_pipe_is_no_failure(tmp_path: Path) -> None:
    reader, writer = os.pipe()
    os.close(reader)
    with os.fdopen(writer, "w") as closed:
        ran = subprocess.run(
            [sys.executable, "-m", "specrules", "pack", "list"],
            cwd=tmp_path,
            env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
            stdout=closed,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )
    assert (ran.returncode, ran.stderr) == (141, "")


@pytest.mark.second_lane
@pytest.mark.parametrize(
    ("encoding", "said"), [("ascii", "+-------+---"), ("cp1252", "+-------+---"), ("utf-8", "┼───────┼───")]
)
def test_any_terminal_gets_what_its_encoding_can_show(encoding: str, said: str, tmp_path: Path) -> None:
    made = subprocess.run(
        [sys.executable, "-m", "specrules", "demo"],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path), "PYTHONIOENCODING": encoding},
        capture_output=True,
        check=True,
    )
    text = made.stdout.decode(encoding)
    assert said in text
    assert [row for row in text.split("\n") if len(row) > 80] == []
    assert text.count("\n") == (Path(__file__).parent.parent / "output" / "demo.txt").read_text("utf-8").count("\n")


@pytest.mark.second_lane
@pytest.mark.skipif(sys.platform == "win32", reason="pseudo-terminals of POSIX")
@pytest.mark.parametrize(
    ("environment", "colour"),
    first_alone(
        ({"TERM": "xterm"}, True),
        ({"TERM": "xterm", "NO_COLOR": "1"}, False),
        ({"TERM": "dumb"}, False),
        ({"TERM": "dumb", "FORCE_COLOR": "1"}, True),
    ),
    ids=str,
)
def test_a_terminal_is_coloured_where_it_wants_to_be(environment: dict[str, str], colour: bool, tmp_path: Path) -> None:
    import pty

    ours, theirs = pty.openpty()
    clean = {key: value for key, value in os.environ.items() if key not in ("NO_COLOR", "FORCE_COLOR")}
    started = subprocess.Popen(
        [sys.executable, "-m", "specrules", "demo"],
        cwd=tmp_path,
        env={**clean, "PYTHONPATH": os.pathsep.join(sys.path), "PYTHONIOENCODING": "utf-8", **environment},
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
    )
    os.close(theirs)
    said = b""
    while True:
        try:
            read = os.read(ours, 65536)
        except OSError:  # the other end is closed: Linux says so in this way
            break
        if not read:
            break
        said += read
    os.close(ours)
    assert started.wait(timeout=60) == 0
    text = said.decode().replace("\r\n", "\n")
    assert ("\x1b[" in text) is colour
    assert re.sub(r"\x1b\[[0-9;]*m", "", text) == (Path(__file__).parent.parent / "output" / "demo.txt").read_text(
        "utf-8"
    )


@pytest.mark.second_lane
def test_no_terminal_means_plain_text(tmp_path: Path) -> None:
    assert "\x1b" not in run("demo", folder=tmp_path).out
    assert "\x1b[" in run("demo", "--colour", "always", folder=tmp_path).out
