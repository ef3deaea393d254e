"""Names on the command line, held against the packs of a sheet."""

from __future__ import annotations

from collections.abc import Sequence

import click

from specrules.cli.status import Status
from specrules.cli.writing import put_faults
from specrules.document import Fault, Place, shown
from specrules.pack import Specification
from specrules.quantity import nearest
from specrules.vocabulary import Code


def unless_known(spec: Specification, file: str, only: Sequence[str], until: str) -> None:
    """End with a fault for each name behind --only and --until that the packs of this sheet do not know."""
    asked = [("--only", name, "measurand", [*spec.measurands]) for name in only]
    asked += [("--until", until, "hold point", [*spec.hold_points])] if until else []
    faults = []
    for option, word, what, known in asked:
        if word not in known:
            said = f"{shown(word)} is no {what} of these packs"
            faults.append(Fault(Place(file, 0, 0), option, Code.UNKNOWN_NAME, said, nearest(word, known) or ""))
    if faults:
        put_faults(faults)
        raise click.exceptions.Exit(Status.FAULT)
