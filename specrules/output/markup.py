"""Pages for people: self-contained HTML that runs no script and loads nothing.

A page is made as a tree, so that no text in it can be anything but text.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TypeAlias
from xml.etree.ElementTree import Element, tostring

from specrules.document.safe_text import safe
from specrules.output.page_frame import frame

Content: TypeAlias = "Element | str | Iterable[Content]"
"""What an element may hold: a text, an element, or some of these."""


def element(tag: str, attributes: dict[str, str] | None = None, *content: Content) -> Element:
    """An element with these attributes and this content; every text is made safe to show."""
    made = Element(tag, {name: safe(value) for name, value in (attributes or {}).items()})
    _fill(made, content)
    return made


def _fill(into: Element, content: Iterable[Content]) -> None:
    for each in content:
        if isinstance(each, Element):
            into.append(each)
        elif not isinstance(each, str):
            _fill(into, each)
        elif len(into):
            into[-1].tail = (into[-1].tail or "") + safe(each)
        else:
            into.text = (into.text or "") + safe(each)


def row(head: Content, *cells: Content, sort: str = "") -> Element:
    """A row of a table: what it is about, and its cells. `sort`: its class."""
    attributes = {"class": sort} if sort else {}
    return element("tr", attributes, element("th", {"scope": "row"}, head), [element("td", {}, each) for each in cells])


def table(sort: str, rows: Iterable[Element], heads: Sequence[str] = (), foot: Element | None = None) -> Element:
    """A table of these rows, under the headings of its columns. `sort`: its class; `foot`: the row of totals."""
    head = element("tr", {}, [element("th", {"scope": "col"}, each) for each in heads])
    return element(
        "table",
        {"class": sort},
        [element("thead", {}, head)] if heads else [],
        element("tbody", {}, rows),
        [element("tfoot", {}, foot)] if foot is not None else [],
    )


def bullets(items: Iterable[Content]) -> list[Element]:
    """A list with a point for each of these; nothing where there are none."""
    points = [element("li", {}, each) for each in items]
    return [element("ul", {}, points)] if points else []


def text_of_element(made: Element) -> str:
    """An element as HTML."""
    return tostring(made, encoding="unicode", method="html")


def page(mark: str, title: str, foot: str, style: str, *body: Element) -> str:
    """A whole page, see `page_frame.frame`."""
    before, after = frame(mark, title, foot, style)
    return before + "".join(map(text_of_element, body)) + after
