"""What plugins offer, as frozen values; and what was taken of it all in the end."""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any, NamedTuple

from specrules.document import Fault
from specrules.formula import Function
from specrules.pack import GaugeClass
from specrules.quantity import Table

Record = Mapping[str, Any]
"""An inspection record as `schemas/inspection-record.schema.json` has it, frozen: mappings and tuples."""


class Failures:
    """What functions of plugins did wrong as they were used: filled while an inspection calls them."""

    def __init__(self) -> None:
        self._noted: dict[Fault, None] = {}

    def note(self, fault: Fault) -> None:
        """Keep a fault, each once."""
        self._noted[fault] = None

    def taken(self) -> tuple[Fault, ...]:
        """All that was noted since this was asked last."""
        noted, self._noted = tuple(self._noted), {}
        return noted


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


class Around(NamedTuple):
    """What stands around the texts of sheets, so that they are one file whatever their number."""

    before: str = ""
    between: str = ""
    after: str = ""


class Embedded(NamedTuple):
    """A picture as a page can have it: a data URI with its size in pixels, or why there is none."""

    uri: str = ""
    wide: int = 0
    high: int = 0
    why_not: str = ""


class Form(NamedTuple):
    """A form of output: its name for `--form`, how it is made, and of what.

    of records: `make(records)` gives one text for all sheets asked for.
    of record: `make(record, several)` gives the text of each sheet by itself, of a `specrules.Record`, as soon as it is
    judged; several: whether it is one of several.
    of report: `make(report, whole)` gives the lines of each sheet's screen, of a `specrules.Report`; `whole` finds all
    that a finding stands on. What was at fault is told beside it.

    `full` is what makes it of the same for `--full`, for a form of each sheet that has more to show. `around`: what
    stands before, between and after the texts of a form of record.

    `whole`: whether its records have what is worked out on demand (margins, budgets, inputs, remedies); a form that
    shows none of it is made in half the time without.

    `pictures`: a form of record is given the pictures too, `make(record, several, pictures)`: by the file that the
    record names each as an `Embedded`, scaled down.

    `binary`: what it makes of all records is bytes, which are written to a file and shown on no terminal.

    `mark` is what all that it makes begins with, the word specrules in it: a file that begins so may be replaced by a
    later run. Without one `--replace` is needed for that. Before the lines of reports the command writes it, and where
    `around.before` begins with it no text has to.
    """

    name: str
    make: Callable[..., Any]
    mark: str = ""
    of: str = "records"
    full: Callable[..., Any] | None = None
    around: Around = Around()
    binary: bool = False
    pictures: bool = False
    whole: bool = True


MADE_OF = ("report", "record", "records")
"""What a form may be made of."""


class Plugged(NamedTuple):
    """All that the program and its plugins offer together, with the faults of those that were set aside.

    What `forms` make is a fault where their plugin fails; `failures` is filled where a function does. `plugins` are
    those that stand, named as the faults name them; `owners` says whose each thing is, by (hook, name), where it is not
    the program's own.
    """

    plugins: tuple[str, ...]
    pack_folders: tuple[Path, ...]
    functions: Mapping[str, Function]
    units: Table
    gauge_classes: Mapping[str, GaugeClass]
    forms: Mapping[str, Form]
    owners: Mapping[tuple[str, str], str]
    faults: tuple[Fault, ...]
    failures: Failures
