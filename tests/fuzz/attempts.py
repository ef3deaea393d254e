"""What is tried with an altered input, and what has to hold of it whatever it is.

An attempt raises where it does not hold: an exception of the program's own is what it must never raise, `Broken` says
what else went wrong. Each returns what came of it, in a word or two, to be counted.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from io import BytesIO, TextIOWrapper
from pathlib import Path
from random import Random
from typing import NamedTuple

from specrules.cli.entry_point import run
from specrules.cli.status import Status
from specrules.document import Fault
from specrules.effects.workspace import Workspace
from specrules.evaluate import NotEvaluable
from specrules.formula import Formula, Kind
from specrules.formula.formula_reading import read_formula, syntax_of
from specrules.inspection import Examination
from specrules.output.full_screen import whole_screen
from specrules.output.report_record import record_for
from specrules.output.terminal import text_of
from specrules.quantity import LENGTH, MASS, NUMBER, TEMPERATURE, Bracket, Exact, Refusal, find_unit, read_written
from specrules.record import read_record, record_text
from specrules.study import analyse, gauge_entry, read_study
from specrules.teaching import mark, read_answers
from tests.evaluate.small_environment import SCOPE, bench, evaluate
from tests.fuzz.alterations import OF_A_FILE, ON_ONE_LINE, altered
from tests.fuzz.other_forms import of_forms
from tests.fuzz.sound import (
    ALL_PACKS,
    ANSWERS,
    ARGUMENTS,
    COMMANDS,
    CONDITIONS,
    IMPORT_MAP,
    NUMBERS,
    QUANTITIES,
    SHEETS,
    SOUND_PACKS,
    STUDY,
    TABLE,
    TAUGHT,
    WRAPPED,
    words_of,
    words_of_files,
)
from tests.output.small_screen import BASE
from tests.teaching.small_lessons import made

FILE = "e.sheet.yaml"


class Broken(AssertionError):
    """Something that has to hold of every input does not."""


class Input(NamedTuple):
    """What one attempt is made with, as plain data that can be shown and tried again."""

    kind: str
    text: str
    arguments: tuple[str, ...] = ()


def hold(whether: bool, what: str) -> None:
    """Raise Broken unless it is so."""
    if not whether:
        raise Broken(what)


# --- written numbers --------------------------------------------------------------------------------------------

UNITS = tuple(find_unit(name) for name in ("in", "mm", "thou", "C", "g", "cc", "deg"))
DIMENSIONS = (None, None, LENGTH, LENGTH, LENGTH, NUMBER, MASS, TEMPERATURE)


def a_number(draw: Random) -> Input:
    """A written number altered, and what is expected where it stands."""
    text = altered(draw.choice(NUMBERS), draw, words_of(*NUMBERS), ON_ONE_LINE)
    return Input("number", text, (str(draw.randint(-1, len(UNITS) - 1)), str(draw.randrange(len(DIMENSIONS)))))


def try_number(given: Input) -> str:
    """It is read, or refused with suggestions that read in the same place."""
    at, which = map(int, given.arguments)
    unit, dimension = UNITS[at] if at >= 0 else None, DIMENSIONS[which]
    assert unit is None or not isinstance(unit, Refusal)
    read = read_written(given.text, unit=unit, dimension=dimension)
    if isinstance(read, Exact):
        hold(read.value.is_finite() and read.place_value > 0, "a number without a size, or a place of nothing")
        hold(read.U is None or read.U > 0, "an uncertainty of nothing")
    elif isinstance(read, Bracket):
        hold(None in (read.low, read.high) or read.low < read.high, "a bracket with its ends exchanged")  # type: ignore[operator]
    elif isinstance(read, Refusal):
        hold(bool(read.said) and 0 <= read.at <= len(given.text), "a refusal of nothing, or at no place of the text")
        for write in filter(None, read.write.split(" or ")):
            again = read_written(write, unit=unit, dimension=dimension)
            hold(not isinstance(again, Refusal), f"a suggestion that is refused: {write!r}")
    return type(read).__name__.lower()


# --- formulas ---------------------------------------------------------------------------------------------------


def a_formula(draw: Random) -> Input:
    """A formula, or one about two of them, altered; of a kind and for stations that may suit it or not."""
    kind = draw.choice(("length", "length", "length", "quantity", "quantity", "quantity", "condition", "choice"))
    text = draw.choice(CONDITIONS if kind == "condition" else QUANTITIES)
    if draw.random() < 0.5:
        text = draw.choice(WRAPPED).format(text, draw.choice(QUANTITIES))
    if draw.random() < 0.7:
        text = altered(text, draw, words_of(*QUANTITIES, *CONDITIONS), ON_ONE_LINE)
    each = draw.choice((*[()] * 7, ("main",), ("cylinder",), ("cylinder", "ring")))
    return Input("formula", text, (kind, *each))


BENCH = bench(
    {
        "journal": {
            f"{main} {plane} {clock}": "2.4990 in" for main in "123" for plane in ("front", "rear") for clock in "ab"
        },
        "housing": {"1 front": "2.5010 in", "1 rear": "2.5011..2.5012 in"},
        "rod_bore": {"1": "2.1 in", "2": "over 2 in"},
        "bore": {"1 top": "4 in"},
        "x": "1.5 in",
        "y": "1.4 in",
        "z": "0.1..0.3 in",
        "n": "2",
        "runout": "0.001 in",
        "weight": {"1": "500 g"},
        "heat": {"1": "20 C", "2": "25 C"},
    },
    {"mains": "3", "ratio": "1.5", "stroke": "3.5 in", "slant": "90 deg", "use": "street", "alloy 1": "cast"},
    u=0.001,
)
STATION = {"main": "1", "cylinder": "1", "ring": "top"}


def try_formula(given: Input) -> str:
    """It is refused at a place of its own, or has a value, or a reason why it has none there."""
    asked, *each = given.arguments
    dimension = LENGTH if asked == "length" else None
    choices = ("critical", "major", "minor") if asked == "choice" else ()
    kind = {"condition": Kind.CONDITION, "choice": Kind.CHOICE}.get(asked, Kind.QUANTITY)
    read = read_formula(given.text, SCOPE, each=tuple(each), kind=kind, dimension=dimension, choices=choices)
    if not isinstance(read, Formula):
        hold(bool(read), "refused without a reason")
        for each_of in read:
            hold(bool(each_of.said) and 0 <= each_of.at <= len(given.text), "refused at no place of the text")
        return "refused"
    syntax_of(read)
    if kind is not Kind.QUANTITY:
        return "read"
    try:
        value = evaluate(read, BENCH, **{axis: STATION[axis] for axis in each})
    except NotEvaluable:
        return "without a value"
    if value is None:
        return "not measured"
    for end in filter(None, (value.low, value.high)):
        hold(end.value.is_finite(), "an infinite value")
        hold(all(abs(slope) < float("inf") for slope in end.slopes.values()), "an infinite slope")
    if value.low is not None and value.high is not None:
        hold(value.low.value <= value.high.value, "a range with its ends exchanged")
    return "evaluated"


# --- files, read in memory --------------------------------------------------------------------------------------


def a_sheet(draw: Random) -> Input:
    """A sheet altered."""
    return Input("sheet", altered(draw.choice(SHEETS), draw, words_of_files(), OF_A_FILE))


@cache
def workspace() -> Workspace:
    """One with the packs of the small trade, which keeps what it has compiled."""
    texts = {name: text.encode() for name, text in ALL_PACKS.items()}
    return Workspace(folders=(), plugins=False, texts=texts)


def try_sheet(given: Input) -> str:
    """It has faults, each at a line of it and with a sentence, or is judged, shown and recorded."""
    loaded = workspace().settle(given.text.encode("utf-8", "surrogatepass"), None, FILE)
    _are_faults(loaded.faults, given.text)
    hold((loaded.sheet is None) == bool(loaded.faults), "a sheet with faults, or none without")
    if loaded.sheet is None or loaded.spec is None:
        return "at fault"
    examined = Examination(loaded.sheet, loaded.spec)
    hold(bool(text_of(whole_screen(examined.report, examined.whole))), "an empty screen")
    kept = record_for(FILE, examined, (), "1")
    record = record_text(kept)
    hold(record_text(read_record(record)) == record, "a record that is not what it was when it is read again")
    for whether, what in of_forms(kept):
        hold(whether, what)
    return examined.report.verdict


def _are_faults(faults: tuple[Fault, ...], text: str) -> None:
    lines = text.count("\n") + 1  # line 0 stands for the whole file
    for fault in faults:
        hold(fault.place.file == FILE and 0 <= fault.place.line <= lines, f"at no line of the file: {fault}")
        hold(bool(fault.said) and len(fault.sentence()) < 2000, f"no sentence, or one that is too long: {fault}")


def a_study(draw: Random) -> Input:
    """A study of a gauge altered."""
    return Input("study", altered(STUDY, draw, words_of(STUDY), OF_A_FILE))


def try_study(given: Input) -> str:
    """It has faults, or is taken apart."""
    found, faults = read_study(given.text, FILE)
    _are_faults(faults, given.text)
    hold((found is None) == bool(faults), "a study with faults, or none without")
    if found is None:
        return "at fault"
    hold(bool(gauge_entry(found, analyse(found))), "no entry")
    return "taken apart"


def answers(draw: Random) -> Input:
    """A file of answers altered."""
    return Input("answers", altered(ANSWERS, draw, words_of(ANSWERS, *NUMBERS), ON_ONE_LINE))


POSED = cache(made)


def try_answers(given: Input) -> str:
    """It has faults, or every question is marked."""
    posed = POSED()
    written, faults = read_answers(given.text, FILE, len(posed.asked))
    if faults:
        return "at fault"
    hold(len(mark(posed, written.by_number)) == len(posed.asked), "a question without a mark")
    return "marked"


# --- whole commands ---------------------------------------------------------------------------------------------


def a_command(draw: Random) -> Input:
    """A command line, and one of its files, altered."""
    arguments = draw.choice(COMMANDS).split()
    for _ in range(draw.choice((0, 0, 1, 1, 2, 3))):
        at, what = draw.randint(0, len(arguments)), draw.randrange(4)
        if what == 0:
            del arguments[at : at + 1]
        elif what == 1:
            arguments[at : at + 1] = [draw.choice(ARGUMENTS)]
        elif what == 2:
            arguments.insert(at, draw.choice(ARGUMENTS))
        elif arguments:
            word = altered(draw.choice(arguments), draw, words_of(*COMMANDS), ON_ONE_LINE)
            arguments[at : at + 1] = [_as_passed(word).lstrip("/") or "-"]
    name, texts = draw.choice(
        (
            ("e.sheet.yaml", SHEETS),
            ("e.sheet.yaml", SHEETS),
            ("packs/house.pack.yaml", SOUND_PACKS),
            ("packs/house.pack.yaml", SOUND_PACKS),
            ("packs/taught.pack.yaml", (TAUGHT,)),
            ("e.study.yaml", (STUDY,)),
            ("e.answers.txt", (ANSWERS,)),
            ("e.table.csv", (TABLE,)),
            ("e.map.yaml", (IMPORT_MAP,)),
        )
    )
    text = draw.choice(texts)
    if draw.random() < 0.8:
        text = altered(text, draw, words_of_files(), OF_A_FILE)
    return Input("command", text, (name, *arguments))


def _as_passed(word: str) -> str:
    """A word as a process can be given it: bytes without a null, those that are no UTF-8 as surrogates."""
    return word.encode("utf-8", "surrogatepass").replace(b"\0", b"").decode("utf-8", "surrogateescape")


class Ran(NamedTuple):
    """What came of a command."""

    status: int
    out: str
    err: str


class Shop:
    """A folder with all files that the commands name, in which one is altered for each of them."""

    def __init__(self, folder: Path) -> None:
        """folder: an empty one, with room above it for what `..` may mean."""
        self.folder = folder / "a" / "b"
        self.sound = {
            **{f"packs/{name}.pack.yaml": text for name, text in ALL_PACKS.items()},
            "packs/house.pack.yaml": BASE.replace("name: base\n", "name: house\n"),
            "packs/taught.pack.yaml": TAUGHT,
            "e.sheet.yaml": SHEETS[0],
            "good.sheet.yaml": SHEETS[1],
            "e.study.yaml": STUDY,
            "e.answers.txt": ANSWERS,
            "e.table.csv": TABLE,
            "e.map.yaml": IMPORT_MAP,
        }
        (self.folder / "packs").mkdir(parents=True)
        for name, text in self.sound.items():
            (self.folder / name).write_text(text, encoding="utf-8")

    def attempt(self, given: Input) -> str:
        """It ends with a status that is written down, tells no traceback, and every file is what it was."""
        name, *arguments = given.arguments
        altered_file = self.folder / name
        altered_file.write_bytes(given.text.encode("utf-8", "surrogatepass"))
        before = self._files()
        try:
            ran = called(self.folder, arguments)
            after = self._files()
            changed = [str(path) for path, was in before.items() if after.get(path) != was]
            hold(not changed, f"lost or changed: {', '.join(changed)}")
            hold(ran.status in set(Status), f"a status that is written down nowhere: {ran.status}")
            hold("Traceback" not in ran.err + ran.out, "a traceback")
            told = ran.err or ran.out or after.keys() - before.keys()
            hold(ran.status != Status.FAULT or bool(told), "a fault that is not told")
        finally:
            for path in self._files().keys() - before.keys():
                path.unlink()
            altered_file.write_text(self.sound[name], encoding="utf-8")
        return f"status {ran.status}"

    def _files(self) -> dict[Path, bytes]:
        top = self.folder.parent.parent
        return {path: path.read_bytes() for path in top.rglob("*") if path.is_file()}


def called(folder: Path, arguments: list[str]) -> Ran:
    """A command as its process runs it, but here: what it does not foresee is raised."""
    with _streams() as (out, err), _in_folder(folder):
        status = run(arguments)
        out.flush()
        err.flush()
        said = [each.buffer.getvalue().decode("utf-8", "replace") for each in (out, err)]  # type: ignore[attr-defined]
    return Ran(status, *said)


@contextmanager
def _streams() -> Iterator[tuple[TextIOWrapper, TextIOWrapper]]:
    before = sys.stdin, sys.stdout, sys.stderr
    streams = [TextIOWrapper(BytesIO(), encoding="utf-8", newline="\n") for _ in range(3)]
    sys.stdin, sys.stdout, sys.stderr = streams
    try:
        yield streams[1], streams[2]
    finally:
        sys.stdin, sys.stdout, sys.stderr = before


@contextmanager
def _in_folder(folder: Path) -> Iterator[None]:
    before, debug = Path.cwd(), os.environ.get("SPECRULES_DEBUG")
    os.chdir(folder)
    os.environ["SPECRULES_DEBUG"] = "1"
    try:
        yield
    finally:
        os.chdir(before)
        del os.environ["SPECRULES_DEBUG"]
        if debug is not None:
            os.environ["SPECRULES_DEBUG"] = debug
