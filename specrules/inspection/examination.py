"""The inspection: a pure function from a sheet, a specification and options to findings. Same input, same output."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from decimal import localcontext
from functools import cached_property
from itertools import product
from types import MappingProxyType

from specrules.evaluate import holds
from specrules.evaluate.binding import Binding
from specrules.evaluate.trace import Trace
from specrules.evaluate.worlds import THIS_WORLD, World
from specrules.formula import Station
from specrules.inspection.agreeing import of_siblings
from specrules.inspection.all_worlds import in_all_worlds
from specrules.inspection.consequences import conceded, with_needed_rules
from specrules.inspection.decision import Decision
from specrules.inspection.details import WholeFinding
from specrules.inspection.evidence import LACKING, SignOffs
from specrules.inspection.finding_parts import About, Input, Limits, OtherWay
from specrules.inspection.findings import about, build, limits_in, other_ways
from specrules.inspection.impossible_fits import Fits
from specrules.inspection.inputs_behind import inputs_of
from specrules.inspection.job_scope import JobScope
from specrules.inspection.judge import Judge, Judgement
from specrules.inspection.ledger import Ledger
from specrules.inspection.limits import ResolvedLimits
from specrules.inspection.remarks_on_gauges import gauge_remarks
from specrules.inspection.report import Extent, FigureValue, Finding, Options, Report, WorkDone
from specrules.inspection.rule_outcome import RuleOutcome, renumbered
from specrules.inspection.unchanged import Grounds, differing
from specrules.inspection.wanted_facts import facts_held_by, facts_wanted
from specrules.inspection.weighing import Weighed, evidence_of, impossible_negative, weigh
from specrules.pack import Figure, Relaxation, Rule, RuleChain, Specification, present, told_in
from specrules.pack.needing import NamesBehind
from specrules.quantity import CONTEXT
from specrules.sheet import Sheet, Suspect, Work, all_alike, confirmed, suspects
from specrules.sheet.bare_figures import units_taken
from specrules.sheet.reading_slips import only_unusual
from specrules.vocabulary import BEYOND, DECISION_RULES, IMPORTANCES, INSIDE, OPEN, USUAL_DECISION, Reason, Verdict, Why


def inspect(sheet: Sheet, spec: Specification, options: Options | None = None) -> Report:
    """Judge every rule of the specification at every station of the sheet."""
    return Examination(sheet, spec, options).report


class Examination:
    """A sheet held against a specification: the report, and whatever a reader of it asks for besides.

    It remembers what it worked out; nothing of that gets into the report.
    """

    def __init__(
        self,
        sheet: Sheet,
        spec: Specification,
        options: Options | None = None,
        beside: tuple[Relaxation, ...] = (),
        before: Examination | None = None,
        only: Mapping[tuple[str, ...], Sequence[Station]] = MappingProxyType({}),
    ) -> None:
        """`beside`: entries of the ledger that neither sheet nor specification knows, such as a pack's other file.

        `before`: an examination of the same sheet as it was. What stands on nothing that differs is taken over from it;
        the report is the same as without. `only`: by their axes, the stations to look at where those are not all.
        """
        self.sheet, self.options, self.beside = sheet, options or Options(), beside
        self.spec = present(told_in(spec, sheet.unit), sheet.described).spec
        self._stations = dict(only)
        self.judging = {rule.formula.text for chain in spec.rules.values() for rule in chain.governing}
        with localcontext(CONTEXT):
            self._prepare()
            self._judge_all(before)
            findings = tuple(finding for outcome in self.outcomes.values() for finding in outcome.findings)
            findings, self.concessions = conceded(with_needed_rules(findings, sheet, self.spec), sheet, self.spec)
            self.findings = self.scope.kept(findings)

    @cached_property
    def report(self) -> Report:
        """The findings with all that is said of the sheet as a whole."""
        with localcontext(CONTEXT):
            return self._report()

    def whole(self, finding: Finding) -> WholeFinding:
        """A finding of the report with all that it stands on. Raises KeyError for one that is not of this report."""
        key = finding.rule, tuple(finding.station.values())
        chain = self.spec.rules[finding.rule]
        if key not in self._judged and finding.station in (
            each.station for each in self.outcomes[finding.rule].findings
        ):
            with localcontext(CONTEXT):
                judged, _ = self.judged_at(chain, finding.station)
                self._judged[key] = (self.judge_in(judged.world), judged)
        return WholeFinding.of(finding, *self._judged[key], chain)

    def readings(self) -> tuple[Input, ...]:
        """Every reading of the sheet that governs, whether a finding stands on it or not, in its order."""
        return tuple(inputs_of(range(len(self.binding.readings)), self.binding))

    def _prepare(self) -> None:
        sheet, spec = self.sheet, self.spec
        self.decision = self.options.decision or sheet.decision or spec.decision or USUAL_DECISION
        self.acceptance = DECISION_RULES[self.decision]
        self.binding = Binding(sheet, spec, self.acceptance.simple)
        self.judge = Judge(self.binding.environment(), self.acceptance, sheet.limits)
        self.judges: dict[tuple[object, ...], Judge] = {}
        worn = spec.wear_when is not None and holds(spec.wear_when, self.judge.environment, {}) is True
        self.grounds = Grounds(sheet, self.binding.gaugings, suspects(sheet, spec, worn))
        self.sign_offs = SignOffs(sheet, spec, self.judge.environment)
        self.fits = Fits(sheet, spec)
        self.scope = JobScope(spec, sheet.scope)
        self.ledger = Ledger(sheet, spec)
        self._judged: dict[tuple[str, tuple[str, ...]], tuple[Judge, Judgement]] = {}
        self._about: dict[str, About] = {}
        self.behind: NamesBehind | None = None  # made when an examination is the second of its sheet
        self.outcomes: dict[str, RuleOutcome] = {}
        self.figures: dict[str, tuple[FigureValue, ...]] = {}
        self._limits: dict[int, tuple[Limits, Limits]] = {}  # by identity: the judgement's, and in the unit shown

    def judge_in(self, world: World) -> Judge:
        """The judge in whose world something is supposed of unstated facts."""
        if world is THIS_WORLD:
            return self.judge
        key = (*sorted(world.labels.items()), frozenset(world.ranges.items()))
        if key not in self.judges:
            self.judges[key] = Judge(self.binding.environment(world), self.acceptance, self.sheet.limits)
        return self.judges[key]

    def _standing(self, before: Examination | None) -> frozenset[str]:
        """The names of the rules and figures that say the same as before: nothing that they may hang on differs.

        Doubts that fits raise, and limits that say which sizes are meant, tell of many rules at once: then none is."""
        if before is None or before.spec is not self.spec or before.options != self.options or before.doubted:
            return frozenset()
        limited = self.sheet.limits or before.sheet.limits
        if limited and any(only_unusual(suspect.reason) for suspect in self.grounds.suspects):
            return frozenset()
        self.behind = before.behind or NamesBehind(self.spec)
        changed = differing(before.grounds, self.grounds)
        if changed is None:
            return frozenset()
        unlaid = {name for name, chain in self.spec.rules.items() if self.unlaid(chain.governing[-1])}
        by_writing = frozenset(self.grounds.suspects)  # what else makes a figure doubtful may have moved with its line
        doubtful = {name for name, each in before.outcomes.items() if not each.suspects <= by_writing}
        return frozenset((*self.spec.rules, *self.spec.figures)) - self.behind.hanging_on(changed) - unlaid - doubtful

    def _judge_all(self, before: Examination | None) -> None:
        """What comes of every rule and every figure; of those that stand what came of them before."""
        standing = self._standing(before)
        rules = self.spec.rules
        judged = {name: self.judged_by(chain) for name, chain in rules.items() if name not in standing}
        by_fit = self.doubted_by_fit([each for of_rule in judged.values() for each, _ in of_rule])
        self.doubted = any(by_fit.values())
        if standing and self.doubted:
            return self._judge_all(None)
        numbers = () if before is None else renumbered(before.sheet.readings, self.sheet.readings)
        for name, chain in rules.items():
            if before is not None and name in standing:
                self.outcomes[name] = before.outcomes[name].numbered(numbers)
                self.ledger.take_over(before.ledger, name)
            else:
                self.outcomes[name] = self.of_rule(chain, judged[name], by_fit)
        for name, figure in self.spec.figures.items():
            known = before.figures[name] if before is not None and name in standing else tuple(self.of_figure(figure))
            self.figures[name] = known
        return None

    def _report(self) -> Report:
        findings = self.findings
        counted = Counter([finding.verdict for finding in findings])
        sign_offs = self.scope.asked(self.evidence.sign_offs.states(), findings)
        until = self.options.until or self.sheet.until or (self.spec.hold_points[-1] if self.spec.hold_points else "")
        reached = self.spec.hold_points[: self.spec.hold_points.index(until) + 1] if until else ("",)
        unstated, waiting = facts_wanted(self.sheet, self.spec, findings)
        in_spec = Verdict.IN_SPEC
        now = [each for each in findings if each.verdict is not in_spec and each.hold_point in reached]
        return Report(
            file=self.sheet.file,
            sha256=self.sheet.sha256,
            title=self.sheet.title,
            build=self.sheet.build,
            packs=self.spec.packs,
            groups=self.spec.groups,
            hold_points=self.spec.hold_points,
            decision=self.decision,
            until=until,
            options=self.options,
            findings=findings,
            sign_offs=sign_offs,
            figures=tuple(value for values in self.figures.values() for value in values),
            suspects=self.suspects,
            ledger=(*self.beside, *self.ledger.entries(self.options.decision)),
            concessions=self.concessions,
            assumed=self.sheet.assumed,
            remarks=(
                *gauge_remarks(self.sheet, self.spec),
                *confirmed(self.sheet, self.suspects),
                *all_alike(self.sheet, self.spec),
                *units_taken(self.sheet, self.spec),
                *self.binding.temperatures.remarks(),
            ),
            counts={verdict: counted[verdict] for verdict in Verdict},
            evidence=self.weight([each for each in findings if each.hold_point in reached]),
            held=tuple(finding for finding in now if self.holds(finding)),
            open=tuple(finding for finding in now if finding.verdict in OPEN),
            unsigned=tuple(state for state in sign_offs if state.state in LACKING and state.hold_point in reached),
            seal=self.spec.seal,
            unstated=unstated,
            waiting=waiting,
            beside=self.sheet.beside,
            pictures=self.sheet.pictures,
            work_done=tuple(map(self.work, self.sheet.work_done)),
            lies={axis.name: axis.lies for axis in self.spec.axes.values() if axis.lies},
            scope=self.sheet.scope,
            sheet_until=self.sheet.until,
            figures_hold_by=facts_held_by(self.sheet, self.spec),
        )

    def work(self, done: Work) -> WorkDone:
        """Work of the sheet, with what its packs call it."""
        title = self.spec.operations[done.operation].title
        return WorkDone(done.operation, title, f"{done.on or ''}", dict(done.at), done.place)

    def weight(self, reached: Sequence[Finding]) -> Extent:
        """How much was judged, on how much."""
        judged = [each for each in reached if each.verdict in (*INSIDE, *BEYOND)]
        behind = {
            (each.rule, *each.station.values()): numbers
            for outcome in self.outcomes.values()
            for each, numbers in zip(outcome.findings, outcome.read, strict=True)
        }
        read = {number for each in judged for number in behind[each.rule, *each.station.values()]}
        return Extent(
            judged=len({each.rule for each in judged}),
            apply=len({each.rule for each in reached if each.verdict is not Verdict.NOT_APPLICABLE}),
            readings=len(read),
            entered=len(self.sheet.readings),
        )

    def judged_by(self, chain: RuleChain) -> Sequence[tuple[Judgement, Reason | None]]:
        """What the judge says of one rule, station by station, and whether packs that govern it disagree."""
        return [self.judged_at(chain, station) for station in self.stations(chain.governing[-1].each)]

    def judged_at(self, chain: RuleChain, station: Station) -> tuple[Judgement, Reason | None]:
        """The same at one station."""
        return of_siblings([in_all_worlds(rule, station, self.judge_in, self.spec) for rule in chain.governing])

    def doubted_by_fit(self, judged: Sequence[Judgement]) -> Mapping[int, tuple[Suspect, ...]]:
        """By a judgement's place among them, the readings that its value questions.

        Those of which it is known what they would be, or who confirmed them, are suspects of the whole sheet."""
        doubts: dict[int, tuple[Suspect, ...]] = {}
        self.suspects = self.meant(judged)
        told = {(suspect.name, suspect.station) for suspect in self.suspects if suspect.bars}
        explained: dict[tuple[str, tuple[str, ...]], Suspect] = {}
        for each in judged:
            if each.decision.verdict in BEYOND and told.isdisjoint(self.fits.parts_behind(each)):
                negative = impossible_negative(each, self.judge_in(each.world).environment)
                found = self.fits.doubts(each, negative)
                doubts[id(each)] = found
                for suspect in found:
                    if suspect.would_be is not None or suspect.confirmed:
                        explained.setdefault((suspect.name, suspect.station), suspect)
        self.suspects += tuple(explained.values())
        self.evidence = evidence_of(self.binding, self.suspects, self.sign_offs)
        return self.fits.with_all_that_hold_them(judged, doubts)

    def meant(self, judged: Sequence[Judgement]) -> tuple[Suspect, ...]:
        """The suspects, where the sheet's own limits for what a size is read for say that such a size is meant."""
        meant: dict[tuple[str, tuple[str, ...]], str] = {}
        found = self.grounds.suspects
        if any(only_unusual(suspect.reason) for suspect in found):
            for each in judged:
                for number in each.trace.found if each.limits.from_sheet else ():
                    reading = self.sheet.readings[number]
                    meant.setdefault((reading.name, reading.station), each.rule.name)
        return tuple(
            [
                each._replace(as_stated=each.as_stated or meant.get((each.name, each.station), ""))
                if only_unusual(each.reason)
                else each
                for each in found
            ]
        )

    def of_rule(
        self,
        chain: RuleChain,
        judged: Sequence[tuple[Judgement, Reason | None]],
        by_fit: Mapping[int, tuple[Suspect, ...]],
    ) -> RuleOutcome:
        """What comes of one rule, station by station."""
        rule = chain.governing[-1]
        if unlaid := self.unlaid(rule):
            return RuleOutcome((self.nowhere(rule, unlaid[0]),), ((),))
        return RuleOutcome(
            tuple([self.at_station(chain, each, disagree, by_fit.get(id(each), ())) for each, disagree in judged]),
            tuple([each.trace.numbers() for each, _ in judged]),
        )

    def unlaid(self, of: Rule | Figure) -> Sequence[str]:
        """The axes that it lies along of which nobody has said how long they are."""
        return [axis for axis in of.each if not self.sheet.labels.get(axis)]

    def stations(self, each: tuple[str, ...]) -> Sequence[Station]:
        """Every station on these axes, in the order of the sheet."""
        known = self._stations.get(each)
        if known is None:
            places = product(*[[(axis, label) for label in self.sheet.labels.get(axis, ())] for axis in each])
            known = self._stations[each] = list(map(dict, places))
        return known

    def nowhere(self, rule: Rule, axis: str) -> Finding:
        """A rule along an axis of which nobody has said how long it is: one finding for the whole build."""
        entry = self.spec.axes[axis]
        fact = entry.shaped_by or (self.spec.axes[entry.of].shaped_by if entry.of else "")
        lacks = (Reason(Why.STATE_FACT, (fact,)),)
        nothing = Judgement(
            rule, {}, THIS_WORLD, None, ResolvedLimits(), Limits(), (), Decision(Verdict.NOT_MEASURED), Trace(), lacks
        )
        weighed = weigh(nothing, self.judge.environment, self.evidence._replace(stale={}), (), None)
        rests_on = weighed.rests_on._replace(unsigned=())
        return self.build(self.judge, nothing, Weighed(Verdict.NOT_MEASURED, rests_on, ()), ())

    def build(self, judge: Judge, judged: Judgement, weighed: Weighed, others: tuple[OtherWay, ...]) -> Finding:
        """The finding of a judgement, which is remembered for whoever asks more of it."""
        rule = judged.rule
        shared = self._about.get(rule.name)
        if shared is None or shared.pack != rule.pack:
            shared = self._about[rule.name] = about(rule)
        known = self._limits.get(id(judged.limits))
        if known is None:
            known = self._limits[id(judged.limits)] = (judged.limits, limits_in(shared.unit, judged.limits))
        self._judged[rule.name, tuple(judged.station.values())] = (judge, judged)
        verdict, rests_on, notes = weighed
        return build(judge, judged, shared, verdict, rests_on, notes, others, known[1])

    def at_station(
        self, chain: RuleChain, judged: Judgement, disagree: Reason | None, by_fit: tuple[Suspect, ...]
    ) -> Finding:
        """What the judge finds, with all that its evidence says."""
        judge = self.judge_in(judged.world)
        self.ledger.look(judge, judged, chain)
        others = other_ways(judge, judged, judged.rule.unit)
        weighed = weigh(judged, judge.environment, self.evidence, others, disagree, by_fit)
        return self.build(judge, judged, weighed, others)

    def holds(self, finding: Finding) -> bool:
        """Whether a finding stops the job."""
        beyond = finding.verdict in BEYOND and not finding.conceded
        if not beyond and not (self.options.sure and finding.verdict is Verdict.JUST_IN):
            return False
        return IMPORTANCES.index(finding.importance) <= IMPORTANCES.index(self.options.held_by)

    def of_figure(self, figure: Figure) -> Iterator[FigureValue]:
        """A figure of the specification at every station, whether a rule judges it or not."""
        if self.unlaid(figure):
            return
        unit = figure.unit
        for station in self.stations(figure.each):
            worked = self.judge.environment.figure(figure.name, tuple(station.values()))
            value = worked.value
            stands_on_something = bool(worked.trace.found or worked.trace.facts)
            known = value.low if value is not None and value.exact and value.whole and stands_on_something else None
            yield FigureValue(
                figure.name,
                figure.title,
                figure.group,
                station,
                None if known is None else unit.from_base(known.value),
                None if known is None else unit.difference_from_base(self.judge.uncertainty(known).expanded),
                unit,
                worked.way.name,
                self.binding.digits.places(worked.trace.found, unit),
                figure.name in self.judging,
                any(key in self.evidence.suspects for key in (*worked.trace.numbers(), *worked.trace.facts)),
            )
