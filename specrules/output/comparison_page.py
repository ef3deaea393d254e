"""Two packs held against each other: what differs, which of them lets more pass, and by how much."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from decimal import Decimal
from functools import partial
from itertools import groupby
from typing import TypeVar

from specrules.inspection.comparison import Difference, Differs, ReportComparison
from specrules.inspection.digits import MORE, limit_places, never_nothing, own_places
from specrules.output.ledger_lines import told
from specrules.output.lines import Line, apart, folded, line, spread
from specrules.output.reasons import said
from specrules.output.words import listed, name, places
from specrules.pack import Relaxation
from specrules.proving.written_comparison import WrittenComparison, WrittenDifference
from specrules.quantity import Unit, fixed
from specrules.vocabulary import Verdict

Names = tuple[str, str]
Compared = TypeVar("Compared", Difference, WrittenDifference)
_PLACES = 4
_LEFT = 14


def compared(found: ReportComparison, names: Names) -> Iterator[Line]:
    """The comparison of two packs on one sheet, station by station."""
    yield from _by_rule(found.differences, partial(_of_rule, names))
    yield from _closing(found, names)


def _by_rule(differences: Sequence[Compared], told: Callable[[list[Compared]], Iterator[Line]]) -> Iterator[Line]:
    """Group by group what is told of each rule, under its title."""
    for group, of_group in groupby(differences, key=lambda each: each.group):
        yield line((group.upper(), "heading"))
        for _, of_rule in groupby(of_group, key=lambda each: each.rule):
            these = list(of_rule)
            yield from folded(these[0].title, style="heading")
            yield from told(these)
        yield line()


def _of_rule(names: Names, differences: Sequence[Difference]) -> Iterator[Line]:
    """One rule: the stations where the printed limits are alike stand together."""
    digits = max(each.places for each in differences)
    alike: dict[tuple[Line, ...], list[Difference]] = {}
    for each in differences:
        rows = [row for part in each.how.parts for row in _part(part, names, each.unit, digits)]
        for pack, lacks in zip(names, each.how.lacks, strict=True):
            if lacks and not each.how.parts:
                rows += folded(
                    f"{pack} has no limits here before it has {listed(name(said(want)) for want in lacks)}", 4
                )
        alike.setdefault(tuple(rows), []).append(each)
    for limits, those in alike.items():
        yield from folded(_places(those), 2)
        yield from limits
        verdicts: dict[tuple[Verdict, Verdict] | None, list[Difference]] = {}
        for each in those:
            verdicts.setdefault(each.how.verdicts, []).append(each)
        for pair, these in verdicts.items():
            if pair is not None:
                where = f"{_places(these)}: " if len(verdicts) > 1 else ""
                yield from folded(f"{where}{pair[0]} by {names[0]}, {pair[1]} by {names[1]}", 4, style="doubt")


def _places(of: Sequence[Difference]) -> str:
    stations = [station for each in of for station in each.stations]
    stations.sort(key=lambda at: [int(label) for label in at.values() if label.isdigit()])
    return places(stations)


def _part(part: Differs, names: Names, unit: Unit, digits: int) -> Iterator[Line]:
    sizes_there = [size for size in part.sizes if size is not None]
    digits = limit_places(sizes_there, digits)
    digits = next((each for each in range(digits, digits + MORE) if _adds_up(part, each)), digits + MORE)
    rounded = ", rounded" if any(own_places(size) > digits for size in sizes_there) else ""
    sizes = ["none" if size is None else fixed(size, digits) for size in part.sizes]
    said = ", ".join(f"{pack} {size}" for pack, size in zip(names, sizes, strict=True))
    by = "" if part.by is None else f" by {fixed(part.by, digits)} {unit.symbol}".rstrip()
    how = f"differ{by}" if part.wider is None else f"{names[part.wider]} wider{by or ', without any'}"
    yield from spread(f"    {part.part:<{_LEFT - 4}}{said} {unit.symbol}".rstrip() + rounded, how)


def _adds_up(part: Differs, digits: int) -> bool:
    """Whether the printed sizes are as far apart as is printed, and that is something."""
    one, other = part.sizes
    if one is None or other is None or part.by is None:
        return True
    printed = [Decimal(fixed(size, digits)) for size in (one, other, part.by)]
    return abs(printed[0] - printed[1]) == printed[2] != 0


def compared_specifications(found: WrittenComparison, names: Names) -> Iterator[Line]:
    """The comparison of two packs as they are written."""
    yield from _by_rule(found.differences, partial(_lines_of_rule, names))
    yield from _closing(found, names)


def _lines_of_rule(names: Names, written: Sequence[WrittenDifference]) -> Iterator[Line]:
    """One rule: line by line what each of the two has."""
    for (of_line, when), parts in groupby(written, key=lambda each: (each.line, each.when)):
        yield from folded(f"{of_line}{f', when {when}' if when else ''}", 2)
        for part in parts:
            yield from _written(part, names)


def _written(part: WrittenDifference, names: Names) -> Iterator[Line]:
    wide = max(map(len, names))
    for number, (pack, text) in enumerate(zip(names, part.texts, strict=True)):
        first = f"{'' if number else part.part:<{_LEFT - 4}}{pack:<{wide}}  "
        yield from folded(text or "nothing", 4, first)
    if part.by is not None:
        low, high = (never_nothing(part.unit.difference_from_base(size), _PLACES) for size in part.by)
        by = f"{low if low == high else f'{low} to {high}'} {part.unit.symbol}".rstrip()
        said = f"they differ by {by}" if part.wider is None else f"{names[part.wider]} wider by {by}"
        yield from folded(said + ("" if low == high else " over the usual sizes"), _LEFT)


def asked_less_by_each(ledgers: tuple[Sequence[Relaxation], Sequence[Relaxation]], names: Names) -> Iterator[Line]:
    """By what each of the two asks less than the packs below it, where the other one does not."""
    for which, other, pack in ((0, 1, names[0]), (1, 0, names[1])):
        own = [entry for entry in ledgers[which] if entry not in ledgers[other]]
        rows = (row for entry in own for row in folded(told(entry), 2, hang=4))
        yield from apart(f"ASKED LESS BY {pack.upper()} THAN BY THE PACKS BELOW IT", rows)


def _closing(found: ReportComparison | WrittenComparison, names: Names) -> Iterator[Line]:
    for pack, rules in zip(names, found.alone, strict=True):
        if rules:
            yield from folded(f"{listed(rules)}.", 0, f"Only {pack} has: ")
    if isinstance(found, ReportComparison) and found.untold:
        yield from folded(f"{', '.join(map(name, found.untold))}.", 0, "No limits on this sheet yet: ", hang=2)
    differing: Sequence[str] = list(dict.fromkeys(each.rule for each in found.differences))
    if differing:
        many = f"{len(differing)} rules differ" if len(differing) > 1 else "1 rule differs"
        alike = {0: "none is alike", 1: "1 does not"}.get(found.alike, f"{found.alike} do not")
        yield line((f"{many}, {alike}.", "heading"))
    elif found.alike:
        of = f"any of {found.alike} rules" if found.alike > 1 else "the 1 rule that can be compared"
        yield line((f"Their limits do not differ in {of}.", "good"))
    else:
        yield line(("There is no rule whose limits can be compared.", "heading"))
