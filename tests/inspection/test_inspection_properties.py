"""What must hold for any readings: exact limits in any unit, no dependence on order, nothing false from holes."""

from __future__ import annotations

from decimal import Decimal, localcontext
from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.inspection import Options, Report
from specrules.vocabulary import BEYOND, Verdict
from tests.inspecting import finding, inspected
from tests.inspection.small_build import build, fit, over, readings

PER_UNIT = {"in": Decimal("25.4"), "thou": Decimal("0.0254"), "mm": Decimal(1), "um": Decimal("0.001")}
UNITS = st.sampled_from([*PER_UNIT])


def written(value: Decimal, unit: str) -> str:
    """A length in mm, written exactly in a unit, to more places than any tolerance here needs."""
    with localcontext() as context:
        context.prec = 60
        number = value / PER_UNIT[unit]
        assert number * PER_UNIT[unit] == value
    return f"{number:.12f} {unit}"


# a whole number of 0.127 um is exact in inches and in millimetres
steps = st.integers(min_value=1, max_value=200_000).map(lambda number: number * Decimal("0.000127"))
sizes = st.integers(min_value=250_000, max_value=800_000).map(lambda number: number * Decimal("0.000127"))
ON_LIMIT = """\
specrules: tolerance-pack/1
group: Fits
pack: {{name: exact, version: "1", title: One limit, unit: in}}
axes: {{place: {{names: [{places}]}}}}
measurands:
  hole: {{at: [place], unit: in}}
  shaft: {{at: [place], unit: in}}
rules:
  fit:
    title: Fit
    formula: {formula}
    unit: in
    limits: {{{side}: {limit}}}
    importance: minor
    source: {{kind: house}}
    worked: [{{given: {{readings: {{shaft: {{a: 1.0}}}}}}, expect: {{verdict: not measured}}}}]
"""


def on_limit(
    formula: str, side: str, limit: str, holes: list[str], shafts: list[str], sheet_unit: str = "in"
) -> Report:
    """One sheet whose value lies on its one limit, or a hair off."""
    places = "abcdefg"[: len(holes)]
    pack = ON_LIMIT.format(places=", ".join(places), formula=formula, side=side, limit=limit)
    each = {
        name: ", ".join(f"{place}: {text}" for place, text in zip(places, texts, strict=True))
        for name, texts in (("hole", holes), ("shaft", shafts))
    }
    body = f"readings:\n  hole: {{{each['hole']}}}\n  shaft: {{{each['shaft']}}}\n"
    return inspected(f"specrules: build-sheet/1\npacks: [exact]\nunit: {sheet_unit}\n{body}", {"exact": pack})


@given(sizes, steps, UNITS, UNITS, UNITS, st.sampled_from(["least", "most"]))
def test_on_a_limit_is_in_spec_in_any_mix_of_units(
    shaft: Decimal, limit: Decimal, of_hole: str, of_shaft: str, of_limit: str, side: str
) -> None:
    """Hazard: 722 of 1200 such pairs fail in binary arithmetic though they meet their limit exactly."""
    holes, shafts = [written(shaft + limit, of_hole)], [written(shaft, of_shaft)]
    found = finding(on_limit("largest(hole) - largest(shaft)", side, written(limit, of_limit), holes, shafts), "fit")
    assert found.verdict is Verdict.IN_SPEC
    assert [margin.value for margin in found.margins] == [0]


@given(sizes, steps, UNITS, st.sampled_from(["least", "most"]), st.integers(min_value=1, max_value=9))
def test_a_hair_off_a_limit_is_told(shaft: Decimal, limit: Decimal, unit: str, side: str, hair: int) -> None:
    """A millionth of a tenth of a micrometre is enough, in either direction."""
    off = Decimal(hair) * Decimal("1.27e-10") * (1 if side == "most" else -1)
    formula = "largest(hole) - largest(shaft)"
    verdicts = []
    for by in (off, -off):
        holes, shafts = [written(shaft + limit + by, unit)], [written(shaft, unit)]
        verdicts.append(finding(on_limit(formula, side, written(limit, unit), holes, shafts), "fit").verdict)
    assert verdicts == [Verdict.OUT, Verdict.IN_SPEC]


@given(
    st.sampled_from([3, 6, 7]),
    st.lists(st.integers(min_value=-300, max_value=300), min_size=7, max_size=7),
    sizes,
    steps,
    UNITS,
    st.sampled_from(["least", "most"]),
)
def test_on_a_limit_after_a_mean_of_three_six_or_seven(
    many: int, off: list[int], shaft: Decimal, limit: Decimal, unit: str, side: str
) -> None:
    """Such means are no finite decimals, yet their sums balance: what lies on the limit is in spec."""
    near = [shaft + limit + each * Decimal("0.000127") for each in off[: many - 1]]
    near.append((shaft + limit) * many - sum(near))
    holes, shafts = [written(each, unit) for each in near], [written(shaft, unit)] * many
    for formula in ("mean(hole) - mean(shaft)", "mean(hole - shaft)", f"sum(hole) / {many} - sum(shaft) / {many}"):
        found = finding(on_limit(formula, side, written(limit, unit), holes, shafts), "fit")
        assert found.verdict is Verdict.IN_SPEC, (formula, found.margins)


@pytest.mark.parametrize("whole", range(0, 400, 7))
def test_the_public_grid_of_exact_clearances(whole: int) -> None:
    """Journals from 10.000 in by thousandths and a clearance of 0.025, 0.050 or 0.075, where floats fail."""
    for clearance in ("0.025", "0.050", "0.075"):
        shaft = Decimal("10.000") + Decimal(whole) / 1000
        holes = [f"{shaft + Decimal(clearance)}"]
        found = on_limit("largest(hole) - largest(shaft)", "most", f"{clearance} in", holes, [f"{shaft}"])
        assert finding(found, "fit").verdict is Verdict.IN_SPEC


ENTRIES = ("1: 0.0012", "2: 0.0020", "3: 0.0031", "4: 0.0028 ±0.0003")
SECTIONS = ("dial", "shaft", "float", "stand")
AS_WRITTEN = {
    "shaft": "shaft: {1: [2.0000, 2.0001], 3: [1.9999, 2.0006]}",
    "float": "float: 0.0079 ±0.0002",
    "stand": "stand: 0.0100",
}


@cache
def in_order(sections: tuple[str, ...], entries: tuple[str, ...]) -> list[tuple[str, dict[str, str], str, str]]:
    written_so = {**AS_WRITTEN, "dial": f"dial: {{{', '.join(entries)}}}"}
    found = readings(", ".join(written_so[section] for section in sections), options=Options(decision="guarded"))
    return [(each.rule, dict(each.station), str(each.verdict), str(each.beyond)) for each in found.findings]


@given(st.permutations(SECTIONS), st.permutations(ENTRIES))
def test_the_order_of_keys_changes_nothing(sections: list[str], entries: list[str]) -> None:
    assert in_order(tuple(sections), tuple(entries)) == in_order(SECTIONS, ENTRIES)


@given(
    st.integers(min_value=0, max_value=60),
    st.integers(min_value=0, max_value=8),
    st.sampled_from(["simple", "guarded"]),
)
def test_the_unit_of_the_sheet_changes_nothing(clearance: int, U: int, decision: str) -> None:
    """The same clearance and U in inches, thou and millimetres, in a sheet of inches and one of millimetres."""
    value, spread = Decimal(clearance) * Decimal("0.00254"), Decimal(U) * Decimal("0.00254")
    found = []
    for unit in ("in", "thou", "mm"):
        stated = f" ±{written(spread, unit)}" if U else ""
        for sheet in ("in", "mm"):
            dial = f"dial: {{1: {written(value, unit)}{stated}}}"
            one = fit(readings(dial, unit=sheet, options=Options(decision=decision)))
            value_in_mm = None if one.value is None else one.unit.to_base(one.value)
            in_mm = [None if each is None else one.unit.difference_to_base(each) for each in (one.beyond, one.U)]
            found.append((one.verdict, one.side, value_in_mm, *in_mm))
    assert len(set(found)) == 1, found


LIMITS = st.tuples(st.integers(min_value=5, max_value=20), st.integers(min_value=20, max_value=40))


@pytest.mark.second_lane
@given(st.lists(LIMITS, min_size=2, max_size=3), st.integers(min_value=0, max_value=50), st.randoms())
def test_the_order_of_independent_packs_changes_nothing(
    bands: list[tuple[int, int]], dial: int, shuffle: object
) -> None:
    packs = {
        f"p{number}": over(f"p{number}", f"[{{name: base, least: 0.00{least:02} in, most: 0.00{most:02} in}}]")
        for number, (least, most) in enumerate(bands)
    }
    order = list(packs)
    shuffle.shuffle(order)  # type: ignore[attr-defined]  # a random.Random
    said = []
    for asked in ([*packs], order):
        found = build(f"readings: {{dial: {{1: 0.00{dial:02}}}}}", *asked, packs=packs)
        one = fit(found)
        said.append(
            (one.verdict, one.would_be, one.beyond, one.side, {b.pack: b.verdict for b in one.beside}, found.counts)
        )
    assert said[0] == said[1]


DIALS = st.lists(st.integers(min_value=5, max_value=35), min_size=3, max_size=5)


@given(DIALS, st.sets(st.integers(min_value=0, max_value=4)), st.sampled_from(["simple", "guarded"]))
def test_missing_stations_never_decide_against_the_full_data(dials: list[int], gone: set[int], decision: str) -> None:
    """What a half-measured build is told stays true when the rest is measured."""

    def findings(missing: set[int]) -> Report:
        dial = ", ".join(
            f"{number}: {'open' if number - 1 in missing else f'0.00{tenths:02} ±0.0002'}"
            for number, tenths in enumerate(dials, 1)
        )
        facts = f"block: iron, boosted: no, mains: {len(dials)}"
        return readings(f"dial: {{{dial}}}", facts=facts, options=Options(decision=decision))

    full, part = findings(set()), findings(gone)
    for whole, half in zip(full.findings, part.findings, strict=True):
        assert (whole.rule, whole.station) == (half.rule, half.station)
        if half.verdict in BEYOND:
            assert whole.verdict in BEYOND
            assert half.beyond is not None
            assert whole.beyond is not None
            assert whole.side == half.side
            assert whole.beyond >= half.beyond
        elif half.verdict in (Verdict.IN_SPEC, Verdict.JUST_IN):
            assert whole.verdict is half.verdict
    if gone & set(range(len(dials))):
        spread = finding(part, "fit_spread", main_class="all")
        assert spread.verdict in (Verdict.NOT_MEASURED, *BEYOND)
