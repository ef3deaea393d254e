"""One figure for a whole station, where the sheet has a mapping with a place for each position and nothing in any."""

from __future__ import annotations

from collections.abc import Iterator

from specrules.document import Fields, Items, Node, Text
from specrules.document.inserting import span_of
from specrules.sheet.cells import Spot
from specrules.sheet.grid import is_open
from specrules.sheet.misplaced import AT
from specrules.sheet.sheet_reading import RawSheet


def empty_station(source: str, raw: RawSheet, spot: Spot) -> tuple[int, int] | None:
    """Where the braces of a station stand in a sheet's text; None where it has none of its own, or anything in them."""
    name, station, _ = spot
    node = raw.model.readings.get(Text(name))
    node = node[-1] if isinstance(node, Items) and node else node
    if isinstance(node, Fields):
        node = node.get(Text(AT), node)
    for label in station:
        node = node.get(Text(label)) if isinstance(node, Fields) else None
    if not isinstance(node, Fields) or not all(map(is_open, _texts(node))):
        return None
    span = span_of(source, node)
    return span if span is not None and source[span[0]] == "{" else None


def _texts(node: Node) -> Iterator[str]:
    if isinstance(node, Text):
        yield node
    else:
        for each in node.values() if isinstance(node, Fields) else node:
            yield from _texts(each)
