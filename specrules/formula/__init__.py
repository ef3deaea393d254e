"""The formula language of packs: algebra over measured names, checked when read, compiled to operator trees.

What reads formulas, `formula.formula_reading`, is imported by itself: a run with a kept plan mostly reads none."""

from specrules.formula.formula import Formula
from specrules.formula.functions import FUNCTIONS, LANGUAGE, LIMIT_NAMES, PI, REDUCERS, Function, takes, with_functions
from specrules.formula.operators import Station
from specrules.formula.scope import MOST_LABELS, Axis, Declared, Kind, Role, Scope
from specrules.formula.tables import KeyKind, LookupTable, PrintedColumn, Rows, TableColumn, TableKey

__all__ = [
    "FUNCTIONS",
    "LANGUAGE",
    "LIMIT_NAMES",
    "MOST_LABELS",
    "PI",
    "REDUCERS",
    "Axis",
    "Declared",
    "Formula",
    "Function",
    "KeyKind",
    "Kind",
    "LookupTable",
    "PrintedColumn",
    "Role",
    "Rows",
    "Scope",
    "Station",
    "TableColumn",
    "TableKey",
    "takes",
    "with_functions",
]
