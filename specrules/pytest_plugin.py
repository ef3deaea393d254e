"""Build sheets and the worked examples of packs as items of pytest: `pytest -p specrules.pytest_plugin jobs packs`.

It is loaded only where it is asked for so, and pytest is asked for by nothing else of the program. A sheet passes where
the command would end with status 0. It fails where something holds its job; where it is at fault, or what it waits for
is not decided, that is an error and no failure, and never a pass. What is asked of it the sheet says itself: `until`,
`scope` and `decision`.

Nothing is skipped, since servers show that as green.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property, lru_cache
from pathlib import Path, PurePath
from typing import NoReturn

import pytest

from specrules.api import FilesAtFault, examine
from specrules.document import Place
from specrules.effects.cache import user_cache
from specrules.effects.pack_files import SUFFIX, pack_folders
from specrules.effects.workspace import Workspace
from specrules.inspection import Examination
from specrules.output.console import screen
from specrules.output.proof import remark_text
from specrules.output.terminal import text_of
from specrules.pack import Specification
from specrules.proving import Proof, ProofRemark
from specrules.proving.prover import own_rules

SHEET = ".sheet.yaml"


def pytest_collect_file(file_path: Path, parent: pytest.Collector) -> pytest.Collector | None:
    """Sheets and packs by the ends of their names."""
    if file_path.name.endswith(SHEET):
        return SheetNode.from_parent(parent, path=file_path)
    if file_path.name.endswith(SUFFIX):
        return PackNode.from_parent(parent, path=file_path)
    return None


class NamedItem(pytest.Item):
    """An item that says where it stands, and what it is called."""

    def reportinfo(self) -> tuple[Path, int | None, str]:
        """As pytest asks for it."""
        return self.path, None, f"{self.path.name}, {self.name}"


class SheetNode(pytest.File):
    """A build sheet."""

    def collect(self) -> Iterator[pytest.Item]:
        """One item: whether the work may go on."""
        yield InspectionItem.from_parent(self, name="inspection")


class InspectionItem(NamedItem):
    """A sheet judged."""

    examined: Examination | None = None

    def setup(self) -> None:
        """Judge it. What cannot be decided is no failure of the part, and ends here."""
        try:
            self.examined = examine(self.path)
        except FilesAtFault as wrong:
            _tell(str(wrong))
        if self.examined.report.verdict == "open":
            _tell(_shown(self.examined))

    def runtest(self) -> None:
        """Fail where something holds the job."""
        assert self.examined is not None
        if self.examined.report.verdict == "held":
            _tell(_shown(self.examined))


class PackNode(pytest.File):
    """A file of a tolerance pack."""

    @cached_property
    def folder_and_name(self) -> tuple[Path, str]:
        """Where the pack is looked for first, and its name: that of its folder where it is one of several files."""
        folder = self.path.parent
        if folder.parent.name == "packs":
            return folder.parent, folder.name
        return folder, self.path.name.removesuffix(SUFFIX)

    def collect(self) -> Iterator[pytest.Item]:
        """An item for each worked example of the file, and one for all else that proving it shows."""
        workspace, name = _workspace(*self.folder_and_name)
        spec, faults = workspace.taught((name,), self.path.parent)
        if spec is None:
            raise self.CollectError("\n".join(fault.sentence() for fault in faults))
        for rule, number in self._examples(spec, name):
            yield ExampleItem.from_parent(self, name=f"{rule}, example {number}")
        yield ProofItem.from_parent(self, name="limits and slips")

    def _examples(self, spec: Specification, name: str) -> Iterator[tuple[str, int]]:
        for rule in own_rules(spec, name):
            for number, worked in enumerate(rule.worked, 1):
                if self.has(worked.place):
                    yield rule.name, number

    def has(self, place: Place) -> bool:
        """Whether something stands in this file of the pack, or in none."""
        return not place.file or PurePath(place.file).name == self.path.name

    def wrong(self) -> list[ProofRemark]:
        """What proving the pack finds wrong in this file."""
        proof = _proof(*self.folder_and_name)
        if proof.faults:
            _tell("\n".join(fault.sentence() for fault in proof.faults))
        return [remark for remark in proof.remarks if remark.wrong and self.has(remark.place)]


class ExampleItem(NamedItem):
    """A worked example of a rule."""

    def runtest(self) -> None:
        """Fail where it does not come out."""
        assert isinstance(self.parent, PackNode)
        _fail([each for each in self.parent.wrong() if (each.kind, each.subject) == ("example", self.name)])


class ProofItem(NamedItem):
    """All that proving a pack finds wrong besides worked examples of rules."""

    def runtest(self) -> None:
        """Fail where there is any."""
        assert isinstance(self.parent, PackNode)
        _fail([each for each in self.parent.wrong() if each.kind != "example"])


def _fail(remarks: list[ProofRemark]) -> None:
    if remarks:
        _tell("\n".join(map(remark_text, remarks)))


def _tell(text: str) -> NoReturn:
    """End an item with this text, and no trace through the program: a failure of its run, an error before that."""
    pytest.fail(text, pytrace=False)


def _shown(examined: Examination) -> str:
    return text_of(screen(examined.report, examined.whole))


@lru_cache(maxsize=16)
def _workspace(folder: Path, name: str) -> tuple[Workspace, str]:
    folders = dict.fromkeys((folder, *pack_folders(folder)))
    return Workspace(tuple(folders), plugins=True, cache=user_cache()), name


@lru_cache(maxsize=16)
def _proof(folder: Path, name: str) -> Proof:
    workspace, _ = _workspace(folder, name)
    packs, faults = workspace.packs((name,), folder)
    return Proof(name, faults, (), {}) if faults else workspace.prove(packs, name, folder)
