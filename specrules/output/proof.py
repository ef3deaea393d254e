"""What proving a pack found: what is wrong with it, what could be better, and whether it proves."""

from __future__ import annotations

from collections.abc import Iterator

from specrules.document.place import sentence
from specrules.inspection.digits import places_of, printed_limits
from specrules.output.ledger_lines import told
from specrules.output.lines import Line, folded, line
from specrules.output.reasons import figure_in_doubt, said
from specrules.output.words import many
from specrules.proving import CameFrom, Proof, ProofRemark, RemarkKind

HEADINGS: dict[RemarkKind, str] = {
    "limits": "Limits out of order",
    "slip": "Figures that look like slips",
    "validity": "Figures of which it is not said for what they hold",
    "example": "Worked examples that do not come out",
    "exercise": "Exercises that do not come out",
    "question": "Figures to ask about",
    "text": "Amounts that texts tell in one system of units",
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
    """The whole proof of a pack that could be resolved; its faults, where there are any, are told elsewhere."""
    if proof.faults:
        yield line((f"{proof.pack} is at fault and was not tried.", "bad"))
        return
    yield line((proof.pack.upper(), "heading"))
    for kind, heading in HEADINGS.items():
        of_kind = [remark for remark in proof.remarks if remark.kind == kind]
        if of_kind:
            yield line(("  " + heading, "bad" if of_kind[0].wrong else "doubt"))
        for remark in of_kind:
            yield from folded(remark_text(remark), 4, hang=6)
    if proof.ledger:
        yield line(("  Asked less than by the packs below", "doubt"))
    for entry in proof.ledger:
        yield from folded(told(entry), 4, hang=6)
    wrong = sum(remark.wrong for remark in proof.remarks)
    if wrong:
        yield from folded(f"{proof.pack} does not prove: {many(wrong, 'thing')} to put right.", style="bad")
    else:
        yield from folded(f"{proof.pack} proves.", style="good")
    yield from folded(
        f"Tried: {', '.join(many(proof.counts[key], word) for key, word in COUNTED.items() if key in proof.counts)}.",
        2,
    )


def remark_text(remark: ProofRemark) -> str:
    """One sentence for a reader: where, about what, what was found, what to do about it."""
    came_from = "" if remark.came_from is None else _came_from(remark.came_from)
    told = remark.said if remark.suspect is None else figure_in_doubt(remark.suspect)
    return sentence(remark.place, remark.subject, f"{told}{came_from}", remark.write)


def _came_from(outcome: CameFrom) -> str:
    """What a verdict came from: the sum with its numbers, and what else it rests on."""
    finding, rests_on = outcome.finding, outcome.finding.rests_on
    limits = [
        f"{side} {limit}"
        for side, limit in printed_limits(finding.limits, places_of(finding)).texts.items()
        if side != "aim"
    ]
    parts = [
        f"from {outcome.worked}" if outcome.worked else "",
        f"held to {', '.join(limits)}" if limits and finding.value is not None else "",
        f"for want of: {', '.join(map(said, rests_on.missing))}" if rests_on.missing else "",
        f"unsigned: {', '.join(rests_on.unsigned)}" if rests_on.unsigned else "",
        f"out of date: {', '.join(map(said, rests_on.stale))}" if rests_on.stale else "",
        *(f"in doubt: {figure_in_doubt(each)}" for each in rests_on.suspect),
    ]
    text = "; ".join(part for part in parts if part)
    return f" ({text})" if text else ""
