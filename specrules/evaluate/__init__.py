"""From operator trees and readings to values with their slopes over numbered error sources."""

from specrules.evaluate.arithmetic import Errors, StatedErrors, add, apply, combined_u, divide, hull, multiply, subtract
from specrules.evaluate.evaluator import Cell, Environment, decided, evaluate, holds, is_true, label
from specrules.evaluate.layout import Labels, Layout, Places
from specrules.evaluate.value import UNKNOWN, ZERO, NotEvaluable, Point, Slopes, Value, exactly

__all__ = [
    "UNKNOWN",
    "ZERO",
    "Cell",
    "Environment",
    "Errors",
    "Labels",
    "Layout",
    "NotEvaluable",
    "Places",
    "Point",
    "Slopes",
    "StatedErrors",
    "Value",
    "add",
    "apply",
    "combined_u",
    "decided",
    "divide",
    "evaluate",
    "exactly",
    "holds",
    "hull",
    "is_true",
    "label",
    "multiply",
    "subtract",
]
