"""A rule as each pack of its chain would have it, and what each would have said."""

from __future__ import annotations

from collections.abc import Mapping

from specrules.inspection.finding_parts import Beside
from specrules.inspection.findings import difference_in, limits_in
from specrules.inspection.judge import Judge, Judgement
from specrules.inspection.remedy import word_of
from specrules.pack import RuleChain
from specrules.quantity import Unit


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
