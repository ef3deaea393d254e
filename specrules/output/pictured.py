"""The pictures that a sheet names, as a part of its page: each with what it shows, in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from xml.etree.ElementTree import Element

from specrules.output.markup import element
from specrules.output.words import listed, name, runs, sentence
from specrules.plugins import Embedded
from specrules.record import PictureRecord, Record


def pictures_of(record: Record, embedded: Mapping[str, Embedded]) -> Iterator[Element]:
    """A figure for each picture of a record; of one that cannot stand there its name, and why."""
    for each in record.pictures:
        found = embedded.get(each.file, Embedded(why_not="the record alone has no pictures"))
        shows = " ".join(what_it_shows(record, each))
        caption = element("figcaption", {}, shows, " ", element("span", {"class": "quiet"}, each.file))
        if found.uri:
            size = {"width": str(found.wide), "height": str(found.high)}
            shown = element("img", {"src": found.uri, "alt": shows, **size})
        else:
            shown = element("p", {"class": "caution"}, f"Not shown: {found.why_not}.")
        yield element("figure", {"class": "picture"}, shown, caption)


def what_it_shows(record: Record, picture: PictureRecord) -> Iterator[str]:
    """A sentence for each thing that a picture shows."""
    questions = {each.name: each.question for each in record.sign_offs}
    for each in picture.shows:
        at = " ".join(_labels(axis, labels) for axis, labels in each.at.items())
        if each.section == "signed":
            asked = questions.get(each.name, name(each.name))
            yield f"{asked} Signed{f' for {at}' if at else ''}."
        else:
            before = ", as it was read before" if each.replaced else ""
            yield sentence(f"{name(each.name)}{f', {at}' if at else ''}{before}")


def _labels(axis: str, labels: Sequence[str]) -> str:
    """Labels of an axis: numbered ones with it, named ones alone."""
    numbered = all(label.isdecimal() for label in labels)
    return f"{name(axis)} {runs(labels)}" if numbered else listed(map(name, labels))
