"""Pages for people: self-contained HTML that runs no script and loads nothing.

A page is made as a tree, so that no text in it can be anything but text.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeAlias
from xml.etree.ElementTree import Element, tostring

from specrules.document.safe_text import safe

Content: TypeAlias = "Element | str | Iterable[Content]"
"""What an element may hold: a text, an element, or some of these."""

POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'"
"""The content security policy: a page has its own style, and nothing from anywhere else."""

STYLE = """
@page { size: auto; margin: 11mm 12mm 15mm; @bottom-left { content: FOOT; font: 7.5pt sans-serif; color: #333 }
  @bottom-right { content: "page " counter(page) " of " counter(pages); font: 7.5pt sans-serif; color: #333 } }
* { box-sizing: border-box }
html { font: 9.5pt/1.35 "Helvetica Neue", Arial, "Liberation Sans", "DejaVu Sans", sans-serif; color: #000;
  background: #fff }
body { margin: 0 auto; max-width: 186mm; padding: 0 }
@media screen { body { padding: 6mm; max-width: 198mm } }
h1 { font-size: 15pt; margin: 0 0 2mm; line-height: 1.2 }
h2 { font-size: 12.5pt; margin: 5mm 0 1.5mm; padding-bottom: .6mm; border-bottom: .5mm solid #000; break-after: avoid }
h3 { font-size: 10pt; margin: 3.5mm 0 1mm; break-after: avoid }
h4 { font-size: 10pt; margin: 3mm 0 .8mm; break-after: avoid }
p { margin: 0 0 1.2mm }
h1, h2, h3, h4, p, li, th, td { overflow-wrap: anywhere }
.quiet { color: #444; font-size: 8.5pt }
.caution { border-left: 1mm solid #000; padding-left: 2mm }
table { border-collapse: collapse }
th { text-align: left; font-weight: 600; font-size: 8.5pt; vertical-align: bottom }
thead { display: table-header-group }
tr, figure, li, .whole { break-inside: avoid }
svg { display: block }
"""
"""What all pages have. The smaller of A4 and Letter in each direction is what a page is laid out for: 210 x 279 mm."""


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


def page(mark: str, title: str, foot: str, style: str, *body: Content) -> str:
    """A whole page. `mark`: how its file begins, by which a later run knows it; `foot`: at the foot of each sheet of
    paper; `style`: what this kind of page has beyond `STYLE`."""
    css = Element("style")
    css.text = STYLE.replace("FOOT", _in_css(safe(foot))) + style  # a style's text is written as it is
    head = element(
        "head",
        {},
        element("meta", {"charset": "utf-8"}),
        element("meta", {"http-equiv": "Content-Security-Policy", "content": POLICY}),
        element("meta", {"name": "viewport", "content": "width=device-width, initial-scale=1"}),
        element("title", {}, title),
        css,
    )
    whole = element("html", {"lang": "en"}, head, element("body", {}, *body))
    return f"{mark}{tostring(whole, encoding='unicode', method='html')}\n"


def _in_css(text: str) -> str:
    """A text as CSS writes a string, each character by its number: none of them can end it (CSS Syntax 3, 4.3.7)."""
    return '"' + "".join(f"\\{ord(character):06x}" for character in text) + '"'
