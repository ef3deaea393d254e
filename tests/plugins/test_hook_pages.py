"""Every hook has its page, its signature there, an example that works, and a test; and no page is of no hook."""

from __future__ import annotations

import ast
import re
from pathlib import Path
from types import ModuleType

import pytest

from specrules.plugins import hookspecs, plug
from specrules.plugins.checks import CHECKS
from tests.plugins.small_plugins import EXAMPLE, ROOT, found

SPECIFICATIONS = {
    node.name: f"def {node.name}({ast.unparse(node.args)}) -> {ast.unparse(node.returns)}"
    for node in ast.parse(Path(hookspecs.__file__).read_text()).body
    if isinstance(node, ast.FunctionDef)
    and node.returns is not None
    and any(isinstance(each, ast.Name) and each.id == "hookspec" for each in node.decorator_list)
}
HOOKS = sorted(SPECIFICATIONS)


def pages() -> dict[str, str]:
    """Each hook's page in the reference for authors of plugins."""
    text = (ROOT / "specrules" / "plugins" / "README.md").read_text()
    parts = re.split(r"^## `(\w+)`\n", text, flags=re.MULTILINE)
    return dict(zip(parts[1::2], parts[2::2], strict=True))


def blocks(page: str) -> list[str]:
    return re.findall(r"^```python\n(.*?)^```$", page, re.MULTILINE | re.DOTALL)


def test_there_is_a_page_for_each_hook_and_no_other() -> None:
    assert HOOKS
    assert sorted(pages()) == HOOKS


def test_every_hook_is_read_and_every_reading_has_its_hook() -> None:
    assert sorted(CHECKS) == HOOKS


@pytest.mark.parametrize("hook", HOOKS)
def test_its_page_has_signature_arguments_return_and_example(hook: str) -> None:
    page = pages()[hook]
    signature, example = blocks(page)
    assert signature.strip() == SPECIFICATIONS[hook]
    assert "Arguments: " in page
    assert "Returns " in page
    assert f"@hookimpl\ndef {hook}(" in example


@pytest.mark.parametrize("hook", HOOKS)
def test_it_is_documented_where_it_is_specified(hook: str) -> None:
    assert getattr(hookspecs, hook).__doc__


@pytest.mark.parametrize("hook", HOOKS)
def test_it_has_a_test(hook: str) -> None:
    tests = ast.parse((Path(__file__).parent / "test_hooks.py").read_text()).body
    (own,) = [node for node in tests if isinstance(node, ast.FunctionDef) and node.name == f"test_hook_{hook}"]
    assert any(isinstance(node, ast.Assert) for node in ast.walk(own))


def test_the_examples_of_the_pages_together_are_a_plugin_without_fault() -> None:
    module = ModuleType("pages")
    module.__file__ = str(EXAMPLE / "shop_example" / "__init__.py")
    for page in pages().values():
        exec(blocks(page)[1], module.__dict__)
    offered, alone = plug([found(module)]), plug()
    assert offered.faults == ()
    assert len(offered.pack_folders) == 1
    assert offered.functions.keys() - alone.functions.keys() == {"taper_ratio"}
    assert [unit.symbol for unit in offered.units.units[len(alone.units.units) :]] == ["ligne"]
    assert offered.gauge_classes.keys() == {"air gauge"}
    assert offered.forms["tally"].make([{"sheet": {"file": "a"}, "verdict": "clear"}]) == "specrules tally\na: clear\n"
