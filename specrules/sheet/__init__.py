"""The build sheet: its file, its readings at their stations, what looks like a slip, and a new one to fill in."""

from specrules.sheet.alike import all_alike
from specrules.sheet.confirming import confirmed
from specrules.sheet.part_states import PartStates
from specrules.sheet.sets import same_place
from specrules.sheet.settled_readings import SettledReadings
from specrules.sheet.settling import lengths_of, settle
from specrules.sheet.sheet_model import SheetFile
from specrules.sheet.sheet_parts import (
    Concession,
    FactValue,
    Gauge,
    Reading,
    Sheet,
    Signature,
    Work,
)
from specrules.sheet.sheet_reading import RawSheet, read_fragment, read_sheet
from specrules.sheet.suspicion import Suspect, suspects

__all__ = [
    "Concession",
    "FactValue",
    "Gauge",
    "PartStates",
    "RawSheet",
    "Reading",
    "SettledReadings",
    "Sheet",
    "SheetFile",
    "Signature",
    "Suspect",
    "Work",
    "all_alike",
    "confirmed",
    "lengths_of",
    "read_fragment",
    "read_sheet",
    "same_place",
    "settle",
    "suspects",
]
