"""Which axes an expression lies along: how operands meet by axis name, and how labels are found at a station."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from itertools import product
from typing import TYPE_CHECKING

from specrules.formula.scope import Declared, Scope
from specrules.formula.tokens import Refused
from specrules.quantity import nearest

if TYPE_CHECKING:
    from specrules.formula.formula import Bench

Axes = tuple[str, ...]
Key = tuple[str, ...]
"""Labels, one for each axis of an expression, in the order of its axes."""

Station = Mapping[str, str]
Label = Callable[["Bench", Station], str]
"""Finds the label on one axis at a station."""


def join(left: Axes, right: Axes, scope: Scope) -> Axes:
    """The axes of two operands together. Where one axis groups another the finer one stands for both."""
    if left == right or not right:
        return left
    both = left + tuple([axis for axis in right if axis not in left])
    return tuple([axis for axis in both if scope.axes[axis].of not in both])


def without(axes: Axes, axis: str, at: int) -> Axes:
    """The axes left when one is taken away by a reducer; all of them where none is named. Raises Refused."""
    if not axis:
        return ()
    if axis not in axes:
        lies = f"lies along {', '.join(axes)}" if axes else "is one value here"
        offered = axes[0] if len(axes) == 1 else nearest(axis, axes) or " or ".join(axes)
        raise Refused(f"reduces along {axis}, and what it reduces {lies}", offered, at)
    return tuple([other for other in axes if other != axis])


def keys(bench: Bench, axes: Axes, station: Station) -> list[Key]:
    """Every key of the axes at a station, the last axis fastest."""
    return list(product(*(bench.labels(axis, station) for axis in axes)))


def projector(wide: Axes, narrow: Axes, scope: Scope) -> Callable[[Bench, Key], Key]:
    """Takes a key on the wide axes to the key of an operand on fewer or coarser ones."""
    if wide == narrow:
        return lambda _bench, key: key
    if not narrow:
        return lambda _bench, _key: ()
    steps: list[tuple[int, str, str]] = []
    for axis in narrow:
        if axis in wide:
            steps.append((wide.index(axis), axis, axis))
        else:
            finer = scope.axes[axis].of
            steps.append((wide.index(finer), finer, axis))

    def project(bench: Bench, key: Key) -> Key:
        return tuple([key[i] if finer == axis else bench.group(finer, key[i], axis) for i, finer, axis in steps])

    return project


def place(known: Declared, picks: Mapping[str, str], each: Axes, scope: Scope) -> tuple[list[Label | None], Axes]:
    """For each axis of a name: how its label is found (None: the axis stays free), and the axes that stay free."""
    finders = [_finder(axis, picks, each, scope) for axis in known.axes]
    return finders, tuple([axis for axis, finder in zip(known.axes, finders, strict=True) if finder is None])


def _finder(axis: str, picks: Mapping[str, str], each: Axes, scope: Scope) -> Label | None:
    if axis in picks:
        label = picks[axis]
        return lambda _bench, _station: label
    if axis in each:
        return lambda _bench, station: station[axis]
    finer = scope.axes[axis].of
    if finer in each:
        return lambda bench, station: bench.group(finer, station[finer], axis)
    return None


def labels_at(finders: Sequence[Label | None]) -> Callable[[Bench, Station], Key]:
    """The labels of a name of which no axis is free."""
    fixed = [finder for finder in finders if finder is not None]
    if not fixed:
        return lambda _bench, _station: ()
    if len(fixed) == 1:
        (one,) = fixed
        return lambda bench, station: (one(bench, station),)
    return lambda bench, station: tuple([finder(bench, station) for finder in fixed])
