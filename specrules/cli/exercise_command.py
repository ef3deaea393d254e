"""`specrules pack exercise`: the lessons of a pack, its exercises, papers for a class, and marks."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Mapping
from pathlib import Path

import click

from specrules.cli.asked_names import named, resolved
from specrules.cli.status import Status
from specrules.cli.writing import (
    COLOUR,
    NO_PLUGINS,
    OUT,
    READABLE,
    REPLACE,
    end_at_fault,
    put_faults,
    put_lines,
    put_page,
    put_text,
    report_file,
)
from specrules.document import Budget, Fault, Place
from specrules.effects.files import WholeFile, read, unreadable
from specrules.output.lines import Line, line
from specrules.output.marks import CLASS
from specrules.output.terminal import put
from specrules.pack import Specification, told_in
from specrules.quantity import LENGTH, Refusal, find_unit, nearest, using
from specrules.teaching import Answers, Mark, Marked, Posed, alike, mark, mark_one, points, pose, read_answers
from specrules.teaching import papers as papers_of
from specrules.vocabulary import Code

MOST_PAPERS = 500
HELP = "?"
"""What asks for the hint of a question, in place of an answer."""
NEXT_PAGE = "\f"


@click.command()
@click.argument("name", metavar="PACK")
@click.argument("what", metavar="[NAME]", required=False)
@click.option("--seed", type=click.IntRange(0), default=None, help="New readings for the same questions.")
@click.option(
    "--answers",
    type=READABLE,
    default=None,
    help="Mark the answers in this file, or of each .txt in this folder; - for what is piped in.",
)
@click.option("--papers", type=click.IntRange(1, MOST_PAPERS), default=None, metavar="N", help="Papers, and their key.")
@click.option("--hints", is_flag=True, help="Print the hints on the papers too.")
@click.option(
    "--form", type=click.Choice(("console", "csv", "page")), default="console", help="Of the marks of a folder."
)
@click.option("--unit", type=click.Choice(("in", "mm")), default=None, help="Of the lengths in a lesson's words.")
@click.option("--solve", is_flag=True, help="Show the answers and what each mistake shows.")
@click.option("--ask/--no-ask", default=None, help="Ask for answers, as it does at a terminal.")
@OUT
@REPLACE
@NO_PLUGINS
@COLOUR
def exercise(
    name: str,
    what: str | None,
    seed: int | None,
    answers: Path | None,
    papers: int | None,
    hints: bool,
    form: str,
    unit: str | None,
    solve: bool,
    ask: bool | None,
    out: Path | None,
    replace: bool,
    no_plugins: bool,
    colour: str,
) -> None:
    """
    \b
    specrules pack exercise teaching
    specrules pack exercise teaching subtracting --unit mm
    specrules pack exercise teaching hole_less_shaft --seed 7
    specrules pack exercise teaching hole_less_shaft --answers mine.txt
    specrules pack exercise teaching hole_less_shaft --papers 24
    specrules pack exercise teaching hole_less_shaft --answers class/
    specrules pack exercise teaching hole_less_shaft --answers class/ --form page

    Without a name it lists them. An exercise is answered at the terminal, where
    ? asks for a hint, or from a file with one answer a line (1: 0.0023), and
    paper: 3 where it is of a paper. Ends with 0 where all is right or nothing
    was answered yet, 3 where something is open or wrong.
    """
    from specrules.output.exercise_page import exercise_given, lesson_list, lesson_whole, question, solution

    asked, workspace = named(name, no_plugins)
    spec = resolved(workspace, (asked,), taught=True)
    if what is None:
        put_lines(lesson_list(spec, name), colour)
        return
    if what in spec.lessons:
        lengths_in = find_unit(unit, dimension=LENGTH) if unit else spec.unit
        spec = spec if isinstance(lengths_in, Refusal) else told_in(spec, lengths_in)
        put_lines(lesson_whole(spec.lessons[what], spec), colour)
        return
    if unit:
        raise click.UsageError("--unit is for the words of a lesson: an exercise is in the units of its readings")
    folder = answers is not None and answers.is_dir()
    if papers and (answers or solve):
        raise click.UsageError("--papers prints papers and their key; leave out --answers and --solve")
    if (hints and not papers) or ((form != "console" or out) and not folder):
        raise click.UsageError("--hints is for --papers, and --form and --out for the --answers of a folder")
    with using(workspace.plugged.units):
        if papers:
            _papers(spec, what, seed or 1, papers, hints, colour)
            return
        if folder and answers is not None:

            def inputs() -> Iterator[Path]:
                yield from answers.glob("*.txt")
                yield from workspace.pack_paths(Path.cwd())

            head = CLASS if form == "console" else ""
            with report_file(out, inputs, replace, head) as file:
                status = _class(spec, what, seed, answers, form, colour, file)
            raise click.exceptions.Exit(status)
        posed = _posed(spec, what, seed)
        written = None
        if answers is not None:
            written = _read(posed, answers)
            if written.paper is not None and written.paper != seed:
                if seed is not None:
                    raise click.UsageError(f"--seed {seed}: {answers} is of paper {written.paper}; leave --seed out")
                posed = _posed(spec, what, written.paper)
    put_lines([*exercise_given(posed, _caution(spec, posed)), line()], colour)
    marks: tuple[Mark, ...] = ()
    if written is not None:
        marks = _marked(posed, written.by_number, colour)
    elif not solve and (sys.stdin.isatty() if ask is None else ask):
        marks = _typed(posed, colour)
    elif not solve:
        put_lines([row for n, each in enumerate(posed.asked, 1) for row in question(each, n)], colour)
    if solve:
        put_lines([line(), *solution(posed)] if marks else list(solution(posed)), colour)
    raise click.exceptions.Exit(Status.GO if points(marks) == len(marks) else Status.OPEN)


def _unless_an_exercise(spec: Specification, what: str) -> None:
    if what not in spec.exercises:
        offered = nearest(what, (*spec.exercises, *spec.lessons))
        write = f"write {offered}" if offered else "leave the name out for a list of them"
        raise click.UsageError(f'"{what}" is no lesson and no exercise of this pack; {write}')


def _posed(spec: Specification, what: str, seed: int | None) -> Posed:
    _unless_an_exercise(spec, what)
    posed, faults = pose(spec, what, seed)
    if posed is None:
        end_at_fault(faults)
    return posed


def _caution(spec: Specification, posed: Posed) -> str:
    return spec.head(posed.exercise.pack).caution


def _papers(spec: Specification, what: str, first: int, number: int, hints: bool, colour: str) -> None:
    """Papers whose readings and verdicts differ, by their number as the seed, and then the key; each begins a page."""
    from specrules.output.class_sheet import key, likeness, paper

    _unless_an_exercise(spec, what)
    every, faults = papers_of(spec, what, first, number)
    if not every:
        end_at_fault(faults)
    pages = [list(paper(posed, posed.seed or 0, _caution(spec, posed), hints)) for posed in every]
    pages += [list(key(posed, posed.seed or 0)) for posed in every]
    for at, page in enumerate(pages):
        if at and sys.stdout.isatty():
            put_lines([line()], colour)
        elif at:
            put_text(NEXT_PAGE)
        put_lines(page, colour)
    put(list(likeness(alike(every))), sys.stderr)


def _class(
    spec: Specification, what: str, seed: int | None, folder: Path, form: str, colour: str, out: WholeFile | None
) -> Status:
    """The marks of all answers in a folder. A file at fault is told, and keeps no other from being marked."""
    from specrules.output.class_page import page_of_marks
    from specrules.output.class_sheet import marks_sheet, marks_table

    posed = {seed: _posed(spec, what, seed)}
    marked: list[Marked] = []
    faults: list[Fault] = []
    for path in sorted(folder.glob("*.txt")):
        answers, wrong = _answers(path, len(posed[seed].asked))
        number = seed if answers.paper is None else answers.paper
        if not wrong and answers.paper is None and seed is None and posed[seed].exercise.vary:
            said, write = "does not say which paper it is of", "paper: 3 at its head, or --seed for all of them"
            wrong = (Fault(Place(str(path), 0, 0), "answers", Code.MISSING_KEY, said, write),)
        faults += wrong
        if not wrong:
            if number not in posed:
                posed[number] = _posed(spec, what, number)
            name = " ".join(answers.name.split()) or path.stem
            marked.append(Marked(name, path.name, number, mark(posed[number], answers.by_number)))
    if not marked and not faults:
        faults.append(Fault(Place(str(folder), 0, 0), "", Code.EMPTY_FILE, "holds no .txt with answers", "", "file"))
    put_faults(faults)
    if form == "csv":
        put_text(marks_table(what, marked), out)
    elif form == "page":
        put_page(page_of_marks(posed[seed].exercise, marked, [fault.sentence() for fault in faults]), out)
    elif marked:
        put_lines(marks_sheet(posed[seed].exercise.title, marked), colour, out)
    right = all(points(each.marks) == len(each.marks) for each in marked)
    return Status.FAULT if faults else Status.GO if right else Status.OPEN


def _answers(path: Path, questions: int) -> tuple[Answers, tuple[Fault, ...]]:
    """The answers in a file, and what is wrong with it."""
    file = str(path)
    try:
        return read_answers(read(path, Budget().size).decode("utf-8-sig"), file, questions)
    except OSError as error:
        fault = Fault(Place(file, 0, 0), "", Code.UNREADABLE, unreadable(error), "", "file")
    except UnicodeDecodeError:
        fault = Fault(Place(file, 0, 0), "", Code.NOT_UTF_8, "is no text in UTF-8", "", "file")
    return Answers("", None, {}), (fault,)


def _read(posed: Posed, path: Path) -> Answers:
    answers, faults = _answers(path, len(posed.asked))
    if faults:
        end_at_fault(faults)
    return answers


def _marked(posed: Posed, written: Mapping[int, str], colour: str) -> tuple[Mark, ...]:
    """Every question with the answer to it, marked."""
    from specrules.output.exercise_page import marked, question, tally

    marks = mark(posed, written)
    rows: list[Line] = []
    for asked, each in zip(posed.asked, marks, strict=True):
        rows += [*question(asked, each.number), *marked(each)]
    put_lines([*rows, line(), *tally(marks)], colour)
    return marks


def _typed(posed: Posed, colour: str) -> tuple[Mark, ...]:
    """One question after another, each marked as soon as it is answered; an empty answer leaves it open."""
    from specrules.output.exercise_page import hint, marked, question, tally

    marks: list[Mark] = []
    for number, asked in enumerate(posed.asked, 1):
        put_lines(question(asked, number), colour)
        for answer in iter(_prompted, None):
            if answer.strip() != HELP:
                break
            put_lines(hint(asked), colour)
        marks.append(mark_one(posed, answer, marks))
        put_lines(marked(marks[-1]), colour)
    put_lines([line(), *tally(marks)], colour)
    return tuple(marks)


def _prompted() -> str:
    answer: str = click.prompt("  ", prompt_suffix=" ", default="", show_default=False)
    return answer
