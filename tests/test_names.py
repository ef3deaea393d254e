"""One meaning a name, as tests that can fail: modules, what packages export, public classes."""

from __future__ import annotations

import ast
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

PROGRAM = Path(__file__).parent.parent / "specrules"

TWO_MODULES: dict[str, str] = {}
"""Modules of one name that remain, and why. Each that goes is taken off this list."""

SHADOWED: dict[str, str] = {}
"""Exports with the name of a module of their package that remain, and why."""

TWO_CLASSES: dict[str, str] = {
    "Source": "where a figure comes from, which is public; the text of a file; one file of a pack",
    "Layout": "labels as a sheet states them, and with the index maps that evaluation wants",
    "Comparison": "an operator of formulas, and two inspections of one sheet held against each other",
    "Number": "a number in a formula, and a reading of a study",
    "Figure": "a derived quantity of a pack, a number with its places, and a limit that needs no reading",
    "Written": "who wrote a part of a rule, and a limit line that two packs write differently",
    "Gauge": "a gauge of a sheet, and a kind of gauge that a plugin offers, whose name is public",
}
"""Public classes of one name that remain, and why."""


def modules() -> Iterator[Path]:
    return (path for path in sorted(PROGRAM.rglob("*.py")) if not path.stem.startswith("__"))


def more_than_one(found: Iterator[tuple[str, Path]]) -> dict[str, list[str]]:
    """The names that several modules have or hold, each with these modules."""
    places: defaultdict[str, list[str]] = defaultdict(list)
    for name, path in found:
        places[name].append(str(path.relative_to(PROGRAM)))
    return {name: where for name, where in places.items() if len(where) > 1}


def public_classes() -> Iterator[tuple[str, Path]]:
    for path in modules():
        for node in ast.parse(path.read_text()).body:
            if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                yield node.name, path


def shadows() -> Iterator[tuple[str, Path]]:
    """What an `__init__` binds from inside a module, by the name of a module or package beside it."""
    for package in sorted(PROGRAM.rglob("__init__.py")):
        beside = {path.stem for path in package.parent.iterdir() if path != package}
        here = ".".join(package.parent.relative_to(PROGRAM.parent).parts)
        for node in ast.parse(package.read_text()).body:
            names: list[str] = []
            if isinstance(node, ast.ImportFrom) and node.module != here:
                names = [alias.asname or alias.name for alias in node.names]
            elif isinstance(node, ast.FunctionDef | ast.ClassDef):
                names = [node.name]
            yield from ((name, package) for name in names if name in beside)


def test_every_module_has_a_name_of_its_own() -> None:
    assert more_than_one((path.stem, path) for path in modules()).keys() == TWO_MODULES.keys()


def test_no_package_exports_what_shadows_a_module_of_its_own() -> None:
    assert {name for name, _ in shadows()} == SHADOWED.keys()


def test_every_public_class_has_a_name_of_its_own() -> None:
    assert more_than_one(public_classes()).keys() == TWO_CLASSES.keys()
