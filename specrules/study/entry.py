"""The gauge's entry for a build sheet, to paste: its class, its repeatability, and what that figure rests on."""

from __future__ import annotations

import re
from decimal import Decimal

from specrules.document.source import quoted
from specrules.quantity import fixed
from specrules.study.analysis import Analysis
from specrules.study.study_parts import Study

DIGITS = 3
"""Significant digits of a repeatability; its uncertainty is seldom below a tenth of it."""

ENOUGH = 10
"""Degrees of freedom from which the scatter of one's own readings counts even below the figure for the class."""

_PLAIN = re.compile(r"[A-Za-z][A-Za-z0-9./-]*(?: [A-Za-z0-9./-]+)*")
_NOT_TEXT = ("open", "yes", "no", "on", "off", "true", "false", "null")


def gauge_entry(study: Study, analysis: Analysis) -> str:
    """The lines to paste under a sheet, as YAML. A repeatability of zero is never written: the step hides it."""
    found = analysis.repeatability
    on = f" of {study.on}" if study.on is not None else ""
    if found.freedom is None:
        tail = [f"    # the study{on} shows no scatter at all, so the class figure stands"]
    else:
        figure, freedom = fixed(found.deviation, places_for(found.deviation)), freedom_text(found.freedom)
        tail = [
            f"    repeatability: {figure} {study.unit.symbol}",
            f"    # the study{on} gave it with {freedom} degree{'s' * (freedom != '1')} of freedom,",
            "    # by analysis of variance",
        ]
    together = analysis.together
    if together is not None and together.variance > found.variance:
        figure = fixed(together.deviation, places_for(together.deviation))
        tail.append(f"    # {figure} {study.unit.symbol} where any of its operators may take a reading")
    head = ["gauges:", f"  {_text(study.gauge)}:", f"    class: {_text(study.gauge_class)}"]
    return "\n".join([*head, *tail]) + "\n"


def places_for(deviation: Decimal) -> int:
    """Decimals that show a standard deviation above zero to so many significant digits."""
    return max(0, DIGITS - 1 - deviation.adjusted())


def freedom_text(freedom: float) -> str:
    """Degrees of freedom as they are used: cut off, never rounded up (GUM G.4.1)."""
    return str(int(freedom)) if freedom >= ENOUGH or freedom == int(freedom) else str(int(freedom * 10) / 10)


def _text(name: str) -> str:
    """A name as YAML takes it: in quotes wherever it could be read as anything else."""
    return name if _PLAIN.fullmatch(name) and name.lower() not in _NOT_TEXT else quoted(name)
