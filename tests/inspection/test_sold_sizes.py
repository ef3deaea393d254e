"""The size that is sold: the one that brings the value nearest its aim and inside, or that there is none."""

from __future__ import annotations

from decimal import Decimal

import pytest

from specrules.inspection import Options, WholeFinding
from specrules.output.telling import step_text
from specrules.vocabulary import Code, Verdict
from tests.inspecting import finding, inspected
from tests.pack.small_packs import faults_of

PACK = """\
specrules: tolerance-pack/1
pack: {name: shims, version: "1", title: Lash by shims, unit: mm}
measurands:
  lash: {title: Lash, unit: mm, usual: 0..1 mm, may be negative: yes}
  shim_fitted: {title: Shim fitted, unit: mm, usual: 1..4 mm}
tables:
  gasket:
    keys: {mark: choice}
    columns: {thickness: mm}
    rows: {one: 1.10, two: 1.20, three: 1.35}
    source: {kind: house}
sold:
  lash_shims: {title: Shim, sizes: 2.00..3.20 mm by 0.05 mm, source: {kind: house}}
  gaskets: {column: gasket_thickness, source: {kind: house}}
  inch_shims: {sizes: [2.00..3.20 mm by 0.05 mm, 0.080..0.120 in by 0.002 in], source: {kind: house}}
rules:
  valve_lash:
    title: Valve lash
    formula: lash
    unit: mm
    words: tight/loose
    limits: {least: 0.15 mm, aim: 0.20 mm, most: 0.25 mm}
    importance: major
    remedy:
      otherwise:
        - {do: "fit the shim of {lash_shims}", one of: lash_shims, moves: shim_fitted - lash_shims}
        - Grind the stem.
    source: {kind: house}
    worked:
      - given: {readings: {lash: 0.20}}
        expect: {verdict: in spec}
"""


def lash(readings: str, pack: str = PACK, unit: str = "mm") -> WholeFinding:
    text = f"specrules: build-sheet/1\npacks: [shims]\nunit: {unit}\nreadings: {{{readings}}}\n"
    return finding(inspected(text, {"shims": pack}, Options(decision="simple")), "valve_lash")


@pytest.mark.parametrize(
    ("read", "fitted", "shim", "then"),
    [
        ("0.10", "2.50", "2.4 mm", "0.20"),
        ("0.12", "2.50", "2.4 mm", "0.22"),
        ("0.13", "2.50", "2.45 mm", "0.18"),
        ("0.40", "2.60", "2.8 mm", "0.20"),
        ("0.35", "2.63", "2.8 mm", "0.18"),  # one that is fitted need not be one that is sold
    ],
)
def test_the_size_that_comes_nearest_the_aim_is_told(read: str, fitted: str, shim: str, then: str) -> None:
    found = lash(f"lash: {read}, shim_fitted: {fitted}")
    (step,) = found.steps
    assert (step.do, step.value, step.verdict) == (f"fit the shim of {shim}", Decimal(then), Verdict.IN_SPEC)
    assert step_text(step, found) == f"fit the shim of {shim}, then {then} (in spec)"
    assert found.otherwise == ""


def test_where_no_size_is_enough_that_is_said_and_the_rest_stands() -> None:
    found = lash("lash: 0.10, shim_fitted: 2.00")
    (step,) = found.steps
    assert (step.none_of, step.verdict) == ("Shim", None)
    assert step_text(step, found) == "no shim that is sold brings it inside"
    assert found.otherwise == "Grind the stem."


def test_what_is_fitted_has_to_be_known() -> None:
    (step,) = lash("lash: 0.10").steps
    assert (step.do, step.verdict, step.none_of) == ("fit the shim of (Shim)", None, "")


def test_without_an_aim_the_middle_is_aimed_at_and_with_one_limit_the_least_change() -> None:
    middle = PACK.replace("least: 0.15 mm, aim: 0.20 mm, most: 0.25 mm", "least: 0.10 mm, most: 0.34 mm")
    assert lash("lash: 0.40, shim_fitted: 2.50", middle).steps[0].do == "fit the shim of 2.7 mm"  # 0.20 of 0.22
    one = PACK.replace("least: 0.15 mm, aim: 0.20 mm, most: 0.25 mm", "most: 0.25 mm")
    assert lash("lash: 0.40, shim_fitted: 2.50", one).steps[0].do == "fit the shim of 2.65 mm"


def test_sizes_may_be_a_column_of_a_table() -> None:
    gaskets = PACK.replace("{lash_shims}", "{gaskets}").replace("one of: lash_shims", "one of: gaskets")
    gaskets = gaskets.replace("shim_fitted - lash_shims", "shim_fitted - gaskets")
    assert lash("lash: 0.40, shim_fitted: 1.10", gaskets).steps[0].do == "fit the shim of 1.35 mm"  # 0.15: just inside
    assert lash("lash: 0.30, shim_fitted: 1.10", gaskets).steps[0].do == "fit the shim of 1.2 mm"


def test_a_sheet_in_inches_is_offered_what_is_sold_in_inches() -> None:
    pack = PACK.replace("{lash_shims}", "{inch_shims}").replace("one of: lash_shims", "one of: inch_shims")
    pack = pack.replace("shim_fitted - lash_shims", "shim_fitted - inch_shims")
    assert lash("lash: 0.004, shim_fitted: 0.100", pack, "in").steps[0].do == "fit the shim of 0.096 in"
    assert lash("lash: 0.10, shim_fitted: 2.50", pack).steps[0].do == "fit the shim of 2.4 mm"


@pytest.mark.parametrize(
    ("good", "bad", "code", "said"),
    [
        ("one of: lash_shims", "one of: lash_shim", Code.UNKNOWN_NAME, "is no thing that is sold; write lash_shims"),
        ("of {lash_shims}", "of the right size", Code.MISSING_KEY, "does not tell the size; write {lash_shims} in it"),
        ("moves: shim_fitted - lash_shims", "moves: -0.05 mm", Code.KEYS_DISAGREE, "moves by the same whatever"),
        (", moves: shim_fitted - lash_shims", "", Code.MISSING_KEY, "does not say by how much a size moves the value"),
        ("2.00..3.20 mm by 0.05 mm, source", "2.00..3.20 mm, source", Code.NOT_A_NUMBER, "lash_shims sizes"),
        (
            "column: gasket_thickness",
            "column: gasket_thicknes",
            Code.UNKNOWN_NAME,
            "is no column of figures; write gasket_",
        ),
        ("{column: gasket_thickness,", "{", Code.KEYS_DISAGREE, "has neither sizes nor a column of them"),
        ("lash_shims: {title", "shim_fitted: {title", Code.NAME_TAKEN, ""),
        ("formula: lash\n", "formula: lash - lash_shims\n", Code.UNKNOWN_NAME, ""),
    ],
)
def test_what_is_wrong_with_it_is_a_fault(good: str, bad: str, code: Code, said: str) -> None:
    found = faults_of(PACK.replace(good, bad, 1))
    assert (found[0].code, said in found[0].sentence()) == (code, True), [fault.sentence() for fault in found]
