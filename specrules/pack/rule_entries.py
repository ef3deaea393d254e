"""What a rule of a tolerance pack holds: lines of limits, remedies, worked examples, and their short forms."""

from typing import Annotated

from specrules.document import Fields, Node, Text
from specrules.document.text import fields_at
from specrules.pack.entries import ONE_OR_MORE, WHEN, SourceEntry, keyed
from specrules.pack.entry import Entry, part
from specrules.pack.leaves import (
    NOTHING,
    Condition,
    Free,
    Label,
    Leaf,
    Name,
    Names,
    Prose,
    Short,
    Written,
    YesNo,
    items_at_place,
    listed,
)
from specrules.vocabulary import VERDICTS

BOTH = "both"
OTHERWISE = "otherwise"


def lines_of(node: Node) -> Node | None:
    """Limits written short: a mapping is one line named base, `none` is no line at all."""
    if isinstance(node, Fields):
        line = fields_at(node.place)
        line[Text("name", node.place)] = Text("base", node.place)
        line.update(node)
        return items_at_place(line)
    return None if node == "none" else node


def _maker_says(node: Node) -> Node:
    """A text alone as the source of a limit line is what its maker says."""
    made = keyed("note").widen(node)
    if isinstance(node, Text) and isinstance(made, Fields):
        made[Text("kind", node.place)] = Text("maker", node.place)
        return made
    return node


class LineEntry(Entry):
    """One line of limits: sets the parts that it names, once its `when` is true."""

    name: Prose = part(description="the name that other packs amend it by")
    when: Prose = part(NOTHING, description=WHEN)
    least: Written = part(NOTHING, description="the least that is allowed on new work")
    aim: Written = part(NOTHING, description="what to aim for")
    most: Written = part(NOTHING, description="the most that is allowed on new work")
    wear_least: Written = part(NOTHING, description="the least that a reused part may have")
    wear_most: Written = part(NOTHING, description="the most that a reused part may have")
    shift: Written = part(NOTHING, description="added to least, aim and most so far")
    from_the_maker: YesNo = part(NOTHING, description="yes: no limits until the sheet states the maker's own")
    note: Prose = part(NOTHING, description="what to know about this line")
    source: Annotated[SourceEntry, Short(_maker_says, lambda _: {"type": "string"})] | None = part(
        None, description="where this line comes from, if not from the rule's source"
    )


class StepEntry(Entry):
    """One thing to do about a value beyond its limit."""

    do: Prose = part(description="what to do")
    moves: Written = part(NOTHING, description="what it adds to the judged value; negative where it takes away")


class ExpectEntry(Entry):
    """What must come out at one station."""

    at: dict[Name, Label] = part({}, description="the station, by axis")
    value: Written = part(NOTHING, description="the judged value, with its unit")
    verdict: Annotated[Text, Leaf(words=VERDICTS)] = part(description="the verdict")
    side: Prose = part(NOTHING, description="the word of the side that it is beyond")
    beyond: Written = part(NOTHING, description="how far beyond the limit, with its unit")


class ExampleEntry(Entry):
    """A worked example: a fragment of a sheet and what must come out."""

    given: Free = part(description="facts, readings and more, as in a sheet")
    expect: Annotated[tuple[ExpectEntry, ...], Short(listed, lambda whole: whole["items"])] = part(
        description="what must come out, at one station or several"
    )
    unsigned: Names = part((), description="sign-offs that count as not given")
    note: Prose = part(NOTHING, description="what the example shows")


_Step = Annotated[StepEntry, keyed("do")]
_Steps = Annotated[tuple[_Step, ...], Short(listed, lambda whole: whole["items"])]
_Limits = Annotated[
    tuple[LineEntry, ...] | None,
    Short(lines_of, lambda _: {"anyOf": [{"const": "none"}, {"type": "object"}]}),
]


class RuleEntry(Entry):
    """A formula judged against lines of limits."""

    title: Prose = part(description="what is judged, for a reader")
    each: Names = part((), description=f"one finding for each of: {ONE_OR_MORE}")
    formula: Written = part(description="what is judged")
    unit: Prose = part(NOTHING, description="the unit it is shown in")
    limits: _Limits = part((), description="lines of limits, in order; or none, to show it and never judge it")
    from_the_maker: YesNo = part(NOTHING, description="yes: no limits until the sheet states the maker's own")
    words: Prose = part(Text("low/high"), description="the words for under the least and over the most: tight/loose")
    importance: Annotated[dict[Prose, Prose], keyed(BOTH)] = part(
        {}, description="critical, major or minor, a formula that chooses one, or either by side"
    )
    hold_point: Name = part(NOTHING, description="the hold point that waits for it")
    applies_when: Prose = part(NOTHING, description=WHEN)
    needs: Names = part((), description="sign-offs and rules without which a good value is not proven")
    because: dict[Prose, Prose] = part({}, description="what happens, by side")
    remedy: dict[Prose, _Steps] = part({}, description="what to do, by side; otherwise: where no step is enough")
    caution: Prose = part(NOTHING, description="what to know when measuring")
    does_not_test: Prose = part(NOTHING, description="what this check cannot see")
    note: Prose = part(NOTHING, description="where practice conflicts: what it says, what was chosen and why")
    may_be_negative: Condition = part(NOTHING, description=f"yes, no, or {WHEN}")
    source: SourceEntry = part(description="where its figures come from")
    worked: tuple[ExampleEntry, ...] = part((), description="worked examples, with numbers and what must come out")
