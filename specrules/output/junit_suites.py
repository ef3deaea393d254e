"""Sheets as suites of tests in the XML that servers of continuous integration read: a suite a sheet, a case a check.

A case fails where it stops the job, and is an error where it is waited for and not decided: both are red. One that is
not good and holds nothing up is skipped, with what it is; one that is just in passes, and says so. A server that counts
red cases comes to what the exit status says. There are no times, so that the same sheet makes the same file.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from xml.sax.saxutils import escape, quoteattr

from specrules.output.checked_items import Item, JobOutcome, beside, items
from specrules.output.verdicts import counted_verdicts
from specrules.record import Record

_ELEMENT = {JobOutcome.FAILS: "failure", JobOutcome.UNDECIDED: "error", JobOutcome.SET_ASIDE: "skipped"}


def suite(record: Record) -> str:
    """The suite of one sheet."""
    every = list(items(record))
    counts = Counter(each.outcome for each in every)
    head = _attributes(
        name=record.sheet.file or "sheet",
        tests=str(len(every)),
        failures=str(counts[JobOutcome.FAILS]),
        errors=str(counts[JobOutcome.UNDECIDED]),
        skipped=str(counts[JobOutcome.SET_ASIDE]),
    )
    properties = (f"  <property{_attributes(name=name, value=value)}/>\n" for name, value in _properties(record))
    cases = "".join(map(_case, every))
    aside = "\n".join(fault.sentence for fault in record.faults if beside(fault))
    told = f" <system-err>{escape(aside)}</system-err>\n" if aside else ""
    return f"<testsuite{head}>\n <properties>\n{''.join(properties)} </properties>\n{cases}{told}</testsuite>\n"


def _properties(record: Record) -> Iterator[tuple[str, str]]:
    """What it was judged by, and what came of it."""
    yield "specrules", record.tool.version
    yield "verdict", record.verdict
    for name, said in (
        ("title", record.sheet.title),
        ("job", record.sheet.job),
        ("decision", record.decision),
        ("until", record.until),
        ("packs", ", ".join(f"{pack.name} {pack.version}" for pack in record.packs)),
        ("counts", counted_verdicts(record.counts)),
        ("seal", record.seal),
        ("sheet sha256", record.sheet.sha256),
    ):
        if said:
            yield name, said


def _case(item: Item) -> str:
    head = f" <testcase{_attributes(classname=item.of, name=item.title)}"
    if item.outcome is JobOutcome.GOOD:
        told = f"<system-out>{escape(' '.join(item.told))}</system-out>" if item.told else ""
        return f"{head}>{told}</testcase>\n" if told else f"{head}/>\n"
    message, *more = item.told or (item.state,)
    tag, body = _ELEMENT[item.outcome], escape("\n".join(more))
    return f"{head}>\n  <{tag}{_attributes(type=item.state, message=message)}>{body}</{tag}>\n </testcase>\n"


def _attributes(**said: str) -> str:
    return "".join(f" {name}={quoteattr(text)}" for name, text in said.items())
