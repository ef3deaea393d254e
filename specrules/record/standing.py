"""A record held against the same sheet judged again: what it rests on that is another now, and what came of it.

Nothing is taken for the same that is not there on both sides.

A record stands by what its findings come to, not by how they are told: words count only where it is the same program,
with the same plugins, that says them. What an older record lacks is no difference; a digest that it lacks is, since
nothing says what was judged.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import PurePath
from typing import Any, NamedTuple

from specrules.record.finding_record import FindingRecord
from specrules.record.inspection_record import Record
from specrules.record.record_part import StationRecord

JUDGED = (
    *("verdict", "would_be", "side", "value", "between", "U", "limits"),
    *("beyond", "beyond_at_most", "conceded", "holds"),
)
"""What a finding comes to; all else of it says how, or is words."""
BESIDE = (
    *("sheet", "decision", "until", "evidence", "waiting", "figures_hold_by", "counts", "readings", "figures"),
    *("suspects", "ledger", "concessions", "pictures", "assumed", "remarks"),
)
"""What a record says besides findings, sign-offs and what it rests on."""


class Footing(NamedTuple):
    """One thing that a record rests on, as it was and as it is: "" where there is none of it.

    `decides`: a record is not as it was where this is another; the program may be another and judge the same.
    """

    what: str
    name: str
    then: str
    now: str
    decides: bool = True

    @property
    def same(self) -> bool:
        """Whether it is there, and what it was."""
        return self.then == self.now


class Otherwise(NamedTuple):
    """A finding that comes to something else. `parts`: of each that differs its name, as it was and as it is."""

    rule: str
    title: str
    station: StationRecord
    parts: tuple[tuple[str, Any, Any], ...]


class Standing(NamedTuple):
    """How a record stands. `otherwise`: findings that come to something else, are gone or new; `worded`: how many come
    to the same and say another thing of it; `alike`: how many are the same in all; `parts`: what else of the record
    says another thing."""

    grounds: tuple[Footing, ...]
    otherwise: tuple[Otherwise, ...]
    worded: int
    alike: int
    verdicts: tuple[str, str]
    parts: tuple[str, ...]

    @property
    def as_it_was(self) -> bool:
        """Whether all that decides is the same, and judging again gives the same. What only says another thing counts
        where it is the same program that says it."""
        grounds = all(ground.same for ground in self.grounds if ground.decides)
        program = all(ground.same for ground in self.grounds)
        same = not self.otherwise and self.verdicts[0] == self.verdicts[1]
        return grounds and same and not (program and (self.worded or self.parts))


def standing_of(old: Record, now: Record) -> Standing:
    """A record against one of the same sheet, judged now as it was then."""
    mine, theirs = _by_place(old), _by_place(now)
    otherwise: list[Otherwise] = []
    worded = alike = 0
    for place in dict.fromkeys((*mine, *theirs)):
        before, after = mine.get(place), theirs.get(place)
        one = before or after
        assert one is not None
        if parts := tuple(_parts(before, after)):
            otherwise.append(Otherwise(one.rule, one.title, one.station, parts))
        elif before is not None and after is not None and _worded(before, after):
            worded += 1
        else:
            alike += 1
    otherwise += _sign_offs(old, now)
    beside = tuple(
        part.replace("_", " ") for part in BESIDE if not _has(_part(old, part, known=True), _part(now, part))
    )
    return Standing(tuple(_grounds(old, now)), tuple(otherwise), worded, alike, (old.verdict, now.verdict), beside)


def _sign_offs(old: Record, now: Record) -> Iterator[Otherwise]:
    then, is_ = ({each.name: each for each in of.sign_offs} for of in (old, now))
    for name in dict.fromkeys((*then, *is_)):
        was, state = (of[name].state if name in of else None for of in (then, is_))
        if was != state:
            one = then[name] if name in then else is_[name]
            yield Otherwise(name, one.question, {}, (("state", was, state),))


def _part(of: Record, part: str, known: bool = False) -> Any:
    """A part as plain data; of sheet and pictures what they say, what their files are being grounds. known: only what
    the record itself has."""
    files = {"sha256", "size", "media", "wide", "high"}
    grounds: dict[str, Any] = {"sheet": {"file", "sha256", "files"}, "pictures": {"__all__": files}}
    return of.model_dump(include={part}, exclude=grounds, exclude_unset=known).get(part)


def _by_place(of: Record) -> dict[tuple[Any, ...], FindingRecord]:
    return {(finding.rule, *finding.station.items()): finding for finding in of.findings}


def _parts(before: FindingRecord | None, after: FindingRecord | None) -> Iterator[tuple[str, Any, Any]]:
    if before is None or after is None:
        yield "finding", None if before is None else "there", None if after is None else "there"
        return
    for name in JUDGED:
        then, now = getattr(before, name), getattr(after, name)
        if then != now:
            yield name.replace("_", " "), then, now


def _worded(before: FindingRecord, after: FindingRecord) -> bool:
    """Whether anything else differs of what the older record has."""
    return before != after and not _has(before.model_dump(exclude_unset=True), after.model_dump())


def _has(then: Any, now: Any) -> bool:
    """Whether all that one tree has stands in the other one too; what the one does not know is no difference."""
    if then is None:
        return True
    if isinstance(then, dict) and isinstance(now, dict):
        return all(_has(said, now.get(name)) for name, said in then.items())
    if isinstance(then, tuple) and isinstance(now, tuple):
        return len(then) == len(now) and all(map(_has, then, now))
    return bool(then == now)


def _grounds(old: Record, now: Record) -> Iterator[Footing]:
    yield Footing("sheet", old.sheet.file or "", old.sheet.sha256 or "", now.sheet.sha256 or "")
    files, present = ({PurePath(each.file).name: each.sha256 for each in of.sheet.files} for of in (old, now))
    for file in dict.fromkeys((*files, *present)):
        yield Footing("file beside it", file, files.get(file, ""), present.get(file, ""))
    pictures, shown = ({each.file: each.sha256 or "" for each in of.pictures} for of in (old, now))
    for file in dict.fromkeys((*pictures, *shown)):
        yield Footing("picture", file, pictures.get(file, ""), shown.get(file, ""))
    packs, there = ({each.name: each for each in of.packs} for of in (old, now))
    for name in dict.fromkeys((*packs, *there)):
        then, is_ = (of[name].sha256 if name in of else "" for of in (packs, there))
        versions = dict.fromkeys(of[name].version for of in (packs, there) if name in of)
        yield Footing("pack", f"{name} {', now '.join(versions)}", then, is_)
    yield Footing("specification", "as sealed", old.seal or "", now.seal or "")
    yield Footing("program", "specrules", old.tool.version, now.tool.version, decides=False)
    plugins, loaded = (", ".join(sorted(of.tool.plugins)) for of in (old, now))
    if plugins or loaded:
        yield Footing("plugins", "", plugins or "none", loaded or "none", decides=False)
