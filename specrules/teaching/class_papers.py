"""Papers for a class: seeds picked so that verdicts and answers differ. What is alike is copied, and a verdict that
every paper has is guessed.

Papers are picked among the next twelve seeds: first one whose own verdicts differ the most, then one whose verdicts,
then whose answers, fewest papers have. A paper that asks for one verdict may come to in spec as well: were it never so,
the class would know it. The number of a paper is its seed, so that marking needs to know nothing of the class.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Sequence
from itertools import count
from typing import NamedTuple

from specrules.document import Fault
from specrules.pack import Specification
from specrules.teaching.exercise_parts import Posed
from specrules.teaching.posing import pose

LOOKED_AT = 12
"""So many seeds are looked at for each paper, the next that are sound; after so many in a row that are not it ends."""


def papers(spec: Specification, name: str, first: int, number: int) -> tuple[tuple[Posed, ...], tuple[Fault, ...]]:
    """So many papers of an exercise, by their seeds from `first` on; or what is wrong with it.

    Of the seeds that are looked at, that one is taken whose own verdicts differ the most, then whose verdicts fewest
    papers have so far, then whose answers fewest have, then the first. So paper 7 has the readings of seed 7, and a
    class of more has the papers of a class of fewer, and others besides.
    """
    words, answers = Counter[Hashable](), Counter[Hashable]()
    seeds, window, chosen, failed = count(first), list[Posed](), list[Posed](), 0
    while len(chosen) < number:
        while len(window) < LOOKED_AT:
            posed, faults = pose(spec, name, next(seeds))
            failed = 0 if posed is not None else failed + 1
            if posed is not None:
                window.append(posed)
            elif failed == LOOKED_AT:
                return (), faults
        ranks = [(-len({*words_of(each)}), words[words_of(each)], answers[answers_of(each)]) for each in window]
        at = ranks.index(min(ranks))
        taken = window[at]
        del window[: at + 1]
        words[words_of(taken)] += 1
        answers[answers_of(taken)] += 1
        chosen.append(taken)
    return tuple(chosen), ()


def words_of(posed: Posed) -> tuple[tuple[str, str], ...]:
    """The right answers that are words: verdicts, each with its side, and choices."""
    return tuple(
        (asked.right.text, asked.right.side) for asked in posed.asked if asked.question.rule or asked.question.choices
    )


def answers_of(posed: Posed) -> tuple[str, ...]:
    """All right answers."""
    return tuple(asked.right.text for asked in posed.asked)


class Alike(NamedTuple):
    """What could not be made to differ. words: those that all papers have, none where they differ; one_verdict: papers
    that ask for several verdicts, all of them the same; answers: how many sets of answers they have between them."""

    papers: int
    words: tuple[str, ...]
    one_verdict: int
    answers: int


def alike(of: Sequence[Posed]) -> Alike:
    """How far papers are alike all the same."""
    words = {words_of(each) for each in of}
    same = [text for text, _ in words.pop()] if len(of) > 1 and len(words) == 1 else []
    throughout = [each for each in map(words_of, of) if len(each) > 1 and len({*each}) == 1]
    return Alike(len(of), tuple(same), len(throughout), len({answers_of(each) for each in of}))
