"""Values drawn in SVG: those of a check side by side against its limits, and parts in the shape that was measured.

Each part is drawn about its own mean: differences between parts are in the table, those within one are what a shape
shows.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from math import cos, radians, sin
from typing import NamedTuple
from xml.etree.ElementTree import Element

from specrules.output.drawing import share_of_way, svg, turned
from specrules.output.markup import element
from specrules.output.recorded_limits import printed_by_part

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
    some shape; its limits there, by part, and the decimals that these are printed beside."""

    at: str
    low: float | None
    high: float | None
    U: float
    shape: str
    limits: Mapping[str, float]
    places: int = 0


READABLE, TALLEST = 1.5, 20.0
"""Millimetres: letters below this are too small to read; so far below a drawing the name of a station reaches."""
SAME = 0.02
"""Millimetres: limits of neighbours that lie no farther apart are drawn as one."""


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

    def x(number: float) -> float:
        return LEFT + number * step

    runs = list(_runs(drawn, y))
    bands = [each for first, limits, many in runs for each in _band(limits, x(first), many * step, y)]
    lines = [each for first, limits, many in runs for each in _limits(limits, x(first), many * step, y)]
    bars = [each for number, one in enumerate(drawn) for each in _bar(one, x(number + 0.5), y)]
    marks = [each for number, one in enumerate(drawn) for each in _value(one, x(number + 0.5), y)]
    together = 2 if pairs else 1
    joins = [_joined(drawn[n], drawn[n + 1], x(n + 0.5), x(n + 1.5), y) for n in range(0, len(drawn), 2) if pairs]
    at = [(x(number + together / 2), drawn[number].at) for number in range(0, len(drawn), together)]
    names, tall = _names(at, together * step)
    return svg(
        f"{len(drawn)} values to scale against their limits; the table has them.",
        WIDE,
        tall,
        [
            element("g", {"fill": "#e4e4e4"}, bands),
            element("g", _LINE, lines, bars),
            *_figures(drawn, y),
            *([element("g", {**_LINE, "stroke": "#777"}, joins)] if pairs else []),
            names,
            *marks,
        ],
    )


def _names(at: Sequence[tuple[float, str]], room: float) -> tuple[Element, float]:
    """What stands below each station, and how high the drawing is with that: it lies, or where it would be too small to
    be read so it stands."""
    longest = max(1, *(len(said) for _, said in at))
    lying, standing = (min(2.4, wide / (0.62 * longest)) for wide in (room, TALLEST))
    standing = min(standing, room)
    if lying >= min(READABLE, standing):
        texts = [element("text", {"x": short(x), "y": "24"}, said) for x, said in at]
        return element("g", {"text-anchor": "middle", "font-size": short(lying)}, texts), HIGH
    places = [(f"translate({short(x + 0.36 * standing)} {short(BOTTOM + 1.6)}) rotate(-90)", said) for x, said in at]
    texts = [element("text", {"transform": place}, said) for place, said in places]
    high = BOTTOM + 2.0 + 0.62 * standing * longest
    return element("g", {"text-anchor": "end", "font-size": short(standing)}, texts), high


def short(length: float) -> str:
    """A length on paper to a hundredth of a millimetre, with no nought behind it."""
    return f"{round(length, 2) + 0.0:g}"


def _reach(drawn: ValueDrawn) -> tuple[float | None, float | None]:
    """From where to where a value may lie."""
    return None if drawn.low is None else drawn.low - drawn.U, None if drawn.high is None else drawn.high + drawn.U


def _middle(drawn: ValueDrawn) -> float | None:
    """Where the mark of a value lies: between its ends, or at the one that is known."""
    known = [end for end in (drawn.low, drawn.high) if end is not None]
    return sum(known) / len(known) if known else None


def _joined(was: ValueDrawn, now: ValueDrawn, x1: float, x2: float, y: Callable[[float], float]) -> Iterator[Element]:
    """A line from what a value was to what it is, where both are known."""
    one, other = _middle(was), _middle(now)
    if one is not None and other is not None:
        ends = {"x1": short(x1), "y1": short(y(one)), "x2": short(x2), "y2": short(y(other))}
        yield element("line", {**ends, "data-joins": was.at})


def _bar(drawn: ValueDrawn, x: float, y: Callable[[float], float]) -> Iterator[Element]:
    """A bar from where to where a value may lie."""
    low, high = _reach(drawn)
    if _middle(drawn) is not None:
        ends = {"y1": short(TOP if high is None else y(high)), "y2": short(BOTTOM if low is None else y(low))}
        if ends["y1"] != ends["y2"]:
            yield element("line", {"x1": short(x), "x2": short(x), **ends})


def _value(drawn: ValueDrawn, x: float, y: Callable[[float], float]) -> Iterator[Element]:
    """The mark of a value in the middle of where it may lie, or at the end that is known."""
    middle = _middle(drawn)
    if middle is not None:
        stands = {"data-at": drawn.at, "data-shape": drawn.shape}
        named = (("value", drawn.low),) if drawn.low == drawn.high else (("low", drawn.low), ("high", drawn.high))
        stands |= {f"data-{name}": repr(end) for name, end in named if end is not None}
        yield mark(drawn.shape, x, y(middle), stands)


def _runs(drawn: Sequence[ValueDrawn], y: Callable[[float], float]) -> Iterator[tuple[int, Mapping[str, float], int]]:
    """Neighbours with the same limits, as they are drawn: which is the first, its limits, and how many they are."""

    def alike(ours: Mapping[str, float], theirs: Mapping[str, float]) -> bool:
        return ours.keys() == theirs.keys() and all(abs(y(theirs[part]) - y(ours[part])) <= SAME for part in ours)

    first = 0
    for number in range(1, len(drawn) + 1):
        if number == len(drawn) or not alike(drawn[first].limits, drawn[number].limits):
            yield first, drawn[first].limits, number - first
            first = number


def _band(limits: Mapping[str, float], x: float, wide: float, y: Callable[[float], float]) -> Iterator[Element]:
    """The band between the limits of some stations, open where there is none."""
    if {"least", "most"} & limits.keys():
        top = y(limits["most"]) if "most" in limits else TOP
        low = y(limits["least"]) if "least" in limits else BOTTOM
        box = {"x": x, "width": wide, "y": min(top, low), "height": abs(low - top)}
        yield element("rect", {name: short(length) for name, length in box.items()})


def _limits(limits: Mapping[str, float], x: float, wide: float, y: Callable[[float], float]) -> Iterator[Element]:
    """A line for each of the limits of some stations."""
    for part, number in limits.items():
        dash = {"stroke-dasharray": _DASHES[part]} if part in _DASHES else {}
        ends = {"x1": short(x), "x2": short(x + wide), "y1": short(y(number)), "y2": short(y(number))}
        yield element("line", {**dash, **ends, "data-part": part, "data-value": repr(number)})


_DASHES = {"aim": "1.2 .8", "wear least": ".4 .6", "wear most": ".4 .6"}


def _figures(drawn: Sequence[ValueDrawn], y: Callable[[float], float]) -> Iterator[Element]:
    """Beside the limits that are printed the same at all stations their figures, none on another."""
    taken: list[tuple[float, str]] = []
    first, printed = drawn[0].limits, [printed_by_part(each.limits, each.places) for each in drawn]
    for part in sorted(first, key=lambda each: y(first[each])):
        texts = {each.get(part, "") for each in printed}
        if len(texts) > 1:
            continue
        at = max([y(first[part]) + 0.8, *(other + 2.3 for other, _ in taken)])
        taken.append((at, f"{part} {texts.pop()}"))
    size = min(2.2, (LEFT - 0.8) / (0.62 * max((len(said) for _, said in taken), default=1)))
    for at, said in taken:
        where = {"x": short(LEFT - 0.6), "y": short(at), "text-anchor": "end", "font-size": short(size)}
        yield element("text", where, said)


def mark(shape: str, x: float, y: float, stands_for: dict[str, str]) -> Element:
    """A mark of some shape, its middle at a place. What is full is black, as shapes are of which nothing is said."""
    r = 1.0
    outlined = {"fill": "#fff", "stroke": "#000", "stroke-width": ".4"}
    paint = outlined if shape.startswith("open") or shape == "cross" else {}
    outline = shape.removeprefix("open ")
    if outline == "disc":
        round_ = {"cx": short(x), "cy": short(y), "r": short(r if paint else 1.15 * r)}
        return element("circle", {**round_, **paint, **stands_for})
    corners = {
        "square": ((-r, -r), (r, -r), (r, r), (-r, r)),
        "triangle": ((0, -1.2 * r), (1.1 * r, r), (-1.1 * r, r)),
        "diamond": ((0, -1.4 * r), (1.4 * r, 0), (0, 1.4 * r), (-1.4 * r, 0)),
        "cross": ((-r, -r), (0, 0), (r, -r), (0, 0), (r, r), (0, 0), (-r, r), (0, 0)),
    }[outline]
    return element("polygon", {"points": _points((x + dx, y + dy) for dx, dy in corners), **paint, **stands_for})


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
    differ = largest_difference(stations)
    if not (along or around) or not differ:
        return None
    stations = {name: of for name, of in stations.items() if any({along, around} & each.position.keys() for each in of)}
    if not stations:
        return None
    row = 4.0 + (_FROM_SIDE if along else 0) + (_IN_SECTION if around else 0)
    parts: list[Element] = []
    for number, (name, readings) in enumerate(stations.items()):
        off = {axis: _means(readings, axis, LARGEST / differ) for axis in filter(None, (along, around))}
        size = min(2.4, (_PART - 0.5) / (0.62 * max(len(name), 1)))
        title = {"x": short(_PART / 2), "y": "2.6", "text-anchor": "middle", "font-size": short(size)}
        inner = [element("text", {**title, "fill": "#000", "stroke": "none"}, name)]
        if along and off[along]:
            inner += _profile(share_of_way(order[along]), off[along], lying[along] == "down")
        if around and off[around]:
            inner += _section(turned(order[around]), off[around], 4.0 + (_FROM_SIDE if along else 0) + _IN_SECTION / 2)
        where = f"translate({number % _ROWS * _PART:g} {number // _ROWS * row:g})"
        parts.append(element("g", {"transform": where, "data-station": name}, inner))
    rows, wide = -(-len(stations) // _ROWS), min(len(stations), _ROWS) * _PART
    drawn = element("g", {**_LINE, "stroke-width": ".4"}, parts)
    return svg(f"Shapes of {', '.join(stations)}, differences enlarged", wide, rows * row, [drawn])


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
    dots: list[Element] = []
    for side in (-1, 1):
        points = [at(share, side * (_HALF + off[label])) for label, share in there]
        yield element("polyline", {**_PLAIN, "points": _points(at(share, side * _HALF) for _, share in there)})
        yield element("polyline", {"points": _points(points)})
        dots += [_dot(x, y, label, off[label]) for (label, _), (x, y) in zip(there, points, strict=True)]
    yield element("g", _DOTS, dots)


_PLAIN = {"stroke": "#777", "stroke-width": ".25", "stroke-dasharray": ".6"}
_DOTS = {"fill": "#000", "stroke": "none"}


def _dot(x: float, y: float, label: str, off: float) -> Element:
    """Where something was measured, with how far off it lies as it is drawn."""
    spot = {"cx": short(x), "cy": short(y), "r": ".5"}
    return element("circle", {**spot, "data-place": label, "data-off": short(off)})


def _section(ways: Mapping[str, float], off: Mapping[str, float], y: float) -> Iterator[Element]:
    """A part in section: as wide each way across as was measured there, and smooth between."""
    x = _PART / 2
    there = sorted((degrees % 180, off[label], label) for label, degrees in ways.items() if label in off)
    rounded = [(degree, _HALF + _between(there, degree)) for degree in range(0, 360, 9)]
    outline = [(x - radius * sin(radians(d)), y - radius * cos(radians(d))) for d, radius in rounded]
    yield element("circle", {**_PLAIN, "cx": short(x), "cy": short(y), "r": short(_HALF)})
    yield element("polygon", {"points": _points(outline)})
    dots: list[Element] = []
    for degrees, away, label in there:
        dx, dy = (_HALF + away) * sin(radians(degrees)), (_HALF + away) * cos(radians(degrees))
        dots += [_dot(x - side * dx, y - side * dy, label, away) for side in (-1, 1)]
    yield element("g", _DOTS, dots)


def _between(there: Sequence[tuple[float, float, str]], degree: float) -> float:
    """How far off a section is at an angle: between two ways across it goes over smoothly."""
    turned_by = degree % 180
    after = next((i for i, (at, _, _) in enumerate(there) if at > turned_by), len(there))
    low, high = there[after - 1], there[after % len(there)]
    span = (high[0] - low[0]) % 180 or 180
    share = ((turned_by - low[0]) % 180) / span
    return low[1] + (high[1] - low[1]) * (1 - cos(radians(180 * share))) / 2


def _points(points: Iterable[tuple[float, float]]) -> str:
    return " ".join(f"{short(x)},{short(y)}" for x, y in points)
