"""The shape of a study's file: which keys it has, what each holds, and each reading as a number of its unit."""

import re
from fractions import Fraction
from typing import Annotated, NamedTuple

from pydantic import Field, ValidationInfo

from specrules.document import Text, shown
from specrules.quantity import Bracket, Exact, Open, Refusal, Unit, find_unit, read_written
from specrules.validation import FileModel
from specrules.validation.texts import Day, Entered, Leaf, Prose, any_text, filled_text, one_of, refused
from specrules.vocabulary import Code

HEADER = "gauge-study/1"

_STATED = re.compile(r"\s*(?:±|\+/-|\+-)")


class StudyReading(NamedTuple):
    """A reading and the size of its last written place, both in the study's unit, exact."""

    value: Fraction
    step: Fraction


def _unit(node: object) -> Unit:
    text = filled_text(node)
    found = find_unit(text)
    if isinstance(found, Refusal):
        raise refused(found.code, f"{shown(text)} {found.said}", found.write)
    if found.dimension.point:
        raise refused(Code.WRONG_UNIT, "a study of temperatures on a scale is not taken; give differences")
    return found


def _number(node: object, info: ValidationInfo) -> StudyReading | None:
    """A reading; None where the unit itself is at fault, so that nothing can be said of it."""
    text, unit = any_text(node), info.data.get("unit")
    if unit is None:
        return None
    match read_written(text, unit=unit, dimension=unit.dimension):
        case Exact(U=None) as found:
            base = Fraction(found.number) * found.unit.factor + found.unit.offset
            return StudyReading((base - unit.offset) / unit.factor, Fraction(found.place_value) / unit.factor)
        case Exact():
            said = f"{shown(text)} states its own uncertainty, which is what a study finds out"
            raise refused(Code.WRONG_UNCERTAINTY, said, _STATED.split(text)[0])
        case Bracket():
            raise refused(Code.NOT_ONE_FIGURE, f"{shown(text)} is a range; a study needs single readings")
        case Open():
            raise refused(Code.NO_VALUE, "a reading is missing here; a study needs every one")
        case Refusal() as found:
            raise refused(found.code, f"{shown(text)} {found.said}", found.write, found.at)


_Unit = Annotated[Unit, Leaf(_unit, {"type": "string"})]
_Cell = Annotated[
    tuple[Annotated[StudyReading, Leaf(_number, {"type": "number"}, informed=True)], ...], Field(min_length=1)
]
_Row = Annotated[dict[Entered, _Cell], Field(min_length=1)]


class StudiedGauge(FileModel):
    """The gauge that was studied."""

    name: Prose = Field(description="as sheets call it")
    gauge_class: Prose = Field(alias="class", description="as packs name it")


class StudyFile(FileModel):
    """A gauge's repeatability study: the unit stands before the readings, which are numbers of it."""

    specrules: Annotated[Text, one_of(HEADER)] = Field(description="what this file is")
    gauge: StudiedGauge = Field(description="its name and class")
    unit: _Unit = Field(description="what a bare number means, such as in or mm")
    on: Day = Field(None, alias="date", description="the day of the study, year first, as 2026-10-02")
    readings: Annotated[dict[Entered, _Row], Field(min_length=1)] = Field(
        description="lists of readings by operator, then by part"
    )
