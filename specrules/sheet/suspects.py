"""Readings that look like a known slip of the hand, by the written numbers alone. Nothing is put right here."""

from __future__ import annotations

from itertools import groupby

from specrules.pack import Stack
from specrules.sheet.family import Suspect, families
from specrules.sheet.parts import Sheet
from specrules.sheet.slips import SLIPS

__all__ = ["Suspect", "suspects"]


def suspects(sheet: Sheet, stack: Stack) -> tuple[Suspect, ...]:
    """Every reading that looks like a slip, each once, with the most particular thing that can be said of it."""
    found: list[Suspect] = []
    for name, group in groupby(sheet.readings, key=lambda reading: reading.name):
        measurand = stack.measurands[name]
        kinds = [place for place, axis in enumerate(measurand.at) if stack.axes[axis].names]
        for family in families(list(group), measurand, kinds):
            looked_at = (slip(family) for slip in SLIPS)
            found.extend([suspect for suspect in looked_at if suspect is not None][:1])
    return tuple(found)
