"""Values drawn in SVG: those of a check side by side against its limits, and parts in the shape that was measured."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from math import cos, radians, sin
from typing import NamedTuple
from xml.etree.ElementTree import Element

from specrules.output.drawing import share_of_way, svg, turned
from specrules.output.markup import element

WIDE, HIGH = 84.0, 25.0
"""How large a drawing of values is, in millimetres on paper."""
LEFT, TOP, BOTTOM = 15.0, 2.0, 20.0
"""Where its values begin, and between which heights they lie."""
_LINE = {"stroke": "#000", "stroke-width": "0.25", "fill": "none"}
SHAPES: Mapping[str, str] = {
    "disc": "inside the limits",
    "triangle": "worn, inside the wear limit",
    "open disc": "inside, nearer to a limit than can be told",
    "open square": "beyond, nearer to a limit than can be told",
    "square": "beyond a limit",
    "diamond": "inside, but something that it needs is lacking",
    "open diamond": "doubtful: a reading looks like a slip",
    "cross": "stale: read before later work",
}
"""Every mark by its shape, with what it says: no two are told apart by colour."""


class ValueDrawn(NamedTuple):
    """A value at a station: from low to high (None: open at that end; both: not known), with U either way, as a mark of
    some shape; its limits there, by part."""

    at: str
    low: float | None
    high: float | None
    U: float
    shape: str
    limits: Mapping[str, float]


def values(drawn: Sequence[ValueDrawn], pairs: bool = False) -> Element | None:
    """The values of a check, its stations side by side, each against its limits: one that is not known leaves its place
    empty, one that is open at an end runs to the edge. None where no value is known, or nothing has a height. `pairs`:
    they are two and two what the value at a station was and what it is, which a line joins."""
    known = [end for each in drawn for end in _reach(each) if end is not None]
    ends = [*known, *(limit for each in drawn for limit in each.limits.values())]
    if not known or min(ends) == max(ends):
        return None
    low, high, step = min(ends), max(ends), (WIDE - LEFT) / len(drawn)

    def y(value: float) -> float:
        return BOTTOM - (value - low) / (high - low) * (BOTTOM - TOP)

    parts: list[Element] = []
    for number, each in enumerate(drawn):
        parts += _limits(each.limits, LEFT + number * step, step, y)
    parts += _figures(drawn, y)
    for number in range(0, len(drawn), 2) if pairs else ():
        parts += _joined(drawn[number], drawn[number + 1], LEFT + (number + 0.5) * step, step, y)
    together = 2 if pairs else 1
    for number, each in enumerate(drawn):
        x, room = LEFT + (number + 0.5) * step, together * step
        parts += _value(each, x, y)
        if number % together == 0:
            size = min(2.4, room / (0.62 * max(len(each.at), 1)))
            middle = {
                "x": f"{x + (room - step) / 2:.2f}",
                "y": "24",
                "text-anchor": "middle",
                "font-size": f"{size:.2f}",
            }
            parts.append(element("text", middle, each.at))
    return svg(f"{len(drawn)} values to scale against their limits; the table has them.", WIDE, HIGH, parts)


def _reach(drawn: ValueDrawn) -> tuple[float | None, float | None]:
    """From where to where a value may lie."""
    return None if drawn.low is None else drawn.low - drawn.U, None if drawn.high is None else drawn.high + drawn.U


def _value(drawn: ValueDrawn, x: float, y: Callable[[float], float]) -> Iterator[Element]:
    """A bar from where to where a value may lie, with its mark in the middle, or at the end that is known."""
    middle = _middle(drawn)
    if middle is None:
        return
    low, high = _reach(drawn)
    ends = {"y1": f"{TOP if high is None else y(high):.3f}", "y2": f"{BOTTOM if low is None else y(low):.3f}"}
    yield element("line", {**_LINE, "x1": f"{x:.3f}", "x2": f"{x:.3f}", **ends})
    stands = {"data-at": drawn.at, "data-shape": drawn.shape}
    stands |= {f"data-{name}": repr(end) for name, end in (("low", drawn.low), ("high", drawn.high)) if end is not None}
    yield mark(drawn.shape, x, y(middle), stands)


def _middle(drawn: ValueDrawn) -> float | None:
    """Where the mark of a value lies: between its ends, or at the one that is known."""
    known = [end for end in (drawn.low, drawn.high) if end is not None]
    return sum(known) / len(known) if known else None


def _joined(was: ValueDrawn, now: ValueDrawn, x: float, step: float, y: Callable[[float], float]) -> Iterator[Element]:
    """A line from what a value was to what it is, where both are known."""
    one, other = _middle(was), _middle(now)
    if one is not None and other is not None:
        ends = {"x1": f"{x:.3f}", "y1": f"{y(one):.3f}", "x2": f"{x + step:.3f}", "y2": f"{y(other):.3f}"}
        yield element("line", {**_LINE, **ends, "stroke": "#777", "data-joins": was.at})


def _limits(limits: Mapping[str, float], x: float, wide: float, y: Callable[[float], float]) -> Iterator[Element]:
    """The band between the limits of one station, open where there is none, and a line for each of them."""
    across = {"x": f"{x:.3f}", "width": f"{wide:.3f}"}
    if {"least", "most"} & limits.keys():
        top = y(limits["most"]) if "most" in limits else TOP
        low = y(limits["least"]) if "least" in limits else BOTTOM
        yield element(
            "rect", {**across, "y": f"{min(top, low):.3f}", "height": f"{abs(low - top):.3f}", "fill": "#e4e4e4"}
        )
    for part, number in limits.items():
        dash = {"stroke-dasharray": _DASHES[part]} if part in _DASHES else {}
        ends = {"x1": f"{x:.3f}", "x2": f"{x + wide:.3f}", "y1": f"{y(number):.3f}", "y2": f"{y(number):.3f}"}
        yield element("line", {**_LINE, **dash, **ends, "data-part": part, "data-value": repr(number)})


_DASHES = {"aim": "1.2 0.8", "wear least": "0.4 0.6", "wear most": "0.4 0.6"}


def _figures(drawn: Sequence[ValueDrawn], y: Callable[[float], float]) -> Iterator[Element]:
    """Beside the limits that are the same at all stations, to four digits, their figures, none on another."""
    taken: list[float] = []
    first = drawn[0].limits
    for part in sorted(first, key=lambda each: y(first[each])):
        texts = {f"{each.limits[part]:.4g}" if part in each.limits else "" for each in drawn}
        if len(texts) > 1:
            continue
        at = max([y(first[part]) + 0.8, *(other + 2.3 for other in taken)])
        taken.append(at)
        said = f"{part} {texts.pop()}"
        size = min(2.2, (LEFT - 0.8) / (0.62 * len(said)))
        where = {"x": f"{LEFT - 0.6:g}", "y": f"{at:.2f}", "text-anchor": "end", "font-size": f"{size:.2f}"}
        yield element("text", where, said)


def mark(shape: str, x: float, y: float, stands_for: dict[str, str]) -> Element:
    """A mark of some shape, its middle at a place."""
    r = 1.0
    if shape in ("disc", "open disc"):
        paint = {"fill": "#000" if shape == "disc" else "#fff", "stroke": "#000", "stroke-width": "0.3"}
        return element("circle", {"cx": f"{x:.3f}", "cy": f"{y:.3f}", "r": f"{r:g}", **paint, **stands_for})
    corners = {
        "square": ((-r, -r), (r, -r), (r, r), (-r, r)),
        "open square": ((-r, -r), (r, -r), (r, r), (-r, r)),
        "triangle": ((0, -1.2 * r), (1.1 * r, r), (-1.1 * r, r)),
        "diamond": ((0, -1.4 * r), (1.4 * r, 0), (0, 1.4 * r), (-1.4 * r, 0)),
        "open diamond": ((0, -1.4 * r), (1.4 * r, 0), (0, 1.4 * r), (-1.4 * r, 0)),
        "cross": ((-r, -r), (0, 0), (r, -r), (0, 0), (r, r), (0, 0), (-r, r), (0, 0)),
    }[shape]
    points = " ".join(f"{x + dx:.3f},{y + dy:.3f}" for dx, dy in corners)
    empty = shape.startswith("open") or shape == "cross"
    paint = {"fill": "#fff" if empty else "#000", "stroke": "#000", "stroke-width": "0.4" if empty else "0.2"}
    return element("polygon", {"points": points, **paint, **stands_for})


class SizeDrawn(NamedTuple):
    """A reading of a part: its labels by axis, and the size."""

    position: Mapping[str, str]
    size: float


LARGEST = 1.8
"""Millimetres by which the largest difference of a shape is drawn."""
_PART, _HALF = 17.0, 4.0
"""How much room each part has across; half its width, and the radius of its section."""
_FROM_SIDE, _IN_SECTION = 17.0, 15.0
_ROWS = 10


def shapes(
    stations: Mapping[str, Sequence[SizeDrawn]], lies: Mapping[str, str], order: Mapping[str, Sequence[str]]
) -> Element | None:
    """Parts side by side, each from the side as its sizes run along it and in section as they go round it. The
    differences within each are drawn so large that the largest of all is `LARGEST`; those between parts are left out.
    `order`: the labels of each axis. None where no part differs, or nothing says where its sizes lie."""
    lying = {axis: lies.get(axis, "") for axis, labels in order.items() if len(labels) > 1}
    along = next((axis for axis, how in lying.items() if how in ("along", "down")), "")
    around = next((axis for axis, how in lying.items() if how == "around"), "")
    differ = max(
        (max(sizes) - min(sizes) for each in stations.values() if (sizes := [one.size for one in each])), default=0
    )
    if not (along or around) or not differ:
        return None
    row = 4.0 + (_FROM_SIDE if along else 0) + (_IN_SECTION if around else 0)
    parts: list[Element] = []
    for number, (name, readings) in enumerate(stations.items()):
        off = {axis: _means(readings, axis, LARGEST / differ) for axis in filter(None, (along, around))}
        size = min(2.4, (_PART - 0.5) / (0.62 * max(len(name), 1)))
        title = {"x": f"{_PART / 2:g}", "y": "2.6", "text-anchor": "middle", "font-size": f"{size:.2f}"}
        inner = [element("text", title, name)]
        if along and off[along]:
            inner += _profile(share_of_way(order[along]), off[along], lying[along] == "down")
        if around and off[around]:
            inner += _section(turned(order[around]), off[around], 4.0 + (_FROM_SIDE if along else 0) + _IN_SECTION / 2)
        where = f"translate({number % _ROWS * _PART:g} {number // _ROWS * row:g})"
        parts.append(element("g", {"transform": where, "data-station": name}, inner))
    rows, wide = -(-len(stations) // _ROWS), min(len(stations), _ROWS) * _PART
    return svg(f"Shapes of {', '.join(stations)}, differences enlarged", wide, rows * row, parts)


def largest_difference(stations: Mapping[str, Sequence[SizeDrawn]]) -> float:
    """The largest difference of sizes within one part."""
    sizes = [[each.size for each in readings] for readings in stations.values() if readings]
    return max((max(each) - min(each) for each in sizes), default=0.0)


def _means(readings: Sequence[SizeDrawn], axis: str, times: float) -> Mapping[str, float]:
    """By label of an axis, how far the mean of what was read there lies from that of the part, as it is drawn."""
    middle = sum(each.size for each in readings) / len(readings)
    found: dict[str, list[float]] = {}
    for each in readings:
        if axis in each.position:
            found.setdefault(each.position[axis], []).append(each.size)
    return {label: (sum(sizes) / len(sizes) - middle) * times for label, sizes in found.items()}


def _profile(shares: Mapping[str, float], off: Mapping[str, float], down: bool) -> Iterator[Element]:
    """A part from the side: its two edges, at each place as far apart as was measured there."""
    centre, high = _PART / 2, _FROM_SIDE - 4

    def at(share: float, away: float) -> tuple[float, float]:
        return (centre + away, 5 + share * high) if down else (centre - high / 2 + share * high, 5 + high / 2 + away)

    there = [(label, share) for label, share in shares.items() if label in off]
    for side in (-1, 1):
        points = [at(share, side * (_HALF + off[label])) for label, share in there]
        plain = [at(share, side * _HALF) for _, share in there]
        yield element("polyline", {**_LINE, "stroke": "#777", "stroke-dasharray": "0.6 0.6", "points": _points(plain)})
        yield element("polyline", {**_LINE, "stroke-width": "0.4", "points": _points(points)})
        for (label, _), (x, y) in zip(there, points, strict=True):
            spot = {"cx": f"{x:.3f}", "cy": f"{y:.3f}", "r": "0.5", "fill": "#000"}
            yield element("circle", {**spot, "data-place": label, "data-off": f"{off[label]:.4f}"})


def _section(ways: Mapping[str, float], off: Mapping[str, float], y: float) -> Iterator[Element]:
    """A part in section: as wide each way across as was measured there, and smooth between."""
    x = _PART / 2
    there = sorted((degrees % 180, off[label], label) for label, degrees in ways.items() if label in off)
    rounded = [(degree, _HALF + _between(there, degree)) for degree in range(0, 360, 6)]
    outline = [(x - radius * sin(radians(d)), y - radius * cos(radians(d))) for d, radius in rounded]
    plain = {"cx": f"{x:g}", "cy": f"{y:g}", "r": f"{_HALF:g}"}
    yield element("circle", {**_LINE, **plain, "stroke": "#777", "stroke-dasharray": "0.6 0.6"})
    yield element("polygon", {**_LINE, "stroke-width": "0.4", "points": _points(outline)})
    for degrees, away, label in there:
        dx, dy = (_HALF + away) * sin(radians(degrees)), (_HALF + away) * cos(radians(degrees))
        for side in (-1, 1):
            spot = {"cx": f"{x - side * dx:.3f}", "cy": f"{y - side * dy:.3f}", "r": "0.5", "fill": "#000"}
            yield element("circle", {**spot, "data-place": label, "data-off": f"{away:.4f}"})


def _between(there: Sequence[tuple[float, float, str]], degree: float) -> float:
    """How far off a section is at an angle: between two ways across it goes over smoothly."""
    turned_by = degree % 180
    after = next((i for i, (at, _, _) in enumerate(there) if at > turned_by), len(there))
    low, high = there[after - 1], there[after % len(there)]
    span = (high[0] - low[0]) % 180 or 180
    share = ((turned_by - low[0]) % 180) / span
    return low[1] + (high[1] - low[1]) * (1 - cos(radians(180 * share))) / 2


def _points(points: Sequence[tuple[float, float]]) -> str:
    return " ".join(f"{x:.3f},{y:.3f}" for x, y in points)
