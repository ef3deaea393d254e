"""Runs commands beneath the outermost one, so that nothing unforeseen is swallowed, or as a process of their own."""

from __future__ import annotations

import inspect
import os
import subprocess
import sys
from pathlib import Path
from typing import Any, NamedTuple

from click.testing import CliRunner

from specrules.cli.commands import specrules

_SPLIT: dict[str, Any] = {"mix_stderr": False} if "mix_stderr" in inspect.signature(CliRunner).parameters else {}
"""Older versions of click mix the two streams unless they are told not to."""


class Ran(NamedTuple):
    """What came of a command."""

    status: int
    out: str
    err: str


def call(*arguments: str | Path, typed: str = "") -> Ran:
    """Run a command here, in this process."""
    ran = CliRunner(**_SPLIT).invoke(specrules, [*map(str, arguments)], input=typed, catch_exceptions=False)
    return Ran(ran.exit_code, ran.stdout, ran.stderr)


def process(
    *arguments: str | Path, folder: Path, alone: bool = False, piped: int = subprocess.DEVNULL, **environment: str
) -> subprocess.Popen[str]:
    """Start the program as a user does. alone: in a group of its own with all that it starts; piped: what it reads."""
    return subprocess.Popen(
        [sys.executable, "-m", "specrules", *map(str, arguments)],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path), "PYTHONIOENCODING": "utf-8", **environment},
        stdin=piped,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        encoding="utf-8",
        start_new_session=alone,
    )


def run(*arguments: str | Path, folder: Path, **environment: str) -> Ran:
    """Run the program as a user does, to its end."""
    started = process(*arguments, folder=folder, alone=False, piped=subprocess.DEVNULL, **environment)
    out, err = started.communicate(timeout=60)
    return Ran(started.returncode, out, err)
