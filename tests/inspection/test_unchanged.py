"""A sheet inspected again after it was changed: the same report as from nothing, and only what hangs on it anew."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path
from random import Random
from typing import NamedTuple

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.effects.workspace import Workspace
from specrules.inspection import Examination, Options
from specrules.output.report_record import record_for
from specrules.sheet import SettledReadings
from tests.fuzz.sound import ALL_PACKS, FULL
from tests.inspection import small_build
from tests.sheet.small_trolley import WHEELS

OF_THE_PLUG = "".join(
    f"""\
  {name}:
    title: Size for the {name}
    formula: 2 * plug
    unit: in
    limits: {{most: 9 in}}
    importance: minor
    source: {{kind: house}}
    worked: [{{given: {{readings: {{plug: 1.0}}}}, expect: {{verdict: in spec}}}}]
"""
    for name in ("bored", "sleeve")
)
"""Two rules more that read the plug, called otherwise than it is."""
PACKS = {
    **{
        name: text.replace("usual: 0.1..5}", "usual: 0.9..1.2}")
        .replace("operations:\n", f"{OF_THE_PLUG}operations:\n")
        .encode()
        for name, text in ALL_PACKS.items()
    },
    "fits": small_build.BASE.replace("name: base", "name: fits", 1).encode(),
}
WORKSPACE = Workspace(plugins=False, texts=PACKS)
DEMO = Path("specrules/demo/carousel.sheet.yaml")


def examined(
    text: str, before: Examination | None = None, kept: SettledReadings | None = None, path: Path | None = None
) -> Examination | None:
    """What comes of a sheet, with what is known of it as it was; None where it is at fault."""
    loaded = WORKSPACE.settle(text.encode(), path, "e.sheet.yaml", (), kept)
    if loaded.sheet is None or loaded.spec is None:
        return None
    return Examination(loaded.sheet, loaded.spec, None, loaded.same_names, before)


def judged_again(before: Examination, now: Examination) -> set[str]:
    """The rules of which nothing was taken over."""
    return {name for name, each in now.outcomes.items() if each.findings is not before.outcomes[name].findings}


def said(of: Examination) -> object:
    """All that an examination can be asked for, whole findings with their working and remedies among it."""
    return of.report, of.readings(), record_for("e.sheet.yaml", of, (), "1", ())


SHEET = FULL.replace("plug: 15.0", "plug: 1.0000").replace("38.1 mm", "38.100 mm")
OF_PLUG = {"plug", "bored", "sleeve"}
ALL = {"fit", "grip", "tilt", "slot", "plug", "bored", "sleeve", "alike"}
CHANGES = {
    "a reading": ("tilt: 0.0039 ±0.0002", "tilt: 0.0049 ±0.0002", {"tilt"}),
    "its places": ("plug: 1.0000\n", "plug: 1.000\n", OF_PLUG),
    "its gauge": ("2.0, gauge: dial", "2.0", {"grip"}),
    "what a figure is worked out from": ("shaft: {1: [1.5000, 1.5000]", "shaft: {1: [1.5001, 1.5000]", {"fit"}),
    "a reading more, so that others have other numbers": ("[1.5020, open]", "[1.5020, 1.5021]", {"fit"}),
    "a reading less": ("1: 3, 2: 2..4,", "1: open, 2: 2..4,", {"grip"}),
    "one statement for several places": ("{1-3: 100 g}", "{1: 100 g, 2-3: 100 g}", {"alike"}),
    "whose word stands for it": ("plug: 1.0000\n", "plug: {value: 1.0000, confirmed: jt}\n", OF_PLUG),
    "a slip of the hand": ("2: 2..4", "2: 0.24", {"grip"}),
    "the gauge of some": ("mpe: 0.0001 in, checked", "mpe: 0.0003 in, checked", {"fit", "grip"}),
    "a fact": ("material: aluminium", "material: iron", {"slot"}),
    "a signature that one rule needs": ("clean: {by: ab, ", "clean: {answer: no, by: ab, ", {"fit"}),
    "one that none needs": ("answer: no, by: cd", "by: cd", set()),
    "limits in the sheet": ("most: 1.0010 in, source", "most: 0.9995 in, source", OF_PLUG),
    "what was": ("tilt: 0.0039 ±0.0002", "tilt: {value: 0.0039 ±0.0002, was: 0.0041}", set()),
    "a line before all": (
        "build:",
        "# a new line\nbuild:",
        OF_PLUG,
    ),  # the source of its limits is a line of the sheet
    "places so few that they decide": ("38.100 mm", "38.1 mm", {"fit"}),
    "a line in between": ("  tilt:", "  # a new line\n  tilt:", OF_PLUG),
    "whose it is": ("{title: A pair,", "{title: A pair, customer: AB,", set()),
    "a concession": ("reason: agreed", "reason: agreed again", set()),
    "the decision rule": ("decision: guarded", "decision: simple", ALL),
    "what is worn": ("work: refresh", "work: new", ALL),
    "how many there are": ("places: 3", "places: 4", ALL),
    "work done": ("operation: hone, on: 2026-09-20", "operation: hone, on: 2026-09-29", ALL),
    "a fault, put right at once": ("plug: 1.0000\n", "plug: 1.0000\n  nothing: 1\n", set()),
}


@pytest.mark.parametrize(("old", "new", "again"), CHANGES.values(), ids=CHANGES)
def test_only_what_hangs_on_a_change_is_judged_again(old: str, new: str, again: set[str]) -> None:
    """And back again, whatever came in between."""
    kept, changed = SettledReadings(), SHEET.replace(old, new)
    assert changed != SHEET
    before, from_nothing = examined(SHEET, None, kept), examined(changed)
    now = examined(changed, before, kept)
    assert before is not None
    if now is not None and from_nothing is not None:
        assert judged_again(before, now) == again
        assert said(now) == said(from_nothing)
    assert (now is None) == (from_nothing is None) == ("nothing" in changed)
    back = examined(SHEET, now or before, kept)
    assert back is not None
    assert said(back) == said(before)


SHAFTS = "{1: [1.5000, 1.5000], 2: 38.100 mm, 3: under 1.5001}"


@pytest.mark.parametrize(
    ("old", "new"),
    [("plug: 1.0000\n", "plug: 1.5000\n"), (SHAFTS, "{1: [1.4750, 1.4750], 2: 1.4750, 3: 1.4751}")],
    ids=["a size that is unusual, with limits in the sheet", "a turn of the thimble that only the fit shows"],
)
def test_nothing_is_taken_over_where_one_change_may_speak_of_many_rules(old: str, new: str) -> None:
    before, now = examined(SHEET), examined(SHEET.replace(old, new))
    assert before is not None
    assert now is not None
    again = examined(SHEET.replace(old, new), before)
    assert again is not None
    assert judged_again(before, again) == ALL
    assert said(again) == said(now)


TURNED = SHEET.replace(SHAFTS, "{1: [1.4750, 1.4750], 2: 1.4750, 3: 1.4751}")
SWORN = re.sub(r"1\.(475|50)\d+", r"{value: \g<0>, confirmed: jt}", TURNED.replace("1.5019..1.5021", "1.5020"))
FEW_PLACES = SHEET.replace("38.100 mm", "38.1 mm")
MEANT = re.sub(r"limits:.*\n", "limits: {bored: [{most: 4 in}]}\n", SHEET.replace("plug: 1.0000", "plug: 1.5000"))
UNLAID = "specrules: build-sheet/1\npacks: [fits]\nunit: in\nreadings: {float: 0.0050, eye: {1: 1.0020, 2: 1.0030}}\n"


@pytest.mark.parametrize(
    ("first", "then"),
    [
        (FEW_PLACES, FEW_PLACES.replace("build:", "# a new line\nbuild:")),
        (TURNED, TURNED.replace("plug: 1.0000", "plug: 1.0001")),
        (SWORN, SWORN.replace("plug: 1.0000", "plug: 1.0001")),
        (UNLAID, UNLAID.replace("0.0050", "0.0051")),
        (MEANT, re.sub(r"limits:.*\n", "", MEANT)),
    ],
    ids=[
        "readings in doubt on other lines",
        "a doubt that a fit raised",
        "and that somebody confirmed",
        "rules along an axis that nobody laid out",
        "a size that nothing says is meant any more",
    ],
)
def test_from_one_state_to_the_next_it_is_as_from_nothing(first: str, then: str) -> None:
    before, now = examined(first), examined(then)
    assert before is not None
    assert now is not None
    again = examined(then, before)
    assert again is not None
    assert said(again) == said(now)


def test_nothing_is_taken_over_from_an_inspection_that_asked_for_something_else_or_by_other_packs() -> None:
    before = examined(SHEET)
    assert before is not None
    simple, other = Options(decision="simple"), before.spec._replace(decision="guarded")
    for options, spec in ((simple, before.spec), (Options(), other)):
        again = Examination(before.sheet, spec, options, (), before)
        assert judged_again(before, again) == ALL
        assert said(again) == said(Examination(before.sheet, spec, options))


def test_a_finding_that_stood_is_whole_when_it_is_asked_for_and_one_of_elsewhere_is_no_finding() -> None:
    before = examined(SHEET)
    again = examined(SHEET.replace("plug: 1.0000", "plug: 1.0001"), before)
    assert before is not None
    assert again is not None
    fit = next(each for each in again.report.findings if each.rule == "fit")
    assert again.whole(fit).worked == before.whole(fit).worked != ""
    with pytest.raises(KeyError):
        again.whole(fit._replace(station={"place": "9"}))


FIGURE = re.compile(r"(?<![\w.{:-])\d*\.\d+(?![\w.-])")
"""A bare decimal of a sheet."""
HOW = (
    "{0}{2}",
    "open",
    "{{value: {0}{1}, confirmed: jt}}",
    "{{value: {0}{2}, was: {0}{1}}}",
    "{0}{1} ±0.0002",
    "{0}{2}{1}",
    "{2}{0}{1}",
    "{0}{1}\n# a line more\n",
)


class Edit(NamedTuple):
    """One figure written otherwise; or a line left out."""

    at: int
    how: str
    digit: int

    def made(self, text: str) -> str:
        """The sheet after it."""
        found = [*FIGURE.finditer(text)]
        if not self.how:
            lines = text.splitlines(keepends=True)
            at = 4 + self.at % (len(lines) - 4)
            return "".join((*lines[:at], *lines[at + 1 :]))
        figure = found[self.at % len(found)]
        new = self.how.format(figure[0][:-1], figure[0][-1], self.digit)
        return text[: figure.start()] + new + text[figure.end() :]


EDITS = st.lists(st.builds(Edit, st.integers(0, 999), st.sampled_from([*HOW, ""]), st.integers(0, 9)), max_size=3)


def hold_through(text: str, edits: Sequence[Edit], path: Path | None = None) -> int:
    """Inspect a sheet after each edit, with what was known and without; the greatest number of rules that stood."""
    kept, stood = SettledReadings(), 0
    before = examined(text, None, kept, path)
    for edit in edits:
        text = edit.made(text)
        now, from_nothing = examined(text, before, kept, path), examined(text, path=path)
        assert (now is None) == (from_nothing is None)
        if now is not None and from_nothing is not None and before is not None:
            assert said(now) == said(from_nothing)
            stood = max(stood, len(now.outcomes) - len(judged_again(before, now)))
        before = now or before
    return stood


@given(st.sampled_from([SHEET, FULL, WHEELS]), EDITS)
def test_whatever_is_edited_the_report_is_the_same_as_from_nothing(text: str, edits: list[Edit]) -> None:
    hold_through(text, edits)


@pytest.mark.second_lane
def test_so_it_is_with_packs_that_ship_and_most_rules_stand() -> None:
    """A figure here and there of the demo's sheet."""
    draw = Random(5)
    edits = [Edit(draw.randrange(999), HOW[draw.randrange(len(HOW) - 2)], draw.randrange(10)) for _ in range(6)]
    assert hold_through(DEMO.read_text(encoding="utf-8"), edits, DEMO) > 50
