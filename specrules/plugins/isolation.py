"""Where code of others runs: in a decimal context of its own, heard by nobody, for a while, and back in our folder.

Such code can still start a thread, or leave something for the end of the process.
"""

from __future__ import annotations

import io
import os
import signal
import sys
import threading
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager, redirect_stderr, redirect_stdout, suppress
from decimal import localcontext
from typing import NoReturn

from specrules.quantity import CONTEXT

SECONDS = 30.0
"""How long one call may take, where the system has a timer; where it has none, or the call is in code that no timer
reaches, the user's own interruption ends the program and names the plugin."""


class TookTooLong(BaseException):
    """Raised in a call that takes longer than it may; no Exception, which code of others often catches."""


_ONE_AT_A_TIME = threading.RLock()
"""Streams, descriptors and the folder are the process's: two threads that put them back would mix them up."""


@contextmanager
def apart() -> Iterator[None]:
    """What is done inside reaches neither the screen nor the record, the status, or what is worked out after it.

    What it prints is dropped, past Python's streams too, and the folder is put back. What was printed before should be
    out: it is not ours to fail here (`print_what_waits`).
    """
    with ExitStack() as stack:
        stack.enter_context(_ONE_AT_A_TIME)
        stack.enter_context(_folder_put_back())
        for number in (1, 2):
            stack.enter_context(_dropped(number))
        stack.enter_context(redirect_stdout(_nowhere()))
        stack.enter_context(redirect_stderr(_nowhere()))
        stack.enter_context(_no_way_out())
        stack.enter_context(localcontext(CONTEXT))
        stack.enter_context(_timed())
        yield


def print_what_waits() -> None:
    """Have what was printed before go out, ahead of code of others, which might drop it. A stream's failure is raised
    here, where it is nobody else's."""
    for stream in (sys.stdout, sys.stderr):
        with suppress(OSError, ValueError, AttributeError):  # one that is closed, or none at all
            stream.flush()


class _Nothing(io.RawIOBase):
    """Takes bytes and keeps none."""

    def writable(self) -> bool:
        return True

    def write(self, given: object) -> int:
        return memoryview(given).nbytes  # type: ignore[arg-type]  # bytes of any kind


def _nowhere() -> io.TextIOWrapper:
    """A stream that drops what is written; a new one each time, since anybody may close it."""
    return io.TextIOWrapper(io.BufferedWriter(_Nothing()), encoding="utf-8", errors="replace")


@contextmanager
def _dropped(number: int) -> Iterator[None]:
    """What is written to a descriptor is dropped."""
    try:
        kept = os.dup(number)
    except OSError:  # it is closed
        yield
        return
    try:
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, number)
        os.close(nowhere)
        yield
    finally:
        os.dup2(kept, number)
        os.close(kept)


@contextmanager
def _folder_put_back() -> Iterator[None]:
    try:
        before = os.getcwd()
    except OSError:  # it is gone: there is nothing to go back to
        yield
        return
    try:
        yield
    finally:
        with suppress(OSError):
            os.chdir(before)


@contextmanager
def _no_way_out() -> Iterator[None]:
    """The short way out of the process, with a status that nobody looked at, is the usual one, which can be caught."""
    before = os._exit

    def leave(status: int = 0) -> NoReturn:
        raise SystemExit(status)

    os._exit = leave
    try:
        yield
    finally:
        os._exit = before


@contextmanager
def _timed() -> Iterator[None]:
    """Raise TookTooLong inside after the time, and every second again: it may be caught there."""
    if not hasattr(signal, "setitimer") or threading.current_thread() is not threading.main_thread():
        yield
        return

    def ring(_signal: int, _frame: object) -> NoReturn:
        raise TookTooLong

    before = signal.signal(signal.SIGALRM, ring)
    signal.setitimer(signal.ITIMER_REAL, SECONDS, 1)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, before)
