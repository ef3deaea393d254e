"""Faults of a sheet, said at the place of the text that they speak of, and the dates that sheets hold."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from specrules.document import MOST_FAULTS, Fault, Place, Text, placed, shown
from specrules.document.days import day_of
from specrules.quantity import Refusal, likely, nearest
from specrules.vocabulary import Code

_MOST_LISTED = 12
_BY_NEW_SHEET = "specrules sheet new --with-how lists all"
_LISTS = {
    "fact": _BY_NEW_SHEET,
    "gauge class": _BY_NEW_SHEET,
    "measurand of these packs": _BY_NEW_SHEET,
    "operation": _BY_NEW_SHEET,
    "sign-off": _BY_NEW_SHEET,
    "rule": "specrules pack show lists those of a pack",
}
"""Of what packs define, and in numbers: what lists it."""


def fault(place: Place, subject: str, code: Code, said: str, write: str = "") -> Fault:
    """A fault of the sheet."""
    return Fault(place, subject, code, said, write, "sheet")


def refused(text: Text, refusal: Refusal, subject: str) -> Fault:
    """The fault for a text that was not taken, at the character where the trouble is."""
    return fault(placed(text, refusal.at), subject, refusal.code, f"{shown(text)} {refusal.said}", refusal.write)


def unknown(word: Text, what: str, choices: Iterable[str], subject: str, told: int) -> Fault:
    """The fault for a name that is not known. `told`: how many faults come before it; past what anyone is shown nothing
    is offered, since looking takes long."""
    said, write = (f"{shown(word)} is no {what}", "") if told >= MOST_FAULTS else not_known(word, what, tuple(choices))
    return fault(word.place, subject, Code.UNKNOWN_NAME, said, write)


def not_known(word: str, what: str, known: Sequence[str]) -> tuple[str, str]:
    """That a name is not known, with what there is or what lists it; or what was likely meant, to write instead."""
    said, few = f"{shown(word)} is no {what}", len(known) <= _MOST_LISTED
    meant = nearest(word, known) if few else likely(word, known)
    if meant:
        return said, meant
    there = f"there {'is' if len(known) == 1 else 'are'} {listed(known)}"
    return f"{said}; {there if few else _LISTS.get(what, there)}", ""


def listed(labels: Iterable[str]) -> str:
    """Labels for a sentence: '1 to 5', 'front and rear', 'none'."""
    known = tuple(labels)
    if not known:
        return "none"
    if len(known) > 2 and known == tuple(str(number) for number in range(1, len(known) + 1)):
        return f"1 to {len(known)}"
    if len(known) > _MOST_LISTED:
        return ", ".join(known[:_MOST_LISTED]) + f" and {len(known) - _MOST_LISTED} more"
    return " and ".join([", ".join(known[:-1]), known[-1]] if len(known) > 1 else known)


def read_date(text: Text | None, subject: str, faults: list[Fault]) -> date | None:
    """A day written year first; None where nothing is written. Whatever else stands there joins `faults`."""
    if not text:
        return None
    found = day_of(text)
    if isinstance(found, date):
        return found
    faults.append(fault(text.place, subject, *found))
    return None
