"""What holds for a whole pack, in plain words: its ground, what its figures hold by, hold points, margins."""

from __future__ import annotations

from collections.abc import Iterator

from specrules.output.lines import Line, folded
from specrules.output.words import listed, name, sentence
from specrules.pack import PackHead, Specification


def grounds(spec: Specification, head: PackHead) -> Iterator[Line]:
    """The packs that it builds on with their versions here, and the versions that it takes where it says any."""
    versions = {each.name: each.version for each in spec.packs}
    found = []
    for ground, written in zip(head.builds_on, head.grounds, strict=True):
        takes = written.removeprefix(ground).strip()
        found.append(f"{ground} {versions[ground]}{f' (it takes {takes})' if takes else ''}")
    yield from folded(f"builds on {listed(found)}" if found else "builds on no other pack")


def what_holds(spec: Specification) -> Iterator[Line]:
    """What counts for every rule of a sheet that names it, whichever pack says so."""
    if spec.figures_hold_by:
        facts = (f"{fact} ({listed(spec.facts[fact].choices, 'or')})" for fact in spec.figures_hold_by)
        said = (
            f"{listed(facts)}. Every figure says for which of these it holds, so a sheet states them; none is assumed."
        )
        yield from folded(said, 2, "figures hold by: ", hang=4)
    if spec.examples_assume:
        assumed = ", ".join(f"{fact}: {value}" for fact, value in spec.examples_assume.items())
        said = f"{assumed}. Worked examples and exercises take that where they state none; a sheet never does."
        yield from folded(said, 2, "examples assume: ", hang=4)
    if spec.hold_points:
        said = f"{', '.join(map(name, spec.hold_points))}, in the order of the work. Each waits for its own checks and "
        said += "those of all before it."
        yield from folded(said, 2, "hold points: ", hang=4)
    at = spec.assumed_temperature
    if at is not None:
        unit = at.unit
        either_way = (
            ""
            if at.U is None
            else f", anywhere within {unit.difference_from_base(at.U).normalize():f} {unit.symbol} either way"
        )
        degrees = f"{at.number:f} {unit.symbol}{either_way}"
        said = f"{degrees}. Where a sheet states none, parts and gauges are taken to lie there together."
        yield from folded(said, 2, "assumed temperature: ", hang=4)


def margins(spec: Specification, head: PackHead) -> Iterator[Line]:
    """How much further in than the packs below it holds rules, those with one margin and reason together."""
    alike: dict[tuple[str, bool, str], list[str]] = {}
    for chain in spec.rules.values():
        for margin in chain.governing[-1].margins:
            if margin.pack == head.name:
                reasons = (text for version in chain.versions for pack, text in version.reasons if pack == head.name)
                alike.setdefault((margin.text, margin.makers_too, next(reasons, "")), []).append(chain.name)
    for (text, makers_too, reason), rules in alike.items():
        makers = "the maker's limits too" if makers_too else "the maker's own limits stand"
        said = f"{text} further in, least up and most down, after all lines of all packs; {makers}: {listed(rules)}."
        yield from folded(f"{said} {sentence(reason)}".strip(), 2, "margin: ", hang=4)
