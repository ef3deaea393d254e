"""Whether a value of a pack asks less than the value it replaces: decided for every key that a pack may amend.

A key that is not in these tables cannot be amended without a test failing. What is not surely as strict counts as less.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from decimal import Decimal
from typing import Any, NamedTuple

from specrules.document import Text
from specrules.pack.capability import Capability, Characteristics, read_capability
from specrules.pack.entries import (
    AxisEntry,
    FactEntry,
    FigureEntry,
    GaugeClassEntry,
    MeasurandEntry,
    OperationEntry,
    PartEntry,
    SignOffEntry,
    SourcedSizeEntry,
)
from specrules.pack.lesson_entries import ExerciseEntry, LessonEntry
from specrules.pack.line_entries import PackLineEntry
from specrules.pack.rule_entries import BOTH, RuleEntry
from specrules.pack.strictness import laxer, surer
from specrules.pack.table_entries import SoldEntry, TableEntry
from specrules.quantity import Bracket, Unit, read_written
from specrules.validation import FileModel
from specrules.vocabulary import IMPORTANCES, Relaxed


class Ground(NamedTuple):
    """What values are held against: the hold points in order, and what a bare number means where a text stands."""

    hold_points: tuple[str, ...]
    bare: Callable[[Text], Unit | None]


Less = Callable[[Any, Any, Ground], bool]
"""Takes the thing below and the thing above, both whole."""


class Weigher(NamedTuple):
    """By what code a key is told, and when it asks less."""

    code: Relaxed
    less: Less


class Elsewhere(NamedTuple):
    """Why a key is not weighed as it is written."""

    why: str


BEYOND = Decimal("1e-9")
"""So little past the end of a range of sizes lies in the next one, base units."""
WORDS = Elsewhere("it is words or proof for a reader, and no verdict hangs on it")
WHERE_IT_COUNTS = Elsewhere("it is held where it counts: at each station of a sheet, or at every size and setting")
ADDED = Elsewhere("labels are only ever added, and what lies along the axis is asked at those too")
WITH_ITS_CLASS = Elsewhere("it is held at every size, with the kind of gauge that it is of")


def by_itself(key: str, code: Relaxed, less: Callable[[Any, Any], bool]) -> Weigher:
    """Weighs one key by itself."""
    field = key.replace(" ", "_")
    return Weigher(code, lambda below, above, _: less(getattr(below, field), getattr(above, field)))


def _lost(below: Any, above: Any) -> bool:
    return any(each not in above for each in below)


def _replaced(below: Any, above: Any) -> bool:
    return bool(below) and above != below


def _changed(below: Any, above: Any) -> bool:
    return bool(above != below)


def _more_often(below: Text, above: Text) -> bool:
    return above not in ("", "no", below)


def _narrower(below: Text, above: Text) -> bool:
    return above not in ("", below)


def _fewer(below: Text, above: Text) -> bool:
    return _number(below, 1) > _number(above, 1)


def _longer(below: Text, above: Text) -> bool:
    return bool(below) and _number(above, 0) > _number(below, 0)


def _number(text: Text, otherwise: int) -> int:
    return int(text) if text.isdecimal() else otherwise


def _by_other_gauges(below: tuple[Text, ...], above: tuple[Text, ...]) -> bool:
    """A kind of gauge more, or another one that is taken where the sheet names none."""
    return bool(below) and (_lost(above, below) or above[:1] != below[:1])


def _wider(below: Any, above: Any, ground: Ground) -> bool:
    """Usual sizes that let more pass for usual."""
    if not below.usual or above.usual == below.usual:
        return False
    one, other = (read_written(each.usual, unit=ground.bare(each.usual), dimension=None) for each in (below, above))
    if not (isinstance(one, Bracket) and isinstance(other, Bracket)) or one.unit.dimension != other.unit.dimension:
        return True
    return not (_inside(one.low, other.low, 1) and _inside(one.high, other.high, -1))


def _inside(below: Any, above: Any, sign: int) -> bool:
    return below is None or (above is not None and (above - below) * sign >= 0)


def _surer(part: str) -> Less:
    """The same of a gauge class as a pack writes it, for all sizes."""

    def less(below: GaugeClassEntry, above: GaugeClassEntry, _: Ground) -> bool:
        one, other = (Capability(_capability(each).figures) for each in (below, above))
        return surer(one, other, part)

    return less


def _surer_by_size(below: GaugeClassEntry, above: GaugeClassEntry, _: Ground) -> bool:
    one, other = _capability(below), _capability(above)
    return one.by_size != other.by_size and any(surer(one, other, part) for part in Characteristics._fields)


def _capability(of: GaugeClassEntry) -> Capability:
    return read_capability(of, lambda *_: None)


def _fewer_slips(below: GaugeClassEntry, above: GaugeClassEntry, _: Ground) -> bool:
    return any(_lost(steps, above.slips.get(name, ())) for name, steps in below.slips.items())


def _fewer_places(key: str) -> Weigher:
    return by_itself(key, Relaxed.FEWER_READINGS, _lost)


def _later(below: Any, above: Any, ground: Ground) -> bool:
    """Where no hold point is said, the last of all waits."""
    order = {point: number for number, point in enumerate(ground.hold_points)}
    return order.get(above.hold_point, len(order) - 1) > order.get(below.hold_point, len(order) - 1)


_GRAVITY = re.compile("|".join(IMPORTANCES))


def _less_grave(below: str, above: str) -> bool:
    """Whether the least that one may come to is less than the most that the other may. "" stands for major."""
    if below == above:
        return False
    grave, light = ([IMPORTANCES.index(each) for each in _GRAVITY.findall(text or "major")] for text in (below, above))
    return max(light, default=len(IMPORTANCES)) > min(grave, default=0)


def _rule_less_grave(below: RuleEntry, above: RuleEntry, _: Ground) -> bool:
    pairs = zip(_importances(below), _importances(above), strict=True)
    return below.limits is not None and any(_less_grave(one, other) for one, other in pairs)


def _importances(of: RuleEntry) -> tuple[str, str]:
    """What is said of either side."""
    said, (low, _, high) = of.importance, of.words.partition("/")
    low, high = (str(said.get(Text(side.strip()), said.get(Text(BOTH), ""))) for side in (low, high))
    return low, high


_NEGATIVE = by_itself("may be negative", Relaxed.LESS_DOUBTED, _more_often)
_USUAL = Weigher(Relaxed.LESS_DOUBTED, _wider)
_HOLD_POINT = Weigher(Relaxed.LATER, _later)
_EXISTS = by_itself("applies when", Relaxed.SWITCHED_OFF, _narrower)

KEYS: Mapping[type[FileModel], Mapping[str, Weigher | Elsewhere]] = {
    RuleEntry: {
        "title": WORDS,
        "limits": WHERE_IT_COUNTS,
        "holds for": WHERE_IT_COUNTS,
        "from the maker": WHERE_IT_COUNTS,
        "words": WORDS,
        "importance": Weigher(Relaxed.LESS_GRAVE, _rule_less_grave),
        "hold point": _HOLD_POINT,
        "applies when": WHERE_IT_COUNTS,
        "needs": by_itself("needs", Relaxed.NEEDS_LESS, _lost),
        "because": WORDS,
        "remedy": WORDS,
        "caution": WORDS,
        "does not test": WORDS,
        "note": WORDS,
        "may be negative": _NEGATIVE,
        "source": WORDS,
        "worked": WORDS,
    },
    PackLineEntry: {
        "name": WORDS,
        **dict.fromkeys(("when", "class", "least", "aim", "most", "wear least", "wear most"), WHERE_IT_COUNTS),
        **dict.fromkeys(("shift", "from the maker", "retire", "holds for"), WHERE_IT_COUNTS),
        "note": WORDS,
        "source": WORDS,
    },
    SignOffEntry: {
        "question": by_itself("question", Relaxed.OTHERWISE, _changed),
        "at": _fewer_places("at"),
        "hold point": _HOLD_POINT,
        "importance": Weigher(
            Relaxed.LESS_GRAVE, lambda below, above, _: _less_grave(below.importance, above.importance)
        ),
        "applies when": _EXISTS,
        "because": WORDS,
        "caution": WORDS,
        "source": WORDS,
    },
    MeasurandEntry: {
        "title": WORDS,
        "at": _fewer_places("at"),
        "positions": _fewer_places("positions"),
        "usual": _USUAL,
        "gauge classes": by_itself("gauge classes", Relaxed.OTHER_GAUGES, _by_other_gauges),
        "how": WORDS,
        "repeats": by_itself("repeats", Relaxed.FEWER_READINGS, _fewer),
        "wears below": by_itself("wears below", Relaxed.LESS_DOUBTED, _replaced),
        "wears above": by_itself("wears above", Relaxed.LESS_DOUBTED, _replaced),
        "may be negative": _NEGATIVE,
        "expands": by_itself("expands", Relaxed.OTHERWISE, _changed),
        "applies when": _EXISTS,
    },
    PartEntry: {
        "title": WORDS,
        "at": by_itself("at", Relaxed.WORN_MORE, _changed),
        "measurands": by_itself("measurands", Relaxed.WORN_MORE, _lost),
        "applies when": _EXISTS,
    },
    AxisEntry: {"names": ADDED, "kinds": ADDED, "lies": WORDS},
    FactEntry: {
        "kind": by_itself("kind", Relaxed.OTHERWISE, _changed),
        "title": WORDS,
        "at": _fewer_places("at"),
        "choices": by_itself("choices", Relaxed.OTHERWISE, _changed),
        "of": by_itself("of", Relaxed.OTHERWISE, _changed),
        "assumed": by_itself("assumed", Relaxed.ASSUMED_MORE, _narrower),
        "usual": _USUAL,
        "applies when": _EXISTS,
        "question": WORDS,
        "why": WORDS,
    },
    GaugeClassEntry: {
        "resolution": Weigher(Relaxed.SURER_GAUGE, _surer("resolution")),
        "mpe": Weigher(Relaxed.SURER_GAUGE, _surer("mpe")),
        "repeatability": Weigher(Relaxed.SURER_GAUGE, _surer("repeatability")),
        "by size": Weigher(Relaxed.SURER_GAUGE, _surer_by_size),
        "reads": by_itself("reads", Relaxed.OTHERWISE, _changed),
        "steps": by_itself("steps", Relaxed.OTHERWISE, _changed),
        "must not decide": by_itself("must not decide", Relaxed.OTHER_GAUGES, _lost),
        "slips": Weigher(Relaxed.LESS_DOUBTED, _fewer_slips),
        "days between checks": by_itself("days between checks", Relaxed.LESS_DOUBTED, _longer),
        "source": WORDS,
        "sources": WORDS,
    },
    SourcedSizeEntry: dict.fromkeys(("over", "to", "resolution", "mpe", "repeatability"), WITH_ITS_CLASS)
    | {"source": WORDS},
    FigureEntry: {
        "title": WORDS,
        "ways": Weigher(Relaxed.MORE_WAYS, lambda below, above, _: _lost(above.ways, below.ways)),
        "may be negative": _NEGATIVE,
        "applies when": _EXISTS,
    },
    SoldEntry: dict.fromkeys(("title", "sizes", "column", "source"), WORDS),
    TableEntry: {
        "title": WORDS,
        "rows": by_itself("rows", Relaxed.OTHERWISE, _changed),
        "source": WORDS,
    },
    OperationEntry: {"title": WORDS, "makes stale": by_itself("makes stale", Relaxed.STALE_LESS, _lost)},
    LessonEntry: dict.fromkeys(("title", "text", "rules", "source"), WORDS),
    ExerciseEntry: dict.fromkeys(("title", "lesson", "task", "given", "vary", "questions"), WORDS),
}
"""Every key that an amendment may have, by the section's model."""

HEAD: Mapping[str, Weigher | Elsewhere] = {
    **dict.fromkeys(("name", "version", "title", "licence", "unit", "caution", "builds on", "groups"), WORDS),
    **dict.fromkeys(("author", "changes"), WORDS),
    **dict.fromkeys(
        ("holds for", "figures hold by"), Elsewhere("they are of the pack's own figures, and ask for more")
    ),
    "examples assume": Elsewhere("no verdict on a sheet hangs on it"),
    "sets": Elsewhere("no two packs may imply two things, and what a fact switches stands under what it switches"),
    "gauges expand": by_itself("gauges expand", Relaxed.OTHERWISE, _replaced),
    "assumed temperature": by_itself("assumed temperature", Relaxed.OTHERWISE, _replaced),
    "wear when": by_itself("wear when", Relaxed.WORN_MORE, _narrower),
    "decision": by_itself("decision", Relaxed.LAXER_DECISION, laxer),
}
"""Every key of a pack's heading, which amends what the headings below say."""

TAUGHT = frozenset({"lessons", "exercises"})
"""Sections of which nothing hangs on a verdict."""
