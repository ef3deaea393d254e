"""The stated facts of a sheet, each read by its kind."""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal
from itertools import count

from specrules.document import Fault, Fields, Items, Node, Text, shown
from specrules.formula import MOST_LABELS
from specrules.formula.axis_kinds import counts_of_kinds
from specrules.pack import Fact, Specification
from specrules.pack.said_facts import Described, which_of, words_in
from specrules.quantity import NUMBER, Exact, Refusal, Unit, nearest
from specrules.sheet.axes import AxisLabels, Facts, not_laid_out
from specrules.sheet.bare_figures import bare_unit
from specrules.sheet.corrections import read_figure
from specrules.sheet.faults import fault, listed, refused, unknown
from specrules.sheet.grid import NO_TEXT, Statement, is_open
from specrules.sheet.reading_shapes import statements
from specrules.sheet.sheet_parts import FactValue
from specrules.vocabulary import READING_KEYS, Code

LAYOUT_KINDS = ("count", "groups", "labels")
"""Kinds that lay out the axes, so that they are read before anything that lies on an axis."""


Groups = tuple[tuple[str, tuple[str, ...]], ...]

_WHOLE = re.compile("0|[1-9][0-9]{0,3}")
_YES_NO = {"true": "yes", "y": "yes", "on": "yes", "false": "no", "n": "no", "off": "no"}


def unknown_facts(stated: Fields, spec: Specification) -> Iterator[Fault]:
    """A fault for each name that is no fact."""
    strange = [name for name in stated if name not in spec.facts]
    for told, name in enumerate(strange):
        if name in spec.measurands:
            said = f"{shown(name)} is measured, not stated"
            yield fault(name.place, "facts", Code.WRONG_SECTION, said, f"it under readings: {name}")
        elif name in spec.figures or name in spec.rules:
            yield fault(name.place, "facts", Code.WRONG_SECTION, f"{shown(name)} is worked out, not stated")
        else:
            yield unknown(name, "fact", spec.facts, "facts", told)


def layout_facts(stated: Fields, spec: Specification) -> tuple[Facts, tuple[Fault, ...]]:
    """The counts, groups and labels of a build, stated or implied by its packs."""
    found: dict[str, tuple[FactValue, ...]] = {}
    faults: list[Fault] = []
    for fact in (fact for fact in spec.facts.values() if fact.kind in LAYOUT_KINDS):
        implied = spec.sets.get(fact.name) or fact.assumed
        node = stated.get(Text(fact.name), NO_TEXT)
        if not node and not (fact.kind == "labels" and isinstance(node, Items)):
            node = Text(implied, fact.place) if implied else NO_TEXT
        if node != "":
            value: int | str | Groups | None
            if fact.kind == "count":
                least = 0 if fact.name in counts_of_kinds(spec.axes.values()) else 1
                value = _count(node, fact, (least, _most(fact, spec)), faults)
            else:
                value = (_groups if fact.kind == "groups" else labels_said)(node, fact, faults)
            if value is not None:
                text = value if isinstance(value, str) else str(node) if isinstance(node, Text) else ""
                found[fact.name] = (FactValue(fact.name, (), value, None, text, node.place),)
    return found, tuple(faults)


def settle_facts(
    stated: Fields, spec: Specification, lengths_in: Unit | None, layout: AxisLabels, laid: Facts, said: Described
) -> tuple[Facts, tuple[Fault, ...]]:
    """Every stated fact; those of the layout are taken over from `laid`, what is `said` once for all is not read
    again."""
    found: dict[str, tuple[FactValue, ...]] = {}
    faults = list(unknown_facts(stated, spec))
    for name, node in stated.items():
        fact = spec.facts.get(name)
        if fact is None or node == "":
            continue
        unstated = [axis for axis in fact.at if axis in layout.unstated]
        values: tuple[FactValue, ...] = ()
        if fact.kind in LAYOUT_KINDS:
            values = laid.get(fact.name, ())
        elif not fact.at and isinstance(node, Text) and (known := said.words.get(name, said.numbers.get(name))):
            values = (FactValue(fact.name, (), known, None, node, node.place),)
        elif unstated and not isinstance(node, Text):
            faults.append(not_laid_out(name, spec.axes[unstated[0]]))
        else:
            values = _by_station(node, fact, lengths_in, layout, faults)
        if values:
            found[fact.name] = values
            faults.extend(_contradicted(found[fact.name], fact, spec, lengths_in))
    return found, tuple(faults)


def _by_station(
    node: Node, fact: Fact, lengths_in: Unit | None, layout: AxisLabels, faults: list[Fault]
) -> tuple[FactValue, ...]:
    grid = layout.grid(fact.name, fact.at)
    written, wrong = statements(node, grid, count())
    faults.extend(wrong)
    values: list[FactValue] = []
    for entry in written:
        value, U = _value(entry, fact, lengths_in, faults)
        if value is not None:
            text = entry.texts[0]
            by = str(entry.own.confirmed)
            values.extend(FactValue(fact.name, station, value, U, text, text.place, by) for station, _ in entry.spots)
    return tuple(values)


def _value(
    entry: Statement, fact: Fact, lengths_in: Unit | None, faults: list[Fault]
) -> tuple[Decimal | str | None, Decimal | None]:
    """The value of one written fact and its stated U; None where it cannot be read, or is left open."""
    text = entry.texts[0]
    own, earlier = entry.own, entry.earlier[:1]
    measured = [said.place for said in (own.gauge, own.taken, own.after, own.pictures, *earlier) if said]
    if measured:
        faults.append(fault(measured[0], entry.subject, Code.MISPLACED, "a fact is stated, and not measured"))
    elif entry.repeated:
        said = "a fact is stated once; repeats are for readings"
        faults.append(fault(text.place, entry.subject, Code.NOT_ONE_FIGURE, said))
    elif is_open(text) or fact.kind == "text":
        return str(text) or None, None
    elif fact.kind in ("choice", "yes/no"):
        choices = fact.choices or ("yes", "no")
        if text in choices:
            return str(text), None
        meant = _YES_NO.get(text.lower(), "") if fact.kind == "yes/no" else nearest(text, choices) or ""
        said = f"{shown(text)} is not among its choices, {listed(choices)}"
        faults.append(fault(text.place, entry.subject, Code.NOT_A_CHOICE, said, meant))
    else:
        unit = bare_unit(fact.unit, lengths_in) if fact.unit else None
        written = read_figure(text, unit, fact.unit.dimension if fact.unit else NUMBER)
        if isinstance(written, Exact):
            return written.value, written.U
        if isinstance(written, Refusal):
            faults.append(refused(text, written, entry.subject))
        else:
            said = f"{shown(text)} is a range, and a fact is one figure"
            faults.append(fault(text.place, entry.subject, Code.NOT_ONE_FIGURE, said))
    return None, None


def said_of(text: Text, fact: Fact, lengths_in: Unit | None) -> tuple[Decimal | str | None, Decimal | None]:
    """The value of a fact that is stated in one text, and its U; None where it cannot be read."""
    return _value(Statement((text,), False, (), 0, fact.name), fact, lengths_in, [])


def _most(fact: Fact, spec: Specification) -> int:
    """How many labels a count may make."""
    return min((axis.most for axis in spec.axes.values() if axis.count == fact.name), default=MOST_LABELS)


def _count(node: Node, fact: Fact, within: tuple[int, int], faults: list[Fault]) -> int | None:
    least, most = within
    if isinstance(node, Text) and is_open(node):
        return None
    if isinstance(node, Text) and _WHOLE.fullmatch(node) and least <= int(node) <= most:
        return int(node)
    what = shown(node) if isinstance(node, Text) else "this"
    faults.append(fault(node.place, fact.name, Code.NOT_WHOLE, f"{what} is no whole number from {least} to {most}"))
    return None


def labels_said(node: Node, fact: Fact, faults: list[Fault]) -> str | None:
    """Which labels there are, in their declared order, as `top, oil`, of a list or a text; None where nobody says."""
    if isinstance(node, Text) and is_open(node):
        return None
    words = node if isinstance(node, Items) else words_in(node) if isinstance(node, Text) else ()
    if not words or not all(isinstance(word, str) for word in words):
        said = "says which labels there are in a list"
        faults.append(fault(node.place, fact.name, Code.WRONG_SHAPE, said, f"[{', '.join(fact.choices)}], or fewer"))
        return None
    found, wrong = which_of(tuple(map(str, words)), fact.choices)
    faults.extend(fault(node.place, fact.name, *each) for each in wrong)
    return None if wrong else ", ".join(found)


def _groups(node: Node, fact: Fact, faults: list[Fault]) -> Groups | None:
    """A list of lists, labelled 1 to n, or a mapping of label to list."""
    if isinstance(node, Text) and is_open(node):
        return None
    members = list(node.values() if isinstance(node, Fields) else node if isinstance(node, Items) else [node])
    labels = [str(key) for key in node] if isinstance(node, Fields) else [str(n) for n in range(1, len(members) + 1)]
    groups = []
    for label, group in zip(labels, members, strict=True):
        inside = tuple(member for member in group if isinstance(member, Text)) if isinstance(group, Items) else ()
        if not all(inside) or len(inside) != len(group) or not inside:
            said = "groups are lists of labels"
            faults.append(fault(group.place, fact.name, Code.WRONG_SHAPE, said, "[[1, 5], [2, 6]]"))
            return None
        if label in READING_KEYS:
            said = f"{shown(label)} is no label, for in a reading it is a word of its own"
            faults.append(fault(node.place, fact.name, Code.NOT_A_NAME, said))
        groups.append((label, inside))
    return tuple(groups)


def _contradicted(
    values: tuple[FactValue, ...], fact: Fact, spec: Specification, lengths_in: Unit | None
) -> Iterator[Fault]:
    """A fault for each value that a pack of the specification sets otherwise."""
    implied = spec.sets.get(fact.name)
    if implied is None:
        return
    if fact.kind == "count":
        meant: object = int(implied)
    elif fact.kind == "labels":
        meant = ", ".join(which_of(words_in(implied), fact.choices)[0])
    elif fact.kind in LAYOUT_KINDS:
        return
    else:
        meant, _ = said_of(Text(implied), fact, lengths_in)
    pack = next((head.name for head in spec.packs if fact.name in head.sets), "")
    for value in values:
        if value.value != meant:
            said = f"{shown(value.text)} is stated, and pack {pack} is for {implied}"
            yield fault(value.place, fact.name, Code.CONTRADICTION, said, f"{implied}, or name another pack")
