"""What packs have to say of the validity of their figures, and do not; and what they say that cannot be."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence, Set
from decimal import Decimal

from specrules.evaluate import NotEvaluable
from specrules.evaluate.evaluator import holds
from specrules.evaluate.speaking import holds_there
from specrules.formula import Formula
from specrules.formula.formula_reading import syntax_of
from specrules.formula.operators import Lookup, all_operators
from specrules.formula.syntax import Choose, Node, Number
from specrules.pack import HoldsFor, LimitLine, Rule, Specification
from specrules.proving.names import below, keys_of, text_of
from specrules.proving.proof_parts import ProofRemark
from specrules.proving.sizes import Setting, Sizes, Trial
from specrules.proving.trial_settings import trials
from specrules.quantity import LENGTH, MASS, VOLUME
from specrules.vocabulary import LIMIT_PARTS

SIZED = (LENGTH, VOLUME, MASS)
"""A figure of these is of parts of some size."""

MOVED = tuple(part for part in (*LIMIT_PARTS, "shift") if part != "aim")
"""What judges, or moves what judges."""


def holding_slips(own: Sequence[Rule], spec: Specification, files: Set[str]) -> Iterator[ProofRemark]:
    """Lines of these files that do not say what they have to, or that count only where they do not hold."""
    for rule in own:
        for line in rule.lines:
            yield from _unsaid(rule, line, spec, files)
            if line.place.file in files and not _ever_holds(rule, line, spec):
                said = f"the line {line.name} counts only where it does not hold, so there it leaves no figure"
                yield ProofRemark(line.place, rule.name, said, "holds for what its when asks for", "question")


def with_edges(rule: Rule, spec: Specification, sizes: Sizes) -> Sizes:
    """The sizes to try, with the edges of what a rule's figures hold for: of a fact, or of a figure that is as large as
    the one thing that is measured for it."""
    found = {name: set(some) for name, some in sizes.items()}
    for key in keys_of(rule):
        for edge in (key.low, key.high) if key.low is not None and key.high is not None else ():
            if (name := measured_as(key.name, edge, spec)) in found:
                found[name].add(edge)
    return {name: tuple(sorted(some)) for name, some in found.items()}


def measured_as(name: str, size: Decimal, spec: Specification) -> str:
    """What has to be of a size so that a figure is; "" where that is not one thing of the same size."""
    figure = spec.figures.get(name)
    if figure is None:
        return name
    read = [each for each in figure.ways[0].formula.names if each in spec.measurands]
    if len(read) != 1:
        return ""
    try:
        labels = tuple("1" for _ in figure.each)
        station = dict(zip(figure.each, labels, strict=True))
        value = Trial(spec, {read[0]: size}, Setting({}, station, frozenset())).look(name, labels)
    except (NotEvaluable, ArithmeticError):
        return ""
    same = value is not None and value.exact and value.low is not None and value.low.value == size
    return read[0] if same else ""


def _unsaid(rule: Rule, line: LimitLine, spec: Specification, files: Set[str]) -> Iterator[ProofRemark]:
    """The facts, and the size, that the figures of one line have to speak about and do not."""
    if not spec.figures_hold_by:
        return
    formulas: Mapping[str, Formula | None] = {**line.sets, "shift": line.shift}
    mine = {part: each for part in MOVED if (each := formulas.get(part)) and text_of(each).place.file in files}
    lacking: dict[str, None] = {}
    unsized, parts = False, []
    for part, formula in mine.items():
        numbers = list(_numbers(syntax_of(formula)))
        looked_up = any(isinstance(each, Lookup) for each in all_operators(formula.operators))
        if not numbers and not looked_up:
            continue
        keys = line.holds[part].keys if part in line.holds else ()
        said = {key.name for key in keys}
        missing = [fact for fact in spec.figures_hold_by if fact not in said]
        sized = any(number.dimension in SIZED for number in numbers) and not any(_is_size(key, spec) for key in keys)
        if missing or sized:
            parts.append(part)
        lacking.update(dict.fromkeys(missing))
        unsized = unsized or sized
    if not parts:
        return
    about = [*lacking, *(("a size",) if unsized else ())]
    told = [f"{fact}: {', '.join(spec.facts[fact].choices)} or any" for fact in lacking]
    told += ["a size: a range such as 20..100 mm, or any"] if unsized else []
    said_of = f"the {' and '.join(parts)} of the line {line.name} {'has' if len(parts) == 1 else 'have'} a number"
    yield ProofRemark(
        line.place,
        rule.name,
        f"{said_of}, and nothing says by {' and '.join(about)} for what it holds",
        f"holds for: and {'; '.join(told)}",
        "validity",
    )


def _numbers(node: Node) -> Iterator[Number]:
    """The numbers other than 0 that a quantity is made of, and not those that its conditions compare with."""
    if isinstance(node, Number):
        if node.value:
            yield node
        return
    for each in below(node):
        if not (isinstance(node, Choose) and each is node.condition):
            yield from _numbers(each)


def _is_size(key: HoldsFor, spec: Specification) -> bool:
    fact = spec.facts.get(key.name)
    return key.name in spec.figures or (fact is not None and fact.kind == "quantity")


def _ever_holds(rule: Rule, line: LimitLine, spec: Specification) -> bool:
    """Whether there is a setting of facts and labels where the line counts and what it sets may hold."""
    keys = [key for validity in line.holds.values() for key in validity.keys if key.labels]
    if line.when is None or not keys:
        return True
    asked = [line.when, *(key.asked for key in keys if key.asked is not None)]
    counting = [each for each in trials(rule, asked, spec) if holds(line.when, each, each.setting.station) is not False]
    return not counting or any(_may_hold(keys, each) for each in counting)


def _may_hold(keys: Iterable[HoldsFor], trial: Trial) -> bool:
    return not any(holds_there(key, trial, trial.setting.station) is False for key in keys)
