"""Names on the command line, held against the packs of a sheet."""

from __future__ import annotations

from collections.abc import Sequence

import click

from specrules.cli.status import Status
from specrules.cli.writing import put_faults
from specrules.document import Fault, Place
from specrules.pack import Specification
from specrules.sheet.faults import not_known
from specrules.vocabulary import Code


def unknown_names(spec: Specification, file: str, only: Sequence[str] = (), until: str = "") -> tuple[Fault, ...]:
    """A fault for each name behind --only and --until that the packs of this sheet do not know."""
    asked = [("--only", name, "measurand of these packs", [*spec.measurands]) for name in only]
    asked += [("--until", until, "hold point of these packs", [*spec.hold_points])] if until else []
    return tuple(
        Fault(Place(file, 0, 0), option, Code.UNKNOWN_NAME, *not_known(word, what, known))
        for option, word, what, known in asked
        if word not in known
    )


def unless_known(spec: Specification, file: str, only: Sequence[str], until: str) -> None:
    """End with the fault of each of these names that is unknown."""
    if faults := unknown_names(spec, file, only, until):
        put_faults(faults)
        raise click.exceptions.Exit(Status.FAULT)
