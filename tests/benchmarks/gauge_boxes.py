"""How many verdicts of one engine each of five boxes of gauges can carry: `python -m tests.benchmarks.gauge_boxes`.

The readings are the demo's and are the same in each box; only what is said of the gauges differs. Zero errors are left
out, so that no box reads anything else than another.
"""

from __future__ import annotations

import re
import sys
from collections import Counter
from collections.abc import Iterator, Mapping
from pathlib import Path

from specrules.inspection import Options
from specrules.vocabulary import Verdict
from tests.inspecting import inspected, whole

DEMO = Path(__file__).parents[2] / "specrules" / "demo" / "carousel.sheet.yaml"
SIZES = {
    *("main_journal", "main_bearing_bore", "main_housing", "rod_journal", "rod_bearing_bore", "rod_housing"),
    *("cylinder_bore", "piston_skirt"),
}
"""What micrometers and bore gauges measured; a verdict counts here if it rests on nothing else."""
HELD_BY = {"card_bore"}
"""What is stated, and only says whether there are figures."""

NAMES = ("mic 2-3", "mic 4-5", "bore gauge", "cylinder gauge")
"""The gauges of the demo that a box replaces, outside and inside by turns of size."""

MICROMETERS = {"mic 2-3": "class: outside micrometer", "mic 4-5": "class: large outside micrometer"}


def inside(kind: str, small: str, large: str) -> dict[str, str]:
    """Gauges for both sizes of hole, and what they are set with."""
    return {
        "bore gauge": f"class: {kind}, set with: {small}",
        "cylinder gauge": f"class: {kind}, set with: {large}",
    }


RINGS = {"ring 2-3": "class: setting ring X", "ring 4-5": "class: setting ring X"}
BOXES: Mapping[str, Mapping[str, str]] = {
    "none named": {},
    "calipers, inside and outside jaws": {
        name: f"class: {'inside jaws' if 'gauge' in name else 'caliper'}" for name in NAMES
    },
    "micrometers, and telescoping gauges carried to them": MICROMETERS
    | inside("telescoping gauge", "mic 2-3", "mic 4-5"),
    "micrometers, and dial bore gauges set from them": MICROMETERS | inside("bore gauge", "mic 2-3", "mic 4-5"),
    "micrometers, and dial bore gauges set with rings": MICROMETERS
    | RINGS
    | inside("bore gauge", "ring 2-3", "ring 4-5"),
}
"""Box -> gauge -> what is said of it. Jaws for two sizes count as two, as they are worn in two places."""


def with_box(text: str, box: Mapping[str, str]) -> str:
    """The demo's sheet with another box of gauges."""
    rows = "".join(f"  {name}: {{{said}}}\n" for name, said in box.items())
    text = re.sub(r"^gauges:\n(  .*\n)+?(?=  blades)", f"gauges:\n{rows}", text, count=1, flags=re.MULTILINE)
    for name in NAMES if not box else ():
        text = text.replace(f"    gauge: {name}\n", "")
    return text


def verdicts(box: Mapping[str, str]) -> Counter[Verdict]:
    """The verdicts that rest on sizes alone, with this box, under guarded acceptance."""
    found = inspected(with_box(DEMO.read_text(encoding="utf-8"), box), {}, Options(decision="guarded"))
    return Counter(
        finding.verdict
        for finding in map(whole, found.findings)
        if finding.inputs and {each.name for each in finding.inputs} - HELD_BY <= SIZES
    )


SHOWN = (Verdict.IN_SPEC, Verdict.JUST_IN, Verdict.JUST_OUT, Verdict.OUT, Verdict.NOT_PROVEN)


def table() -> Iterator[str]:
    """The table of the README, line by line."""
    yield f"| gauges | {' | '.join(map(str, SHOWN))} |"
    yield f"| --- | {' | '.join('--:' for _ in SHOWN)} |"
    for name, box in BOXES.items():
        counted = verdicts(box)
        assert set(counted) <= {*SHOWN, Verdict.NOT_MEASURED, Verdict.NOT_APPLICABLE}
        yield f"| {name} | {' | '.join(str(counted[verdict]) for verdict in SHOWN)} |"


if __name__ == "__main__":
    sys.stdout.write("\n".join(table()) + "\n")
