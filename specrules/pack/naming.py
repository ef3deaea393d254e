"""What a specification's formulas may speak of: facts and measurands, each checked, no name for two things."""

from __future__ import annotations

from collections.abc import Mapping

from specrules.document import Text, shown
from specrules.formula import LANGUAGE, Declared, Kind, Role
from specrules.formula.axis_kinds import counts_of_kinds
from specrules.pack.capability import read_capability
from specrules.pack.compiling import Compiler, check_source, source_of
from specrules.pack.entries import FactEntry, GaugeClassEntry, MeasurandEntry
from specrules.pack.layering import Thing
from specrules.pack.line_entries import SourceEntry
from specrules.pack.said_facts import which_of, words_in
from specrules.pack.slipping import gauge_slips
from specrules.pack.specification import Fact, GaugeClass, Measurand
from specrules.quantity import NO_UNIT, NUMBER, Bracket, Dimension, Exact, Refusal, Unit, read_written
from specrules.validation import not_a_word
from specrules.validation.texts import NOTHING, YES_NO
from specrules.vocabulary import Code

READS = "reads: goes"


def plain(name: str) -> str:
    """A name as a title, where no title is given."""
    return name.replace("_", " ")


def fact(key: Text, entry: FactEntry, bare: Unit | None, compiler: Compiler) -> Fact:
    """One fact, and what is wrong with it. `bare`: what a bare number of its usual figures means."""
    if (entry.kind == "choice") != bool(entry.choices):
        compiler.broken.add(key)
        said = "is a choice and has no choices" if not entry.choices else "has choices and is none"
        compiler.fault(key, key, Code.KEYS_DISAGREE, said)
    if (entry.kind == "labels") != bool(entry.of):
        compiler.broken.add(key)
        said = "lists labels, and is no such fact" if entry.of else "says which labels there are, and not of which"
        compiler.fault(key, key, Code.KEYS_DISAGREE, said, "kind: labels, and of: [...]")
    unit = compiler.unit(entry.unit, f"{key} unit")
    if (entry.kind == "quantity") != bool(entry.unit):
        said = "is a quantity and has no unit" if not entry.unit else "has a unit and is no quantity"
        compiler.fault(key, key, Code.KEYS_DISAGREE, said)
    if entry.unit and unit is None:
        compiler.broken.add(key)
    if entry.usual and entry.kind not in ("number", "quantity"):
        compiler.fault(entry.usual, f"{key} usual", Code.KEYS_DISAGREE, "is a range, and this fact is no number")
    made = Fact(
        name=key,
        kind=entry.kind,
        title=entry.title or plain(key),
        at=compiler.axes(entry.at, f"{key} at") or (),
        choices=YES_NO if entry.kind == "yes/no" else tuple(entry.choices or entry.of),
        unit=unit,
        assumed=entry.assumed,
        assumed_figure=None,
        place=key.place,
        usual=usual(entry.usual, unit.dimension if unit else NUMBER, bare, f"{key} usual", compiler),
        question=entry.question,
        why=entry.why,
    )
    if entry.assumed and key not in compiler.broken:
        return made._replace(assumed_figure=stated(entry.assumed, made, f"{key} assumed", compiler))
    return made


def stated(text: Text, of: Fact, subject: str, compiler: Compiler) -> Exact | None:
    """Check what a pack states for a fact; the figure, where it is one."""
    if of.kind == "labels":
        for code, said, write in which_of(words_in(text), of.choices)[1]:
            compiler.fault(text, subject, code, said, write)
    elif of.choices:
        if text not in of.choices:
            compiler.fault(text, subject, *not_a_word(text, of.choices))
    elif of.kind == "count" and not _is_count(text, of.name in counts_of_kinds(compiler.scope.axes.values())):
        compiler.fault(text, subject, Code.NOT_WHOLE, f"{shown(text)} is no count", "a whole number")
    elif of.kind in ("number", "quantity"):
        found = read_written(text, unit=None, dimension=NUMBER if of.unit is None else of.unit.dimension)
        if isinstance(found, Refusal):
            compiler.refused(text, found, subject)
        elif not isinstance(found, Exact):
            compiler.fault(text, subject, Code.NOT_ONE_FIGURE, f"{shown(text)} is no one number")
        else:
            return found
    return None


def _is_count(text: str, may_be_none: bool) -> bool:
    return text.isdecimal() and text.isascii() and (may_be_none or int(text) > 0)


def gauge_class(key: Text, entry: GaugeClassEntry, compiler: Compiler) -> GaugeClass:
    """One kind of gauge."""

    def refuse(text: Text, refusal: Refusal, which: str) -> None:
        compiler.refused(text, refusal, f"{key} {which}")

    capability = read_capability(entry, refuse)
    if entry.steps and not entry.reads:
        said = "has blades, and does not say that it reads what goes"
        compiler.fault(entry.steps[0], f"{key} steps", Code.KEYS_DISAGREE, said, READS)
    if capability.endless:
        said = "reads what goes, and has neither steps nor a resolution to say what does not go"
        compiler.fault(entry.reads, f"{key} reads", Code.MISSING_KEY, said, "steps: 0.0015..0.025 in by 0.001 in")
    slips = tuple(gauge_slips(key, entry, compiler))
    days = entry.days_between_checks
    if days and not (days.isdecimal() and days.isascii() and int(days) > 0):
        said = f"{shown(days)} is no number of days"
        compiler.fault(days, f"{key} days between checks", Code.NOT_WHOLE, said, "a whole number")
        days = NOTHING
    sources = {figure: said for figure, said in entry.sources or () if isinstance(said, SourceEntry)}
    by_size = [each.source for each in entry.by_size]
    for source in (entry.source, *sources.values(), *by_size):
        if source is not None:
            check_source(source, f"{key} source", compiler, place=False)
    return GaugeClass(
        name=key,
        capability=capability,
        must_not_decide=entry.must_not_decide,
        source=source_of(entry.source),
        place=key.place,
        slips=slips,
        days_between_checks=int(days) if days else None,
        sources={figure: source_of(said) for figure, said in sources.items()},
        by_size_sources=tuple(None if said is None else source_of(said) for said in by_size),
    )


def declared(of: Fact | Measurand) -> Declared:
    """A fact or a measurand as formulas see it."""
    if isinstance(of, Measurand):
        return Declared(of.name, Role.MEASURAND, of.axes, of.unit.dimension)
    if of.choices and of.kind != "labels":
        return Declared(of.name, Role.FACT, of.at, NUMBER, Kind.CHOICE, of.choices)
    if of.kind == "text":
        return Declared(of.name, Role.FACT, of.at, NUMBER, Kind.CHOICE)
    kind = Kind.TEXT if of.kind in ("groups", "labels") else Kind.QUANTITY
    return Declared(of.name, Role.FACT, of.at, of.unit.dimension if of.unit else NUMBER, kind)


def measurand(
    key: Text, entry: MeasurandEntry, bare: Unit | None, group: str, classes: Mapping[str, object], compiler: Compiler
) -> Measurand | None:
    """One measurand without what needs other names; None where its unit or its axes are at fault."""
    unit = compiler.unit(entry.unit, f"{key} unit")
    at, positions = compiler.axes(entry.at, f"{key} at"), compiler.axes(entry.positions, f"{key} positions")
    repeats = entry.repeats or Text("1")
    if not (repeats.isdecimal() and repeats.isascii() and 0 < int(repeats) < 100):
        said = f"{shown(repeats)} is no number of readings"
        compiler.fault(repeats, f"{key} repeats", Code.NOT_WHOLE, said, "a whole number")
        repeats = Text("1")
    gauges = compiler.known(entry.gauge_classes, classes, "gauge class", f"{key} gauge classes")
    if unit is None or at is None or positions is None:
        compiler.broken.add(key)
        return None
    for axis_name in positions:
        if axis_name in at:
            compiler.fault(key, key, Code.WRONG_AXIS, f"lies twice along {axis_name}: at it, and in positions on it")
    return Measurand(
        name=key,
        title=entry.title or plain(key),
        group=group,
        at=at,
        positions=positions,
        unit=unit,
        repeats=int(repeats),
        usual=usual(entry.usual, unit.dimension, bare, f"{key} usual", compiler),
        gauge_classes=gauges,
        how=entry.how,
        may_be_negative=None,
        expands=None,
        place=key.place,
    )


def usual(text: Text, dimension: Dimension, bare: Unit | None, subject: str, compiler: Compiler) -> Bracket | None:
    """A plausible range of sizes, both ends said."""
    if not text:
        return None
    found = read_written(text, unit=NO_UNIT if dimension == NUMBER else bare, dimension=dimension)
    if isinstance(found, Refusal):
        compiler.refused(text, found, subject)
        return None
    if not isinstance(found, Bracket) or found.low is None or found.high is None:
        said = f"{shown(text)} is no range with two ends"
        compiler.fault(text, subject, Code.NOT_A_RANGE, said, "a range such as 1.5..4.5 in")
        return None
    return found


def unique(things: Mapping[str, Mapping[str, Thing]], compiler: Compiler) -> None:
    """One name, one thing: nobody could tell two apart. A rule may share the name of what it judges."""
    seen: dict[str, str] = {}
    for section in ("axes", "facts", "tables", "sold", "measurands", "parts", "figures", "sign-offs", "rules"):
        for name, thing in things[section].items():
            first = seen.setdefault(name, section)
            if first != section and (section != "rules" or first == "sign-offs"):
                compiler.fault(thing.key, name, Code.NAME_TAKEN, f"is among the {first} already", "another name")
            elif section != "rules" and (name in LANGUAGE or name in compiler.scope.functions):
                said = "is a word of the formula language"
                compiler.fault(thing.key, name, Code.NAME_TAKEN, said, f"{name}_size or another name")
