"""A report in short, for whoever works with it in Python: a line or a flat row a finding, and a table for a page."""

from __future__ import annotations

from collections import namedtuple
from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal
from typing import TYPE_CHECKING, Any, TypeAlias

from specrules.document import shown, visible
from specrules.inspection.digits import places_of, printed_limits, said_beyond, with_unit
from specrules.quantity import nearest
from specrules.vocabulary import BEYOND, OPEN, Reason, Verdict

if TYPE_CHECKING:
    from specrules.inspection.report import Finding, Report

Row: TypeAlias = Any
"""A named tuple; which fields it has hangs on the axes that findings lie along."""
At: TypeAlias = Mapping[str, str | int]

_NUMBERS = "value U low high least aim most wear_least wear_most beyond beyond_at_most"
KINDS: Mapping[str, type] = {
    **dict.fromkeys(_NUMBERS.split(), float),
    "conceded": bool,
    "readings_found": int,
    "readings_asked": int,
}
"""What the fields of a row are, but for None; the others are texts."""
MOST_ROWS = 50
"""Findings that a page shows."""
FIRST = (*BEYOND[::-1], *OPEN, Verdict.JUST_IN)
"""Verdicts that a page shows, the gravest first."""


def line_of(finding: Finding) -> str:
    """`fit at hole 2: 0.0016 ± 0.0004 in, tight by 0.0006 in`."""
    at = where(finding)
    said = ", ".join(filter(None, (_value(finding), _verdict(finding))))
    return visible(f"{finding.rule}{' at ' if at else ''}{at}: {said}")


def head_of(report: Report) -> str:
    """`<Report "Two holes": held, 428 in spec, 4 out of spec>`."""
    return f"<Report {shown(report.title or report.file)}: {', '.join((report.verdict, *_counted(report)))}>"


def where(finding: Finding) -> str:
    """The station: `plate 4, hole left`."""
    return ", ".join(f"{axis} {label}" for axis, label in finding.station.items())


def rows_of(findings: Iterable[Finding]) -> list[Row]:
    """A named tuple a finding, all of one class. Its annotations say what each field is, for what would else tell it by
    the first rows, which may say nothing."""
    every = tuple(findings)
    axes = tuple(dict.fromkeys(axis for finding in every for axis in finding.station))
    rows = [_row(finding, axes) for finding in every]
    columns = tuple(rows[0]) if rows else ()
    made = namedtuple("Row", columns)  # type: ignore[misc]  # its fields are known here alone
    made.__annotations__ = {name: KINDS.get(name, str) | None for name in columns}
    return [made(**row) for row in rows]


def page_of(report: Report) -> str:
    """What waits or is beyond, as a table of HTML; every text in it is escaped."""
    waiting = [finding for verdict in FIRST for finding in report.findings if finding.verdict is verdict]
    body = "".join(f"<tr>{''.join(map(_cell, _cells(finding)))}</tr>" for finding in waiting[:MOST_ROWS])
    head = "".join(f"<th>{word}</th>" for word in ("check", "where", "value", "limits", "verdict"))
    table = f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>" if waiting else ""
    more = f"<p>and {len(waiting) - MOST_ROWS} more</p>" if len(waiting) > MOST_ROWS else ""
    title, counted = _text(report.title or report.file), _text(", ".join(_counted(report)))
    decided = _text(f"{', '.join(f'{pack.name} {pack.version}' for pack in report.packs)}; {report.decision}")
    return f"<p><strong>{title}</strong>: {_text(report.verdict)}<br>{counted}<br>{decided}</p>{table}{more}"


def at_station(findings: tuple[Finding, ...], rule: str, at: At) -> Finding:
    """The one finding at a station.

    Raises KeyError, with what to write, where there is none.
    """
    asked = {axis: str(label) for axis, label in at.items()}
    found = next((finding for finding in findings if finding.station == asked), None)
    if found is not None:
        return found
    stations = [finding.station for finding in findings]
    axes = tuple(stations[0])
    if asked.keys() != stations[0].keys():
        write = f"a label for {' and '.join(axes)}" if axes else "{} as its station, for it has one finding"
        raise KeyError(f"{rule} stands along {', '.join(axes) or 'no axis'}; write {write}")
    for axis, label in asked.items():
        labels = tuple(dict.fromkeys(station[axis] for station in stations))
        if label not in labels:
            offered = nearest(label, labels) or ", ".join(labels)
            raise KeyError(f"{rule} has no {axis} {shown(label)}; write {offered}")
    raise KeyError(f"{rule} is not judged there")


def of_rule(findings: Iterable[Finding], rule: str) -> tuple[Finding, ...]:
    """The findings of a rule.

    Raises KeyError, with the nearest name, where there is none.
    """
    every = tuple(findings)
    found = tuple(finding for finding in every if finding.rule == rule)
    if not found:
        offered = nearest(rule, {finding.rule for finding in every})
        raise KeyError(f"{shown(rule)} is no rule of this report{f'; write {offered}' if offered else ''}")
    return found


def _row(finding: Finding, axes: tuple[str, ...]) -> dict[str, str | float | bool | None]:
    limits, rests_on = finding.limits, finding.rests_on
    return {
        "rule": finding.rule,
        "title": finding.title,
        "group": finding.group,
        "pack": finding.pack,
        **{f"at_{axis}": finding.station.get(axis) for axis in axes},
        "verdict": str(finding.verdict),
        "would_be": None if finding.would_be is None else str(finding.would_be),
        "side": finding.side or None,
        "value": _float(finding.value),
        "U": _float(finding.U),
        "low": _float(finding.low),
        "high": _float(finding.high),
        "unit": finding.unit.symbol,
        "least": _float(limits.least),
        "aim": _float(limits.aim),
        "most": _float(limits.most),
        "wear_least": _float(limits.deciding("least")) if "least" in limits.worn else None,
        "wear_most": _float(limits.deciding("most")) if "most" in limits.worn else None,
        "beyond": _float(finding.beyond),
        "beyond_at_most": _float(finding.beyond_at_most),
        "importance": finding.importance,
        "conceded": finding.conceded,
        "hold_point": finding.hold_point or None,
        "way": finding.way or None,
        "readings_found": rests_on.found,
        "readings_asked": rests_on.asked,
        "missing": "; ".join(map(_reason, rests_on.missing)) or None,
    }


def _float(number: Decimal | None) -> float | None:
    return None if number is None else float(number)


def _reason(reason: Reason) -> str:
    return " ".join((f"{reason.code}:", *reason.names, *reason.labels)).rstrip(":")


def _value(finding: Finding) -> str:
    return with_unit(finding, "± ")


def _verdict(finding: Finding) -> str:
    if finding.verdict in BEYOND:
        just = "" if finding.verdict is Verdict.OUT else f"{finding.verdict}, "
        conceded = ", conceded" if finding.conceded else ""
        beyond = said_beyond(finding)
        return f"{just}{finding.side}{beyond}{f' {finding.unit.symbol}' if beyond else ''}".rstrip() + conceded
    return f"{finding.verdict}{f', would be {finding.would_be}' if finding.would_be else ''}"


def _cells(finding: Finding) -> Iterator[str]:
    limits = printed_limits(finding.limits, places_of(finding))
    yield finding.title
    yield where(finding)
    yield _value(finding)
    yield ", ".join([f"{word} {limit}" for word, limit in limits.texts.items()] + ["rounded"] * limits.rounded)
    yield _verdict(finding)


def _cell(text: str) -> str:
    return f"<td>{_text(text)}</td>"


def _text(text: str) -> str:
    from html import escape  # no command makes a page

    return escape(visible(text))


def _counted(report: Report) -> Iterator[str]:
    yield from (f"{count} {verdict}" for verdict, count in report.counts.items() if count)
    if report.unsigned:
        yield f"{len(report.unsigned)} not signed"
