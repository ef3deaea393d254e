"""The way in: the text of a formula to a checked and compiled one, or to every refusal that it earned."""

from __future__ import annotations

import re
from contextlib import suppress
from dataclasses import replace
from decimal import Decimal

from specrules.formula.check_advice import picks_of_kinds
from specrules.formula.check_kind import KindCheck
from specrules.formula.formula import Formula
from specrules.formula.lowering import Lowering
from specrules.formula.operators import Conditional, Constant, Operator, hanging
from specrules.formula.parser import parse
from specrules.formula.scope import Kind, Scope
from specrules.formula.sort import Sort, is_condition, with_unit
from specrules.formula.syntax import Node, Number
from specrules.formula.tokenizer import Refused
from specrules.quantity import NUMBER, Dimension, Exact, Refusal, find_unit, read_written
from specrules.vocabulary import Code

_NUMBER_LIKE = re.compile(
    r"""[-+−–]?[\d.][\d.\s/,-]*
    (?:[A-Za-zµμ°"'”^/][A-Za-zµμ°"'”^\d\s/.-]*)?
    (?:\(\s*[\d.][^()]*\))?""",
    re.VERBOSE,
)
"""What may be wholly a written number, unit and second column and all; the parser of written numbers decides."""
_LONGEST_NUMBER = 60
YES_OR_NO = (Constant(Decimal(1)), Constant(Decimal(0)), ())
"""What a condition comes to as a quantity, and its axes."""
_NUMBER_NAME = re.compile(r"(?<![\w.])([0-9.]+) ?([A-Za-z_]\w*)", re.ASCII)
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
    measured: bool = False,
) -> Formula | tuple[Refusal, ...]:
    """Read a formula for stations of `each`.

    kind: QUANTITY (of `dimension`, None for any), CONDITION (whose labels, where `measured`, may be looked up by a
    measured value), or CHOICE (of `choices`). The refusals carry offsets into
    the text; every name, dimension and label at fault is in one answer, a syntax fault alone.
    """
    try:
        tree = _syntax(text, kind, dimension)
        check = KindCheck(scope, each, choices if kind is Kind.CHOICE else (), measured=measured)
        sort = check.sort(tree)
        if sort is not None:
            check.refusals.extend(_unfit(tree, sort, kind, dimension, choices))
        if check.refusals or sort is None:
            return tuple(check.refusals)
        operators = _lowered(Lowering(scope, each), tree, kind)
    except Refused as refused:
        return (_without_sign(text, scope) or refused.refusal,)
    settled = sort.dimension if sort.dimension is not None else dimension or NUMBER
    return Formula(text, each, kind, settled, frozenset(check.names), check.exact, hanging(operators), operators)


def _without_sign(text: str, scope: Scope) -> Refusal | None:
    """What is wrong with a text that cannot be read, where a name stands behind a number as a unit would."""
    for found in _NUMBER_NAME.finditer(text):
        number, name = found.groups()
        if name in scope.names and isinstance(find_unit(name), Refusal):
            said = f"has {name} behind a number and no sign between"
            return Refusal(Code.FORMULA_SYNTAX, said, f"{number} * {name}", found.start(2))
    return None


def read_yes_no(text: str, scope: Scope, each: tuple[str, ...] = ()) -> Formula | tuple[Refusal, ...]:
    """Read a condition as a quantity: 1 where it holds, 0 where it does not, from 0 to 1 where that is not known."""
    found = read_formula(text, scope, each=each, kind=Kind.CONDITION, measured=True)
    if not isinstance(found, Formula):
        return found
    return replace(found, kind=Kind.QUANTITY, dimension=NUMBER, operators=Conditional(found.operators, *YES_OR_NO))  # type: ignore[arg-type]  # a condition


def syntax_of(formula: Formula) -> Node:
    """The syntax tree of a formula once more, for whoever wants to see how it was written."""
    return _syntax(formula.text, formula.kind, formula.dimension)


def _syntax(text: str, kind: Kind, dimension: Dimension | None) -> Node:
    """The tree of a formula, or of a text that is wholly a written number. Raises Refused for neither."""
    return _quantity(text, dimension) if kind is Kind.QUANTITY else parse(text)


def _quantity(text: str, dimension: Dimension | None) -> Node:
    if _PLAIN.fullmatch(text):
        with suppress(Refused):  # a unit that may be two things is left to what is expected here
            return parse(text)
    if len(text) > _LONGEST_NUMBER or not _NUMBER_LIKE.fullmatch(text):
        return parse(text)
    mixed = _MIXED.fullmatch(text)
    if mixed:
        said = "can be read as a mixed fraction and as a difference"
        raise Refused(Code.AMBIGUOUS, said, f"{mixed[1]} {mixed[2]} or {mixed[1]} - {mixed[2]}")
    written = read_written(text, unit=None, dimension=dimension)
    if isinstance(written, Exact) and written.U is None:
        return Number(written.value, written.unit.symbol, written.unit.dimension, 0)
    try:
        return parse(text)
    except Refused:
        if isinstance(written, Refusal) and (_known(written, text) or "," in text or "(" in text or not text.isascii()):
            raise Refused(written.code, written.said, written.write, written.at) from None
        raise


def _known(refusal: Refusal, text: str) -> bool:
    """Whether it is known which quantity a text that is a number and a word was to be."""
    return _PLAIN.fullmatch(text) is not None and re.search(r" [a-z]", refusal.write, re.IGNORECASE) is not None


def _unfit(tree: Node, sort: Sort, kind: Kind, dimension: Dimension | None, choices: tuple[str, ...]) -> list[Refusal]:
    """What keeps a sound expression from being what was asked for."""
    if kind is Kind.CONDITION:
        wrong = not is_condition(sort)
        said = f"is {sort.kind.value}, not a condition"
        return [Refusal(Code.WRONG_KIND, said, "a comparison such as a == b")] if wrong else []
    if sort.kind is not kind:
        return [Refusal(Code.WRONG_KIND, f"is {sort.kind.value}, not {kind.value}")]
    if kind is Kind.CHOICE:
        words = sort.choices or ("any label",)
        strange = next((word for word in words if word not in choices), None)
        said = f"may come to {strange}, and {', '.join(choices)} are wanted"
        return [Refusal(Code.NOT_A_CHOICE, said)] if strange else []
    if dimension is None or sort.dimension is None or sort.dimension == dimension:
        return []
    if sort.dimension == NUMBER:
        said = f"is a bare number, and {dimension.words()} is needed"
        return [Refusal(Code.UNIT_MISSING, said, with_unit(dimension, tree))]
    return [Refusal(Code.WRONG_DIMENSION, f"is {sort.dimension.words()}, and {dimension.words()} is needed")]


def _lowered(lowering: Lowering, tree: Node, kind: Kind) -> Operator:
    if kind is Kind.CONDITION:
        return lowering.condition(tree)
    if kind is Kind.CHOICE:
        return lowering.label(tree)
    quantity = lowering.quantity(tree)
    if quantity.axes:
        if several := picks_of_kinds(tree, lowering.scope):
            raise Refused(Code.NOT_ONE_VALUE, *several)
        said = f"lies along {', '.join(quantity.axes)}, and one value is needed"
        raise Refused(
            Code.NOT_ONE_VALUE, said, "smallest(...) or largest(...) around it, or a label in brackets", tree.at
        )
    return quantity
