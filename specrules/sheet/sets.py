"""The readings of one measurand as written: its sets, what is said once for a whole set, which set governs where."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date
from functools import cache, partial
from typing import NamedTuple

from specrules.document import Fault, Fields, Items, Node, Place, Text, shown
from specrules.document.text import fields_at
from specrules.pack import Capability, Measurand, Specification
from specrules.quantity import TEMPERATURE, Dimension, Exact, Refusal, Unit, find_unit, read_written
from specrules.sheet.axes import AxisLabels
from specrules.sheet.bare_figures import bare_unit, is_bare
from specrules.sheet.corrections import measured
from specrules.sheet.faults import fault, read_date, refused, unknown
from specrules.sheet.gauges import ZeroError, able_for, zero_error
from specrules.sheet.grid import UNSAID, Grid, SaidOfOne, Statement
from specrules.sheet.key_labels import Kinds
from specrules.sheet.misplaced import AT, ONE_TEXT, SAID_ONCE
from specrules.sheet.picture_names import names_of_pictures
from specrules.sheet.reading_shapes import one_reading, statements
from specrules.sheet.sheet_parts import Gauge, Reading
from specrules.validation import not_a_word
from specrules.vocabulary import READING_STATES, Code


class Known(NamedTuple):
    """What the rest of the sheet says of readings. `gauges` is None where the gauges themselves are at fault."""

    spec: Specification
    layout: AxisLabels
    gauges: Mapping[str, Gauge] | None
    tried_on: Mapping[str, Dimension]
    lengths_in: Unit | None
    part_at: Exact | None = None  # temperatures that hold for the whole sheet
    gauge_at: Exact | None = None
    names: tuple[str, ...] = ()  # of all gauges that may be named
    only_named: bool = False  # an example of a pack: where it names no gauge, a figure is the size itself

    def read_by(self, measurand: Measurand, gauge: str) -> tuple[Capability, ZeroError]:
        """What the gauge that read a measurand can do, and what it reads too much."""
        gauges = self.gauges or {}
        if not gauge and self.only_named:
            return Capability(), ZeroError()
        return able_for(measurand, gauges.get(gauge), self.spec), zero_error(gauges, gauge)

    def grid(self, measurand: Measurand) -> Grid:
        """Where a measurand's readings lie."""
        listed = listed_axes(self.spec, self.layout.labels, self.layout.kinds)
        return Grid(
            measurand.name,
            measurand.at,
            measurand.positions,
            self.layout.labels,
            listed,
            by_default=self.layout.by_default,
            lettered=self.layout.lettered,
            told=self.layout.told,
            kinds=self.layout.kinds,
        )


def listed_axes(
    spec: Specification, labels: Mapping[str, tuple[str, ...]], kinds: Mapping[str, Kinds]
) -> frozenset[str]:
    """The axes along which a list may run: named ones, and letters that are known. Numbers must be written out, and the
    labels of kinds where there are several of any."""
    several = {name for name, some in kinds.items() if any(len(kind.labels) > 1 for kind in some.values())}
    return frozenset(
        axis.name
        for axis in spec.axes.values()
        if (axis.names and axis.name not in several) or (axis.letters and labels[axis.name])
    )


class Set(NamedTuple):
    """Readings taken together."""

    unit: Unit | None
    gauge: str
    taken: date | None
    because: str
    state: str
    after: tuple[str, ...]
    part_at: Exact | None
    gauge_at: Exact | None
    node: Node
    place: Place
    pictures: tuple[Text, ...] = ()


def settle_sets(
    node: Node, measurand: Measurand, known: Known, numbers: Iterator[int]
) -> tuple[tuple[Reading, ...], tuple[Reading, ...], tuple[Fault, ...]]:
    """The readings that govern, those that a later set replaced, and what is wrong with them."""
    faults: list[Fault] = []
    governing: dict[tuple[str, ...], list[Reading]] = {}
    history: list[Reading] = []
    for each in _by_age(list(_sets(node, measurand, known, faults)), measurand, faults):
        for reading, earlier in list(_readings(each, measurand, known, numbers, faults)):
            if earlier:
                history.append(reading)
                continue
            there = governing.get(reading.station, [])
            replaced = [other for other in there if same_place(other, reading)]
            history.extend(replaced)
            governing[reading.station] = [*(other for other in there if other not in replaced), reading]
    return tuple(reading for there in governing.values() for reading in there), tuple(history), tuple(faults)


def same_place(earlier: Reading, later: Reading) -> bool:
    """One figure for a station, and a figure for a position there, cannot both stand."""
    return earlier.position is None or later.position is None or earlier.position == later.position


def _by_age(sets: list[Set], measurand: Measurand, faults: list[Fault]) -> list[Set]:
    """The sets, oldest first: by date where all have one, then by the state of the part, else as they were written."""
    if all(each.state in READING_STATES for each in sets):
        sets = sorted(sets, key=lambda each: READING_STATES.index(each.state))
    if all(each.taken for each in sets):
        return sorted(sets, key=lambda each: each.taken or date.min)
    latest = None
    for each in sets:
        if each.taken and latest and each.taken < latest:
            said = f"taken on {each.taken}, before the set above it ({latest}), while another set has no date"
            faults.append(
                fault(
                    each.place, measurand.name, Code.OUT_OF_ORDER, said, "taken: in every set, or the oldest set first"
                )
            )
        latest = each.taken or latest
    return sets


def _sets(node: Node, measurand: Measurand, known: Known, faults: list[Fault]) -> Iterator[Set]:
    said = [isinstance(i, Fields) and not one_reading(i) and not set(SAID_ONCE).isdisjoint(i) for i in node]
    if isinstance(node, Items) and any(said):
        for item, is_set in zip(node, said, strict=True):
            if isinstance(item, Fields) and is_set and Text(AT) in item:
                yield _set(item, measurand, known, faults)
            else:
                said_of_it = "a set in a list has its readings under at"
                faults.append(fault(item.place, measurand.name, Code.WRONG_SHAPE, said_of_it, "at: {...}"))
    elif isinstance(node, Fields):
        yield _set(node, measurand, known, faults)
    else:
        yield Set(None, "", None, "", "", (), known.part_at, known.gauge_at, node, node.place)


def _set(fields: Fields, measurand: Measurand, known: Known, faults: list[Fault]) -> Set:
    subject, spec = measurand.name, known.spec
    once, rest = set_and_readings(fields)
    said = {key: _text(once, key, subject, faults) for key in ONE_TEXT}
    if (at := fields.get(Text(AT))) is not None:
        for key in rest:
            wrong = f"{shown(key)} stands beside at, which holds the readings of this set"
            faults.append(fault(key.place, subject, Code.MISPLACED, wrong))
    _named_gauge(said["gauge"], subject, known, faults)
    after = tuple(_operations(once.get(Text("after")), spec, f"{subject} after", faults))
    taken = read_date(said["taken"], f"{subject} taken", faults)
    state = said["state"]
    if state and state not in READING_STATES:
        faults.append(fault(state.place, f"{subject} state", *not_a_word(state, READING_STATES)))
    unit = _unit(said["unit"], measurand, known, faults) if said["unit"] else None
    part_at = temperature(said["part temperature"], f"{subject} part temperature", faults)
    gauge_at = temperature(said["gauge temperature"], f"{subject} gauge temperature", faults)
    return Set(
        unit,
        said["gauge"],
        taken,
        said["because"],
        state,
        after,
        part_at or known.part_at,
        gauge_at or (None if part_at else known.gauge_at),
        rest if at is None else at,
        fields.place,
        names_of_pictures(once.get(Text("pictures")), f"{subject} pictures", faults),
    )


def set_and_readings(fields: Fields) -> tuple[Fields, Fields]:
    """What is said once for a set, and the rest. Of a mapping that is one reading it is said of that figure alone: what
    the figure was before does not have it."""
    once, rest = fields_at(fields.place), fields_at(fields.place)
    own = SaidOfOne._fields if one_reading(fields) else ()
    for key, value in fields.items():
        (once if key in SAID_ONCE and key not in own else rest)[key] = value
    return once, rest


def _named_gauge(gauge: Text, subject: str, known: Known, faults: list[Fault]) -> None:
    """A gauge that readings are said to be taken with is one of the sheet's."""
    if gauge and known.gauges is not None and gauge not in known.gauges:
        none = unknown(gauge, "gauge of this sheet", known.names, f"{subject} gauge", len(faults))
        faults.append(none if known.names else none._replace(said=f"{shown(gauge)} is not under gauges"))


def temperature(text: Text, subject: str, faults: list[Fault]) -> Exact | None:
    """A stated temperature; None where none is written."""
    if not text:
        return None
    found = read_written(text, unit=None, dimension=TEMPERATURE)
    if isinstance(found, Exact):
        return found
    if isinstance(found, Refusal):
        faults.append(refused(text, found, subject))
    else:
        faults.append(fault(text.place, subject, Code.NOT_ONE_FIGURE, f"{shown(text)} is no one temperature", "20 C"))
    return None


def _unit(text: Text, measurand: Measurand, known: Known, faults: list[Fault]) -> Unit:
    """The unit of a set; the measurand's own where the written one is at fault, to say that only once."""
    wanted, subject = measurand.unit.dimension, f"{measurand.name} unit"
    unit = find_unit(text, dimension=wanted, beside=known.lengths_in)
    if isinstance(unit, Refusal):
        faults.append(refused(text, unit, subject))
    elif unit.dimension != wanted:
        said = f"{shown(text)} is a unit of {unit.dimension.words()}, and this is {wanted.words()}"
        faults.append(fault(text.place, subject, Code.WRONG_UNIT, said))
    else:
        return unit
    return measurand.unit


def _text(fields: Fields, key: str, subject: str, faults: list[Fault]) -> Text:
    found = fields.get(Text(key), Text(""))
    if isinstance(found, Text):
        return found
    faults.append(fault(found.place, f"{subject} {key}", Code.WRONG_SHAPE, "one text belongs here"))
    return Text("")


def _operations(node: Node | None, spec: Specification, subject: str, faults: list[Fault]) -> Iterator[str]:
    for name in node if isinstance(node, Items) else [node] if node else []:
        if isinstance(name, Text) and name in spec.operations:
            yield str(name)
        elif isinstance(name, Text):
            faults.append(unknown(name, "operation", spec.operations, subject, len(faults)))
        else:
            said = "one operation, or a list of them, belongs here"
            faults.append(fault(name.place, subject, Code.WRONG_SHAPE, said))


def _readings(
    each: Set, measurand: Measurand, known: Known, numbers: Iterator[int], faults: list[Fault]
) -> Iterator[tuple[Reading, bool]]:
    """Each reading of a set and, marked so, what it was before, the oldest first."""
    written, wrong = statements(each.node, known.grid(measurand), numbers)
    faults.extend(wrong)
    read_by = cache(partial(known.read_by, measurand))
    bare = each.unit or bare_unit(measurand.unit, known.lengths_in)
    for statement in written:
        latest: Reading | None = None
        now = _reading(statement, each, measurand, bare, known, read_by, faults)
        yield from ((reading, False) for reading in now)
        for figure in reversed(statement.earlier):
            texts, _, repeated, own, whole = figure
            was = statement._replace(texts=texts, repeated=repeated, own=own, whole=whole)
            before = _reading(was, each, measurand, bare, known, read_by, faults)
            yield from ((reading, True) for reading in before)
            _in_order(latest, before[:1], measurand, faults)
            latest = before[0] if before and before[0].taken else latest
        _in_order(latest, now[:1], measurand, faults)


def _in_order(before: Reading | None, then: Sequence[Reading], measurand: Measurand, faults: list[Fault]) -> None:
    """What a reading was was not taken after it."""
    for reading in then:
        if before is not None and before.taken and reading.taken and before.taken > reading.taken:
            said = f"taken on {reading.taken}, and what it was on {before.taken}"
            write = "the later one as value, the earlier one as was"
            faults.append(fault(before.place, measurand.name, Code.OUT_OF_ORDER, said, write))


def _reading(
    statement: Statement,
    each: Set,
    measurand: Measurand,
    bare: Unit | None,
    known: Known,
    read_by: Callable[[str], tuple[Capability, ZeroError]],
    faults: list[Fault],
) -> list[Reading]:
    """What one figure says of each place that it stands for; nothing where it is at fault. `bare`: the unit of a bare
    number; `read_by`: what the gauge of some name can do there, and what it reads too much."""
    of_it = each if statement.own is UNSAID else _with_own(each, statement, known, faults)
    wanted, (able, zero) = measurand.unit.dimension, read_by(of_it.gauge)
    found = measured(statement, bare, wanted, faults, able)
    if found is None:
        return []
    if zero.off:
        size = next((v for v in found[:3] if v is not None), found.place_value)
        error, tried_on = zero.of(size), known.tried_on[zero.gauge]
        if error and tried_on != wanted:
            said = f"gauge {zero.gauge} has its zero as {tried_on.words()}, and this is {wanted.words()}"
            faults.append(fault(statement.texts[0].place, statement.subject, Code.WRONG_UNIT, said))
            return []
        found = found.less(error)
    return list(_placed(statement, of_it, measurand, found._asdict()))


def _with_own(each: Set, statement: Statement, known: Known, faults: list[Fault]) -> Set:
    """The set as it is for a figure of which some things are said by itself."""
    own, subject, taken = statement.own, statement.subject, each.taken
    _named_gauge(own.gauge, subject, known, faults)
    if own.taken:
        taken = read_date(own.taken, f"{subject} taken", faults)
    return each._replace(
        gauge=own.gauge or each.gauge,
        taken=taken,
        after=tuple(_operations(own.after, known.spec, f"{subject} after", faults)) or each.after,
        because=own.because or each.because,
        pictures=(*each.pictures, *names_of_pictures(own.pictures, f"{subject} pictures", faults)),
    )


def _placed(statement: Statement, each: Set, measurand: Measurand, figure: Mapping[str, object]) -> Iterator[Reading]:
    for station, position in statement.spots:
        yield Reading(
            name=measurand.name,
            station=station,
            position=position,
            text=", ".join(statement.texts),
            gauge=str(each.gauge),
            taken=each.taken,
            after=each.after,
            because=str(each.because),
            state=str(each.state),
            bare=each.unit is None and all(map(is_bare, statement.texts)),
            statement=statement.statement,
            part_at=each.part_at,
            gauge_at=each.gauge_at,
            group=statement.group,
            confirmed=str(statement.own.confirmed),
            place=statement.texts[0].place,
            pictures=each.pictures,
            **figure,  # type: ignore[arg-type]
        )
