"""The shape of a finding in the JSON record, for its schema. No inspection needs this module."""

from __future__ import annotations

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field

from specrules.validation.editors import Schema
from specrules.vocabulary import IMPORTANCES, SOURCE_KINDS, Verdict


def words(*words: str) -> Schema:
    """One of these words."""
    return {"enum": list(words)}


Station = dict[str, int | str]
Margin = Annotated[list[float | None], Field(min_length=2, max_length=2)]
STATEMENTS = tuple(verdict.statement for verdict in Verdict if verdict.statement)
Importance = Annotated[str, Field(json_schema_extra=words(*IMPORTANCES))]
Side = Annotated[str, Field(json_schema_extra=words("least", "most"))]
Line = Annotated[int, Field(ge=1)]
Sha256 = Annotated[str, Field(pattern="^[0-9a-f]{64}$")]

AT = "the station, by axis"
UNIT = "the unit of its numbers"
BEYOND = "how far beyond the limit, at the least"
GROUP = "the heading that it prints under"
HOLD = "the hold point that waits for it"


class Part(BaseModel):
    """A mapping of the record: its keys are the names here with blanks."""

    model_config = ConfigDict(extra="forbid", alias_generator=lambda name: name.replace("_", " "))


class Limits(Part):
    """The limits in force at one station; null where there is none."""

    least: float | None = Field(description="the least allowed; on a worn side the wear limit")
    aim: float | None = Field(description="what to aim for")
    most: float | None = Field(description="the most allowed; on a worn side the wear limit")
    wear_least: float | None = Field(description="the least that a reused part may have")
    wear_most: float | None = Field(description="the most that a reused part may have")
    worn: list[Side] = Field(description="the sides on which the wear limit counts")
    from_sheet: bool = Field(description="whether the sheet states them, for this build")


class Slip(Part):
    """A reading that looks like a slip of the hand."""

    name: str = Field(description="what was measured")
    station: Station | None = Field(description="the station by axis; null where no finding stands on such a reading")
    position: Station | None = Field(description="the place on the part, by axis; null for the whole station")
    labels: list[int | str] = Field(description="the labels of station and position, in order")
    kind: str = Field(description="which slip it looks like")
    said: str = Field(description="what is odd about it")
    text: str = Field(description="the reading as written")
    would_be: float | None = Field(description="the reading with the slip undone, where that can be known")
    unit: str = Field(description=UNIT)
    neighbours: list[str] = Field(description="the readings that it was held against, as written")
    line: Line | None = Field(description="its line in the sheet")


class Input(Part):
    """A reading or stated fact that a value stands on."""

    name: str = Field(description="what was measured or stated")
    station: Station = Field(description=AT)
    position: Station = Field(description="the place on the part, by axis")
    value: float | None = Field(description="the number, after corrections; null for a range")
    low: float | None = Field(None, description="the lower end of a range; null where it is open")
    high: float | None = Field(None, description="the upper end of a range; null where it is open")
    unit: str = Field(description=UNIT)
    U: float | None = Field(description="the expanded uncertainty (k = 2) that was stated with it")
    gauge: str | None = Field(description="the gauge that it was taken with")
    text: str = Field(description="as written, with every place")
    line: Line | None = Field(description="its line in the file")
    file: str | None = Field(None, description="the file, where that is not the sheet")


class RestsOn(Part):
    """What a verdict stands on besides its numbers."""

    readings: str = Field(description="how many readings there are, of how many there would be")
    gauges: list[str] = Field(description="the gauges that they were taken with")
    assumed: list[str] = Field(description="facts that nobody stated, and what was taken for them")
    needed_rules: list[str] = Field(description="rules that have to be good as well")
    unsigned: list[str] = Field(description="sign-offs and rules that are needed and lacking")
    stale: list[str] = Field(description="readings that later work made worthless, and the work")
    suspect: list[Slip] = Field(description="readings that look like a slip")
    missing: list[str] = Field(description="what has to be measured or stated first")
    one_statement_for_many: bool = Field(description="whether one figure was written for many stations")


class OtherWay(Part):
    """What another way to the same figure says."""

    way: str = Field(description="its name")
    value: float | None = Field(description="what it comes to")
    U: float | None = Field(description="the expanded uncertainty of that")
    agrees: bool | None = Field(description="whether the two agree; null where nothing says how sure either is")


class Beside(Part):
    """What one pack would have said by itself."""

    pack: str = Field(description="the pack")
    verdict: Verdict = Field(description="its verdict")
    side: str | None = Field(description="its word for the side beyond")
    beyond: float | None = Field(description=BEYOND)
    limits: Limits = Field(description="its limits")


class Step(Part):
    """One step of a remedy and what it would bring."""

    do: str = Field(description="what to do")
    value: float | None = Field(description="the value then")
    verdict: Verdict | None = Field(description="the verdict then; null where that cannot be known")
    side: str | None = Field(description="the word for the side that it would be beyond")
    beyond: float | None = Field(description=BEYOND)


class Source(Part):
    """Where the limits come from; what is not known is left out."""

    kind: Annotated[str, Field(json_schema_extra=words(*SOURCE_KINDS))] = Field(description="how far it may be trusted")
    note: str | None = Field(None, description="what to know about it")
    document: str | None = Field(None, description="title of the published document")
    edition: str | None = Field(None, description="its edition or year")
    page: str | None = Field(None, description="its page")
    clause: str | None = Field(None, description="its clause, table or figure")


class Margins(Part):
    """For each limit that there is, the margin inside it (negative: beyond) and the expanded uncertainty of that."""

    least: Margin | None = Field(None, description="to the least: margin and uncertainty")
    most: Margin | None = Field(None, description="to the most: margin and uncertainty")


class BudgetLine(Part):
    """One cause of error and what it adds to the standard uncertainty of the value."""

    cause: str = Field(description="what it is")
    u: float = Field(description="its standard uncertainty, as it comes through the formula")


class Unable(Part):
    """A tolerance that the gauges used cannot decide well."""

    measurand: str = Field(description="the reading that is least sure")
    gauge: str | None = Field(description="the kind of gauge it was taken with")
    could: list[str] = Field(description="kinds of gauge that could")


class Finding(Part):
    """One rule at one station. Numbers are in `unit`, rounded to 12 digits."""

    rule: str = Field(description="the rule's name in its pack")
    title: str = Field(description="what is judged, for a reader")
    group: str | None = Field(description=GROUP)
    pack: str = Field(description="the pack whose word it is")
    station: Station = Field(description=AT)
    verdict: Verdict = Field(description="the verdict")
    would_be: Verdict | None = Field(description="the verdict of the numbers alone, where that is another")
    side: str | None = Field(description="the pack's word for the side beyond, such as tight")
    statement: Annotated[str, Field(json_schema_extra=words(*STATEMENTS))] | None = Field(
        description="the statement of conformity that goes with the verdict of the numbers"
    )
    value: float | None = Field(description="the judged value; null where no single number is known")
    between: Margin | None = Field(description="what is sure of a value that is no single number; null: open")
    range: Annotated[list[float | None], Field(min_length=2, max_length=2)] | None = Field(
        description="from the least to the greatest that the readings give"
    )
    unit: str = Field(description=UNIT)
    U: float | None = Field(description="the expanded uncertainty (k = 2) of the value")
    limits: Limits = Field(description="the limits in force")
    beyond: float | None = Field(description=BEYOND)
    beyond_at_most: float | None = Field(description="how far beyond the limit, at the most; null: no end is known")
    margins: Margins = Field(description="how far inside each limit")
    conformance: Annotated[float, Field(ge=0, le=1)] | None = Field(
        description="the probability that the limits are met; null: nothing says it"
    )
    conformance_approximate: bool = Field(description="most of the uncertainty is not normal")
    budget: list[BudgetLine] = Field(description="what each cause adds to the standard uncertainty, the largest first")
    gauge_cannot_decide: Unable | None = Field(description="U is more than a quarter of the tolerance")
    way: str | None = Field(description="which way to the figure was used")
    other_ways: list[OtherWay] = Field(description="what the other ways say")
    formula: str = Field(description="the formula, as its pack writes it")
    worked: str | None = Field(description="the formula with its numbers")
    inputs: list[Input] = Field(description="the readings and facts that the value stands on")
    rests_on: RestsOn = Field(description="what else the verdict stands on")
    beside: list[Beside] = Field(description="what each pack would have said by itself")
    importance: Importance = Field(description="how grave it is")
    hold_point: str | None = Field(description=HOLD)
    holds: bool = Field(description="whether it stops the job before the hold point asked for")
    conceded: bool = Field(description="whether a concession of the sheet permits it")
    because: str | None = Field(description="what happens otherwise")
    remedy: str | None = Field(description="what to do, in words")
    steps: list[Step] = Field(description="what to do, step by step")
    caution: str | None = Field(description="what to know when measuring")
    does_not_test: str | None = Field(description="what this check cannot see")
    notes: list[str] = Field(description="what else there is to say")
    source: Source = Field(description="where the limits come from")


class Figure(Part):
    """A derived quantity at a station, whether or not a rule judges it."""

    name: str = Field(description="its name in its pack")
    title: str = Field(description="what it is, for a reader")
    group: str | None = Field(description=GROUP)
    station: Station = Field(description=AT)
    value: float | None = Field(description="what it comes to; null where something is missing")
    unit: str = Field(description=UNIT)
    U: float | None = Field(description="the expanded uncertainty (k = 2) of that")
    way: str | None = Field(description="which way to it was used")
