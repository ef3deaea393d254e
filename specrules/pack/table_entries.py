"""What a table of a tolerance pack holds: its keys, its columns, its rows as they are printed; and what is sold in
sizes."""

from typing import Annotated

from pydantic import Field

from specrules.document import Text
from specrules.pack.line_entries import SourceEntry
from specrules.validation import FileModel
from specrules.validation.texts import NOTHING, Free, Name, Prose, Proses, keyed, one_of

ORDERS = ("rising", "falling")
KEY_HOLDS = "choice, whole, band and a unit, or linear and a unit"
COLUMN_HOLDS = "the unit of its figures, number, or label"


class ColumnEntry(FileModel):
    """One column of a table."""

    holds: Prose = Field(description=COLUMN_HOLDS)
    order: Annotated[Text, one_of(*ORDERS)] = Field(
        NOTHING, description="how its figures go as the key grows, where they always do"
    )


class TableEntry(FileModel):
    """Figures by one key or two."""

    title: Prose = Field(NOTHING, description="what it is, for a reader")
    keys: dict[Name, Prose] = Field(description=f"one key or two, in the order of a call: {KEY_HOLDS}")
    columns: dict[Name, Annotated[ColumnEntry, keyed("holds")]] = Field(
        description=f"its columns, each a function TABLE_COLUMN(key, ...): {COLUMN_HOLDS}"
    )
    rows: Free | None = Field(
        None, description="key -> the figures of the columns in their order; by two keys, a mapping of such mappings"
    )
    file: Prose = Field(NOTHING, description="the CSV file beside the pack that holds its rows")
    source: SourceEntry = Field(description="where its figures come from")


class SoldEntry(FileModel):
    """Something that is sold in sizes."""

    title: Prose = Field(NOTHING, description="what one of it is called")
    sizes: Proses = Field((), description="its sizes, in either system or both: 2.00..3.20 mm by 0.05 mm, or a list")
    column: Name = Field(NOTHING, description="the function of a table, whose figures are its sizes")
    source: SourceEntry = Field(description="where its sizes come from")
