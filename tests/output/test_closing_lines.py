"""The lines that are read first, to the letter and the style, at no, one, three and four things that hold."""

from __future__ import annotations

import pytest

from specrules.inspection import Options
from specrules.output.closing_lines import closing, in_a_line
from tests.evaluate.small_worlds import WIDE, rule_text, seats
from tests.evaluate.small_worlds import judged as of_seats
from tests.output.small_screen import judged
from tests.output.styled import styled

SOUND = {"grip": "0.0030", "tilt": "0.0020", "slot": "0.0150", "weight": "100 g"}
BAD = {"grip": "0.0010", "tilt": "0.0060", "slot": "0.0300", "weight": "110 g"}
HOLDING = {
    "grip": "grip of the sleeve slack at place 1",
    "tilt": "tilt of the plate high",
    "slot": "slot width high at place 1 left",
    "weight": "weights alike high",
}
"""In the order in which they are told: by hold point, then as the pack has them."""
ALL = "6 of 6 checks judged, on 14 readings."
SIGNED = "signed: {clean: {by: ab, on: 2026-10-01}, turned: {by: ab, on: 2026-10-01}}\n"


def body(*bad: str, signed: str = SIGNED, plug: str = "1.0") -> str:
    """A sheet in which these rules are out of spec and all others in spec."""
    read = {name: (BAD if name in bad else SOUND)[name] for name in SOUND}
    return (
        "facts: {places: 2, material: iron}\nreadings:\n"
        "  hole: {others: 1.5020}\n  shaft: {others: 1.5000}\n"
        f"  grip: {{1: {read['grip']}, 2: 0.0030}}\n  tilt: {read['tilt']}\n"
        f"  slot: {{1: {{left: {read['slot']}}}, others: 0.0150}}\n  plug: {plug}\n"
        f"  weight: {{1: 100 g, 2: {read['weight']}}}\n"
        f"limits: {{plug: [{{least: 0.9 in, most: 1.1 in, source: card}}]}}\n{signed}"
    )


def lines(*bad: str, options: Options | None = None, **more: str) -> list[str]:
    return styled(closing(judged(body(*bad, **more), options=options)))


def test_nothing_holds() -> None:
    good = "[good]Go on: nothing holds the job and nothing is open up to the hold point"
    assert lines() == ["", f"{good} first", "[good]start.", f"11 in spec. {ALL}"]
    assert lines(options=Options(until="dry_fit"))[1:-1] == [f"{good} dry fit."]


@pytest.mark.parametrize(
    ("bad", "more"),
    [(("grip",), ""), (("grip", "tilt", "slot"), ""), (("grip", "tilt", "slot", "weight"), "1 more")],
    ids=["one", "three", "four"],
)
def test_so_many_hold(bad: tuple[str, ...], more: str) -> None:
    """Three are named; only where there are more are the rest counted."""
    first, *rest = styled(closing(judged(body(*bad))))[1:]
    told = " ".join([first, *(row.removeprefix("[bad]").strip() for row in rest[: len(rest) - 2])])
    named = [HOLDING[name] for name in bad[:3]] + [more] * bool(more)
    assert told == f"[bad]Stop at the hold point dry fit: {'; '.join(named)}."
    assert rest[-2:] == [
        f"{11 - len(bad)} in spec, {len(bad)} out of spec. {ALL}",
        "[heading]Next: put right the grip of the sleeve at place 1.",
    ]


def test_something_is_open() -> None:
    one = lines(plug="")
    assert one == [
        "",
        "[doubt]Not yet: 1 to measure before the hold point first start.",
        "10 in spec, 1 not measured. 5 of 6 checks judged, on 13 readings.",
        "[heading]Next: measure the plug size.",
    ]
    unsigned = lines(signed="")
    assert unsigned[1] == "[doubt]Not yet: 2 to prove and 2 to sign before the hold point first start."


def test_a_check_that_was_answered_no_holds_too() -> None:
    """Alone it is what to see to; with a part out of spec that is put right first."""
    no = SIGNED.replace("clean: {by", "clean: {answer: no, by")
    assert lines(signed=no)[1:] == [
        "[bad]Stop at the hold point dry fit: clean, answered no.",
        "9 in spec, 2 not proven. 5 of 6 checks judged, on 10 readings.",
        "[heading]Next: see to clean, which was answered no.",
    ]
    both = lines("grip", signed=no)
    assert both[1:3] == [
        "[bad]Stop at the hold point dry fit: grip of the sleeve slack at place 1; clean,",
        "[bad]      answered no.",
    ]
    assert both[-1] == "[heading]Next: put right the grip of the sleeve at place 1."


@pytest.mark.parametrize(
    ("gap", "said"),
    [
        ("0.3", "[good]Go on: nothing holds the job and nothing is open."),
        ("open", "[doubt]Not yet: 1 to measure."),
        ("1.3", "[bad]Stop: gap high."),
    ],
)
def test_packs_without_hold_points(gap: str, said: str) -> None:
    assert styled(closing(seats(WIDE, gap)))[1] == said


def test_packs_that_check_nothing_here() -> None:
    rule = rule_text(WIDE, more="    applies when: lined == yes\n")
    assert styled(closing(of_seats(rule, "0.3", "lined: no")))[1] == "[doubt]Not yet: these packs check nothing here."


def test_what_was_asked_of_it_is_said() -> None:
    asked = lines("tilt", options=Options(held_by="major", sure=True))
    assert asked[-2:] == [
        f"10 in spec, 1 out of spec. {ALL}",
        "Only what is major or critical holds the job. Just in holds the job too.",
    ]


def test_one_sheet_of_several_in_a_line() -> None:
    assert [in_a_line(judged(each)) for each in (body(), body("tilt"), body(plug=""))] == [
        "go on: 11 in spec",
        "stop: 10 in spec, 1 out of spec",
        "not yet: 10 in spec, 1 not measured",
    ]
