"""The record of an inspection: its model, its schema, writing it as JSON and reading it back."""

from specrules.record.finding_record import FindingRecord, InputRecord, RestsOnRecord
from specrules.record.inspection_record import (
    HEADER,
    NOT_INSPECTED,
    FaultRecord,
    PictureRecord,
    Record,
    SignOffRecord,
)
from specrules.record.record_part import ReasonRecord, SourceRecord, SuspectRecord
from specrules.record.record_reading import read_record, records_in
from specrules.record.record_writing import record_data, record_line, record_text

__all__ = [
    "HEADER",
    "NOT_INSPECTED",
    "FaultRecord",
    "FindingRecord",
    "InputRecord",
    "PictureRecord",
    "ReasonRecord",
    "Record",
    "RestsOnRecord",
    "SignOffRecord",
    "SourceRecord",
    "SuspectRecord",
    "read_record",
    "record_data",
    "record_line",
    "record_text",
    "records_in",
]
