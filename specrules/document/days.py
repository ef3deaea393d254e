"""Days as files hold them."""

from __future__ import annotations

import re
from datetime import date

from specrules.document.source import shown
from specrules.vocabulary import Code

_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")


def day_of(text: str) -> date | tuple[Code, str, str]:
    """A day written year first; else what is wrong with it, and what to write."""
    if not _DAY.fullmatch(text):
        return Code.NOT_A_DATE, f"{shown(text)} is no date as sheets write them", "it year first: 2026-10-02"
    try:
        return date.fromisoformat(text)
    except ValueError:
        return Code.NOT_A_DATE, f"there is no day {shown(text)}", ""
