"""A number of a spreadsheet as its cell shows it: its own digits, the noughts of its format, and a unit that is there.

A spreadsheet holds binary numbers and shows at most 15 digits of them, so 15 digits are what was typed. A format never
takes digits away here: it adds the noughts that say how far somebody read.
"""

from __future__ import annotations

import re
from decimal import Decimal

from specrules.quantity import Refusal, fixed
from specrules.vocabulary import Code

DIGITS = 15
"""So many significant digits a spreadsheet keeps of a number."""
MOST_PLACES = 15
WORKED_OUT = 9
"""A result of a formula that needs more digits than these, under a format without places, is no reading of a gauge."""
PLAIN_FORMATS = ("general", "@", "")

_ASIDE = re.compile(r"\[(?:black|blue|cyan|green|magenta|red|white|yellow|colou?r\s*\d+|\$-[0-9a-f]+)\]|_.|\*.", re.I)
_PLACES = re.compile(r"[#0?,]*[#0?](?:\.(?P<places>[#0?]*))?(?P<power>[eE][+-]0+)?(?P<rest>.*)")
_WHOLE_AND_PART = re.compile(r"#* *\?+/(?:\?+|\d+)")
_SPOKEN = re.compile(r'"([^"]*)"|\\(.)|( )')


def shown_number(value: float, number_format: str, formula: bool) -> str | Refusal:
    """The text of a number, with the unit that its format writes behind it; or why it is not surely that number.

    `formula`: it was worked out, and is taken only where it has no more places than its cell shows.
    """
    if not abs(value) < 10**DIGITS:
        return Refusal(Code.NOT_A_NUMBER, "is not a number, or too large a one")
    exact = Decimal(format(float(value), f".{DIGITS}g"))
    own = _places_of(exact)
    read = _format(number_format, exact)
    if isinstance(read, Refusal):
        return read
    places, unit = read
    if formula:
        most = places if places is not None else max(0, WORKED_OUT - len(f"{abs(int(exact))}".lstrip("0")))
        if own > most:
            said = (
                f"is worked out by a formula and shown as {fixed(exact, most)}; write the figure itself into its cell"
            )
            return Refusal(Code.AMBIGUOUS, said)
    text = fixed(exact, max(own, places or 0)) if own <= 40 else f"{exact:f}"
    return f"{text} {unit}".strip()


def _places_of(number: Decimal) -> int:
    exponent = number.normalize().as_tuple().exponent
    return max(0, -exponent) if isinstance(exponent, int) else 0


def _format(written: str, value: Decimal) -> tuple[int | None, str] | Refusal:
    """How many places a format shows (None: as many as there are), and the unit that it writes behind them."""
    if written.strip().lower() in PLAIN_FORMATS:
        return None, ""
    odd = Refusal(Code.AMBIGUOUS, f"has the format {written[:40]}, which shows something else than its number")
    sections = _sections(written)
    section = (
        sections[1] if value < 0 and len(sections) > 1 else sections[2] if not value and sections[2:] else sections[0]
    )
    section = _ASIDE.sub("", section).strip()
    if "%" in re.sub(r'"[^"]*"|\\.', "", section):
        return Refusal(Code.AMBIGUOUS, "is shown as a percentage")
    if (section and section.lower() in PLAIN_FORMATS) or _WHOLE_AND_PART.fullmatch(section):
        return None, ""
    if value < 0 and len(sections) > 1:
        section = re.sub(r"^(?:\\?-|\\?\()", "", section).removesuffix(")").removesuffix("\\")
    found = _PLACES.fullmatch(section)
    if found is None or found["rest"].startswith(","):
        return odd
    unit, at = "", 0
    for part in _SPOKEN.finditer(found["rest"]):
        if part.start() != at:
            return odd
        unit, at = unit + (part[1] or part[2] or part[3] or ""), part.end()
    if at != len(found["rest"]):
        return odd
    if found["power"]:
        return (None, unit.strip())
    return min((found["places"] or "").count("0"), MOST_PLACES), unit.strip()


def _sections(written: str) -> list[str]:
    """The parts of a format: for positive numbers, negative ones, nought and texts."""
    parts = [""]
    for piece in re.findall(r'"[^"]*"|\\.|.', written, re.DOTALL):
        if piece == ";":
            parts.append("")
        else:
            parts[-1] += piece
    return parts
