"""Whether something said of some stations (work, a signature, a concession) touches another station."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from specrules.formula import Axis, Station
from specrules.sheet.sheet_parts import Sheet

At = Mapping[str, tuple[str, ...]]
"""Axis -> labels; empty: everywhere."""


def touches(at: At, station: Station, sheet: Sheet, axes: Mapping[str, Axis]) -> bool:
    """Whether something done `at` those places concerns this station. What cannot be told apart is concerned."""
    return all(_meet(axis, labels, station, sheet, axes) for axis, labels in at.items())


def covered(ats: Iterable[At], station: Station, sheet: Sheet, along: Iterable[str]) -> bool:
    """Whether what was said at those places, all together, covers every label of this station on the axes `along`."""
    said = list(ats)
    if any(not at for at in said):
        return True
    axes = list(along)
    if not axes:
        return bool(said)
    axis = axes[0]
    labels = [station[axis]] if axis in station else list(sheet.labels.get(axis, ()))
    return bool(labels) and all(
        covered(
            [{a: where for a, where in at.items() if a != axis} for at in said if label in at.get(axis, (label,))],
            station,
            sheet,
            axes[1:],
        )
        for label in labels
    )


def _meet(axis: str, labels: tuple[str, ...], station: Station, sheet: Sheet, axes: Mapping[str, Axis]) -> bool:
    if axis in station:
        return station[axis] in labels
    for bound, label in station.items():
        if axes[axis].of == bound:
            return sheet.groups.get(axis, {}).get(label) in labels
        if axes[bound].of == axis:
            groups = sheet.groups.get(bound, {})
            return any(groups.get(member) == label for member in labels)
    return True
