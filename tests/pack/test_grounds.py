"""What a pack builds on, with versions; its author and its log of changes."""

import pytest

from specrules.document import Fault, Text
from specrules.pack.grounds import PackGround, read_ground, version_of
from specrules.vocabulary import Code
from tests.pack.small_packs import BASE, faults_of, resolved, upper


@pytest.mark.parametrize(
    ("written", "version", "right"),
    [
        ("base", "anything", True),
        ("base >= 1.1", "1.1", True),
        ("base >= 1.1", "1.1.0", True),
        ("base >= 1.1", "1.10", True),
        ("base >= 1.10", "1.9", False),
        ("base>=2", "1.9.9", False),
        ("base > 1", "1.0", False),
        ("base > 1", "1.0.1", True),
        ("base <= 1.2", "1.2", True),
        ("base < 2", "2.0", False),
        ("base == 1", "1.0", True),
        ("base >= 1.1 and < 2", "1.9", True),
        ("base >= 1.1 and < 2", "2", False),
        ("base >= 1.1 and < 2", "1.0", False),
        ("base >= 1", "first", False),
        ("base >= 1", "-2", False),
    ],
)
def test_a_version_is_in_the_range_or_it_is_not(written: str, version: str, right: bool) -> None:
    ground = read_ground(Text(written))
    assert isinstance(ground, PackGround)
    assert ground.name == "base"
    assert (ground.wrong(Text(version), "base.pack.yaml") is None) is right


@pytest.mark.parametrize(
    "written", ["base 1.1", "base >= one", "base >= 1 or < 2", "base => 1", "base >=", "base ~= 1"]
)
def test_what_is_no_range_is_a_fault(written: str) -> None:
    fault = read_ground(Text(written))
    assert isinstance(fault, Fault)
    assert (fault.code, fault.write) == (Code.WRONG_RANGE, "base >= 1.1 or base >= 1.1 and < 2")


def test_versions_are_compared_as_numbers() -> None:
    assert [version_of(text) for text in ("1", "1.10", "2026.10.2", "1.0-beta", "", "1.", "٣")] == [
        (1,),
        (1, 10),
        (2026, 10, 2),
        None,
        None,
        None,
        None,
    ]


def test_a_wrong_version_is_a_fault_that_says_both() -> None:
    (fault,) = faults_of(BASE, upper("top", "", on='"base >= 1.1"'))
    assert fault.code is Code.WRONG_VERSION
    assert fault.sentence() == (
        "upper1.pack.yaml, line 2, pack builds on: wants base >= 1.1, and base is of version 1.0 (base.pack.yaml); "
        "write base == 1.0."
    )
    assert resolved(BASE, upper("top", "", on='"base >= 1.0 and < 2"')).packs[-1].builds_on == ("base",)


def test_the_head_says_who_answers_for_it_and_what_each_version_changed() -> None:
    text = BASE.replace('version: "1.0"', 'version: "1.0"\n  author: The bench\n  changes: {"1.0": [First., More.]}')
    (head,) = resolved(text).packs
    assert (head.author, dict(head.changes)) == ("The bench", {"1.0": ("First.", "More.")})


def test_a_log_that_says_nothing_of_this_version_is_a_fault() -> None:
    (fault,) = faults_of(BASE.replace('version: "1.0"', 'version: "1.1"\n  changes: {"1.0": First.}'))
    assert fault.code is Code.MISSING_KEY
    assert "says nothing of version 1.1, which this is" in fault.sentence()
