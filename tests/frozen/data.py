"""The frozen results as a file: packs and sheets as texts, and of each sheet a record for every decision rule.

`results.jsonl.xz` is lines of JSON, compressed. The first line is {"packs": {name: [[file, text], ...]}}: every pack
that a sheet asks for, those that shipped then included, so that no later edit of a pack changes what is held. Every
other line is one sheet:

    n        its number, counted from 0        about    what the generator made it of
    text     the sheet                         guarded  its whole record, as `reading` describes one
    simple, iso-14253-1, conformance-95, conformance-99
             what of the record is otherwise under that rule: {key: value}, null where a key is gone; `findings`
             likewise, one by one
    marks    {rule@station: [why, ...]}: findings that issue 8 may change on purpose, see `CHANGED`; not those
             of limits in the sheet that hang on an unstated number, nor `WAITS` and `WORN`, which `compare` finds
             itself
"""

from __future__ import annotations

import json
import lzma
from collections.abc import Collection, Iterable, Iterator, Mapping
from decimal import Decimal
from pathlib import Path
from typing import Any, NamedTuple, TypeAlias

from specrules.vocabulary import Verdict

Plain: TypeAlias = Any
FILE = Path(__file__).with_name("results.jsonl.xz")
GUARDED = "guarded"
HEAVY = ("wk", "bu", "in")
"""What is recorded of a finding under `guarded` only."""


class Change(NamedTuple):
    """What issue 8 or 10 changes on purpose, and which fields of a finding may differ for it; None: all of them."""

    why: str
    fields: frozenset[str] | None

    def touches(self, field: str) -> bool:
        """Whether that field of a finding may differ."""
        return self.fields is None or field in self.fields


WAITS = "a choice to state"
EVIDENCE = "evidence"
ONE_POINT = "one point"
OWN_LIMITS = "own limits"
OWN_NOTES = "notes on own limits"
SLIPS = "slips"
NO_REMEDY = "no remedy"
IN_ITS_SYSTEM = "in its system"
STEPS_SOLD = "steps sold"
TOLD_APART = "told apart"
MAKERS = "the maker's limits, in the sheet"
WORN = str(Verdict.WORN)
WORN_IN_A_WORLD = "worn in a world"
_COME = ("L", "m", "r")
_VERDICT = frozenset(("v", "w", "mi", "no", "us"))
CHANGED = {
    "no line": Change(
        "limit lines are there and none of them counts: `not applicable` then, `no figure` now", _VERDICT
    ),
    "from the maker": Change("only the maker's own limits would do: `not measured` then, `no figure` now", _VERDICT),
    "crossed": Change("the least lies above the most: `not measured` then, `no figure` now", _VERDICT),
    "unstated number": Change("a condition hangs on a number that nobody stated: false then, unknown now", None),
    WAITS: Change(
        "a choice is asked for beside what is to be measured, or no longer", frozenset((*_COME, "mi", "n", "as"))
    ),
    WORN: Change(
        "issue 10, item 10: reused parts beyond the limit of new work and inside the wear limit were in spec",
        frozenset(("v", "w", "ls")),
    ),
    WORN_IN_A_WORLD: Change(
        "the same where a fact is not stated: shown is now a world in which the part is worn",
        frozenset((*_COME, "be", "no")),
    ),
    "needs": Change("it needs a rule that is marked", frozenset(("v", "w", "us"))),
    SLIPS: Change(
        "issue 10: slips are looked for by stations and by what fits there",
        frozenset(("su", "v", "w", "sp", "ot", "us")),
    ),
    NO_REMEDY: Change("issue 10: no part is touched while a reading behind it is in doubt", frozenset(("sp", "ot"))),
    IN_ITS_SYSTEM: Change("issue 11: a sheet is told in one system of units throughout", frozenset(("un", "pl", "wk"))),
    STEPS_SOLD: Change("issue 11: steps of remedies are those of the sheet's system", frozenset(("sp", "ot"))),
    TOLD_APART: Change("issue 11: the fact to state is the one that tells two worlds apart", frozenset(("mi",))),
    OWN_LIMITS: Change(
        "issue 11: where the sheet has limits of its own nothing hangs on what the packs' lines would ask",
        frozenset(("as", "no", "r", "be", "st", "in")),
    ),
    OWN_NOTES: Change("the same: what is said beside them of a side that they leave out", frozenset(("L",))),
    ONE_POINT: Change("both ends of what was picked are one value, and told so", frozenset(("x", "lo", "hi", "wk"))),
    EVIDENCE: Change(
        "issue 10: what picking an extreme does and the probability of conformity are worked out anew, so that all that"
        " hangs on U may differ, except under simple acceptance",
        frozenset(
            (*"Ucmbsvwr", "us", "im", "bc", "bm", "cd", "ot", "bu", "ls", "ow", "sp", "be", "no", "by", "L", "mi")
        ),
    ),
}
FOLLOWS = ("verdict", "counts", "loosened", "concessions")
FOLLOWS_SLIPS = (*FOLLOWS, "suspects", "held", "open")
FOLLOWS_EVIDENCE = (*FOLLOWS, "figures", "held", "open")
"""What of a whole sheet may follow from its marked findings."""


def waits(was: Mapping[str, Plain], now: Mapping[str, Plain], choices: Collection[str]) -> bool:
    """Whether a finding that is not measured, then as now, only waits for another choice to be stated.

    `choices`: the choices that the limits of its rule hang on, where with some label no line of the pack's own may
    count: none matches, or the maker's stands. In such a world it was `not applicable` or `not measured`. It is now
    `not measured` where nothing of the value is known, as in every other world, so that the choice need not be stated;
    and `no figure` where something of the value is known, unlike the other worlds, so that it must, and with it what
    those worlds want instead of the maker's limits. Nothing else may be asked for otherwise; limits, margins and range
    may come or go with the choice, and not be others.
    """
    before, after = (set(each.get("mi", ())) for each in (was, now))
    others = (before ^ after) - {f"state {choice}" for choice in choices}
    if others == before ^ after or not was.get("v") == now.get("v") == "not measured":
        return False
    if others and not (MAKERS in before - after and others - {MAKERS} <= after):
        return False
    return all(was.get(part) == now.get(part) or was.get(part) is None or now.get(part) is None for part in _COME)


def worn(was: Mapping[str, Plain], now: Mapping[str, Plain]) -> bool:
    """Whether what was in spec is told to be worn now: the wear limit decides, and the value is beyond the new one."""
    told = [(was.get(name), now.get(name)) for name in ("v", "w")]
    limits = now.get("L", {})
    low, high = (now.get(end, now.get("x")) for end in ("lo", "hi"))
    least, most = (limits.get(side) if side in limits.get("worn", ()) else None for side in ("least", "most"))
    beyond = any(a is not None and b is not None and Decimal(a) < Decimal(b) for a, b in ((low, least), (most, high)))
    changed = [pair for pair in told if pair[0] != pair[1]]
    return beyond and changed == [(str(Verdict.IN_SPEC), WORN)]


def less(was: Mapping[str, Plain], now: Mapping[str, Plain]) -> dict[str, Plain]:
    """What of `now` is not as in `was`, mapping by mapping; None where a key is gone."""
    made: dict[str, Plain] = {}
    for name in sorted(was.keys() | now.keys()):
        before, after = was.get(name), now.get(name)
        if isinstance(before, dict) and isinstance(after, dict):
            if inner := less(before, after):
                made[name] = inner
        elif before != after:
            made[name] = after
    return made


def more(was: Mapping[str, Plain], changes: Mapping[str, Plain]) -> dict[str, Plain]:
    """The other way round: more(was, less(was, now)) is now."""
    made = dict(was)
    for name, after in changes.items():
        before = made.get(name)
        if after is None:
            del made[name]
        else:
            made[name] = more(before, after) if isinstance(before, dict) and isinstance(after, dict) else after
    return made


def light(record: Mapping[str, Plain]) -> dict[str, Plain]:
    """A record without what is kept under `guarded` only."""
    findings = {
        place: {name: value for name, value in each.items() if name not in HEAVY}
        for place, each in record["findings"].items()
    }
    return {**record, "findings": findings}


def write(packs: Mapping[str, Plain], sheets: Iterable[Mapping[str, Plain]], file: Path = FILE) -> int:
    """Write it all. Returns the size in bytes."""
    with lzma.open(file, "wt", encoding="utf-8", preset=9 | lzma.PRESET_EXTREME) as out:
        for line in ({"packs": packs}, *sheets):
            out.write(json.dumps(line, ensure_ascii=False, separators=(",", ":")) + "\n")
    return file.stat().st_size


def packs(file: Path = FILE) -> dict[str, list[list[str]]]:
    """The packs that the sheets ask for."""
    with lzma.open(file, "rt", encoding="utf-8") as lines:
        found: dict[str, list[list[str]]] = json.loads(next(lines))["packs"]
    return found


def sheets(file: Path = FILE) -> Iterator[dict[str, Plain]]:
    """The sheets, one by one."""
    with lzma.open(file, "rt", encoding="utf-8") as lines:
        next(lines)
        yield from map(json.loads, lines)


def recorded(sheet: Mapping[str, Plain], decision: str) -> dict[str, Plain]:
    """The record of a sheet under one decision rule."""
    return sheet[GUARDED] if decision == GUARDED else more(light(sheet[GUARDED]), sheet[decision])
