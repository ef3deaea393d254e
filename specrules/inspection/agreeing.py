"""One check judged several times: as each choice of an unstated fact would have it, or each of several packs."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from specrules.evaluate.error_sources import CERTAIN
from specrules.inspection.judge import Judgement
from specrules.inspection.remedy import word_of
from specrules.vocabulary import BEYOND, INSIDE, Reason, Verdict, Why

_STRICTEST = (*reversed(BEYOND), *reversed(INSIDE), *Verdict)


def whichever(outcomes: Sequence[Judgement]) -> Judgement:
    """Of outcomes with one verdict the one that is least sure of it; where their values differ none is known."""
    least_sure = min(outcomes, key=_surety)
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
    if len({(judged.decision.verdict, word_of(judged)) for judged in governing}) == 1:
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
