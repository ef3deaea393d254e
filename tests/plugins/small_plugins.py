"""Plugins for the tests: the example installed into a folder of its own, and small ones made of hooks alone."""

from __future__ import annotations

import os
import shutil
import sys
import tomllib
from collections.abc import Callable
from importlib import invalidate_caches
from pathlib import Path
from typing import Any

import pytest

from specrules.plugins import LENGTH, Found, Function, hookimpl, takes
from tests.cli import shell
from tests.cli.shell import Ran

EXAMPLE = Path(__file__).parent / "example"
ROOT = Path(__file__).parents[2]


def install(site: Path, version: str = "", value: str = "", name: str = "") -> Path:
    """Install the example into a folder as an installer would: the package, and what it says of itself."""
    project = tomllib.loads((EXAMPLE / "pyproject.toml").read_text())["project"]
    entries = project["entry-points"]["specrules"]
    version, distribution = version or project["version"], name or project["name"]
    (package,) = entries.values()
    shutil.copytree(EXAMPLE / package, site / package, dirs_exist_ok=True, ignore=shutil.ignore_patterns("__pycache__"))
    told = site / f"{distribution.replace('-', '_')}-{version}.dist-info"
    told.mkdir()
    (told / "METADATA").write_text(f"Metadata-Version: 2.1\nName: {distribution}\nVersion: {version}\n")
    lines = [f"{key} = {value or named}" for key, named in entries.items()]
    (told / "entry_points.txt").write_text("\n".join(["[console_scripts]", "", "[specrules]", *lines, ""]))
    return site


def plugin(**hooks: Any) -> object:
    """A plugin of these functions as hooks."""
    return type("Module", (), {name: staticmethod(hookimpl(hook)) for name, hook in hooks.items()})()


def found(loaded: object, name: str = "small", distribution: str = "shop", version: str = "1.0") -> Found:
    """An installed plugin; what is callable loads it."""
    load: Callable[[], object] = loaded if callable(loaded) else lambda: loaded
    return Found(name, distribution, version, f"{distribution}.{name}", load)


def call(*arguments: str, site: Path, cwd: Path) -> Ran:
    """Run a command in this process, with what is installed in a folder, which is forgotten afterwards."""
    before = {*sys.modules}
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(cwd)
        patch.setattr(sys, "path", [str(cwd), str(site), *sys.path])  # as Python itself puts the folder first
        invalidate_caches()
        ran = shell.call(*arguments)
    for name in {*sys.modules} - before:
        if name.partition(".")[0] == "shop_example":
            del sys.modules[name]
    return ran


def run(*arguments: str, site: Path | None = None, cwd: Path) -> Ran:
    """Run the program as a user does, in a folder, with what is installed in another."""
    path = os.pathsep.join(map(str, [ROOT, *([site] if site else [])]))
    return shell.run(*arguments, folder=cwd, PYTHONPATH=path, PYTHONDONTWRITEBYTECODE="1", NO_COLOR="1")


def function(name: str = "twice", value: Callable[..., Any] = lambda x: 2 * x, **more: Any) -> Function:
    stated = {"dimensions": takes(LENGTH, gives=LENGTH), "partials": (lambda _x: 2.0,), **more}
    return Function(name, 1, stated["dimensions"], value, stated["partials"])


def sound() -> object:
    return plugin(functions=lambda: [function("sound")])


def nothing() -> list[object]:
    return []


def boom(*_: object) -> Any:
    raise KeyError("no such thing")


def leave(*_: object) -> Any:
    sys.exit(0)
