"""What a tolerance pack's file holds besides its rules: the keys of each thing, and what each key is for."""

from typing import Annotated, Any

from specrules.document import Node, Text
from specrules.document.text import fields_at
from specrules.pack.entry import Entry, part
from specrules.pack.leaves import (
    NOTHING,
    Condition,
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
)
from specrules.vocabulary import FACT_KINDS, SOURCE_KINDS

ONE_OR_MORE = "one axis, or a list of them"
WHEN = "a condition over facts and labels, such as material == iron"


def keyed(key: str) -> Short:
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
    return keyed("formula").widen(node)


class SourceEntry(Entry):
    """Where a figure comes from."""

    kind: Annotated[Text, Leaf(words=SOURCE_KINDS)] = part(description="how much the figure may be trusted")
    note: Prose = part(NOTHING, description="what to know about it")
    document: Prose = part(NOTHING, description="title of the published document")
    edition: Prose = part(NOTHING, description="its edition or year")
    page: Prose = part(NOTHING, description="its page")
    clause: Prose = part(NOTHING, description="its clause, table or figure")


class HeadEntry(Entry):
    """What a pack says of itself."""

    name: Prose = part(description="the name that sheets and other packs call it by")
    version: Written = part(description="its version, in quotes")
    title: Prose = part(description="what it is, for a reader")
    licence: Prose = part(NOTHING, description="the licence of its figures")
    unit: Prose = part(NOTHING, description="what a bare number of its examples and usual sizes means")
    caution: Prose = part(NOTHING, description="what to know before using it")
    builds_on: Proses = part((), description="packs that it amends and adds to")
    sets: dict[Name, Label] = part({}, description="facts that using it implies")
    gauges_expand: Written = part(NOTHING, description="how much gauges expand for each degree: a formula")
    wear_when: Prose = part(NOTHING, description=f"when wear limits count: {WHEN}")
    decision: Prose = part(NOTHING, description="the decision rule that it asks for")
    groups: Proses = part((), description="headings of its rules, in the order of the work")


class AxisEntry(Entry):
    """An axis that readings lie on: `count`, `names`, or `groups` of another axis."""

    count: Name = part(NOTHING, description="the fact that says how many: labels 1, 2, 3 ...")
    names: Labels = part((), description="its labels")
    groups: Name = part(NOTHING, description="the fact that lists the members of each label")
    of: Name = part(NOTHING, description="the axis that is grouped")
    default: Annotated[Text, Leaf(words=("one", "each"))] = part(
        NOTHING, description="one group of all, or each a group of its own, where the groups are not stated"
    )


class FactEntry(Entry):
    """A stated, not measured, property."""

    kind: Annotated[Text, Leaf(words=FACT_KINDS)] = part(description="what may be stated")
    title: Prose = part(NOTHING, description="what it is, for a reader")
    at: Names = part((), description=f"where it may differ: {ONE_OR_MORE}")
    choices: Labels = part((), description="the words of a choice")
    unit: Prose = part(NOTHING, description="the unit that a quantity is shown in")
    assumed: Stated = part(NOTHING, description="what is taken where nobody states it, if that is safe")
    usual: Written = part(NOTHING, description="a wide range of plausible figures, such as 1..6 in")


class GaugeClassEntry(Entry):
    """What a kind of gauge can do."""

    resolution: Written = part(description="the smallest step that it shows")
    mpe: Written = part(description="maximum permissible error: a length, a percentage, or both")
    repeatability: Written = part(NOTHING, description="one standard deviation of readings of the same thing")
    must_not_decide: Proses = part((), description="rules that it must not decide, or what it cannot see")
    slips: dict[Prose, Proses] = part(
        {}, description="what is easily misread on it -> the lengths by which a reading is then off"
    )
    days_between_checks: Annotated[Text, Leaf(schema=("integer",))] = part(
        NOTHING, description="how old its last check may be, in days"
    )
    source: SourceEntry = part(description="where these figures come from")


class MeasurandEntry(Entry):
    """A quantity that is measured."""

    title: Prose = part(NOTHING, description="what it is, for a reader")
    at: Names = part((), description=f"the stations it is measured at: {ONE_OR_MORE}")
    positions: Names = part((), description=f"the places on the part, at each station: {ONE_OR_MORE}")
    unit: Prose = part(description="the unit it is shown in")
    usual: Written = part(NOTHING, description="a wide range of plausible sizes, such as 1.5..4.5 in")
    gauge_classes: Proses = part((), description="kinds of gauge that can measure it, most trusted first")
    how: Prose = part(NOTHING, description="how to measure it")
    repeats: Annotated[Text, Leaf(schema=("integer",))] = part(NOTHING, description="readings to take of each place")
    wears_below: Name = part(NOTHING, description="the fact that states its size when new, where wear makes it smaller")
    wears_above: Name = part(NOTHING, description="the fact that states its size when new, where wear makes it larger")
    may_be_negative: Condition = part(NOTHING, description=f"yes, no, or {WHEN}")
    expands: Written = part(NOTHING, description="how much it expands for each degree: a formula over facts")


class WayEntry(Entry):
    """One way to a figure."""

    formula: Written = part(description="the formula of this way")
    when: Prose = part(NOTHING, description=WHEN)
    needs: Names = part((), description="sign-offs and rules without which it is not proven")
    gauge_classes: Proses = part((), description="kinds of gauge that this way needs")


class FigureEntry(Entry):
    """A derived quantity: one formula, or several ways to it."""

    title: Prose = part(NOTHING, description="what it is, for a reader")
    each: Names = part((), description=f"one value for each of: {ONE_OR_MORE}")
    unit: Prose = part(NOTHING, description="the unit it is shown in")
    formula: Written = part(NOTHING, description="its formula, where there is one way")
    ways: dict[Prose, Annotated[WayEntry, keyed("formula")]] = part({}, description="ways to it, most trusted first")
    may_be_negative: Condition = part(NOTHING, description=f"yes, no, or {WHEN}")


class SignOffEntry(Entry):
    """A check that a named person answers."""

    question: Prose = part(description="what is answered yes or no")
    at: Names = part((), description=f"asked at each of: {ONE_OR_MORE}")
    hold_point: Name = part(NOTHING, description="the hold point that waits for it")
    importance: Prose = part(NOTHING, description="critical, major or minor, or a formula that chooses one")
    applies_when: Prose = part(NOTHING, description=WHEN)
    because: Prose = part(NOTHING, description="what happens otherwise")
    caution: Prose = part(NOTHING, description="what to know when answering")
    source: SourceEntry = part(description="where this check comes from")


class OperationEntry(Entry):
    """Work that makes what was read before it worthless."""

    title: Prose = part(NOTHING, description="what is done, for a reader")
    makes_stale: Names = part((), description="measurands, facts and sign-offs that no longer stand")
