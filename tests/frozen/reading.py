"""From texts to an inspection as a plain record: the one module here that knows the program's own classes.

What must be equal to the last digit is a text, what is near enough within 1e-9 of its size is a float. A decimal is in
base units (mm, g, s, deg, °C), without needless zeros and without a loss; a report has it in the unit shown and to 45
digits, so it is read from the judgement behind the report. A key that holds nothing is left out.

A record, `Record.plain`:

    verdict, counts {verdict: number}, held / open [rule@station], unsigned [name]
    signoffs [name, state, importance, by, on, missing at], figures [name@station, value, U, way, places, judged]
    suspects [name, labels, kind, text, would be, said, neighbours], loosened [rule, pack, side, stations, reason]
    concessions [rule, stations], assumed {fact: taken}, remarks, findings: {rule@station: finding}

A finding:

    v    verdict                     w    would be                   s    the word of its side
    ls   least or most               x    value                      lo, hi  of a value that is no single number
    U    expanded uncertainty        L    limits {least, aim, most, wear least, wear most, worn, sheet, notes, source}
    b    beyond                      bm   beyond at most             un   unit shown         pl   places shown
    way  the way used                ow   other ways [way, value, U, agrees, the surer]      fo   the formula judged
    n    "found/asked"               g    gauges                     as   assumed facts      nr   needed rules
    us   unsigned                    st   stale                      mi   missing            gs   one statement for many
    su   suspects [kind, name, labels, text]                         no   notes              by   pack
    be   beside [pack, verdict, side, beyond, limits]                im   importance         hp   hold point
    bc   because                     ot   otherwise                  sp   steps [do, value, verdict, side, beyond]
    so   source                      cd   conceded
    c    probability of conformity   r    range [least, greatest]    m    margins [side, value, U]

and, where they are asked for (under `guarded` they are):

    wk   the working                 bu   budget [what, u]
    in   inputs [name, labels, text, gauge, line, value, and where there are any: low, high, U]
"""

from __future__ import annotations

import json
from collections.abc import Collection, Iterable, Iterator, Mapping
from decimal import Decimal, localcontext
from fractions import Fraction
from types import MappingProxyType
from typing import Any, NamedTuple, TypeAlias

from specrules.formula import Station
from specrules.formula.operators import FactLabel, Slot, all_operators
from specrules.inspection import Beside, Examination, FigureValue, Finding, Limits, Options, WholeFinding
from specrules.inspection.findings import build, other_ways
from specrules.output.reasons import said, slip_name
from specrules.pack import Specification
from specrules.pack.pack_reading import Pack, read_pack
from specrules.pack.resolving import resolve
from specrules.plugins import plug
from specrules.quantity import CONTEXT, Unit
from specrules.sheet import Sheet, Suspect, read_sheet, settle
from specrules.vocabulary import Relaxed, Why
from tests.inspecting import words

Plain: TypeAlias = Any
Texts: TypeAlias = Mapping[str, list[list[str]]]
"""Packs by name: the files of each, as [name, text]."""

DECISIONS = ("guarded", "simple", "iso-14253-1", "conformance-95", "conformance-99")
"""Every decision rule, the one first that the others are told apart from."""
SAID_SINCE = (Why.PAST_DUE, Why.NO_BLADE, Why.FINER_THAN_READ)
"""Remarks on gauges that issue 10 added: what was frozen says nothing of them."""


class Record(NamedTuple):
    """What came of one sheet: a plain record, or the faults that kept it from being judged; what its limits hang on."""

    plain: dict[str, Plain]
    faults: tuple[str, ...] = ()
    choices: Mapping[str, Collection[str]] = MappingProxyType({})  # see `choices`
    unstated: Collection[str] = ()  # see `unstated`


Settled: TypeAlias = tuple[Sheet | None, Specification | None, tuple[str, ...]]
"""A sheet held against its specification, or the faults of either."""


class Reader:
    """Judges sheets by these packs and no others. Specifications are kept, and the last sheet as it was settled."""

    def __init__(self, packs: Texts) -> None:
        self._texts = packs
        self._packs: dict[str, Pack] = {}
        self._resolved: dict[tuple[str, ...], Specification] = {}
        self._last: tuple[str, Settled] | None = None

    def plain(self, sheet: str, decision: str) -> Record:
        """The record of a sheet's text under one decision rule."""
        found, faults = self.examined(sheet, decision)
        if found is None:
            return Record({}, faults)
        made = record(found, whole=decision == DECISIONS[0])
        return Record(made, choices=choices(found.spec), unstated=unstated(found))

    def examined(self, sheet: str, decision: str) -> tuple[Examination | None, tuple[str, ...]]:
        """The sheet as it was examined, or the faults."""
        if self._last is None or self._last[0] != sheet:
            self._last = sheet, self._settled(sheet)
        settled, made, faults = self._last[1]
        if settled is None or made is None:
            return None, faults
        return Examination(settled, made, Options(decision=decision)), ()

    def _settled(self, sheet: str) -> Settled:
        raw, faults = read_sheet(sheet.encode(), "build.sheet.yaml")
        if raw is None or faults:
            return None, None, tuple(fault.sentence() for fault in faults)
        made, wrong = self._resolve(tuple(map(str, raw.packs)))
        if made is None:
            return None, None, wrong
        settled, faults = settle(raw, made)
        return None if faults else settled, made, tuple(fault.sentence() for fault in faults)

    def spec_of(self, asked: tuple[str, ...]) -> Specification:
        """The specification of the packs asked for. Raises ValueError where it has faults."""
        made, faults = self._resolve(asked)
        if made is None:
            raise ValueError("\n".join(faults))
        return made

    def _resolve(self, asked: tuple[str, ...]) -> tuple[Specification | None, tuple[str, ...]]:
        if asked not in self._resolved:
            waiting, known = [*asked], dict[str, Pack]()
            while waiting:
                name = waiting.pop(0)
                if name in known:
                    continue
                if name not in self._packs:
                    pack, faults = read_pack([(file, text.encode()) for file, text in self._texts[name]])
                    if pack is None:
                        return None, tuple(fault.sentence() for fault in faults)
                    self._packs[name] = pack
                known[name] = self._packs[name]
                waiting += map(str, known[name].builds_on)
            made, faults = resolve([*known.values()], asked, plug().functions)
            if made is None:
                return None, tuple(fault.sentence() for fault in faults)
            self._resolved[asked] = made
        return self._resolved[asked], ()


def exact(value: Decimal | None) -> str | None:
    """A decimal as a text that is the same for equal numbers."""
    if value is None:
        return None
    with localcontext() as context:
        context.prec = 400
        return str(value.normalize()) if value else "0"


def near(value: Decimal | float | None) -> float | None:
    """A number that 1e-9 of its size is near enough for."""
    return None if value is None else float(value)


def place(station: Station) -> str:
    """A station as one text."""
    return " ".join(f"{axis}={label}" for axis, label in station.items())


def key(rule: str, station: Station) -> str:
    """A rule at its station."""
    return f"{rule}@{place(station)}"


def _held(made: dict[str, Plain]) -> dict[str, Plain]:
    """Without what holds nothing; a zero is something."""
    return {name: value for name, value in made.items() if value is not None and value not in ("", [], {}, False)}


def choices(spec: Specification) -> dict[str, set[str]]:
    """Of each rule that may have no limits of the pack's own at a station the choices that its limit lines hang on."""
    found: dict[str, set[str]] = {}
    for name, chain in spec.rules.items():
        lines = [line for rule in chain.governing for line in rule.lines]
        if any(line.from_the_maker for line in lines) or all(line.when is not None for line in lines):
            asked = [each for line in lines if line.when is not None for each in all_operators(line.when.operators)]
            found[name] = {each.name for each in asked if isinstance(each, FactLabel)}
    return found


def unstated(examined: Examination) -> set[str]:
    """The rules for which the sheet's own limits hang on a number that nobody stated."""
    stated = {fact.name for fact in examined.binding.fact_places.values()}
    facts = examined.spec.facts
    return {
        name
        for name, lines in examined.sheet.limits.items()
        for line in lines
        for each in (all_operators(line.when.operators) if line.when is not None else ())
        if isinstance(each, Slot) and each.name in facts and each.name not in stated
    }


class BaseUnit(Unit):
    """The base unit of a dimension: every digit comes out, where a unit to be shown gives 45 of them."""

    def from_base(self, value: Decimal) -> Decimal:
        """The value itself."""
        return value

    def difference_from_base(self, value: Decimal) -> Decimal:
        """The difference itself."""
        return value


def in_base_units(examined: Examination, found: Finding) -> WholeFinding:
    """A finding with every number in base units, as the judgement that it was made of has it."""
    whole = examined.whole(found)
    judge, judged, base = whole.judge, whole.judged, BaseUnit("", found.unit.dimension, Fraction(1))
    about = found.about._replace(unit=base)
    with localcontext(CONTEXT):
        ways = other_ways(judge, judged, base)
        made = build(judge, judged, about, found.verdict, found.rests_on, found.notes, ways, judged.limits)
    made = found._replace(
        about=about,
        value=made.value,
        low=made.low,
        high=made.high,
        U=made.U,
        limits=made.limits,
        beyond=made.beyond,
        beyond_at_most=made.beyond_at_most,
        other_ways=ways,
    )
    return WholeFinding.of(made, judge, judged, whole.chain)


def record(examined: Examination, whole: bool) -> dict[str, Plain]:
    """An inspection. whole: with working, inputs and budget."""
    found = examined.report
    made = _held(
        {
            "verdict": found.verdict,
            "counts": {str(verdict): count for verdict, count in found.counts.items() if count},
            "held": [key(each.rule, each.station) for each in found.held],
            "open": [key(each.rule, each.station) for each in found.open],
            "unsigned": [each.name for each in found.unsigned],
            "signoffs": [
                [each.name, each.state, each.importance, each.by, each.on, [*map(place, each.missing_at)]]
                for each in found.sign_offs
            ],
            "figures": [
                [
                    key(each.name, each.station),
                    exact(figure(examined, each)),
                    near(each.U and each.unit.difference_to_base(each.U)),
                    each.way,
                    each.places,
                    each.judged,
                ]
                for each in found.figures
            ],
            "suspects": [
                [*_suspect(each), exact(each.would_be), said(each.reason), *each.neighbours] for each in found.suspects
            ],
            "loosened": [
                [each.name, each.pack, each.part, [*map(place, each.stations)], each.reason]
                for each in found.ledger
                if each.code is Relaxed.LIMIT_WIDENED
            ],
            "concessions": [[each.rule, [*map(place, each.used_at)]] for each in found.concessions],
            "assumed": dict(found.assumed),
            "remarks": [*words(each for each in found.remarks if each.code not in SAID_SINCE)],
            "findings": {key(each.rule, each.station): finding(examined, each, whole) for each in found.findings},
        }
    )
    plain: dict[str, Plain] = json.loads(json.dumps(made))  # texts that know their place are texts like any other
    return plain


def figure(examined: Examination, found: FigureValue) -> Decimal | None:
    """A figure in base units."""
    if found.value is None:
        return None
    with localcontext(CONTEXT):
        value = examined.judge.environment.figure(found.name, tuple(found.station.values())).value
    assert value is not None
    assert value.low is not None
    return value.low.value


def finding(examined: Examination, shown: Finding, whole: bool) -> dict[str, Plain]:
    """One finding."""
    found = in_base_units(examined, shown)
    rests = found.rests_on
    single = found.value is not None
    made = {
        "v": str(found.verdict),
        "w": found.would_be and str(found.would_be),
        "s": found.side,
        "ls": found.limit_side,
        "x": exact(found.value),
        "lo": None if single else exact(found.low),
        "hi": None if single else exact(found.high),
        "U": near(found.U),
        "L": limits(found.limits),
        "b": exact(found.beyond),
        "bm": exact(found.beyond_at_most),
        "un": shown.unit.symbol,
        "pl": found.places,
        "way": found.way,
        "ow": [[o.way, exact(o.value), near(o.U), o.agrees, o.surer] for o in found.other_ways],
        "fo": found.formula,
        "n": f"{rests.found}/{rests.asked}",
        "g": [*rests.gauges],
        "as": [*words(rests.assumed)],
        "nr": [*rests.needed_rules],
        "us": [*rests.unsigned],
        "st": [*words(rests.stale)],
        "su": [_suspect(each) for each in rests.suspect],
        "mi": [*words(rests.missing)],
        "gs": rests.group_statement,
        "no": [*words(found.notes)],
        "by": found.pack,
        "be": [_beside(each) for each in found.beside],
        "im": found.importance,
        "hp": found.hold_point,
        "bc": found.because,
        "ot": found.otherwise,
        "sp": [
            [step.do, exact(step.value), step.verdict and str(step.verdict), step.side, exact(step.beyond)]
            for step in found.steps
        ],
        "so": [found.source.kind, found.source.note],
        "cd": found.conceded,
        "c": None if found.conformance is None else near(found.conformance.probability),
        "r": found.range and [*map(exact, found.range)],
        "m": [[margin.side, exact(margin.value), near(margin.U)] for margin in found.margins],
    }
    if whole:
        made["wk"] = examined.whole(shown).worked
        made["bu"] = [[said(line.cause), near(line.u)] for line in found.budget]
        made["in"] = [
            [
                each.name,
                " ".join([*each.station.values(), "/", *each.position.values()]),
                each.text,
                each.gauge,
                each.place.line,
                exact(value),
                *([] if low == high == value else [exact(low), exact(high)]),
                *([] if each.U is None else [near(each.unit.difference_to_base(each.U))]),
            ]
            for each, (value, low, high) in zip(found.inputs, inputs(found), strict=True)
        ]
    return _held(made)


def inputs(found: WholeFinding) -> Iterator[tuple[Decimal | None, ...]]:
    """Of each reading and stated number that a value stands on what it says, and its ends: base units."""
    binding, trace = found.judge.environment.binding, found.judged.trace
    for number in trace.found:
        reading = binding.readings[number]
        yield reading.value, reading.low, reading.high
    for place in trace.facts:
        fact = binding.fact_places.get(place)
        if fact is not None and isinstance(fact.value, Decimal | int):
            yield (Decimal(fact.value),) * 3


def limits(of: Limits) -> dict[str, Plain]:
    """The limits in force."""
    return _held(
        {
            "least": exact(of.least),
            "aim": exact(of.aim),
            "most": exact(of.most),
            "wear least": exact(of.wear_least),
            "wear most": exact(of.wear_most),
            "worn": [*of.worn],
            "sheet": of.from_sheet,
            "notes": [*words(of.notes)],
            "source": [[each.kind, each.note] for each in of.sources],
        }
    )


def _beside(beside: Beside) -> list[Plain]:
    return [beside.pack, str(beside.verdict), beside.side, exact(beside.beyond), limits(beside.limits)]


def _suspect(suspect: Suspect) -> list[Plain]:
    return [slip_name(suspect.reason), suspect.name, " ".join(labels(suspect)), suspect.text]


def labels(suspect: Suspect) -> Iterable[str]:
    """Where it stands."""
    return (*suspect.station, "/", *(suspect.position or ()))
