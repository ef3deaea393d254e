"""A rule as each pack of its chain would have it: what each would have said, and which of them widened a limit."""

from __future__ import annotations

from decimal import Decimal
from itertools import pairwise

from specrules.formula import Station
from specrules.inspection.decide import BEYOND
from specrules.inspection.judge import Judge, Judgement
from specrules.inspection.parts import Beside, Limits, Loosened
from specrules.inspection.remedy import word_for
from specrules.pack import SIDES, RuleChain, Stack

SHEET = "this sheet"


class Widened:
    """Collects, station by station, the limits that an upper pack or the sheet widened."""

    def __init__(self, stack: Stack) -> None:
        self.stack = stack
        self._at: dict[tuple[str, str, str], list[Station]] = {}

    def look(self, rule: str, upper: str, station: Station, below: Limits, above: Limits) -> None:
        """Note each side on which `above` lets pass what `below` does not."""
        for side in SIDES:
            lower, higher = _side(below, side), _side(above, side)
            if lower is None:
                continue
            wider = higher is None or (higher < lower if side == "least" else higher > lower)
            if wider and (higher is not None or _has_any(above)):
                self._at.setdefault((rule, upper, side), []).append(station)

    def found(self) -> tuple[Loosened, ...]:
        """One entry for each rule, pack and side, with the pack's own reason."""
        return tuple(
            Loosened(rule, pack, side, tuple(stations), self._reason(rule, pack))
            for (rule, pack, side), stations in self._at.items()
        )

    def _reason(self, rule: str, pack: str) -> str:
        for version in self.stack.rules[rule].versions:
            for name, reason in version.reasons:
                if name == pack:
                    return reason
        return ""


def besides(
    judge: Judge, judged: Judgement, chain: RuleChain, station: Station, own_limits: bool, widened: Widened
) -> tuple[Beside, ...]:
    """What each pack of the chain says by itself, where that is not simply the verdict."""
    if len(chain.versions) == 1 and not own_limits:
        return ()
    alone = Judge(judge.bench, judge.simple, {})
    views = [
        (version.pack, judged if version is judged.rule and not own_limits else alone.judge(version, station))
        for version in chain.versions
    ]
    for (_, below), (upper, above) in pairwise(views):
        if upper not in {rule.pack for rule in chain.governing} or len(chain.governing) == 1:
            widened.look(chain.name, upper, station, below.limits, above.limits)
    if own_limits:
        widened.look(chain.name, SHEET, station, views[-1][1].limits, judged.limits)
    return tuple(
        Beside(
            pack,
            view.decision.verdict,
            word_for(view, view.decision.side) if view.decision.verdict in BEYOND else "",
            view.decision.beyond,
            view.limits,
        )
        for pack, view in views
        if view is not judged or len(chain.governing) > 1
    )


def _side(limits: Limits, side: str) -> Decimal | None:
    return limits.least if side == "least" else limits.most


def _has_any(limits: Limits) -> bool:
    return limits.least is not None or limits.most is not None
