"""What a tolerance pack's file holds besides its rules: the keys of each thing, and what each key is for."""

from typing import Annotated

from pydantic import Field

from specrules.document import Text
from specrules.pack.gauge_entries import BY_SIZE, MPE, RESOLUTION, GaugeFigures, SizeEntry
from specrules.pack.line_entries import HOLDS_FOR, WHEN, BriefSource, Holds, SourceEntry
from specrules.validation import FileModel
from specrules.validation.texts import (
    NOTHING,
    Condition,
    Label,
    Name,
    Names,
    Prose,
    Proses,
    StatedWords,
    Whole,
    Words,
    Written,
    YesNo,
    keyed,
    one_of,
)
from specrules.vocabulary import FACT_KINDS

ONE_OR_MORE = "one axis, or a list of them"

EXISTS = "when there is one: a condition over facts; where it is false the thing is absent"

WAY = keyed("formula")
"""A way written short is its formula."""


class HeadEntry(FileModel):
    """What a pack says of itself."""

    name: Prose = Field(description="the name that sheets and other packs call it by")
    version: Written = Field(description="its version, in quotes")
    title: Prose = Field(description="what it is, for a reader")
    licence: Prose = Field(NOTHING, description="the licence of its figures")
    unit: Prose = Field(NOTHING, description="what a bare number of its examples and usual sizes means")
    author: Prose = Field(NOTHING, description="who answers for it")
    changes: dict[Written, Proses] = Field(default_factory=dict, description="what each version changed, by version")
    caution: Prose = Field(NOTHING, description="what to know before using it")
    builds_on: Proses = Field((), description="packs that it amends and adds to, with versions: general >= 1.1")
    sets: dict[Name, Label] = Field(default_factory=dict, description="facts that using it implies")
    gauges_expand: Written = Field(NOTHING, description="how much gauges expand for each degree: a formula")
    assumed_temperature: Written = Field(
        NOTHING, description="of parts and gauges where nobody states one, with the range it is in: 20 C ±5 K"
    )
    wear_when: Prose = Field(NOTHING, description=f"when parts that a sheet does not name are reused: {WHEN}")
    decision: Prose = Field(NOTHING, description="the decision rule that it asks for")
    groups: Proses = Field((), description="headings of its rules, in the order of the work")
    holds_for: Holds = Field(default_factory=dict, description=HOLDS_FOR)
    figures_hold_by: Names = Field((), description="facts that every figure has to say its validity by; never assumed")
    examples_assume: dict[Name, Label] = Field(
        default_factory=dict, description="facts that its worked examples and exercises take where they state none"
    )


class AxisEntry(FileModel):
    """An axis that readings lie on: `count`, `names`, `labels`, `kinds`, or `groups` of another axis."""

    count: Name = Field(NOTHING, description="the fact that says how many: labels 1, 2, 3 ...")
    names: Words = Field((), description="its labels")
    groups: Name = Field(NOTHING, description="the fact that lists the members of each label")
    of: Name = Field(NOTHING, description="the axis that is grouped")
    default: Annotated[Text, one_of("one", "each")] = Field(
        NOTHING, description="one group of all, or each a group of its own, where the groups are not stated"
    )
    labels: Name = Field(NOTHING, description="the fact that says which of its labels there are")
    kinds: dict[Label, Name] = Field(
        default_factory=dict, description="kinds of its labels, each with the fact that says how many of it there are"
    )
    letters: YesNo = Field(NOTHING, description="yes: what is counted is lettered, a, b, c ...")
    lies: Annotated[Text, one_of("along", "down", "around", "across", "in a row")] = Field(
        NOTHING, description="how it lies on the part, for drawings"
    )
    applies_when: Prose = Field(NOTHING, description=EXISTS)


class FactEntry(FileModel):
    """A stated, not measured, property."""

    kind: Annotated[Text, one_of(*FACT_KINDS)] = Field(description="what may be stated")
    title: Prose = Field(NOTHING, description="what it is, for a reader")
    at: Names = Field((), description=f"where it may differ: {ONE_OR_MORE}")
    choices: Words = Field((), description="the words of a choice")
    of: Words = Field((), description="the labels that there may be, of a fact that says which of them there are")
    unit: Prose = Field(NOTHING, description="the unit that a quantity is shown in")
    assumed: StatedWords = Field(NOTHING, description="what is taken where nobody states it, if that is safe")
    usual: Written = Field(NOTHING, description="a wide range of plausible figures, such as 1..6 in")
    applies_when: Prose = Field(NOTHING, description=EXISTS)
    question: Prose = Field(NOTHING, description="how a new sheet asks for it, in plain words")
    why: Prose = Field(NOTHING, description="why it matters, for whoever is asked")


class SourcedSizeEntry(SizeEntry):
    """Figures of a range of sizes, and where they come from."""

    source: BriefSource | None = Field(None, description="where they come from, if not from where the others do")


class FigureSourcesEntry(FileModel):
    """Where single figures of a kind of gauge come from."""

    resolution: BriefSource | None = Field(None, description="where its resolution comes from")
    mpe: BriefSource | None = Field(None, description="where its permissible errors come from")
    repeatability: BriefSource | None = Field(None, description="where its repeatability comes from")
    steps: BriefSource | None = Field(None, description="where its blades come from")


class GaugeClassEntry(GaugeFigures):
    """What a kind of gauge can do."""

    resolution: Written = Field(description=RESOLUTION)
    mpe: Written = Field(description=MPE)
    by_size: tuple[SourcedSizeEntry, ...] = Field((), description=BY_SIZE)
    must_not_decide: Proses = Field((), description="rules that it must not decide, or what it cannot see")
    slips: dict[Prose, Proses] = Field(
        default_factory=dict, description="what is easily misread on it -> the lengths by which a reading is then off"
    )
    days_between_checks: Whole = Field(NOTHING, description="how old its last check may be, in days")
    source: SourceEntry = Field(description="where these figures come from")
    sources: FigureSourcesEntry | None = Field(None, description="where single figures come from, if from elsewhere")


class MeasurandEntry(FileModel):
    """A quantity that is measured."""

    title: Prose = Field(NOTHING, description="what it is, for a reader")
    at: Names = Field((), description=f"the stations it is measured at: {ONE_OR_MORE}")
    positions: Names = Field((), description=f"the places on the part, at each station: {ONE_OR_MORE}")
    unit: Prose = Field(description="the unit it is shown in")
    usual: Written = Field(NOTHING, description="a wide range of plausible sizes, such as 1.5..4.5 in")
    gauge_classes: Proses = Field((), description="kinds of gauge that can measure it, most trusted first")
    how: Prose = Field(NOTHING, description="how to measure it")
    repeats: Whole = Field(NOTHING, description="readings to take of each place")
    wears_below: Name = Field(
        NOTHING, description="the fact that states its size when new, where wear makes it smaller"
    )
    wears_above: Name = Field(NOTHING, description="the fact that states its size when new, where wear makes it larger")
    may_be_negative: Condition = Field(NOTHING, description=f"yes, no, or {WHEN}")
    expands: Written = Field(NOTHING, description="how much it expands for each degree: a formula over facts")
    applies_when: Prose = Field(NOTHING, description=EXISTS)


class PartEntry(FileModel):
    """A part of the thing that is built, which may be new, reused or machined."""

    title: Prose = Field(NOTHING, description="what it is, for a reader")
    at: Names = Field((), description=f"there is one at each of: {ONE_OR_MORE}")
    measurands: Names = Field(description="what is measured on it; a fit that is measured belongs to several parts")
    applies_when: Prose = Field(NOTHING, description=EXISTS)


class WayEntry(FileModel):
    """One way to a figure."""

    formula: Written = Field(description="the formula of this way")
    when: Prose = Field(NOTHING, description=WHEN)
    needs: Names = Field((), description="sign-offs and rules without which it is not proven")
    gauge_classes: Proses = Field((), description="kinds of gauge that this way needs")


class FigureEntry(FileModel):
    """A derived quantity: one formula, or several ways to it."""

    title: Prose = Field(NOTHING, description="what it is, for a reader")
    each: Names = Field((), description=f"one value for each of: {ONE_OR_MORE}")
    unit: Prose = Field(NOTHING, description="the unit it is shown in")
    formula: Written = Field(NOTHING, description="its formula, where there is one way")
    ways: dict[Prose, Annotated[WayEntry, WAY]] = Field(
        default_factory=dict, description="ways to it, most trusted first"
    )
    may_be_negative: Condition = Field(NOTHING, description=f"yes, no, or {WHEN}")
    applies_when: Prose = Field(NOTHING, description=EXISTS)


class SignOffEntry(FileModel):
    """A check that a named person answers."""

    question: Prose = Field(description="what is answered yes or no")
    at: Names = Field((), description=f"asked at each of: {ONE_OR_MORE}")
    hold_point: Name = Field(NOTHING, description="the hold point that waits for it")
    importance: Prose = Field(NOTHING, description="critical, major or minor, or a formula that chooses one")
    applies_when: Prose = Field(NOTHING, description=WHEN)
    because: Prose = Field(NOTHING, description="what happens otherwise")
    caution: Prose = Field(NOTHING, description="what to know when answering")
    source: SourceEntry = Field(description="where this check comes from")


class OperationEntry(FileModel):
    """Work that makes what was read before it worthless."""

    title: Prose = Field(NOTHING, description="what is done, for a reader")
    makes_stale: Names = Field((), description="measurands, facts and sign-offs that no longer stand")
