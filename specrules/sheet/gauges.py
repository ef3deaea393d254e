"""The gauges of a sheet, and how much too much each one reads."""

from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal
from functools import reduce
from typing import NamedTuple

from specrules.document import Fault, Text
from specrules.pack import Capability, Measurand, Specification, read_capability
from specrules.quantity import CONTEXT, Dimension, Exact, Open, Refusal, Unit, read_written
from specrules.sheet.faults import fault, read_date, refused, unknown
from specrules.sheet.register import merged
from specrules.sheet.sheet_model import GaugeEntry
from specrules.sheet.sheet_parts import Gauge
from specrules.vocabulary import Code

MOST_LINKS = 16
"""Gauges that one stands on, by `set with`: three or four are usual."""

SMALLEST_SIZE = Decimal(1)
"""In mm: no comparator is set to a size below this; what it reads below it is a difference, not a size."""


def settle_gauges(
    written: Iterable[tuple[Text, tuple[GaugeEntry, ...]]],
    spec: Specification,
    lengths_in: Unit | None,
    register: str = "",
) -> tuple[Mapping[str, Gauge], Mapping[str, Dimension], tuple[Fault, ...]]:
    """The gauges by name, the dimension of what each one's zero was tried on, and what is wrong with them.

    `written`: what is said of each, the sheet's word before that of the file `register`, where each figure has a unit.
    """
    faults: list[Fault] = []
    gauges: dict[str, Gauge] = {}
    tried_on: dict[str, Dimension] = {}
    every = dict(written)
    for name, entries in every.items():
        subject, entry = f"gauges {name}", merged(entries)
        if entry.gauge_class and entry.gauge_class not in spec.gauge_classes:
            faults.append(unknown(entry.gauge_class, "gauge class", spec.gauge_classes, subject, len(faults)))
        if entry.set_with and entry.set_with not in every:
            others = (other for other in every if other != name)
            faults.append(unknown(entry.set_with, "gauge of this sheet", others, subject, len(faults)))
        checked, due = (read_date(day, subject, faults) for day in (entry.checked, entry.due))
        zero = None
        if entry.zero and (entry.zero.standard or entry.zero.reads):
            bare = None if entry.zero.place.file == register else lengths_in
            standard = _read(entry.zero.standard, "standard", name, bare, faults)
            reads = _read(entry.zero.reads, "reads", name, bare, faults)
            if standard and reads and standard.unit.dimension != reads.unit.dimension:
                kinds = standard.unit.dimension.words(), reads.unit.dimension.words()
                said = f"the standard is a {kinds[0]}, and what the gauge reads on it is a {kinds[1]}"
                faults.append(fault(entry.zero.reads.place, subject, Code.WRONG_UNIT, said))
            elif standard and reads:
                zero = CONTEXT.subtract(reads.value, standard.value)
                tried_on[str(name)] = reads.unit.dimension
        capability = reduce(Capability.over, (_capability(each, subject, faults) for each in entries))
        kind = spec.gauge_classes.get(entry.gauge_class)
        whole = capability.over(kind.capability) if kind is not None else capability
        if entry.steps and not whole.goes:
            said = "has blades, and neither it nor its class says that it reads what goes"
            faults.append(fault(entry.steps[0].place, f"{subject} steps", Code.KEYS_DISAGREE, said, "reads: goes"))
        if entry.reads and kind is not None and whole.endless:
            said = "reads what goes, and has neither steps nor a resolution to say what does not go"
            write = "steps: 0.0015..0.025 in by 0.001 in"
            faults.append(fault(entry.reads.place, f"{subject} reads", Code.MISSING_KEY, said, write))
        gauges[str(name)] = Gauge(
            name=str(name),
            gauge_class=str(entry.gauge_class),
            zero=zero,
            set_with=str(entry.set_with),
            capability=capability,
            checked=checked,
            place=name.place,
            serial=str(entry.serial),
            certificate=str(entry.certificate),
            due=due,
        )
    faults.extend(_circles(gauges))
    return gauges, tried_on, tuple(faults)


def _capability(entry: GaugeEntry, subject: str, faults: list[Fault]) -> Capability:
    def refuse(text: Text, refusal: Refusal, which: str) -> None:
        faults.append(refused(text, refusal, f"{subject} {which}"))

    return read_capability(entry, refuse)


def able_for(measurand: Measurand, gauge: Gauge | None, spec: Specification) -> Capability:
    """What a gauge can do where it reads a measurand: by its own figures, then its class's; one without a class is of
    the measurand's first, and so is what nobody named."""
    first = next(iter(measurand.gauge_classes), "")
    known = spec.gauge_classes.get((gauge.gauge_class if gauge is not None else "") or first)
    own = gauge.capability if gauge is not None else Capability()
    return own.over(known.capability) if known is not None else own


def _read(text: Text, key: str, gauge: Text, lengths_in: Unit | None, faults: list[Fault]) -> Exact | None:
    subject = f"gauges {gauge} zero {key}"
    written = read_written(text, unit=lengths_in, dimension=None)
    if isinstance(written, Exact):
        return written
    if isinstance(written, Refusal):
        faults.append(refused(text, written, subject))
    elif isinstance(written, Open):
        said = "a zero needs both its standard and what the gauge reads on it"
        faults.append(fault(gauge.place, subject, Code.KEYS_DISAGREE, said))
    else:
        faults.append(fault(text.place, subject, Code.NOT_ONE_FIGURE, "a zero is one figure, not a range"))
    return None


def _circles(gauges: Mapping[str, Gauge]) -> Iterator[Fault]:
    """Gauges that are set with themselves, and the first of each row of them that is too long. Each is looked at once.

    Each gauge in a row adds its errors to every reading by those set with it, so their number is bounded.
    """
    links: dict[str, int] = {}  # gauge -> how many it stands on; those in a circle, or set with one of it, on none
    for first in gauges:
        row: dict[str, None] = {}
        name = first
        while name in gauges and name not in links and name not in row:
            row[name] = None
            name = gauges[name].set_with
        circle = list(row)[list(row).index(name) :] if name in row else ()
        for each in circle:
            said = "this gauge is set with itself, by way of the gauges named"
            yield fault(gauges[each].place, f"gauges {each}", Code.CIRCULAR, said)
        for each in reversed(row):
            links[each] = 0 if circle else links.get(gauges[each].set_with, -1) + 1
            if links[each] == MOST_LINKS + 1:
                said = (
                    f"this gauge is set with one that is set with another, and so on: more than {MOST_LINKS} in a row"
                )
                yield fault(gauges[each].place, f"gauges {each}", Code.TOO_MANY, said, "the first of them")


def _chain(gauges: Mapping[str, Gauge], name: str) -> tuple[str, ...]:
    """A gauge, what it was set with, what that was set with, and so on; a circle is gone round once."""
    chain: list[str] = []
    while name in gauges and name not in chain and len(chain) <= MOST_LINKS:
        chain.append(name)
        name = gauges[name].set_with
    return tuple(chain)


class ZeroError(NamedTuple):
    """What to take off readings on a gauge, in base units, and the gauge whose zero that is, "" for none."""

    off: Decimal = Decimal(0)
    gauge: str = ""
    inherited: bool = False  # of a gauge that this one was set with: comes off whole sizes alone

    def of(self, size: Decimal) -> Decimal:
        """What to take off a reading of this size, in base units."""
        return Decimal(0) if self.inherited and abs(size) < SMALLEST_SIZE else self.off


def zero_error(gauges: Mapping[str, Gauge], name: str) -> ZeroError:
    """What to take off readings on this gauge.

    A gauge with a zero of its own reads that much too much. One that was set with another gauge repeats the other's
    error: the setting gap is what the other one showed, so where that reads high by e, a size read against the gap is
    high by e as well. The same e comes off both, and cancels in a hole less a shaft, as it did on the bench. It does
    not come off a difference that a comparator shows by itself: both sides of that were in the same gap.
    """
    for link in _chain(gauges, name):
        zero = gauges[link].zero
        if zero is not None:
            return ZeroError(zero, link, link != name)
    return ZeroError()
