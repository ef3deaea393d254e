"""A sheet's file against a specification of packs: names, stations and figures settled, every fault told in one run."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import product

from specrules.document import Fault, Fields, Items, Node, Place, Text, shown
from specrules.formula.axis_kinds import within
from specrules.pack import Specification, told_in
from specrules.pack.work_budget import Excess, excess_of
from specrules.quantity import LENGTH, Refusal, Unit, find_unit
from specrules.sheet.axes import AxisLabels, Facts, counted_by_names, lay_out, named_kinds, named_numbers, not_laid_out
from specrules.sheet.describing import described, held_against
from specrules.sheet.facts import layout_facts, settle_facts
from specrules.sheet.faults import fault, read_date, refused, unknown
from specrules.sheet.gauges import settle_gauges
from specrules.sheet.grid import is_open
from specrules.sheet.key_labels import numbers_in
from specrules.sheet.part_states import settle_parts
from specrules.sheet.picture_names import settle_pictures
from specrules.sheet.register import called_for
from specrules.sheet.sets import Known, temperature
from specrules.sheet.settled_readings import SettledReadings
from specrules.sheet.sheet_parts import Reading, Sheet
from specrules.sheet.sheet_reading import RawSheet
from specrules.sheet.shop_records import settle_concessions, settle_limits, settle_signed, settle_work
from specrules.vocabulary import ONCE, Code


def settle(
    raw: RawSheet, spec: Specification, kept: SettledReadings | None = None
) -> tuple[Sheet | None, tuple[Fault, ...]]:
    """The sheet as this specification understands it; None where anything in it is at fault.

    `kept`: what the readings of the same sheet came to as it was; it keeps what they come to now.
    """
    faults = list[Fault]()
    lengths_in = _lengths_in(raw, spec, faults)
    spec = told_in(spec, lengths_in)
    said = described(raw.model.facts, spec, lengths_in)
    raw, spec, wrong = held_against(raw, spec, said)
    model = raw.model
    faults.extend(wrong)
    laid, wrong = layout_facts(model.facts, spec)
    faults.extend(wrong)
    layout, wrong = lay_out(spec, laid, _named(raw, spec, counted_by_names(spec, laid)))
    faults.extend(wrong)
    if (excess := excess_of(spec, layout.labels, said.stated)) is not None:
        return None, tuple(sorted({*faults, _too_much(excess, layout, laid, raw, spec)}))
    facts, wrong = settle_facts(model.facts, spec, lengths_in, layout, laid, said)
    faults.extend(wrong)
    register = raw.register
    shop = register.gauges if register is not None else {}
    written = called_for(model.gauges, model.readings, shop)
    gauges, tried_on, wrong = settle_gauges(written, spec, lengths_in, register.file if register is not None else "")
    faults.extend(wrong)
    part_at = temperature(model.part_temperature, "part temperature", faults)
    gauge_at = temperature(model.gauge_temperature, "gauge temperature", faults)
    known = Known(
        spec=spec,
        layout=layout,
        gauges=None if "gauges" in raw.left_out or (model.gauges_from and register is None) else gauges,
        tried_on=tried_on,
        lengths_in=lengths_in,
        part_at=part_at,
        gauge_at=gauge_at,
        names=tuple(dict.fromkeys((*gauges, *shop))),
        only_named=raw.fragment,
    )
    readings, history = _readings(model.readings, known, kept or SettledReadings(), faults)
    build = model.build
    if build is not None:
        read_date(build.date, "build date", faults)
    signed = settle_signed(model, spec, layout, faults)
    sheet = Sheet(
        file=raw.file,
        sha256=raw.sha256,
        title=str(build.title) if build else "",
        build={key: str(text) for key, text in build if key != "title" and text} if build else {},
        packs=raw.packs,
        unit=lengths_in,
        decision=str(model.decision),
        labels=layout.labels,
        groups=layout.groups,
        facts=facts,
        parts=settle_parts(model.parts, spec, layout, faults),
        assumed=layout.assumed,
        gauges=gauges,
        readings=readings,
        history=history,
        limits=settle_limits(model, spec, lengths_in, raw.file, faults),
        work_done=settle_work(model, spec, layout, faults),
        signed=signed,
        concessions=settle_concessions(model, spec, layout, faults),
        scope=_known(model.scope, spec.groups, "group of these packs", "scope", faults),
        until=next(
            iter(_known((model.until,) if model.until else (), spec.hold_points, "hold point", "until", faults)), ""
        ),
        described=said,
        pictures=settle_pictures(readings, history, signed, spec, faults),
        beside=((register.file, register.sha256),) if register is not None else (),
    )
    every = sorted(dict.fromkeys(faults))
    first = {each.code: each for each in reversed(every)}
    told = tuple([each for each in every if each.code not in ONCE or each is first[each.code]])
    return (None if told or raw.left_out else sheet), told


def _known(
    names: Iterable[Text], among: Sequence[str], what: str, subject: str, faults: list[Fault]
) -> tuple[str, ...]:
    """Those of the names that there are, each once; the others are faults."""
    faults.extend(unknown(name, what, among, subject, len(faults)) for name in names if name not in among)
    return tuple(dict.fromkeys(names))


def lengths_of(raw: RawSheet, spec: Specification) -> Unit | None:
    """The unit of a sheet's bare lengths, None where it states none."""
    return _lengths_in(raw, spec, [])


def _lengths_in(raw: RawSheet, spec: Specification, faults: list[Fault]) -> Unit | None:
    """The unit of bare lengths. Where the stated one is at fault, the specification's stands in: told only once."""
    text = raw.model.unit
    if not text:
        return spec.unit if raw.fragment or "unit" in raw.left_out else None
    unit = find_unit(text, dimension=LENGTH)
    if isinstance(unit, Refusal):
        faults.append(refused(text, unit, "unit"))
    elif unit.dimension != LENGTH:
        said = f"{shown(text)} is no unit of length"
        faults.append(fault(text.place, "unit", Code.WRONG_UNIT, said, "unit: in, or unit: mm"))
    else:
        return unit
    return spec.unit


def _too_much(excess: Excess, layout: AxisLabels, laid: Facts, raw: RawSheet, spec: Specification) -> Fault:
    """The fault of labels with which these packs are more than the work budget has: at the count that makes most."""
    counted = {axis: spec.axes[axis] for axis in excess.share.axes or spec.axes if not spec.axes[axis].fixed}
    axis = max(counted, key=lambda name: len(layout.labels[name]))
    of, count = spec.axes[axis].of, len(layout.labels[axis])
    fact = spec.axes[of or axis].shaped_by
    if kinds := layout.kinds.get(axis):
        fact = max(kinds.values(), key=lambda kind: len(kind.labels)).fact
    stated = laid.get(fact) or laid.get(counted[axis].groups)
    said = f"with {count} of these, {excess.share.name} {excess.said}"
    if stated and stated[0].place.file != raw.file:
        return Fault(stated[0].place, fact, Code.TOO_MANY, said, "a smaller count", "pack")
    named = _key_of(count, raw.model.readings) or _key_of(count, raw.model.facts)
    place = stated[0].place if stated else named.place if named else Place(raw.file, 0, 0)
    return fault(place, fact, Code.TOO_MANY, said, "a smaller count")


def _key_of(count: int, node: Node) -> Text | None:
    """The first key that names the last of so many labels."""
    if isinstance(node, Text):
        return None
    keys = node if isinstance(node, Fields) else ()
    here = (key for key in keys if count in (*numbers_in(key), *numbers_in(key, letters=True)))
    inside = (found for below in _below(node) if (found := _key_of(count, below)) is not None)
    return next(iter((*here, *inside)), None)


def _numbered(axes: tuple[str, ...], spec: Specification, letters: bool) -> tuple[str, ...]:
    return tuple(axis for axis in axes if not spec.axes[axis].names and spec.axes[axis].letters is letters)


def _named(raw: RawSheet, spec: Specification, counted: frozenset[str]) -> Mapping[str, int]:
    """The largest number that readings and facts name on each of these axes, and of each kind."""
    largest: dict[str, int] = {}
    lying: list[tuple[tuple[str, ...], Node]] = [
        *((spec.measurands[name].axes, node) for name, node in raw.model.readings.items() if name in spec.measurands),
        *((spec.facts[name].at, node) for name, node in raw.model.facts.items() if name in spec.facts),
    ]
    for (axes, node), letters in product(lying, (False, True)):
        if not counted.isdisjoint(numbered := _numbered(axes, spec, letters)):
            for axis, number in named_numbers(node, numbered, letters):
                largest[axis] = max(largest.get(axis, 0), number)
    for axes, node in lying:
        for of_kinds in (spec.axes[axis] for axis in axes if axis in counted and spec.axes[axis].kinds):
            for kind, number in named_kinds(node, of_kinds):
                label = within(of_kinds.name, kind)
                largest[label] = max(largest.get(label, 0), number)
    return largest


def _readings(
    written: Fields, known: Known, kept: SettledReadings, faults: list[Fault]
) -> tuple[tuple[Reading, ...], tuple[Reading, ...]]:
    """All readings in the order of the specification, whatever the order in which they were written."""
    spec, number = known.spec, 1
    governing: list[Reading] = []
    history: list[Reading] = []
    told: set[str] = set()
    for name, node in written.items():
        measurand = spec.measurands.get(name)
        if measurand is None:
            faults.append(_no_measurand(name, spec, len(faults)))
        elif lacking := [axis for axis in measurand.axes if axis in known.layout.unstated]:
            axis = spec.axes[lacking[0]]
            if _says_something(node) and axis.groups not in told:
                told.add(axis.groups)
                faults.append(not_laid_out(name, axis))
        else:
            settled = kept.of(node, measurand, known, number)
            number = settled.after
            governing.extend(settled.governing)
            history.extend(settled.replaced)
            faults.extend(settled.faults)
    order = _order(known)
    return tuple(sorted(governing, key=order)), tuple(sorted(history, key=order))


def _order(known: Known) -> Callable[[Reading], tuple[int, list[int], list[int]]]:
    """The declared order of readings: measurand, station, position; a whole station before its positions."""
    ranks = {axis: {label: rank for rank, label in enumerate(labels)} for axis, labels in known.layout.labels.items()}
    along = {
        each.name: (number, [ranks.get(axis, {}) for axis in each.at], [ranks.get(axis, {}) for axis in each.positions])
        for number, each in enumerate(known.spec.measurands.values())
    }

    def order(reading: Reading) -> tuple[int, list[int], list[int]]:
        number, at, positions = along[reading.name]
        station = [rank[label] for rank, label in zip(at, reading.station, strict=True)]
        return number, station, [rank[label] for rank, label in zip(positions, reading.position or (), strict=False)]

    return order


def _says_something(node: Node) -> bool:
    """Whether any figure is written below a node: `open` and empty cells say nothing."""
    if isinstance(node, Text):
        return not is_open(node)
    return any(_says_something(below) for below in _below(node))


def _below(node: Fields | Items) -> Iterator[Node]:
    yield from node.values() if isinstance(node, Fields) else node


def _no_measurand(name: Text, spec: Specification, told: int) -> Fault:
    if name in spec.figures or name in spec.rules:
        return fault(name.place, "readings", Code.WRONG_SECTION, f"{shown(name)} is worked out, not measured")
    if name in spec.facts:
        said = f"{shown(name)} is stated, not measured"
        return fault(name.place, "readings", Code.WRONG_SECTION, said, "it under facts")
    if name in spec.sign_offs:
        said = f"{shown(name)} is signed, not measured"
        return fault(name.place, "readings", Code.WRONG_SECTION, said, "it under signed")
    return unknown(name, "measurand of these packs", spec.measurands, "readings", told)
