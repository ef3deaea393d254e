"""Writes the random sheets and freezes what comes of them: `python -m tests.frozen.make`.

Run by the core whose results are to be held; run by another core, it would hold that one to itself. A fixed seed: the
same sheets every time. Every sheet is one that settles; what the sheets and their findings hold is tallied at the end.
"""

from __future__ import annotations

import random
import sys
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from specrules.formula import Formula
from specrules.inspection import Inspection, Verdict
from specrules.inspection.limits import CROSSED
from specrules.pack import Rule, Stack
from tests.frozen.data import GUARDED, Plain, less, light, write
from tests.frozen.reading import DECISIONS, Reader, key, record
from tests.frozen.sheets import Names, Writer
from tests.frozen.shops import SHOPS

SEED = 20261128
SHIPPED = (["general"], ["street"], ["towing"], ["racing"])
BENCHES = (
    ["bench"],
    ["bench"],
    ["bench_a"],
    ["bench_a", "bench_b"],
    ["bench_b", "bench_a"],
    ["bench_c"],
    ["bench_c", "bench_b"],
)
HOW_MANY = {"shipped": 190, "bench": 150}
NUMBERS = ("count", "number", "quantity")
HERE = Path(__file__).parent
ROOT = HERE.parents[1]
WHOLE = (  # sheets that were written by hand, for what dice do not come to
    ("whole engine", ["racing"], "tests/packs/whole_engine.sheet.yaml"),
    ("demo", ["towing"], "specrules/demo/carousel.sheet.yaml"),
    ("clear", ["few"], "tests/frozen/by_hand/clear.sheet.yaml"),
    ("caliper tenth", ["few"], "tests/frozen/by_hand/tenth.sheet.yaml"),
)


def texts() -> dict[str, list[list[str]]]:
    """The packs that ship, as they are now, and those of this folder."""
    made: dict[str, list[list[str]]] = {}
    for path in sorted([*(ROOT / "packs").rglob("*.pack.yaml"), *(HERE / "packs").glob("*.pack.yaml")]):
        name = path.parent.name if path.parent.name != "packs" else path.name.removesuffix(".pack.yaml")
        made.setdefault(name, []).append([f"{path.parent.name}/{path.name}", path.read_text(encoding="utf-8")])
    return {name: files for name, files in made.items() if name != "teaching"}


def names(stack: Stack) -> Names:
    """What a writer has to know of a stack."""
    return Names(
        {each.name: (each.at, each.positions) for each in stack.measurands.values()},
        frozenset(stack.facts),
        frozenset(stack.sets),
        {each.name: each.names for each in stack.axes.values() if each.names},
        {each.name: each.makes_stale for each in stack.operations.values()},
        {each.name: each.at for each in stack.sign_offs.values()},
        {name: chain.governing[-1].each for name, chain in stack.rules.items()},
    )


def marks(found: Inspection, stack: Stack) -> dict[str, list[str]]:
    """Findings that issue 8 changes on purpose, and why: see data.CHANGED."""
    made: dict[str, list[str]] = {}
    for finding in found.findings:
        judged = finding.behind.judged
        rule, bench, station = judged.rule, finding.behind.judge.bench, judged.station
        why = []
        if judged.standing.by_maker:
            why.append("crossed" if judged.standing.by_maker == CROSSED else "from the maker")
        nowhere = any(axis not in station for axis in rule.each)
        applies = rule.applies_when is None or nowhere or rule.applies_when.answer(bench, station) is not False
        decided = judged.decision.verdict
        if decided is Verdict.NOT_APPLICABLE and rule.limits_wanted and applies:
            why.append("no line")
        sheet = finding.behind.judge.bench.of.sheet
        if unstated(rule, stack, frozenset((*sheet.facts, *sheet.assumed))):
            why.append("unstated number")
        if why:
            made[key(finding.rule, finding.station)] = why
    doubtful = {finding.rule for finding in found.findings if set(made.get(key(finding.rule, finding.station), ()))}
    while True:
        more = {
            name for name, chain in stack.rules.items() if not doubtful.isdisjoint(chain.governing[-1].needs)
        } - doubtful
        if not more:
            return made
        doubtful |= more
        for finding in found.findings:
            if finding.rule in more:
                made.setdefault(key(finding.rule, finding.station), []).append("needs")


def unstated(rule: Rule, stack: Stack, stated: frozenset[str]) -> set[str]:
    """The numbers, counts and quantities without a statement that some condition behind a rule names."""
    found: set[str] = set()
    seen: set[str] = set()
    waiting: list[tuple[Formula | None, bool]] = []  # a formula, and whether it is a condition
    for version in stack.rules[rule.name].versions:
        waiting += [
            (version.formula, False),
            (version.applies_when, True),
            *((f, False) for f in version.importance.values()),
        ]
        for line in version.lines:
            waiting += [(line.when, True), (line.shift, False), *((f, False) for f in line.sets.values())]
    while waiting:
        formula, condition = waiting.pop()
        if formula is None:
            continue
        if condition or " if " in formula.text:
            found |= {
                name
                for name in formula.names
                if name in stack.facts and name not in stated
                and stack.facts[name].kind in NUMBERS and not stack.facts[name].assumed
            }  # fmt: skip
        for name in formula.names - seen:
            seen.add(name)
            if name in stack.figures:
                for way in stack.figures[name].ways:
                    waiting += [(way.when, True), (way.formula, False)]
            if name in stack.measurands:
                waiting.append((stack.measurands[name].expands, False))
    return found


def frozen(number: int, text: str, about: Sequence[str], reader: Reader, asked: Sequence[str]) -> dict[str, Plain]:
    """One sheet with its records. Raises ValueError where it does not settle."""
    found, faults = reader.inspection(text, GUARDED)
    if found is None:
        raise ValueError("\n".join((*faults, text)))
    stack = reader.stack_of(tuple(asked))
    first = record(found, whole=True)
    made: dict[str, Plain] = {"n": number, "about": [*dict.fromkeys(about)], "text": text, GUARDED: first}
    for decision in DECISIONS[1:]:
        made[decision] = less(light(first), reader.plain(text, decision).plain)
    made["marks"] = marks(found, stack)
    return made


def all_sheets(reader: Reader) -> Iterator[dict[str, Plain]]:
    """Every sheet, those on the packs that ship and those on bench by turns."""
    dice = random.Random(SEED)
    kinds = [kind for kind, count in HOW_MANY.items() for _ in range(count)]
    dice.shuffle(kinds)
    for number, kind in enumerate(kinds):
        asked = dice.choice(SHIPPED if kind == "shipped" else BENCHES)
        writer = Writer(random.Random(f"{SEED} {number}"), SHOPS[kind], names(reader.stack_of(tuple(asked))), asked)
        yield frozen(number, writer.text(), [kind, *asked, *writer.about], reader, asked)
    for number, (about, asked, path) in enumerate(WHOLE, len(kinds)):
        yield frozen(number, (ROOT / path).read_text(encoding="utf-8"), [about, *asked], reader, asked)


def tally(sheet: Mapping[str, Plain], counted: Counter[str]) -> None:
    """What a sheet adds to the tally."""
    counted.update(f"about: {about}" for about in sheet["about"])
    record = sheet[GUARDED]
    counted.update(f"sheet: {record['verdict']}" for _ in (1,))
    counted.update(f"suspect: {suspect[0]}" for suspect in record.get("suspects", ()))
    counted.update(f"sign-off: {each[1]}" for each in record.get("signoffs", ()))
    counted.update(f"sheet has {name}" for name in ("loosened", "concessions", "assumed", "remarks") if name in record)
    for decision in DECISIONS:
        changed = sheet[decision].get("findings", {})
        counted.update(f"{decision}: {each['v']}" for each in changed.values() if "v" in each)
    for finding in record["findings"].values():
        counted.update(f"finding has {name}" for name in finding)
        counted.update(f"limits have {name}" for name in finding.get("L", ()))
        counted.update(f"finding suspect: {suspect[0]}" for suspect in finding.get("su", ()))
        if finding.get("w"):
            counted[f"not proven, would be {finding['w']}"] += 1
    counted.update(f"mark: {why}" for each in sheet["marks"].values() for why in each)


def main() -> int:
    """Write the file and say what is in it."""
    packs = texts()
    reader = Reader(packs)
    counted: Counter[str] = Counter()
    made = []
    for sheet in all_sheets(reader):
        made.append(sheet)
        tally(sheet, counted)
    size = write(packs, made)
    for what, count in sorted(counted.items()):
        print(f"{count:7} {what}")  # noqa: T201 - this is a command
    print(f"{len(made)} sheets, {sum(len(s[GUARDED]['findings']) for s in made)} findings, {size} bytes")  # noqa: T201
    return 0


if __name__ == "__main__":
    sys.exit(main())
