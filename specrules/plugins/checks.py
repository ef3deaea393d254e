"""What a hook returned, checked and copied: each item under the name it would be known by, or what is wrong."""

import os
import re
from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from pathlib import Path
from typing import Any, NamedTuple

from specrules.document import Place, Text
from specrules.formula import Function
from specrules.pack import GaugeClass
from specrules.pack.capability import SizedRange, read_capability
from specrules.pack.specification import Source
from specrules.plugins.offers import MADE_OF, Around, Form, Gauge
from specrules.quantity import Dimension, Refusal, Unit, find_unit
from specrules.quantity.units import normal
from specrules.vocabulary import SOURCE_KINDS

Checked = Iterator[tuple[tuple[str, ...], Any]]
"""(names, value) of each item; Nonsense where one is at fault."""


class Nonsense(Exception):
    """What a hook returned is not what it should. It continues "plugin NAME ..."."""


_NAME = re.compile(r"[a-z][a-z0-9_]*")
_WORDS = re.compile(r"[^\W\d_][^\n\t()\[\]]*")


def checked_folders(given: object, _plugin: str) -> Checked:
    """Folders that are there, by their paths."""
    for folder in _listed(given, (str, os.PathLike), "a path"):
        path = Path(folder)
        _want(path.is_absolute() and path.is_dir(), f"offers {str(path)!r}, which is no folder with its whole path")
        yield (str(path),), path


def checked_functions(given: object, _plugin: str) -> Checked:
    """Functions by name."""
    for each in _listed(given, Function, "a Function"):
        _want(isinstance(each.name, str) and bool(_NAME.fullmatch(each.name)), f"calls a function {each.name!r}")
        _want(callable(each.value) and callable(each.dimensions), f"gives {each.name} no value or no dimensions")
        slopes = isinstance(each.partials, tuple) and all(map(callable, each.partials))
        _want(slopes and len(each.partials) == each.arity, f"gives {each.name} not one partial for each argument")
        yield (each.name,), each


def checked_units(given: object, _plugin: str) -> Checked:
    """Units by symbol, each with all its names."""
    if not isinstance(given, Mapping):
        raise Nonsense(f"returns {type(given).__name__}, and a mapping of units to names is wanted")
    for unit, names in given.items():
        _want(isinstance(unit, Unit), f"offers {unit!r}, which is no Unit")
        _want(isinstance(unit.factor, Fraction) and unit.factor > 0, f"gives {unit.symbol} a factor that is no size")
        _want(isinstance(unit.dimension, Dimension), f"gives {unit.symbol} no dimension")
        every = (unit.symbol, *_listed(names, str, "a name"))
        _want(all(map(_WORDS.fullmatch, every)), f"names a unit {' or '.join(map(repr, every))}")
        for other in filter(None, (unit.in_inches, unit.in_millimetres)):
            known = find_unit(other, dimension=unit.dimension)
            said = f"has {other!r} for {unit.symbol} in the other system, which is no unit of its kind"
            _want(isinstance(known, Unit) and known.dimension == unit.dimension, said)
        yield tuple(dict.fromkeys(normal(name).lower() for name in every)), (unit, every[1:])


class _Figures(NamedTuple):
    """What a plugin writes of a gauge, as texts of a pack are read."""

    resolution: Text
    mpe: Text
    repeatability: Text
    reads: Text
    steps: tuple[Text, ...]
    by_size: tuple[SizedRange, ...] = ()


def checked_gauges(given: object, plugin: str) -> Checked:
    """Kinds of gauge by name, their amounts read."""
    for each in _listed(given, Gauge, "a Gauge"):
        texts = (each.name, each.resolution, each.mpe, each.repeatability, each.source_kind, each.note)
        _want(all(isinstance(text, str) for text in texts), f"writes {each.name!r} not all in texts")
        _want(bool(_WORDS.fullmatch(each.name)), f"calls a gauge {each.name!r}")
        _want(each.source_kind in SOURCE_KINDS, f"gives {each.name} the source {each.source_kind!r}, which is no kind")
        wrong: list[str] = []

        def refuse(text: Text, refusal: Refusal, which: str, wrong: list[str] = wrong) -> None:
            wrong.append(f'"{text}" {refusal.said}, as the {which}' + (f"; {refusal.write} ?" if refusal.write else ""))

        steps = tuple(Text(step) for step in _listed(each.steps, str, "a text"))
        _want(each.reads in ("", "goes"), f"says that {each.name} reads {each.reads!r}, which is not goes")
        _want(bool(each.reads) or not steps, f"gives {each.name} steps, and does not say that it reads what goes")
        figures = _Figures(Text(each.resolution), Text(each.mpe), Text(each.repeatability), Text(each.reads), steps)
        able = read_capability(figures, refuse)
        _want(not able.endless, f"lets {each.name} read what goes, with neither steps nor a resolution")
        _want(not wrong, f"offers the gauge {each.name}, where {'; '.join(wrong)}")
        limits = tuple(_listed(each.must_not_decide, str, "a text"))
        yield (
            (each.name,),
            GaugeClass(each.name, able, limits, Source(each.source_kind, each.note), Place(plugin, 0, 0)),
        )


def checked_forms(given: object, _plugin: str) -> Checked:
    """Forms by name."""
    for each in _listed(given, Form, "a Form"):
        _want(isinstance(each.name, str) and bool(_NAME.fullmatch(each.name)), f"calls a form {each.name!r}")
        _want(callable(each.make), f"gives the form {each.name} nothing to call")
        _want(each.full is None or callable(each.full), f"gives the form {each.name} nothing to call for --full")
        _want(each.full is None or each.of != "records", f"gives the form {each.name}, of all records, one for --full")
        _want(each.of in MADE_OF, f"makes the form {each.name} of {each.of!r}, which is none of {', '.join(MADE_OF)}")
        _want(isinstance(each.mark, str), f"gives the form {each.name} a mark that is no text")
        said = f'gives the form {each.name} a mark without the word "specrules", with which any file might begin'
        _want(not each.mark or "specrules" in each.mark, said)
        said = f"makes bytes in the form {each.name}, which needs to be of all records, and without a mark"
        _want(not each.binary or (each.of == "records" and not each.mark), said)
        said = f"wants pictures for the form {each.name}, which is not made of each record"
        _want(not each.pictures or each.of == "record", said)
        texts = isinstance(each.around, Around) and all(isinstance(text, str) for text in each.around)
        _want(texts, f"puts around the form {each.name} what is no Around of texts")
        said = f"puts texts around the form {each.name}, which is not made of each record"
        _want(each.of == "record" or each.around == Around(), said)
        said = f"puts before the form {each.name} a text without its mark"
        _want(not each.around.before or each.around.before.startswith(each.mark), said)
        yield (each.name,), each


CHECKS: Mapping[str, Callable[[object, str], Checked]] = {
    "pack_folders": checked_folders,
    "functions": checked_functions,
    "units": checked_units,
    "gauge_classes": checked_gauges,
    "forms": checked_forms,
}
"""Hook -> what reads its return value."""


def _want(true: bool, said: str) -> None:
    if not true:
        raise Nonsense(said)


def _listed(given: object, kind: type | tuple[type, ...], what: str) -> tuple[Any, ...]:
    if not isinstance(given, list | tuple):
        raise Nonsense(f"returns {type(given).__name__}, and a list is wanted")
    for item in given:
        _want(isinstance(item, kind), f"offers {repr(item)[:60]}, which is not {what}")
    return tuple(given)
