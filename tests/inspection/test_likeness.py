"""What a station's likeness to another says is what judging it in full says: of every rule, to the last digit."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from decimal import Decimal
from random import Random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from specrules.inspection import DECISIONS, Finding, Inspection, Options, Verdict
from specrules.inspection.likeness import Alike, Likeness
from tests.benchmarks.whole import sheet_text
from tests.inspecting import finding, inspected

HEAD = """\
specrules: tolerance-pack/1
group: Fits
pack: {name: many, version: "1", title: Many stations, unit: mm, wear when: work == refresh}
axes:
  main: {count: mains}
  plane: {names: [front, rear]}
  clock: {names: [a, b]}
facts:
  mains: {kind: count}
  ratio: {kind: number, assumed: "0.002"}
  room: {kind: quantity, unit: mm}
  finish: {kind: choice, at: [main], choices: [ground, turned]}
  work: {kind: choice, choices: [new, refresh]}
  card_size: {kind: quantity, unit: mm}
gauge classes:
  micrometer: {resolution: 0.002 mm, mpe: 0.002 mm, repeatability: 0.001 mm, source: {kind: house}}
  comparator: {resolution: 0.002 mm, mpe: 0.001 mm, repeatability: 0.001 mm, source: {kind: house}}
  tape: {resolution: 1 mm, mpe: 1 percent, repeatability: 0.001 mm, must not decide: [barred], source: {kind: house}}
measurands:
  hole: {at: [main], positions: [plane], unit: mm, usual: 40..60 mm, gauge classes: [comparator, tape]}
  shaft: {at: [main], positions: [plane, clock], unit: mm, usual: 40..60 mm, gauge classes: [micrometer, tape]}
  gap: {at: [main], unit: mm, usual: 0..1 mm, gauge classes: [comparator]}
  direct: {at: [main], unit: mm, usual: 0..1 mm, gauge classes: [comparator]}
sign-offs:
  torqued: {question: "Torqued?", at: [main], importance: major, source: {kind: house}}
figures:
  size:
    title: Size
    each: main
    unit: mm
    ways:
      measured: {formula: mean(shaft)}
      card: {formula: card_size}
  play:
    title: Play
    each: main
    unit: mm
    ways:
      two sizes: {formula: smallest(hole) - largest(shaft), needs: [torqued]}
      by dial: {formula: direct}
"""

PLAIN = {  # rule: (formula, limits, more)
    "fit": ("smallest(hole) - largest(shaft)", "{least: 0.010 mm, aim: 0.030 mm, most: 0.060 mm}", ""),
    "in_proportion": (
        "smallest(hole) - largest(shaft)",
        '{least: "max(0.0004 * mean(shaft), 0.015 mm)", most: "0.0012 * size"}',
        "",
    ),
    "by_ratio": ("gap", '{least: 0 mm, most: "ratio * size"}', ""),
    "halved": ("gap / 2", "{least: 0 mm, aim: 0.01 mm, most: 0.05 mm}", ""),
    "less_room": ("gap - room", '{least: "-1 mm", most: 0.05 mm}', ""),
    "played": ("play", "{least: 0.010 mm, most: 0.060 mm, wear most: 0.070 mm}", ""),
    "signed": ("gap", "{least: 0 mm, most: 0.05 mm}", "needs: [torqued]"),
    "tapered": ("largest(spread(shaft, plane))", "{most: 0.006 mm}", ""),
    "out_of_round": ("spread(spread(shaft, clock))", "{most: 0.006 mm}", ""),
    "of_means": ("spread(mean(shaft, clock))", "{most: 0.006 mm}", ""),
    "all_of_it": ("spread(shaft)", "{aim: 0.001 mm, most: 0.006 mm}", ""),
    "summed": ("sum(hole)", "{least: 100.04 mm, most: 100.16 mm}", ""),
    "turned_about": ("-largest(shaft)", '{least: "-60 mm", most: "-40 mm"}', ""),
    "whichever": ("min(hole[front], 50.10 mm)", "{least: 50.01 mm}", ""),
    "coarse": ("gap", "{least: 0.0200 mm, most: 0.0205 mm}", ""),
    "by_finish": ("gap", "[{name: one, most: 0.05 mm}, {name: two, when: finish == ground, most: 0.03 mm}]", ""),
    "by_main": (
        "gap",
        "[{name: one, most: 0.05 mm}, {name: two, when: main == 2, shift: 0.01 mm},"
        " {name: three, least: 'min(most, 0 mm)'}]",
        "",
    ),
    "not_all": ("gap", "{least: 0 mm, most: 0.05 mm}", "applies when: main != 3"),
    "barred": ("gap + largest(shaft) - smallest(shaft)", "{most: 0.05 mm}", ""),
    "across": ("largest(shaft) - smallest(shaft)", "{most: 0.006 mm}", ""),
    "from_one": ("shaft[front, a] - smallest(shaft)", '{least: "-1 mm", most: 0.006 mm}', ""),
    "to_one": ("gap - gap[1]", '{least: "-1 mm", most: 0.02 mm}', ""),
    "side_by_side": ("hole[rear] - hole[front]", '{least: "-1 mm", most: 0.004 mm}', ""),
    "scaled_by_itself": ("gap * hole[front] / (50 mm)", "{most: 0.05 mm}", ""),
    "counted": ("gap * count(shaft)", "{most: 0.2 mm}", ""),
    "chosen": ("gap if main == 1 else gap / 2", "{most: 0.05 mm}", ""),
}


def pack() -> str:
    """The text of the pack."""
    rows = [HEAD, "rules:"]
    for name, (formula, limits, more) in PLAIN.items():
        rows += [
            f"  {name}:",
            f"    title: {name}",
            "    each: main",
            f"    formula: '{formula}'",
            "    unit: mm",
            f"    limits: {limits}",
            "    importance: minor",
            "    source: {kind: house}",
            "    may be negative: yes" if "-1 mm" in limits or "-60" in limits else "",
            f"    {more}",
            "    worked: [{given: {readings: {gap: {1: 0.01}}}, expect: {at: {main: 1}, verdict: not measured}}]",
        ]
    return "\n".join(row for row in rows if row.strip()) + "\n"


PACKS = {"many": pack()}
Sizes = Mapping[str, Mapping[int, str]]


def sheet(readings: Sizes, facts: str = "room: 0.001 mm", more: str = "") -> str:
    """A sheet of five mains, each with a finish, with these readings."""
    rows = ["specrules: build-sheet/1", "packs: [many]", "unit: mm"]
    rows.append(f"facts: {{mains: 5, finish: {{1: ground, 2: turned, 3: ground, 4: turned, 5: ground}}, {facts}}}")
    rows.append("readings:")
    for name, by_main in readings.items():
        rows.append(f"  {name}: {{{', '.join(f'{main}: {text}' for main, text in by_main.items())}}}")
    return "\n".join(rows) + f"\n{more}\n"


def even(more: str = "", facts: str = "room: 0.001 mm") -> str:
    """A sheet on which every main is the same."""
    return sheet(
        {
            "hole": dict.fromkeys(range(1, 6), "[50.040, 50.041]"),
            "shaft": dict.fromkeys(range(1, 6), "{front: [50.001, 50.000], rear: [50.000, 49.999]}"),
            "gap": dict.fromkeys(range(1, 6), "0.020"),
        },
        facts,
        more,
    )


def a_little_off(text: str, chance: Random) -> str:
    """A sheet with every other reading off by a few of its last places."""

    def off(found: re.Match[str]) -> str:
        number = Decimal(found[0])
        return str(number + chance.choice((-2, -1, 0, 0, 0, 1, 2)) * Decimal(1).scaleb(int(number.as_tuple().exponent)))

    head, readings, rest = text.partition("readings:")
    return head + readings + re.sub(r"\d+\.\d{3,}", off, rest)


@contextmanager
def everything_in_full() -> Iterator[None]:
    """While it lasts no station is judged by its likeness."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Alike, "look", lambda *_: None)
        yield


def both_ways(text: str, options: Options, packs: Mapping[str, str] = PACKS) -> Inspection:
    """The inspection, once it has been seen that judging all in full says the same."""
    found = inspected(text, packs, options)
    with everything_in_full():
        in_full = inspected(text, packs, options)
    for one, other in zip(found.findings, in_full.findings, strict=True):
        assert one == other, (one.rule, one.station)
    assert found == in_full
    return found


def by_likeness(found: Finding) -> bool:
    return isinstance(found.behind, Likeness)


IN_FULL = {"coarse", "turned_about", "across", "from_one", "to_one", "scaled_by_itself", "counted", "chosen", "barred"}
"""Where a reading may meet itself, a value is negative or moves otherwise than in one way, or there is a question."""


@pytest.mark.parametrize("decision", DECISIONS)
@pytest.mark.parametrize("rule", PLAIN)
def test_what_is_judged_by_its_likeness(rule: str, decision: str) -> None:
    """The first of a kind never is; of the others each that is plainly inside its limits, unless it must not be."""
    found = [each for each in both_ways(even(), Options(decision=decision)).findings if each.rule == rule]
    assert len(found) == 5
    assert not by_likeness(found[0])
    likely = [by_likeness(each) for each in found if each.verdict in (Verdict.IN_SPEC, Verdict.JUST_IN)]
    if rule in IN_FULL:
        assert not any(likely)
    elif rule not in ("played", "signed"):  # a sign-off is missing
        assert likely.count(True) >= len(likely) - (2 if rule in ("by_finish", "by_main") else 1)


def test_what_is_not_signed_is_not_proven_by_its_likeness() -> None:
    found = both_ways(
        even("signed: {torqued: {by: A, on: 2026-03-02, at: {main: [2, 4]}}}"), Options(decision="guarded")
    )
    signed, unsigned = (finding(found, "signed", main=main) for main in ("4", "3"))
    assert by_likeness(signed)
    assert by_likeness(unsigned)
    assert (signed.verdict, signed.rests_on.unsigned) == (Verdict.IN_SPEC, ())
    assert (unsigned.verdict, unsigned.would_be) == (Verdict.NOT_PROVEN, Verdict.IN_SPEC)
    assert unsigned.rests_on.unsigned == ("torqued",)


@pytest.mark.parametrize(
    ("facts", "more"),
    [
        ("room: 0.001 mm, work: refresh", ""),
        ("room: 0.001 mm, work: new, ratio: 0.003", ""),
        ("card_size: 50 mm", ""),
        ("room: 0.001 mm", "limits: {fit: {least: 0.02 mm, most: 0.05 mm}}"),
        ("room: 0.001 mm", "limits: {fit: none}"),
    ],
)
def test_facts_gauges_and_own_limits_say_the_same_both_ways(facts: str, more: str) -> None:
    for decision in DECISIONS:
        both_ways(even(more, facts), Options(decision=decision))


steps = st.integers(-3, 3)
"""Thousandths of a millimetre about the size: few, so that readings tie, and lie within their uncertainty or beyond."""
gauges = st.sampled_from(["", "", "", ", gauge: tape", ", U: 0.003 mm", ", group"])


@st.composite
def odd_readings(draw: st.DrawFn) -> Sizes:
    """Readings of five mains that differ a little, some missing, some with a gauge or a U of their own."""

    def one(size: int) -> str:
        number = f"{(size + draw(steps)) / 1000:.3f}"
        told = draw(st.integers(0, 40))
        if told == 0:
            return f"{number} ±0.003 mm"
        if told == 1:
            return f"{(size - 2) / 1000:.3f}..{(size + 2) / 1000:.3f}"
        return number

    def some(text: str) -> bool:
        return draw(st.integers(0, 20)) > 0 or not text

    mains = range(1, 6)
    hole = {main: f"[{one(50040)}, {one(50040)}]" for main in mains}
    shaft = {main: f"{{front: [{one(50000)}, {one(50000)}], rear: [{one(50000)}, {one(50000)}]}}" for main in mains}
    gap = {main: one(20) for main in mains}
    return {
        name: {main: text for main, text in by_main.items() if some(text)}
        for name, by_main in (("hole", hole), ("shaft", shaft), ("gap", gap))
    }


@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(odd_readings(), st.sampled_from(DECISIONS), st.sampled_from(["new", "refresh"]))
def test_any_readings_say_the_same_both_ways(readings: Sizes, decision: str, work: str) -> None:
    kept = {name: by_main for name, by_main in readings.items() if by_main}
    both_ways(sheet(kept, f"room: 0.001 mm, work: {work}"), Options(decision=decision))


@pytest.mark.parametrize("seed", range(6))
def test_the_rules_that_ship_say_the_same_both_ways(seed: int) -> None:
    text = a_little_off(sheet_text(("general", "street", "racing")[seed % 3], ()), Random(seed))
    found = both_ways(text, Options(decision=DECISIONS[seed % len(DECISIONS)]), {})
    assert any(map(by_likeness, found.findings))


def test_readings_that_are_stale_or_doubtful_are_judged_in_full() -> None:
    slipped = even().replace("3: {front: [50.001", "3: {front: [50.501")
    found = both_ways(slipped, Options(decision="guarded"))
    assert not by_likeness(finding(found, "all_of_it", main="3"))
    assert finding(found, "all_of_it", main="3").rests_on.suspect


PICKED = """\
specrules: tolerance-pack/1
group: Fits
pack: {{name: many, version: "1", title: Many stations, unit: mm}}
axes: {{main: {{count: mains}}, plane: {{names: [front, middle, rear]}}}}
facts: {{mains: {{kind: count}}}}
gauge classes:
  gauge: {{resolution: 0 mm, mpe: 0.001 mm, repeatability: {repeatability} mm, source: {{kind: house}}}}
measurands: {{shaft: {{at: [main], positions: [plane], unit: mm, gauge classes: [gauge]}}}}
rules:
  largest:
    title: Largest
    each: main
    formula: largest(shaft)
    unit: mm
    limits: {{most: 60 mm}}
    importance: minor
    source: {{kind: house}}
    worked: [{{given: {{readings: {{shaft: {{1: [1, 1, 1]}}}}}}, expect: {{at: {{main: 1}}, verdict: in spec}}}}]
"""


@pytest.mark.parametrize(
    ("off", "alike"),
    [("0.0005", True), ("0.001", True), ("0.0010000000001", False), ("0.0015", False)],
    ids=["nearer than 2u", "at 2u", "a hair further", "further"],
)
def test_rivals_within_two_u_are_counted_as_the_judge_counts_them(off: str, alike: bool) -> None:
    """A reading just 2u off is a rival still; with one rival less the second station has not the first one's shape."""
    by_main = {1: ("50", "49.999", "49.9"), 2: ("50", str(50 - Decimal(off)), "49.9")}
    rows = "".join(
        f"    {main}: [{', '.join(f'{Decimal(size):.13f}' for size in sizes)}]\n" for main, sizes in by_main.items()
    )
    text = f"specrules: build-sheet/1\npacks: [many]\nunit: mm\nfacts: {{mains: 2}}\nreadings:\n  shaft:\n{rows}"
    packs = {"many": PICKED.format(repeatability="0.0005")}
    found = finding(inspected(text, packs, Options(decision="guarded")), "largest", main="2")
    with everything_in_full():
        assert found == finding(inspected(text, packs, Options(decision="guarded")), "largest", main="2")
    assert by_likeness(found) is alike
