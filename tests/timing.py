"""How long one thing takes beside another: such a ratio holds on a slow machine and on a busy one."""

from __future__ import annotations

import time
from collections.abc import Callable

TRIES = 3


def times_as_long(one: Callable[[], object], other: Callable[[], object]) -> float:
    """How many times as long as the other the one takes, of the processor's time and at their best of several."""
    return _best(one) / _best(other)


def _best(run: Callable[[], object]) -> float:
    return min(_taken(run) for _ in range(TRIES))


def _taken(run: Callable[[], object]) -> float:
    """How long it takes once: repeated until the clock has moved, which is coarse where processor time is limited."""
    start, times, taken = time.process_time(), 0, 0.0
    while not taken:
        run()
        times, taken = times + 1, time.process_time() - start
    return taken / times
