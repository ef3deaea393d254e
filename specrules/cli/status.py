"""What the exit status says, so that a script or a continuous-integration job can act on it."""

from __future__ import annotations

from enum import IntEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from specrules.inspection import Report


class Status(IntEnum):
    """0 go on, 1 held, 2 a file is at fault or cannot be read or written, 3 something is open or too little judged.

    A signal ends it with 128 and its number; STOPPED is an interrupt, PIPE_CLOSED what nobody reads on.
    """

    GO = 0
    HELD = 1
    FAULT = 2
    OPEN = 3
    STOPPED = 130
    PIPE_CLOSED = 141


GRAVITY = (Status.FAULT, Status.HELD, Status.OPEN, Status.GO)
"""The gravest first."""


def status_of(inspection: Report) -> Status:
    """The status of one inspection."""
    return {"held": Status.HELD, "open": Status.OPEN, "clear": Status.GO}[inspection.verdict]


def gravest(statuses: list[Status]) -> Status:
    """The status of several."""
    return min(statuses, key=GRAVITY.index, default=Status.GO)
