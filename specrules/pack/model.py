"""The shape of a tolerance pack's file: which keys it may have, what each holds. Meaning is checked elsewhere."""

from __future__ import annotations

from functools import cache
from typing import Annotated, Any

from pydantic import Field, create_model
from pydantic.fields import FieldInfo

from specrules.document import Fields, Node, Text
from specrules.document.text import fields_at
from specrules.pack.leaves import (
    NOTHING,
    Condition,
    Entry,
    Label,
    Labels,
    Leaf,
    Name,
    Names,
    Prose,
    Proses,
    Short,
    Stated,
    Written,
    YesNo,
    items_at_place,
    listed,
)
from specrules.pack.parts import IMPORTANCES, VERDICTS

HEADER = "tolerance-pack/1"
FACT_KINDS = ("count", "number", "quantity", "choice", "yes/no", "groups", "text")
SOURCE_KINDS = ("published", "maker", "house", "common practice", "from memory")
BOTH = "both"
OTHERWISE = "otherwise"

_ONE_OR_MORE = "one axis, or a list of them"
_WHEN = "a condition over facts and labels, such as material == iron"


def lines_of(node: Node) -> Node | None:
    """Limits written short: a mapping is one line named base, `none` is no line at all."""
    if isinstance(node, Fields):
        line = fields_at(node.place)
        line[Text("name", node.place)] = Text("base", node.place)
        line.update(node)
        return items_at_place(line)
    return None if node == "none" else node


def _keyed(key: str) -> Short:
    """A text alone stands for a mapping with that text at `key`."""

    def widen(node: Node) -> Node:
        if not isinstance(node, Text) or not node:
            return node
        made = fields_at(node.place)
        made[Text(key, node.place)] = node
        return made

    return Short(widen, lambda _: {"type": "string"})


def way_of(node: Node) -> Any:
    """A way written short is its formula."""
    return _keyed("formula").widen(node)


def _maker_says(node: Node) -> Node:
    """A text alone as the source of a limit line is what its maker says."""
    made = _keyed("note").widen(node)
    if isinstance(node, Text) and isinstance(made, Fields):
        made[Text("kind", node.place)] = Text("maker", node.place)
        return made
    return node


class SourceEntry(Entry):
    """Where a figure comes from."""

    kind: Annotated[Text, Leaf(words=SOURCE_KINDS)] = Field(description="how much the figure may be trusted")
    note: Prose = Field(NOTHING, description="what to know about it")
    document: Prose = Field(NOTHING, description="title of the published document")
    edition: Prose = Field(NOTHING, description="its edition or year")
    page: Prose = Field(NOTHING, description="its page")
    clause: Prose = Field(NOTHING, description="its clause, table or figure")


class HeadEntry(Entry):
    """What a pack says of itself."""

    name: Prose = Field(description="the name that sheets and other packs call it by")
    version: Written = Field(description="its version, in quotes")
    title: Prose = Field(description="what it is, for a reader")
    licence: Prose = Field(NOTHING, description="the licence of its figures")
    unit: Prose = Field(NOTHING, description="what a bare number of its examples and usual sizes means")
    caution: Prose = Field(NOTHING, description="what to know before using it")
    builds_on: Proses = Field((), description="packs that it amends and adds to")
    sets: dict[Name, Label] = Field({}, description="facts that using it implies")
    wear_when: Prose = Field(NOTHING, description=f"when wear limits count: {_WHEN}")
    decision: Prose = Field(NOTHING, description="the decision rule that it asks for")
    groups: Proses = Field((), description="headings of its rules, in the order of the work")


class AxisEntry(Entry):
    """An axis that readings lie on: `count`, `names`, or `groups` of another axis."""

    count: Name = Field(NOTHING, description="the fact that says how many: labels 1, 2, 3 ...")
    names: Labels = Field((), description="its labels")
    groups: Name = Field(NOTHING, description="the fact that lists the members of each label")
    of: Name = Field(NOTHING, description="the axis that is grouped")
    default: Annotated[Text, Leaf(words=("one", "each"))] = Field(
        NOTHING, description="one group of all, or each a group of its own, where the groups are not stated"
    )


class FactEntry(Entry):
    """A stated, not measured, property."""

    kind: Annotated[Text, Leaf(words=FACT_KINDS)] = Field(description="what may be stated")
    title: Prose = Field(NOTHING, description="what it is, for a reader")
    at: Names = Field((), description=f"where it may differ: {_ONE_OR_MORE}")
    choices: Labels = Field((), description="the words of a choice")
    unit: Prose = Field(NOTHING, description="the unit that a quantity is shown in")
    assumed: Stated = Field(NOTHING, description="what is taken where nobody states it, if that is safe")


class GaugeClassEntry(Entry):
    """What a kind of gauge can do."""

    resolution: Written = Field(description="the smallest step that it shows")
    mpe: Written = Field(description="maximum permissible error: a length, a percentage, or both")
    repeatability: Written = Field(NOTHING, description="one standard deviation of readings of the same thing")
    must_not_decide: Proses = Field((), description="rules that it must not decide, or what it cannot see")
    source: SourceEntry = Field(description="where these figures come from")


class MeasurandEntry(Entry):
    """A quantity that is measured."""

    title: Prose = Field(NOTHING, description="what it is, for a reader")
    at: Names = Field((), description=f"the stations it is measured at: {_ONE_OR_MORE}")
    positions: Names = Field((), description=f"the places on the part, at each station: {_ONE_OR_MORE}")
    unit: Prose = Field(description="the unit it is shown in")
    usual: Written = Field(NOTHING, description="a wide range of plausible sizes, such as 1.5..4.5 in")
    gauge_classes: Proses = Field((), description="kinds of gauge that can measure it, most trusted first")
    how: Prose = Field(NOTHING, description="how to measure it")
    repeats: Annotated[Text, Leaf(schema=("integer",))] = Field(NOTHING, description="readings to take of each place")
    may_be_negative: Condition = Field(NOTHING, description=f"yes, no, or {_WHEN}")


class WayEntry(Entry):
    """One way to a figure."""

    formula: Written = Field(description="the formula of this way")
    when: Prose = Field(NOTHING, description=_WHEN)
    needs: Names = Field((), description="sign-offs and rules without which it is not proven")
    gauge_classes: Proses = Field((), description="kinds of gauge that this way needs")


class FigureEntry(Entry):
    """A derived quantity: one formula, or several ways to it."""

    title: Prose = Field(NOTHING, description="what it is, for a reader")
    each: Names = Field((), description=f"one value for each of: {_ONE_OR_MORE}")
    unit: Prose = Field(NOTHING, description="the unit it is shown in")
    formula: Written = Field(NOTHING, description="its formula, where there is one way")
    ways: dict[Prose, Annotated[WayEntry, _keyed("formula")]] = Field({}, description="ways to it, most trusted first")
    may_be_negative: Condition = Field(NOTHING, description=f"yes, no, or {_WHEN}")


class SignOffEntry(Entry):
    """A check that a named person answers."""

    question: Prose = Field(description="what is answered yes or no")
    at: Names = Field((), description=f"asked at each of: {_ONE_OR_MORE}")
    hold_point: Name = Field(NOTHING, description="the hold point that waits for it")
    importance: Prose = Field(NOTHING, description="critical, major or minor, or a formula that chooses one")
    applies_when: Prose = Field(NOTHING, description=_WHEN)
    because: Prose = Field(NOTHING, description="what happens otherwise")
    caution: Prose = Field(NOTHING, description="what to know when answering")
    source: SourceEntry = Field(description="where this check comes from")


class LineEntry(Entry):
    """One line of limits: sets the parts that it names, once its `when` is true."""

    name: Prose = Field(description="the name that other packs amend it by")
    when: Prose = Field(NOTHING, description=_WHEN)
    least: Written = Field(NOTHING, description="the least that is allowed on new work")
    aim: Written = Field(NOTHING, description="what to aim for")
    most: Written = Field(NOTHING, description="the most that is allowed on new work")
    wear_least: Written = Field(NOTHING, description="the least that a reused part may have")
    wear_most: Written = Field(NOTHING, description="the most that a reused part may have")
    shift: Written = Field(NOTHING, description="added to least, aim and most so far")
    from_the_maker: YesNo = Field(NOTHING, description="yes: no limits until the sheet states the maker's own")
    note: Prose = Field(NOTHING, description="what to know about this line")
    source: Annotated[SourceEntry, Short(_maker_says, lambda _: {"type": "string"})] | None = Field(
        None, description="where this line comes from, if not from the rule's source"
    )


class StepEntry(Entry):
    """One thing to do about a value beyond its limit."""

    do: Prose = Field(description="what to do")
    moves: Written = Field(NOTHING, description="what it adds to the judged value; negative where it takes away")


class ExpectEntry(Entry):
    """What must come out at one station."""

    at: dict[Name, Label] = Field({}, description="the station, by axis")
    value: Written = Field(NOTHING, description="the judged value, with its unit")
    verdict: Annotated[Text, Leaf(words=VERDICTS)] = Field(description="the verdict")
    side: Prose = Field(NOTHING, description="the word of the side that it is beyond")
    beyond: Written = Field(NOTHING, description="how far beyond the limit, with its unit")


class ExampleEntry(Entry):
    """A worked example: a fragment of a sheet and what must come out."""

    given: Fields = Field(description="facts, readings and more, as in a sheet", json_schema_extra={"type": "object"})
    expect: Annotated[tuple[ExpectEntry, ...], Short(listed, lambda whole: whole["items"])] = Field(
        description="what must come out, at one station or several"
    )
    unsigned: Names = Field((), description="sign-offs that count as not given")
    note: Prose = Field(NOTHING, description="what the example shows")


_Step = Annotated[StepEntry, _keyed("do")]
_Steps = Annotated[tuple[_Step, ...], Short(listed, lambda whole: whole["items"])]
_Limits = Annotated[
    tuple[LineEntry, ...] | None,
    Short(lines_of, lambda _: {"anyOf": [{"const": "none"}, {"type": "object"}]}),
]


class RuleEntry(Entry):
    """A formula judged against lines of limits."""

    title: Prose = Field(description="what is judged, for a reader")
    each: Names = Field((), description=f"one finding for each of: {_ONE_OR_MORE}")
    formula: Written = Field(description="what is judged")
    unit: Prose = Field(NOTHING, description="the unit it is shown in")
    limits: _Limits = Field((), description="lines of limits, in order; or none, to show it and never judge it")
    from_the_maker: YesNo = Field(NOTHING, description="yes: no limits until the sheet states the maker's own")
    words: Prose = Field(Text("low/high"), description="the words for under the least and over the most: tight/loose")
    importance: Annotated[dict[Prose, Prose], _keyed(BOTH)] = Field(
        {}, description="critical, major or minor, a formula that chooses one, or either by side"
    )
    hold_point: Name = Field(NOTHING, description="the hold point that waits for it")
    applies_when: Prose = Field(NOTHING, description=_WHEN)
    needs: Names = Field((), description="sign-offs and rules without which a good value is not proven")
    because: dict[Prose, Prose] = Field({}, description="what happens, by side")
    remedy: dict[Prose, _Steps] = Field({}, description="what to do, by side; otherwise: where no step is enough")
    caution: Prose = Field(NOTHING, description="what to know when measuring")
    does_not_test: Prose = Field(NOTHING, description="what this check cannot see")
    note: Prose = Field(NOTHING, description="where practice conflicts: what it says, what was chosen and why")
    may_be_negative: Condition = Field(NOTHING, description=f"yes, no, or {_WHEN}")
    source: SourceEntry = Field(description="where its figures come from")
    worked: tuple[ExampleEntry, ...] = Field((), description="worked examples, with numbers and what must come out")


class OperationEntry(Entry):
    """Work that makes what was read before it worthless."""

    title: Prose = Field(NOTHING, description="what is done, for a reader")
    makes_stale: Names = Field((), description="measurands, facts and sign-offs that no longer stand")


class Amendment(Entry):
    """What every amendment has."""

    reason: Prose = Field(description="why this pack differs")
    retire: YesNo = Field(NOTHING, description="yes: the thing is dropped")


FIXED = ("each", "formula", "unit")
"""What no amendment may touch: it would be another thing under the same name."""


@cache
def amended(entry: type[Entry]) -> type[Entry]:
    """The model of an amendment to such an entry: any part of it, and the reason."""
    fields: dict[str, Any] = {}
    for name, info in entry.model_fields.items():
        if name not in FIXED:
            default = NOTHING if info.is_required() else info.default
            fields[name] = (info.annotation, FieldInfo.merge_field_infos(info, default=default))
    made: type[Entry] = create_model(f"Amended{entry.__name__}", __base__=Amendment, __doc__=entry.__doc__, **fields)
    return made


SECTIONS: dict[str, type[Entry]] = {
    "axes": AxisEntry,
    "facts": FactEntry,
    "gauge classes": GaugeClassEntry,
    "measurands": MeasurandEntry,
    "figures": FigureEntry,
    "sign-offs": SignOffEntry,
    "rules": RuleEntry,
    "operations": OperationEntry,
}
"""Each section that holds named things, and what one of them is."""


def _section(key: str, entry: type[Entry]) -> Any:
    about = f"{key} by name" if not issubclass(entry, Amendment) else f"amendments to {key}, by name"
    held = dict[Prose if key == "gauge classes" else Name, entry]  # type: ignore[valid-type]
    return held, Field({}, alias=key, description=about)


_Amends: type[Entry] = create_model(
    "Amends",
    __base__=Entry,
    __doc__="What a pack changes in the packs that it builds on.",
    **{key.replace(" ", "_").replace("-", "_"): _section(key, amended(entry)) for key, entry in SECTIONS.items() if key != "axes"},
)


class FileEntry(Entry):
    """What every file of a pack has, besides its sections."""
    specrules: Annotated[Text, Leaf(words=(HEADER,))] = Field(description="what this file is")
    group: Prose = Field(NOTHING, description="the heading that this file's rules print under")
    pack: HeadEntry | None = Field(None, description="what the pack says of itself, in one file of it")
    hold_points: tuple[Name, ...] = Field((), description="hold points, in order")


PackFile: type[FileEntry] = create_model(
    "PackFile",
    __base__=FileEntry,
    __doc__="A tolerance pack, or one file of a pack that is a folder.",
    **{key.replace(" ", "_").replace("-", "_"): _section(key, entry) for key, entry in SECTIONS.items()},
    amend=(_Amends | None, Field(None, description="changes to packs that this one builds on, each with a reason")),
)
