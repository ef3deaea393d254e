"""From files and texts to sheets and specifications: packs are loaded, and made a specification of, once a run."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cached_property
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, NamedTuple

from specrules import VERSION
from specrules.document import Fault, Place
from specrules.effects.cache import PlanCache, program_state
from specrules.effects.files import read_bytes
from specrules.effects.pack_files import PackFiles, pack_folders
from specrules.pack import PackHead, Relaxation, Specification, told_in
from specrules.pack.in_units import told_head
from specrules.plan import Plan, keep, key_of, restore
from specrules.plugins import Plugged, beside, installed, plug
from specrules.quantity import Unit, nearest, using
from specrules.vocabulary import DECISION_RULES, Code, Relaxed

if TYPE_CHECKING:
    from specrules.inspection.comparison import ReportComparison
    from specrules.pack.pack_reading import Pack
    from specrules.proving import Proof, Proposal
    from specrules.sheet import RawSheet, SettledReadings, Sheet

Faults = tuple[Fault, ...]
Folders = tuple[Path, ...]


class Loaded(NamedTuple):
    """A sheet and its specification; None where there are faults. set_aside: faults that change no verdict, of
    plugins beside its packs and of pictures.

    same_names: packs of its specification that hide another of the same name. raw: the sheet as it is written.
    """

    sheet: Sheet | None
    spec: Specification | None
    faults: Faults
    set_aside: Faults = ()
    same_names: tuple[Relaxation, ...] = ()
    raw: RawSheet | None = None


class Resolved(NamedTuple):
    """The specification of packs, or what is wrong with them; and what is wrong with plugins beside them."""

    spec: Specification | None
    faults: Faults
    set_aside: Faults


class Workspace:
    """Packs as they are asked for, each specification made once however many sheets want it.

    Packs are looked for among those that ship, those handed over (`files` by path, `texts` by name) and in `folders`,
    or, where none are given, in every folder `packs` that stands beside the path at hand or above it. `plugins`: with
    what installed plugins offer. `cache`: where plans are kept between runs; None for nowhere.
    """

    def __init__(
        self,
        folders: Folders | None = None,
        plugins: bool = True,
        cache: PlanCache | None = None,
        files: Sequence[Path] = (),
        texts: Mapping[str, bytes] = MappingProxyType({}),
    ) -> None:
        self.folders = folders
        self.files = files
        self.texts = texts
        self.cache = cache
        self.plugged = plug(installed() if plugins else ())
        self._resolved: dict[tuple[tuple[str, ...], Folders], Resolved] = {}
        self._files: dict[Folders, PackFiles] = {}
        self._in_units: dict[
            tuple[int, Unit | None], Specification
        ] = {}  # each holds what it was made of: its id stays
        self._told = dict.fromkeys(self.plugged.faults)

    def names(self, near: Path | None) -> tuple[str, ...]:
        """Every pack that may be named here."""
        return self._pack_files(near).names()

    def pack_paths(self, near: Path | None) -> Iterator[Path]:
        """The files of every pack that may be named here."""
        return self._pack_files(near).paths()

    def packs(self, asked: Sequence[str], near: Path | None) -> tuple[tuple[Pack, ...], Faults]:
        """The packs themselves, with all that they build on; or every fault of them, of what they mean too."""
        packs, faults = self._pack_files(near).load(asked)
        if not faults:
            return packs, ()
        return (), tuple(dict.fromkeys((*faults, *(self._specified(packs, asked)[1] if packs else ()))))

    def resolve(self, asked: Sequence[str], near: Path | None) -> tuple[Specification | None, Faults]:
        """The specification of these packs, told in their own units; examples and exercises may be left out.

        A specification is shared by sheets; a pack that one of them misnames is that sheet's fault, at its own line.
        """
        return self._in_its_units(self._resolve(asked, near))

    def taught(self, asked: Sequence[str], near: Path | None) -> tuple[Specification | None, Faults]:
        """The same with all its examples and exercises."""
        return self._in_its_units(self._compiled(asked, near, None))

    def head(self, name: str, near: Path | None) -> tuple[PackHead | None, Faults]:
        """What a pack says of itself, told in its own unit, without telling all else that is in its specification."""
        spec, faults, _ = self._resolve((name,), near)
        with using(self.plugged.units):
            return None if spec is None else told_head(spec), faults

    def _in_its_units(self, resolved: Resolved) -> tuple[Specification | None, Faults]:
        spec = resolved.spec
        return spec if spec is None else self._told_in(spec, spec.unit), resolved.faults

    def _told_in(self, spec: Specification, lengths_in: Unit | None) -> Specification:
        """The specification in the units of a sheet; put into them once for all sheets that have them."""
        key = (id(spec), lengths_in)
        if key not in self._in_units:
            with using(self.plugged.units):
                self._in_units[key] = told_in(spec, lengths_in)
        return self._in_units[key]

    def _resolve(self, asked: Sequence[str], near: Path | None) -> Resolved:
        files, names = self._pack_files(near), tuple(map(str, asked))
        known = (names, tuple(files.folders))
        if known not in self._resolved:
            there, unknown = files.there(asked)
            if unknown:
                rest = self._resolve(there, near)
                return Resolved(None, (*unknown, *rest.faults), rest.set_aside)
            key = self._key(names, files) if self.cache is not None else None
            self._resolved[known] = self._restored(key) or self._compiled(names, near, key)
        return self._resolved[known]

    def _compiled(self, asked: Sequence[str], near: Path | None, key: str | None) -> Resolved:
        packs, faults = self.packs(asked, near)
        if faults:
            return Resolved(None, faults, self.plugged.faults)
        made, faults = self._specified(packs, asked)
        if made is not None and key is not None and self.cache is not None:
            self.cache.write(key, keep(key, Plan(made, _names(packs))))
        return Resolved(made, faults, self._beside(packs).faults)

    def _specified(self, packs: Sequence[Pack], asked: Sequence[str]) -> tuple[Specification | None, Faults]:
        """The specification of packs, or what is wrong with them."""
        from specrules.pack.resolving import resolve  # most runs have a plan, and compile nothing

        offers = self._beside(packs)
        with using(offers.units):
            return resolve(packs, asked, offers.functions, offers.gauge_classes)

    def _restored(self, key: str | None) -> Resolved | None:
        """The specification that was kept under a key; None where none was, or there is any doubt of it."""
        if self.cache is None or key is None:
            return None
        with using(self.plugged.units):
            plan = restore(key, self.cache.read(key), lambda names: beside(self.plugged, names).functions)
        if plan is None:
            return None
        return Resolved(plan.specification, (), self._beside_names(plan.names).faults)

    def _key(self, asked: Sequence[str], files: PackFiles) -> str | None:
        """What a plan is kept under: the digest of all that goes into it; None where a pack cannot be read."""
        read = files.read()
        if read is None:
            return None
        offered = (*self.plugged.plugins, *sorted(self.plugged.functions), *sorted(self.plugged.gauge_classes))
        packs = (part for label, raw in read for part in (label, raw))
        return key_of((VERSION, self._program, str(len(asked)), *asked, str(len(offered)), *offered, *packs))

    @cached_property
    def _program(self) -> str:
        """What stands for the program itself in what plans are kept under."""
        return program_state()

    def load(self, path: Path, name: str, add: Sequence[str] = ()) -> Loaded:
        """Read a sheet, find its packs, settle the one against the other; every fault of each in one answer."""
        return self.settle(read_bytes(path, name), path, name, add)

    def settle(
        self,
        source: bytes | Fault,
        path: Path | None,
        name: str,
        add: Sequence[str] = (),
        kept: SettledReadings | None = None,
    ) -> Loaded:
        """The same for a sheet's text, which stands or is to stand at a path (None: at none), or for what kept it from
        being read. `kept`: what its readings came to as it was, which is put in step."""
        from specrules.sheet import lengths_of, settle  # whoever asks for packs alone reads no sheet

        raw, faults = _read(source, path, name)
        if raw is None:
            return Loaded(None, None, faults, self.plugged.faults)
        faults += tuple(_decision_faults(raw))
        if not (raw.model.packs or add):
            lacking = () if "packs" in raw.left_out else (_without_packs(raw),)
            return Loaded(None, None, (*faults, *lacking), self.plugged.faults)
        resolved, more, set_aside = self._resolve((*raw.model.packs, *add), path)
        if resolved is None:
            return Loaded(None, None, faults + more, set_aside)
        with using(self.plugged.units):
            told = self._told_in(resolved, lengths_of(raw, resolved))
            sheet, more = settle(raw, told, kept)
        every = tuple(dict.fromkeys((*faults, *more)))
        return Loaded(
            None if every else sheet,
            told,
            every,
            set_aside,
            self.same_names([pack.name for pack in resolved.packs], path),
            raw,
        )

    def same_names(self, names: Iterable[str], near: Path | None) -> tuple[Relaxation, ...]:
        """An entry of the ledger for each pack of these names that hides another of the same name, farther away."""
        files = self._pack_files(near)
        found = ((name, hidden) for name in names if (hidden := files.hidden(name)) is not None)
        return tuple(
            _hides(name, _from(near_by, near), [_from(path, near) for path in rest]) for name, (near_by, rest) in found
        )

    def compare(
        self, path: Path, name: str, specs: tuple[Specification, Specification]
    ) -> tuple[ReportComparison | None, Faults]:
        """What differs where a sheet is judged by each of two specifications, whatever packs it names itself."""
        from specrules.inspection import inspect
        from specrules.inspection.comparison import between
        from specrules.sheet import settle
        from specrules.sheet.paring import pared

        source = read_bytes(path, name)
        raw, faults = _read(source, path, name)
        if raw is None:
            return None, faults
        with using(self.plugged.units):
            settled = [settle(pared(raw, *pair), pair[0]) for pair in (specs, specs[::-1])]
            every = tuple(dict.fromkeys((*faults, *(fault for _, found in settled for fault in found))))
            (one, _), (other, _) = settled
            if every or one is None or other is None:
                return None, every
            return between(inspect(one, specs[0]), inspect(other, specs[1])), ()

    def own_files(self, name: str, near: Path | None) -> Mapping[str, Path]:
        """The files of a shop's own pack, by what faults call them."""
        return self._pack_files(near).own(name)

    def propose(self, packs: Sequence[Pack], name: str, only: str = "") -> tuple[Proposal, ...]:
        """The examples that one of these packs lacks, of all its rules or of one."""
        from specrules.proving import propose

        offers = self._beside(packs)
        with using(offers.units):
            return propose(packs, name, offers.functions, offers.gauge_classes, only)

    def prove(self, packs: Sequence[Pack], name: str, near: Path | None = None, only: str = "") -> Proof:
        """The proof of one of these packs, loaded with their examples; `near`: where they were looked for from; `only`:
        one of its rules."""
        from specrules.proving import prove

        offers = self._beside(packs)
        with using(offers.units):
            proof = prove(packs, name, offers.functions, offers.gauge_classes, only)
        hiding = self.same_names((name,), near)
        return proof._replace(ledger=(*hiding, *proof.ledger))

    @property
    def faults(self) -> Faults:
        """The plugins that were set aside, and functions of theirs that failed, so far: they change no status."""
        self._told |= dict.fromkeys(self.plugged.failures.taken())
        return tuple(self._told)

    def _beside(self, packs: Sequence[Pack]) -> Plugged:
        """What plugins offer beside these packs; what of it a pack's own name rules out is a fault of the plugin."""
        return self._beside_names(_names(packs))

    def _beside_names(self, names: frozenset[str]) -> Plugged:
        offers = beside(self.plugged, names)
        self._told |= dict.fromkeys(offers.faults)
        return offers

    def _pack_files(self, near: Path | None) -> PackFiles:
        folders = self.folders
        if folders is None:
            folders = () if near is None else pack_folders(near)
        if folders not in self._files:
            self._files[folders] = PackFiles(folders, self.plugged.pack_folders, files=self.files, texts=self.texts)
        return self._files[folders]


def _read(source: bytes | Fault, path: Path | None, name: str) -> tuple[RawSheet | None, Faults]:
    """A sheet with the register that it names, and what is wrong with either."""
    if isinstance(source, Fault):
        return None, (source,)
    from specrules.sheet import read_sheet

    raw, faults = read_sheet(source, name)
    if raw is None or not raw.model.gauges_from:
        return raw, faults
    from specrules.effects.register_file import register_for  # most sheets name none

    register, wrong = register_for(raw.model.gauges_from, path)
    return raw._replace(register=register), (*faults, *wrong)


def _names(packs: Sequence[Pack]) -> frozenset[str]:
    """What packs call things, rules aside."""
    sections = (known for pack in packs for part, known in pack.sections.items() if part != "rules")
    return frozenset(str(name) for known in sections for name in known)


def _hides(name: str, nearest: str, rest: Sequence[str]) -> Relaxation:
    place = Place(nearest, 0, 0)
    title, was = f"The pack {name}", " or ".join(rest)
    return Relaxation(Relaxed.SAME_NAME, "pack", name, title, "", was, nearest, name, name, "", place)


def _from(path: Path, near: Path | None) -> str:
    """A path as it is seen from a sheet, or from a folder."""
    if near is None:
        return str(path)
    start = near if near.is_dir() else near.parent
    return Path(os.path.relpath(path.resolve(), start.resolve())).as_posix()


def _without_packs(raw: RawSheet) -> Fault:
    """The fault of a sheet that nothing could be held against: judged so, nothing would hold its job."""
    said = "names no tolerance pack to be judged by"
    return Fault(Place(raw.file, 0, 0), "packs", Code.MISSING_KEY, said, "packs: [general]")


def _decision_faults(raw: RawSheet) -> list[Fault]:
    said = raw.model.decision
    if not said or said in DECISION_RULES:
        return []
    write = nearest(said, DECISION_RULES) or " or ".join(DECISION_RULES)
    return [Fault(said.place, "decision", Code.NOT_A_CHOICE, f'"{said}" is no decision rule', write, "sheet")]
