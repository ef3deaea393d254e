"""The formula language of packs: algebra over measured names, checked when read, compiled to operator trees."""

from specrules.formula.formula import Formula
from specrules.formula.formula_reading import read_formula, syntax_of
from specrules.formula.functions import FUNCTIONS, LANGUAGE, LIMIT_NAMES, PI, REDUCERS, Function, takes, with_functions
from specrules.formula.operators import Station
from specrules.formula.scope import Axis, Declared, Kind, Role, Scope

__all__ = [
    "FUNCTIONS",
    "LANGUAGE",
    "LIMIT_NAMES",
    "PI",
    "REDUCERS",
    "Axis",
    "Declared",
    "Formula",
    "Function",
    "Kind",
    "Role",
    "Scope",
    "Station",
    "read_formula",
    "syntax_of",
    "takes",
    "with_functions",
]
