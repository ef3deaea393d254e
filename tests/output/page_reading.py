"""Pages read back: HTML as a browser's parser has it, with every element closed in its place."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html.parser import HTMLParser
from xml.etree.ElementTree import Element, TreeBuilder

EMBEDDED = re.compile(r"data:image/(?:jpeg|png);base64,[A-Za-z0-9+/]+={0,2}")
VOID = {"meta", "br", "hr", "img", "link", "input"}


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.tree = TreeBuilder()
        self.open: list[str] = []
        self.comments: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        assert len({name for name, _ in attrs}) == len(attrs), f"{tag} has an attribute twice"
        self.tree.start(tag, {name: value or "" for name, value in attrs})
        if tag in VOID:
            self.tree.end(tag)
        else:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open[-1:] == [tag], f"</{tag}> closes {self.open[-1:]}"
        self.open.pop()
        self.tree.end(tag)

    def handle_data(self, data: str) -> None:
        if self.open:
            self.tree.data(data)
        else:
            assert not data.strip(), f"text outside of everything: {data!r}"

    def handle_comment(self, data: str) -> None:
        self.comments.append(data)


def read_page(text: str) -> Element:
    """A page as a tree. Fails where an element is not closed, or in the wrong order."""
    reader = _Reader()
    reader.feed(text)
    reader.close()
    assert reader.open == []
    assert len(reader.comments) == 1  # its mark
    return reader.tree.close()


def said(element: Element) -> str:
    """All text in an element, blanks as one."""
    return " ".join(" ".join(element.itertext()).split())


def of_class(tree: Element, name: str) -> Iterator[Element]:
    """The elements that have a class."""
    return (each for each in tree.iter() if name in each.get("class", "").split())


def safe_page(text: str, of: int = 1, links: bool = False) -> Element:
    """A page read back, which runs nothing, loads nothing, and says so. `of`: so many things that each have a title;
    `links`: whether it may lead to other files, which then lie beside it."""
    tree = read_page(text)
    policies = [each.get("content", "") for each in tree.iter("meta") if each.get("http-equiv")]
    assert len(policies) == 1
    assert policies[0].startswith("default-src 'none';")
    assert "script" not in policies[0]
    banned = {"script", "link", "iframe", "object", "embed", "form", "base", "image", "foreignobject"}
    assert not (banned | (set() if links else {"a"})) & {each.tag for each in tree.iter()}
    hrefs = [each.attrib.get("href", "") for each in tree.iter("a")]
    assert all(re.fullmatch(r"[a-z0-9-]+\.html", href) for href in hrefs), hrefs
    assert all(said(each) for each in tree.iter("a"))
    attributes = {name for each in tree.iter() for name in each.attrib if each.tag != "a" or name != "href"}
    assert not {name for name in attributes if name.startswith("on")}
    assert not attributes & {"href", "xlink:href", "srcset", "action", "background"}
    pictures = list(tree.iter("img"))
    assert all(EMBEDDED.fullmatch(each.get("src", "")) and each.get("alt") for each in pictures)
    assert not [each.tag for each in tree.iter() if "src" in each.attrib and each not in pictures]
    assert tree.get("lang") == "en"
    assert len(list(tree.iter("main"))) == 1
    assert len(list(tree.iter("h1"))) == of
    assert all(each.get("scope") in ("row", "col") for each in tree.iter("th"))
    assert all(each.get("role") == "img" and each.get("aria-label") for each in tree.iter("svg"))
    style = " ".join(each.text or "" for each in tree.iter("style"))
    assert not [word for word in ("@import", "url(", "expression", "</") if word in style]
    return tree
