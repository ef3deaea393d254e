"""One kind of work on many things, in as many processes as there are cores, the results in the order of the things.

Processes are forked where that is safe: each has then all that this one has read and worked out, for a hundredth of a
second. Where threads run here, whose locks nobody would open in the fork, or where the system's own libraries do not
bear it (macOS, Windows), they are spawned: each imports the program anew and reads what it needs, which takes as long
as several sheets. The work is pickled then, so it must be something that can be made again from plain data.
"""

from __future__ import annotations

import gc
import os
import signal
import sys
import threading
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from itertools import chain, islice
from multiprocessing import get_all_start_methods, get_context
from multiprocessing.connection import Connection, wait
from multiprocessing.context import SpawnContext
from multiprocessing.process import BaseProcess
from typing import NamedTuple, TypeVar, cast

Thing = TypeVar("Thing")
Result = TypeVar("Result")

WINDOW = 2
"""Things under way for each process, worked on or waiting for one before them: what is held is bounded."""
PAYS = {"fork": 2, "spawn": 12}
"""With more things than these there are processes, by how they are started: a fork costs less than a whole start."""

Crew = dict[Connection, BaseProcess]
"""Processes, each by this end of the pipe to it."""


class FailedWork(NamedTuple):
    """What came instead of a result: the work raised something, or its process ended before it was done."""

    why: str


@contextmanager
def in_order(
    work: Callable[[Thing], Result], things: Iterable[Thing], number: int, cores: int | None = None
) -> Iterator[Iterator[Result | FailedWork]]:
    """The results of a piece of work on so many things, each there as soon as it and all before it are.

    What fails on one thing is the result for that thing alone. Things are taken as they are needed, and no more than
    `WINDOW` for each process are under way. The first is worked on here, before anything is started: what the work
    keeps for later ones is there for every process that is forked. At the end, however it comes, all processes end.
    """
    rest = iter(things)
    firsts = [_attempt(work, first) for first in islice(rest, 1)]
    processes = min(usable_cores() if cores is None else cores, number - 1)
    crew: Crew = {}
    try:
        if processes > 1 and number > PAYS[start_method()]:
            for _ in range(processes):
                _start(work, crew)
        yield chain(firsts, _shared_out(work, rest, crew) if crew else (_attempt(work, thing) for thing in rest))
    finally:
        for mine, process in crew.items():
            process.kill()
            mine.close()
        for process in crew.values():
            process.join()


def start_method() -> str:
    """How a process is started here and now: see above."""
    forks = "fork" in get_all_start_methods() and sys.platform != "darwin" and threading.active_count() == 1
    return "fork" if forks else "spawn"


def usable_cores() -> int:
    """How many cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def _attempt(work: Callable[[Thing], Result], thing: Thing) -> Result | FailedWork:
    try:
        return work(thing)
    except Exception as unforeseen:
        return FailedWork(f"{type(unforeseen).__name__}: {unforeseen}")
    finally:
        gc.collect(1)  # what refers to itself would stay: only this one thing's is young, so it alone is looked at


def _shared_out(work: Callable[[Thing], Result], things: Iterator[Thing], crew: Crew) -> Iterator[Result | FailedWork]:
    processes = len(crew)
    at_work: dict[Connection, int] = {}
    done: dict[int, Result | FailedWork] = {}
    given = taken = 0
    while True:
        room = min(processes - len(at_work), WINDOW * processes - (taken - given))
        for thing in islice(things, room):
            mine = next((each for each in crew if each not in at_work), None) or _start(work, crew)
            at_work[mine] = taken
            taken += 1
            with suppress(OSError):  # it has ended: whoever waits for its answer is told so
                mine.send(thing)
        if given in done:
            yield done.pop(given)
            given += 1
        elif at_work:
            ready = wait(list(at_work))
            for mine in [each for each in at_work if each in ready]:
                done[at_work.pop(mine)] = _received(mine, crew)
        else:
            return


def _start(work: Callable[[Thing], Result], crew: Crew) -> Connection:
    context = cast(SpawnContext, get_context(start_method()))  # the types know no `Process` of every context
    mine, theirs = context.Pipe()
    process = context.Process(target=_serve, args=(theirs, (mine, *crew), work, gc.get_threshold()), daemon=True)
    with _uninterrupted():
        process.start()
    theirs.close()
    crew[mine] = process
    return mine


def _serve(
    theirs: Connection, others: Iterable[Connection], work: Callable[[Thing], Result], threshold: tuple[int, int, int]
) -> None:
    """What a process does: a thing in, its result out, until there is no one at the other end."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the one that started it ends it
    gc.set_threshold(*threshold)
    for each in others:
        each.close()  # held open here, they would hide from each other that the one who started them is gone
    with suppress(EOFError, OSError):
        while True:
            theirs.send(_attempt(work, theirs.recv()))


def _received(mine: Connection, crew: Crew) -> Result | FailedWork:
    try:
        result: Result | FailedWork = mine.recv()
    except (EOFError, OSError):
        process = crew.pop(mine)
        mine.close()
        process.join()
        code = process.exitcode or 0
        return FailedWork(f"its process was ended by signal {-code}" if code < 0 else f"its process ended with {code}")
    return result


@contextmanager
def _uninterrupted() -> Iterator[None]:
    """What asks to end comes after this, and to this process alone: one that is started here takes the mask over."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT, signal.SIGTERM, signal.SIGHUP})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)
