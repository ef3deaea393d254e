"""What proving a pack found: what is wrong with it, what could be better, and whether it proves."""

from __future__ import annotations

from collections.abc import Iterator

from specrules.output.lines import Line, folded, line
from specrules.proving import Proof, RemarkKind

HEADINGS: dict[RemarkKind, str] = {
    "limits": "Limits out of order",
    "slip": "Figures that look like slips",
    "example": "Worked examples that do not come out",
    "exercise": "Exercises that do not come out",
    "question": "Figures to ask about",
    "small sizes": "Limits that cross at some sizes",
    "untried": "Limits that could not be tried",
    "unexercised": "What no worked example shows",
}
COUNTED = {
    "rules": "rule",
    "examples": "worked example",
    "expectations": "figure",
    "settings": "setting",
    "exercises": "exercise",
    "questions": "question",
    "mistakes": "mistake",
}


def proof_lines(proof: Proof) -> Iterator[Line]:
    """The whole proof of a pack that could be stacked; its faults, where there are any, are told elsewhere."""
    if proof.faults:
        yield line((f"{proof.pack} is at fault and was not tried.", "bad"))
        return
    yield line((proof.pack.upper(), "heading"))
    for kind, heading in HEADINGS.items():
        of_kind = [remark for remark in proof.remarks if remark.kind == kind]
        if of_kind:
            yield line(("  " + heading, "bad" if of_kind[0].wrong else "doubt"))
        for remark in of_kind:
            yield from folded(remark.sentence(), 4, hang=6)
    wrong = sum(remark.wrong for remark in proof.remarks)
    if wrong:
        yield from folded(f"{proof.pack} does not prove: {_many(wrong, 'thing')} to put right.", style="bad")
    else:
        yield from folded(f"{proof.pack} proves.", style="good")
    yield from folded(
        f"Tried: {', '.join(_many(proof.counts[key], word) for key, word in COUNTED.items() if key in proof.counts)}.",
        2,
    )


def _many(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"
