"""A rule as each pack of its chain would have it: what each would have said, and which of them widened a limit."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from decimal import Decimal

from specrules.formula import Station
from specrules.inspection.findings import difference_in, limits_in
from specrules.inspection.judge import Judge, Judgement
from specrules.inspection.remedy import word_of
from specrules.inspection.report import Beside, Limits, Loosened
from specrules.pack import RuleChain, Specification
from specrules.quantity import Unit
from specrules.vocabulary import SIDES

SHEET = "this sheet"


class Widened:
    """Collects, station by station, the limits that an upper pack or the sheet widened."""

    def __init__(self, spec: Specification) -> None:
        self.spec = spec
        self.below: dict[str, frozenset[str]] = {}
        for pack in spec.packs:
            grounds = pack.builds_on
            self.below[pack.name] = frozenset(grounds).union(*(self.below[ground] for ground in grounds))
        self._at: dict[tuple[str, str, str], list[Station]] = {}

    def beneath(self, pack: str, among: Collection[str]) -> list[str]:
        """Of some packs those that this one stands on, without any that one of them stands on itself."""
        grounds = [name for name in among if name in self.below[pack]]
        return [name for name in grounds if not any(name in self.below[other] for other in grounds)]

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
        for version in self.spec.rules[rule].versions:
            for name, reason in version.reasons:
                if name == pack:
                    return reason
        return ""


def views(judge: Judge, judged: Judgement, chain: RuleChain) -> Mapping[str, Judgement]:
    """The judgement of each pack of a chain by itself; none where that is simply the verdict."""
    own_limits = chain.name in judge.own
    nowhere = not judged.station.keys() >= set(judged.rule.each)  # nobody has said how many stations there are
    if nowhere or (len(chain.versions) == 1 and not own_limits):
        return {}
    alone = judge.without_own
    known = None if judged.world.of > 1 else judged
    return {
        version.pack: judged
        if version is judged.rule and not own_limits
        else alone.judge(version, judged.station, known)
        for version in chain.versions
    }


def widenings(judge: Judge, judged: Judgement, chain: RuleChain, widened: Widened) -> None:
    """Note where a pack of the chain, or the sheet, lets pass what the one below does not."""
    seen, station = views(judge, judged, chain), judged.station
    for upper, above in seen.items():
        for ground in widened.beneath(upper, seen):
            widened.look(chain.name, upper, station, seen[ground].limits, above.limits)
    if chain.name in judge.own:
        known = None if judged.world.of > 1 else judged
        below = judge.without_own.judge(judged.rule, station, known)
        widened.look(chain.name, SHEET, station, below.limits, judged.limits)


def besides(judge: Judge, judged: Judgement, chain: RuleChain, unit: Unit) -> tuple[Beside, ...]:
    """What each pack of the chain says by itself, where that is not simply the verdict."""
    return tuple(
        Beside(
            pack,
            view.decision.verdict,
            word_of(view),
            difference_in(unit, view.decision.beyond),
            limits_in(unit, view.limits),
        )
        for pack, view in views(judge, judged, chain).items()
        if view is not judged or len(chain.governing) > 1
    )


def _side(limits: Limits, side: str) -> Decimal | None:
    return limits.least if side == "least" else limits.most


def _has_any(limits: Limits) -> bool:
    return limits.least is not None or limits.most is not None
