"""What plugins offer, as frozen values; and what was taken of it all in the end."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any, NamedTuple

from specrules.document import Fault
from specrules.formula import Function
from specrules.pack import GaugeClass
from specrules.quantity import Table

Record = Mapping[str, Any]
"""An inspection record as `schemas/inspection-record.schema.json` has it, frozen: mappings and tuples."""

Write = Callable[[Sequence[Record]], str]


class Gauge(NamedTuple):
    """A kind of gauge, each amount written as in a pack: `0.0001 in`, `2 percent`, `0.0001 in and 2 percent`.

    `source_kind` is one of the kinds of source of a pack; `note` says what it rests on. `reads` is "goes" where
    a figure is what went, and the size lies between it and the next of `steps`: `0.0015..0.025 in by 0.001 in`, or
    blade by blade.
    """

    name: str
    resolution: str
    mpe: str
    repeatability: str = ""
    must_not_decide: tuple[str, ...] = ()
    source_kind: str = "from memory"
    note: str = ""
    reads: str = ""
    steps: tuple[str, ...] = ()


class Form(NamedTuple):
    """A form of output: its name for `--form`, and how it turns the records of the sheets asked for into text.

    `mark` is what all its texts begin with, the word specrules in it: a file that begins so may be replaced by a later
    run. Without one `--replace` is needed for that.
    """

    name: str
    text: Write
    mark: str = ""


class GuardedForm(NamedTuple):
    """A form as it is used: of which anything but a text with its mark comes as a fault."""

    text: Callable[[Sequence[Record]], str | Fault]
    mark: str


class Plugged(NamedTuple):
    """All that the program and its plugins offer together, with the faults of those that were set aside.

    `forms` give a fault where their plugin fails. `plugins` are those that stand, named as the faults name them;
    `owners` says whose each thing is, by (hook, name), where it is not the program's own.
    """

    plugins: tuple[str, ...]
    pack_folders: tuple[Path, ...]
    functions: Mapping[str, Function]
    units: Table
    gauge_classes: Mapping[str, GaugeClass]
    forms: Mapping[str, GuardedForm]
    owners: Mapping[tuple[str, str], str]
    faults: tuple[Fault, ...]
