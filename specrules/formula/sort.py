"""What an expression is before anything is measured: its kind, its dimension, the words it may come to."""

from typing import NamedTuple

from specrules.formula.scope import Kind
from specrules.formula.syntax import Node, Number
from specrules.quantity import NUMBER, UNITS, Dimension

YES_NO = ("yes", "no")


class Sort(NamedTuple):
    """What an expression is. dimension None: any (a written 0). certain: it stands on facts and labels alone."""

    kind: Kind
    dimension: Dimension | None = NUMBER
    choices: tuple[str, ...] = ()
    certain: bool = True


CONDITION = Sort(Kind.CONDITION)


def is_condition(sort: Sort) -> bool:
    """A condition, or a fact of yes and no, which is one."""
    return sort.kind is Kind.CONDITION or sort.choices == YES_NO


def with_unit(dimension: Dimension, *nodes: Node) -> str:
    """What to write for the bare number among some expressions, of which this dimension is wanted."""
    bare = next((node for node in nodes if isinstance(node, Number) and node.dimension == NUMBER), None)
    units = [unit.symbol for unit in UNITS if unit.dimension == dimension]
    if bare is None or not units:
        return ""
    usual = [unit for unit in ("in", "mm") if unit in units] or units[:1]
    return " or ".join(f"{bare.value:f} {unit if unit.isidentifier() else f'[{unit}]'}" for unit in usual)
