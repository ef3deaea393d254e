"""A pack from nothing for another trade: it proves, and its sheet is judged, by the language of packs alone.

`python -m tests.packs.test_rear_axle` writes the screen anew.
"""

from __future__ import annotations

from pathlib import Path

from specrules.document import Fields, Items, Node, read
from specrules.effects.workspace import Workspace
from specrules.inspection import Examination
from specrules.output.full_screen import whole_screen
from specrules.output.proof import remark_text
from specrules.output.terminal import text_of
from specrules.pack.language import told_of
from specrules.vocabulary import Verdict

HERE = Path(__file__).parent / "rear_axle"
SHEET, SCREEN = HERE / "rear_axle.sheet.yaml", HERE / "rear_axle.screen.txt"
PACK = HERE / "packs" / "rear_axle.pack.yaml"
REFERENCE = Path(__file__).parents[2] / "packs" / "README.md"
NAMED = ("axes", "facts", "gauge classes", "tables", "measurands", "figures", "sign-offs", "rules", "operations")
OPEN = ("given", "rows", "at", "station", "because", "remedy", "columns", "keys", "sets", "expect")
"""Keys under which names stand that the author gives."""


def examined() -> Examination:
    loaded = Workspace(plugins=False).load(SHEET, SHEET.name)
    assert loaded.sheet is not None, [fault.sentence() for fault in loaded.faults]
    assert loaded.spec is not None
    return Examination(loaded.sheet, loaded.spec)


def shown() -> str:
    found = examined()
    return text_of(list(whole_screen(found.report, found.whole)))


def keys(node: Node, above: str = "") -> set[str]:
    """The keys of the language in a piece of a pack, without the names that its author gives."""
    if isinstance(node, Items):
        return {key for each in node for key in keys(each, above)}
    if not isinstance(node, Fields) or above in OPEN:
        return set()
    own = set() if above in NAMED else {str(key) for key in node}
    return own | {key for name, each in node.items() for key in keys(each, "" if above in NAMED else str(name))}


def test_it_stands_alone_and_proves_and_shows_all_that_it_holds() -> None:
    workspace = Workspace(plugins=False)
    packs, faults = workspace.packs(("rear_axle",), HERE)
    assert faults == ()
    assert [pack.name for pack in packs] == ["rear_axle"]
    proof = workspace.prove(packs, "rear_axle", HERE)
    assert [remark_text(remark) for remark in proof.remarks] == []
    assert proof.sound
    assert (proof.counts["rules"], proof.ledger) == (5, ())


def test_its_sheet_is_judged_by_the_row_of_its_code() -> None:
    found = {(each.rule, *each.station.values()): each for each in examined().report.findings}
    south, north = found["backlash", "south"], found["backlash", "north"]
    assert (south.verdict, south.side) == (Verdict.JUST_OUT, "slack")
    assert (str(south.limits.least), str(south.limits.most)) == ("0.12", "0.18")
    assert north.verdict is Verdict.IN_SPEC
    shim = found["pinion_shim",]
    assert (shim.verdict, shim.side) == (Verdict.OUT, "thin")


def test_its_screen() -> None:
    assert shown() == SCREEN.read_text(encoding="utf-8"), "run python -m tests.packs.test_rear_axle"


def test_every_key_of_it_is_told_by_the_language() -> None:
    tree, faults = read(PACK.read_bytes(), PACK.name, kind="pack")
    assert tree is not None, faults
    reference = REFERENCE.read_text(encoding="utf-8")
    used = keys(tree)
    assert {"wear when", "shift"}.isdisjoint(used)
    assert {"tables", "limits", "worked", "may be negative"} <= used
    assert {key for key in used if not told_of(key, reference)} == set()


if __name__ == "__main__":
    SCREEN.write_text(shown(), encoding="utf-8")
