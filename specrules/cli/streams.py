"""The standard streams at the process's edge: closed, on a full disk, or with nobody at their other end.

A standard output that takes nothing ends in a sentence and status 2, a closed pipe in 141; what the standard error
cannot take is lost, and the status stands.
"""

from __future__ import annotations

import errno
import os
import sys
from io import BufferedReader, BufferedWriter, FileIO, TextIOWrapper
from typing import TYPE_CHECKING, TextIO

if TYPE_CHECKING:
    from _typeshed import ReadableBuffer as Buffer


class NotPrinted(Exception):
    """The standard output takes no more. closed: its reader has gone, which is no failure. The text is a sentence."""

    def __init__(self, error: OSError) -> None:
        self.closed = error.errno == errno.EPIPE
        super().__init__(f"The standard output cannot be written: {_said(error)}.")


class Stream(FileIO):
    """A stream that raises `NotPrinted` once where it cannot be written; or never, if it is the one for errors.

    Where nobody can be told of an error, the status alone says it.
    """

    def __init__(self, handle: int, errors: bool) -> None:
        super().__init__(handle, "wb", closefd=False)
        self._deaf, self._errors = False, errors

    def write(self, data: Buffer) -> int:
        """Write what can be written; all else counts as written."""
        try:
            return memoryview(data).nbytes if self._deaf else super().write(data)
        except OSError as error:
            self._deaf = True
            if self._errors:
                return memoryview(data).nbytes
            raise NotPrinted(error) from error


def steady() -> None:
    """Open what is closed of the standard streams, and have both that are written to fail in a sentence or not at all.

    A closed one is taken up by nothing else then: a file that is opened later would be written into by mistake.
    """
    for handle in range(3):
        try:
            os.fstat(handle)
        except OSError:
            os.open(os.devnull, os.O_RDONLY)
    if sys.stdin is None:
        sys.stdin = TextIOWrapper(BufferedReader(FileIO(0, closefd=False)), "utf-8")
    sys.stdout = _wrapped(sys.stdout, 1, errors=False)
    sys.stderr = _wrapped(sys.stderr, 2, errors=True)


def _wrapped(stream: TextIO | None, handle: int, errors: bool) -> TextIO:
    if stream is not None and os.name == "nt" and stream.isatty():
        return stream  # its letters go another way than its bytes
    raw = BufferedWriter(Stream(handle, errors))
    if not isinstance(stream, TextIOWrapper):
        return TextIOWrapper(raw, "utf-8", "backslashreplace")
    return TextIOWrapper(
        raw, stream.encoding, stream.errors, line_buffering=stream.line_buffering, write_through=stream.write_through
    )


def _said(error: OSError) -> str:
    from specrules.effects.files import why

    return "it is closed" if error.errno == errno.EBADF else why(error)
