"""The pure function of the tool: a sheet and a stack in, an inspection out."""

from specrules.inspection.decide import Decision, Margin, conformity, decide
from specrules.inspection.finding import statement
from specrules.inspection.inspect import inspect
from specrules.inspection.parts import (
    Beside,
    ConcessionUse,
    FigureValue,
    Finding,
    Input,
    Inspection,
    Limits,
    Loosened,
    Options,
    OtherWay,
    RestsOn,
    SideMargin,
    SignOffState,
    StepOutcome,
    Unable,
)

__all__ = [
    "Beside",
    "ConcessionUse",
    "Decision",
    "FigureValue",
    "Finding",
    "Input",
    "Inspection",
    "Limits",
    "Loosened",
    "Margin",
    "Options",
    "OtherWay",
    "RestsOn",
    "SideMargin",
    "SignOffState",
    "StepOutcome",
    "Unable",
    "conformity",
    "decide",
    "inspect",
    "statement",
]
