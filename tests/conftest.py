"""Two lanes of tests: the first, which plain `pytest` runs, in a minute, and the second, `pytest -m second_lane`.

A test that takes long is marked `second_lane`. A property is tried on a few examples in the first lane, the same ones
each time, and on many in the second, others each time.
"""

from __future__ import annotations

import gc
import os
import tempfile

import pytest
from hypothesis import HealthCheck, settings

FIRST_LANE = "not second_lane"
"""What pyproject.toml selects where nobody selects anything else."""

settings.register_profile("first", deadline=None, max_examples=10, derandomize=True, database=None)
settings.register_profile(
    "second", deadline=None, max_examples=200, print_blob=True, suppress_health_check=[HealthCheck.too_slow]
)


_CACHE = tempfile.TemporaryDirectory(prefix="specrules-")


def pytest_configure(config: pytest.Config) -> None:
    """Choose how many examples a property is tried on: read by the tests as they are collected.

    Plans that tests keep are kept from the user's own.
    """
    os.environ["XDG_CACHE_HOME"] = _CACHE.name
    settings.load_profile("first" if config.option.markexpr == FIRST_LANE else "second")


def pytest_collection_finish() -> None:
    """Have what the tests share looked through for garbage no more: it stays, and that took a fifth of the time."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(50_000, 50, 100)


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Have every property in the second lane too."""
    if config.option.markexpr != FIRST_LANE:
        for item in items:
            if getattr(getattr(item, "obj", None), "is_hypothesis_test", False):
                item.add_marker("second_lane")
