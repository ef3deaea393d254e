"""The pure function of the tool: a sheet and a specification in, an inspection out."""

from specrules.inspection.decision import Conformity, Decision, Margin, decide, inside
from specrules.inspection.details import Whole, WholeFinding
from specrules.inspection.examination import Examination, inspect
from specrules.inspection.finding_parts import (
    About,
    Alternative,
    Beside,
    Earlier,
    Input,
    Limits,
    OtherWay,
    RestsOn,
    SideMargin,
    StepOutcome,
)
from specrules.inspection.findings import statement
from specrules.inspection.report import (
    ConcessionUse,
    Extent,
    FigureValue,
    Finding,
    Options,
    Report,
    SignOffState,
    WorkDone,
)

__all__ = [
    "About",
    "Alternative",
    "Beside",
    "ConcessionUse",
    "Conformity",
    "Decision",
    "Earlier",
    "Examination",
    "Extent",
    "FigureValue",
    "Finding",
    "Input",
    "Limits",
    "Margin",
    "Options",
    "OtherWay",
    "Report",
    "RestsOn",
    "SideMargin",
    "SignOffState",
    "StepOutcome",
    "Whole",
    "WholeFinding",
    "WorkDone",
    "decide",
    "inside",
    "inspect",
    "statement",
]
