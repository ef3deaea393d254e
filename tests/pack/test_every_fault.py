"""A pack with mistakes of several kinds has all of them told in one run, and none that is only another's shadow."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from specrules.document import Fault
from specrules.pack.pack_reading import read_pack
from specrules.pack.resolving import resolve
from tests.pack.small_packs import BASE, faults_of
from tests.pack.test_pack_shape_faults import ROWS
from tests.timing import times_as_long

UPPER = """\
specrules: tolerance-pack/1
pack: {name: upper, version: "1", title: Upper, builds on: [base], unit: in}
measurands:
  lonely: {unit: mm}
rules:
  far:
    title: A rule that stands on nothing of the pack below
    formula: lonely - lonly
    unit: mm
    limits: {most: 1 mm}
    importance: minr
    hold point: dry
    needs: [cleen]
    source: {kind: house}
    worked: [{given: {readings: {lonely: 1}}, expect: {verdict: not measured}}]
amend:
  rules:
    fitt: {reason: a slip of the pen, caution: Measure warm.}
"""
OF_UPPER = {
    ("far formula", "\"lonely - lonly\" has 'lonly', which is no measurand, fact or figure"),
    (
        "far importance",
        "\"minr\" has 'minr', which is no measurand, fact or figure, nor one of critical, major, minor",
    ),
    ("far hold point", '"dry" is no hold point'),
    ("far needs", '"cleen" is no sign-off or rule'),
    ("fitt", "amends nothing: no pack below has it among its rules"),
}


def told(faults: tuple[Fault, ...]) -> set[tuple[str, str]]:
    return {(fault.subject, fault.said) for fault in faults}


def broken(good: str, bad: str) -> str:
    return BASE.replace(good, bad.replace("¦", ""))


SOUND_ENOUGH = [row for row in ROWS if read_pack([("base.pack.yaml", broken(*row[:2]).encode())])[0] is not None]
"""Mistakes of shape in one thing, beside which the rest of the pack can be looked at."""


def test_most_mistakes_of_shape_leave_a_pack_to_look_at() -> None:
    assert len(SOUND_ENOUGH) > len(ROWS) / 2


@pytest.mark.parametrize(("good", "bad", "sentence"), SOUND_ENOUGH)
def test_what_a_mistake_of_shape_leaves_is_looked_at_and_what_hangs_on_it_is_not(
    good: str, bad: str, sentence: str
) -> None:
    alone = told(read_pack([("base.pack.yaml", broken(good, bad).encode())])[1])
    assert told(faults_of(broken(good, bad), UPPER)) == alone | OF_UPPER, sentence


def test_kinds_of_mistakes_in_one_file() -> None:
    """Of shape, of amending, of a formula; and the rule that stands on what is at fault is not faulted for it."""
    text = (
        UPPER.replace("lonely: {unit: mm}", "lonely: {unit: mm, colour: red}\n  near: {unit: mmm}")
        .replace("fitt:", "fit:")
        .replace("caution: Measure warm.", "limits: [{name: base, most: 0.002 kg}]")
    )
    assert [fault.sentence() for fault in sorted(faults_of(BASE, text))] == [
        'upper1.pack.yaml, line 4, lonely: "colour" is no key here; write one of title, at, positions, unit, usual,'
        " gauge classes, how, repeats, wears below, wears above, may be negative, expands, applies when.",
        'upper1.pack.yaml, line 5, near unit: "mmm" is no known unit.',
        'upper1.pack.yaml, line 19, fit limits base most: "0.002 kg" is mass, and length is needed.',
    ]


@pytest.mark.second_lane
def test_a_word_four_times_as_long_takes_about_as_many_times_as_long() -> None:
    """A stranger's text of underscores is no name, and is not taken apart as one."""

    def looked_at(size: int) -> Callable[[], object]:
        text = BASE.replace("{kind: text}", "{kind: txt}").replace("Shaft size", f"a{'_' * size}")
        pack, _ = read_pack([("base.pack.yaml", text.encode())])
        assert pack is not None
        assert pack.left_out == {"maker"}
        return lambda: resolve([pack], ["base"])

    assert times_as_long(looked_at(80_000), looked_at(20_000)) < 8
