"""About what a figure of a pack speaks: the labels and the sizes that it holds for, compiled to conditions."""

from decimal import Decimal
from typing import NamedTuple

from specrules.document import Place
from specrules.formula import Formula
from specrules.quantity import Unit


class HoldsFor(NamedTuple):
    """One thing by which figures hold: labels of a fact or an axis, or sizes of a figure or a fact, ends included.

    `low` and `high` are in base units, None where labels say it. Neither labels nor sizes: it holds for any.
    """

    name: str
    labels: tuple[str, ...]
    low: Decimal | None
    high: Decimal | None
    unit: Unit | None  # that the range is written in
    asked: Formula | None  # whether it is so, for stations of the rule's axes and those of `along`; None: for any
    along: tuple[str, ...]  # axes that the rule does not bind: at every one of their stations it has to be so
    place: Place

    @property
    def any(self) -> bool:
        """Whether it keeps nothing out."""
        return self.asked is None

    @property
    def text(self) -> str:
        """As it is written, on one line."""
        return f"{self.name}: any" if self.asked is None else str(self.asked.text)

    def lets_pass(self, other: "HoldsFor") -> bool:
        """Whether it holds wherever another one does, which is of the same thing."""
        if self.any or other.any:
            return self.any
        if self.low is None or self.high is None:
            return other.low is None and set(other.labels) <= set(self.labels)
        return other.low is not None and other.high is not None and self.low <= other.low and other.high <= self.high


class Validity(NamedTuple):
    """All by which some figures hold, as their author states it; no key: they hold for everything."""

    keys: tuple[HoldsFor, ...]
    pack: str
    title: str  # the pack's own, for a reader

    def key(self, name: str) -> HoldsFor | None:
        """What it says of one thing."""
        return next((each for each in self.keys if each.name == name), None)

    @property
    def text(self) -> str:
        """As it is written, on one line."""
        return "; ".join(key.text for key in self.keys)

    def lets_pass(self, other: "Validity") -> bool:
        """Whether it holds wherever another one does."""
        return all(each.any or ((one := other.key(each.name)) and each.lets_pass(one)) for each in self.keys)


ANYTHING = Validity((), "", "")
"""The validity of figures of which nobody says for what they hold."""
