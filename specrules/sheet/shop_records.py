"""What a sheet records beside figures: the maker's own limits, work done, sign-offs, concessions."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping

from specrules.document import Fault, Text, shown
from specrules.pack import LimitLine, Specification
from specrules.quantity import Unit
from specrules.sheet.axes import AxisLabels
from specrules.sheet.bare_figures import bare_unit
from specrules.sheet.faults import fault, read_date, unknown
from specrules.sheet.label_origins import there_are
from specrules.sheet.misplaced import no_kind
from specrules.sheet.picture_names import names_of_pictures
from specrules.sheet.sheet_model import At, OwnLine, SheetFile
from specrules.sheet.sheet_parts import Concession, Signature, Work
from specrules.vocabulary import LIMIT_PARTS, Code

_BARE = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)")
_FIGURES = (*(part.replace(" ", "_") for part in LIMIT_PARTS), "shift")


def settle_work(model: SheetFile, spec: Specification, layout: AxisLabels, faults: list[Fault]) -> tuple[Work, ...]:
    """The work done; each operation one of the specification's."""
    done = []
    for entry in model.work_done:
        subject = f"work done {entry.operation}"
        if entry.operation not in spec.operations:
            faults.append(unknown(entry.operation, "operation", spec.operations, "work done", len(faults)))
        at = _at(entry.at, spec.axes, spec, layout, subject, faults)
        restated = _known(entry.restated, "fact", spec.facts, subject, faults)
        done.append(Work(str(entry.operation), read_date(entry.on, subject, faults), at, entry.place, restated))
    return tuple(done)


def settle_signed(
    model: SheetFile, spec: Specification, layout: AxisLabels, faults: list[Fault]
) -> Mapping[str, tuple[Signature, ...]]:
    """The sign-offs given, by name."""
    signed: dict[str, tuple[Signature, ...]] = {}
    for name, entries in model.signed.items():
        check = spec.sign_offs.get(name)
        if check is None:
            faults.append(unknown(name, "sign-off", spec.sign_offs, "signed", len(faults)))
            continue
        subject = f"signed {name}"
        signed[str(name)] = tuple(
            Signature(
                str(name),
                entry.answer != "no",
                str(entry.by),
                read_date(entry.on, subject, faults),
                _at(entry.at, _with_groups(check.at, spec), spec, layout, subject, faults),
                entry.place,
                _known(entry.after, "operation", spec.operations, subject, faults),
                names_of_pictures(entry.pictures, f"{subject} pictures", faults),
            )
            for entry in entries
        )
    return signed


def settle_concessions(
    model: SheetFile, spec: Specification, layout: AxisLabels, faults: list[Fault]
) -> tuple[Concession, ...]:
    """The concessions, each for a rule of the specification."""
    given = []
    for entry in model.concessions:
        subject = f"concessions {entry.rule}"
        chain = spec.rules.get(entry.rule)
        if chain is None:
            faults.append(unknown(entry.rule, "rule", spec.rules, "concessions", len(faults)))
            continue
        at = _at(entry.at, _with_groups(chain.governing[0].each, spec), spec, layout, subject, faults)
        day = read_date(entry.on, subject, faults)
        given.append(Concession(str(entry.rule), at, str(entry.reason), str(entry.by), day, entry.place))
    return tuple(given)


def settle_limits(
    model: SheetFile, spec: Specification, lengths_in: Unit | None, file: str, faults: list[Fault]
) -> Mapping[str, tuple[LimitLine, ...]]:
    """The part maker's own limits by rule, in order. An empty tuple: the maker sets none. A bare number is in the unit
    that bare readings of its kind are in."""
    if not model.limits:
        return {}
    from specrules.pack.compiling import Compiler  # most sheets have no limits of their own
    from specrules.pack.limit_lines import compile_lines

    compiler = Compiler(spec.scope, "sheet")
    limits: dict[str, tuple[LimitLine, ...]] = {}
    for name, written in model.limits.items():
        chain = spec.rules.get(name)
        if chain is None:
            faults.append(unknown(name, "rule", spec.rules, "limits", len(faults)))
            continue
        rule = chain.governing[0]
        bare = bare_unit(rule.unit, lengths_in)
        lines = [_with_units(_named(line, number), bare) for number, line in enumerate(written or (), 1)]
        limits[str(name)] = compile_lines(lines, rule.unit.dimension, rule.each, compiler, {file: file}, str(name))
    faults.extend(compiler.faults)
    return limits


def _named(line: OwnLine, number: int) -> OwnLine:
    """Lines of a sheet need no names: nothing amends them."""
    return line if line.name else line.model_copy(update={"name": Text(f"line {number}", line.place)})


def _with_units(line: OwnLine, bare: Unit | None) -> OwnLine:
    """A line whose bare numbers have their unit."""
    if bare is None or not bare.symbol:
        return line
    written = {key: getattr(line, key) for key in _FIGURES}
    bared = {key: Text(f"{text} {bare.symbol}", text.place) for key, text in written.items() if _BARE.fullmatch(text)}
    return line.model_copy(update=bared)


def _known(
    names: Collection[Text], what: str, choices: Collection[str], subject: str, faults: list[Fault]
) -> tuple[str, ...]:
    faults.extend(unknown(name, what, choices, subject, len(faults)) for name in names if name not in choices)
    return tuple(str(name) for name in names)


def _with_groups(axes: Collection[str], spec: Specification) -> tuple[str, ...]:
    """Axes that a thing lies on, and those whose labels are groups of them."""
    return (*axes, *(group for axis in axes for group in spec.scope.grouped_by(axis)))


def _at(
    written: At, axes: Collection[str], spec: Specification, layout: AxisLabels, subject: str, faults: list[Fault]
) -> Mapping[str, tuple[str, ...]]:
    at: dict[str, tuple[str, ...]] = {}
    for axis, labels in written.items():
        if axis not in axes:
            known = axis in spec.axes
            wrong = fault(axis.place, subject, Code.WRONG_AXIS, f"{shown(axis)} is an axis that this does not lie on")
            faults.append(wrong if known else unknown(axis, "axis", axes, subject, len(faults)))
            continue
        found: list[str] = []
        for label in labels:
            some = layout.picked(label, axis)
            if not some:
                faults.append(_no_label(label, axis, layout, subject))
            found.extend(one for one in some if one not in found)
        at[str(axis)] = tuple(found)
    return at


def _no_label(label: Text, axis: str, layout: AxisLabels, subject: str) -> Fault:
    if (of_kind := no_kind(label, axis, layout.kinds)) is not None:
        return fault(label.place, subject, *of_kind)
    said = f"{shown(label)} is no {axis}; {there_are((axis,), layout.labels, layout.told)}"
    write = layout.told[axis].written(label) if axis in layout.told else ""
    return fault(label.place, subject, Code.UNKNOWN_LABEL, said, write)
