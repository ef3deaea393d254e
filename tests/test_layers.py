"""The layers of the program, as tests that can fail: who imports whom, what the core may speak of, what lies where."""

from __future__ import annotations

import ast
import re
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PROGRAM = ROOT / "specrules"

LAYERS = (
    ("vocabulary",),
    ("quantity",),
    ("formula",),
    ("document", "trade"),
    ("validation",),
    ("pack", "record"),
    ("sheet", "plan"),
    ("evaluate",),
    ("inspection",),
    ("study", "teaching", "importing"),
    ("proving",),
    ("plugins",),
    ("output",),
    ("schemas",),
    ("effects",),
    ("api",),
    ("cli", "pytest_plugin"),
)
"""The layers, lowest first: packages, and modules that are one by themselves. A package imports from the layers below
it and from itself."""

NEUTRAL = (
    "quantity",
    "formula",
    "document",
    "validation",
    "pack",
    "record",
    "sheet",
    "plan",
    "evaluate",
    "inspection",
    "proving",
    "study",
    "teaching",
    "importing",
    "output",
    "schemas",
    "vocabulary",
    "effects",
    "api",
)

TRADE_WORDS = (
    "crank|crankpin|crankshaft|piston|cylinder|bearing|journal|bore|ring|valve|cam|camshaft|rod|engine|block|deck|gasket|"
    "lifter|spring|bolt|damper|head|main|throw|skirt|pin|rocker|lobe|lash|chamber|quench|shell|flywheel|stroke|redline|"
    "tappet|pushrod|crown|liner|sump|dowel|sprocket|snout|pump|guide|seat"
)
"""Words of this trade. The core judges anything that is measured."""

ALLOWED = {
    "block": "YAML's block scalars and blocks of lines",
    "head": "the head of a list, a screen or a pack",
    "main": "the entry point of a program",
    "stroke": "what an SVG line is drawn with",
}
"""Trade words that are plain words of programming too, and what they mean there."""


def packages() -> Iterator[tuple[str, Path]]:
    for path in sorted(PROGRAM.rglob("*.py")):
        parts = path.relative_to(PROGRAM).parts
        if len(parts) > 1:
            yield parts[0], path
        elif not path.stem.startswith("__"):
            yield path.stem, path


def layer_of(package: str) -> int:
    return next((number for number, layer in enumerate(LAYERS) if package in layer), -1)


@pytest.mark.second_lane
@pytest.mark.parametrize(("package", "path"), [pytest.param(r, p, id=str(p.relative_to(ROOT))) for r, p in packages()])
def test_a_package_imports_only_from_layers_below(package: str, path: Path) -> None:
    assert layer_of(package) >= 0, f"{package} is on no layer"
    for node in ast.walk(ast.parse(path.read_text())):
        names = [node.module or ""] if isinstance(node, ast.ImportFrom) else []
        names += [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
        if names == ["specrules"] and isinstance(node, ast.ImportFrom):
            names = [f"specrules.{alias.name}" for alias in node.names if alias.name != "VERSION"]
        for name in names:
            parts = name.split(".")
            if parts[0] == "specrules" and len(parts) > 1:
                other = parts[1]
                assert other == package or layer_of(other) < layer_of(package), f"{path}: {package} imports {name}"


@pytest.mark.second_lane
@pytest.mark.parametrize("path", [pytest.param(p, id=str(p.relative_to(ROOT))) for r, p in packages() if r in NEUTRAL])
def test_the_core_speaks_of_no_one_trade(path: Path) -> None:
    words = [word for word in TRADE_WORDS.split("|") if word not in ALLOWED]
    trade = re.compile(rf"(?<![A-Za-z])(?:{'|'.join(words)})s?(?![A-Za-z])", re.IGNORECASE)
    lines = enumerate(path.read_text().splitlines(), 1)
    found = [f"{number}: {line.strip()}" for number, line in lines if trade.search(line)]
    assert found == []


def test_inspection_knows_no_clock_file_or_environment() -> None:
    banned = {"os", "sys", "pathlib", "time", "io", "subprocess", "socket", "random", "tempfile"}
    for package, path in packages():
        if package in ("quantity", "formula", "inspection"):
            for node in ast.walk(ast.parse(path.read_text())):
                modules = [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
                modules += [node.module or ""] if isinstance(node, ast.ImportFrom) else []
                assert not banned.intersection(name.split(".")[0] for name in modules), path
                if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
                    assert node.func.id not in ("open", "eval", "exec", "compile", "__import__"), path


CHANGING = {"write_text", "write_bytes", "unlink", "rmdir", "rename", "replace", "link", "symlink_to", "hardlink_to"}
CHANGING |= {"remove", "chmod", "touch", "mkstemp", "NamedTemporaryFile", "TemporaryFile", "mkdir", "makedirs", "open"}


def changes(path: Path) -> list[str]:
    """The calls in a module by which files are changed, or opened."""
    found = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "open":
            found.append("open")
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in CHANGING:
            whose = ast.unparse(node.func.value)
            if whose in ("os", "tempfile") or node.func.attr in CHANGING - {"replace", "remove", "open"}:
                found.append(f"{whose}.{node.func.attr}")
    return sorted(found)


OTHER_EFFECTS = {
    "effects/cache.py": ["self.folder.mkdir"],  # a private folder
    "effects/locks.py": ["os.open", "os.open", "os.unlink", "path.unlink"],  # a file to be written, and its lock
    "schemas.py": ["folder / name.write_text", "folder.mkdir"],  # run by who develops the program, on its own tree
    "plugins/installed_plugins.py": ["open"],  # reads the entry points of installed packages, two layers below
    "plugins/isolation.py": ["os.open"],  # the null device, where what code of others writes goes
    "cli/streams.py": ["os.open"],  # the null device in the place of a closed stream
}


@pytest.mark.second_lane
def test_files_are_changed_in_one_place_alone() -> None:
    found = {path.relative_to(PROGRAM).as_posix(): changes(path) for path in PROGRAM.rglob("*.py")}
    assert {name: calls for name, calls in found.items() if calls and name != "effects/files.py"} == OTHER_EFFECTS


def tracked() -> list[str]:
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True)
    return listed.stdout.splitlines()


def test_the_top_of_the_tree_is_part_of_the_design() -> None:
    wanted = {"README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml", "specrules", "packs", "schemas", "tests"}
    top = {name.split("/")[0] for name in tracked()}
    assert {name for name in top if not name.startswith(".")} == wanted


def test_every_file_says_first_what_it_is_for() -> None:
    for _, path in packages():
        text = path.read_text()
        assert text.startswith('"""'), f"{path} has no first line that says what it is for"
        assert len(text.splitlines()) <= 400, f"{path} is no longer one thing"


def test_ci_runs_the_commands_of_the_readme() -> None:
    readme = (ROOT / "README.md").read_text()
    for mark in ("demo", "tests"):
        assert readme.count(f"<!-- command: {mark} -->") == 1
    script = (ROOT / ".ci" / "run").read_text()
    assert ".ci/readme_command demo" in script
    assert ".ci/readme_command tests" in script
