"""The record of an inspection: its model, its schema, writing it as JSON and reading it back."""

from specrules.record.finding_record import (
    BesideRecord,
    BudgetLineRecord,
    FigureRecord,
    FindingRecord,
    InputRecord,
    LimitsRecord,
    MarginsRecord,
    OtherWayRecord,
    RestsOnRecord,
    StepRecord,
    UnableRecord,
)
from specrules.record.inspection_record import (
    HEADER,
    NOT_INSPECTED,
    ConcessionRecord,
    FaultRecord,
    LoosenedRecord,
    PackRecord,
    Record,
    SheetRecord,
    SignOffRecord,
    ToolRecord,
)
from specrules.record.record_part import ReasonRecord, RecordPart, SourceRecord, SuspectRecord
from specrules.record.record_reading import read_record
from specrules.record.record_text import record_data, record_line, record_text

__all__ = [
    "HEADER",
    "NOT_INSPECTED",
    "BesideRecord",
    "BudgetLineRecord",
    "ConcessionRecord",
    "FaultRecord",
    "FigureRecord",
    "FindingRecord",
    "InputRecord",
    "LimitsRecord",
    "LoosenedRecord",
    "MarginsRecord",
    "OtherWayRecord",
    "PackRecord",
    "ReasonRecord",
    "Record",
    "RecordPart",
    "RestsOnRecord",
    "SheetRecord",
    "SignOffRecord",
    "SourceRecord",
    "StepRecord",
    "SuspectRecord",
    "ToolRecord",
    "UnableRecord",
    "read_record",
    "record_data",
    "record_line",
    "record_text",
]
