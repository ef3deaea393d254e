"""A study's file to a study: its readings, and that every operator read every part equally often."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import islice

from specrules.document import MOST_FAULTS, Fault, Fields, Items, Node, Text, read
from specrules.study.study_model import HEADER, StudyFile
from specrules.study.study_parts import Study
from specrules.validation import checked, headed
from specrules.vocabulary import Code

MOST_LISTED = 8


def read_study(source: bytes | str, file: str) -> tuple[Study | None, tuple[Fault, ...]]:
    """A study's file. Never raises for any input; every fault is told in one run, and there is no study with any."""
    tree, faults = read(source, file, kind="file")
    if tree is None:
        return None, faults
    found = [*faults]
    model = None
    if (head := headed(tree, HEADER, "gauge study", "file")) is not None:
        found.append(head)
    else:
        model, wrong = checked(StudyFile, tree, "file")
        found += [*wrong, *islice(_uneven(tree.get(Text("readings"))), MOST_FAULTS)]
    if found or model is None:
        return None, tuple(sorted(dict.fromkeys(found)))[:MOST_FAULTS]
    return _study(model), ()


def _study(model: StudyFile) -> Study:
    parts = tuple(next(iter(model.readings.values())))
    cells = [[row[part] for part in parts] for row in model.readings.values()]
    return Study(
        gauge=str(model.gauge.name),
        gauge_class=str(model.gauge.gauge_class),
        unit=model.unit,
        on=model.on,
        operators=tuple(map(str, model.readings)),
        parts=tuple(map(str, parts)),
        readings=tuple(tuple(tuple(each.value for each in cell) for cell in row) for row in cells),
        step=min(each.step for row in cells for cell in row for each in cell),
    )


def _uneven(readings: Node | None) -> Iterator[Fault]:
    """Every operator, every part, equally often, and at least twice: otherwise what is missing, and where.

    Nothing is said of readings that are no lists by operator and part.
    """
    rows = readings if isinstance(readings, Fields) else {}
    grid = {who: row for who, row in rows.items() if isinstance(row, Fields)}
    cells = [(who, part, cell) for who, row in grid.items() for part, cell in row.items() if isinstance(cell, Items)]
    if not cells or len(grid) != len(rows) or len(cells) != sum(map(len, grid.values())):
        return
    parts = dict.fromkeys(part for _, part, _ in cells)
    for who, row in grid.items():
        if len(row) < len(parts):
            missing = _listed([str(part) for part in parts if part not in row])
            said = f"operator {who} has no readings of {missing}: every operator reads every part"
            yield Fault(who.place, "readings", Code.WRONG_COUNT, said, "", "file")
    counts = Counter(len(cell) for _, _, cell in cells)
    usual = max(counts, key=lambda count: (counts[count], count))
    if usual == 1:
        said = "a single reading of each part cannot show repeatability; read each part again"
        yield Fault(cells[0][2].place, "readings", Code.WRONG_COUNT, said, "", "file")
    for who, part, cell in cells:
        if len(cell) != usual:
            said = f"{len(cell)} reading{'s' * (len(cell) != 1)} here and {usual} elsewhere: as many everywhere"
            yield Fault(cell.place, f"{who} {part}", Code.WRONG_COUNT, said, "", "file")


def _listed(names: Sequence[str]) -> str:
    if len(names) > MOST_LISTED:
        return f"parts {', '.join(names[:MOST_LISTED])} and {len(names) - MOST_LISTED} more"
    return f"part {names[0]}" if len(names) == 1 else f"parts {', '.join(names[:-1])} and {names[-1]}"
