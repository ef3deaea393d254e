"""Names mean one thing: a module has one of its own, and no function, class or export takes the name of a module."""

from __future__ import annotations

import ast
from collections import defaultdict
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PROGRAM = ROOT / "specrules"
MODULES = sorted(path for path in PROGRAM.rglob("*.py") if not path.stem.startswith("__"))
PACKAGES = sorted({path.parent for path in MODULES} - {PROGRAM})


def test_no_two_modules_have_one_name() -> None:
    places = defaultdict(list)
    for path in MODULES:
        places[path.stem].append(str(path.relative_to(ROOT)))
    assert {name: paths for name, paths in places.items() if len(paths) > 1} == {}


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


def test_files_of_tests_have_one_name_each() -> None:
    """So that a failure names its file."""
    places = defaultdict(list)
    for path in sorted((ROOT / "tests").rglob("test_*.py")):
        places[path.stem].append(str(path.relative_to(ROOT)))
    assert {name: paths for name, paths in places.items() if len(paths) > 1} == {}
