"""A pack of what a sheet states for its whole family: its facts, and its own limits as amendments of its packs.

It clears all parts of a limit that the sheet does not state, since the sheet's own limits leave none of a pack's
standing.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from specrules.document.replacing import BARE
from specrules.document.source import quoted
from specrules.pack import Fact, LimitLine, Rule, Specification
from specrules.pack.compiling import NO_LIMIT
from specrules.pack.pack_model import HEADER
from specrules.quantity import LENGTH, Unit
from specrules.sheet.sheet_parts import FactValue, Sheet
from specrules.vocabulary import LIMIT_PARTS

_PLAIN = re.compile(r"[+-]?[0-9]*\.?[0-9]+")


def family_pack(sheet: Sheet, spec: Specification, name: str, title: str, file: str) -> str:
    """The text of a pack `name` for all that is built like the thing of this sheet; `file` is how a command has it.

    What lies apart along an axis, and what lists groups, cannot be implied by a pack: it is told as comments.
    """
    unit = "mm" if sheet.unit is not None and sheet.unit.symbol == "mm" else "in"
    single, apart = _facts(sheet, spec)
    lines = [
        f"specrules: {HEADER}",
        "",
        f"## What {sheet.file} states, for all that is built like it. Take out what differs",
        "## from one to the next: a sheet cannot say otherwise than sets does.",
        f"##     specrules pack prove {file}             what is wrong, with its line",
        f"##     specrules pack prove {file} --write     proposes examples for its limits",
        "",
        "pack:",
        f"  name: {name}",
        '  version: "1"',
        f"  title: {quoted(title)}",
        f"  builds on: [{', '.join(sheet.packs)}]",
        f"  unit: {unit}",
        *(["  sets:"] if single else ()),
        *(f"    {fact.name}: {_text(_with_unit(value.text, fact, sheet.unit))}" for fact, value in single),
        *(("", "## Each sheet states besides, since it may differ by place:") if apart else ()),
        *(f"##     {fact}" for fact in apart),
    ]
    if sheet.limits:
        lines += ["", "amend:", "  rules:"]
        for rule_name, own in sheet.limits.items():
            lines += _amended(spec.rules[rule_name].governing[-1], own, sheet)
    return "\n".join(lines) + "\n"


def _facts(sheet: Sheet, spec: Specification) -> tuple[list[tuple[Fact, FactValue]], list[str]]:
    """Facts of which one value is stated, and the names of the others; what packs set already is left out."""
    single: list[tuple[Fact, FactValue]] = []
    apart: list[str] = []
    for name, values in sheet.facts.items():
        fact = spec.facts[name]
        if name in spec.sets:
            continue
        texts = {value.text for value in values}
        if fact.kind != "groups" and len(texts) == 1 and values[0].text:
            single.append((fact, values[0]))
        else:
            apart.append(name)
    return single, apart


def _amended(rule: Rule, own: tuple[LimitLine, ...], sheet: Sheet) -> Iterator[str]:
    yield f"    {rule.name}:"
    yield "      reason: As the maker gives it."
    if rule.from_the_maker:
        yield "      from the maker: no"
    if not own:
        yield f"      limits: {NO_LIMIT}"
        return
    yield "      limits:"
    for line in (line for line in rule.lines if line.from_the_maker):
        yield f"        - {{name: {_text(line.name)}, retire: yes}}"
    for number, line in enumerate(own):
        yield f"        - name: {_text(_called(rule, number))}"
        if line.when is not None:
            yield f"          when: {_text(line.when.text)}"
        for part in LIMIT_PARTS:
            if part in line.sets:
                yield f"          {part}: {_text(_bare_with_unit(line.sets[part].text, rule, sheet.unit))}"
            elif not number or part in line.clears:
                yield f"          {part}: {NO_LIMIT}"
        if line.shift is not None:
            yield f"          shift: {_text(_bare_with_unit(line.shift.text, rule, sheet.unit))}"
        said = line.source.note if line.source is not None and line.source.note else f"{sheet.file} has it so"
        yield f"          source: {_text(said)}"


def _called(rule: Rule, number: int) -> str:
    """A name that no line of the rule has."""
    taken = {line.name for line in rule.lines}
    named = (f"maker {count}" if count > 1 else "maker" for count in range(number + 1, number + 100))
    return next(name for name in named if name not in taken)


def _with_unit(text: str, fact: Fact, lengths_in: Unit | None) -> str:
    if fact.unit is None or not _PLAIN.fullmatch(text):
        return text
    unit = lengths_in if fact.unit.dimension == LENGTH and lengths_in is not None else fact.unit
    return f"{text} {unit.symbol}"


def _bare_with_unit(text: str, rule: Rule, lengths_in: Unit | None) -> str:
    """A limit with its unit: a bare one is in the sheet's, or in that of its rule."""
    if not _PLAIN.fullmatch(text):
        return text
    unit = lengths_in if rule.formula.dimension == LENGTH and lengths_in is not None else rule.unit
    return f"{text} {unit.symbol}".rstrip()


def _text(text: str) -> str:
    """A text as it stands in a file, in quotes where YAML would take it for something else."""
    return text if BARE.fullmatch(text) and text.count("(") == text.count(")") else quoted(text)
