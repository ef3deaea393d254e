"""What a formula may speak of: the axes, and every name with its kind, dimension and axes. Holds no numbers."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from string import ascii_lowercase
from typing import NamedTuple

from specrules.formula.axis_kinds import kind_axis
from specrules.formula.functions import FUNCTIONS, Function
from specrules.formula.tables import NO_TABLES, TableColumn
from specrules.quantity import NUMBER, Dimension

MOST_LABELS = 256
"""A count beyond this is a slip of the pen, and would cost every rule as many findings."""


class Kind(Enum):
    """What sort of thing a name or an expression stands for."""

    QUANTITY = "a quantity"
    CHOICE = "a choice"
    CONDITION = "a condition"
    TEXT = "a text"


class Role(Enum):
    """Where a name comes from: conditions may read facts alone, since a measured value is never certain."""

    MEASURAND = "measurand"
    FACT = "fact"
    FIGURE = "figure"
    LIMIT = "limit so far"


@dataclass(frozen=True, slots=True)
class Axis:
    """A named axis that readings lie on.

    Exactly one of three: `names` (fixed labels), `count` (labels 1..N of that fact; a, b, c with `letters`), or
    `groups` (the fact that lists the members, on axis `of`, for each label). `default` is what stands where the
    groups are not stated: "one" group of all, "each" a group of its own, or "" (they must be stated).
    `labels`: the fact that says which of the names there are, "" where there are all.
    `kinds`: for each of the names the fact that says how many there are of that kind (`formula.axis_kinds`).
    `lies`: how it lies on the part (along, down, around, across, in a row), "" where nobody says.
    """

    name: str
    names: tuple[str, ...] = ()
    count: str = ""
    groups: str = ""
    of: str = ""
    default: str = ""
    lies: str = ""
    letters: bool = False
    labels: str = ""
    kinds: tuple[str, ...] = ()

    @property
    def fixed(self) -> bool:
        """Whether it has the same labels in every build, or some of them: it names them, and nothing counts them."""
        return bool(self.names) and not self.kinds

    @property
    def count_of(self) -> Mapping[str, str]:
        """Kind -> the fact that counts it."""
        return dict(zip(self.names, self.kinds, strict=False))

    @property
    def shaped_by(self) -> str:
        """The fact to state where nobody knows its labels; "" where they are groups of what is given."""
        return self.count or self.groups or next(iter(self.kinds), "")

    def of_kinds(self) -> "Axis":
        """The axis that groups its labels by their kinds."""
        return Axis(kind_axis(self.name), names=self.names, of=self.name)

    def numbered(self, number: int) -> str:
        """The label of a number, from 1, on a counted axis."""
        return ascii_lowercase[number - 1] if self.letters else str(number)

    @property
    def most(self) -> int:
        """How many labels it may count."""
        return len(ascii_lowercase) if self.letters else MOST_LABELS

    @property
    def first(self) -> str:
        """The label that it has whenever it has any."""
        return self.names[0] if self.names else self.numbered(1)

    def may_have(self, label: str) -> bool:
        """Whether it can have such a label: one of its names, a number or letter where counted; a group may be any."""
        if self.names:
            return label in self.names
        if self.letters:
            return len(label) == 1 and label in ascii_lowercase
        return label.isdigit() if self.count else True


class Declared(NamedTuple):
    """A name that formulas may use, with all that can be known of it before anything is measured."""

    name: str
    role: Role
    axes: tuple[str, ...] = ()
    dimension: Dimension = NUMBER
    kind: Kind = Kind.QUANTITY
    choices: tuple[str, ...] = ()


class Scope(NamedTuple):
    """Everything that the formulas of a specification may speak of."""

    axes: Mapping[str, Axis]
    names: Mapping[str, Declared]
    columns: Mapping[str, TableColumn] = NO_TABLES  # by the function that looks it up
    functions: Mapping[str, Function] = FUNCTIONS

    def with_names(self, *more: Declared) -> "Scope":
        """This scope and some names more."""
        if not more:
            return self
        return self._replace(names={**self.names, **{name.name: name for name in more}})

    def grouped_by(self, axis: str) -> tuple[str, ...]:
        """The axes whose labels are groups of this one's labels."""
        return tuple(a.name for a in self.axes.values() if a.of == axis)
