"""One kind of work on many things in several processes: order, what fails, what is under way, how it ends."""

from __future__ import annotations

import multiprocessing
import operator
import os
import signal
import time
from collections.abc import Iterator

import pytest

from specrules.effects import processes
from specrules.effects.processes import WINDOW, FailedWork, in_order, start_method, usable_cores

forks = pytest.mark.skipif(start_method() != "fork", reason="what these do is not pickled")


def slow_first(thing: int) -> tuple[int, bool]:
    """The lower the number, the longer it takes; and whether it was done elsewhere."""
    time.sleep((8 - thing) * 0.01)
    return thing, multiprocessing.parent_process() is not None


@forks
def test_results_come_in_order_whatever_each_takes_and_the_first_is_worked_on_here() -> None:
    with in_order(slow_first, range(8), 8, cores=3) as results:
        assert list(results) == [(0, False), *((thing, True) for thing in range(1, 8))]


@pytest.mark.parametrize(
    ("number", "cores", "elsewhere"),
    [(0, 4, 0), (1, 4, 0), (2, 4, 0), (3, 4, 2), (9, 4, 4), (9, 2, 2), (9, 1, 0)],
)
@forks
def test_there_are_as_many_processes_as_cores_and_none_where_they_do_not_pay(
    number: int, cores: int, elsewhere: int
) -> None:
    with in_order(operator.neg, range(number), number, cores) as results:
        assert len(multiprocessing.active_children()) == elsewhere
        assert list(results) == [-thing for thing in range(number)]
    assert multiprocessing.active_children() == []


def killed_at_3_and_wrong_at_5(thing: int) -> int:
    if thing == 3 and multiprocessing.parent_process() is not None:
        os.kill(os.getpid(), signal.SIGKILL)
    if thing == 4 and multiprocessing.parent_process() is not None:
        os._exit(7)
    if thing == 5:
        raise KeyError("no such thing")
    return thing


@forks
@pytest.mark.parametrize("cores", [2, 3])
def test_what_fails_on_one_thing_fails_for_it_alone(cores: int) -> None:
    with in_order(killed_at_3_and_wrong_at_5, range(12), 12, cores) as results:
        found = list(results)
    assert found[3:6] == [
        FailedWork("its process was ended by signal 9"),
        FailedWork("its process ended with 7"),
        FailedWork("KeyError: 'no such thing'"),
    ]
    assert found[:3] + found[6:] == [0, 1, 2, *range(6, 12)]


def test_without_processes_what_is_raised_fails_for_one_thing_alone_too() -> None:
    with in_order(killed_at_3_and_wrong_at_5, range(8), 8, cores=1) as results:
        assert list(results) == [0, 1, 2, 3, 4, FailedWork("KeyError: 'no such thing'"), 6, 7]


@forks
@pytest.mark.parametrize("cores", [1, 2, 3])
def test_no_more_is_taken_than_the_window_holds(cores: int) -> None:
    taken = 0

    def things() -> Iterator[int]:
        nonlocal taken
        for thing in range(50):
            taken += 1
            yield thing

    with in_order(operator.neg, things(), 50, cores) as results:
        for given, _ in enumerate(results, 1):
            assert taken - given <= WINDOW * cores
    assert taken == 50


def waits(thing: int) -> int:
    time.sleep(60 if thing else 0)
    return thing


@forks
def test_who_stops_early_waits_for_nothing_and_leaves_no_process() -> None:
    begun = time.monotonic()
    with in_order(waits, range(9), 9, cores=2) as results:
        assert next(results) == 0
    assert time.monotonic() - begun < 30
    assert multiprocessing.active_children() == []


def test_processes_may_be_spawned_as_well(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(processes, "start_method", lambda: "spawn")
    monkeypatch.setitem(processes.PAYS, "spawn", 2)
    with in_order(operator.neg, range(5), 5, cores=2) as results:
        assert len(multiprocessing.active_children()) == 2
        assert list(results) == [0, -1, -2, -3, -4]


def test_there_is_a_core() -> None:
    assert 1 <= usable_cores() <= (os.cpu_count() or 1)
