"""Turns at one file: one after the other, whoever is killed lets go, and where there are no locks a file stands in."""

from __future__ import annotations

import errno
import os
import threading
import time
from pathlib import Path

import pytest

from specrules.effects import files, locks
from specrules.effects.files import NotWritten, rewrite, rewriting
from specrules.effects.locks import StillLocked, patiently, turn_at

OWN_LOCKS = os.name != "nt"


@pytest.fixture(params=["own", "beside"])
def target(request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A file, locked by itself, or as where there is no `fcntl`."""
    if request.param == "beside":
        monkeypatch.setattr(locks, "flock", None)
    elif not OWN_LOCKS:
        pytest.skip("no such locks here")
    monkeypatch.setattr(locks, "PATIENCE", 0.05)
    monkeypatch.setattr(locks, "PAUSE", 0.001)
    path = tmp_path / "it"
    path.write_bytes(b"0")
    return path


def test_there_is_one_turn_at_a_time_and_nothing_stays_behind(target: Path) -> None:
    with turn_at(target), pytest.raises(StillLocked), turn_at(target):
        raise AssertionError
    with turn_at(target):
        pass
    assert os.listdir(target.parent) == ["it"]


def test_a_link_is_the_file_that_it_leads_to(target: Path) -> None:
    link = target.with_name("link")
    link.symlink_to(target)
    with turn_at(link), pytest.raises(StillLocked), turn_at(target):
        raise AssertionError


def test_what_another_run_keeps_is_said(target: Path) -> None:
    told = "it is being written by another run of specrules; try again$"
    with rewriting(target), pytest.raises(NotWritten, match=told), rewriting(target):
        raise AssertionError


def test_what_fails_within_a_turn_is_told_as_it_is(target: Path) -> None:
    with pytest.raises(OSError, match="so it is"), rewriting(target):
        raise OSError(errno.EIO, "so it is")
    with rewriting(target):
        pass


def test_counting_in_threads_loses_nothing(target: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The file is replaced at each turn, so that a lock on the one before keeps nobody out."""
    monkeypatch.setattr(locks, "PATIENCE", 30)

    def count() -> None:
        for _ in range(10):
            with rewriting(target):
                before = target.read_bytes()
                rewrite(target, before, str(int(before) + 1).encode())

    threads = [threading.Thread(target=count) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert target.read_bytes() == b"40"
    assert os.listdir(target.parent) == ["it"]


@pytest.mark.skipif(not OWN_LOCKS, reason="a lock beside it needs no file")
def test_where_nothing_is_there_is_no_turn(tmp_path: Path) -> None:
    told = "it cannot be written: no such file or directory"
    with pytest.raises(NotWritten, match=told), rewriting(tmp_path / "it"):
        raise AssertionError


def test_on_a_file_system_without_locks_nobody_waits(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def none(_handle: int, _how: int) -> None:
        raise OSError(errno.ENOLCK, "no locks")

    monkeypatch.setattr(locks, "flock", none)
    (tmp_path / "it").write_bytes(b"0")
    with turn_at(tmp_path / "it"), turn_at(tmp_path / "it"):
        assert os.listdir(tmp_path) == ["it"]


def test_a_lock_file_that_nobody_holds_any_more_is_removed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(locks, "flock", None)
    lock = tmp_path / ".specrules-it.lock"
    lock.write_bytes(b"")
    os.utime(lock, (time.time() - 61, time.time() - 61))
    with turn_at(tmp_path / "it"):
        assert lock.exists()
    assert not lock.exists()


@pytest.fixture
def held(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """As on Windows: what another program holds open is refused so many times."""
    left = [0]
    replace, opened = os.replace, os.open

    def refused() -> None:
        left[0] -= 1
        if left[0] >= 0:
            raise PermissionError(errno.EACCES, "held open")

    def replacing(old: Path, new: Path) -> None:
        refused()
        replace(old, new)

    def opening(path: Path, flags: int, mode: int = 0o777) -> int:
        if Path(path).name == "it":
            refused()
        return opened(path, flags, mode)

    monkeypatch.setattr(locks, "KEEPS_OPEN_FILES", True)
    monkeypatch.setattr(locks, "PAUSE", 0.001)
    monkeypatch.setattr(os, "replace", replacing)
    monkeypatch.setattr(os, "open", opening)
    return left


def test_a_file_that_another_program_holds_open_is_replaced_and_read_when_it_lets_go(
    held: list[int], tmp_path: Path
) -> None:
    path = tmp_path / "it"
    path.write_bytes(b"a")
    held[0] = 3
    rewrite(path, b"a", b"b")
    assert held[0] < 0
    held[0] = 3
    assert files.read(path, 9) == b"b"


def test_what_is_never_let_go_is_said_after_a_while(held: list[int], tmp_path: Path) -> None:
    path = tmp_path / "it"
    path.write_bytes(b"a")
    held[0] = 10**9
    with pytest.raises(PermissionError):
        patiently(lambda: os.replace(path, path), until=0.02)
    held[0] = 0
    assert path.read_bytes() == b"a"


def test_elsewhere_what_is_not_permitted_is_said_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    tries = []

    def effect() -> None:
        tries.append(1)
        raise PermissionError

    monkeypatch.setattr(locks, "KEEPS_OPEN_FILES", False)
    with pytest.raises(PermissionError):
        patiently(effect)
    assert len(tries) == 1
