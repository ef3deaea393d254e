"""The pure function of the tool: a sheet and a stack in, an inspection out."""

from specrules.inspection.decide import BEYOND, INSIDE, STATEMENTS, Decision, Margin, Verdict, decide
from specrules.inspection.finding import statement
from specrules.inspection.inspect import DECISIONS, inspect
from specrules.inspection.parts import (
    IMPORTANCES,
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
)

__all__ = [
    "BEYOND",
    "DECISIONS",
    "IMPORTANCES",
    "INSIDE",
    "STATEMENTS",
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
    "Verdict",
    "decide",
    "inspect",
    "statement",
]
