"""Between which values the gauges at hand leave no doubt, and what would leave less."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from specrules.inspection.gauge_capability import Capable
from specrules.output.lines import Line, folded, line
from specrules.output.reasons import said
from specrules.output.telling import sources_of_figures
from specrules.output.words import listed, many, short
from specrules.quantity import fixed

_DIGITS = 5


def able_lines(found: Sequence[Capable]) -> Iterator[Line]:
    """The tolerances that gauges leave little of, group by group; the rest in one line."""
    narrow = [each for each in found if each.narrow]
    for group, of_group in groupby(narrow, key=lambda each: each.group):
        rules = list(of_group)
        yield line((group.upper(), "heading"))
        for each in rules:
            yield from folded(f"{short(each.title)}: {_beyond_doubt(each)}", 2, hang=4)
            if each.better:
                yield from folded(_better(each), 4)
        for text in sources_of_figures(figure for each in rules for figure in each.figures):
            yield from folded(text, 2, "by ", hang=4, style="quiet")
        yield line()
    can = [short(each.title) for each in found if not each.narrow]
    if can:
        yield from folded(f"{'; '.join(can)}.", 0, "Decided with ease: ", hang=2)
    narrower = "is narrower than four times U of its" if len(narrow) == 1 else "are narrower than four times U of their"
    number = f"{len(narrow)} of {many(len(found), 'tolerance')} {narrower} gauges."
    yield line((number if narrow else "Every tolerance that has a width is four times U of its gauges.", "heading"))


def _beyond_doubt(each: Capable) -> str:
    ends = [(word, end) for word, end in (("from", each.least), ("to", each.most)) if end is not None]
    between = " ".join(f"{word} {fixed(end, _DIGITS)}" for word, end in ends)
    down, up, width = (fixed(amount, _DIGITS) for amount in (each.down, each.up, each.width))
    U = down if down == up else f"-{down} +{up}"
    sure = f"in spec beyond doubt {between}" if between else "no value would be in spec beyond doubt"
    return f"{sure}; U {U}, width {width} {each.unit.symbol}".rstrip()


def _better(each: Capable) -> str:
    """What brings U below a quarter of the width, the first of each kind."""
    first = {way.how.code: way for way in reversed(each.better)}
    ways = [f"{said(way.how)} (U {fixed(way.U, _DIGITS)})" for way in reversed(first.values())]
    return f"For a quarter of the width, {listed(ways, 'or')}."
