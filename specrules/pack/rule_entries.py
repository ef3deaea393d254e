"""What a rule of a tolerance pack holds besides lines of limits: remedies, worked examples, and their short forms."""

from typing import Annotated

from pydantic import Field

from specrules.document import Text
from specrules.pack.entries import ONE_OR_MORE
from specrules.pack.line_entries import HOLDS_FOR, SHORT_LINES, WHEN, Holds, PackLineEntry, SourceEntry
from specrules.validation import FileModel
from specrules.validation.texts import (
    NOTHING,
    ONE_OF_THEM,
    Condition,
    Free,
    Label,
    Name,
    Names,
    Prose,
    Written,
    YesNo,
    keyed,
    one_of,
)
from specrules.vocabulary import VERDICTS

BOTH = "both"
OTHERWISE = "otherwise"


class StepEntry(FileModel):
    """One thing to do about a value beyond its limit."""

    do: Prose = Field(description="what to do")
    moves: Written = Field(NOTHING, description="what it adds to the judged value; negative where it takes away")
    one_of: Name = Field(
        NOTHING, description="what is sold, by its name: the size that brings the value nearest its aim is told"
    )


class ExpectEntry(FileModel):
    """What must come out at one station."""

    at: dict[Name, Label] = Field(default_factory=dict, description="the station, by axis")
    value: Written = Field(NOTHING, description="the judged value, with its unit")
    verdict: Annotated[Text, one_of(*VERDICTS)] = Field(description="the verdict")
    side: Prose = Field(NOTHING, description="the word of the side that it is beyond")
    beyond: Written = Field(NOTHING, description="how far beyond the limit, with its unit")


class ExampleEntry(FileModel):
    """A worked example: a fragment of a sheet and what must come out, at its stations or of values that are judged."""

    given: Free | None = Field(None, description="facts, readings and more, as in a sheet")
    expect: Annotated[tuple[ExpectEntry, ...], ONE_OF_THEM] = Field(
        (), description="what must come out, at one station or several"
    )
    at: dict[Written, Prose] = Field(
        default_factory=dict,
        description="in place of expect, of values that the rule judges what is said: in spec, tight by 0.0001 in",
    )
    station: dict[Name, Label] = Field(
        default_factory=dict, description="where the values of at are judged, by axis; else at the first label"
    )
    unsigned: Names = Field((), description="sign-offs that count as not given")
    note: Prose = Field(NOTHING, description="what the example shows")


class MarginEntry(FileModel):
    """How much further in than the packs below a pack holds some of their rules."""

    on: Names = Field(description="rules of the packs that it builds on")
    inward: Written = Field(description="added to the least and taken off the most, after all lines of all packs")
    reason: Prose = Field(description="why this pack differs")
    makers_too: YesNo = Field(NOTHING, description="yes: the sheet's own limits are drawn in as well")


_Step = Annotated[StepEntry, keyed("do")]
_Steps = Annotated[tuple[_Step, ...], ONE_OF_THEM]
_Limits = Annotated[tuple[PackLineEntry, ...] | None, SHORT_LINES]


class RuleEntry(FileModel):
    """A formula judged against lines of limits."""

    title: Prose = Field(description="what is judged, for a reader")
    each: Names = Field((), description=f"one finding for each of: {ONE_OR_MORE}")
    formula: Written = Field(description="what is judged")
    unit: Prose = Field(NOTHING, description="the unit it is shown in")
    limits: _Limits = Field((), description="lines of limits, in order; or none, to show it and never judge it")
    holds_for: Holds = Field(default_factory=dict, description=HOLDS_FOR)
    from_the_maker: YesNo = Field(NOTHING, description="yes: no limits until the sheet states the maker's own")
    words: Prose = Field(Text("low/high"), description="the words for under the least and over the most: tight/loose")
    importance: Annotated[dict[Prose, Prose], keyed(BOTH)] = Field(
        default_factory=dict, description="critical, major or minor, a formula that chooses one, or either by side"
    )
    hold_point: Name = Field(NOTHING, description="the hold point that waits for it")
    applies_when: Prose = Field(NOTHING, description=WHEN)
    needs: Names = Field((), description="sign-offs and rules without which a good value is not proven")
    because: dict[Prose, Prose] = Field(default_factory=dict, description="what happens, by side")
    remedy: dict[Prose, _Steps] = Field(
        default_factory=dict, description="what to do, by side; otherwise: where no step is enough"
    )
    caution: Prose = Field(NOTHING, description="what to know when measuring")
    does_not_test: Prose = Field(NOTHING, description="what this check cannot see")
    note: Prose = Field(NOTHING, description="where practice conflicts: what it says, what was chosen and why")
    may_be_negative: Condition = Field(NOTHING, description=f"yes, no, or {WHEN}")
    source: SourceEntry = Field(description="where its figures come from")
    worked: tuple[ExampleEntry, ...] = Field((), description="worked examples, with numbers and what must come out")
