"""The way in: the text of a formula to a checked and compiled one, or to every refusal that it earned."""

from __future__ import annotations

import math
import re
from contextlib import suppress

from specrules.formula.ask import choice, condition
from specrules.formula.check_kind import KindCheck
from specrules.formula.compile import Compiler
from specrules.formula.formula import Answer, Bench, Evaluate, Formula, Station
from specrules.formula.parse import parse
from specrules.formula.scope import Kind, Scope
from specrules.formula.sort import Sort, is_condition, with_unit
from specrules.formula.tokens import Refused
from specrules.formula.tree import Node, Number
from specrules.formula.value import NotEvaluable, Point, Value
from specrules.quantity import NUMBER, Dimension, Exact, Refusal, read_written

LARGEST = 300
"""So many digits before the point a value may have: floats hold its slopes up to 308."""
_TOO_LARGE = "it is too large a number"
_NUMBER_LIKE = re.compile(
    r"""[-+−–]?[\d.][\d.\s/,-]*
    (?:[A-Za-zµμ°"'”^/][A-Za-zµμ°"'”^\d\s/.-]*)?
    (?:\(\s*[\d.][^()]*\))?""",
    re.VERBOSE,
)
"""What may be wholly a written number, unit and second column and all; the parser of written numbers decides."""
_LONGEST_NUMBER = 60
_PLAIN = re.compile(r"-?[0-9.]+(?: [A-Za-z]+)?")
_MIXED = re.compile(r"\s*(\d+)\s?-(\d+/\d+)\s*")


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
        tree = _tree(text, dimension) if kind is Kind.QUANTITY else parse(text)
        check = KindCheck(scope, each, choices if kind is Kind.CHOICE else ())
        sort = check.sort(tree)
        if sort is not None:
            check.refusals.extend(_unfit(tree, sort, kind, dimension, choices))
        if check.refusals or sort is None:
            return tuple(check.refusals)
        evaluate, answer = _compiled(Compiler(scope, each), tree, kind)
    except Refused as refused:
        return (refused.refusal,)
    settled = sort.dimension if sort.dimension is not None else dimension or NUMBER
    return Formula(text, tree, each, kind, settled, frozenset(check.names), check.exact, evaluate, answer, scope)


def _tree(text: str, dimension: Dimension | None) -> Node:
    """The tree of a formula, or of a text that is wholly a written number. Raises Refused for one that is neither."""
    if _PLAIN.fullmatch(text):
        with suppress(Refused):  # a unit that may be two things is left to what is expected here
            return parse(text)
    if len(text) > _LONGEST_NUMBER or not _NUMBER_LIKE.fullmatch(text):
        return parse(text)
    mixed = _MIXED.fullmatch(text)
    if mixed:
        said = "can be read as a mixed fraction and as a difference"
        raise Refused(said, f"{mixed[1]} {mixed[2]} or {mixed[1]} - {mixed[2]}")
    written = read_written(text, unit=None, dimension=dimension)
    if isinstance(written, Exact) and written.U is None:
        return Number(written.value, written.unit.symbol, written.unit.dimension, 0)
    try:
        return parse(text)
    except Refused:
        if isinstance(written, Refusal) and (_known(written, text) or "," in text or "(" in text or not text.isascii()):
            raise Refused(*written) from None
        raise


def _known(refusal: Refusal, text: str) -> bool:
    """Whether it is known which quantity a text that is a number and a word was to be."""
    return _PLAIN.fullmatch(text) is not None and re.search(r" [a-z]", refusal.write, re.IGNORECASE) is not None


def _unfit(tree: Node, sort: Sort, kind: Kind, dimension: Dimension | None, choices: tuple[str, ...]) -> list[Refusal]:
    """What keeps a sound expression from being what was asked for."""
    if kind is Kind.CONDITION:
        wrong = not is_condition(sort)
        return [Refusal(f"is {sort.kind.value}, not a condition", "a comparison such as a == b")] if wrong else []
    if sort.kind is not kind:
        return [Refusal(f"is {sort.kind.value}, not {kind.value}")]
    if kind is Kind.CHOICE:
        words = sort.choices or ("any label",)
        strange = next((word for word in words if word not in choices), None)
        return [Refusal(f"may come to {strange}, and {', '.join(choices)} are wanted")] if strange else []
    if dimension is None or sort.dimension is None or sort.dimension == dimension:
        return []
    if sort.dimension == NUMBER:
        return [Refusal(f"is a bare number, and {dimension.words()} is needed", with_unit(dimension, tree))]
    return [Refusal(f"is {sort.dimension.words()}, and {dimension.words()} is needed")]


def _compiled(compiler: Compiler, tree: Node, kind: Kind) -> tuple[Evaluate, Answer]:
    if kind is Kind.CONDITION:
        return _no_value, condition(tree, compiler)
    if kind is Kind.CHOICE:
        return _no_value, choice(tree, compiler)
    compiled = compiler.quantity(tree)
    if compiled.axes:
        said = f"lies along {', '.join(compiled.axes)}, and one value is needed"
        raise Refused(said, "smallest(...) or largest(...) around it, or a label in brackets", tree.at)
    run = compiled.run

    def evaluate(bench: Bench, station: Station) -> Value | None:
        try:
            value = run(bench, station)
        except ArithmeticError as error:
            raise NotEvaluable(_TOO_LARGE) from error
        if value is not None and not (_bounded(value.low) and (value.low is value.high or _bounded(value.high))):
            raise NotEvaluable(_TOO_LARGE)
        return value

    return evaluate, _no_answer


def _bounded(end: Point | None) -> bool:
    """Whether floats can hold an end of a value, and its slopes are numbers."""
    return end is None or (end.value.adjusted() < LARGEST and all(map(math.isfinite, end.slopes.values())))


def _no_value(_bench: Bench, _station: Station) -> Value | None:
    return None


def _no_answer(_bench: Bench, _station: Station) -> str | None:
    return None
