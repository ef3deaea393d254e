"""Which rules the gauges at hand can decide: a line for each that they cannot, with the kinds that could."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from specrules.inspection.gauge_capability import Capable
from specrules.output.lines import Line, folded, line
from specrules.output.telling import unable_text
from specrules.output.words import short
from specrules.quantity import fixed

_DIGITS = 5


def able_lines(found: Sequence[Capable]) -> Iterator[Line]:
    """What the gauges of a sheet cannot decide, group by group; what they can in one line."""
    cannot = [each for each in found if each.unable is not None]
    for group, rules in groupby(cannot, key=lambda each: each.group):
        yield line((group.upper(), "heading"))
        for each in rules:
            yield from folded(f"{short(each.title)}: {_numbers(each)}", 2, hang=4)
            if each.unable is not None:
                yield from folded(unable_text(each.unable), 4)
        yield line()
    can = [short(each.title) for each in found if each.unable is None]
    if can:
        yield from folded(f"{'; '.join(can)}.", 0, "Can be decided: ", hang=2)
    number = f"{len(cannot)} of {len(found)} tolerances are narrower than four times U of their gauges."
    yield line((number if cannot else "These gauges can decide every tolerance that has a width.", "heading"))


def _numbers(each: Capable) -> str:
    assert each.width is not None
    U, width = (fixed(amount, _DIGITS) for amount in (each.U, each.width))
    return f"U {U}, width {width} {each.unit.symbol}".rstrip()
