"""A progress bar on a terminal for work that takes longer than a second, gone without a trace when the work ends."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import RLock, Timer
from typing import TYPE_CHECKING, Protocol, TextIO

from rich.console import Console

from specrules.document.safe_text import safe
from specrules.output.encoding import plain
from specrules.output.terminal import encoding_of

if TYPE_CHECKING:
    from rich.progress import Progress

PATIENCE = 1.0
"""Seconds before a bar shows."""


class Waiting(Protocol):
    """A call that is to come later, as `threading.Timer` makes it."""

    def start(self) -> None: ...

    def cancel(self) -> None: ...


Later = Callable[[float, Callable[[], None]], Waiting]
"""Makes a call that comes after so many seconds, in whichever thread."""


@contextmanager
def progress(total: int, stream: TextIO, colour: bool = False, later: Later = Timer) -> Iterator[Bar]:
    """A bar for so many things. Nothing is written where the stream is no terminal or the work is soon done."""
    bar = Bar(total, stream, colour)
    waiting = later(PATIENCE, bar.show) if stream.isatty() else None
    if waiting is not None:
        waiting.start()
    try:
        yield bar
    finally:
        if waiting is not None:
            waiting.cancel()
        bar.hide()


class Bar:
    """How many of `total` are done, and the last of them by name. It is shown from one thread and moved by another."""

    def __init__(self, total: int, stream: TextIO, colour: bool) -> None:
        self._total, self._stream, self._colour = total, stream, colour
        self._done, self._label = 0, ""
        self._due, self._hidden = False, False
        self._drawn: Progress | None = None
        self._lock = RLock()

    def advance(self, label: str) -> None:
        """One more is done."""
        with self._lock:
            self._done += 1
            self._label = plain(safe(label), encoding_of(self._stream))
            if self._drawn is not None:
                self._drawn.update(self._drawn.task_ids[0], completed=self._done, description=self._label)

    def show(self) -> None:
        """From now on it is shown, until it is hidden for good."""
        with self._lock:
            self._due = True
            self._draw()

    def hide(self) -> None:
        """It is gone, and stays so."""
        with self._lock:
            self._hidden = True
            if self._drawn is not None:
                self._drawn.stop()
                self._drawn = None

    @contextmanager
    def aside(self) -> Iterator[None]:
        """Out of the way, while something is printed on what may be the same terminal."""
        self.hide()
        yield
        with self._lock:
            self._hidden = False
            self._draw()

    def _draw(self) -> None:
        console = Console(
            file=self._stream,
            force_terminal=True,
            force_jupyter=False,
            color_system="standard" if self._colour else None,
        )
        if not self._due or self._hidden or not console.is_interactive:  # a dumb terminal cannot wipe it out again
            return
        from rich.progress import BarColumn, Progress, TextColumn  # only for a long wait: it takes a part of the start
        from rich.table import Column

        label = TextColumn("{task.description}", markup=False, table_column=Column(no_wrap=True, overflow="crop"))
        count = TextColumn("{task.completed} of {task.total}", markup=False)
        self._drawn = Progress(
            BarColumn(), count, label, console=console, transient=True, redirect_stdout=False, redirect_stderr=False
        )
        self._drawn.add_task(self._label, total=self._total, completed=self._done)
        self._drawn.start()
