"""Answers as they are written in a file: one a line, by number or in order; a list or a mapping of YAML is that too."""

from __future__ import annotations

import re

from specrules.document import Fault, Place
from specrules.vocabulary import Code

_LINE = re.compile(r"\s*(?:-(?:\s+|$))?(?:([0-9]{1,3})[:.)](?:\s+|$))?(.*?)\s*")
_QUOTED = re.compile(r"""(["'])(.*)\1""")


def read_answers(text: str, file: str, questions: int) -> tuple[dict[int, str], tuple[Fault, ...]]:
    """Answers by the number of their question; what cannot be an answer is a fault at its line.

    An answer without a number belongs to the question after the last one. Behind # stands a remark.
    """
    answers: dict[int, str] = {}
    faults: list[Fault] = []
    number = 0
    for at, row in enumerate(text.splitlines(), 1):
        written = re.sub(r"(?:^|\s)#.*", "", row)
        match = _LINE.fullmatch(written)
        if match is None or not written.strip() or written.strip() == "---":
            continue
        number = int(match[1]) if match[1] else number + 1
        quoted = _QUOTED.fullmatch(match[2])
        if not 0 < number <= questions:
            said = f"question {number} is asked nowhere: there {'is' if questions == 1 else 'are'} {questions}"
            faults.append(Fault(Place(file, at, 1), "answers", Code.UNKNOWN_NAME, said))
        elif number in answers:
            said = f"question {number} is answered twice"
            faults.append(Fault(Place(file, at, 1), "answers", Code.DEFINED_TWICE, said))
        else:
            answers[number] = quoted[2] if quoted else match[2]
    return answers, tuple(faults)
