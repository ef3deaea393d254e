"""Limits that look like slips of whoever printed or copied them: a point that has moved, an allowance the wrong way."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence, Set
from decimal import Decimal
from itertools import combinations

from specrules.formula import Formula
from specrules.formula.formula_reading import syntax_of
from specrules.formula.syntax import Name, Reduce
from specrules.pack import LimitLine, Rule, RuleChain, Specification
from specrules.proving.plain_limits import SHIFT, PlainLimit, figures, plain
from specrules.proving.proof_parts import ProofRemark, RemarkKind
from specrules.proving.sizes import between
from specrules.quantity import Exact, is_zero, nearest, read_written
from specrules.vocabulary import SIDE_OF

MOST_WORN = 3
"""So many times its limit when new is the most that a worn part is likely to be allowed."""

_OF_THEIR_SIZE = ("largest", "smallest", "mean")
"""Reducers that give what is as large as its readings."""

_RESIZED = re.compile(r"(\d*\.?\d+)?[\s_]*(mm|in|thou|um)?[\s_]*(under|over)size", re.IGNORECASE)
_STANDARD = re.compile(r"\b(?:standard|std|base)\b", re.IGNORECASE)


def _misnamed(chain: RuleChain, rule: Rule) -> Iterator[ProofRemark]:
    """A line that an amendment adds under a name so near to one that stands below that the two may be meant as one."""
    below = {line.name for version in chain.versions if version.pack != rule.pack for line in version.lines}
    if not rule.reasons:
        return
    for line in (line for line in rule.lines if line.pack == rule.pack and line.name not in below):
        if (meant := nearest(line.name, below)) is not None:
            said = f"the line {line.name} is a line of its own beside {meant}, and stands last"
            yield ProofRemark(line.place, rule.name, said, f"{meant}, if that is the one to amend", "question")


def slips(own: Sequence[Rule], spec: Specification, files: Set[str]) -> Iterator[ProofRemark]:
    """What looks like a slip among the plain figures of these rules that stand in these files."""
    every = {chain.name: list(figures(chain.governing[-1], spec)) for chain in spec.rules.values()}
    every.update({rule.name: list(figures(rule, spec)) for rule in own})
    for rule in own:
        yield from _misnamed(spec.rules[rule.name], rule)
        mine = [figure for figure in every[rule.name] if figure.place.file in files]
        yield from _unusual(rule, mine, spec)
        yield from (each for each in _resized(rule, every[rule.name]) if each.place.file in files)
        yield from _no_width(mine)
        yield from _ten_times(mine, every, files)


def likely(kind: str, plain_ones: Mapping[str, PlainLimit]) -> str:
    """Of plain figures that are out of order in this way, those that are likely meant; nothing where none is likely."""
    if kind == "crossed" and {"least", "most"} <= plain_ones.keys():
        least, most = plain_ones["least"], plain_ones["most"]
        if least.value <= 2 * most.value:
            return f"least: {most}, most: {least}, if they are exchanged"
        either = [least.slipped(-1)] if least.slipped(-1).value < most.value else []
        either += [most.slipped(1)] if most.slipped(1).value > least.value else []
        said = " or ".join(f"{one.part}: {one}" for one in either)
        return f"{said}, if a point has slipped" if said else ""
    side = SIDE_OF.get(kind, "")
    if kind in plain_ones and side in plain_ones:
        new, upper = plain_ones[side], side == "most"
        worn = plain_ones[kind].slipped(1 if upper else -1)
        small, large = (new.value, worn.value) if upper else (worn.value, new.value)
        return f"{kind}: {worn}, if a point has slipped" if 0 < small <= large <= MOST_WORN * small else ""
    return ""


def _is_one_reading(formula: Formula) -> bool:
    node = syntax_of(formula)
    return isinstance(node.of if isinstance(node, Reduce) and node.how in _OF_THEIR_SIZE else node, Name)


def _unusual(rule: Rule, mine: Iterable[PlainLimit], spec: Specification) -> Iterator[ProofRemark]:
    """Limits outside the usual sizes of what they judge: every reading is beyond such a limit, or none ever is."""
    names = [name for name in rule.formula.names if name in spec.measurands]
    one = spec.measurands[names[0]] if len(names) == len(rule.formula.names) == 1 else None
    sizes = between(one.usual) if one is not None else ()
    if one is None or not sizes or not _is_one_reading(rule.formula):
        return
    low, high = sizes[0], sizes[-1]
    for figure in mine:
        if figure.part in (SHIFT, "aim") or low <= figure.value <= high:
            continue
        above, upper = figure.value > high, SIDE_OF.get(figure.part) == "most"
        meant = figure.slipped(-1 if above else 1)
        likely = low <= meant.value <= high
        if not (above or upper or likely):
            continue  # a least so small that it asks for nothing
        of = f"{plain(low, figure.unit)} to {plain(high, figure.unit)} {figure.unit.symbol}".rstrip()
        how = "nothing is ever" if above == upper else "everything is"
        said = (
            f"the {figure.part} of {figure.text} lies {'above' if above else 'below'} every usual {one.name} ({of}), "
            f"so {how} {'over' if upper else 'under'} it"
        )
        write = (
            f"{meant}, where a point has slipped, or else a wider usual" if likely else "a wider usual, if it is right"
        )
        yield _remark(figure, said, write, "slip" if likely and (above or upper) else "question")


def _resized(rule: Rule, mine: Sequence[PlainLimit]) -> Iterator[ProofRemark]:
    """An allowance for undersize that was added, or one for oversize that was taken off."""
    for line in rule.lines:
        named = _RESIZED.search(line.name) or (_RESIZED.search(line.when.text) if line.when is not None else None)
        pairs = list(_against(line, mine)) if named is not None else []
        if named is None or not pairs:
            continue
        under, called = named[3].lower() == "under", list(_amounts(named, rule))
        steps = [figure.value - (standard.value if standard is not None else 0) for figure, standard in pairs]
        right = (step <= 0 if under else step >= 0 for step in steps)
        if any(right) or (called and not any(is_zero(abs(steps[0]) - each) for each in called)):
            continue  # as it should be, or a thing that grows where its partner is smaller
        first, standard = pairs[0]
        where = "above" if under else "below"
        moved = f"lies {where} the line {standard.line.name}" if standard else f"moves what stands {where} itself"
        said = f"the line {line.name} {moved} by {first.with_(abs(steps[0]))}, and {named[0].strip()} is "
        meant = (figure.slid(-2 * step) for (figure, _), step in zip(pairs, steps, strict=True))
        write = ", ".join(f"{figure.part}: {figure}" for figure in meant)
        yield _remark(first, said + ("smaller" if under else "larger"), write, "slip" if called else "question")


def _against(line: LimitLine, mine: Sequence[PlainLimit]) -> Iterator[tuple[PlainLimit, PlainLimit | None]]:
    """Each figure of a line with that of the standard size; None: a shift, which stands for its own difference."""
    others = [figure for figure in mine if figure.line is not line and _RESIZED.search(figure.line.name) is None]
    others.sort(key=lambda figure: _STANDARD.search(figure.line.name) is None)
    for figure in mine:
        if figure.line is line:
            if figure.part == SHIFT:
                yield figure, None
            elif standard := next((other for other in others if other.part == figure.part), None):
                yield figure, standard


def _amounts(named: re.Match[str], rule: Rule) -> Iterator[Decimal]:
    """The amounts that a size may be called by, base units: with its unit, or bare in whichever is meant."""
    for symbol in (named[2],) if named[2] else ("mm", "in", "thou") if named[1] else ():
        written = read_written(f"{named[1]} {symbol}", unit=None, dimension=None)
        if isinstance(written, Exact) and written.unit.dimension == rule.formula.dimension:
            yield written.value


def _no_width(mine: Sequence[PlainLimit]) -> Iterator[ProofRemark]:
    """A least that is the most: a band of no width."""
    for one, other in combinations(mine, 2):
        if one.line is other.line and {one.part, other.part} == {"least", "most"} and is_zero(one.value - other.value):
            yield _remark(one, f"the least and the most are both {one.text}, a band of no width", "", "question")


def _ten_times(
    mine: Iterable[PlainLimit], every: Mapping[str, Sequence[PlainLimit]], files: Set[str]
) -> Iterator[ProofRemark]:
    """A figure that is exactly ten times its sister's: the same line of a rule whose name differs in one word."""
    for one in mine:
        for other in (other for name, some in every.items() if _sisters(one.rule.name, name) for other in some):
            if _same_row(one, other) and is_zero(one.value - other.slipped(1).value):
                said = f"the {one.part} of {one.text} is ten times that of {other.rule.name}, {other.text}"
                yield _remark(one, said, f"{one.slipped(-1)}, if a nought was lost", "question")
            elif (
                _same_row(one, other) and is_zero(other.value - one.slipped(1).value) and other.place.file not in files
            ):
                said = f"the {one.part} of {one.text} is a tenth of that of {other.rule.name}, {other.text}"
                yield _remark(one, said, f"{one.slipped(1)}, if there is a nought too many", "question")


def _sisters(one: str, other: str) -> bool:
    words, others = one.split("_"), other.split("_")
    return len(words) == len(others) > 1 and sum(a != b for a, b in zip(words, others, strict=True)) == 1


def _same_row(one: PlainLimit, other: PlainLimit) -> bool:
    """Whether two figures stand in one table, in the same column and, but for what is measured, the same row."""
    alike = one.rule.group == other.rule.group and one.part == other.part and one.line.name == other.line.name
    return alike and one.part != SHIFT and one.value > 0


def _remark(figure: PlainLimit, said: str, write: str, kind: RemarkKind) -> ProofRemark:
    return ProofRemark(figure.place, figure.rule.name, said, write, kind)
