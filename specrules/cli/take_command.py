"""`specrules sheet take`: one place after another is asked for, and each reading is in the sheet before the next."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator, Sequence
from datetime import date
from pathlib import Path
from typing import TypeAlias

import click

from specrules.cli.asked_names import unless_known, workspace_for
from specrules.cli.sheet_on_disk import SheetOnDisk, Taken
from specrules.cli.typed_lines import TypedLines
from specrules.cli.writing import ADD, COLOUR, NO_PLUGINS, READABLE, put_lines, quoted
from specrules.document import shown
from specrules.document.replacing import written
from specrules.inspection.evidence import read_after
from specrules.output.lines import Line, folded
from specrules.output.taking_lines import (
    beginning,
    came_of_it,
    doubted,
    ended,
    entered,
    helping,
    question,
    station,
    thing,
    where,
)
from specrules.pack import SignOff, Specification
from specrules.pack.needing import covered_by_job
from specrules.quantity import Refusal
from specrules.sheet.cells import Cell, Spot, WorkStep, facts_to_place, in_order_of_work
from specrules.sheet.entering import Said, one_or_list, with_figure, with_repeat, with_said, with_superseded
from specrules.sheet.expected_sizes import expected_size
from specrules.sheet.typed_figures import SIZE, figure

WORD = 12
"""The most letters of the initials that confirm a reading."""


OF_THE_LAST = {"r": "repeats", "c": "confirmed", "w": "because"}
"""What is said of the last reading, and where in the sheet that stands."""
NOTHING_YET: tuple[str, tuple[str, ...]] = ("", ())
"""What is measured, and at which station, before anything is."""
SIGNING = "y or n, and the initials of whose word it is, as y AB; Enter for later"
Entering: TypeAlias = Callable[[str, Cell, str], str | None]
"""An edit: a sheet with a figure entered at a cell; None where that cannot be."""


@click.command()
@click.argument("sheet", type=READABLE)
@ADD
@click.option("--only", multiple=True, metavar="NAME", help="What to measure now; else all that the job needs.")
@click.option("--until", metavar="HOLD_POINT", default="", help="How far the job goes now; else as the sheet says.")
@click.option("--again", is_flag=True, help="Ask for what is read already too; what stood there is kept beside it.")
@NO_PLUGINS
@COLOUR
def take(
    sheet: Path, add: tuple[str, ...], only: tuple[str, ...], until: str, again: bool, no_plugins: bool, colour: str
) -> None:
    """
    \b
    specrules sheet take engine.sheet.yaml
    specrules sheet take engine.sheet.yaml --only main_journal --only rod_journal

    Each reading is judged at once and is in the sheet before the next is asked
    for; nothing else of the sheet changes. What is read already is asked for
    only where work has changed it since, or where it looks like a slip; what
    stood there before is kept beside it. Of a size that was said once, =54.988,
    the last digits are enough.
    """
    file = SheetOnDisk(sheet, workspace_for(no_plugins), add)
    now = file.now
    unless_known(now.spec, file.name, only, until)
    job = covered_by_job(now.spec, now.sheet.scope, until or now.sheet.until)
    steps = _steps(now, job, only, again)
    wanted = [each for each in steps if isinstance(each, Cell)]
    stands = sum(each.given for each in wanted)
    measured = [now.spec.measurands[name] for name in only or job.measurands]
    unknown = facts_to_place(now.spec, now.sheet, measured)
    put_lines(beginning(len(wanted), stands, unknown, str(sheet)), colour)
    taking = Taking(file, steps, colour)
    taken = taking.run()
    left = sum(not taking.done(each) for each in wanted)
    put_lines(ended(taken, left, quoted(sheet)), colour)


def _steps(now: Taken, job: Specification, only: Sequence[str], again: bool) -> list[WorkStep]:
    """What is to be read and signed, in the order of the work. What holds a figure, or is answered, is left out, but
    for a figure that is to be read again."""
    named, stale = only or job.measurands, now.stale

    def is_wanted(cell: Cell) -> bool:
        return not cell.given or again or cell.spot in stale or doubted(now.report, cell)

    wanted = [each for each in now.cells if each.measurand.name in named and is_wanted(each)]
    asked = {state.name for state in now.report.sign_offs if state.state in ("missing", "stale")}
    signed = [] if only else [each for each in job.sign_offs.values() if each.name in asked]
    return in_order_of_work(wanted, signed, now.spec.groups)


def _measured(step: WorkStep) -> str:
    return "" if isinstance(step, SignOff) else step.measurand.name


def _initials(text: str) -> bool:
    return text.isalpha() and text.isascii() and len(text) <= WORD


class Taking:
    """The questions and answers of one session."""

    def __init__(self, file: SheetOnDisk, steps: Sequence[WorkStep], colour: str) -> None:
        self.file, self.steps, self.colour = file, steps, colour
        self.sizes: dict[str, str] = {}
        self.last: Cell | None = None
        self.lines = TypedLines()
        self.mine: dict[Spot, object] = {}  # what stands where something was typed in this session
        self.taken = 0

    def run(self) -> int:
        """Ask for one step after another, until all are done or the answers end. How many readings were entered."""
        at, told = 0, NOTHING_YET
        while at < len(self.steps):
            step = self.steps[at]
            if isinstance(step, SignOff):
                self._put(question(step))
                prompt, told = f"{SIGNING}: ", NOTHING_YET
            else:
                if step.spot[:2] != told:
                    self._put(self.screen(step, at, told[0] != step.measurand.name))
                    told = step.spot[:2]
                now = self.file.now.cell(step)
                prompt = where(now, "" if self.done(step) else self._work_since(step))
            answer = self._asked(prompt)
            if answer is None or answer == "q":
                break
            ahead = self._answered(answer, at)
            at = max(at + ahead, 0)
            while ahead > 0 and at < len(self.steps) and self._read_elsewhere(self.steps[at]):
                at += 1
        return self.taken

    def screen(self, cell: Cell, at: int, begins: bool) -> Iterator[Line]:
        """What to measure now, where, and what is known of it; `begins`: something else was measured before."""
        now, unit = self.file.now, cell.unit.symbol if cell.unit else ""
        if begins:
            yield from thing(cell.measurand, unit)
        size = expected_size(cell, now.sheet, now.spec, now.stale)
        there = [each for each in now.cells if each.spot[:2] == cell.spot[:2]]
        cells = [number for number, step in enumerate(self.steps) if isinstance(step, Cell)]
        yield from station(cell, unit, size, there, f"{cells.index(at) + 1} of {len(cells)}", begins)

    def _work_since(self, cell: Cell) -> str:
        """The work since a reading was taken, as it is called; "" where there was none."""
        name = self.file.now.stale.get(cell.spot, "")
        return self.file.now.spec.operations[name].title or name if name else ""

    def done(self, cell: Cell) -> bool:
        """Whether a figure stands in a cell that was asked for, and is not the one that was to be read again."""
        now = self.file.now.cell(cell)
        return now.given and (not cell.given or now.stands != cell.stands)

    def _read_elsewhere(self, step: WorkStep) -> bool:
        """Whether somebody else has read it since this session began."""
        return isinstance(step, Cell) and self.done(step) and step.spot not in self.mine

    def _is_mine(self, cell: Cell) -> bool:
        return cell.spot in self.mine and self.mine[cell.spot] == self.file.now.cell(cell).stands

    def _asked(self, prompt: str) -> str | None:
        """What is typed; None where nothing more comes."""
        click.echo(prompt, nl=False)
        sys.stdout.flush()
        return self.lines.next()

    def _answered(self, answer: str, at: int) -> int:
        """Do what an answer asks for. How far the next step is from this one."""
        step = self.steps[at]
        command, _, rest = answer.partition(" ")
        if answer == "":
            return 1
        if answer == "b":
            return -1
        if answer == "?":
            self._put(helping())
        elif isinstance(step, SignOff):
            return self._signed(step, command, rest)
        elif answer == "n":
            return self._to_the_next(at)
        elif answer.startswith("="):
            self._said_size(step, answer[1:].strip())
        elif command in OF_THE_LAST:
            return self._of_the_last(command, rest, step)
        else:
            return self._read(step, answer)
        return 0

    def _signed(self, sign_off: SignOff, command: str, initials: str) -> int:
        """Sign a question, yes or no; it is asked again where the answer is neither."""
        if command not in ("y", "n") or not _initials(initials):
            self._put(folded(f"{SIGNING}.", 2))
            return 0
        refused = self.file.sign(sign_off, initials, command == "y")
        self._put(folded(f"Not written: {refused}.", 2, style="bad") if refused else iter(()))
        return 0 if refused else 1

    def _to_the_next(self, at: int) -> int:
        name = _measured(self.steps[at])
        rest = (number for number, each in enumerate(self.steps[at:]) if _measured(each) != name)
        return next(rest, len(self.steps) - at)

    def _of_the_last(self, command: str, rest: str, asked: Cell) -> int:
        """What is said of the last reading: of the place that is asked for, where the figure there is this session's
        or, to be confirmed, looks like a slip."""
        here = self._is_mine(asked) or (command == "c" and doubted(self.file.now.report, asked))
        cell = asked if here else self.last
        if cell is None:
            self._put(folded(f"{command} is about the last reading, and there is none yet.", 2))
        elif command == "r":
            return int(self._enter(cell, rest, with_repeat) and here and self._finished(cell))
        elif command == "c" and not _initials(rest):
            self._put(folded("Whose word is it? c and the initials, as c AB.", 2))
        elif not rest:
            self._put(folded("What is there to say of it? w and the words, as w a nick beside it.", 2))
        else:
            said = {OF_THE_LAST[command]: written(rest)}
            is_in = self._put_in(cell, lambda text, there: with_said(text, there, said))
            return int(command == "c" and is_in and here and self._finished(cell))
        return 0

    def _read(self, cell: Cell, answer: str) -> int:
        """Enter a figure; the same cell once more where it is to be read several times, looks wrong or was refused.

        A figure that was typed just now is written over; one that stood there before this session, or before work, or
        on somebody's word, is kept beside the new one."""
        now = self.file.now.cell(cell)
        dated = self._dated(cell)
        if not now.given:
            is_in = self._enter(cell, answer, lambda text, there, new: with_figure(text, there, new, dated))
        elif not self._is_mine(cell) or cell.spot in self.file.now.stale or (now.written and now.written.own.confirmed):
            said = {**self._today(), **dated}
            is_in = self._enter(cell, answer, lambda text, there, new: with_superseded(text, there, [new], said), True)
        else:
            over = self._finished(cell) or doubted(self.file.now.report, now)
            is_in = self._enter(cell, answer, with_figure if over else with_repeat)
        return int(is_in and self._finished(cell))

    def _finished(self, cell: Cell) -> bool:
        """Whether it is read as often as it is to be, and nothing of it looks like a slip."""
        now = self.file.now.cell(cell)
        often = now.written is None or len(now.written.texts) >= cell.measurand.repeats
        return often and not doubted(self.file.now.report, now)

    def _dated(self, cell: Cell) -> Said:
        """When it was read, where work has touched what is read; else that is as the sheet says."""
        after = read_after(cell.measurand.name, cell.station, date.today(), self.file.now.sheet, self.file.now.spec)
        if after is None:
            return {}
        named = {"after": one_or_list(after)} if after else {}
        return {**self._today(), **named}

    def _today(self) -> Said:
        return {"taken": f"{date.today():%Y-%m-%d}"}

    def _enter(self, cell: Cell, answer: str, edit: Entering, keeps: bool = False) -> bool:
        size, unit = self.sizes.get(cell.measurand.name, ""), cell.unit
        found = figure(answer, size, unit, cell.measurand.unit.dimension)
        if isinstance(found, Refusal):
            write = f"; write {found.write}" if found.write else ""
            self._put(folded(f"{shown(answer)} {found.said}{write}.", 2, style="doubt"))
            return False
        if not self._put_in(cell, lambda text, there: edit(text, there, found), keeps):
            return False
        self.taken += 1
        self.last = cell
        return True

    def _put_in(self, cell: Cell, edit: Callable[[str, Cell], str | None], keeps: bool = False) -> bool:
        before = self.file.now.report
        refused = self.file.enter(cell, edit, keeps)
        if refused:
            self._put(folded(f"Not written: {refused.rstrip('.')}.", 2, style="bad"))
            return False
        now = self.file.now.cell(cell)
        self.mine[cell.spot] = now.stands
        if now.written is not None:
            self._put(entered(", ".join(now.written.texts), now.unit.symbol if now.unit else ""))
        self._put(came_of_it(before, self.file.now.report, now))
        return True

    def _said_size(self, cell: Cell, size: str) -> None:
        if size and not SIZE.fullmatch(size):
            self._put(folded("A size is a plain number with a point, as =54.988; = alone forgets it.", 2))
            return
        self.sizes[cell.measurand.name] = size

    def _put(self, lines: Iterator[Line]) -> None:
        put_lines(lines, self.colour)
