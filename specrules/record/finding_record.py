"""A finding of the JSON record: one rule at one station, with all that its verdict stands on."""

from typing import Annotated

from pydantic import Field

from specrules.record.record_part import (
    AT,
    BEYOND,
    GROUP,
    HOLD,
    IF_WHOLE,
    UNIT,
    WHOLE,
    Amount,
    Importance,
    Line,
    Pair,
    ReasonRecord,
    RecordPart,
    SafeText,
    Side,
    SomeText,
    SourceRecord,
    StationRecord,
    SuspectRecord,
    one_of,
)
from specrules.vocabulary import READING_STATES, Verdict

STATEMENTS = tuple(verdict.statement for verdict in Verdict if verdict.statement)


STATE = f"the state of the part when it was read: {', '.join(READING_STATES)}"
TAKEN = "the day it was read"


class LimitsRecord(RecordPart):
    """The limits in force at one station; null where there is none."""

    least: Amount = Field(description="the least allowed on new work")
    aim: Amount = Field(description="what to aim for")
    most: Amount = Field(description="the most allowed on new work")
    wear_least: Amount = Field(description="the least that a reused part may have")
    wear_most: Amount = Field(description="the most that a reused part may have")
    worn: tuple[Side, ...] = Field(description="the sides on which the wear limit decides, the parts being reused")
    from_sheet: bool = Field(description="whether the sheet states them, for this build")


class EarlierRecord(RecordPart):
    """What stood where a later set was read again."""

    value: Amount = Field(description="the number, after corrections; null for a range")
    low: Amount = Field(default=None, description="the lower end of a range; null where it is open")
    high: Amount = Field(default=None, description="the upper end of a range; null where it is open")
    moved: Amount = Field(description="by how much what is judged is larger, negative: smaller; null: not one number")
    text: SafeText = Field(description="as written, with every place")
    state: SomeText = Field(default=None, description=STATE)
    taken: SomeText = Field(default=None, description=TAKEN)
    line: Line | None = Field(description="its line in the sheet")


class InputRecord(RecordPart):
    """A reading or stated fact that a value stands on."""

    name: SafeText = Field(description="what was measured or stated")
    station: StationRecord = Field(description=AT)
    position: StationRecord = Field(description="the place on the part, by axis")
    value: Amount = Field(description="the number, after corrections; of a range the middle, null where it is open")
    low: Amount = Field(default=None, description="the lower end of a range; null where it is open")
    high: Amount = Field(default=None, description="the upper end of a range; null where it is open")
    gauge_error: Amount = Field(default=None, description="of a range: the permissible error of its gauge, either way")
    expanded: Amount = Field(default=None, description="of a range: U of its middle, range and gauge together")
    unit: SafeText = Field(description=UNIT)
    U: Amount = Field(description="the expanded uncertainty (k = 2) that was stated with it")
    gauge: SomeText = Field(description="the gauge that it was taken with")
    confirmed: SomeText = Field(default=None, description="by whom the number was read again and found right")
    text: SafeText = Field(description="as written, with every place")
    line: Line | None = Field(description="its line in the file")
    column: Line | None = Field(default=None, description="the character in the line, from 1; null in older records")
    file: SomeText = Field(default=None, description="the file, where that is not the sheet")
    state: SomeText = Field(default=None, description=STATE)
    taken: SomeText = Field(default=None, description=TAKEN)
    earlier: tuple[EarlierRecord, ...] = Field(default=(), description="what it was read as before, the oldest first")


class RestsOnRecord(RecordPart):
    """What a verdict stands on besides its numbers."""

    readings: SafeText = Field(description="how many readings there are, of how many there would be")
    gauges: tuple[SafeText, ...] = Field(description="the gauges that they were taken with")
    assumed: tuple[ReasonRecord, ...] = Field(description="facts that nobody stated, and what was taken for them")
    needed_rules: tuple[SafeText, ...] = Field(description="rules that have to be good as well")
    unsigned: tuple[SafeText, ...] = Field(description="sign-offs and rules that are needed and lacking")
    stale: tuple[ReasonRecord, ...] = Field(description="readings that later work made worthless, and the work")
    suspect: tuple[SuspectRecord, ...] = Field(description="readings that look like a slip")
    missing: tuple[ReasonRecord, ...] = Field(description="what has to be measured or stated first")
    one_statement_for_many: bool = Field(description="whether one figure was written for many stations")
    measured: tuple[SafeText, ...] = Field(
        default=(), description="names of what was read for it; empty where the inputs say so, or in older records"
    )


class OtherWayRecord(RecordPart):
    """What another way to the same figure says."""

    way: SafeText = Field(description="its name")
    value: Amount = Field(description="what it comes to")
    U: Amount = Field(description="the expanded uncertainty of that")
    agrees: bool | None = Field(description="whether the two agree; null where nothing says how sure either is")


class BesideRecord(RecordPart):
    """What one pack would have said by itself."""

    pack: SafeText = Field(description="the pack")
    verdict: Verdict = Field(description="its verdict")
    side: SomeText = Field(description="its word for the side beyond")
    beyond: Amount = Field(description=BEYOND)
    limits: LimitsRecord = Field(description="its limits")


class StepRecord(RecordPart):
    """One step of a remedy and what it would bring."""

    do: SafeText = Field(description="what to do")
    value: Amount = Field(description="the value then")
    verdict: Verdict | None = Field(description="the verdict then; null where that cannot be known")
    side: SomeText = Field(description="the word for the side that it would be beyond")
    beyond: Amount = Field(description=BEYOND)


class MarginsRecord(RecordPart):
    """For each limit that there is, the margin inside it (negative: beyond) and the expanded uncertainty of that."""

    least: Pair | None = Field(default=None, description="to the least: margin and uncertainty")
    most: Pair | None = Field(default=None, description="to the most: margin and uncertainty")


class BudgetLineRecord(RecordPart):
    """One cause of error and what it adds to the standard uncertainty of the value."""

    cause: ReasonRecord = Field(description="what it is")
    u: float = Field(description="its standard uncertainty, as it comes through the formula")


class GaugeFigureRecord(RecordPart):
    """What a gauge behind a value is taken to be able to do, at the size that it read."""

    gauge: SafeText = Field(description="the gauge, as the sheet names it, or the kind that was assumed")
    figure: SafeText = Field(description="which figure: mpe, or repeatability as one standard deviation")
    value: float = Field(description="the figure")
    unit: SafeText = Field(description=UNIT)
    source: SourceRecord = Field(description="whose word that is")


class AlternativeRecord(RecordPart):
    """Another way to take the readings behind a value."""

    how: ReasonRecord = Field(description="what would be done otherwise")
    U: float = Field(description="the expanded uncertainty that it would bring")
    verdict: Verdict = Field(description="and the verdict")


ON_DEMAND = ("margins", "budget", "inputs", "beside", "steps")
"""Those of the parts worked out on demand that no whole finding lacks."""


class FindingRecord(RecordPart):
    """One rule at one station. Numbers are in `unit`, rounded to 12 digits."""

    rule: SafeText = Field(description="the rule's name in its pack")
    title: SafeText = Field(description="what is judged, for a reader")
    group: SomeText = Field(description=GROUP)
    pack: SafeText = Field(description="the pack whose word it is")
    station: StationRecord = Field(description=AT)
    verdict: Verdict = Field(description="the verdict")
    would_be: Verdict | None = Field(description="the verdict of the numbers alone, where that is another")
    side: SomeText = Field(description="the pack's word for the side beyond, such as tight")
    said: SomeText = Field(
        default=None,
        description="value, verdict and what is lacking, for a reader; null in older records, or with the limits in it",
    )
    places: Annotated[int, Field(ge=0)] | None = Field(
        default=None,
        description="decimals that its numbers are printed to, limits finer where needed; null in older records",
    )
    statement: Annotated[str, one_of(*STATEMENTS)] | None = Field(
        description="the statement of conformity that goes with the verdict of the numbers"
    )
    value: Amount = Field(description="the judged value; null where no single number is known")
    between: Pair | None = Field(description="what is sure of a value that is no single number; null: open")
    range: Pair | None = Field(description="from the least to the greatest that the readings give" + WHOLE)
    unit: SafeText = Field(description=UNIT)
    U: Amount = Field(description="the expanded uncertainty (k = 2) of the value")
    limits: LimitsRecord = Field(description="the limits in force")
    beyond: Amount = Field(description=BEYOND)
    beyond_at_most: Amount = Field(description="how far beyond the limit, at the most; null: no end is known")
    margins: MarginsRecord | None = Field(description="how far inside each limit" + IF_WHOLE)
    conformance: Annotated[float, Field(ge=0, le=1)] | None = Field(
        description="the probability that the limits are met; null: nothing says it" + WHOLE
    )
    conformance_approximate: bool | None = Field(
        description="whether that probability comes only near; null: there is none" + WHOLE
    )
    budget: tuple[BudgetLineRecord, ...] | None = Field(
        description="what each cause adds to the standard uncertainty, the largest first" + IF_WHOLE
    )
    gauge_figures: tuple[GaugeFigureRecord, ...] | None = Field(
        default=None, description="what the gauges behind the value can do; null in older records" + WHOLE
    )
    alternatives: tuple[AlternativeRecord, ...] | None = Field(
        description="of a verdict in doubt: what was tried to settle it; null before version 3" + WHOLE
    )
    way: SomeText = Field(description="which way to the figure was used")
    other_ways: tuple[OtherWayRecord, ...] = Field(description="what the other ways say")
    formula: SafeText = Field(description="the formula, as its pack writes it")
    worked: SomeText = Field(description="the formula with its numbers" + WHOLE)
    inputs: tuple[InputRecord, ...] | None = Field(
        description="the readings and facts that the value stands on" + IF_WHOLE
    )
    rests_on: RestsOnRecord = Field(description="what else the verdict stands on")
    beside: tuple[BesideRecord, ...] | None = Field(description="what each pack would have said by itself" + IF_WHOLE)
    importance: Importance = Field(description="how grave it is")
    hold_point: SomeText = Field(description=HOLD)
    holds: bool = Field(description="whether it stops the job before the hold point asked for")
    open: bool | None = Field(
        default=None,
        description="whether it is not settled, and the hold point asked for waits for it; null in older records",
    )
    conceded: bool = Field(description="whether a concession of the sheet permits it")
    because: SomeText = Field(description="what happens otherwise")
    remedy: SomeText = Field(description="what to do, in words" + WHOLE)
    steps: tuple[StepRecord, ...] | None = Field(description="what to do, step by step" + IF_WHOLE)
    caution: SomeText = Field(description="what to know when measuring")
    does_not_test: SomeText = Field(description="what this check cannot see")
    notes: tuple[ReasonRecord, ...] = Field(description="what else there is to say")
    source: SourceRecord = Field(description="where the limits come from")


class FigureRecord(RecordPart):
    """A derived quantity at a station, whether or not a rule judges it."""

    name: SafeText = Field(description="its name in its pack")
    title: SafeText = Field(description="what it is, for a reader")
    group: SomeText = Field(description=GROUP)
    station: StationRecord = Field(description=AT)
    value: Amount = Field(description="what it comes to; null where something is missing")
    unit: SafeText = Field(description=UNIT)
    U: Amount = Field(description="the expanded uncertainty (k = 2) of that")
    way: SomeText = Field(description="which way to it was used")
    in_doubt: bool = Field(default=False, description="whether it stands on a reading that looks like a slip")
