"""Holds the program as it is to the frozen results: `python -m tests.frozen.compare --sheets 0:20 --decision guarded`.

Texts are equal or not, floats may differ by 1e-9 of their size. Prints each difference with sheet, rule, station,
field, was and is, and ends with 1 where there is any.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from decimal import Decimal
from functools import cache, lru_cache
from itertools import islice
from math import isclose
from typing import NamedTuple

from specrules.sheet import read_sheet
from tests.frozen.data import (
    CHANGED,
    EVIDENCE,
    FILE,
    FOLLOWS,
    FOLLOWS_EVIDENCE,
    FOLLOWS_SLIPS,
    IN_ITS_SYSTEM,
    NO_REMEDY,
    ONE_POINT,
    OWN_LIMITS,
    OWN_NOTES,
    SLIPS,
    STEPS_SOLD,
    TOLD_APART,
    WAITS,
    WORN,
    WORN_IN_A_WORLD,
    Plain,
    packs,
    recorded,
    sheets,
    waits,
    worn,
)
from tests.frozen.reading import DECISIONS, Reader

NEAR = 1e-9
UNDECIDED = ("not applicable", "not measured", "no figure")
NOTHING = {"U": 1e-15, "c": 1e-12}
"""Below this a float counts as nothing: what is left of a U that cancels (base units), a chance of missing a limit."""


class Difference(NamedTuple):
    """One field that is not as it was. mark: why issue 8 may have changed it, "" where it may not."""

    sheet: int
    decision: str
    where: str  # rule@station, or "" for the sheet itself
    field: str
    was: Plain
    now: Plain
    mark: str = ""

    def __str__(self) -> str:
        mark = f" [{self.mark}]" if self.mark else ""
        where = f"sheet {self.sheet}, {self.decision}, {self.where or 'whole'}, {self.field}{mark}"
        was, now = self.was, self.now
        if isinstance(was, list) and isinstance(now, list) and len(was) == len(now):
            rows = [pair for pair in zip(was, now, strict=True) if not same(*pair)]
            was, now = [row for row, _ in rows], [row for _, row in rows]
        return f"{where}: was {was!r}, is {now!r}"


def same(was: Plain, now: Plain, nothing: float = NOTHING["U"]) -> bool:
    """Equal, floats nearly so."""
    if isinstance(was, float) and isinstance(now, float):
        return isclose(was, now, rel_tol=NEAR, abs_tol=nothing)
    if isinstance(was, list) and isinstance(now, list):
        return len(was) == len(now) and all(map(same, was, now))
    return type(was) is type(now) and bool(was == now)


def _budget(lines: Sequence[Sequence[Plain]] | None) -> list[Sequence[Plain]]:
    """A budget in an order that near ties do not change, less what cancels to nothing."""
    most = max((u for _, u in lines or ()), default=0.0)
    return sorted((line for line in lines or () if line[1] > most * NEAR), key=lambda line: (line[0], f"{line[1]:.6e}"))


def _beside(packs: Sequence[Sequence[Plain]] | None) -> list[Plain]:
    """What the packs of a chain say, where they say something: issue 8 splits what those have that say nothing.

    That a wear limit would count says nothing where no limit is known."""
    return [
        [
            pack,
            "" if verdict in UNDECIDED else _as_it_was(verdict),
            side,
            beyond,
            {} if limits.keys() == {"worn"} else _deciding(limits),
        ]
        for pack, verdict, side, beyond, limits in packs or ()
    ]


def _suspects(rows: Sequence[Sequence[Plain]] | None) -> list[Plain]:
    """Suspects less the figure in their words, which issue 9 gives the places that it was written with: exact, it
    stands beside them."""
    return [[*row[:5], _without_sizes(row[5].partition(" it would be ")[0]), *sorted(row[6:])] for row in rows or ()]


def _without_sizes(said: str) -> str:
    """Usual sizes are told in the sheet's system (issue 11)."""
    usual, comma, sizes = said.partition("outside the usual sizes, ")
    return usual + comma + sizes.partition("; ")[1] + sizes.partition("; ")[2]


def one_point(was: Mapping[str, Plain], now: Mapping[str, Plain]) -> bool:
    """Whether a value of which both ends are one value is told as that one, whatever else was picked from: it was told
    as open, or by the middle of its bracket alone, wherever picking it was a source of error."""
    told = [str(each.get("wk") or "").replace(" at most ", " ").replace(" at least ", " ") for each in (was, now)]
    if was.get("x") is None or now.get("x") is not None or now.get("lo") is None or now.get("hi") is None:
        return told[0] == told[1]
    return (Decimal(now["lo"]) + Decimal(now["hi"])) / 2 == Decimal(was["x"])


GONE = ("an", "ua")
"""What was recorded of a finding and is no longer a part of it: whether its probability was approximate, and that its
gauges were unable to decide it, in the place of which stands what would."""


def _as_it_was(said: Plain) -> Plain:
    """A word or a sentence as it was said before parts could be reused one by one (issue 10)."""
    if said == WORN:
        return "in spec"
    if said == "inside the wear limit, which counts for reused parts alone":
        return "inside the wear limit, which counts for a refresh and not for new work"
    return said.replace("no worse whatever", "the same whatever") if isinstance(said, str) else said


def _deciding(limits: Mapping[str, Plain] | None) -> Mapping[str, Plain]:
    """Limits by which a value is judged: a wear limit that decides stood in the place of the new one."""
    known = limits or {}
    worn = {side: known.get(f"wear {side}") for side in known.get("worn", ())}
    return {name: limit for name, limit in {**known, **worn}.items() if limit is not None}


def _steps(steps: Sequence[Sequence[Plain]] | None) -> list[Plain]:
    return [[_as_it_was(each) for each in step] for step in steps or ()]


def _notes(notes: Sequence[Plain] | None) -> list[Plain]:
    return [_as_it_was(each) for each in notes or ()]


SETTLED: Mapping[str, Callable[[Plain], Plain]] = {
    "bu": _budget,
    "be": _beside,
    "L": _deciding,
    "sp": _steps,
    "no": _notes,
    "suspects": _suspects,
}
"""How a field is compared that may be otherwise in what does not matter."""


def between(was: Mapping[str, Plain], now: Mapping[str, Plain]) -> Iterator[tuple[str, Plain, Plain]]:
    """The fields of two findings, or of two sheets, that differ."""
    for name in sorted((was.keys() | now.keys()) - {"findings", *GONE}):
        before, after = was.get(name), now.get(name)
        if settled := SETTLED.get(name):
            before, after = settled(before), settled(after)
        if not same(before, after, NOTHING["c" if name == "c" else "U"]):
            yield name, before, after


def _unmarked(record: Mapping[str, Plain], marks: Collection[str]) -> dict[str, Plain]:
    """What is said of a whole sheet, less the findings that may be otherwise from now on."""
    listed = {name: [each for each in record.get(name, ()) if each not in marks] for name in ("held", "open")}
    return {name: value for name, value in {**record, **listed}.items() if name != "findings"}


def _absent(was: Mapping[str, Plain], now: Mapping[str, Plain]) -> bool:
    """Whether a check was not applicable and is no longer there: what a fact rules out is absent (issue 11)."""
    return was.get("v") == "not applicable" and not now


def _present(was: Mapping[str, Plain], now: Mapping[str, Plain], absent: Collection[str]) -> Mapping[str, Plain]:
    """What was recorded, without what is absent now, and the sign-offs that are so or that nothing needs then."""
    findings = {where: each for where, each in was["findings"].items() if where not in absent}
    here = {row[0] for row in now.get("signoffs", ())}
    signed = [row for row in was.get("signoffs", ()) if row[0] in here or not (absent or row[1] == "not applicable")]
    counts = {verdict: count for verdict, count in was.get("counts", {}).items() if verdict != "not applicable"}
    left = was.get("counts", {}).get("not applicable", 0) - len(absent)
    counts |= {"not applicable": left} if left else {}
    return {**was, "findings": findings, "counts": counts, **({"signoffs": signed} if "signoffs" in now else {})}


def differences(reader: Reader, sheet: Mapping[str, Plain], decision: str) -> Iterator[Difference]:
    """How the program judges a frozen sheet otherwise than it did."""
    number, before_all = sheet["n"], recorded(sheet, decision)
    now, faults, choices, unstated = reader.plain(sheet["text"], decision)
    if faults and all(" is about what is not there, since " in each for each in faults):
        return  # a sheet that writes about what its facts rule out, which is a fault now (issue 11)
    if faults:
        yield Difference(number, decision, "", "faults", [], [*faults])
        return
    absent = {where for where, each in before_all["findings"].items() if _absent(each, now["findings"].get(where, {}))}
    was = _present(before_all, now, absent)
    of_sheet = {where: ["unstated number"] for where in was["findings"] if where.partition("@")[0] in unstated}
    of_worn = {
        where: [WORN, *([WORN_IN_A_WORLD] if any("no worse whatever" in note for note in after.get("no", ())) else [])]
        for where, after in now["findings"].items()
        if worn(was["findings"].get(where, {}), after)
    }
    marks = {**of_sheet, **sheet["marks"]}
    limited = limited_by(sheet["text"])
    slips = {where: doubted(each, now["findings"].get(where, {})) for where, each in was["findings"].items()}
    for name, before, after in between(_unmarked(was, marks), _unmarked(now, marks)):
        follows = (name in FOLLOWS and (marks or of_worn)) or (decision != "simple" and name in FOLLOWS_EVIDENCE)
        follows = follows or (name == "loosened" and bool(limited))
        follows = follows or (name == "suspects" and (only_more_fits(before, after) or by_neighbours(before, after)))
        follows = follows or (name == "figures" and figures_told_otherwise(before, after))
        follows = follows or (any(SLIPS in each for each in slips.values()) and name in FOLLOWS_SLIPS)
        yield Difference(number, decision, "", name, before, after, "follows" if follows else "")
    for where in {**was["findings"], **now["findings"]}:
        before, after = was["findings"].get(where, {}), now["findings"].get(where, {})
        judged = [EVIDENCE] if decision != "simple" else []
        waiting = [WAITS] if waits(before, after, choices.get(where.partition("@")[0], ())) else []
        ends = [ONE_POINT] if judged and one_point(before, after) else []
        told = [*([IN_ITS_SYSTEM] if after else []), *told_otherwise(before, after)]
        if where.partition("@")[0] in limited:
            alike = _without_notes(before.get("L")) == _without_notes(after.get("L"))
            told += [OWN_LIMITS, *([OWN_NOTES] if alike else [])]
        expected = (*told, *ends, *waiting, *of_worn.get(where, ()), *slips.get(where, ()), *judged)
        for name, old, new in between(before, after):
            asked = (*marks.get(where, ()), *expected)
            mark = next((mark for mark in asked if CHANGED[mark].touches(name)), "")
            yield Difference(number, decision, where, name, old, new, mark)


def _without_notes(limits: Mapping[str, Plain] | None) -> Mapping[str, Plain]:
    return {name: limit for name, limit in (limits or {}).items() if name != "notes"}


@lru_cache(maxsize=1)
def limited_by(text: str) -> Collection[str]:
    """The rules for which a sheet has limits of its own."""
    raw, _ = read_sheet(text, "frozen.sheet.yaml")
    return () if raw is None else set(map(str, raw.model.limits))


def told_otherwise(was: Mapping[str, Plain], now: Mapping[str, Plain]) -> Sequence[str]:
    """What may differ of a finding that is judged as it was: the steps that are sold; and, where it waits for one fact,
    which one."""
    if any(not same(was.get(name), now.get(name)) for name in ("v", "w", "x", "lo", "hi")):
        return ()
    before, after = was.get("mi") or (), now.get("mi") or ()
    one = len(before) == len(after) == 1 and all(each.startswith("state ") for each in (*before, *after))
    return (STEPS_SOLD, TOLD_APART) if one else (STEPS_SOLD,)


def figures_told_otherwise(was: Sequence[Sequence[Plain]] | None, now: Sequence[Sequence[Plain]] | None) -> bool:
    """Whether what is worked out differs in its places alone, which go by the unit that it is told in."""
    pairs = list(zip(was or (), now or (), strict=False))
    return len(was or ()) == len(now or ()) and all(
        same([*one[:4], *one[5:]], [*other[:4], *other[5:]]) for one, other in pairs
    )


def only_more_fits(was: Sequence[Sequence[Plain]] | None, now: Sequence[Sequence[Plain]] | None) -> bool:
    """Whether all suspects stand that there were, and the rest are of fits that cannot be (issue 10)."""
    more = [row for row in now or () if row not in (was or ())]
    return all(row in (now or ()) for row in was or ()) and all(row[0].startswith("impossible") for row in more)


def by_neighbours(was: Sequence[Sequence[Plain]] | None, now: Sequence[Sequence[Plain]] | None) -> bool:
    """Whether the same readings are in doubt, and those that are told otherwise by a factor each time: of two that lead
    to a usual size the one counts that leads to the neighbours, be it less likely."""
    pairs = [*zip(was or (), now or (), strict=False)]
    factors = ("decimal slip", "unit slip")
    return len(was or ()) == len(now or ()) and all(
        same(before, after) or (before[1:4] == after[1:4] and before[0] in factors and after[0] in factors)
        for before, after in pairs
    )


def doubted(was: Mapping[str, Plain], now: Mapping[str, Plain]) -> Sequence[str]:
    """What the readings in doubt behind a finding change: all that waits for them where they are others, or else only
    what was to be done about it."""
    if was.get("su") != now.get("su"):
        return (SLIPS,)
    return (NO_REMEDY,) if now.get("su") else ()


@cache
def _reader() -> Reader:
    """One for all: its specifications are what takes time."""
    return Reader(packs(FILE))


def all_differences(decisions: Collection[str], wanted: slice = slice(None)) -> Iterator[Difference]:
    """Of a slice of the sheets, under some decision rules."""
    reader = _reader()
    for sheet in islice(sheets(FILE), wanted.start, wanted.stop, wanted.step):
        for decision in decisions:
            yield from differences(reader, sheet, decision)


def main(arguments: Sequence[str]) -> int:
    """The command."""
    parser = argparse.ArgumentParser(prog="python -m tests.frozen.compare", description=__doc__)
    parser.add_argument("--sheets", default=":", help="which, as FROM:TO or FROM:TO:STEP, counted from 0")
    parser.add_argument("--decision", action="append", choices=DECISIONS, help="may be given more than once; else all")
    parser.add_argument("--field", action="append", help="these fields only, as `reading` names them")
    parser.add_argument("--most", type=int, default=20, help="how many differences to print")
    parser.add_argument("--marked", action="store_true", help="print those too that issue 8 makes on purpose")
    given = parser.parse_args(arguments)
    wanted = slice(*(int(part) if part else None for part in given.sheets.split(":")))
    fields: Counter[str] = Counter()
    marked = printed = 0
    for each in all_differences(given.decision or DECISIONS, wanted):
        if given.field and each.field not in given.field:
            continue
        if each.mark and not given.marked:
            marked += 1
            continue
        fields[each.field] += 1
        if printed < given.most:
            printed += 1
            print(each)  # noqa: T201 - this is a command
    told = ", ".join(f"{field} {count}" for field, count in fields.most_common())
    print(f"{fields.total()} differences" + (f": {told}" if told else "") + f"; {marked} more on purpose")  # noqa: T201
    return 1 if fields else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
