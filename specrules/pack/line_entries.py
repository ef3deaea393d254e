"""Lines of limits and where they come from: what packs and build sheets both hold."""

from typing import Annotated

from pydantic import Field
from pydantic.json_schema import JsonSchemaValue

from specrules.document import Fields, Node, Text
from specrules.document.text import fields_at
from specrules.validation import FileModel
from specrules.validation.texts import (
    NOTHING,
    ONE_OF_THEM,
    Name,
    Prose,
    Short,
    Stated,
    Written,
    YesNo,
    items_at_place,
    keyed,
    one_of,
)
from specrules.vocabulary import SOURCE_KINDS

WHEN = "a condition over facts and labels, such as material == iron"
ANY = "any"
"""In place of labels or a range: it holds whatever that may be."""

Holds = dict[Name, Annotated[tuple[Stated, ...], ONE_OF_THEM]]
"""Facts, labels of axes and sizes -> those that figures hold for."""
HOLDS_FOR = f"what its figures hold for: facts and axes -> labels, sizes -> a range with both ends, or {ANY}"


class SourceEntry(FileModel):
    """Where a figure comes from."""

    kind: Annotated[Text, one_of(*SOURCE_KINDS)] = Field(description="how much the figure may be trusted")
    note: Prose = Field(NOTHING, description="what to know about it")
    document: Prose = Field(NOTHING, description="title of the published document")
    edition: Prose = Field(NOTHING, description="its edition or year")
    page: Prose = Field(NOTHING, description="its page")
    clause: Prose = Field(NOTHING, description="its clause, table or figure")


def lines_of(node: Node) -> Node | None:
    """Limits written short: a mapping, or a size with its class, is one line named base; `none` is no line at all."""
    if isinstance(node, Fields):
        line = fields_at(node.place)
        line[Text("name", node.place)] = Text("base", node.place)
        line.update(node)
        return items_at_place(line)
    if not isinstance(node, Text):
        return node
    from specrules.quantity.tolerance_class import looks_like_class  # most limits are mappings, and few sheets have any

    if looks_like_class(node):
        line = fields_at(node.place)
        line[Text("class", node.place)] = node
        return lines_of(line)
    return None if node == "none" else node


_KIND, _NOTE = keyed("kind"), keyed("note")


def _in_short(node: Node) -> Node:
    """A text alone as a source is its kind, and any other text is what the maker says."""
    known = isinstance(node, Text) and node in SOURCE_KINDS
    made: Node = (_KIND if known else _NOTE).widen(node)
    if isinstance(node, Text) and isinstance(made, Fields) and not known:
        made[Text("kind", node.place)] = Text("maker", node.place)
    return made


BriefSource = Annotated[SourceEntry, Short(_in_short, lambda _: {"type": "string"})]
"""A source of one thing among others, which may be written short."""


def _for_editors(_: JsonSchemaValue) -> JsonSchemaValue:
    from specrules.validation.editors import SHORT_LIMITS  # no run that reads a file makes a schema of it

    return dict(SHORT_LIMITS)


SHORT_LINES = Short(lines_of, _for_editors)
"""Limits may be written short, wherever they stand."""


class LineEntry(FileModel):
    """One line of limits: sets the parts that it names, once its `when` is true."""

    name: Prose = Field(description="the name that other packs amend it by")
    when: Prose = Field(NOTHING, description=WHEN)
    least: Written = Field(NOTHING, description="the least that is allowed on new work; none: no longer any")
    aim: Written = Field(NOTHING, description="what to aim for; none: no longer any")
    most: Written = Field(NOTHING, description="the most that is allowed on new work; none: no longer any")
    class_: Written = Field(
        NOTHING,
        alias="class",
        description="a nominal size in mm and its ISO 286 class, which sets least and most: 50 H7, of a fit 50 H7/k6",
    )
    wear_least: Written = Field(NOTHING, description="the least that a reused part may have; none: no longer any")
    wear_most: Written = Field(NOTHING, description="the most that a reused part may have; none: no longer any")
    retire: YesNo = Field(NOTHING, description="yes: an amendment drops the line of this name")
    shift: Written = Field(NOTHING, description="added to least, aim and most so far")
    from_the_maker: YesNo = Field(NOTHING, description="yes: no limits until the sheet states the maker's own")
    note: Prose = Field(NOTHING, description="what to know about this line")
    source: BriefSource | None = Field(None, description="where this line comes from, if not from the rule's source")


class PackLineEntry(LineEntry):
    """One line of limits of a pack: it says besides for what its figures hold."""

    holds_for: Holds = Field(default_factory=dict, description=HOLDS_FOR)
