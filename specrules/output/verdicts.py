"""How screens tell each verdict: its style, its words, how much is shown of it. Nothing else in output names one."""

from collections.abc import Mapping
from enum import Enum
from typing import NamedTuple

from specrules.output.words import counted
from specrules.vocabulary import Verdict


class Shown(Enum):
    """How much of a finding a screen shows."""

    WHOLE = "a row for its station, with all that there is to say"
    SHORT = "a row for its station, with the doubt alone"
    SUMMED = "in one line for the stations of its rule"
    WAITING = "by name, among what is not measured yet"
    LACKING = "by name, among what has no figure to be judged by"
    COUNTED = "in the count at the end alone"


class Telling(NamedTuple):
    """How screens tell a verdict."""

    style: str
    gravity: int  # the gravest has the lowest: the order of rows in a rule, and of what is open
    shown: Shown
    kind: str  # of a result in SARIF 2.1.0 (clause 3.27.9): how far it is decided
    said: str = ""  # in a row; {side} is the pack's word for the side, {SIDE} that in capitals; "": the verdict's value
    why: str = ""  # a sentence under the row
    gauge: bool = False  # nearer to a limit than can be told, so that what would settle it is told under the row
    open: str = ""  # what so many findings are still to do, where they are open
    then: str = ""  # the next step for the rule that is called {what}, where nothing else is to be done first
    shape: str = "disc"  # of its mark in a drawing


TELLING: Mapping[Verdict, Telling] = {
    Verdict.IN_SPEC: Telling("good", 8, Shown.SUMMED, "pass"),
    Verdict.WORN: Telling("good", 7, Shown.SHORT, "pass", shape="triangle"),
    Verdict.JUST_IN: Telling(
        "doubt",
        6,
        Shown.SHORT,
        "review",
        why="Nearer to the limit than these readings can tell.",
        gauge=True,
        shape="open disc",
    ),
    Verdict.JUST_OUT: Telling("bad", 2, Shown.WHOLE, "fail", "just out, {side}", gauge=True, shape="open square"),
    Verdict.OUT: Telling("bad", 1, Shown.WHOLE, "fail", "{SIDE}", shape="square"),
    Verdict.NOT_PROVEN: Telling(
        "doubt",
        5,
        Shown.WHOLE,
        "review",
        "NOT PROVEN",
        open="to prove",
        then="settle the {what}, which is not proven",
        shape="diamond",
    ),
    Verdict.NOT_MEASURED: Telling("quiet", 3, Shown.WAITING, "open", open="to measure"),
    Verdict.NO_FIGURE: Telling("quiet", 4, Shown.LACKING, "open", open="without a figure"),
    Verdict.NOT_APPLICABLE: Telling("quiet", 9, Shown.COUNTED, "notApplicable"),
}
"""Every verdict. What one is, and in which order they are counted, stands in the vocabulary."""

BY_GRAVITY = tuple(sorted(TELLING, key=lambda verdict: TELLING[verdict].gravity))
ATTENTION = tuple(verdict for verdict in BY_GRAVITY if TELLING[verdict].shown in (Shown.WHOLE, Shown.SHORT))
"""The verdicts that get a row for each station, the gravest first."""


def shown(verdict: Verdict, *ways: Shown) -> bool:
    """Whether findings with this verdict are shown in one of these ways."""
    return TELLING[verdict].shown in ways


def counted_verdicts(counts: Mapping[Verdict, int]) -> str:
    """How many findings have each verdict, for those that some have."""
    return counted((str(verdict), counts.get(verdict, 0)) for verdict in Verdict)
