"""How the cases of one test are shared out to the two lanes (`conftest.py`)."""

from __future__ import annotations

import pytest


def first_alone(first: object, *others: object) -> list[object]:
    """Cases to parametrize a test with: the first is tried in the first lane, the others in the second.

    A tuple is a case of several arguments.
    """
    cases = (other if isinstance(other, tuple) else (other,) for other in others)
    return [first, *(pytest.param(*case, marks=pytest.mark.second_lane) for case in cases)]
