"""Kept plans: whole, private, and never a reason to fail."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from specrules.effects import cache
from specrules.effects.cache import PlanCache

posix = pytest.mark.skipif(os.name == "nt", reason="the modes of files are those of POSIX")


def test_what_was_written_is_read(tmp_path: Path) -> None:
    plans = PlanCache(tmp_path / "a" / "plans")
    assert plans.read("key") is None
    plans.write("key", b"one")
    plans.write("key", b"two")
    assert plans.read("key") == b"two"
    assert [path.name for path in plans.folder.iterdir()] == ["key.plan"]


@posix
def test_the_folder_is_its_owners_alone(tmp_path: Path) -> None:
    plans = PlanCache(tmp_path / "plans")
    plans.write("key", b"one")
    assert plans.folder.stat().st_mode & 0o777 == 0o700
    assert (plans.folder / "key.plan").stat().st_mode & 0o077 == 0


@posix
@pytest.mark.parametrize("mode", [0o701, 0o710, 0o770, 0o777])
def test_a_folder_that_others_may_enter_holds_nothing(tmp_path: Path, mode: int) -> None:
    plans = PlanCache(tmp_path / "plans")
    plans.write("key", b"one")
    plans.folder.chmod(mode)
    assert plans.read("key") is None
    plans.write("other", b"two")
    assert not (plans.folder / "other.plan").exists()


@posix
def test_a_link_is_followed_nowhere(tmp_path: Path) -> None:
    plans = PlanCache(tmp_path / "plans")
    plans.write("key", b"one")
    (tmp_path / "outside").write_bytes(b"two")
    (plans.folder / "linked.plan").symlink_to(tmp_path / "outside")
    assert plans.read("linked") is None
    behind = PlanCache(tmp_path / "behind")
    behind.folder.symlink_to(plans.folder)
    assert behind.read("key") is None


@posix
def test_a_pipe_or_a_folder_in_a_plans_place_is_none(tmp_path: Path) -> None:
    plans = PlanCache(tmp_path / "plans")
    plans.write("key", b"one")
    os.mkfifo(plans.folder / "pipe.plan")
    (plans.folder / "folder.plan").mkdir()
    assert plans.read("pipe") is None
    assert plans.read("folder") is None
    plans.write("folder", b"two")
    assert plans.read("folder") is None


def test_a_place_where_nothing_can_be_written_is_no_fault(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"")
    plans = PlanCache(tmp_path / "file" / "plans")
    plans.write("key", b"one")
    assert plans.read("key") is None


def test_the_oldest_plans_go_first(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cache, "MOST_KEPT", 2)
    plans = PlanCache(tmp_path / "plans")
    for age, key in enumerate(("a", "b", "c")):
        plans.write(key, key.encode())
        os.utime(plans.folder / f"{key}.plan", (1000 + age, 1000 + age))
    plans.write("d", b"d")
    assert sorted(path.name for path in plans.folder.iterdir()) == ["c.plan", "d.plan"]


def test_too_large_a_plan_is_not_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cache, "LARGEST", 3)
    plans = PlanCache(tmp_path / "plans")
    plans.write("key", b"four")
    assert plans.read("key") is None
