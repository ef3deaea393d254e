"""What proving a pack finds: frozen data that a printer prints."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal, NamedTuple

from specrules.document import Fault, Place
from specrules.inspection import Finding
from specrules.pack import Relaxation
from specrules.sheet import Suspect

RemarkKind = Literal[
    "limits", "slip", "validity", "example", "exercise", "question", "text", "small sizes", "untried", "unexercised"
]
WRONG = ("limits", "slip", "validity", "example", "exercise")
"""Kinds that keep a pack from being proven; the others say what could be better."""


class CameFrom(NamedTuple):
    """What an unexpected outcome stands on: its working, in words and numbers ("" for none), and the finding."""

    worked: str
    finding: Finding


class ProofRemark(NamedTuple):
    """One thing found.

    kind: `limits` (they cross at every usual size, or wear limits lie inside the new ones), `slip` (a figure that can
    hardly be right), `validity` (nothing says for what a figure holds), `example` (its figures do not come out),
    `exercise` (its answers or mistakes do not come out as they should), `question` (a figure that may be right),
    `text` (an amount that a text tells in one system of units alone), `small sizes` (limits cross at some of the usual
    sizes, where an inspection leaves the check to the maker), `untried` (nothing says what size to try the limits at),
    `unexercised` (no example shows it).
    """

    place: Place
    subject: str
    said: str
    write: str
    kind: RemarkKind
    came_from: CameFrom | None = None
    suspect: Suspect | None = None  # the figure that looks like a slip, for which `said` has no words

    @property
    def wrong(self) -> bool:
        """Whether the pack cannot be trusted before this is put right."""
        return self.kind in WRONG


class Proof(NamedTuple):
    """All that came of proving one pack. `counts`: rules, examples, figures held, settings of facts and labels tried.

    `ledger`: by what the pack asks less than those that it builds on; it may be right, and is always told. With
    `faults` the pack could not be resolved, and nothing more is known of it.
    """

    pack: str
    faults: tuple[Fault, ...]
    remarks: tuple[ProofRemark, ...]
    counts: Mapping[str, int]
    ledger: tuple[Relaxation, ...] = ()

    @property
    def sound(self) -> bool:
        """The pack can be used: no fault, and every example comes out as it says."""
        return not self.faults and not any(remark.wrong for remark in self.remarks)
