"""One meaning a name, as tests that can fail: modules, files of tests, public classes, what a package exports."""

from __future__ import annotations

import ast
from collections import defaultdict
from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PROGRAM = ROOT / "specrules"
MODULES = sorted(path for path in PROGRAM.rglob("*.py") if not path.stem.startswith("__"))
PACKAGES = sorted({path.parent for path in MODULES} - {PROGRAM})

TWO_CLASSES = {
    "Gauge": "a gauge of a sheet, and a kind of gauge that a plugin offers, whose name is public",
}
"""Public classes of one name that remain, and what each is. One that goes is taken off this list."""


def shared(named: Iterable[tuple[str, Path]]) -> dict[str, list[str]]:
    """The names that several files have or hold, each with these files."""
    places: defaultdict[str, list[str]] = defaultdict(list)
    for name, path in named:
        places[name].append(str(path.relative_to(ROOT)))
    return {name: paths for name, paths in places.items() if len(paths) > 1}


def public_classes() -> Iterator[tuple[str, Path]]:
    for path in MODULES:
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                yield node.name, path


def test_every_module_has_a_name_of_its_own() -> None:
    assert shared((path.stem, path) for path in MODULES) == {}


def test_every_file_of_tests_has_a_name_of_its_own() -> None:
    assert shared((path.stem, path) for path in (ROOT / "tests").rglob("test_*.py")) == {}


@pytest.mark.second_lane
def test_every_public_class_has_a_name_of_its_own() -> None:
    assert shared(public_classes()).keys() == TWO_CLASSES.keys()


@pytest.mark.second_lane
@pytest.mark.parametrize("package", PACKAGES, ids=lambda path: str(path.relative_to(ROOT)))
def test_nothing_in_a_package_is_called_as_a_module_of_it(package: Path) -> None:
    """Else `from package import name` gives now the one and now the other, by what was imported before."""
    modules = {path.stem for path in package.glob("*.py")}
    own = ".".join(package.relative_to(ROOT).parts)
    taken = []
    for path in package.glob("*.py"):
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            if isinstance(node, ast.FunctionDef | ast.ClassDef) and node.name in modules:
                taken.append(f"{node.name} in {path.name}")
            elif isinstance(node, ast.ImportFrom) and path.stem == "__init__" and node.module != own:
                taken += [f"{each.asname or each.name} in {path.name}" for each in node.names if each.name in modules]
    assert taken == []
