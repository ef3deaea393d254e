"""`specrules inspect` of many sheets: in order, in several processes, and what becomes of the others if one fails."""

from __future__ import annotations

import io
import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from threading import Thread

import pytest

from specrules.cli.inspector import Inspected, Inspector, SheetBytes
from specrules.cli.status import Status
from specrules.effects import processes
from specrules.effects.processes import start_method
from specrules.output.marks import REPORT
from tests.cli.shell import call, process
from tests.cli.small_jobs import CLEAR, FAULTY, HELD, NEAR, OPEN, lay_out
from tests.lanes import first_alone

DEMO = (Path(__file__).parents[2] / "specrules" / "demo" / "carousel.sheet.yaml").read_text(encoding="utf-8")
SHEETS = [
    f"{name}.sheet.yaml" for name in ("demo", "clear", "held", "faulty", "nothere", "open", "empty", "near", "clear")
]
forks = pytest.mark.skipif(start_method() != "fork", reason="an Inspector that was changed here is changed here alone")
posix = pytest.mark.skipif(sys.platform == "win32", reason="signals and FIFOs of POSIX")


@pytest.fixture(autouse=True)
def jobs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    lay_out(tmp_path, clear=CLEAR, held=HELD, open=OPEN, faulty=FAULTY, near=NEAR, demo=DEMO, empty="")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def cores(number: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(processes, "usable_cores", lambda: number)


@pytest.mark.second_lane
@pytest.mark.parametrize("arguments", [(), ("--colour", "always"), ("--form", "json"), ("--sure", "--add", "wide")])
def test_processes_change_nothing_of_what_is_printed(
    arguments: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    ran = []
    for number in (1, 3):
        cores(number, monkeypatch)
        ran.append(call("inspect", *SHEETS, *arguments))
    assert ran[0] == ran[1]
    assert ran[0].status == 2
    assert ("\x1b[" in ran[0].out) == ("always" in arguments)


@pytest.mark.second_lane
def test_screens_of_several_are_those_of_each_and_a_line_each_at_the_end(monkeypatch: pytest.MonkeyPatch) -> None:
    cores(3, monkeypatch)
    alone = {name: call("inspect", name) for name in SHEETS}
    ran = call("inspect", *SHEETS)
    screens = [alone[name].out for name in SHEETS if alone[name].out]
    assert len(screens) == 6
    assert ran.out.startswith("\n".join(screens) + "\n")
    ends = ran.out.removeprefix("\n".join(screens)).splitlines()[1:]
    names = [row.split()[0] for row in ends if not row.startswith(" ")]
    from_below = [Status.GO, Status.OPEN, Status.HELD, Status.FAULT]
    assert names == sorted(SHEETS, key=lambda name: from_below.index(Status(alone[name].status)))
    told = [row for name in SHEETS for row in alone[name].err.split("\n")[:-2]]
    assert ran.err.split("\n")[:-2] == told
    assert len(told) == 3
    assert ran.err.endswith("3 faults. Put them right, then run it again: a file at fault is not judged.\n")


@pytest.mark.second_lane
def test_records_of_several_are_one_a_line_and_those_of_each(monkeypatch: pytest.MonkeyPatch) -> None:
    cores(3, monkeypatch)
    ran = call("inspect", *SHEETS, "--form", "json")
    rows = ran.out.split("\n")
    assert rows.pop() == ""
    assert [json.loads(row) for row in rows] == [
        json.loads(call("inspect", name, "--form", "json").out) for name in SHEETS
    ]
    assert (ran.status, ran.err) == (2, "")


@pytest.mark.second_lane
@pytest.mark.parametrize("arguments", [(), ("--form", "json")])
def test_a_file_holds_what_would_be_printed(arguments: tuple[str, ...], monkeypatch: pytest.MonkeyPatch) -> None:
    cores(2, monkeypatch)
    printed = call("inspect", *SHEETS, *arguments)
    ran = call("inspect", *SHEETS, *arguments, "--out", "folder/out.txt")
    assert (ran.status, ran.out, ran.err) == (printed.status, "", printed.err)
    in_file = printed.out if "json" in arguments else REPORT + printed.out + printed.err
    assert Path("folder/out.txt").read_text(encoding="utf-8") == in_file
    assert os.listdir("folder") == ["out.txt"]


OWN = Inspector.__call__


def failing(self: Inspector, sheet: SheetBytes) -> Inspected:
    """Fails on two sheets by their names, each in its own way."""
    if sheet.path.name == "held.sheet.yaml":
        os.kill(os.getpid(), signal.SIGKILL)
    if sheet.path.name == "open.sheet.yaml":
        raise ZeroDivisionError("a slip of ours")
    return OWN(self, sheet)


@pytest.mark.second_lane
@forks
@pytest.mark.parametrize("form", ["console", "json"])
def test_a_sheet_on_which_the_program_fails_is_named_and_the_others_are_judged(
    form: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    cores(2, monkeypatch)
    monkeypatch.setattr(Inspector, "__call__", failing)
    names = [f"{name}.sheet.yaml" for name in ("clear", "held", "clear", "open", "demo", "clear")]
    ran = call("inspect", *names, "--form", form)
    said = [
        f"{name}: specrules itself is at fault here, not this file ({why}); inspect it alone to see more."
        for name, why in (
            ("held.sheet.yaml", "its process was ended by signal 9"),
            ("open.sheet.yaml", "ZeroDivisionError: a slip of ours"),
        )
    ]
    assert ran.status == 2
    if form == "console":
        assert ran.err == "\n".join(said) + "\n"
        ends = [row for row in ran.out.splitlines() if row.startswith(tuple(names))]
        assert ["at fault, not judged" in row for row in ends] == [False, False, False, False, True, True]
    else:
        records = [json.loads(row) for row in ran.out.splitlines()]
        assert [fault["sentence"] for record in records for fault in record["faults"]] == said
        assert [record["verdict"] for record in records if not record["faults"]] == ["clear", "clear", "held", "clear"]


@pytest.mark.second_lane
@pytest.mark.parametrize("number_of_cores", [1, 2])
def test_a_hold_point_that_one_sheet_does_not_know_stops_that_sheet_by_name(
    number_of_cores: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    cores(number_of_cores, monkeypatch)
    ran = call("inspect", "demo.sheet.yaml", "held.sheet.yaml", "demo.sheet.yaml", "--until", "final_assembly")
    offered = "there are dry_fit and first_start"
    said = f'held.sheet.yaml, --until: "final_assembly" is no hold point of these packs; {offered}.'
    assert ran.status == 2
    assert ran.err.splitlines()[:-1] == [said]
    ends = [row.split(maxsplit=1) for row in ran.out.splitlines() if ".sheet.yaml " in row]
    assert [name for name, _ in ends] == ["demo.sheet.yaml", "demo.sheet.yaml", "held.sheet.yaml"]
    assert [conclusion.partition(":")[0] for _, conclusion in ends] == ["stop", "stop", "at fault, not judged"]


@pytest.mark.second_lane
@posix
def test_of_thirty_sheets_one_is_a_pipe_one_is_missing_and_one_is_empty(tmp_path: Path) -> None:
    names = [f"{name}.sheet.yaml" for name in ["clear"] * 10 + ["pipe", "nothere", "empty"] + ["held"] * 17]
    os.mkfifo("pipe.sheet.yaml")
    fed = Thread(target=Path("pipe.sheet.yaml").write_text, args=(OPEN, "utf-8"))
    fed.start()
    started = process("inspect", *names, "--form", "json", folder=tmp_path)
    out, err = started.communicate(timeout=60)
    fed.join()
    records = [json.loads(row) for row in out.splitlines()]
    assert (started.returncode, err) == (2, "")
    assert [record["sheet"]["file"] for record in records] == names
    assert [record["verdict"] for record in records] == (
        ["clear"] * 10 + ["open", "not inspected", "not inspected"] + ["held"] * 17
    )


def ended(group: int) -> bool:
    """Whether no process of a group is left, after a while."""
    for _ in range(200):
        try:
            os.killpg(group, 0)
        except ProcessLookupError:
            return True
        time.sleep(0.05)
    return False


def at_work(folder: Path) -> subprocess.Popen[str]:
    """The program, started in a group of its own, on more sheets than it can judge while we look; one is printed."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)  # a job in the background inherits deafness to it
    try:
        started = process("inspect", *["demo.sheet.yaml"] * 200, folder=folder, alone=True)
    finally:
        signal.signal(signal.SIGINT, before)
    assert isinstance(started.stdout, io.TextIOWrapper)
    started.stdout.reconfigure(errors="replace")  # `communicate` goes on where its buffer ended: within a character
    assert started.stdout.readline().startswith("V8 for a")
    return started


@pytest.mark.second_lane
@posix
@pytest.mark.parametrize("sent", first_alone(signal.SIGINT, signal.SIGTERM, signal.SIGHUP))
@pytest.mark.parametrize("send", [os.killpg, os.kill])
def test_a_signal_ends_all_processes_quietly(send: Callable[[int, int], None], sent: int, tmp_path: Path) -> None:
    """Whether all of them get it, as from a terminal, or the first alone."""
    started = at_work(tmp_path)
    send(started.pid, sent)
    _, err = started.communicate(timeout=60)
    assert (started.returncode, err) == (128 + sent, "Stopped.\n")
    assert ended(started.pid)


@pytest.mark.second_lane
@posix
def test_who_looks_at_the_first_lines_alone_leaves_no_process(tmp_path: Path) -> None:
    started = at_work(tmp_path)
    assert started.stdout is not None
    assert started.stderr is not None
    started.stdout.close()
    assert (started.wait(timeout=60), started.stderr.read()) == (141, "")
    assert ended(started.pid)


@pytest.mark.second_lane
@posix
def test_processes_end_when_the_one_that_started_them_is_gone(tmp_path: Path) -> None:
    started = at_work(tmp_path)
    started.kill()
    started.communicate(timeout=60)
    assert ended(started.pid)


@pytest.mark.second_lane
@posix
def test_a_screen_is_printed_before_the_later_sheets_are_judged(tmp_path: Path) -> None:
    """The last sheet is what is piped in, and that comes once the first screen is there."""
    reader, writer = os.pipe()
    started = process("inspect", *["clear.sheet.yaml"] * 30, "-", folder=tmp_path, piped=reader)
    os.close(reader)
    assert started.stdout is not None
    first = started.stdout.readline()
    os.write(writer, HELD.encode())
    os.close(writer)
    out, _ = started.communicate(timeout=60)
    assert (first + out).split("\n", 1)[0] == call("inspect", "clear.sheet.yaml").out.split("\n", 1)[0]
    assert started.returncode == 1


PEAKS = """
import gc, os, sys
from multiprocessing import active_children
from pathlib import Path
from specrules.cli.inspector import InspectionRequest, Inspector, SheetBytes
from specrules.effects.processes import in_order
from specrules.inspection import Options

gc.set_threshold(100_000, 50, 50)  # as the program does when it starts
number, form, cores = int(sys.argv[1]), sys.argv[2], int(sys.argv[3])
sheet = SheetBytes(Path("demo.sheet.yaml"), Path("demo.sheet.yaml").read_bytes())
inspector = Inspector(InspectionRequest(Options(), form, True, False, folder=form == "page"))
with in_order(inspector, [sheet] * number, number, cores) as results:
    assert sum(1 for each in results if each.status == 1) == number
    for process in (os.getpid(), *(each.pid for each in active_children())):
        rows = Path(f"/proc/{process}/status").read_text().splitlines()
        print(next(row.split()[1] for row in rows if row.startswith("VmHWM")))
"""


@pytest.mark.second_lane
@pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="how much memory each process held is read there")
@pytest.mark.parametrize("form", ["console", "json", "page"])
@pytest.mark.parametrize("number_of_cores", [1, 2])
def test_memory_stays_what_it_is_however_many_sheets(form: str, number_of_cores: int) -> None:
    """At most 0.3 MiB a further sheet, all processes together, at their most."""

    def peak(sheets: int) -> float:
        asked = [sys.executable, "-c", PEAKS, str(sheets), form, str(number_of_cores)]
        ran = subprocess.run(
            asked,
            env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
            capture_output=True,
            text=True,
            check=True,
        )
        held = [int(row) for row in ran.stdout.split()]
        assert len(held) == (1 if number_of_cores == 1 else number_of_cores + 1)
        return sum(held) / 1024

    peak(3)  # keeps the plan of the packs: resolving them takes more memory than the sheets, and only the first does it
    assert (peak(28) - peak(8)) / 20 <= 0.3
