"""How lines are folded and laid out, coloured or not, and the pages of packs, rules and proofs."""

from __future__ import annotations

import io
import re
from collections.abc import Iterable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.document import Fault, Place
from specrules.inspection import Examination, Options
from specrules.output.full_screen import whole_screen
from specrules.output.lines import STYLES, WIDTH, Line, columns, folded, line, spread
from specrules.output.pack_list import listing
from specrules.output.pack_page import pack_whole
from specrules.output.proof import proof_lines
from specrules.output.terminal import colour_wanted, put, text_of
from specrules.output.working_page import rule_whole, worked_with
from specrules.proving import Proof, ProofRemark, RemarkKind
from specrules.vocabulary import Code
from tests.inspecting import settled, whole
from tests.output.small_screen import PACKS, build, judged
from tests.shipped import resolved

WORDS = st.lists(st.text("abcdefghij-/'", min_size=1, max_size=24), max_size=40).map(" ".join)
TIGHT = """\
readings:
  hole: {1: [1.5008, 1.5009], 2: [1.5020, 1.5020]}
  shaft: {1: [1.5000, 1.4999], 2: [1.5000, 1.5000]}
  tilt: 0.0060 ±0.0002
"""


def too_wide(lines: Iterable[Line]) -> list[str]:
    """Lines over 80 columns that could have been broken."""
    return [row for row in text_of(lines).split("\n") if len(row) > WIDTH and len(row.split()) > 1]


@given(WORDS, st.integers(0, 20), st.text("abc: ", max_size=20))
def test_folding_keeps_every_word_within_the_width(text: str, indent: int, first: str) -> None:
    lines = list(folded(text, indent, first))
    assert too_wide(lines) == []
    if text.split():
        assert "".join(text_of(lines).split()) == "".join((first + text).split())


@given(WORDS, WORDS, WORDS, st.sampled_from([16, 40, 44]), st.booleans())
def test_columns_lose_nothing_and_stay_within_the_width(
    left: str, middle: str, right: str, wide: int, over: bool
) -> None:
    lines = list(columns(f"  {left}", middle, right, "good", wide, over))
    assert too_wide(lines) == []
    assert sorted(text_of(lines).split()) == sorted(f"{left} {middle} {right}".split())


@given(WORDS, WORDS)
def test_two_ends_of_a_line_never_run_into_each_other(left: str, right: str) -> None:
    lines = list(spread(left, right))
    assert too_wide(lines) == []
    assert text_of(lines).split() == f"{left} {right}".split()


def coloured(lines: Iterable[Line]) -> str:
    raw = io.BytesIO()
    stream = io.TextIOWrapper(raw, encoding="utf-8", newline="\n")
    put(lines, stream, colour=True)
    stream.flush()
    return raw.getvalue().decode()


@pytest.mark.parametrize("variable", [{}, {"NO_COLOR": "1"}, {"TERM": "dumb"}, {"COLUMNS": "20"}], ids=str)
def test_colour_adds_nothing_but_colour(variable: dict[str, str], monkeypatch: pytest.MonkeyPatch) -> None:
    """Once it is asked for it is given, to the last line, and without it every word is still there."""
    for name, value in variable.items():
        monkeypatch.setenv(name, value)
    lines = whole_screen(judged(TIGHT), whole)
    made = coloured(lines)
    assert "\x1b[1;31mTIGHT by 0.0002" in made
    bare = re.sub(r"\x1b\[[0-9;]*m", "", made)
    assert "\x1b" not in bare
    assert bare == text_of(lines)


class Unbuffered(io.StringIO):
    """A stream that takes no more than so many letters at once and says nothing of the rest, as a raw file may."""

    def write(self, text: str) -> int:
        return super().write(text[:100])


@pytest.mark.parametrize("colour", [False, True])
def test_an_unbuffered_stream_gets_every_line(colour: bool) -> None:
    lines, stream = whole_screen(judged(TIGHT), whole), Unbuffered()
    put(lines, stream, colour)
    said = re.sub(r"\x1b\[[0-9;]*m", "", stream.getvalue())
    assert said.count("\n") == len(lines)


class Closed(io.StringIO):
    """A pipe whose reader has gone."""

    def write(self, text: str) -> int:
        raise BrokenPipeError(text)


@pytest.mark.parametrize("colour", [False, True])
def test_a_closed_pipe_is_told_to_whoever_printed(colour: bool) -> None:
    with pytest.raises(BrokenPipeError):
        put([line("said")], Closed(), colour)


@given(st.lists(st.tuples(st.text("a \u3000", max_size=3), st.sampled_from(sorted(STYLES))), max_size=4))
def test_no_line_ends_in_blanks(parts: list[tuple[str, str]]) -> None:
    assert text_of([line(*parts)]) == "".join(text for text, _ in parts).rstrip() + "\n"


class Terminal(io.StringIO):
    """A stream that says it is a terminal."""

    def isatty(self) -> bool:
        return True


@pytest.mark.parametrize(
    ("asked", "environment", "terminal", "wanted"),
    [
        ("auto", {}, True, True),
        ("auto", {}, False, False),
        ("auto", {"NO_COLOR": "1"}, True, False),
        ("auto", {"NO_COLOR": ""}, True, True),
        ("auto", {"TERM": "dumb"}, True, False),
        ("auto", {"FORCE_COLOR": "1"}, False, True),
        ("auto", {"FORCE_COLOR": "0"}, True, False),
        ("auto", {"FORCE_COLOR": "1", "NO_COLOR": "1"}, True, False),
        ("auto", {"FORCE_COLOR": "1", "TERM": "dumb"}, False, True),
        ("always", {"NO_COLOR": "1", "TERM": "dumb"}, False, True),
        ("never", {"FORCE_COLOR": "1"}, True, False),
    ],
)
def test_who_decides_about_colour(asked: str, environment: dict[str, str], terminal: bool, wanted: bool) -> None:
    """NO_COLOR as no-color.org has it (any value but an empty one); FORCE_COLOR yields to it."""
    assert colour_wanted(asked, environment, Terminal() if terminal else io.StringIO()) is wanted


@pytest.mark.second_lane
@pytest.mark.parametrize("name", ["general", "street", "towing", "racing"])
def test_a_pack_that_ships_is_shown_whole(name: str) -> None:
    shipped = resolved(name)
    head = shipped.packs[-1]
    lines = list(pack_whole(shipped, head))
    assert too_wide(lines) == []
    text = text_of(lines)
    assert text.startswith(f"{name} {head.version} ")
    own = [chain for chain in shipped.rules.values() if any(version.pack == name for version in chain.versions)]
    assert own
    for chain in own:
        assert f"name          {chain.name}\n" in text
    for word in ("formula", "limits", "importance", "source"):
        assert text.count(f"\n{word} ") == len(own)


def test_the_list_of_packs_says_what_each_builds_on() -> None:
    text = text_of(listing([resolved("general").packs[0], resolved("towing").packs[-1]]))
    assert text == (
        "general 1.0\n"
        "  General practice for four-stroke piston engines\n"
        "towing 1.0                                                     builds on general\n"
        "  Towing and other long heavy pulls\n"
        "\n"
        "A sheet names those that it is judged by: packs: [street]. To read one whole:\n"
        "  specrules pack show street\n"
    )


def small(name: str, body: str, *packs: str, options: Options | None = None) -> str:
    """A rule of the small trade worked with a sheet."""
    sheet, resolved, faults = settled(build(body, ", ".join(packs or ("base",))), PACKS)
    assert sheet is not None, faults
    assert resolved is not None
    examined = Examination(sheet, resolved, options or Options())
    lines = [*rule_whole(resolved, name), *worked_with(examined.report, examined.whole, resolved, name)]
    assert too_wide(lines) == []
    return text_of(lines)


def test_one_rule_is_worked_with_a_sheets_numbers() -> None:
    assert (
        small("fit", TIGHT)
        == """\
Running fit (on the diameter)
name          fit
written       base: base.pack.yaml, line 39
at            each place
formula       clearance
              two sizes: smallest(hole) - largest(shaft)
measure       hole
measure       shaft
parts         bush, spindle
limits        base
  least       0.0010 in                                            base, line 43
  aim         0.0020 in                                            base, line 43
  most        0.0030 in                                            base, line 43
  wear most   0.0040 in                                            base, line 43
words         tight under the least, loose over the most
importance    critical when tight, major when loose
hold point    dry fit
needs         clean
if tight      It seizes.
              do: lap the hole once (moves it 0.0005 in); lap it to size (moves
              it 0.0010 in)
if loose      It knocks.
              do: the next shaft (moves it -0.0005 in)
otherwise     Begin again with a new pair.
caution       Measure cold.
source        common practice: a thou an inch

WORKED WITH A pair

place 1   0.0008 in                                              TIGHT by 0.0002
  least 0.0010   aim 0.0020   most 0.0030 in
  smallest hole 1.5008 - largest shaft 1.5000, 4 of 4 readings
  Not signed: clean.
  Over all the readings 0.0008 to 0.0010.
  Do: lap the hole once, then 0.0013 (in spec); lap it to size, then 0.0018 (in
  spec).
  0.0002 beyond the least
  0.0022 inside the most
    hole place 1 front = 1.5008 (line 7)
    hole place 1 rear = 1.5009 (line 7)
    shaft place 1 front = 1.5000 (line 8)
    shaft place 1 rear = 1.4999 (line 8)

place 2   0.0020 in                                                   NOT PROVEN
  least 0.0010   aim 0.0020   most 0.0030 in
  smallest hole 1.5020 - largest shaft 1.5000, 4 of 4 readings
  As it stands it would be in spec.
  Not signed: clean.
  0.0010 inside the least
  0.0010 inside the most
    hole place 2 front = 1.5020 (line 7)
    hole place 2 rear = 1.5020 (line 7)
    shaft place 2 front = 1.5000 (line 8)
    shaft place 2 rear = 1.5000 (line 8)

For the part maker's own figure, which comes first, put this in the sheet:

limits:
  fit:
    - {least: 0.0000 in, most: 0.0000 in, source: where the figure stands}
"""
    )


AGAIN = """\
facts: {places: 1, material: iron}
parts: {bush: reused, spindle: reused}
readings:
  hole:
    - {state: as found, taken: 2026-09-26, at: {1: [1.5040, 1.5035]}}
    - {state: as built, taken: 2026-10-01, at: {1: [1.5035, 1.5035]}}
  shaft:
    - {state: as found, at: {1: 1.50..1.51}}
    - {state: as built, at: {1: [1.5000, 1.5000]}}
signed: {clean: {by: ab, on: 2026-10-02}}
"""


def test_a_worn_part_is_worked_with_both_limits_and_with_what_was_read_before() -> None:
    text = small("fit", AGAIN)
    assert (
        text[text.index("place 1") : text.index("\n\nFor the part maker")]
        == """\
place 1   0.0035 in                                            worn within limit
  least 0.0010   aim 0.0020   most 0.0030   wear most 0.0040 in
  smallest hole 1.5035 - largest shaft 1.5000, 4 of 4 readings
  0.0025 inside the least
  0.0005 inside the wear most
    hole place 1 front = 1.5035, as built (line 10)
      before: 1.5040, as found, 2026-09-26 (line 9); now 0.0005 smaller
    hole place 1 rear = 1.5035, as built (line 10)
      before: 1.5035, as found, 2026-09-26 (line 9); now the same
    shaft place 1 front = 1.5000, as built (line 13)
      before: 1.50..1.51, as found (line 12)
    shaft place 1 rear = 1.5000, as built (line 13)
      before: 1.50..1.51, as found (line 12)"""
    )


def test_the_working_of_several_packs_says_what_each_holds() -> None:
    text = small("tilt", "decision: guarded\nreadings: {tilt: 0.0050 ±0.0002}\n", "wide")
    assert (
        "written       base: base.pack.yaml, line 66\n"
        "amended       wide: wide.pack.yaml, line 5\n"
        "              Ours are long.\n"
    ) in text
    assert (
        "limits        base\n"
        "  most        0.0060 in                                             wide, line 5\n"
        "              instead of 0.0040 in                                 base, line 69\n"
    ) in text
    assert "the whole build   0.0050 ±0.0002 in" in text
    assert "  0.0010 ±0.0002 inside the most\n" in text
    assert "    tilt = 0.0050 ±0.0002 (line 7)\n" in text


def test_a_rule_that_is_not_measured_says_what_it_wants() -> None:
    text = small("plug", "readings: {tilt: 0.0010}")
    assert "limits        base\n              from the maker alone (base, line 90)\n" in text
    assert "wants the maker's limits, in the sheet" in text


COUNTS = {"rules": 1, "examples": 2, "expectations": 3, "settings": 4}


def remark(kind: RemarkKind, said: str) -> ProofRemark:
    return ProofRemark(Place("packs/house.pack.yaml", 12, 3), "fit", said, "another figure", kind)


def test_a_proof_says_what_is_wrong_first_and_whether_it_proves_last() -> None:
    wrong = (remark("unexercised", "is shown by no example"), remark("example", "gives 0.0020 in, not 0.0021 in"))
    assert text_of(proof_lines(Proof("house", (), wrong, COUNTS))) == (
        "HOUSE\n"
        "  Worked examples that do not come out\n"
        "    packs/house.pack.yaml, line 12, fit: gives 0.0020 in, not 0.0021 in; write\n"
        "      another figure.\n"
        "  What no worked example shows\n"
        "    packs/house.pack.yaml, line 12, fit: is shown by no example; write another\n"
        "      figure.\n"
        "house does not prove: 1 thing to put right.\n"
        "  Tried: 1 rule, 2 worked examples, 3 figures, 4 settings.\n"
    )


def test_a_proof_that_holds_says_so() -> None:
    assert text_of(proof_lines(Proof("house", (), (), COUNTS))) == (
        "HOUSE\nhouse proves.\n  Tried: 1 rule, 2 worked examples, 3 figures, 4 settings.\n"
    )
    fault = Fault(Place("packs/house.pack.yaml", 1, 1), "", Code.WRONG_FILE, "is no pack")
    assert text_of(proof_lines(Proof("house", (fault,), (), {}))) == "house is at fault and was not tried.\n"
