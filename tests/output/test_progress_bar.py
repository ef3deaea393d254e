"""A bar for long work: when it shows, what it says, and that it leaves nothing behind."""

from __future__ import annotations

import io
import re
import threading
from collections.abc import Callable

import pytest

from specrules.output.progress_bar import PATIENCE, progress

CONTROLS = re.compile(r"\x1b\[\??[0-9;]*[a-zA-Z]")


class Terminal(io.StringIO):
    """A terminal that keeps all that it was ever sent."""

    def isatty(self) -> bool:
        return True

    def seen(self) -> str:
        """Everything so far without what steers the terminal."""
        return CONTROLS.sub("", self.getvalue())

    def screen(self) -> list[str]:
        """What stands on it now. It knows what a bar needs: carriage return, newline, up a line, wipe the line."""
        rows, at = [""], 0
        for found in re.finditer(r"\x1b\[(\??[0-9;]*)([a-zA-Z])|\r|\n|[^\x1b\r\n]+", self.getvalue()):
            if found.group() == "\n":
                at += 1
                rows += [""] * (at + 1 - len(rows))
            elif found[2] == "A":
                at -= int(found[1] or 1)
            elif found[2] == "K":
                rows[at] = ""
            elif found[2] is None and found.group() != "\r":
                rows[at] = found.group()
        return rows


class Clock:
    """Time that passes when a test says so; what was to come by then comes."""

    def __init__(self) -> None:
        self.call: Callable[[], None] | None = None
        self.after = 0.0

    def later(self, seconds: float, call: Callable[[], None]) -> Clock:
        self.after, self.call = seconds, call
        return self

    def start(self) -> None:
        pass

    def cancel(self) -> None:
        self.call = None

    def pass_by(self) -> None:
        if self.call is not None:
            self.call()


@pytest.fixture(autouse=True)
def _eighty_columns(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.setenv("TERM", "xterm")


def test_work_that_is_soon_done_writes_nothing() -> None:
    clock, stream = Clock(), Terminal()
    with progress(2, stream, later=clock.later) as bar:
        bar.advance("a.sheet.yaml")
        bar.advance("b.sheet.yaml")
    clock.pass_by()
    assert stream.getvalue() == ""
    assert clock.after == PATIENCE == 1


def test_no_terminal_gets_nothing_however_long_it_takes() -> None:
    clock, stream = Clock(), io.StringIO()
    with progress(2, stream, later=clock.later) as bar:
        bar.advance("a.sheet.yaml")
        clock.pass_by()
    assert (stream.getvalue(), clock.call) == ("", None)


def test_after_a_second_it_says_how_many_are_done_and_what_was_the_last() -> None:
    clock, stream = Clock(), Terminal()
    with progress(12, stream, later=clock.later) as bar:
        bar.advance("a.sheet.yaml")
        bar.advance("b.sheet.yaml")
        clock.pass_by()
        assert stream.screen()[0].endswith("2 of 12 b.sheet.yaml")
    assert "".join(stream.screen()) == ""
    assert stream.getvalue().endswith("\x1b[?25h\r\x1b[1A\x1b[2K")  # the cursor is shown again


def test_it_shows_in_the_first_of_one_too() -> None:
    clock, stream = Clock(), Terminal()
    with progress(1, stream, later=clock.later):
        clock.pass_by()
        assert "0 of 1" in stream.screen()[0]


def test_it_is_out_of_the_way_while_something_is_printed() -> None:
    clock, stream = Clock(), Terminal()
    with progress(3, stream, later=clock.later) as bar:
        with bar.aside():
            clock.pass_by()
            assert stream.getvalue() == ""
        assert "0 of 3" in stream.screen()[0]
        with bar.aside():
            assert "".join(stream.screen()) == ""
            stream.write("printed\n")
        bar.advance("a")
        assert stream.screen()[0] == "printed"
    assert "".join(stream.screen()) == "printed"


def test_it_is_gone_where_the_work_breaks_off() -> None:
    clock, stream = Clock(), Terminal()

    def broken_off() -> None:
        with progress(3, stream, later=clock.later):
            clock.pass_by()
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        broken_off()
    assert "0 of 3" in stream.seen()
    assert "".join(stream.screen()) == ""


def test_a_hostile_name_and_markup_are_shown_harmless() -> None:
    clock, stream = Clock(), Terminal()
    with progress(3, stream, later=clock.later) as bar:
        bar.advance("[red]x\x1b[2J\u202e")
        clock.pass_by()
        assert "[red]x\\x1b[2J\\u202e" in stream.seen()


@pytest.mark.parametrize("colour", [False, True])
def test_it_is_coloured_where_screens_are(colour: bool) -> None:
    clock, stream = Clock(), Terminal()
    with progress(3, stream, colour, later=clock.later):
        clock.pass_by()
    assert bool(re.search(r"\x1b\[[0-9;]+m", stream.getvalue())) is colour


def test_a_terminal_that_cannot_wipe_a_line_gets_none(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TERM", "dumb")
    clock, stream = Clock(), Terminal()
    with progress(3, stream, later=clock.later):
        clock.pass_by()
    assert stream.getvalue() == ""


def test_a_real_timer_shows_it_from_a_thread_of_its_own_and_ends_with_the_work(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("specrules.output.progress_bar.PATIENCE", 0.01)
    stream, drawn = Terminal(), threading.Event()
    before = set(threading.enumerate())
    monkeypatch.setattr(stream, "flush", drawn.set)
    with progress(3, stream):
        assert drawn.wait(timeout=30)
    assert "0 of 3" in stream.seen()
    for thread in set(threading.enumerate()) - before:
        thread.join(timeout=30)
        assert not thread.is_alive()
