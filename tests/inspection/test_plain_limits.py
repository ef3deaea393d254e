"""A limit that is a plain number is held against a value by a shorter way; it must lead where the long way leads."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from specrules.inspection import Options
from tests.inspecting import finding, inspected

PACK = """\
specrules: tolerance-pack/1
group: Fits
pack: {name: gauged, version: "1", title: A fit, unit: mm}
axes: {place: {names: [a, b, c]}}
gauge classes:
  dial: {resolution: 0.01 mm, mpe: 0.01 mm, repeatability: 0.004 mm, source: {kind: from memory}}
measurands:
  hole: {at: place, unit: mm, gauge classes: [dial]}
  shaft: {at: place, unit: mm}
rules:
"""
RULE = """\
  {name}:
    title: Fit
    formula: {formula}
    unit: mm
    limits: {{least: "{least}", most: "{most}", wear most: "{most} + 0.02 mm"}}
    importance: minor
    source: {{kind: house}}
    worked: [{{given: {{readings: {{shaft: {{a: 1.0}}}}}}, expect: {{verdict: not measured}}}}]
"""
FORMULAS = ("largest(hole)", "smallest(hole) - largest(shaft)", "mean(hole) - mean(shaft)", "spread(hole)")
HUNDREDTHS = st.integers(2000, 2006).map(lambda number: f"{number / 100:.2f}")
WRITTEN = HUNDREDTHS | HUNDREDTHS.map(lambda low: f"{low}..{float(low) + 0.03:.2f}") | st.just("under 20.02")
DECISIONS = st.sampled_from(["simple", "guarded", "iso-14253-1", "conformance-95"])


@pytest.mark.second_lane
@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.lists(WRITTEN, min_size=3, max_size=3),
    st.lists(HUNDREDTHS, min_size=3, max_size=3),
    st.sampled_from(FORMULAS),
    DECISIONS,
)
def test_a_plain_number_and_a_formula_that_comes_to_it_decide_alike(
    holes: list[str], shafts: list[str], formula: str, decision: str
) -> None:
    """The second rule adds nothing times a reading to each limit, so that the limits are no plain numbers to it."""
    least, most = ("0.00 mm", "0.04 mm") if formula != FORMULAS[0] else ("20.01 mm", "20.05 mm")
    nothing = "0 * shaft[a]"
    plain = RULE.format(name="plain", formula=formula, least=least, most=most)
    long = RULE.format(name="long", formula=formula, least=f"{least} + {nothing}", most=f"{most} + {nothing}")
    rows = (
        f"{name}: {{{', '.join(f'{at}: {text}' for at, text in zip('abc', texts, strict=True))}}}"
        for name, texts in (("hole", holes), ("shaft", shafts))
    )
    sheet = f"specrules: build-sheet/1\npacks: [gauged]\nunit: mm\nreadings: {{{', '.join(rows)}}}\n"
    found = inspected(sheet, {"gauged": PACK + plain + long}, Options(decision=decision))
    one, other = finding(found, "plain"), finding(found, "long")
    assert one.margins == other.margins
    assert (one.verdict, one.beyond, one.beyond_at_most, one.conformance) == (
        other.verdict, other.beyond, other.beyond_at_most, other.conformance,
    )  # fmt: skip
    assert one.limits == other.limits
