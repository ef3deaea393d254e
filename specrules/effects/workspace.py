"""From files and texts to sheets and specifications: packs are loaded, and made a specification of, once a run."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, NamedTuple

from specrules import VERSION
from specrules.document import Fault
from specrules.effects.cache import PlanCache, program_state
from specrules.effects.files import read_bytes
from specrules.effects.pack_files import PackFiles, pack_folders
from specrules.pack import Stack
from specrules.plan import Plan, keep, key_of, restore
from specrules.plugins import Plugged, beside, installed, plug
from specrules.quantity import nearest, using
from specrules.sheet import RawSheet, Sheet, read_sheet, settle
from specrules.vocabulary import DECISION_RULES

if TYPE_CHECKING:
    from specrules.inspection.between import Comparison
    from specrules.pack.reading import Pack
    from specrules.proving import Proof

Faults = tuple[Fault, ...]
Folders = tuple[Path, ...]


class Loaded(NamedTuple):
    """A sheet against its stack; None where there are faults."""

    sheet: Sheet | None
    stack: Stack | None
    faults: Faults


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
        self._stacks: dict[tuple[tuple[str, ...], Folders], tuple[Stack | None, Faults]] = {}

    def names(self, near: Path | None) -> tuple[str, ...]:
        """Every pack that may be named here."""
        return self._pack_files(near).names()

    def packs(self, asked: Sequence[str], near: Path | None) -> tuple[tuple[Pack, ...], Faults]:
        """The packs themselves, with all that they build on."""
        return self._pack_files(near).load(asked)

    def stack(self, asked: Sequence[str], near: Path | None) -> tuple[Stack | None, Faults]:
        """The stack of these packs; their worked examples and exercises may be left out of it.

        A stack is shared by sheets; a pack that one of them misnames is that sheet's fault, at its own line.
        """
        files, names = self._pack_files(near), tuple(map(str, asked))
        known = (names, tuple(files.folders))
        if known not in self._stacks:
            there, unknown = files.there(asked)
            if unknown:
                return None, (*unknown, *self.stack(there, near)[1])
            key = self._key(names, files) if self.cache is not None else None
            self._stacks[known] = self._restored(key) or self._compiled(names, near, key)
        return self._stacks[known]

    def taught(self, asked: Sequence[str], near: Path | None) -> tuple[Stack | None, Faults]:
        """The same with all its examples and exercises."""
        return self._compiled(asked, near, None)

    def _compiled(self, asked: Sequence[str], near: Path | None, key: str | None) -> tuple[Stack | None, Faults]:
        packs, faults = self.packs(asked, near)
        stacked, faults = (None, faults) if faults else self._stacked(packs, asked)
        if stacked is not None and key is not None and self.cache is not None:
            self.cache.write(key, keep(key, Plan(stacked, _names(packs))))
        return stacked, faults

    def _restored(self, key: str | None) -> tuple[Stack, Faults] | None:
        """The stack that was kept under a key; None where none was, or there is any doubt of it."""
        if self.cache is None or key is None:
            return None
        with using(self.plugged.units):
            plan = restore(key, self.cache.read(key), lambda names: beside(self.plugged, names).functions)
        if plan is None:
            return None
        self._set_aside(plan.names)
        return plan.specification, ()

    def _key(self, asked: Sequence[str], files: PackFiles) -> str | None:
        """What a plan is kept under: the digest of all that goes into it; None where a pack cannot be read."""
        read = files.read()
        if read is None:
            return None
        offered = (*self.plugged.plugins, *sorted(self.plugged.functions), *sorted(self.plugged.gauge_classes))
        packs = (part for label, raw in read for part in (label, raw))
        return key_of((VERSION, program_state(), str(len(asked)), *asked, str(len(offered)), *offered, *packs))

    def load(self, path: Path, name: str, add: Sequence[str] = ()) -> Loaded:
        """Read a sheet, find its packs, settle the one against the other; every fault of each in one answer."""
        source = read_bytes(path, name)
        return Loaded(None, None, (source,)) if isinstance(source, Fault) else self.settle(source, path, name, add)

    def settle(self, source: bytes, path: Path | None, name: str, add: Sequence[str] = ()) -> Loaded:
        """The same for a sheet's text, which stands or is to stand at a path (None: at none)."""
        raw, faults = read_sheet(source, name)
        if raw is None:
            return Loaded(None, None, faults)
        faults += tuple(_decision_faults(raw))
        stacked, more = self.stack((*raw.model.packs, *add), path)
        if stacked is None:
            return Loaded(None, None, faults + more)
        with using(self.plugged.units):
            sheet, more = settle(raw, stacked)
        every = tuple(dict.fromkeys((*faults, *more)))
        return Loaded(None if every else sheet, stacked, every)

    def compare(self, path: Path, name: str, stacks: tuple[Stack, Stack]) -> tuple[Comparison | None, Faults]:
        """What differs where a sheet is judged by each of two stacks, whatever packs it names itself."""
        from specrules.inspection import inspect
        from specrules.inspection.between import between
        from specrules.sheet.paring import pared

        source = read_bytes(path, name)
        raw, faults = (None, (source,)) if isinstance(source, Fault) else read_sheet(source, name)
        if raw is None:
            return None, faults
        with using(self.plugged.units):
            settled = [settle(pared(raw, *pair), pair[0]) for pair in (stacks, stacks[::-1])]
            every = tuple(dict.fromkeys((*faults, *(fault for _, found in settled for fault in found))))
            (one, _), (other, _) = settled
            if every or one is None or other is None:
                return None, every
            return between(inspect(one, stacks[0]), inspect(other, stacks[1])), ()

    def prove(self, packs: Sequence[Pack], name: str) -> Proof:
        """The proof of one of these packs, loaded with their examples."""
        from specrules.proving import prove

        offers = self._beside(packs)
        with using(offers.units):
            return prove(packs, name, offers.functions, offers.gauge_classes)

    @property
    def faults(self) -> Faults:
        """The plugins that were set aside, so far: they change no verdict and no status."""
        return self.plugged.faults

    def _stacked(self, packs: Sequence[Pack], asked: Sequence[str]) -> tuple[Stack | None, Faults]:
        from specrules.pack.stacking import stack  # most runs have a plan, and compile nothing

        offers = self._beside(packs)
        with using(offers.units):
            return stack(packs, asked, offers.functions, offers.gauge_classes)

    def _beside(self, packs: Sequence[Pack]) -> Plugged:
        """What plugins offer beside these packs; what of it a pack's own name rules out is a fault of the plugin."""
        return self._set_aside(_names(packs))

    def _set_aside(self, names: frozenset[str]) -> Plugged:
        offers = beside(self.plugged, names)
        self.plugged = self.plugged._replace(faults=offers.faults)
        return offers

    def _pack_files(self, near: Path | None) -> PackFiles:
        folders = self.folders
        if folders is None:
            folders = () if near is None else pack_folders(near)
        return PackFiles(folders, self.plugged.pack_folders, files=self.files, texts=self.texts)


def _names(packs: Sequence[Pack]) -> frozenset[str]:
    """What packs call things, rules aside."""
    sections = (known for pack in packs for part, known in pack.sections.items() if part != "rules")
    return frozenset(str(name) for known in sections for name in known)


def _decision_faults(raw: RawSheet) -> list[Fault]:
    said = raw.model.decision
    if not said or said in DECISION_RULES:
        return []
    write = nearest(said, DECISION_RULES) or " or ".join(DECISION_RULES)
    return [Fault(said.place, "decision", f'"{said}" is no decision rule', write, "sheet")]
