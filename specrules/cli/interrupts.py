"""Signals that ask the program to end. It ends as they ask, with 128 and the signal's number, and never in a traceback.

Nothing that takes time is imported here: this is the first that the program does. The module `signal` would take ten
times as long as all else until a signal is heeded; what it is made of is there as soon as Python is.

A signal that comes while Python itself starts, before the program's first line, is Python's to answer.
"""

from __future__ import annotations

import os
import sys

TYPE_CHECKING = False
if TYPE_CHECKING:
    import signal
    from collections.abc import Callable
    from types import FrameType
    from typing import NoReturn

    Handler = Callable[[int, FrameType | None], NoReturn]
else:
    import _signal as signal

STOPPED = "Stopped."
_ASKED = [getattr(signal, name) for name in ("SIGINT", "SIGTERM", "SIGHUP") if hasattr(signal, name)]


class Interrupted(KeyboardInterrupt):
    """A signal asked the program to end."""

    def __init__(self, number: int) -> None:
        super().__init__(number)
        self.number = number


def end_at_once() -> None:
    """From now on a signal ends the program where it stands: there is nothing to put in order yet."""
    _listen(_end)
    sys.unraisablehook = _unraisable


class Interruptible:
    """Meanwhile a signal raises `Interrupted`, so that everything is put in order; a second one ends at once."""

    def __enter__(self) -> None:
        self._before = [(number, signal.getsignal(number)) for number in _ASKED]
        _listen(_interrupt)

    def __exit__(self, *_: object) -> None:
        for number, handler in self._before:
            signal.signal(number, handler)


def _listen(handler: Handler) -> None:
    """Handle the signals, but for those that whoever started the program wants ignored."""
    for number in _ASKED:
        if signal.getsignal(number) not in (signal.SIG_IGN, None):
            signal.signal(number, handler)


def _interrupt(number: int, _frame: FrameType | None) -> NoReturn:
    _listen(_end)
    raise Interrupted(number)


def _end(number: int, _frame: FrameType | None) -> NoReturn:
    try:
        os.write(2, f"{STOPPED}\n".encode())
    finally:  # even where nobody can be told
        os._exit(128 + number)


def _unraisable(lost: sys.UnraisableHookArgs) -> None:
    """An interrupt that came where Python can raise nothing, as it takes something apart, is none the less heeded."""
    if isinstance(lost.exc_value, Interrupted):
        _end(lost.exc_value.number, None)
    sys.__unraisablehook__(lost)
