"""What each pack of a chain says of one rule: who wrote it and where, and what stood before it was amended."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from specrules.formula import Formula
from specrules.output.lines import Line, folded, spread
from specrules.output.words import listed
from specrules.pack import LimitLine, Rule, RuleChain
from specrules.pack.compiling import NO_LIMIT

LEFT = 14
_ROOM = 40
"""A text this short has its place beside it; that of a longer one stands below."""


def row(left: str, text: str, style: str = "") -> Iterator[Line]:
    """One value with its name; nothing where there is none."""
    if text:
        yield from folded(text, 0, f"{left:<{LEFT}}", style)


def written(chain: RuleChain) -> Iterator[Line]:
    """Where the rule is defined, and each amendment with its reason."""
    for number, version in enumerate(chain.versions):
        place = f"{version.pack}: {version.place.file}, line {version.place.line}"
        yield from row("amended" if number else "written", place)
        reason = next((reason for pack, reason in version.reasons if pack == version.pack), "")
        yield from row("", reason if number else "")


def value(left: str, rule: Rule, chain: RuleChain, said: Callable[[Rule], str], style: str = "") -> Iterator[Line]:
    """One value of a rule as it stands, and, where packs differ on it, which says so and what each other one has."""
    text = said(rule)
    yield from row(left, text, style)
    others = {said(version): version.pack for version in reversed(chain.versions) if said(version) != text}
    if others:
        by = next((version.pack for version in chain.versions if said(version) == text), rule.pack)
        has = "; ".join(f"{pack} has {other or 'nothing'}" for other, pack in others.items())
        yield from row("" if text else left, f"({by} says so; {has})", "quiet")


def limits(rule: Rule, chain: RuleChain) -> Iterator[Line]:
    """Every line of limits, each figure with the pack and the line it stands in, and those that it replaced."""
    if not rule.limits_wanted:
        yield from row("limits", "none: shown, never judged")
    for number, line in enumerate(rule.lines):
        when = f", when {line.when.text}" if line.when is not None else ""
        yield from row("" if number else "limits", f"{line.name}{when}")
        for part in _parts(line):
            yield from _limit(part, line, chain)
        yield from _holding(line)
        if line.from_the_maker:
            yield from row("", f"from the maker alone ({line.pack}, line {line.place.line})")
        yield from row("  note", line.note)
    for number, margin in enumerate(rule.margins):
        makers = ", the maker's limits too" if margin.makers_too else ""
        text = f"{margin.text} further in{makers}"
        yield from spread(
            f"{'' if number else 'margin':<{LEFT}}{text}", f"{margin.pack}, line {margin.place.line}", "", "quiet"
        )
    if rule.from_the_maker:
        yield from row("limits", "from the maker alone: put them in the sheet")
    yield from row("words", f"{rule.words[0]} under the least, {rule.words[1]} over the most")


def _holding(line: LimitLine) -> Iterator[Line]:
    """What the figures of a line hold for: told once where it is the same for all of them."""
    told: dict[str, list[str]] = {}
    for part, validity in line.holds.items():
        told.setdefault(f"{validity.text}  ({validity.pack})", []).append(part)
    for text, parts in told.items():
        which = "" if len(parts) == len(_parts(line)) else f"{listed(parts)}: "
        yield from row("  holds for", f"{which}{text}", "quiet")


def _limit(part: str, line: LimitLine, chain: RuleChain) -> Iterator[Line]:
    """One figure: it, then, strongest first, what the packs below say in its place."""
    stood: dict[tuple[str, int], tuple[str, str]] = {}
    for version in chain.versions:
        for each in version.lines:
            if each.name == line.name and (formula := _formula(part, each)) is not None:
                stood.setdefault(_row_of(part, each), (formula.text, version.pack))
    now = _formula(part, line)
    here = line.place[:2] if now is None else _row_of(part, line)
    stood.setdefault(here, (NO_LIMIT if now is None else now.text, line.pack))
    left = f"  {'moved by' if part == _SHIFT else part}"
    for place in (here, *(place for place in reversed(stood) if place != here)):
        text, pack = stood[place]
        text = text if place == here else f"instead of {text}"
        where = f"{pack}, line {place[1]}"
        if len(text) <= _ROOM:
            yield from spread(f"{left:<{LEFT}}{text}", where, "" if place == here else "quiet", "quiet")
        else:
            yield from folded(f"{text}  ({where})", 0, f"{left:<{LEFT}}", "" if place == here else "quiet")
        left = ""


_SHIFT = "shift"


def _parts(line: LimitLine) -> tuple[str, ...]:
    return (*line.sets, *line.clears, *(() if line.shift is None else (_SHIFT,)))


def _formula(part: str, line: LimitLine) -> Formula | None:
    return line.shift if part == _SHIFT else line.sets.get(part)


def _row_of(part: str, line: LimitLine) -> tuple[str, int]:
    """The file and the line of it where a part stands."""
    return line.written.get(part, line.place)[:2]
