"""A repeatability study as a person reads it: each scatter, how sure it is, what was found, the entry to paste."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction
from math import isfinite

from specrules.output.lines import Line, folded, line, spread
from specrules.output.words import many
from specrules.quantity import CONTEXT, fixed
from specrules.study import Analysis, Component, Study, gauge_entry
from specrules.study.analysis import LEVEL
from specrules.study.components import COVERAGE
from specrules.study.entry import ENOUGH, freedom_text, places_for

_ROW = "  {:<23}{:>10}{:>10}{:>9}  {}"
_NONE = "-"


def study_lines(study: Study, analysis: Analysis) -> list[Line]:
    """The whole study, ending with the lines to paste into a sheet."""
    return [
        *_head(study, analysis),
        line(),
        *_table(study, analysis),
        line(),
        *_meaning(study, analysis),
        line(),
        line(("For the sheet:", "heading")),
        line(),
        *(line(row) for row in gauge_entry(study, analysis).splitlines()),
    ]


def _head(study: Study, analysis: Analysis) -> Iterator[Line]:
    yield from spread(f"{study.gauge}: repeatability study", str(study.on or ""), "heading")
    who, what = many(len(study.operators), "operator"), many(len(study.parts), "part")
    often = many(study.repeats, "reading")
    mean = fixed(_decimal(analysis.mean), _places(study, analysis))
    yield from folded(f"{study.gauge_class}; {who}, {what}, {often} each; mean {mean} {study.unit.symbol}")


def _table(study: Study, analysis: Analysis) -> Iterator[Line]:
    between = f"{100 * COVERAGE:.0f} % interval"
    yield line((_ROW.format(f"unit: {study.unit.symbol}", "s", "u(s)", "freedom", between), "quiet"))
    places = _places(study, analysis)
    rows = [
        ("repeatability", analysis.repeatability),
        ("reproducibility", analysis.reproducibility),
        ("  on every part", analysis.by_operator if analysis.by_pair is not None else None),
        ("  part by part", analysis.by_pair),
        ("any of their readings", analysis.together),
        ("part to part", analysis.part_variation),
    ]
    for title, found in rows:
        if found is not None:
            yield line(_row(title, found, places))


def _row(title: str, found: Component, places: int) -> str:
    uncertainty = _NONE if found.uncertainty is None else fixed(found.uncertainty, places)
    freedom = _NONE if found.freedom is None else freedom_text(found.freedom)
    ends = "too little freedom" if found.freedom is not None else "not seen"
    if found.interval is not None:
        ends = f"{fixed(found.interval.low, places)} to {fixed(found.interval.high, places)}"
    return _ROW.format(title, fixed(found.deviation, places), uncertainty, freedom, ends)


def _meaning(study: Study, analysis: Analysis) -> Iterator[Line]:
    yield from folded("s is a standard deviation, u(s) its standard uncertainty, freedom its degrees of freedom.")
    yield from folded(
        "By analysis of variance. By ranges the same readings give other figures, and too small ones where operators "
        "read parts differently."
    )
    yield from _repeatability(study, analysis)
    yield from _operators(study, analysis)
    if analysis.part_variation is None:
        yield from folded("One part was read, so part variation is not estimated.")
    for title, found in (
        ("operators", analysis.by_operator),
        ("part variation", analysis.part_variation),
    ):
        if found is not None and found.negative:
            said = (
                f"The variance of {title} came out below zero and was set to zero: the readings' own scatter hides it."
            )
            yield from folded(said)
    if (odd := analysis.straggler) is not None:
        said = (
            f"{odd.operator}'s readings of part {odd.part} spread more than those of the rest allow (Cochran's test, "
            f"ISO 5725-2: chance {_chance(odd.chance)}). Read it again; nothing was left out."
        )
        yield from folded(said, style="doubt")


def _repeatability(study: Study, analysis: Analysis) -> Iterator[Line]:
    found = analysis.repeatability
    if found.freedom is None:
        yield from folded(
            "Every reading was the same each time, so the gauge's step hides its repeatability.", style="doubt"
        )
        return
    step = _decimal(study.step)
    if found.deviation < step / 2:
        shown = f"{fixed(step, max(0, -step.adjusted()))} {study.unit.symbol}"
        said = (
            f"Repeatability is under half a step of the readings ({shown}), so the step takes part in it or hides it."
        )
        yield from folded(said, style="doubt")
    if found.freedom < ENOUGH:
        said = f"Fewer than {ENOUGH} degrees of freedom: where this is below the figure for the class, use that one."
        yield from folded(said, style="doubt")


def _operators(study: Study, analysis: Analysis) -> Iterator[Line]:
    if analysis.reproducibility is None:
        yield from folded("One operator read, so reproducibility is not estimated.")
        return
    yield from folded("Reproducibility is what changes with the operator; nothing else was changed.")
    if (interplay := analysis.interplay) is not None:
        ends = (
            "some operators read some parts differently, and it counts as reproducibility."
            if interplay.kept
            else "no sign that operators read parts differently, so it is pooled into repeatability."
        )
        ratio = f"{interplay.ratio:.2f}" if isfinite(interplay.ratio) else "infinite"
        said = (
            f"Operators by parts: F {ratio} on {interplay.found.freedom} and {analysis.repeats.freedom} "
            f"degrees of freedom, chance {_chance(interplay.chance)} against a level of {LEVEL} (our choice): {ends}"
        )
        yield from folded(said)
    else:
        yield from folded("With one part, what suits an operator to that part cannot be told from the operator.")
    places = _places(study, analysis)
    for bias in analysis.biases:
        size = fixed(abs(_decimal(bias.above)), places)
        which = "above" if bias.above >= 0 else "below"
        doubt = fixed(bias.uncertainty, places)
        yield from folded(f"{bias.operator} reads {size} {which} the mean of all (u {doubt})", 2, hang=4)


def _places(study: Study, analysis: Analysis) -> int:
    """Decimals for every figure of the study: the repeatability's, or one more than the readings have."""
    found = analysis.repeatability.deviation
    return places_for(found) if found else max(0, 1 - _decimal(study.step).adjusted())


def _decimal(value: Fraction) -> Decimal:
    return CONTEXT.divide(Decimal(value.numerator), Decimal(value.denominator))


def _chance(chance: float) -> str:
    return "under 0.001" if chance < 0.001 else f"{chance:.3f}"
