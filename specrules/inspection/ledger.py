"""The ledger of an inspection: by what a pack asks less here than the packs below it, and the sheet than its packs.

What packs write about everything but limits and conditions stands in the specification. Those are held against each
other here, at each station, as the judge reads them.

What a pack asks of packs beside it is no entry here: it is told where they disagree.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from decimal import Decimal
from typing import NamedTuple

from specrules.document import Place, Text
from specrules.document.text import NOWHERE
from specrules.formula import Station
from specrules.inspection.chain_views import views
from specrules.inspection.findings import value_in
from specrules.inspection.judge import Judge, Judgement
from specrules.pack import ASKED, SHEET, LimitLine, Relaxation, Rule, RuleChain, Specification
from specrules.pack.capability import Characteristics
from specrules.pack.strictness import laxer, surer
from specrules.quantity import is_zero
from specrules.sheet import Sheet
from specrules.vocabulary import SIDES, WORN, Relaxed, Verdict, Why

Pair = tuple[Decimal | None, Decimal | None]
NOTHING: Pair = (None, None)


class Lighter(NamedTuple):
    """One way in which a judgement asks less than another: by what code, the side, and the limits (was, now)."""

    code: Relaxed
    side: str = ""
    limits: Pair = NOTHING


def lighter(below: Judgement, above: Judgement) -> Iterator[Lighter]:
    """By what `above` asks less than `below`, at their station; nothing where it is not known."""
    if below.decision.verdict is Verdict.NOT_APPLICABLE:
        return
    if above.decision.verdict is Verdict.NOT_APPLICABLE:
        yield Lighter(Relaxed.SWITCHED_OFF)
    elif any(each.code is Why.ASK_THE_MAKER for each in below.lacks):
        if not above.lacks:
            yield Lighter(Relaxed.MAKERS_LIMITS)
    elif not above.lacks:
        for side in SIDES:
            pair = (below.limits.deciding(side), above.limits.deciding(side))
            unknown = pair[1] is None and _stands(above, side)
            if wider(side, *pair) and not unknown:
                yield Lighter(Relaxed.LIMIT_WIDENED, side, pair)


def wider(side: str, was: Decimal | None, now: Decimal | None) -> bool:
    """Whether a limit lets pass what it did not."""
    if was is None or now is None:
        return was is not None
    return (now < was if side == "least" else now > was) and not is_zero(now - was)


def _stands(judged: Judgement, side: str) -> bool:
    return judged.resolved.stands(WORN[side] if side in judged.limits.worn else side)


class Ledger:
    """Collects, station by station, by what each pack of a chain, and the sheet, asks less than what is below it."""

    def __init__(self, sheet: Sheet, spec: Specification) -> None:
        self.sheet, self.spec = sheet, spec
        self.below: dict[str, frozenset[str]] = {}
        for pack in spec.packs:
            grounds = pack.builds_on
            self.below[pack.name] = frozenset(grounds).union(*(self.below[ground] for ground in grounds))
        self._at: dict[tuple[str, str, str, Relaxed, str], list[tuple[Station, Pair]]] = {}

    def beneath(self, pack: str, among: Collection[str]) -> list[str]:
        """Of some packs those that this one stands on, without any that one of them stands on itself."""
        grounds = [name for name in among if name in self.below[pack]]
        return [name for name in grounds if not any(name in self.below[other] for other in grounds)]

    def take_over(self, before: Ledger, rule: str) -> None:
        """What was noted of one rule in an earlier inspection of the same sheet."""
        self._at.update({key: noted for key, noted in before._at.items() if key[0] == rule})

    def look(self, judge: Judge, judged: Judgement, chain: RuleChain) -> None:
        """Note all that is asked less at the station of a judgement."""
        seen = views(judge, judged, chain)
        for upper, above in seen.items():
            for ground in self.beneath(upper, seen):
                self._note(chain.name, upper, ground, seen[ground], above)
        if chain.name in judge.own:
            pack = judged.rule.pack
            self._note(chain.name, SHEET, pack, seen[pack], judged)

    def _note(self, rule: str, upper: str, ground: str, below: Judgement, above: Judgement) -> None:
        for each in lighter(below, above):
            if upper == SHEET and each.code is Relaxed.MAKERS_LIMITS:
                continue  # the maker's own limits are what a sheet is asked for
            at = self._at.setdefault((rule, upper, ground, each.code, each.side), [])
            at.append((above.station, each.limits))

    def entries(self, decision_asked: str) -> tuple[Relaxation, ...]:
        """All of it, what the packs write first. `decision_asked`: the decision rule of the command line, or ""."""
        return (*self.spec.ledger, *self._stationed(), *self._decision(decision_asked), *self._gauges(), *self._scope())

    def _stationed(self) -> Iterator[Relaxation]:
        for (name, upper, ground, code, side), found in self._at.items():
            chain = self.spec.rules[name]
            versions = {version.pack: version for version in chain.versions}
            rule = versions.get(upper, chain.governing[-1])
            unit = rule.unit
            own = self.sheet.limits.get(name, ())
            yield Relaxation(
                code=code,
                section="rules",
                name=name,
                title=rule.title,
                part=side or _part(versions.get(ground), rule, upper),
                was="" if side else _said(versions.get(ground), rule, upper),
                now="" if side else _said(rule, versions.get(ground), upper),
                pack=upper,
                below=ground,
                reason=dict(rule.reasons).get(upper, ""),
                place=_place(own, side, SHEET, NOWHERE)
                if upper == SHEET
                else _place(rule.lines, side, upper, rule.place),
                stations=tuple(station for station, _ in found),
                limits=tuple((value_in(unit, was), value_in(unit, now)) for _, (was, now) in found) if side else (),
                unit=unit if side else None,
            )

    def _decision(self, asked: str) -> Iterator[Relaxation]:
        """A decision rule that lets more pass than the packs' own."""
        by, now = (ASKED, asked) if asked else (SHEET, self.sheet.decision)
        was = self.spec.decision
        if was and laxer(was, now):
            below = next((pack.name for pack in reversed(self.spec.packs) if pack.decision == was), "")
            place = _place_of(now)
            yield Relaxation(
                Relaxed.LAXER_DECISION, "pack", "decision", "Decision", "decision", was, now, by, below, "", place
            )

    def _scope(self) -> Iterator[Relaxation]:
        """The headings that the sheet says its job covers, of those that there are."""
        if self.sheet.scope:
            now, place = ", ".join(self.sheet.scope), _place_of(self.sheet.scope[0])
            yield Relaxation(Relaxed.LEFT_OUT, "scope", "scope", "Scope", "scope", "", now, SHEET, "", "", place)

    def _gauges(self) -> Iterator[Relaxation]:
        """Gauges that the sheet says are surer than their kind."""
        for gauge in self.sheet.gauges.values():
            kind = self.spec.gauge_classes.get(gauge.gauge_class)
            for part in Characteristics._fields if kind is not None else ():
                if surer(kind.capability, gauge.capability.over(kind.capability), part):  # type: ignore[union-attr]  # known
                    yield Relaxation(
                        Relaxed.SURER_GAUGE,
                        "gauges",
                        gauge.name,
                        f"Gauge {gauge.name}",
                        part,
                        "",
                        "",
                        SHEET,
                        gauge.gauge_class,
                        "",
                        gauge.place,
                    )


def _place_of(text: str) -> Place:
    return text.place if isinstance(text, Text) else NOWHERE


def _part(below: Rule | None, above: Rule, upper: str) -> str:
    """What switches a rule off: its condition, else its limits."""
    return "applies when" if upper != SHEET and _when(below) != _when(above) else "limits"


def _said(one: Rule | None, other: Rule | None, upper: str) -> str:
    """What a rule says of its condition, where that is what differs."""
    return _when(one) if one is not None and upper != SHEET and _when(one) != _when(other) else ""


def _when(rule: Rule | None) -> str:
    return str(rule.applies_when.text) if rule is not None and rule.applies_when is not None else ""


def _place(lines: Sequence[LimitLine], side: str, by: str, otherwise: Place) -> Place:
    """The line that sets a limit last, of those that are this pack's or the sheet's."""
    parts = {side, WORN.get(side, "")}
    mine = [each for each in lines if by in (SHEET, each.pack)]
    setting = [each for each in mine if parts & {*each.sets, *each.clears} or each.shift is not None]
    found = setting or mine
    return found[-1].place if found else otherwise
