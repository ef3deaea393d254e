"""Packs to a specification: order, amendments, and every part compiled. Nothing in it depends on a sheet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from specrules.document import Fault, Text, shown
from specrules.formula import FUNCTIONS, Formula, Function, Scope
from specrules.pack.amendable_keys import Ground
from specrules.pack.axis_compiling import compiled_axes, twice
from specrules.pack.chaining import chain
from specrules.pack.compiling import Compiler
from specrules.pack.entries import (
    AxisEntry,
    FactEntry,
    FigureEntry,
    GaugeClassEntry,
    MeasurandEntry,
    OperationEntry,
    PartEntry,
    SignOffEntry,
)
from specrules.pack.existing import exists_when
from specrules.pack.figure_compiling import Figures
from specrules.pack.heading_facts import assumed_in_examples, held_by, pack_head
from specrules.pack.in_units import note_wording
from specrules.pack.layering import Order, Thing, gathered, naming_none, ordered, too_much_amended
from specrules.pack.lesson_parts import Exercise, Lesson
from specrules.pack.naming import declared, fact, gauge_class, measurand, plain, stated, unique
from specrules.pack.pack_reading import Pack
from specrules.pack.rules import Rules
from specrules.pack.seal import seal_of
from specrules.pack.slipping import new_size
from specrules.pack.sold_things import sold_in_sizes
from specrules.pack.specification import (
    BuildPart,
    Fact,
    GaugeClass,
    Measurand,
    Operation,
    PackTable,
    RuleChain,
    Sold,
    Specification,
)
from specrules.pack.table_entries import SoldEntry, TableEntry
from specrules.pack.table_reading import TableReading, columns_of
from specrules.pack.validity import Validities
from specrules.pack.work_budget import borne
from specrules.pack.written_ledger import written_entries
from specrules.quantity import PER_TEMPERATURE, TEMPERATURE, Exact, Refusal, Unit, read_written
from specrules.validation import SomeModel, checked
from specrules.validation.texts import NOTHING
from specrules.vocabulary import Code


def resolve(
    packs: Sequence[Pack],
    asked: Sequence[str],
    functions: Mapping[str, Function] = FUNCTIONS,
    gauge_classes: Mapping[str, GaugeClass] = MappingProxyType({}),
) -> tuple[Specification | None, tuple[Fault, ...]]:
    """The specification of the packs that are asked for, out of all that are loaded; or every fault of it. None too for
    packs with something left out of them, of which what is wrong besides is told.

    `functions` are those that formulas may call, `gauge_classes` those that stand without any pack.
    """
    order, faults = ordered(packs, asked)
    if order is None:
        return None, faults
    things, wrong, at_fault = gathered(order)
    retired = {s: frozenset(n for n, thing in known.items() if thing.retired(order)) for s, known in things.items()}
    kept = {s: {n: thing for n, thing in known.items() if n not in retired[s]} for s, known in things.items()}
    if (fault := too_much_amended(kept["rules"])) is not None:
        return None, (*wrong, fault)
    compiler = Compiler(Scope({}, {}, functions=functions))
    if at_fault:
        kept, compiler.broken = naming_none(kept, at_fault)
    resolving = _Resolving(order, things, kept, retired, gauge_classes, compiler)
    unique(kept, compiler)
    bare = resolving.bare_units()
    made = None if compiler.faults else resolving.resolve(bare)
    faults = tuple(dict.fromkeys((*wrong, *compiler.faults)))
    return (None, faults) if made is None or faults or at_fault else borne(made)


@dataclass(slots=True)
class _Resolving:
    """One specification while it is made: all that packs say, what stands of it, what was retired, and the compiler,
    which keeps the faults."""

    order: Order
    every: Mapping[str, Mapping[str, Thing]]
    things: Mapping[str, Mapping[str, Thing]]
    retired: Mapping[str, frozenset[str]]
    given: Mapping[str, GaugeClass]
    compiler: Compiler

    def resolve(self, bare: Mapping[str, Unit | None]) -> Specification:
        """The specification; worth nothing where the compiler has faults."""
        compiler = self.compiler
        axes_written, facts_written = self.entries("axes", AxisEntry), self.entries("facts", FactEntry)
        taken = {n: thing.key for known in self.things.values() for n, thing in known.items()}
        keys = {n: thing.key for n, thing in self.things["axes"].items()}
        axes = compiled_axes(axes_written, keys, facts_written, taken, compiler)
        compiler.enter(axes, ())
        tables = self.tables()
        facts = {
            n: fact(self.key("facts", n), e, self.bare_of(e.usual, bare), compiler) for n, e in facts_written.items()
        }
        gauges = self.entries("gauge classes", GaugeClassEntry)
        for name in (name for name in gauges if name in self.given):
            said = "is a gauge class already, which a plugin brings"
            compiler.fault(self.key("gauge classes", name), name, Code.NAME_TAKEN, said, "another name")
        own = {n: gauge_class(self.key("gauge classes", n), e, compiler) for n, e in gauges.items()}
        classes = {**self.given, **own}
        measurands_written = self.entries("measurands", MeasurandEntry)
        measurands = self.measurands(measurands_written, bare, classes)
        compiler.enter(axes, [*map(declared, facts.values()), *map(declared, measurands.values())])
        units = {m.name: m.unit for m in measurands.values()} | {f.name: f.unit for f in facts.values() if f.unit}
        needs = {**self.things["rules"], **self.things["sign-offs"]}
        gone = (self.retired["rules"] | self.retired["sign-offs"]) - needs.keys()
        figures_written = self.entries("figures", FigureEntry)
        figures = Figures(
            keys={n: self.key("figures", n) for n in figures_written},
            entries=figures_written,
            groups={n: self.group("figures", n) for n in figures_written},
            needs=needs,
            retired=gone,
            classes=classes,
            units=units,
            compiler=compiler,
        ).compiled()
        hold_points = self.hold_points()
        owners = {file: pack.name for pack in self.order.packs for file in pack.files}
        validities = Validities(compiler, {p.name: p for p in self.order.packs}, lambda text: self.bare_of(text, bare))
        validities.check_headings()
        rules = Rules(compiler, units, owners, needs, gone, hold_points, validities, self.sold())
        sign_offs = {
            n: made
            for n, e in self.entries("sign-offs", SignOffEntry).items()
            if (made := rules.sign_off(e, self.key("sign-offs", n), self.group("sign-offs", n)))
        }
        chains = {
            n: chain(thing, self.group("rules", n), self.order, rules) for n, thing in self.things["rules"].items()
        }
        lessons, exercises = self.taught(chains)
        ground = Ground(hold_points, lambda text: self.bare_of(text, bare))
        whole = Specification(
            packs=tuple(pack_head(pack, bare[pack.name]) for pack in self.order.packs),
            scope=compiler.scope,
            axes=axes,
            facts=facts,
            gauge_classes=classes,
            measurands={n: self.whole(m, measurands_written[n], facts) for n, m in measurands.items()},
            figures=figures,
            sign_offs=sign_offs,
            hold_points=hold_points,
            rules=self.in_order({n: made for n, made in chains.items() if made is not None}),
            operations=self.operations({**measurands_written, **facts, **self.things["sign-offs"]}),
            parts=self.parts(measurands),
            sets=self.sets(facts),
            wear_when=compiler.condition(self.said("wear_when"), "pack wear when"),
            gauges_expand=self.expansion(self.said("gauges_expand"), "pack gauges expand"),
            assumed_temperature=self.temperature(self.said("assumed_temperature")),
            decision=self.said("decision"),
            unit=bare[self.order.packs[-1].name] if self.order.packs else None,
            groups=self.headings(),
            figures_hold_by=held_by(self.order.packs, facts, compiler),
            examples_assume=assumed_in_examples(self.order.packs, facts, compiler),
            lessons=lessons,
            exercises=exercises,
            tables=tables,
            sold=rules.sold,
            ledger=tuple(written_entries(self.order, self.every, chains, ground)),
            exists_when=exists_when(
                {
                    "axes": axes_written,
                    "facts": facts_written,
                    "measurands": measurands_written,
                    "figures": figures_written,
                    "parts": self.entries("parts", PartEntry),
                },
                self.group_conditions(),
                facts,
                axes,
                compiler,
            ),
            axes_amended={n: told for n, thing in self.things["axes"].items() if (told := thing.reasons)},
        )
        note_wording(whole, compiler)
        return whole._replace(seal=seal_of(whole))

    def entries(self, section: str, model: type[SomeModel]) -> dict[str, SomeModel]:
        """Everything of a section as all packs together leave it."""
        made: dict[str, SomeModel] = {}
        for name, thing in self.things[section].items():
            changes = [change for change in thing.changes if not change.retires]
            entry, faults = checked(model, thing.folded(changes), within=(section, name))
            self.compiler.faults += faults
            if entry is not None:
                made[name] = entry
        return made

    def sold(self) -> dict[str, Sold]:
        """What is sold, with its sizes."""
        entries = self.entries("sold", SoldEntry).items()
        made = {name: sold_in_sizes(self.key("sold", name), entry, self.compiler) for name, entry in entries}
        return {name: each for name, each in made.items() if each is not None}

    def tables(self) -> dict[str, PackTable]:
        """The tables; formulas may look them up from now on."""
        made: dict[str, PackTable] = {}
        for name, entry in self.entries("tables", TableEntry).items():
            table = TableReading(self.key("tables", name), entry, self.compiler).table(self.things["tables"][name].last)
            if table is None:
                self.compiler.broken.update(f"{name}_{column}" for column in entry.columns)
            else:
                made[name] = table
        self.compiler.enter_tables(columns_of(made, self.compiler))
        return made

    def group_conditions(self) -> list[tuple[str, Text]]:
        """Each heading with the condition that a file states of it."""
        return [(pack.groups[file], text) for pack in self.order.packs for file, text in pack.conditions.items()]

    def key(self, section: str, name: str) -> Text:
        """The name as it was first written."""
        return self.things[section][name].key

    def group(self, section: str, name: str) -> str:
        """The heading of the file that a thing was defined in."""
        file = self.key(section, name).place.file
        return next(pack.groups[file] for pack in self.order.packs if file in pack.groups)

    def bare_units(self) -> dict[str, Unit | None]:
        """What a bare number means in each pack: its own unit, or that of the strongest that it builds on."""
        found: dict[str, Unit | None] = {}
        for pack in self.order.packs:
            below = [unit for name, unit in found.items() if unit and name in self.order.below[pack.name]]
            found[pack.name] = self.compiler.unit(pack.head.unit, "pack unit") or (below[-1] if below else None)
        return found

    def bare_of(self, text: Text, bare: Mapping[str, Unit | None]) -> Unit | None:
        """What a bare number of this text means: what it does in the pack whose file it stands in."""
        owner = next((pack for pack in self.order.packs if text.place.file in pack.files), self.order.packs[0])
        return bare[owner.name]

    def measurands(
        self, written: Mapping[str, MeasurandEntry], bare: Mapping[str, Unit | None], classes: Mapping[str, object]
    ) -> dict[str, Measurand]:
        """The measurands, but for the conditions in them, which need every name."""
        made: dict[str, Measurand] = {}
        for name, entry in written.items():
            unit = self.bare_of(entry.usual, bare)
            key, heading = self.key("measurands", name), self.group("measurands", name)
            one = measurand(key, entry, unit, heading, classes, self.compiler)
            if one is not None:
                made[name] = one
        return made

    def whole(self, of: Measurand, written: MeasurandEntry, facts: Mapping[str, Fact]) -> Measurand:
        """The measurand with what needs every name: may it be negative, how much it expands, its size when new."""
        return of._replace(
            may_be_negative=self.compiler.allowed(written.may_be_negative, f"{of.name} may be negative", of.at),
            expands=self.expansion(written.expands, f"{of.name} expands", of.at),
            new=new_size(of, written, facts, self.compiler),
        )

    def expansion(self, text: Text, subject: str, each: tuple[str, ...] = ()) -> Formula | None:
        """A coefficient of expansion; None where nothing is written."""
        return self.compiler.formula(text, subject, each, dimension=PER_TEMPERATURE) if text else None

    def temperature(self, text: Text) -> Exact | None:
        """The temperature that is assumed, with the range that it is in; None where nothing is written."""
        if not text:
            return None
        found, subject = read_written(text, unit=None, dimension=TEMPERATURE), "pack assumed temperature"
        if isinstance(found, Refusal):
            self.compiler.refused(text, found, subject)
        elif not isinstance(found, Exact) or found.U is None:
            said = f"{shown(text)} does not say in what range it is"
            self.compiler.fault(text, subject, Code.NOT_A_RANGE, said, "20 C ±5 K")
        else:
            return found
        return None

    def hold_points(self) -> tuple[str, ...]:
        """The hold points in order. A pack may put in more, but keeps those of the packs before it in their order."""
        found: tuple[str, ...] = ()
        for pack in self.order.packs:
            given = tuple(map(str, pack.hold_points))
            before = frozenset(found)
            if given and tuple(point for point in given if point in before) != found:
                said = f"does not have the hold points of the packs before it, in their order: {', '.join(found)}"
                self.compiler.fault(
                    pack.hold_points[0], "hold points", Code.PACKS_DISAGREE, said, "all of them, and its own between"
                )
                given = ()
            for point in twice(pack.hold_points):
                self.compiler.fault(point, "hold points", Code.DEFINED_TWICE, f"{shown(point)} stands twice", "it once")
            found = given or found
        return found

    def operations(self, stale: Mapping[str, object]) -> dict[str, Operation]:
        """The operations; what was retired is no longer made stale by them."""
        gone = frozenset().union(*(self.retired[s] for s in ("measurands", "facts", "sign-offs"))) - stale.keys()
        made: dict[str, Operation] = {}
        for name, entry in self.entries("operations", OperationEntry).items():
            kept = [each for each in entry.makes_stale if each not in gone]
            what = "measurand, fact or sign-off"
            known = self.compiler.known(kept, stale, what, f"{name} makes stale")
            key = self.key("operations", name)
            made[name] = Operation(name, entry.title or plain(name), known, key.place)
        return made

    def parts(self, measurands: Mapping[str, Measurand]) -> dict[str, BuildPart]:
        """The parts; what was retired is no longer measured on them."""
        made: dict[str, BuildPart] = {}
        for name, entry in self.entries("parts", PartEntry).items():
            kept = [each for each in entry.measurands if each not in self.retired["measurands"]]
            known = self.compiler.known(kept, measurands, "measurand", f"{name} measurands")
            at = self.compiler.axes(entry.at, f"{name} at") or ()
            key = self.key("parts", name)
            made[name] = BuildPart(name, entry.title or plain(name), at, known, key.place)
        return made

    def taught(self, rules: Mapping[str, RuleChain | None]) -> tuple[dict[str, Lesson], dict[str, Exercise]]:
        """The lessons and the exercises, each of the pack that wrote it or amended it last."""
        if not self.things["lessons"] and not self.things["exercises"]:
            return {}, {}
        from specrules.pack.lessons import taught  # most packs teach nothing

        return taught(self.compiler, rules, self.things, self.entries)

    def sets(self, facts: Mapping[str, Fact]) -> dict[str, str]:
        """The facts that using the packs implies; two packs may not imply two things."""
        found: dict[str, tuple[Text, str]] = {}
        for pack in self.order.packs:
            for name, value in pack.head.sets.items():
                if not self.compiler.known((name,), facts, "fact", "pack sets"):
                    continue
                stated(value, facts[name], f"pack sets {name}", self.compiler)
                first, by = found.setdefault(str(name), (value, pack.name))
                if first != value:
                    said = f"{shown(value)} is not what the pack {by} sets, {shown(first)}, so not both can be used"
                    self.compiler.fault(value, f"pack sets {name}", Code.PACKS_DISAGREE, said)
        return {name: str(value) for name, (value, _) in found.items()}

    def said(self, what: str) -> Text:
        """What the strongest pack says of `wear_when` or `decision`; strangers that differ are a fault."""
        found, by = NOTHING, ""
        for pack in self.order.packs:
            text: Text = getattr(pack.head, what)
            if text and found and text != found and self.order.strangers(pack.name, by):
                said = f"{shown(text)} is not what the pack {by} says, {shown(found)}, and neither builds on the other"
                self.compiler.fault(text, f"pack {what.replace('_', ' ')}", Code.PACKS_DISAGREE, said)
            if text:
                found, by = text, pack.name
        return found

    def in_order(self, rules: Mapping[str, RuleChain]) -> dict[str, RuleChain]:
        """The rules in the order of the work: by heading, then as they were written."""
        headings = self.headings()
        return dict(sorted(rules.items(), key=lambda item: headings.index(item[1].governing[-1].group)))

    def headings(self) -> tuple[str, ...]:
        """The headings that are used: in the order that packs state, then as the files have them."""
        used = {self.group(s, n) for s in ("measurands", "figures", "sign-offs", "rules") for n in self.things[s]}
        in_files = [heading for pack in self.order.packs for heading in pack.groups.values()]
        stated_order = [heading for pack in self.order.packs for heading in pack.head.groups]
        for heading in stated_order:
            if heading not in in_files:
                said = f"{shown(heading)} is the group of no file"
                self.compiler.fault(
                    heading, "pack groups", Code.UNKNOWN_NAME, said, self.compiler.nearest(heading, in_files)
                )
        return tuple(dict.fromkeys(str(heading) for heading in (*stated_order, *in_files) if heading in used))
