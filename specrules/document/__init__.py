"""YAML text to a tree whose every key and value knows its place; one value written anew."""

from specrules.document.place import MOST_FAULTS, Fault, Kind, Place
from specrules.document.source import Budget, shown, visible
from specrules.document.text import Fields, Items, Node, Text, placed
from specrules.document.yaml_reading import read

__all__ = [
    "MOST_FAULTS",
    "Budget",
    "Fault",
    "Fields",
    "Items",
    "Kind",
    "Node",
    "Place",
    "Text",
    "placed",
    "read",
    "shown",
    "visible",
]
