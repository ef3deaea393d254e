"""The formula language of packs: algebra over measured names, checked when read, compiled to operator trees."""

from specrules.formula.check_advice import FOREIGN
from specrules.formula.formula import Formula
from specrules.formula.formula_reading import YES_OR_NO, read_formula, read_yes_no, syntax_of
from specrules.formula.functions import FUNCTIONS, LANGUAGE, LIMIT_NAMES, PI, REDUCERS, Function, takes, with_functions
from specrules.formula.operators import Station
from specrules.formula.scope import MOST_LABELS, Axis, Declared, Kind, Role, Scope
from specrules.formula.tables import KeyKind, LookupTable, PrintedColumn, Rows, TableColumn, TableKey

__all__ = [
    "FOREIGN",
    "FUNCTIONS",
    "LANGUAGE",
    "LIMIT_NAMES",
    "MOST_LABELS",
    "PI",
    "REDUCERS",
    "YES_OR_NO",
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
    "read_formula",
    "read_yes_no",
    "syntax_of",
    "takes",
    "with_functions",
]
