"""The hooks that are offered for commits: each runs a command that there is, on the files that it is for."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from tests.cli.shell import call
from tests.cli.small_jobs import CLEAR, FAULTY, HELD, OPEN, lay_out
from tests.lanes import first_alone
from tests.output.small_screen import BASE

HOOKS: list[dict[str, Any]] = YAML(typ="safe").load(Path(__file__).parents[2] / ".pre-commit-hooks.yaml")


def test_each_hook_has_what_it_needs() -> None:
    for hook in HOOKS:
        assert {"id", "name", "entry", "language", "files"} <= hook.keys()
        assert (hook["language"], hook["entry"].split()[0]) == ("python", "specrules")


@pytest.mark.parametrize(
    ("file", "text", "status"),
    first_alone(
        ("jobs/a.sheet.yaml", CLEAR, 0),
        ("jobs/a.sheet.yaml", HELD, 1),
        ("jobs/a.sheet.yaml", FAULTY, 2),
        ("jobs/a.sheet.yaml", OPEN, 3),
        ("packs/base.pack.yaml", BASE, 0),
        ("packs/base.pack.yaml", BASE.replace("expect: {verdict: in spec}", "expect: {verdict: out of spec}", 1), 1),
        ("packs/base.pack.yaml", BASE.replace("formula: tilt", "formula: tilt +"), 2),
        ("notes.yaml", "", None),
    ),
)
def test_a_file_is_given_to_the_hook_that_is_for_it(
    file: str, text: str, status: int | None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    lay_out(tmp_path)
    monkeypatch.chdir(tmp_path)
    Path("jobs").mkdir()
    Path(file).write_text(text, encoding="utf-8")
    hooks = [hook for hook in HOOKS if re.search(hook["files"], file)]
    assert [call(*hook["entry"].split()[1:], file).status for hook in hooks] == ([] if status is None else [status])
