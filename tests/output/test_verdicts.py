"""One table says how screens tell a verdict, and no printer goes past it."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

import specrules.output.verdicts
from specrules.output.lines import STYLES
from specrules.output.verdicts import ATTENTION, BY_GRAVITY, TELLING, Shown, counted_verdicts
from specrules.vocabulary import BEYOND, OPEN, Verdict

TABLE = Path(specrules.output.verdicts.__file__)
OTHERS = sorted(path for path in TABLE.parent.glob("*.py") if path != TABLE)


@pytest.mark.parametrize("verdict", Verdict)
def test_every_verdict_can_be_told(verdict: Verdict) -> None:
    told = TELLING[verdict]
    assert told.style in STYLES
    assert ("{side}" in told.said.lower()) is (verdict in BEYOND), "what is beyond names its side, nothing else does"


@pytest.mark.parametrize("verdict", OPEN)
def test_what_is_open_says_what_is_to_be_done(verdict: Verdict) -> None:
    told = TELLING[verdict]
    assert told.open
    assert (told.shown in (Shown.WAITING, Shown.LACKING)) is not bool(told.then), (
        "the next step, or the wants that give it"
    )


def test_no_two_verdicts_are_as_grave_and_out_of_spec_is_the_gravest() -> None:
    assert len({told.gravity for told in TELLING.values()}) == len(Verdict)
    assert BY_GRAVITY[:2] == (Verdict.OUT, Verdict.JUST_OUT)
    assert ATTENTION == (Verdict.OUT, Verdict.JUST_OUT, Verdict.NOT_PROVEN, Verdict.JUST_IN, Verdict.WORN)


def test_verdicts_are_counted_in_their_order_and_only_those_that_occur() -> None:
    counts = {Verdict.NOT_MEASURED: 2, Verdict.OUT: 0, Verdict.JUST_IN: 1, Verdict.WORN: 4, Verdict.IN_SPEC: 3}
    assert counted_verdicts(counts) == "3 in spec, 4 worn within limit, 1 just in, 2 not measured"


@pytest.mark.parametrize("path", OTHERS, ids=lambda path: path.stem)
def test_no_other_printer_names_a_verdict(path: Path) -> None:
    """So that a new verdict touches the table alone. The record and its schema list all of them, whichever they are."""
    words = {str(verdict) for verdict in Verdict}
    of_sign_offs = path.stem in ("screen_parts", "record_schema", "sarif_runs")  # a state of theirs has such a word
    allowed = {"not applicable"} if of_sign_offs else set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            assert node.value.id != "Verdict", f"line {node.lineno} names Verdict.{node.attr}"
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            assert node.value not in words - allowed, f"line {node.lineno} says {node.value}"
