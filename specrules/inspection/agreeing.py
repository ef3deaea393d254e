"""One check judged several times: as each choice of an unstated fact would have it, or each of several packs."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from specrules.evaluate.error_sources import CERTAIN
from specrules.inspection.judge import Judgement
from specrules.inspection.remedy import word_of
from specrules.vocabulary import BEYOND, INSIDE, Reason, Verdict, Why

_STRICTEST = (*reversed(BEYOND), *reversed(INSIDE), *Verdict)


def agree(outcomes: Sequence[Judgement]) -> bool:
    """Whether they come to one verdict. In spec and worn within limit do: either way the part may be used."""
    return len({_use(judged.decision.verdict, judged.decision.side) for judged in outcomes}) == 1


def _use(verdict: Verdict, side: str) -> tuple[Verdict, str]:
    return (Verdict.IN_SPEC, "") if verdict is Verdict.WORN else (verdict, side)


def whichever(outcomes: Sequence[Judgement]) -> Judgement:
    """Of outcomes that agree the one that is least sure, a worn one before others; where their values differ none is
    known."""
    worn = [judged for judged in outcomes if judged.decision.verdict is Verdict.WORN]
    least_sure = min(worn or outcomes, key=_surety)
    values = {outcome.value.low.value for outcome in outcomes if outcome.value is not None and outcome.value.low}
    return least_sure if len(values) < 2 else least_sure._replace(value=None, uncertainty=CERTAIN)


def _surety(judged: Judgement) -> Decimal:
    """How far beyond a limit at the least, or how far inside all of them."""
    if judged.decision.beyond is not None:
        return judged.decision.beyond
    return min((margin.low for margin in judged.margins if margin.low is not None), default=Decimal(0))


def of_siblings(governing: Sequence[Judgement]) -> tuple[Judgement, Reason | None]:
    """Of packs that have an equal say, the strictest verdict; and, where they differ, what each says."""
    if len(governing) == 1:
        return governing[0], None
    strictest = min(governing, key=_strictness)
    if len({_use(judged.decision.verdict, word_of(judged)) for judged in governing}) == 1:
        return strictest, None
    packs = tuple(judged.rule.pack for judged in governing)
    return strictest, Reason(Why.PACKS_DISAGREE, packs, tuple(map(_said, governing)))


def _strictness(judged: Judgement) -> tuple[int, Decimal]:
    """The less good it says it is, the lower: what is decided comes before what is not."""
    room = _surety(judged)
    return _STRICTEST.index(judged.decision.verdict), -room if judged.decision.verdict in BEYOND else room


def _said(judged: Judgement) -> str:
    word = word_of(judged)
    return f"{judged.decision.verdict}{', ' if word else ''}{word}"
