"""Mutation testing: small changes to the program, each of which some test has to notice.

    python -m tests.mutation --package quantity --sample 40 --seed 1
    python -m tests.mutation --file specrules/inspection/digits.py          every mutant of one module
    python -m tests.mutation --file specrules/inspection/digits.py --line 40

A mutant changes one comparison, operator, number, condition, returned value or call of a module. It is tried in a copy
of the tree: first with the tests that are named like the module, then with the first lane of the folders that stand by
its package, and it is killed as soon as a test fails, and fails again when it is run alone: other work on the machine
kills nothing. What survives is printed with its file, line and change: either a test is lacking, or the change changes
nothing that anybody can see.
"""

from __future__ import annotations

import argparse
import ast
import os
import re
import resource
import shutil
import signal
import sys
import tempfile
import time
from collections.abc import Iterable, Iterator, Sequence
from enum import Enum
from pathlib import Path
from random import Random
from typing import NamedTuple

ROOT = Path(__file__).parent.parent
BESIDE = {
    "quantity": ("quantity", "reference/test_units.py"),
    "document": ("document", "validation"),
    "formula": ("formula", "evaluate", "packs/test_language_reference.py"),
    "trade": ("trade", "reference"),
    "pack": ("pack", "proving", "packs", "inspection"),
    "sheet": ("sheet", "teaching", "schemas", "inspection"),
    "plan": ("plan", "effects"),
    "evaluate": ("evaluate", "formula", "reference", "inspection"),
    "inspection": ("inspection", "output", "cases", "reference/test_conformity.py", "test_api.py"),
    "record": ("record", "output"),
    "output": ("output", "document/test_safe_text.py", "cli/test_other_commands.py"),
    "cli": ("cli",),
}
"""Package -> what of the tests speaks of it, likeliest first; of another one its own folder."""
LONGEST = 300
"""Seconds of the processor after which a mutant is said to run for ever, which is noticed too."""
PATIENCE = 1800
"""Seconds of the clock after which nobody waits on; nothing is known then, since other work may be why."""

SWAPPED: dict[type[ast.AST], tuple[type[ast.AST], ...]] = {
    ast.Lt: (ast.LtE, ast.Gt),
    ast.LtE: (ast.Lt, ast.GtE),
    ast.Gt: (ast.GtE, ast.Lt),
    ast.GtE: (ast.Gt, ast.LtE),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
    ast.Add: (ast.Sub,),
    ast.Sub: (ast.Add,),
    ast.Mult: (ast.Div,),
    ast.Div: (ast.Mult,),
    ast.FloorDiv: (ast.Mult,),
    ast.Mod: (ast.Mult,),
    ast.Pow: (ast.Mult,),
    ast.BitOr: (ast.BitAnd,),
    ast.BitAnd: (ast.BitOr,),
    ast.And: (ast.Or,),
    ast.Or: (ast.And,),
    ast.USub: (ast.UAdd,),
}
CALLS = {"min": "max", "max": "min", "any": "all", "all": "any"}


class Outcome(Enum):
    """What came of a mutant."""

    KILLED = "killed"
    SURVIVES = "SURVIVES"
    UNKNOWN = "NOT KNOWN"


class Mutant(NamedTuple):
    """One change: the file from the root of the tree, its line, what stood there, what stands there now, all of it."""

    file: str
    line: int
    was: str
    becomes: str
    text: str

    def said(self) -> str:
        """It as a line to print."""
        return f"{self.file}:{self.line}: {_short(self.was)}  ->  {_short(self.becomes)}"


def mutants(file: str, text: str) -> list[Mutant]:
    """Every mutant of a module, in the order of its lines."""
    tree = ast.parse(text)
    starts = [0]
    for row in text.encode().splitlines(keepends=True):
        starts.append(starts[-1] + len(row))
    made = []
    for node, others in _changes(tree):
        for other in others:
            start = starts[node.lineno - 1] + node.col_offset
            end = starts[(node.end_lineno or node.lineno) - 1] + (node.end_col_offset or 0)
            was, becomes = text.encode()[start:end].decode(), ast.unparse(other)
            if isinstance(node, ast.expr):
                becomes = f"({becomes})"
            whole = (text.encode()[:start] + becomes.encode() + text.encode()[end:]).decode()
            made.append(Mutant(file, node.lineno, was, becomes, whole))
    return sorted(made, key=lambda mutant: mutant.line)


def _changes(tree: ast.AST) -> Iterator[tuple[ast.expr | ast.stmt, Iterable[ast.AST]]]:
    """Every place that may be written anew, with all that may stand there instead."""
    for node in _seen(tree):
        if isinstance(node, ast.If):
            yield node.test, (ast.Constant(False), ast.Constant(True))
        elif isinstance(node, ast.While):
            yield node.test, (ast.Constant(False),)
        else:
            yield node, _others(node)


def _seen(tree: ast.AST) -> Iterator[ast.expr | ast.stmt]:
    """Nodes that run and say something: no annotations, documentation, decorators, imports or texts put together."""
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.Import | ast.ImportFrom | ast.JoinedStr | ast.arguments):
            continue
        if isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test):
            continue
        if isinstance(node, ast.AnnAssign):
            if node.value is not None:
                yield from _seen(ast.Expression(node.value))
            continue
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            for inner in node.body:
                yield from _seen(ast.Module([inner], []))
            continue
        if isinstance(node, ast.expr | ast.stmt):
            yield node
        yield from _seen(node)


def _others(node: ast.AST) -> Iterator[ast.AST]:
    """What may stand instead of a node."""
    if isinstance(node, ast.Compare) and len(node.ops) == 1:
        for op in SWAPPED.get(type(node.ops[0]), ()):
            yield ast.Compare(node.left, [op()], node.comparators)  # type: ignore[list-item]
    elif isinstance(node, ast.BinOp):
        for op in SWAPPED.get(type(node.op), ()):
            yield ast.BinOp(node.left, op(), node.right)  # type: ignore[arg-type]
    elif isinstance(node, ast.BoolOp):
        for op in SWAPPED[type(node.op)]:
            yield ast.BoolOp(op(), node.values)  # type: ignore[arg-type]
        yield from (_joined(node, node.values[:at] + node.values[at + 1 :]) for at in range(len(node.values)))
    elif isinstance(node, ast.UnaryOp):
        yield node.operand
    elif isinstance(node, ast.Constant):
        if isinstance(node.value, bool):
            yield ast.Constant(not node.value)
        elif isinstance(node.value, int | float):
            yield ast.Constant(node.value + 1)
    elif isinstance(node, ast.IfExp):
        yield from (node.body, node.orelse)
    elif isinstance(node, ast.ListComp | ast.SetComp | ast.GeneratorExp):
        for at, part in enumerate(node.generators):
            if part.ifs:
                bare = ast.comprehension(part.target, part.iter, [], 0)
                yield type(node)(node.elt, [*node.generators[:at], bare, *node.generators[at + 1 :]])
    elif isinstance(node, ast.Return):
        if node.value is not None and not (isinstance(node.value, ast.Constant) and node.value.value is None):
            yield ast.Return(ast.Constant(None))
    elif isinstance(node, ast.Raise | ast.AugAssign) or (
        isinstance(node, ast.Expr) and isinstance(node.value, ast.Call)
    ):
        yield ast.Pass()
    elif isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in CALLS:
        yield ast.Call(ast.Name(CALLS[node.func.id]), node.args, node.keywords)


def _joined(node: ast.BoolOp, values: Sequence[ast.expr]) -> ast.expr:
    return values[0] if len(values) == 1 else ast.BoolOp(node.op, list(values))


def steps(file: str) -> list[list[str]]:
    """The tests that a mutant of this file has to get past: those named like it, then those of its package."""
    module = Path(file)
    package = module.parts[1]
    beside = [f"tests/{each}" for each in BESIDE.get(package, (package,)) if (ROOT / "tests" / each).exists()]
    words = set(re.findall(r"[a-z]{3,}", module.stem))
    own = sorted((ROOT / "tests" / package).glob("test_*.py"))
    alike = [str(path.relative_to(ROOT)) for path in own if words & set(re.findall(r"[a-z]{3,}", path.stem))]
    return [alike, *([each] for each in beside)] if alike else [[each] for each in beside]


class Copy:
    """A copy of the tree in which one mutant stands at a time."""

    def __init__(self, folder: Path) -> None:
        """folder: an empty one."""
        self.tree, self._failed = folder / "tree", folder / "failed"
        kept = shutil.ignore_patterns(".git", "__pycache__", ".venv*", ".mypy_cache", ".ruff_cache", ".hypothesis")
        shutil.copytree(ROOT, self.tree, ignore=kept)

    def outcome(self, mutant: Mutant) -> Outcome:
        """Whether a test notices it. The bytecode of the sound file is older, and so not taken for this one's."""
        path = self.tree / mutant.file
        sound, was = path.read_text(encoding="utf-8"), path.stat()
        path.write_text(mutant.text, encoding="utf-8")
        try:
            for step in steps(mutant.file):
                found = self._noticed(step)
                if found is not Outcome.SURVIVES:
                    return found
            return Outcome.SURVIVES
        finally:
            path.write_text(sound, encoding="utf-8")
            os.utime(path, ns=(was.st_atime_ns, was.st_mtime_ns))

    def _noticed(self, step: Sequence[str]) -> Outcome:
        """Killed where one of the tests fails and, run alone, fails again."""
        left_out: list[str] = []
        while True:
            found, test = self.tests([*step, *(f"--deselect={each}" for each in left_out)], sound=False)
            if found is not Outcome.KILLED or not test:
                return found
            again, _ = self.tests([test], sound=False)
            if again is not Outcome.SURVIVES:
                return again
            left_out.append(test)

    def fails(self, tests: Sequence[str]) -> bool:
        """Whether one of these tests fails without any mutant."""
        return self.tests(tests, sound=True)[0] is not Outcome.SURVIVES

    def tests(self, asked: Sequence[str], sound: bool) -> tuple[Outcome, str]:
        """What comes of these tests, in a process that has the libraries already and nothing of the program.

        With it the first that fails; none where they cannot even be collected, or never end.
        """
        self._failed.unlink(missing_ok=True)
        child = os.fork()
        if not child:
            os._exit(self._tested(asked, sound))
        start = time.monotonic()
        while time.monotonic() - start < PATIENCE:
            ended, status = os.waitpid(child, os.WNOHANG)
            if ended:
                test = self._failed.read_text(encoding="utf-8") if self._failed.exists() else ""
                return (Outcome.KILLED if status else Outcome.SURVIVES), test
            time.sleep(0.05)
        os.killpg(child, signal.SIGKILL)
        os.waitpid(child, 0)
        return Outcome.UNKNOWN, ""

    def _tested(self, asked: Sequence[str], sound: bool) -> int:
        os.setsid()
        resource.setrlimit(resource.RLIMIT_CPU, (LONGEST, LONGEST))
        os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
        os.dup2(1, 2)
        os.chdir(self.tree)
        sys.dont_write_bytecode = not sound
        for name in [name for name in sys.modules if name.partition(".")[0] in ("tests", "specrules")]:
            del sys.modules[name]
        sys.path[:] = [str(self.tree), *(each for each in sys.path if Path(each or ".").resolve() != ROOT)]
        import pytest

        failed = self._failed

        class FirstFailure:
            def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
                if report.failed and not failed.exists():
                    failed.write_text(report.nodeid, encoding="utf-8")

        return int(pytest.main(["-x", "-q", "-p", "no:cacheprovider", *asked], plugins=[FirstFailure()]))


def of_package(package: str) -> list[Mutant]:
    """Every mutant of a package."""
    paths = sorted((ROOT / "specrules" / package).rglob("*.py"))
    files = [(str(path.relative_to(ROOT)), path.read_text(encoding="utf-8")) for path in paths]
    return [mutant for file, text in files for mutant in mutants(file, text)]


def tried(chosen: Sequence[Mutant], copy: Copy) -> dict[Outcome, list[Mutant]]:
    """What came of each. It is told as soon as it is known."""
    found: dict[Outcome, list[Mutant]] = {each: [] for each in Outcome}
    for number, mutant in enumerate(chosen, 1):
        start = time.monotonic()
        outcome = copy.outcome(mutant)
        seconds = time.monotonic() - start
        _say(f"{number}/{len(chosen)} {outcome.value} ({seconds:.0f} s) {mutant.said()}")
        found[outcome].append(mutant)
    return found


def main() -> int:
    """Try the mutants asked for; 1 where one is not killed, 2 where the tests fail without any."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutation")
    parser.add_argument("--package", action="append", default=[])
    parser.add_argument("--file", action="append", default=[], help="every mutant of this module")
    parser.add_argument("--line", type=int, default=None, help="of it, those of this line")
    parser.add_argument("--sample", type=int, default=40, help="of each package so many")
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    lots: dict[str, list[Mutant]] = {}
    for package in asked.package:
        every = of_package(package)
        lots[package] = Random(f"{asked.seed} {package}").sample(every, min(asked.sample, len(every)))
    for file in asked.file:
        every = mutants(file, (ROOT / file).read_text(encoding="utf-8"))
        lots[file] = [mutant for mutant in every if asked.line in (None, mutant.line)]
    import hypothesis  # noqa: F401 - what every test needs is imported once, and forked
    import pydantic  # noqa: F401
    import pytest  # noqa: F401
    import rich.console  # noqa: F401
    import ruamel.yaml  # noqa: F401

    with tempfile.TemporaryDirectory(prefix="specrules-mutants-") as name:
        copy, scores = Copy(Path(name)), []
        for lot, chosen in lots.items():
            needed = sorted({tuple(step) for mutant in chosen for step in steps(mutant.file)})
            unsound = [
                step for step in needed if copy.fails(step) and copy.fails(step)
            ]  # once more: it may hang on time
            if unsound:
                _say(f"{lot}: these fail without any mutant: {' '.join(each for step in unsound for each in step)}")
                return 2
            found = tried(chosen, copy)
            killed = len(found.pop(Outcome.KILLED))
            scores += [f"{lot}: {killed} of {len(chosen)} killed, {killed / max(len(chosen), 1):.1%}"]
            scores += [f"  {outcome.value} {mutant.said()}" for outcome, those in found.items() for mutant in those]
        _say("\n".join(scores))
    return 1 if any(row.startswith("  ") for row in scores) else 0


def _short(code: str) -> str:
    one_line = " ".join(code.split())
    return one_line if len(one_line) <= 110 else f"{one_line[:107]}..."


def _say(text: str) -> None:
    print(text, flush=True)  # noqa: T201 - a command that prints


if __name__ == "__main__":
    sys.exit(main())
