"""The check cases: measured figures and printed limits as they come, and what must be said of each of them.

A case is a file of data beside this one. A value is exact unless `about` stands before it. What cannot be run yet is
listed, with the reason, in later.yaml.
"""

from __future__ import annotations

from typing import Any

import pytest

from tests.cases.casework import FOLDER, case, differences, figures_wrong, load, outcome, remarks_on, spot
from tests.inspecting import words

CASES = tuple(sorted(path.stem for path in FOLDER.glob("c*.yaml")))
ALL = tuple(f"c{number:02}" for number in range(1, 36))
SHEETS = [
    pytest.param(name, variant, id=f"{name} {variant}") for name in CASES for variant in case(name).get("sheets", ())
]
PROOFS = [
    pytest.param(name, variant, id=f"{name} {variant}") for name in CASES for variant in case(name).get("proofs", ())
]
MADE_OF = {"adds", "sheet", "from", "change", "packs", "decision"}
KEYS = MADE_OF | {"expect", "figures", "suspects", "loosened", "faults", "remarks"}
LATER = load(FOLDER / "later.yaml")


@pytest.mark.parametrize(("name", "variant"), SHEETS)
def test_case(name: str, variant: str) -> None:
    """Everything that the case says of this sheet comes out, and nothing else looks like a slip."""
    wanted: dict[str, Any] = case(name)["sheets"][variant]
    found = outcome(name, variant)
    assert set(wanted) <= KEYS
    if "faults" in wanted:
        assert len(found.faults) == len(wanted["faults"]), found.faults
        assert [said for said, part in zip(found.faults, wanted["faults"], strict=True) if part not in said] == []
        return
    assert found.inspection is not None, found.faults
    said = [each for expected in wanted.get("expect", ()) for each in differences(found.inspection, expected)]
    said += figures_wrong(found.inspection, wanted.get("figures", ()))
    assert said == []
    assert [spot(suspect) for suspect in found.inspection.suspects] == wanted.get("suspects", [])
    remarks = words(found.inspection.remarks)
    assert [part for part in wanted.get("remarks", ()) if not any(part in remark for remark in remarks)] == [], remarks
    if "loosened" in wanted:
        assert [f"{each.pack}: {each.name} {each.part}" for each in found.inspection.ledger] == wanted["loosened"]
    assert wanted.get("expect") or wanted.get("figures"), "expects nothing"


@pytest.mark.parametrize(("name", "variant"), PROOFS)
def test_printed_line(name: str, variant: str) -> None:
    """What is wrong with a printed line is found when its pack is proven, before any reading is judged."""
    wanted = case(name)["proofs"][variant]
    wrong, asked = remarks_on(wanted["pack"])
    for said, parts in ((wrong, wanted["wrong"]), (asked, wanted.get("asks", []))):
        assert len(said) == len(parts), said
        assert [each for each, part in zip(said, parts, strict=True) if part not in each] == []


@pytest.mark.parametrize("name", CASES)
def test_a_case_says_where_it_comes_from(name: str) -> None:
    """Readings and limits that serve as a check must not pass for a specification."""
    assert case(name)["title"]
    assert "public" in case(name)["origin"] or "synthetic" in case(name)["origin"]


@pytest.mark.parametrize("name", ALL)
def test_every_case_is_run_or_put_off_with_a_reason(name: str) -> None:
    """No case drops out of sight."""
    assert name in CASES or LATER[name]


def test_what_is_put_off_is_a_case() -> None:
    """The list of what is put off has nothing in it that is no case."""
    assert set(LATER) <= set(ALL)
    assert all(len(reason) > 20 for reason in LATER.values())
