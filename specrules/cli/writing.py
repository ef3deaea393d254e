"""Putting text where it belongs: the terminal, a pipe, or a file that is written whole or not at all."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator, Sequence
from contextlib import AbstractContextManager, contextmanager, suppress
from pathlib import Path
from typing import IO, cast

import click

from specrules.document import Fault
from specrules.output.lines import Line, folded, line
from specrules.output.progress_bar import Bar, progress
from specrules.output.terminal import colour_wanted, put, text_of

MOST_FAULTS = 100
"""More than these are counted, not listed."""

COLOUR = click.option(
    "--colour",
    type=click.Choice(("auto", "always", "never")),
    default="auto",
    help="auto: as the terminal says.",
)

NO_PLUGINS = click.option("--no-plugins", is_flag=True, help="Leave out what installed plugins offer.")


def put_lines(lines: Sequence[Line], out: Path | WholeFile | None = None, colour: str = "auto") -> None:
    """Lines to a file as plain text, or to the standard output."""
    if out is not None:
        put_text(text_of(list(lines)), out)
    else:
        put(lines, sys.stdout, colour_wanted(colour, os.environ, sys.stdout))
        sys.stdout.flush()


def progress_of(total: int, colour: str = "auto") -> AbstractContextManager[Bar]:
    """A bar for so many sheets or packs on the standard error, where that is a terminal and they take a while."""
    return progress(total, sys.stderr, colour_wanted(colour, os.environ, sys.stderr))


def put_text(text: str, out: Path | WholeFile | None = None) -> None:
    """Text that is for a machine: to a file, or to the standard output in UTF-8 whatever the terminal speaks."""
    if isinstance(out, WholeFile):
        out.write(text)
        return
    if out is not None:
        write_whole(out, text)
        return
    sys.stdout.flush()
    sys.stdout.buffer.write(text.encode("utf-8"))
    sys.stdout.buffer.flush()


def put_faults(faults: Sequence[Fault]) -> None:
    """Each fault as a sentence on the standard error, each told once."""
    files = {fault.place.file: None for fault in faults}
    order = list(files)
    told = sorted(dict.fromkeys(faults), key=lambda fault: (order.index(fault.place.file), fault.place[1:]))
    lines: list[Line] = []
    for fault in told[:MOST_FAULTS]:
        lines += folded(fault.sentence(), width=10_000)
    if len(told) > MOST_FAULTS:
        lines.append(line(f"and {len(told) - MOST_FAULTS} more."))
    in_files = sum(fault.kind not in ("plugin", "program") for fault in told)
    if in_files:
        number = "1 fault. Put it" if in_files == 1 else f"{in_files} faults. Put them"
        lines.append(line(f"{number} right, then run it again: a file at fault is not judged."))
    put(lines, sys.stderr)
    sys.stderr.flush()


def write_whole(path: Path, text: str) -> None:
    """Write a file whole or not at all."""
    with WholeFile(path) as file:
        file.write(text)


class WholeFile:
    """A file that is written piece by piece, and whole or not at all.

    What is written stands beside its true place first, then is put in its stead with its own mode. Without a piece
    nothing happens. What is there and is no plain file, a device or a pipe, is written into and never replaced.
    """

    def __init__(self, path: Path) -> None:
        self._path, self._target = path, Path(os.path.realpath(path))
        self._file: IO[bytes] | None = None
        self._beside = ""

    def __enter__(self) -> WholeFile:
        return self

    def write(self, text: str) -> None:
        """One more piece, in UTF-8."""
        with self._refused():
            if self._file is None:
                self._file = self._opened()
            self._file.write(text.encode("utf-8"))

    def __exit__(self, kind: type[BaseException] | None, *_: object) -> None:
        if self._file is None:
            return
        try:
            whole = bool(self._beside) and kind is None
            with self._refused():
                with self._file as file:
                    file.flush()
                    if whole:
                        os.fsync(file.fileno())
                if whole:
                    os.chmod(self._beside, self._mode())
                    os.replace(self._beside, self._target)
                    self._beside = ""
        finally:
            if self._beside:
                with suppress(OSError):
                    os.unlink(self._beside)

    def _opened(self) -> IO[bytes]:
        from tempfile import NamedTemporaryFile

        if self._target.exists() and not self._target.is_file():
            return self._target.open("wb")
        folder = self._target.parent
        folder.mkdir(parents=True, exist_ok=True)
        made = NamedTemporaryFile("wb", dir=folder, prefix=f".{self._target.name}.", delete=False)  # noqa: SIM115
        self._beside = made.name
        return cast(IO[bytes], made)

    def _mode(self) -> int:
        return self._target.stat().st_mode & 0o7777 if self._target.exists() else 0o666 & ~_umask()

    @contextmanager
    def _refused(self) -> Iterator[None]:
        try:
            yield
        except OSError as error:
            why = (error.strerror or "unknown cause").lower()
            raise click.ClickException(f"{self._path} cannot be written: {why}") from error


def plain(text: str) -> str:
    """A text as it can be written in UTF-8, whatever the command line held."""
    return text.encode("utf-8", "replace").decode("utf-8")


def quoted(path: Path) -> str:
    """A path as it can be typed in a command."""
    return f'"{path}"' if " " in str(path) else str(path)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
