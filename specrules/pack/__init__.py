"""Tolerance packs: read, stacked, amended, compiled to the parts that an inspection judges by."""

from specrules.pack.capability import Amount, Capability, read_capability
from specrules.pack.compiling import Compiler, compile_lines
from specrules.pack.layering import ordered
from specrules.pack.lesson_parts import Exercise, Lesson, Mistake, Question, Variation
from specrules.pack.line_entries import LineEntry
from specrules.pack.parts import (
    Expected,
    Fact,
    Figure,
    GaugeClass,
    GaugeSlip,
    LimitLine,
    Measurand,
    NewSize,
    Operation,
    PackHead,
    Rule,
    RuleChain,
    SignOff,
    Source,
    Stack,
    Step,
    Way,
    Worked,
)
from specrules.pack.reading import Pack, read_pack
from specrules.pack.stacking import stack

__all__ = [
    "Amount",
    "Capability",
    "Compiler",
    "Exercise",
    "Expected",
    "Fact",
    "Figure",
    "GaugeClass",
    "GaugeSlip",
    "Lesson",
    "LimitLine",
    "LineEntry",
    "Measurand",
    "Mistake",
    "NewSize",
    "Operation",
    "Pack",
    "PackHead",
    "Question",
    "Rule",
    "RuleChain",
    "SignOff",
    "Source",
    "Stack",
    "Step",
    "Variation",
    "Way",
    "Worked",
    "compile_lines",
    "ordered",
    "read_capability",
    "read_pack",
    "stack",
]
