"""The way in: the text of a formula to a checked and compiled one, or to every refusal that it earned."""

from __future__ import annotations

import re
from decimal import Overflow

from specrules.formula.check_kind import KindCheck, Sort, is_condition
from specrules.formula.compile import Compiler
from specrules.formula.formula import Answer, Bench, Evaluate, Formula, Station
from specrules.formula.parse import parse
from specrules.formula.scope import Kind, Scope
from specrules.formula.tokens import Refused
from specrules.formula.tree import Node, Number
from specrules.formula.value import NotEvaluable, Value
from specrules.quantity import Dimension, Exact, Refusal, read_written

_NUMBER_LIKE = re.compile(r"[-+−–]?[\d.][\d.\s/,-]*(?:[A-Za-zµμ°\"'”^/][A-Za-zµμ°\"'”^\d\s/.-]*)?(?:\([^()]*\))?$")
"""What may be wholly a written number, unit and second column and all; the parser of written numbers decides."""


def read_formula(
    text: str,
    scope: Scope,
    *,
    each: tuple[str, ...] = (),
    kind: Kind = Kind.QUANTITY,
    dimension: Dimension | None = None,
    choices: tuple[str, ...] = (),
) -> Formula | tuple[Refusal, ...]:
    """Read a formula for stations of `each`.

    kind: QUANTITY (of `dimension`, None for any), CONDITION, or CHOICE (of `choices`). The refusals carry offsets into
    the text; every name, dimension and label at fault is in one answer, a syntax fault alone.
    """
    try:
        tree = _tree(text) if kind is Kind.QUANTITY else parse(text)
        check = KindCheck(scope, each, choices if kind is Kind.CHOICE else ())
        sort = check.sort(tree)
        if sort is not None:
            check.refusals.extend(_unfit(sort, kind, dimension))
        if check.refusals or sort is None:
            return tuple(check.refusals)
        compiler = Compiler(scope, each)
        evaluate, answer = _compiled(compiler, tree, kind)
    except Refused as refused:
        return (refused.refusal,)
    found = NUMBER_OF_ZERO if dimension is None else dimension
    settled = sort.dimension if sort.dimension is not None else found
    return Formula(text, tree, each, kind, settled, frozenset(check.names), check.exact, evaluate, answer, scope)


NUMBER_OF_ZERO = Dimension()
"""A written 0 of which nothing more is asked is a number."""


def _tree(text: str) -> Node:
    """The tree of a text that is wholly a written number, or of a formula. Raises Refused for one that is neither."""
    if not _NUMBER_LIKE.match(text):
        return parse(text)
    written = read_written(text, unit=None, dimension=None)
    if isinstance(written, Exact) and written.U is None:
        plain = written.unit.dimension == Dimension()
        return Number(written.value, "" if plain else written.unit.symbol, 0)
    try:
        return parse(text)
    except Refused:
        if isinstance(written, Refusal) and ("," in text or not text.isascii()):
            raise Refused(written.said, written.write, written.at) from None
        raise


def _unfit(sort: Sort, kind: Kind, dimension: Dimension | None) -> list[Refusal]:
    """What keeps a sound expression from being what was asked for."""
    if kind is Kind.CONDITION:
        return (
            []
            if is_condition(sort)
            else [Refusal(f"is {sort.kind.value}, not a condition", "a comparison such as a == b")]
        )
    if sort.kind is not kind:
        return [Refusal(f"is {sort.kind.value}, not {kind.value}", "")]
    if dimension is None or sort.dimension is None or sort.dimension == dimension:
        return []
    if sort.dimension == Dimension():
        return [Refusal(f"is a bare number, and {dimension.words()} is needed", "its unit")]
    return [Refusal(f"is {sort.dimension.words()}, and {dimension.words()} is needed", "")]


def _compiled(compiler: Compiler, tree: Node, kind: Kind) -> tuple[Evaluate, Answer]:
    if kind is Kind.CONDITION:
        return _no_value, compiler.condition(tree)
    if kind is Kind.CHOICE:
        return _no_value, compiler.choice(tree)
    compiled = compiler.quantity(tree)
    if compiled.axes:
        reducer = f"smallest(..., {compiled.axes[0]})"
        raise Refused(f"lies along {', '.join(compiled.axes)}, and one value is needed", reducer, tree.at)
    run = compiled.run

    def evaluate(bench: Bench, station: Station) -> Value | None:
        try:
            return run(bench, station)
        except (Overflow, OverflowError) as error:
            raise NotEvaluable("it is too large a number") from error

    return evaluate, _no_answer


def _no_value(_bench: Bench, _station: Station) -> Value | None:
    return None


def _no_answer(_bench: Bench, _station: Station) -> str | None:
    return None
