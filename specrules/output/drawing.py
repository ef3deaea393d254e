"""Drawings in SVG: the places where something is measured, and limits to scale. Lengths are millimetres on paper.

Every mark says what it stands for, in attributes that begin with `data-`, so that a drawing can be read back.

They go by how an axis lies (`lies`), the order of its labels and, where these are numbers, by the numbers. No verdict
hangs on that.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from itertools import product
from math import cos, radians, sin
from typing import NamedTuple
from xml.etree.ElementTree import Element

from specrules.formula import Axis
from specrules.output.markup import Content, element
from specrules.output.words import name

WIDE = 44.0
"""How wide a drawing of places is."""
_ROW, _TEXT, _GAP = 4.2, 2.5, 2.0
_LETTER = 1.55
"""About how wide a letter is."""
_LINE = {"stroke": "#000", "stroke-width": "0.3", "fill": "none"}
_STRONG = {**_LINE, "stroke-width": "0.5"}
_FAINT = {**_LINE, "stroke": "#666"}


def share_of_way(labels: Sequence[str]) -> Mapping[str, float]:
    """How far along a part each label lies, from 0 to 1: to scale where all of them are numbers, else evenly."""
    numbers = [Decimal(label) for label in labels if _number(label)]
    if len(numbers) == len(labels) and len(set(numbers)) > 1:
        low, high = min(numbers), max(numbers)
        return {label: float((number - low) / (high - low)) for label, number in zip(labels, numbers, strict=True)}
    last = len(labels) - 1
    return {label: number / last if last else 0.5 for number, label in enumerate(labels)}


def turned(labels: Sequence[str]) -> Mapping[str, float]:
    """How far round from upright each way across lies, in degrees to the left: as it says where all of them are
    numbers, else half a turn is divided evenly."""
    if all(map(_number, labels)):
        return {label: float(label) for label in labels}
    return {label: 180.0 * number / len(labels) for number, label in enumerate(labels)}


def _number(label: str) -> bool:
    whole, _, decimals = label.removeprefix("-").partition(".")
    return whole.isdecimal() and (decimals.isdecimal() or not decimals)


class Drawn(NamedTuple):
    """A part of a drawing: what it is made of, from (0, 0) on, and how high it is."""

    parts: tuple[Element, ...]
    high: float


def places(at: Sequence[Axis], positions: Sequence[Axis], labels: Mapping[str, Sequence[str]]) -> Element | None:
    """The stations of something that is measured side by side, and under them one of them with its positions; None
    where it has neither. `labels`: those of each axis in this build."""
    drawn = [_stations(at, labels)] if at else []
    drawn += list(_part(positions, labels))
    if not drawn:
        return None
    said = [f"{name(axis.name)} {', '.join(labels[axis.name])}" for axis in (*at, *positions)]
    parts, top = list[Element](), 0.0
    for each in drawn:
        parts.append(element("g", {"transform": f"translate(0 {top:g})"}, each.parts))
        top += each.high + _GAP
    return svg("Where it is measured: " + "; ".join(said), WIDE, top - _GAP, parts)


def svg(said: str, wide: float, high: float, content: Content) -> Element:
    """A drawing of this size, with what it shows in words."""
    box = {"viewBox": f"0 0 {wide:g} {high:g}", "width": f"{wide:g}mm", "height": f"{high:g}mm"}
    font = {
        "font-family": "sans-serif",
        "font-size": f"{_TEXT:g}",
    }  # what makes PDFs lends a drawing no style of the page
    return element("svg", {"role": "img", "aria-label": said, **box, **font}, content)


def _stations(at: Sequence[Axis], labels: Mapping[str, Sequence[str]]) -> Drawn:
    """A box for each station: those of the first axis side by side, those of the others below each other."""
    first, others = at[0].name, [axis.name for axis in at[1:]]
    across, down = labels[first], [*product(*(labels[axis] for axis in others))]
    beside = max((len(" ".join(each)) for each in down), default=0) * _LETTER + (1.0 if others else 0.0)
    each = min((WIDE - beside - 1) / max(len(across), 1), 7.0)
    parts = [_text(name(first), beside, _TEXT)]
    for column, label in enumerate(across):
        x = beside + column * each
        parts.append(_text(name(label), x + each / 2, 2 * _TEXT + 0.6, "middle", each))
        for row, rest in enumerate(down):
            at_labels = {first: label, **dict(zip(others, rest, strict=True))}
            box = _box(x, 2 * _TEXT + 1.4 + row * _ROW, each, _ROW)
            parts.append(element("rect", {**_LINE, **box, **_stands_for(at_labels)}))
    for row, rest in enumerate(down if others else ()):
        parts.append(_text(" ".join(map(name, rest)), 0, 2 * _TEXT + 1.4 + row * _ROW + 3))
    return Drawn(tuple(parts), 2 * _TEXT + 1.6 + len(down) * _ROW)


_BODY, _BESIDE = (3.0, 1.0, 10.0, 14.0), 7.0
"""The part from the side: left, top, width, height; and how wide a label behind it may be."""


class _Section(NamedTuple):
    """The part in section: its middle and radius, and how wide a label beside it may be."""

    x: float
    y: float
    radius: float
    room: float


_ALONE, _BEHIND = _Section(22.0, 9.4, 5.2, 15.0), _Section(32.4, 9.4, 5.2, 5.3)


def _part(positions: Sequence[Axis], labels: Mapping[str, Sequence[str]]) -> Iterator[Drawn]:
    """One station with its positions: from the side, in section, and, of axes that say not how they lie, in a row."""
    lying = {axis.name: axis.lies for axis in positions}
    side = [axis for axis, lies in lying.items() if lies in ("along", "down")]
    section = [axis for axis, lies in lying.items() if lies in ("around", "across")]
    parts = list[Element]()
    if side:
        x, y, wide, high = _BODY
        parts.append(element("rect", {**_LINE, **_box(x, y, wide, high)}))
        for axis in side:
            parts += _from_the_side(axis, labels[axis], lying[axis] == "down")
    if section:
        seen = _BEHIND if side else _ALONE
        parts.append(element("circle", {**_LINE, "cx": f"{seen.x:g}", "cy": f"{seen.y:g}", "r": f"{seen.radius:g}"}))
        for axis in section:
            parts += (_around if lying[axis] == "around" else _across)(axis, labels[axis], seen)
    if parts:
        yield Drawn(tuple(parts), 20.5)
    for axis, lies in lying.items():
        if axis not in side and axis not in section:
            yield _in_a_row(axis, labels[axis], lies)


def _from_the_side(axis: str, labels: Sequence[str], down: bool) -> Iterator[Element]:
    """Lines across the part where its positions lie, each with its label."""
    x, y, wide, high = _BODY
    inset = 0.12
    shares = share_of_way(labels)
    longest = max(len(label) for label in labels) * _LETTER
    crowded = len(labels) > 1 and longest > wide * (1 - 2 * inset) / (len(labels) - 1)
    for number, (label, share) in enumerate(shares.items()):
        way = inset + (1 - 2 * inset) * share
        if down:
            at = y + way * high
            ends = {"x1": f"{x:g}", "x2": f"{x + wide:g}", "y1": f"{at:.3f}", "y2": f"{at:.3f}"}
            said = _text(name(label), x + wide + 0.8, at + 0.9, room=_BESIDE)
        else:
            at = x + way * wide
            ends = {"x1": f"{at:.3f}", "x2": f"{at:.3f}", "y1": f"{y:g}", "y2": f"{y + high:g}"}
            said = _text(
                name(label),
                max(at, len(label) * _LETTER / 2),
                y + high + (5 if crowded and number % 2 else 2.6),
                "middle",
            )
        yield element("line", {**_STRONG, **ends, **_stands_for({axis: label})})
        yield said


def _around(axis: str, labels: Sequence[str], section: _Section) -> Iterator[Element]:
    """Ways across the section, each with its label at its upper end."""
    x, y, radius, room = section
    for label, degrees in turned(labels).items():
        angle = radians(degrees)
        dx, dy = radius * sin(angle), radius * cos(angle)
        ends = {"x1": f"{x - dx:.3f}", "y1": f"{y - dy:.3f}", "x2": f"{x + dx:.3f}", "y2": f"{y + dy:.3f}"}
        yield element("line", {**_STRONG, **ends, **_stands_for({axis: label})})
        side = 1 if dy >= -1e-9 else -1  # its upper end
        end_x, end_y = x - side * dx * 1.18, y - side * dy * 1.18
        anchor = "middle" if abs(dx) < radius / 9 else "start" if end_x > x else "end"
        yield _text(
            name(label),
            end_x,
            end_y + (0 if anchor == "middle" else 0.9),
            anchor,
            2 * room if anchor == "middle" else room,
        )


def _across(axis: str, labels: Sequence[str], section: _Section) -> Iterator[Element]:
    """Places on the section, from its top to its bottom."""
    x, y, radius, room = section
    for label, share in share_of_way(labels).items():
        at = y - radius + 2 * radius * share
        yield _spot(x, at, axis, label)
        yield _text(name(label), x - radius - 1, min(max(at + 0.9, y - radius), y + radius + 0.9), "end", room)


def _in_a_row(axis: str, labels: Sequence[str], lies: str) -> Drawn:
    parts = [] if lies else [_text(name(axis), 0, _TEXT)]
    for label, share in share_of_way(labels).items():
        x = 4 + share * (WIDE - 8)
        parts.append(_spot(x, _TEXT + 2.2, axis, label))
        parts.append(_text(name(label), x, _TEXT + 6, "middle"))
    return Drawn(tuple(parts), _TEXT + 6.8)


def _spot(x: float, y: float, axis: str, label: str) -> Element:
    spot = {"cx": f"{x:g}", "cy": f"{y:g}", "r": "0.9", "fill": "#000"}
    return element("circle", {**spot, **_stands_for({axis: label})})


def _stands_for(labels: Mapping[str, str]) -> dict[str, str]:
    return {"data-place": "; ".join(f"{axis}={label}" for axis, label in labels.items())}


def _box(x: float, y: float, wide: float, high: float) -> dict[str, str]:
    return {"x": f"{x:g}", "y": f"{y:g}", "width": f"{wide:g}", "height": f"{high:g}"}


def _text(said: str, x: float, y: float, anchor: str = "start", room: float = WIDE) -> Element:
    """A text at a place, made smaller where it would be wider than the room that there is."""
    size = min(_TEXT, _TEXT * room / (_LETTER * max(len(said), 1)))
    where = {"x": f"{x:.2f}", "y": f"{y:.2f}", "text-anchor": anchor}
    return element("text", where | ({"font-size": f"{size:.2f}"} if size < _TEXT else {}), said)


SCALE = (7.0, 53.0)
"""From where to where a band is drawn, of the `BAND` that it is wide."""
BAND = 60.0
_MIDDLE, _HIGH = 4.2, 8.8


def band(limits: Mapping[str, Decimal], texts: Mapping[str, str]) -> Element | None:
    """Limits by part on one line, to scale: new work as a bar, the aim as a circle on it, wear limits as thin lines.
    Without a least it is drawn from nothing on, without a most to twice the least. None where nothing is to draw."""
    ends = scale_of(limits)
    if ends is None:
        return None
    (low, high), (left, right) = ends, SCALE

    def x(value: Decimal) -> float:
        return left + float((value - low) / (high - low)) * (right - left)

    whole = {"x1": f"{left:g}", "x2": f"{right:g}"}
    new = {"x1": f"{x(limits.get('least', low)):.3f}", "x2": f"{x(limits.get('most', high)):.3f}"}
    at = {"y1": f"{_MIDDLE:g}", "y2": f"{_MIDDLE:g}"}
    parts = [element("line", {**_FAINT, **whole, **at, "stroke-dasharray": "0.8 0.8"})]
    parts += [element("line", {**_LINE, "stroke-width": "1", **new, **at})] if limits.keys() & {"least", "most"} else []
    for part, limit in limits.items():
        parts += _limit(part, texts[part], x(limit), {"data-part": part, "data-value": f"{limit:f}"})
    return svg(f"To scale: {', '.join(f'{part} {texts[part]}' for part in limits)}", BAND, _HIGH, parts)


def scale_of(limits: Mapping[str, Decimal]) -> tuple[Decimal, Decimal] | None:
    """The two ends of what is drawn of some limits; None where there is nothing between them."""
    given = [*limits.values()]
    lows = [limits[part] for part in ("least", "wear least") if part in limits]
    highs = [limits[part] for part in ("most", "wear most") if part in limits]
    if not lows and highs:
        given.append(Decimal(0))
    elif lows and not highs:
        given.append(max(lows) + abs(max(lows)))
    return (min(given), max(given)) if (lows or highs) and min(given) < max(given) else None


def _limit(part: str, text: str, at: float, stands_for: dict[str, str]) -> Iterator[Element]:
    """A limit on its band, with its figure: of new work under it, of all else above it."""
    new = part in ("least", "most")
    if part == "aim":
        spot = {
            "cx": f"{at:.3f}",
            "cy": f"{_MIDDLE:g}",
            "r": "1",
            "fill": "#fff",
            "stroke": "#000",
            "stroke-width": "0.4",
        }
        yield element("circle", {**spot, **stands_for})
    else:
        ends = {"x1": f"{at:.3f}", "x2": f"{at:.3f}", "y1": f"{_MIDDLE - 1.4:g}", "y2": f"{_MIDDLE + 1.4:g}"}
        yield element("line", {**(_STRONG if new else _LINE), **ends, **stands_for})
    said = text if new else f"{part.split()[0]} {text}"
    half = len(said) * _LETTER / 2
    yield _text(said, min(max(at, half), BAND - half), _MIDDLE + 4 if new else 2.2, "middle")
