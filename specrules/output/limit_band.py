"""A value drawn against its limits in one line of characters."""

from __future__ import annotations

from decimal import Decimal

WIDTH = 25
_LEFT, _RIGHT = 5, 21


def band(value: Decimal, least: Decimal | None, aim: Decimal | None, most: Decimal | None) -> str:
    """The band between the limits with the value on it; one that is far beyond stands at the edge as an arrow.

    A band with one limit alone is drawn from zero, or to twice the limit. Empty where there is nothing to draw.
    """
    low, high = least, most
    if low is None and high is not None:
        low = min(Decimal(0), high)
    elif high is None and low is not None:
        high = low + abs(low)
    if low is None or high is None or low >= high:
        return ""
    scale = (_RIGHT - _LEFT) / (high - low)

    def column(number: Decimal) -> int:
        return round(min(max(_LEFT + (number - low) * scale, Decimal(-1)), Decimal(WIDTH)))

    at = column(value)
    if least is not None and value < least:
        at = min(at, _LEFT - 1)  # beyond is drawn beyond, however little
    elif least is not None:
        at = max(at, _LEFT)
    if most is not None and value > most:
        at = max(at, _RIGHT + 1)
    elif most is not None:
        at = min(at, _RIGHT)
    row = [" "] * WIDTH
    for i in range(max(min(at, _LEFT), 0), min(max(at, _RIGHT), WIDTH - 1) + 1):
        row[i] = "─"
    if least is not None:
        row[_LEFT] = "┼" if at < _LEFT else "├"
    if most is not None:
        row[_RIGHT] = "┼" if at > _RIGHT else "┤"
    if aim is not None and low < aim < high:
        row[column(aim)] = "┼"
    row[min(max(at, 0), WIDTH - 1)] = "◄" if at < 0 else "►" if at >= WIDTH else "●"
    return "".join(row).rstrip()
