"""Whatever is written, and whenever the program is killed: nothing is torn, and nothing is lost.

A killed program has no say. So a file must at every moment be what it was or what it is to be.
"""

from __future__ import annotations

import json
import os
import shutil
import signal
import sys
import time
from collections import Counter
from collections.abc import Callable
from functools import partial
from pathlib import Path
from random import Random
from typing import NamedTuple

import pytest

from specrules.cli.editor_schemas import FOLDER
from specrules.cli.entry_point import run as run_command
from specrules.effects.cache import PlanCache
from specrules.effects.files import WholeFile, create
from tests.cli.small_jobs import CLEAR, FAULTY, HELD, lay_out
from tests.study.small_studies import written

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="forks and signals of POSIX")

NEW = ".specrules-"
"""What a file begins with that is being written."""


def forked(work: Callable[[], None]) -> int:
    """A process that does a piece of work, and nothing of what this one does."""
    started = os.fork()
    if started:
        return started
    try:
        for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):  # not those of whoever runs the tests
            setattr(sys, name, open(os.devnull, mode, encoding="utf-8"))  # noqa: SIM115 - to the process's end
        work()
    finally:
        os._exit(0)


def listing(folder: Path) -> dict[str, bytes]:
    """Every file beneath a folder, to the byte."""
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


# At every step

STEPS = ("open", "write", "fsync", "close", "chmod", "link", "replace", "unlink", "mkdir")


def killed_before_step(number: int, work: Callable[[], None]) -> bool:
    """Whether a process was killed before its so-manieth step on files; else it was done."""

    def counted() -> None:
        left = number

        def step(own: Callable[..., object], *given: object, **named: object) -> object:
            nonlocal left
            if not left:
                os.kill(os.getpid(), signal.SIGKILL)
            left -= 1
            return own(*given, **named)

        for name in STEPS:
            setattr(os, name, partial(step, getattr(os, name)))
        work()

    return os.waitstatus_to_exitcode(os.waitpid(forked(counted), 0)[1]) == -signal.SIGKILL


def creates(folder: Path) -> None:
    create(folder / "new" / "it", "after")


def replaces(folder: Path) -> None:
    with WholeFile(folder / "it", lambda _: "") as file:
        file.write(b"af")
        file.write(b"ter")


def keeps_a_plan(folder: Path) -> None:
    PlanCache(folder / "plans").write("it", b"after")


@pytest.mark.second_lane
@pytest.mark.parametrize(
    ("work", "before", "after"),
    [
        (creates, {}, {"new/it": b"after"}),
        (replaces, {"it": b"before"}, {"it": b"after"}),
        (replaces, {}, {"it": b"after"}),
        (keeps_a_plan, {"plans/it.plan": b"before"}, {"plans/it.plan": b"after"}),
        (keeps_a_plan, {}, {"plans/it.plan": b"after"}),
    ],
)
def test_killed_before_any_step_a_file_is_what_it_was_or_is_to_be(
    work: Callable[[Path], None], before: dict[str, bytes], after: dict[str, bytes], tmp_path: Path
) -> None:
    found: Counter[str] = Counter()
    for number in range(100):
        folder = tmp_path / str(number)
        for name, content in before.items():
            (folder / name).parent.mkdir(mode=0o700, parents=True)
            (folder / name).write_bytes(content)
        folder.mkdir(exist_ok=True)
        killed = killed_before_step(number, lambda folder=folder: work(folder))  # type: ignore[misc]
        left = listing(folder)
        whole = {name: content for name, content in left.items() if not Path(name).name.startswith(NEW)}
        assert whole in (before, after)
        found["after" if whole == after else "before"] += 1
        if not killed:
            assert left == after
            break
    assert not killed
    assert min(found["after"], found["before"]) >= 2


# At random moments

KILLS = 200
SEED = 9


class Job(NamedTuple):
    """A command that writes: where to, and what is there before, "" for nothing."""

    arguments: tuple[str, ...]
    target: str
    before: str = ""


REPORT = "specrules: inspection-report/1\nof yesterday\n"
JOBS = (
    Job(("inspect", "held.sheet.yaml", "--out", "out"), "out"),
    Job(("inspect", "held.sheet.yaml", "--out", "out"), "out", REPORT),
    Job(("inspect", "faulty.sheet.yaml", "--out", "out"), "out", REPORT),
    Job(("inspect", "held.sheet.yaml", "--form", "json", "--out", "out"), "out", REPORT),
    Job(("inspect", *["held.sheet.yaml", "clear.sheet.yaml"] * 3, "--form", "json", "--out", "out"), "out", REPORT),
    Job(("gauge", "study", "mic.study.yaml", "--out", "out"), "out", REPORT),
    Job(("sheet", "new", "new.sheet.yaml", "--no-ask", "--pack", "base"), "new.sheet.yaml"),
    Job(("pack", "new", "packs/new.pack.yaml", "--on", "base"), "packs/new.pack.yaml"),
    Job(("demo", "--copy", "."), "carousel.sheet.yaml"),
)


@pytest.mark.second_lane
def test_two_hundred_kills_at_random_moments(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Half of them while a plan is made and kept as well. Seeded; how fast the machine is decides where each falls."""
    lay_out(tmp_path, held=HELD, clear=CLEAR, faulty=FAULTY)
    study = written({"JT": {"1": ["2.4990", "2.4993", "2.4990"], "2": ["2.4985", "2.4985", "2.4988"]}})
    (tmp_path / "mic.study.yaml").write_text(study, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    plans = tmp_path / "cache" / "specrules" / "plans"
    given = listing(tmp_path)

    def lay(job: Job, kept: bool) -> None:
        for each in JOBS:
            Path(each.target).unlink(missing_ok=True)
        if job.before:
            Path(job.target).write_text(job.before, encoding="utf-8")
        if not kept:
            shutil.rmtree(plans, ignore_errors=True)

    def started(job: Job) -> int:
        def judged() -> None:
            run_command([*job.arguments])

        return forked(judged)

    wholes, spans = {}, {}
    for job in JOBS:
        for kept in (False, True):
            lay(job, kept)
            begun = time.monotonic()
            os.waitpid(started(job), 0)
            spans[job, kept] = time.monotonic() - begun
            wholes[job] = Path(job.target).read_bytes()
        assert wholes[job] != job.before.encode()

    chance = Random(SEED)
    found: Counter[str] = Counter()
    for _ in range(KILLS):
        job, kept = chance.choice(JOBS), chance.random() < 0.5
        lay(job, kept)
        process = started(job)
        time.sleep(chance.uniform(0, 1.3 * spans[job, kept]))
        os.kill(process, signal.SIGKILL)
        ended = os.waitstatus_to_exitcode(os.waitpid(process, 0)[1])
        left = {name: content for name, content in listing(tmp_path).items() if not name.startswith("cache")}
        beside = [name for name in left if Path(name).name.startswith(NEW)]
        for name in [name for name in left if f"{FOLDER}/" in name and name not in beside]:
            json.loads(left.pop(name))  # the schema beside a new file is whole too, where it is there
        there = left.pop(job.target, b"")
        assert there in (job.before.encode(), wholes[job]), job
        assert {name: content for name, content in left.items() if name not in beside} == given, job
        found["killed" if ended == -signal.SIGKILL else "done before"] += 1
        found["as it is to be" if there == wholes[job] else "as it was"] += 1
        found["left beside"] += len(beside)
        for name in beside:
            os.utime(name, (0, 0))
        for path in plans.glob(f"{NEW}*"):
            found["left in the cache"] += 1
            os.utime(path, (0, 0))

    for job in JOBS:  # the next run that writes there puts all in order, and reads no torn plan
        lay(job, True)
        os.waitpid(started(job), 0)
        assert Path(job.target).read_bytes() == wholes[job]
    lay(JOBS[0], True)
    (tmp_path / "packs" / "more.pack.yaml").write_text(
        (tmp_path / "packs" / "wide.pack.yaml").read_text(encoding="utf-8").replace("name: wide", "name: more"),
        encoding="utf-8",
    )
    os.waitpid(started(JOBS[0]), 0)  # a plan is kept anew, since there is a pack more
    assert list(tmp_path.rglob(f"{NEW}*")) == []
    assert found["as it was"] + found["as it is to be"] == KILLS
    assert min(found["killed"], found["as it was"]) > KILLS / 4
    with capsys.disabled():
        sys.stdout.write(f"\n{KILLS} kills, seed {SEED}: {dict(found)}\n")
