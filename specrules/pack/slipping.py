"""What a pack says of how readings go wrong: the steps that a kind of gauge is misread by, and sizes when new."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from specrules.document import Text, shown
from specrules.pack.compiling import Compiler
from specrules.pack.entries import GaugeClassEntry, MeasurandEntry
from specrules.pack.specification import Fact, GaugeSlip, Measurand, NewSize
from specrules.quantity import LENGTH, Exact, Refusal, read_written
from specrules.vocabulary import Code


def gauge_slips(key: Text, entry: GaugeClassEntry, compiler: Compiler) -> Iterator[GaugeSlip]:
    """The steps by which a kind of gauge is easily misread."""
    for name, lengths in entry.slips.items():
        for text in lengths:
            found = read_written(text, unit=None, dimension=LENGTH)
            if isinstance(found, Refusal):
                compiler.refused(text, found, f"{key} slips {name}")
            elif not isinstance(found, Exact) or found.value <= 0:
                said = f"{shown(text)} is no length to be off by"
                compiler.fault(text, f"{key} slips {name}", Code.NOT_A_NUMBER, said, "0.025 in")
            else:
                yield GaugeSlip(str(name), found.value, found.unit)


def new_size(of: Measurand, entry: MeasurandEntry, facts: Mapping[str, Fact], compiler: Compiler) -> NewSize | None:
    """What states the size of a part when new; None where nothing is said, or once it is at fault."""
    name, key = entry.wears_below or entry.wears_above, "wears below" if entry.wears_below else "wears above"
    if not name:
        return None
    subject, kind = f"{of.name} {key}", of.unit.dimension
    alike = {fact.name: fact for fact in facts.values() if fact.unit is not None and fact.unit.dimension == kind}
    if entry.wears_below and entry.wears_above:
        compiler.fault(name, of.name, Code.KEYS_DISAGREE, "wears below one size and above another", "one of the two")
    elif name not in alike:
        said = f"{shown(name)} is no fact that states {kind.words()}"
        compiler.fault(name, subject, Code.UNKNOWN_NAME, said, compiler.nearest(name, alike))
    elif not set(alike[name].at) <= set(of.at):
        said = f"{shown(name)} is stated at each of {', '.join(alike[name].at)}, and this is not"
        compiler.fault(name, subject, Code.WRONG_AXIS, said)
    else:
        return NewSize(str(name), bool(entry.wears_above))
    return None
