"""`specrules sheet take`: answers typed at the bench, each in the sheet before the next; nothing else of it changes."""

from __future__ import annotations

import os
import random
import re
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager, suppress
from datetime import date
from pathlib import Path

import pytest

from specrules.cli.sheet_on_disk import SheetOnDisk
from specrules.cli.take_command import Taking
from specrules.effects import files
from specrules.effects.workspace import Workspace
from specrules.output.taking_lines import helping
from tests.cli.shell import call
from tests.cli.small_jobs import CLEAR, SIGNED, lay_out
from tests.lanes import first_alone
from tests.output.small_screen import build
from tests.sheet.small_trolley import TROLLEY

EMPTY = """\
readings:
  hole:                  # measured cold
    1: {front: , rear: }
    2: {front: , rear: }
  shaft: {1: [open, open], 2: [open, open]}
  grip: {1: , 2: }
  tilt:   # over the table
"""
TAKEN = build(EMPTY + SIGNED)


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return lay_out(tmp_path, new=TAKEN, clear=CLEAR)


def sheet() -> str:
    return Path("new.sheet.yaml").read_text(encoding="utf-8")


def take(*typed: str, only: tuple[str, ...] = ("hole", "shaft")) -> str:
    named = [word for name in only for word in ("--only", name)]
    ran = call("sheet", "take", "new.sheet.yaml", *named, typed="".join(f"{each}\n" for each in typed))
    assert (ran.status, ran.err) == (0, "")
    return ran.out


def test_each_figure_is_in_the_sheet_at_its_place_and_judged_at_once() -> None:
    said = take("1.5020", "1.5021", "n", "1.5000", "1.5000")
    assert sheet() == TAKEN.replace("1: {front: , rear: }", "1: {front: 1.5020, rear: 1.5021}", 1).replace(
        "{1: [open, open]", "{1: [1.5000, 1.5000]"
    )
    assert "place 1 front: " in said
    assert re.search(r"Running fit, place 1 +0\.0020 in +in spec", " ".join(said.split("\n"))) is not None
    assert "4 readings taken, 4 places left. Then: specrules inspect new.sheet.yaml" in said


def test_of_a_size_that_was_said_the_last_digits_are_enough() -> None:
    said = take("=1.5020", "21", "19", ".5018", "2 thou over")
    assert "hole:                  # measured cold\n    1: {front: 1.5021, rear: 1.5019}\n" in sheet()
    assert "    2: {front: 1.5018, rear: 1.5040}\n" in sheet()
    assert "  = 1.5021 in\n" in said


def test_back_puts_a_figure_right_and_empty_answers_pass_places_by() -> None:
    said = take("1.5020", "b", "1.5022", "", "1.5024", "q")
    assert "    1: {front: 1.5022, rear: }\n    2: {front: 1.5024, rear: }\n" in sheet()
    assert "place 1 front [1.5020]: " in said


def test_a_slip_is_caught_while_the_gauge_is_in_the_hole_and_may_be_confirmed() -> None:
    said = take("1.5020", "1.5020", "1.5020", "1.5270", "1.5021", "q")
    caught = (
        "one thimble turn; with that undone it would be 1.5020. Type it again, or c and your initials if it is right."
    )
    assert caught in " ".join(said.split())
    assert "    2: {front: 1.5020, rear: 1.5021}\n" in sheet()
    Path("new.sheet.yaml").write_text(TAKEN, encoding="utf-8")
    take("1.5020", "1.5020", "1.5020", "1.5270", "c", "c AB", "q")
    assert "    2: {front: 1.5020, rear: {value: 1.5270, confirmed: AB}}\n" in sheet()


def test_the_last_place_may_be_read_once_more() -> None:
    take("1.5020", "r 1.5021", "r 1.5021", "q")
    assert "    1: {front: {repeats: [1.5020, 1.5021, 1.5021]}, rear: }\n" in sheet()


def test_what_the_packs_want_read_several_times_is_asked_for_so_often() -> None:
    pack = Path("packs/base.pack.yaml")
    pack.write_text(pack.read_text().replace("tilt: {title: Tilt,", "tilt: {title: Tilt, repeats: 3,"))
    said = take("0.0021", "0.0022", "0.0021", only=("tilt",))
    assert "  tilt: {repeats: [0.0021, 0.0022, 0.0021]}   # over the table\n" in sheet()
    assert "reading (2 of 3) [0.0021]: " in said


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("1,5020", "write 1.5020"),
        ("abc", "abc"),
        ("5 lbf", "lbf"),
        ("=12", "A size is a plain number with a point"),
        ("c AB", "c is about the last reading, and there is none yet."),
        ("r 5", "r is about the last reading, and there is none yet."),
        ("0.002.1", "0.002.1"),
        ("\x1b[31m", ""),
        ("1.5" * 200, ""),
    ],
)
def test_what_is_no_figure_is_said_and_nothing_is_written(typed: str, said: str) -> None:
    out = take(typed, "q")
    assert said in out
    assert "\x1b" not in out
    assert sheet() == TAKEN


def test_what_the_sheet_does_not_name_gets_its_cells_with_the_first_reading() -> None:
    before = build("readings:\n  tilt: 0.0010\n" + SIGNED)
    Path("new.sheet.yaml").write_text(before, encoding="utf-8")
    take("1.5020", "q")
    rows = "  hole:                           # Hole (in)\n    1: {front: 1.5020, rear: }\n    2: {front: , rear: }\n"
    assert sheet() == before.replace("  tilt: 0.0010\n", f"  tilt: 0.0010\n{rows}")


def test_where_there_is_no_room_it_is_said_and_nothing_is_written() -> None:
    before = build("readings: {hole: {1: [1.5020, 1.5020]}}\n" + SIGNED)
    Path("new.sheet.yaml").write_text(before, encoding="utf-8")
    said = take("1.5020", "q")
    assert "Not written: there is no room for it in new.sheet.yaml; write it in by hand." in " ".join(said.split())
    assert sheet() == before


def test_all_that_the_job_needs_is_asked_for_up_to_its_hold_point_and_what_is_read_is_not() -> None:
    ran = call("sheet", "take", "new.sheet.yaml", "--until", "dry_fit", typed="")
    assert "new.sheet.yaml: 10 places to read." in ran.out  # holes, shafts and grips; not the tilt
    ran = call("sheet", "take", "clear.sheet.yaml", typed="")
    assert "clear.sheet.yaml: 0 places to read." in ran.out
    assert "0 readings taken, 0 places left." in ran.out


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--only", "hol"), '--only: "hol" is no measurand of these packs; write hole.'),
        (("--until", "dryfit"), '--until: "dryfit" is no hold point of these packs; write dry_fit.'),
    ],
)
def test_a_name_that_is_none_is_told(arguments: tuple[str, ...], said: str) -> None:
    ran = call("sheet", "take", "new.sheet.yaml", *arguments, typed="1.5\n")
    assert (ran.status, said in ran.err) == (2, True)
    assert sheet() == TAKEN


def test_facts_without_which_nothing_can_be_asked_for_are_named() -> None:
    Path("new.sheet.yaml").write_text("specrules: build-sheet/1\npacks: [base]\nunit: in\n", encoding="utf-8")
    said = take("0.0010", only=("hole", "tilt"))
    assert "new.sheet.yaml: 1 place to read." in said
    told = "State places in the sheet's facts: what lies along them cannot be asked for before."
    assert told in " ".join(said.split())


def test_a_sheet_at_fault_takes_no_reading() -> None:
    Path("new.sheet.yaml").write_text(TAKEN.replace("tilt:", "tild:"), encoding="utf-8")
    ran = call("sheet", "take", "new.sheet.yaml", typed="1.5020\n")
    assert (ran.status, "tild" in ran.err) == (2, True)
    assert sheet() == TAKEN.replace("tilt:", "tild:")


def test_what_somebody_else_wrote_meanwhile_is_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    """An editor saves behind the first answer, just before it goes in: nothing is lost, nothing is typed again."""
    other = TAKEN.replace("  grip: {1: , 2: }", "  grip: {1: 0.0030, 2: }")
    written = files.rewrite

    def first(path: Path, before: bytes, after: bytes) -> None:
        if b"0.0030" not in before:
            path.write_text(other, encoding="utf-8")
        written(path, before, after)

    monkeypatch.setattr("specrules.cli.sheet_on_disk.rewrite", first)
    said = take("1.5020", "q")
    assert "  = 1.5020 in\n" in said
    assert sheet() == other.replace("1: {front: , rear: }", "1: {front: 1.5020, rear: }", 1)


@pytest.mark.parametrize(
    ("saved", "said"),
    first_alone(
        (
            TAKEN.replace("front: ,", "front: 1.5033,", 1),
            "somebody else changed this place of new.sheet.yaml meanwhile",
        ),
        (TAKEN.replace("tilt:", "tild:"), "somebody else changed the sheet, and it is at fault now."),
        ("", "somebody else changed the sheet, and it is at fault now."),
    ),
)
def test_a_figure_is_not_put_over_what_somebody_else_wrote_there(
    saved: str, said: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another saves while the first question stands; what is typed then is refused, and nothing is lost of theirs."""

    @contextmanager
    def saves_first(path: Path) -> Iterator[None]:
        path.write_text(saved, encoding="utf-8")
        yield

    monkeypatch.setattr("specrules.cli.sheet_on_disk.rewriting", saves_first)
    assert f"Not written: {said}" in " ".join(take("1.5020", "q").split())
    assert sheet() == saved


TODAY = date.today().isoformat()
READ = TAKEN.replace("1: {front: , rear: }", "1: {front: 1.5020, rear: 1.5021}", 1)


def test_what_stood_there_before_the_session_is_kept_beside_what_is_read_again() -> None:
    """Read again on request: today's typing errors are written over, yesterday's reading is not."""
    Path("new.sheet.yaml").write_text(READ, encoding="utf-8")
    ran = call("sheet", "take", "new.sheet.yaml", "--only", "hole", "--again", typed="1.5033\nb\n1.5023\n\nq\n")
    assert "4 places to read, 2 of them again." in ran.out
    assert "place 1 front [1.5020]: " in ran.out
    kept = f"{{value: 1.5023, taken: {TODAY}, was: 1.5020}}"
    assert sheet() == READ.replace("1.5020", kept)
    assert "1 reading taken" not in ran.out  # two were
    call("sheet", "take", "new.sheet.yaml", "--only", "hole", "--again", typed="1.5024\nq\n")
    assert sheet() == READ.replace("1.5020", f"{{value: 1.5024, taken: {TODAY}, was: {kept}}}")


WORK = "work done:\n  - {operation: hone, on: DAY, at: {place: [1]}}\n"


@pytest.mark.parametrize(
    ("day", "said"),
    first_alone(
        (TODAY, f"taken: {TODAY}, after: hone"), ("2026-01-02", f"taken: {TODAY}"), ("", f"taken: {TODAY}, after: hone")
    ),
)
def test_what_work_has_changed_is_asked_for_again_and_says_that_it_was_read_after_it(day: str, said: str) -> None:
    before = READ.replace("rear: 1.5021", "rear: ", 1) + WORK.replace("DAY", day)
    Path("new.sheet.yaml").write_text(before, encoding="utf-8")
    told = take("1.5023", "1.5024", "1.5025", "q", only=("hole",))
    assert "4 places to read, 1 of them again." in told
    assert "place 1 front [1.5020; since then: hole honed]: " in told
    assert sheet() == before.replace(
        "1: {front: 1.5020, rear: }",
        f"1: {{front: {{value: 1.5023, {said}, was: 1.5020}}, rear: {{value: 1.5024, {said}}}}}",
    ).replace("2: {front: , ", "2: {front: 1.5025, ")
    assert "stale" not in call("inspect", "new.sheet.yaml", "--form", "json").out.split('"readings"')[0]
    assert "3 places" not in take("q", only=("hole",)).split("\n")[0]
    assert "1 place to read." in take("q", only=("hole",))


@pytest.mark.second_lane
def test_a_reading_that_looks_like_a_slip_is_asked_for_again() -> None:
    before = READ.replace("2: {front: , rear: }", "2: {front: 1.5270, rear: 1.5020}", 1)
    Path("new.sheet.yaml").write_text(before, encoding="utf-8")
    assert "1 place to read, 1 of them again." in take("1.5021", "q", only=("hole",))
    kept = f"{{value: 1.5021, taken: {TODAY}, was: 1.5270}}"
    assert sheet() == before.replace("1.5270", kept)
    Path("new.sheet.yaml").write_text(before, encoding="utf-8")
    take("c AB", "q", only=("hole",))
    assert sheet() == before.replace("1.5270", "{value: 1.5270, confirmed: AB}")
    assert "0 places to read." in take("q", only=("hole",))


@pytest.mark.second_lane
def test_a_number_that_somebody_confirmed_is_kept_and_the_new_one_is_not_confirmed() -> None:
    take("1.5020", "1.5020", "1.5020", "1.5270", "c AB", "b", "1.5021", "q")
    kept = f"{{value: 1.5021, taken: {TODAY}, was: {{value: 1.5270, confirmed: AB}}}}"
    assert f"    2: {{front: 1.5020, rear: {kept}}}\n" in sheet()


@pytest.mark.second_lane
def test_the_last_of_repeats_is_written_over_where_it_was_a_slip() -> None:
    take("1.5020", "1.5020", "r 1.5270", "b", "1.5021", "q")
    assert "    1: {front: 1.5020, rear: {repeats: [1.5020, 1.5021]}}\n" in sheet()


def test_a_note_stands_beside_the_last_reading() -> None:
    take("w too soon", "1.5020", "w a nick, # beside: it", "w", "w a nick", "q")
    assert "    1: {front: {value: 1.5020, because: a nick}, rear: }\n" in sheet()
    take("1.5021", "w cold: 12 C", "q", only=("hole",))
    assert 'rear: {value: 1.5021, because: "cold: 12 C"}}' in sheet()
    ran = call("sheet", "take", "new.sheet.yaml", "--only", "hole", typed="w too soon\nw\nq\n")
    assert "w is about the last reading, and there is none yet." in ran.out


@pytest.mark.second_lane
def test_what_another_bench_has_read_since_is_not_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    """It is passed by; who goes back to it all the same keeps it beside his own."""
    other = TAKEN.replace("1: {front: , rear: }", "1: {front: , rear: 1.5033}", 1)
    begun = files.rewriting

    def meanwhile(path: Path) -> AbstractContextManager[None]:
        if "1.5033" not in sheet():
            Path("new.sheet.yaml").write_text(other, encoding="utf-8")
        return begun(path)

    monkeypatch.setattr("specrules.cli.sheet_on_disk.rewriting", meanwhile)
    said = take("1.5020", "1.5021", "b", "b", "1.5034", "q", only=("hole",))
    assert "place 1 rear [1.5033]: " in said
    kept = f"{{value: 1.5034, taken: {TODAY}, was: 1.5033}}"
    expected = other.replace("1: {front: , ", "1: {front: 1.5020, ", 1).replace("1.5033", kept)
    assert sheet() == expected.replace("2: {front: , ", "2: {front: 1.5021, ", 1)


SCREEN = """\
new.sheet.yaml: 3 places to read, 2 of them again. ? says what may be typed, q
stops.

Hole (in)                                                                   dial
  Square across, an inch down.

PLACE 1                                                                   1 of 3
  Expected: 1.502 as stated.
  Read there: rear 1.5021
place 1 front:   = 1.5020 in
  Running fit, place 1                    0.0020 in                      in spec

PLACE 2                                                             Hole, 2 of 3
  Square across, an inch down.
  Expected: 1.502 as stated, 1.5020 to 1.5021 elsewhere.
  Read there: front 1.5025; rear 1.5026
place 2 front [1.5025; since then: hole honed]: place 2 rear [1.5026; since then: hole honed]:|
1 reading taken, 2 places left. Then: specrules inspect new.sheet.yaml
"""


def test_a_station_says_where_the_gauge_goes_what_is_expected_and_what_has_been_read_there() -> None:
    pack = Path("packs/base.pack.yaml")
    text = pack.read_text(encoding="utf-8")
    pack.write_text(
        text.replace("facts:\n", "facts:\n  card: {kind: quantity, unit: in, title: What the card says}\n", 1).replace(
            "hole: {title: Hole,", "hole: {title: Hole, how: 'Square across, an inch down.', wears above: card,"
        )
    )
    before = READ.replace("front: 1.5020, rear", "front: , rear", 1).replace("facts: {", "facts: {card: 1.502, ")
    before = before.replace("2: {front: , rear: }", "2: {front: 1.5025, rear: 1.5026}", 1)
    before = before.replace("shaft: {1: [open, open]", "shaft: {1: [1.5000, 1.5000]")
    Path("new.sheet.yaml").write_text(before + WORK.replace("DAY", "2026-01-02").replace("[1]", "[2]"), "utf-8")
    assert take("1.5020", "", "q", only=("hole",)) == SCREEN.replace("|", " ")


def test_what_may_be_typed_fits_a_terminal_of_80_by_24() -> None:
    lines = "".join("".join(part.text for part in line) + "\n" for line in helping()).splitlines()
    assert len(lines) < 23
    assert max(map(len, lines)) <= 80


@pytest.mark.second_lane
def test_each_station_of_an_engine_fits_a_terminal_of_80_by_24() -> None:
    """With a line for each of its answers, of an engine of which all is read, so that most is told."""
    twin = Path(__file__).parents[1] / "engines" / "twin.sheet.yaml"
    Path("new.sheet.yaml").write_bytes(twin.read_bytes())
    file = SheetOnDisk(Path("new.sheet.yaml"), Workspace(plugins=False), ())
    taking = Taking(file, file.now.cells, "never")
    stations: dict[object, list[int]] = {}
    for number, cell in enumerate(file.now.cells):
        stations.setdefault(cell.spot[:2], []).append(number)
    assert len(stations) > 50
    for numbers in stations.values():
        for begins in (True, False):
            lines = list(taking.screen(file.now.cells[numbers[0]], numbers[0], begins))
            assert len(lines) + len(numbers) <= 24
            assert all(sum(len(part.text) for part in line) <= 80 for line in lines)


@pytest.mark.second_lane
@pytest.mark.skipif(os.name == "nt", reason="there are no such terminals")
def test_a_gauge_on_a_cable_reads_a_whole_station_without_a_key(folder: Path) -> None:
    """It types a figure in a burst and ends it with two characters, now and then twice; by hand the same comes later.

    What it sends while the reading before is judged counts by when it was sent."""
    import pty

    handle, program_end = pty.openpty()
    command = [sys.executable, "-m", "specrules", "sheet", "take", "new.sheet.yaml", "--only", "hole"]
    started = subprocess.Popen(command, cwd=folder, stdin=program_end, stdout=program_end, stderr=program_end)
    os.close(program_end)
    said = ""

    def wait_for(prompt: str) -> None:
        nonlocal said
        while not said.endswith(prompt):
            said += os.read(handle, 4096).decode()

    wait_for("place 1 front: ")
    for sent in (b"1.5020\r\n1.5020\r\n", b"1.5020 in\r\n"):
        os.write(handle, sent)
        time.sleep(0.05)
    wait_for("place 2 front: ")
    for sent in (b"1.5021\n", b"1.5021\n"):
        os.write(handle, sent)
        time.sleep(0.4)
    with suppress(OSError):  # the terminal is gone when the program is
        wait_for("no prompt")
    assert started.wait(30) == 0, said
    os.close(handle)
    assert "    1: {front: 1.5020, rear: 1.5020 in}\n    2: {front: 1.5021, rear: 1.5021}\n" in sheet()
    assert "4 readings taken, 0 places left." in said


@pytest.mark.second_lane
def test_an_editor_that_never_stops_writing_is_given_up_on(monkeypatch: pytest.MonkeyPatch) -> None:
    def always(path: Path, *_: bytes) -> None:
        raise files.LeftAlone(f"{path} has changed since it was read, so it is left alone; try again")

    monkeypatch.setattr("specrules.cli.sheet_on_disk.rewrite", always)
    assert "Not written: new.sheet.yaml has changed since it was read" in " ".join(take("1.5020", "q").split())
    assert sheet() == TAKEN


def at_a_bench(folder: Path, only: str, figures: list[str]) -> subprocess.Popen[str]:
    """A session of its own, all its answers typed at once."""
    command = [sys.executable, "-m", "specrules", "sheet", "take", "new.sheet.yaml", "--only", only]
    started = subprocess.Popen(
        command, cwd=folder, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
    )
    assert started.stdin is not None
    started.stdin.write("".join(f"{figure}\n" for figure in figures))
    started.stdin.flush()
    return started


@pytest.mark.second_lane
@pytest.mark.parametrize("turn", range(3))
def test_at_several_benches_at_once_no_reading_is_lost(turn: int, folder: Path) -> None:
    """Three sessions on one sheet, each of what nobody else reads, as fast as they can."""
    many = 12
    rows = {name: ", ".join(f"{place}: " for place in range(1, many + 1)) for name in ("grip", "hole", "shaft")}
    cells = "".join(f"  {name}: {{{row}}}  # {name}s\n" for name, row in rows.items())
    before = build(f"readings:\n{cells}{SIGNED}").replace("places: 2", f"places: {many}")
    Path("new.sheet.yaml").write_text(before, encoding="utf-8")
    figures = {"grip": "0.003", "hole": "1.502", "shaft": "1.500"}
    typed = {name: [f"{figure}{(place + turn) % 10}" for place in range(many)] for name, figure in figures.items()}
    benches = [at_a_bench(folder, name, typed[name]) for name in typed]
    for bench in benches:
        out, _ = bench.communicate(timeout=120)
        assert (bench.returncode, "Not written" in out) == (0, False), out
    for name, row in rows.items():
        filled = ", ".join(f"{place}: {figure}" for place, figure in enumerate(typed[name], 1))
        before = before.replace(f"{name}: {{{row}}}", f"{name}: {{{filled}}}")
    assert sheet() == before
    assert not [each.name for each in folder.iterdir() if each.name.startswith(".specrules")]


def test_an_edit_that_would_change_more_is_not_written(monkeypatch: pytest.MonkeyPatch) -> None:
    def careless(text: str, *_: object) -> str:
        return text.replace("front: ,", "front: 1.5020,").replace("open", "1.5")

    monkeypatch.setattr("specrules.cli.take_command.with_figure", careless)
    assert "it would change more of new.sheet.yaml than this reading" in " ".join(take("1.5020", "q").split())
    assert sheet() == TAKEN


def without_figures(text: str) -> str:
    """A sheet without its readings, and the blanks that stand for them."""
    return re.sub(r"1\.\d{4}|open| ", "", text)


ACKNOWLEDGED = re.compile(r"^.*?  = (1\.\d{4}) in$", re.MULTILINE)


@pytest.mark.second_lane
def test_killed_at_any_moment_it_loses_nothing_that_it_said_was_in(folder: Path) -> None:
    """A whole job typed in pieces: 50 runs that are killed without warning, some while they start, most a moment after
    they acknowledged some readings, however fast the machine is. What they acknowledged is there."""
    chance = random.Random(11)
    command = [
        sys.executable,
        "-m",
        "specrules",
        "sheet",
        "take",
        "new.sheet.yaml",
        "--only",
        "hole",
        "--only",
        "shaft",
    ]
    figures = {f"1.{5000 + number}" for number in range(40)}
    entered = 0
    for number in range(50):
        if number % 2 == 0:
            Path("new.sheet.yaml").write_text(TAKEN, encoding="utf-8")
        before = sheet()
        typed = "".join(f"{figure}\n" for figure in chance.sample(sorted(figures), 8))
        started = subprocess.Popen(command, cwd=folder, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
        assert started.stdin is not None
        assert started.stdout is not None
        started.stdin.write(typed)
        started.stdin.flush()
        wanted, out = chance.randrange(5), ""
        while len(ACKNOWLEDGED.findall(out)) < wanted and (line := started.stdout.readline()):
            out += line
        time.sleep(chance.uniform(0, 0.2))
        started.kill()
        out += started.communicate()[0]
        said = ACKNOWLEDGED.findall(out)
        after = sheet()
        assert all(figure in after for figure in said)
        entered += len(said)
        assert without_figures(after) == without_figures(before)
    assert entered > 60
    assert [each.name for each in folder.iterdir() if "new.sheet" in each.name] == ["new.sheet.yaml"]


def test_questions_are_asked_after_the_readings_of_their_heading_and_signed_with_the_day() -> None:
    Path("new.sheet.yaml").write_text(build("readings: {tilt: 0.0010}\nsigned:\n  clean: {by: , on: }\n"))
    typed = ("n", "n", "n", "n", "n", "n", "yes", "y", "y AB", "n CD")
    ran = call("sheet", "take", "new.sheet.yaml", typed="".join(f"{each}\n" for each in typed))
    assert ran.status == 0
    assert "clean: Is every part clean?\n" in ran.out
    today = date.today().isoformat()
    assert f"signed:\n  clean: {{by: AB, on: {today}}}\n  turned: {{by: CD, on: {today}, answer: no}}\n" in sheet()
    again = call("sheet", "take", "new.sheet.yaml", typed="")
    assert "Is every part clean?" not in again.out


def test_a_question_that_was_signed_before_work_is_asked_again_and_says_after_which() -> None:
    pack = Path("packs/base.pack.yaml")
    pack.write_text(
        pack.read_text(encoding="utf-8").replace("makes stale: [hole]", "makes stale: [hole, clean]"), "utf-8"
    )
    before = build(f"readings: {{tilt: 0.0010}}\n{WORK.replace('DAY', TODAY)}{SIGNED}")
    Path("new.sheet.yaml").write_text(before, encoding="utf-8")
    call("sheet", "take", "new.sheet.yaml", typed="n\n" * 6 + "y CD\nq\n")
    kept = f"clean: [{{by: ab, on: 2026-10-01}}, {{by: CD, on: {TODAY}, after: hone}}]"
    assert sheet() == before.replace("clean: {by: ab, on: 2026-10-01}", kept)
    assert "Is every part clean?" not in call("sheet", "take", "new.sheet.yaml", typed="n\n" * 9).out


def test_a_question_may_wait() -> None:
    before = build(EMPTY + "signed:\n  clean: {by: , on: }\n")
    Path("new.sheet.yaml").write_text(before, encoding="utf-8")
    call("sheet", "take", "new.sheet.yaml", typed="n\n" * 8 + "\n\n")
    assert sheet() == before


def test_each_label_of_a_kind_is_asked_for() -> None:
    Path("packs/trolley.pack.yaml").write_text(TROLLEY, encoding="utf-8")
    head = "specrules: build-sheet/1\npacks: [trolley]\nunit: mm\nfacts: {axles: 1, inner_wheels: 2}\n"
    Path("new.sheet.yaml").write_text(f"{head}readings:\n  wheel_size: {{1: {{inner_1: , inner_2: , outer: 100}}}}\n")
    said = take("100.1", "100.2", only=("wheel_size",))
    assert "axle 1 inner 1: " in said
    assert sheet() == f"{head}readings:\n  wheel_size: {{1: {{inner_1: 100.1, inner_2: 100.2, outer: 100}}}}\n"
    Path("new.sheet.yaml").write_text(head, encoding="utf-8")
    take("100.1", "100.2", "100.3", only=("wheel_size",))
    assert "  wheel_size: {inner_1: 100.1, inner_2: 100.2, outer: 100.3}" in sheet()


def test_of_an_engine_it_asks_for_what_is_there() -> None:
    """A twin on rolling bearings, of which everything is read: no shell, no strip and no journal is asked for."""
    twin = Path(__file__).parents[1] / "engines" / "twin.sheet.yaml"
    Path("new.sheet.yaml").write_bytes(twin.read_bytes())
    ran = call("sheet", "take", "new.sheet.yaml", typed="n\n" * 60)
    assert (ran.status, ran.err) == (0, "")
    assert "clearance" in ran.out
    assert not re.search(r"^(Main|Rod) (journal|shell|bearing|clearance)", ran.out, re.MULTILINE)


def test_a_sheet_keeps_the_encoding_that_it_has() -> None:
    Path("new.sheet.yaml").write_bytes(TAKEN.encode("utf-16"))
    said = take("1.5020", "q")
    assert "  = 1.5020 in\n" in said
    after = Path("new.sheet.yaml").read_bytes()
    assert after.decode("utf-16") == TAKEN.replace("1: {front: , rear: }", "1: {front: 1.5020, rear: }", 1)
    assert after.startswith(b"\xff\xfe")


def test_a_question_is_signed_above_the_readings_too() -> None:
    """That moves them down a line, and says nothing else of them."""
    Path("new.sheet.yaml").write_text(build(f"signed:\n{EMPTY.replace('tilt:', 'tilt: 0.0010')}"), encoding="utf-8")
    call("sheet", "take", "new.sheet.yaml", typed="n\n" * 6 + "y AB\nq\n")
    assert re.search(r"signed:\n  clean: \{by: AB, on: \d{4}-\d\d-\d\d\}\nreadings:\n", sheet())


def test_a_place_that_somebody_took_out_meanwhile_gets_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """The sheet has one place now: the other one is no more, and the program goes on."""
    fewer = TAKEN.replace("places: 2", "places: 1").replace("    2: {front: , rear: }\n", "")
    fewer = fewer.replace(", 2: [open, open]", "").replace("grip: {1: , 2: }", "grip: {1: }")

    def first(path: Path, _before: bytes, _after: bytes) -> None:
        path.write_text(fewer, encoding="utf-8")
        raise files.LeftAlone("new.sheet.yaml has changed since it was read")

    monkeypatch.setattr("specrules.cli.sheet_on_disk.rewrite", first)
    said = take("1.5020", "", "", "1.5020", "q", only=("hole",))
    assert "there is no room for it in new.sheet.yaml" in " ".join(said.split())
    assert sheet() == fewer
