"""`specrules pack exercise`: the lessons of a pack, its exercises, and marks for the answers to them."""

from __future__ import annotations

import sys
from collections.abc import Mapping
from pathlib import Path

import click

from specrules.cli.status import Status
from specrules.cli.writing import COLOUR, NO_PLUGINS, READABLE, put_faults, put_lines
from specrules.document import Budget, Fault, Place
from specrules.effects.files import read, unreadable
from specrules.output.lines import Line, line
from specrules.pack import Specification, told_in
from specrules.quantity import LENGTH, Refusal, find_unit, nearest, using
from specrules.teaching import Mark, Outcome, Posed, mark, mark_one, pose, read_answers
from specrules.vocabulary import Code


@click.command()
@click.argument("name", metavar="PACK")
@click.argument("what", metavar="[NAME]", required=False)
@click.option("--seed", type=click.IntRange(0), default=None, help="New readings for the same questions.")
@click.option(
    "--answers",
    type=READABLE,
    default=None,
    help="Mark the answers in this file; - for what is piped in.",
)
@click.option("--unit", type=click.Choice(("in", "mm")), default=None, help="Of the lengths in a lesson's words.")
@click.option("--solve", is_flag=True, help="Show the answers and what each mistake shows.")
@click.option("--ask/--no-ask", default=None, help="Ask for answers, as it does at a terminal.")
@NO_PLUGINS
@COLOUR
def exercise(
    name: str,
    what: str | None,
    seed: int | None,
    answers: Path | None,
    unit: str | None,
    solve: bool,
    ask: bool | None,
    no_plugins: bool,
    colour: str,
) -> None:
    """Take a lesson or an exercise of a pack.

    \b
    specrules pack exercise teaching
    specrules pack exercise teaching subtracting --unit mm
    specrules pack exercise teaching hole_less_shaft --seed 7
    specrules pack exercise teaching hole_less_shaft --answers mine.txt

    Without a name it lists them. An exercise is answered at the terminal, or
    from a file with one answer a line (1: 0.0023). Ends with 0 where all is
    right or nothing was answered yet, 3 where something is open or wrong.
    """
    from specrules.cli.pack_commands import named, resolved  # which imports this module, to have the command
    from specrules.output.exercise_page import exercise_given, lesson_list, lesson_whole, question, solution

    asked, workspace = named(name, no_plugins)
    spec = resolved(workspace, (asked,), taught=True)
    if what is None:
        put_lines(list(lesson_list(spec, name)), None, colour)
        return
    if what in spec.lessons:
        lengths_in = find_unit(unit, dimension=LENGTH) if unit else spec.unit
        spec = spec if isinstance(lengths_in, Refusal) else told_in(spec, lengths_in)
        put_lines(list(lesson_whole(spec.lessons[what], spec)), None, colour)
        return
    if unit:
        raise click.UsageError("--unit is for the words of a lesson: an exercise is in the units of its readings")
    with using(workspace.plugged.units):
        posed = _posed(spec, what, seed)
    written = None if answers is None else _read(posed, answers)
    head = next(head for head in spec.packs if head.name == posed.exercise.pack)
    put_lines([*exercise_given(posed, head.caution), line()], None, colour)
    marks: tuple[Mark, ...] = ()
    if written is not None:
        marks = _marked(posed, written, colour)
    elif not solve and (sys.stdin.isatty() if ask is None else ask):
        marks = _typed(posed, colour)
    elif not solve:
        put_lines([row for n, each in enumerate(posed.asked, 1) for row in question(each, n)], None, colour)
    if solve:
        put_lines([line(), *solution(posed)] if marks else list(solution(posed)), None, colour)
    right = all(each.outcome is Outcome.RIGHT for each in marks)
    raise click.exceptions.Exit(Status.GO if right else Status.OPEN)


def _posed(spec: Specification, what: str, seed: int | None) -> Posed:
    if what not in spec.exercises:
        offered = nearest(what, (*spec.exercises, *spec.lessons))
        write = f"write {offered}" if offered else "leave the name out for a list of them"
        raise click.UsageError(f'"{what}" is no lesson and no exercise of this pack; {write}')
    posed, faults = pose(spec, what, seed)
    if posed is None:
        put_faults(faults)
        raise click.exceptions.Exit(Status.FAULT)
    return posed


def _read(posed: Posed, answers: Path) -> dict[int, str]:
    """The answers in a file, by the number of their question."""
    faults: tuple[Fault, ...]
    file = str(answers)
    try:
        text = read(answers, Budget().size).decode("utf-8-sig")
        written, faults = read_answers(text, file, len(posed.asked))
    except OSError as error:
        written, faults = {}, (Fault(Place(file, 0, 0), "", Code.UNREADABLE, unreadable(error), "", "file"),)
    except UnicodeDecodeError:
        written, faults = {}, (Fault(Place(file, 0, 0), "", Code.NOT_UTF_8, "is no text in UTF-8", "", "file"),)
    if faults:
        put_faults(faults)
        raise click.exceptions.Exit(Status.FAULT)
    return written


def _marked(posed: Posed, written: Mapping[int, str], colour: str) -> tuple[Mark, ...]:
    """Every question with the answer to it, marked."""
    from specrules.output.exercise_page import marked, question, tally

    marks = mark(posed, written)
    rows: list[Line] = []
    for asked, each in zip(posed.asked, marks, strict=True):
        rows += [*question(asked, each.number), *marked(each)]
    put_lines([*rows, line(), *tally(marks)], None, colour)
    return marks


def _typed(posed: Posed, colour: str) -> tuple[Mark, ...]:
    """One question after another, each marked as soon as it is answered; an empty answer leaves it open."""
    from specrules.output.exercise_page import marked, question, tally

    marks: list[Mark] = []
    for number, asked in enumerate(posed.asked, 1):
        put_lines(list(question(asked, number)), None, colour)
        answer: str = click.prompt("  ", prompt_suffix=" ", default="", show_default=False)
        marks.append(mark_one(asked, number, answer))
        put_lines(list(marked(marks[-1])), None, colour)
    put_lines([line(), *tally(marks)], None, colour)
    return tuple(marks)
