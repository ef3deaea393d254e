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
    start = time.process_time()
    run()
    return time.process_time() - start
