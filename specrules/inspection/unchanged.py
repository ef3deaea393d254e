"""What two states of one sheet say differently, so that all that hangs on nothing of it need not be judged again.

What hangs on something goes by names, through formulas, figures, needs and sign-offs (`pack.needing.NamesBehind`). It
is never guessed what a change may reach: what is not known to be told by name leaves nothing standing, and so do doubts
of fits and sizes that limits bear out, which speak of many rules. A new field of a sheet counts as one that may be
behind anything until it is said otherwise here.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any, NamedTuple, TypeVar

from specrules.document.text import NOWHERE
from specrules.evaluate.gaugings import Gauging
from specrules.sheet import Reading, Sheet, Suspect

T = TypeVar("T")

BY_NAME = ("gauges", "readings", "facts", "described", "limits", "signed")
"""What a sheet says of things that have names. Gauges are looked at as each reading was taken with them; of what is
described there is the specification of what is present, which has to be the same one."""
ONLY_TOLD = ("sha256", "title", "build", "history", "concessions", "beside", "scope", "until", "pictures")
"""What no rule is judged by at its stations. Whatever is neither here nor above may be behind anything."""


class Grounds(NamedTuple):
    """What rules are judged by, of all that a sheet says. `gaugings`: one a reading; `suspects`: by what is written."""

    sheet: Sheet
    gaugings: Sequence[Gauging]
    suspects: Sequence[Suspect]


def differing(before: Grounds, now: Grounds) -> frozenset[str] | None:
    """The names of measurands, facts, rules (with limits in the sheet) and sign-offs of which two states of a sheet say
    different things, wherever in its file; None where what differs may be behind anything."""
    one, other = before.sheet, now.sheet
    whole = (each._replace(work_done=tuple(_placeless(each.work_done))) for each in (one, other))
    rest = [[getattr(each, name) for name in Sheet._fields if name not in (*BY_NAME, *ONLY_TOLD)] for each in whole]
    if rest[0] != rest[1]:
        return None
    return frozenset(
        (
            *_differing(_read(before), _read(now), _as_read),
            *_differing(one.facts, other.facts, _placeless),
            *_differing(one.signed, other.signed, _placeless),
            *_differing(one.limits, other.limits, tuple),  # a source there is told with its line
            *(suspect.name for suspect in {*before.suspects} ^ {*now.suspects}),
        )
    )


def _differing(
    before: Mapping[str, Sequence[T]], now: Mapping[str, Sequence[T]], plain: Callable[[Sequence[T]], Any]
) -> Iterator[str]:
    for name in before.keys() | now.keys():
        one, other = before.get(name), now.get(name)
        if one is None or other is None or (one != other and plain(one) != plain(other)):
            yield name


def _read(of: Grounds) -> Mapping[str, Sequence[tuple[Reading, Gauging]]]:
    found: dict[str, list[tuple[Reading, Gauging]]] = {}
    for reading, gauging in zip(of.sheet.readings, of.gaugings, strict=True):
        found.setdefault(reading.name, []).append((reading, gauging))
    return found


def _as_read(readings: Sequence[tuple[Reading, Gauging]]) -> Sequence[tuple[Reading, Gauging]]:
    """Readings of one name wherever they stand; which of them are one statement is told, whatever its number."""
    numbers: dict[int, int] = {}
    return [
        (each._replace(place=NOWHERE, statement=numbers.setdefault(each.statement, len(numbers))), gauging)
        for each, gauging in readings
    ]


def _placeless(parts: Sequence[Any]) -> Sequence[Any]:
    """Parts that know their places, without these: that lines moved is no difference."""
    return [part._replace(place=NOWHERE) for part in parts]
