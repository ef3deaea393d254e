"""Faults of a sheet, said at the place of the text that they speak of, and the dates that sheets hold."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from specrules.document import MOST_FAULTS, Fault, Place, Text, placed, shown
from specrules.document.days import day_of
from specrules.quantity import Refusal, nearest
from specrules.vocabulary import Code

_MOST_LISTED = 12


def fault(place: Place, subject: str, code: Code, said: str, write: str = "") -> Fault:
    """A fault of the sheet."""
    return Fault(place, subject, code, said, write, "sheet")


def refused(text: Text, refusal: Refusal, subject: str) -> Fault:
    """The fault for a text that was not taken, at the character where the trouble is."""
    return fault(placed(text, refusal.at), subject, refusal.code, f"{shown(text)} {refusal.said}", refusal.write)


def unknown(word: Text, what: str, choices: Iterable[str], subject: str, told: int) -> Fault:
    """The fault for a name that is not known: the nearest is offered, or what there is, or what has its words.

    `told`: how many faults come before it. Past what anyone is shown nothing is offered, since looking takes long.
    """
    if told >= MOST_FAULTS:
        return fault(word.place, subject, Code.UNKNOWN_NAME, f"{shown(word)} is no {what}")
    known = tuple(choices)
    meant, there = nearest(word, known) or "", ""
    if not meant and len(known) <= _MOST_LISTED:
        there = f"; there {'is' if len(known) == 1 else 'are'} {listed(known)}"
    elif not meant:
        meant = _with_its_words(word, known)
    return fault(word.place, subject, Code.UNKNOWN_NAME, f"{shown(word)} is no {what}{there}", meant)


def _with_its_words(word: str, known: Iterable[str]) -> str:
    """The names that have every word of a shorter one: where end_gap is none, wall_end_gap may be."""
    said = _words(word)
    return " or ".join([name for name in known if said and said <= _words(name)][:_MOST_LISTED])


def _words(name: str) -> set[str]:
    return set(name.casefold().replace("_", " ").split())


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
