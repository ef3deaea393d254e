"""Several packs: what each of a chain would have said, which of them widened a limit, and packs of equal say."""

from __future__ import annotations

import pytest

from specrules.inspection import Report, WholeFinding
from specrules.output.reasons import said as said_of
from specrules.vocabulary import Reason, Verdict, Why
from tests.inspecting import finding
from tests.inspection.small_build import build, fit, inches, over, readings

IN, OUT = Verdict.IN_SPEC, Verdict.OUT
TIGHTER = over("tighter", "[{name: base, least: 0.0015 in, most: 0.0025 in}]")
WIDER = over("wider", "[{name: base, most: 0.0035 in}]")


def said(found: WholeFinding) -> list[tuple[str, Verdict, str]]:
    return [(beside.pack, beside.verdict, beside.side) for beside in found.beside]


def loosened(found: Report) -> list[tuple[str, str, str, int]]:
    return [(each.pack, each.name, each.part, len(each.stations)) for each in found.ledger]


def test_one_pack_alone_stands_beside_nothing() -> None:
    assert fit(readings("dial: {1: 0.0020}")).beside == ()


def test_each_pack_of_a_chain_says_what_it_would_have_said() -> None:
    found = fit(readings("dial: {1: 0.0027}", "tighter", packs={"tighter": TIGHTER}))
    assert (found.verdict, found.pack, found.beyond) == (OUT, "tighter", inches("0.0002"))
    assert said(found) == [("base", IN, "")]
    assert found.beside[0].limits.most == inches("0.0030")


def test_a_chain_of_three() -> None:
    top = over("top", "[{name: base, most: 0.0020 in}]", on="tighter")
    found = fit(readings("dial: {1: 0.0022}", "top", packs={"tighter": TIGHTER, "top": top}))
    assert (found.verdict, said(found)) == (OUT, [("base", IN, ""), ("tighter", IN, "")])


def test_the_packs_limits_stand_beside_the_sheets() -> None:
    found = fit(build("readings: {dial: {1: 0.0035}}\nlimits: {fit: {most: 0.0040 in}}"))
    assert (found.verdict, said(found)) == (IN, [("base", OUT, "loose")])


def test_narrowing_is_not_loosening() -> None:
    assert loosened(readings("dial: {1: 0.0020}", "tighter", packs={"tighter": TIGHTER})) == []


def test_a_pack_that_widens_a_limit_is_told_with_its_reason() -> None:
    found = readings("dial: {1: 0.0020, 2: 0.0020}", "wider", packs={"wider": WIDER})
    assert loosened(found) == [("wider", "fit", "most", 2)]
    assert found.ledger[0].reason == "Because wider says so."


def test_a_pack_that_takes_a_side_away_widens_it() -> None:
    gone = over("gone", "[{name: gone, from the maker: yes}]")  # no limits at all: not measured, so nothing passes
    assert loosened(readings("dial: {1: 0.0020}", "gone", packs={"gone": gone})) == []
    one_side = build("readings: {dial: {1: 0.0020}}\nlimits: {fit: {least: 0.0010 in}}")
    assert loosened(one_side) == [("this sheet", "fit", "most", 1)]
    assert one_side.ledger[0].reason == ""


def test_a_sheet_that_widens_a_limit_is_told() -> None:
    found = build("readings: {dial: {1: 0.0020}}\nlimits: {fit: {least: 0.0005 in, most: 0.0025 in}}")
    assert loosened(found) == [("this sheet", "fit", "least", 1)]


def test_a_pack_answers_for_its_own_widening_only() -> None:
    """The top pack takes over what the one beneath it widened; a stranger in the chain is not held against it."""
    top = over("top", "[{name: base, aim: 0.0021 in}]", on="wider")
    found = readings("dial: {1: 0.0020}", "top", packs={"wider": WIDER, "top": top})
    assert loosened(found) == [("wider", "fit", "most", 1)]
    quiet = over("quiet", "[{name: base, aim: 0.0021 in}]")
    together = readings("dial: {1: 0.0020}", "tighter", "quiet", packs={"tighter": TIGHTER, "quiet": quiet})
    assert loosened(together) == []


@pytest.mark.parametrize("asked", [("tighter", "wider"), ("wider", "tighter")])
@pytest.mark.parametrize(
    ("dial", "verdict", "would_be", "beyond"),
    [
        ("0.0020", IN, None, None),
        ("0.0034", Verdict.NOT_PROVEN, OUT, "0.0009"),
        ("0.0040", OUT, None, "0.0015"),  # both say so; the stricter says by how much
        ("0.0012", Verdict.NOT_PROVEN, OUT, "0.0003"),
    ],
)
def test_packs_of_equal_say(
    dial: str, verdict: Verdict, would_be: Verdict | None, beyond: str | None, asked: tuple[str, ...]
) -> None:
    found = fit(readings(f"dial: {{1: {dial}}}", *asked, packs={"tighter": TIGHTER, "wider": WIDER}))
    assert (found.verdict, found.would_be) == (verdict, would_be)
    assert found.beyond == (None if beyond is None else inches(beyond))
    assert {name for name, _, _ in said(found)} == {"base", "tighter", "wider"}
    assert any(note.code is Why.PACKS_DISAGREE for note in found.notes) is bool(would_be)


def test_packs_of_equal_say_that_are_beyond_on_other_sides_disagree() -> None:
    low = over("low", "[{name: base, least: 0.0010 in, most: 0.0015 in}]")
    high = over("high", "[{name: base, least: 0.0025 in, most: 0.0040 in}]")
    found = fit(readings("dial: {1: 0.0020}", "low", "high", packs={"low": low, "high": high}))
    assert found.verdict is Verdict.NOT_PROVEN
    note = Reason(Why.PACKS_DISAGREE, ("low", "high"), ("out of spec, loose", "out of spec, tight"))
    assert found.notes[-2] == note
    assert said_of(note).endswith("disagree: by low: out of spec, loose; by high: out of spec, tight")


def test_a_pack_that_cannot_say_does_not_hide_one_that_can() -> None:
    maker = over("maker", "[{name: base, from the maker: yes}]")
    plain = over("plain", "[{name: base, from the maker: no, most: 0.0025 in}]")
    found = fit(readings("dial: {1: 0.0028}", "maker", "plain", packs={"maker": maker, "plain": plain}))
    assert (found.verdict, found.would_be, found.side) == (Verdict.NOT_PROVEN, OUT, "loose")


def test_the_sheets_limits_settle_what_packs_disagree_on() -> None:
    body = "readings: {dial: {1: 0.0034}}\nlimits: {fit: {least: 0.0010 in, most: 0.0036 in}}"
    found = build(body, "tighter", "wider", packs={"tighter": TIGHTER, "wider": WIDER})
    assert finding(found, "fit", main="1").verdict is IN
