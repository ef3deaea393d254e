"""Answers as they are written in a file: one a line, by number or in order; a list or a mapping of YAML is that too."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import NamedTuple

from specrules.document import Fault, Place
from specrules.vocabulary import Code

_LINE = re.compile(r"\s*(?:-(?:\s+|$))?(?:([0-9]{1,3})[:.)](?:\s+|$))?(.*?)\s*")
_HEAD = re.compile(r"\s*(name|paper)\s*:\s*(.*?)\s*", re.IGNORECASE)
_QUOTED = re.compile(r"""(["'])(.*)\1""")
_PAPER = re.compile(r"[0-9]{1,9}", re.ASCII)


class Answers(NamedTuple):
    """What a learner handed in: the name and the paper's number, where they are said, and answers by their question."""

    name: str
    paper: int | None
    by_number: Mapping[int, str]


def read_answers(text: str, file: str, questions: int) -> tuple[Answers, tuple[Fault, ...]]:
    """The answers that a text holds; what cannot be an answer is a fault at its line.

    `name: AB` and `paper: 3` may stand among them. An answer without a number belongs to the question after the last
    one. Behind # stands a remark.
    """
    answers: dict[int, str] = {}
    head: dict[str, str] = {}
    faults: list[Fault] = []
    number = 0

    def fault(at: int, code: Code, said: str, write: str = "") -> None:
        faults.append(Fault(Place(file, at, 1), "answers", code, said, write))

    for at, row in enumerate(text.splitlines(), 1):
        written = re.sub(r"(?:^|\s)#.*", "", row)
        if said := _HEAD.fullmatch(written):
            word = said[1].lower()
            if word in head:
                fault(at, Code.DEFINED_TWICE, f"{word} is said twice")
            elif word == "paper" and not _PAPER.fullmatch(said[2]):
                fault(at, Code.NOT_WHOLE, "paper has no number behind it", "paper: 3")
            head[word] = said[2]
            continue
        match = _LINE.fullmatch(written)
        if match is None or not written.strip() or written.strip() == "---":
            continue
        number = int(match[1]) if match[1] else number + 1
        quoted = _QUOTED.fullmatch(match[2])
        if not 0 < number <= questions:
            there = f"there {'is' if questions == 1 else 'are'} {questions}"
            fault(at, Code.UNKNOWN_NAME, f"question {number} is asked nowhere: {there}")
        elif number in answers:
            fault(at, Code.DEFINED_TWICE, f"question {number} is answered twice")
        else:
            answers[number] = quoted[2] if quoted else match[2]
    paper = head.get("paper", "")
    return Answers(head.get("name", ""), int(paper) if _PAPER.fullmatch(paper) else None, answers), tuple(faults)
