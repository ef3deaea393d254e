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

    def column(number: Decimal) -> int:
        return round(_LEFT + (number - low) / (high - low) * (_RIGHT - _LEFT))

    at = column(value)
    row = [" "] * WIDTH
    row[_LEFT : _RIGHT + 1] = "─" * (_RIGHT - _LEFT + 1)
    for i in range(max(at, 0), _LEFT):
        row[i] = "─"
    for i in range(_RIGHT + 1, min(at, WIDTH - 1) + 1):
        row[i] = "─"
    if least is not None:
        row[_LEFT] = "┼" if at < _LEFT else "├"
    if most is not None:
        row[_RIGHT] = "┼" if at > _RIGHT else "┤"
    if aim is not None and low < aim < high:
        row[column(aim)] = "┼"
    if least is not None and value < least:
        at = min(at, _LEFT - 1)  # beyond is drawn beyond, however little
    if most is not None and value > most:
        at = max(at, _RIGHT + 1)
    row[min(max(at, 0), WIDTH - 1)] = "◄" if at < 0 else "►" if at >= WIDTH else "●"
    return "".join(row).rstrip()
