"""How a record stands: what it rests on, the same or not, and what judging again comes to."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from specrules.output.lines import Line, folded, line, spread
from specrules.output.words import listed, many, place
from specrules.record import Record
from specrules.record.record_part import RecordPart
from specrules.record.standing import Footing, Otherwise, Standing

_LEFT = 16
MOST = 40
"""Findings that are told one by one."""
_DIGEST = 12
"""Digits of a digest that are told, which nobody compares by eye."""


def heading(record: Record, of: str) -> Iterator[Line]:
    """Which record it is."""
    sheet = record.sheet
    job = f"job {sheet.job}" if sheet.job else ""
    yield from spread(sheet.title or sheet.file or "", job, "heading")
    yield from folded(f"record {of}, by specrules {record.tool.version}: {record.verdict}")
    yield line()


def standing_lines(found: Standing, asked: bool) -> Iterator[Line]:
    """The whole of it. asked: whether the record says what whoever asked for it chose over the sheet."""
    yield line(("WHAT IT RESTS ON", "heading"))
    for ground in found.grounds:
        yield from _ground(ground)
    yield line()
    yield line(("JUDGED AGAIN", "heading"))
    if not asked:
        yield from folded(
            "The record does not say what was asked for beside the sheet: judged again as the sheet says, with the "
            "decision rule and the hold point that were in force.",
            2,
        )
    for finding in found.otherwise[:MOST]:
        yield from _otherwise(finding)
    if len(found.otherwise) > MOST:
        yield line(f"  and {len(found.otherwise) - MOST} more")
    if found.verdicts[0] != found.verdicts[1]:
        yield from spread("  the whole", f"{found.verdicts[0]}, now {found.verdicts[1]}", right_style="bad")
    yield from folded(f"{'; '.join(_counted(found))}.", 2)
    if found.parts and not found.otherwise:  # else they follow from that
        yield from folded(f"What the record says of these is another thing: {listed(found.parts)}.", 2, hang=4)
    yield line()
    yield from _conclusion(found)


def _ground(ground: Footing) -> Iterator[Line]:
    left = f"  {ground.what:<{_LEFT}}{ground.name}".rstrip()
    if ground.same and ground.then:
        yield from spread(left, ground.then if not ground.decides else "the same", right_style="good")
    elif ground.same:
        yield from spread(left, "not there then, nor now", right_style="doubt")
    elif not ground.decides:
        yield from spread(left, f"{ground.then}, now {ground.now}", right_style="doubt")
    elif not ground.then:
        yield from spread(
            left, "not known to the record" if ground.what == "specification" else "not there then", right_style="bad"
        )
    else:
        said = f"changed: {ground.then[:_DIGEST]}, now {ground.now[:_DIGEST]}" if ground.now else "gone"
        yield from spread(left, said, right_style="bad")


def _otherwise(finding: Otherwise) -> Iterator[Line]:
    at = place(finding.station)
    yield from folded(f"{finding.title}{f', {at}' if at else ''}", 2, style="bad", hang=4)
    for name, then, now in finding.parts:
        yield from folded(f"{name}: {_said(then)}, now {_said(now)}", 4, hang=6)


def _said(part: Any) -> str:
    if isinstance(part, RecordPart):
        told = {name: said for name, said in part if said not in (None, (), False)}
        return ", ".join(f"{name.replace('_', ' ')} {_said(said)}" for name, said in told.items()) or "none"
    if isinstance(part, tuple):
        return " to ".join(map(_said, part))
    if isinstance(part, bool):
        return "yes" if part else "no"
    return "none" if part is None else str(part)


def _counted(found: Standing) -> Iterator[str]:
    yield f"{many(found.alike, 'finding')} the same"
    if found.otherwise:
        yield f"{len(found.otherwise)} {'comes' if len(found.otherwise) == 1 else 'come'} to something else"
    if found.worded:
        yield f"{found.worded} {'comes' if found.worded == 1 else 'come'} to the same, told in another way"


def _conclusion(found: Standing) -> Iterator[Line]:
    if found.as_it_was:
        yield from folded("All is as it was: judging it again gives the same.", style="good")
        return
    wrong = [
        f"the {ground.what} {ground.name}".rstrip() for ground in found.grounds if ground.decides and not ground.same
    ]
    said = [f"not what was judged: {listed(wrong)}"] if wrong else []
    if found.otherwise or found.verdicts[0] != found.verdicts[1]:
        said.append("judging again gives something else")
    elif found.worded or found.parts:
        said.append("judging again comes to the same, told in another way")
    else:
        said.append("judging again gives the same all the same")
    yield from folded(f"Not as it was; {'; '.join(said)}.", style="bad", hang=2)
    if wrong:
        yield from folded("Put back what was judged, or inspect it anew and keep that record beside this one.", hang=2)
