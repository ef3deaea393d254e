"""The formula language of packs: ordinary algebra over measured names, checked when read, evaluated with its slopes."""

from specrules.formula.bounds import Errors, StatedErrors, combined_u
from specrules.formula.explain import explain
from specrules.formula.formula import Bench, Formula, Station
from specrules.formula.functions import FUNCTIONS, PI, REDUCERS, Function, takes, with_functions
from specrules.formula.plain import Plainly, Use, plainly, told_apart
from specrules.formula.read import read_formula
from specrules.formula.row import NotPlain, Plain, ReadingKind, Row, within_2u
from specrules.formula.scope import Axis, Declared, Kind, Role, Scope
from specrules.formula.value import UNKNOWN, ZERO, NotEvaluable, Point, Slopes, Value, exactly

__all__ = [
    "FUNCTIONS",
    "PI",
    "REDUCERS",
    "UNKNOWN",
    "ZERO",
    "Axis",
    "Bench",
    "Declared",
    "Errors",
    "Formula",
    "Function",
    "Kind",
    "NotEvaluable",
    "NotPlain",
    "Plain",
    "Plainly",
    "Point",
    "ReadingKind",
    "Role",
    "Row",
    "Scope",
    "Slopes",
    "StatedErrors",
    "Station",
    "Use",
    "Value",
    "combined_u",
    "exactly",
    "explain",
    "plainly",
    "read_formula",
    "takes",
    "told_apart",
    "with_functions",
    "within_2u",
]
