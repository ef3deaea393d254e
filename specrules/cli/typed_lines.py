"""Lines as they are typed, each with the moment at which it came, also while the program was busy with the one before.

Only so is a gauge on a cable, which may send one reading twice or end it with two characters, told from a hand.

The same line within 0.2 s, or an empty one, is a gauge's and not a hand's. On Windows a line counts by when it is read.
"""

from __future__ import annotations

import os
import sys
from queue import Empty, SimpleQueue
from threading import Thread
from time import monotonic
from typing import NamedTuple

BOUNCE = 0.2
"""Seconds in which no hand types an answer twice, nor Enter behind one: a gauge on a cable does."""
_LOOK = 0.2  # seconds after which a signal is looked for, where waiting is not interrupted by one


class Typed(NamedTuple):
    """An answer, its blanks put in order, and when it came, in seconds."""

    answer: str
    at: float


class TypedLines:
    """What is typed at the standard input, line by line. At a terminal, without what came twice."""

    def __init__(self) -> None:
        self._last = Typed("", -1.0)
        self._terminal = sys.stdin.isatty()
        self._came: SimpleQueue[Typed | None] | None = None
        if self._terminal and os.name != "nt":
            self._came = SimpleQueue()
            Thread(target=self._listen, args=(sys.stdin.fileno(),), daemon=True).start()

    def next(self) -> str | None:
        """The next answer; None where nothing more comes."""
        while (typed := self._next()) is not None:
            before = self._last
            again = typed.answer in ("", before.answer) and before.answer and typed.at - before.at < BOUNCE
            if not (self._terminal and again):
                self._last = typed
                return typed.answer
        return None

    def _next(self) -> Typed | None:
        if self._came is None:
            line = sys.stdin.readline()
            return _typed(line) if line else None
        while True:
            try:
                return self._came.get(timeout=_LOOK)
            except Empty:
                continue

    def _listen(self, handle: int) -> None:
        """Take each line when it comes. Not through the stream, whose lock would be held when the program ends."""
        assert self._came is not None
        encoding, rest = sys.stdin.encoding or "utf-8", b""
        while piece := _read(handle):
            *lines, rest = (rest + piece).split(b"\n")
            for line in lines:
                self._came.put(_typed(line.decode(encoding, "replace")))
        if rest:
            self._came.put(_typed(rest.decode(encoding, "replace")))
        self._came.put(None)


def _read(handle: int) -> bytes:
    try:
        return os.read(handle, 4096)
    except OSError:  # the terminal is gone
        return b""


def _typed(line: str) -> Typed:
    return Typed(" ".join(line.split()), monotonic())
