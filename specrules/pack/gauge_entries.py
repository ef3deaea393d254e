"""What is written of what a gauge can do: of its class in a pack, of itself in a sheet or in a shop's register."""

from typing import Annotated

from pydantic import Field

from specrules.document import Text
from specrules.validation import FileModel
from specrules.validation.texts import NOTHING, Proses, Written, one_of

RESOLUTION = "the smallest step that it shows"
MPE = "maximum permissible error: a length, a percentage, or both"
BY_SIZE = "figures by ranges of size; of other sizes those above hold"


class SizeEntry(FileModel):
    """What holds of readings over one size and to another, in place of what holds of all."""

    over: Written = Field(description="a size that is still in the range before, such as 25 mm; 0 mm in the first")
    to: Written = Field(description="the largest size in this range")
    resolution: Written = Field(NOTHING, description=RESOLUTION)
    mpe: Written = Field(NOTHING, description=MPE)
    repeatability: Written = Field(NOTHING, description="one standard deviation of readings of the same thing")


class GaugeFigures(FileModel):
    """What a gauge can do."""

    resolution: Written = Field(NOTHING, description=RESOLUTION)
    mpe: Written = Field(NOTHING, description=MPE)
    repeatability: Written = Field(NOTHING, description="one standard deviation of readings of the same thing")
    by_size: tuple[SizeEntry, ...] = Field((), description=BY_SIZE)
    reads: Annotated[Text, one_of("goes")] = Field(
        NOTHING, description="goes: a plain figure is what went, and the size lies between it and the next step"
    )
    steps: Proses = Field((), description="its blades: 0.0015..0.025 in by 0.001 in, or a list, the thinnest first")
