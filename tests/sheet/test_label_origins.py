"""A label that is not there: the fault names the fact that says which labels there are, and what to write."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.inspecting import settled

FERRY = """\
specrules: tolerance-pack/1
group: Ferry
pack: {name: ferry, version: "1", title: A cable ferry, unit: mm}
axes:
  winch: {count: winches}
  shackle: {count: shackles, letters: yes}
  rope: {labels: ropes}
  pair: {groups: pairs, of: winch}
  shore: {groups: shores, of: winch, default: one}
  hand: {groups: hands, of: winch, default: each}
  side: {names: [port, starboard]}
facts:
  winches: {kind: count}
  shackles: {kind: count, assumed: 2}
  ropes: {kind: labels, of: [main, spare, guide], assumed: [main, guide]}
  pairs: {kind: groups}
  shores: {kind: groups}
  hands: {kind: groups}
  drum_stated: {kind: quantity, unit: mm, at: winch}
measurands:
  drum: {at: winch, unit: mm}
  pin: {at: [winch, shackle], unit: mm}
  rope_size: {at: [winch], positions: [rope], unit: mm}
  gap: {at: pair, unit: mm}
  slope: {at: shore, unit: mm}
  grip: {at: hand, unit: mm}
  rail: {at: side, unit: mm}
parts:
  drums: {title: Drums, at: winch, measurands: drum}
operations:
  turned: {title: The drums were turned, makes stale: drum}
sign-offs:
  greased: {question: Was it greased?, at: [winch, shackle], source: {kind: house}}
  paired: {question: Were they paired?, at: pair, source: {kind: house}}
rules:
  drum_size:
    title: Size of the drum
    each: winch
    formula: drum
    limits: {least: 1 mm}
    importance: minor
    needs: greased
    source: {kind: house}
    worked: [{given: {readings: {drum: {1: 10}}}, expect: {at: {winch: 1}, verdict: in spec}}]
  paired_gap:
    title: Gap
    each: pair
    formula: gap
    limits: {least: 1 mm}
    importance: minor
    needs: paired
    source: {kind: house}
    worked:
      - given: {facts: {winches: 2, pairs: [[1, 2]]}, readings: {gap: 10}}
        expect: {at: {pair: 1}, verdict: in spec}
"""
HEAD = "specrules: build-sheet/1\npacks: [ferry]\nunit: mm\n"
STATED = (
    "facts: {winches: 3, shackles: 2, ropes: [main, guide], pairs: [[1, 2], [3]], shores: {left: [1], right: [2, 3]}}"
)
THREE = "there are 1 to 3, since winches is 3"
FOUR = "write winches: 4 under facts, if there are so many"


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("readings: {drum: {4: 10}}", f'drum: "4" is no winch; {THREE}; {FOUR}'),
        ("readings: {drum: {1: 10, 2-4: 10}}", f'drum: "2-4" is no winch; {THREE}; {FOUR}'),
        ("readings: {drum: {0: 10}}", f'drum: "0" is no winch; {THREE}'),
        ("readings: {drum: {left: 10}}", f'drum: "left" is no winch; {THREE}'),
        ("readings: {drum: {257: 10}}", f'drum: "257" is no winch; {THREE}'),
        (
            "readings: {pin: {1: {c: 10}}}",
            'pin 1: "c" is no shackle; there are a and b, since shackles is 2; write shackles: 3 under facts, if '
            "there "
            "are so many",
        ),
        (
            "readings: {pin: {c: 10}}",
            'pin: "c" is no shackle; there are a and b, since shackles is 2; write shackles: 3 under facts, if there '
            "are so many",
        ),
        ("readings: {pin: {1: {3: 10}}}", 'pin 1: "3" is no shackle; there are a and b, since shackles is 2'),
        (
            "readings: {pin: {front: 10}}",
            'pin: "front" is no winch or shackle; there are winch 1 to 3 (winches is 3), shackle a and b '
            "(shackles is 2)",
        ),
        (
            "readings: {rope_size: {1: {spare: 10}}}",
            'rope_size 1: "spare" is no rope; there are main and guide, since ropes is main, guide; write ropes: '
            "[..., "
            "spare] under facts, if there is one",
        ),
        (
            "readings: {rope_size: {spare: 10}}",
            'rope_size: "spare" is no rope; there are main and guide, since ropes is main, guide; write ropes: [..., '
            "spare] under facts, if there is one",
        ),
        (
            "readings: {rope_size: {1: {fourth: 10}}}",
            'rope_size 1: "fourth" is no rope; there are main and guide, since ropes is main, guide; write one '
            "of main, "
            "spare, guide, which ropes under facts may list",
        ),
        ("readings: {rope_size: {1: {giude: 10}}}", 'rope_size 1: "giude" is no rope; write guide'),
        (
            "readings: {gap: {3: 10}}",
            'gap: "3" is no pair; there are 1 and 2, since pairs lists them; write pairs: {3: [...], ...} under '
            "facts, "
            "if there is one",
        ),
        (
            "readings: {slope: {north: 10}}",
            'slope: "north" is no shore; there are left and right, since shores lists them; write shores: '
            "{north: [...], "
            "...} under facts, if there is one",
        ),
        (
            "readings: {grip: {4: 10}}",
            'grip: "4" is no hand; there are 1 to 3, since hands is not stated; write hands: {4: [...], ...} '
            "under facts, "
            "if there is one",
        ),
        (
            "readings: {pin: {1: [10, 10, 10]}}",
            "pin 1: 3 figures stand where 2 belong, in this order: a and b; shackles is 2; write shackles: 3 under "
            "facts, if there are so many",
        ),
        (
            "readings: {pin: {1: [10]}}",
            "pin 1: 1 figure stands where 2 belong, in this order: a and b; shackles is 2; write open for what is not "
            "measured",
        ),
        (
            f"readings: {{pin: {{1: [{', '.join(['10'] * 27)}]}}}}",
            "pin 1: 27 figures stand where 2 belong, in this order: a and b; shackles is 2; write open for what is not "
            "measured",
        ),
        (
            "readings: {rope_size: {1: [10, 10, 10]}}",
            "rope_size 1: 3 figures stand where 2 belong, in this order: main and guide; ropes is main, guide; write "
            "open for what is not measured",
        ),
        ("readings: {rail: {aft: 10}}", 'rail: "aft" is no side; there are port and starboard'),
        ("parts: {drums: {4: new}}", f'drums: "4" is no winch; {THREE}; {FOUR}'),
        (
            "work done: [{operation: turned, at: {winch: 4}}]",
            f'work done turned: "4" is no winch; {THREE}; {FOUR}',
        ),
        (
            "signed: {greased: {by: ab, at: {shackle: c}}}",
            'signed greased: "c" is no shackle; there are a and b, since shackles is 2; write shackles: 3 under '
            "facts, "
            "if there are so many",
        ),
        (
            "concessions: [{rule: drum_size, at: {winch: 4}, reason: r, by: ab}]",
            f'concessions drum_size: "4" is no winch; {THREE}; {FOUR}',
        ),
    ],
)
def test_what_is_said_where_the_facts_are_stated(written: str, said: str) -> None:
    assert settled(f"{HEAD}{STATED}\n{written}", {"ferry": FERRY})[2] == (f"engine.sheet.yaml, line 5, {said}.",)


@pytest.mark.parametrize(
    ("written", "said"),
    [
        (
            "signed: {greased: {by: ab, at: {winch: 4}}}\nreadings: {drum: {1: 10, 2: 10}}",
            '4, signed greased: "4" is no winch; there are 1 and 2, since winches is not stated and no reading names '
            "more; write winches: 4 under facts, if there are so many",
        ),
        (
            "parts: {drums: {1: new}}",
            'drums: "1" is no winch; they are numbered from 1 to 256',
        ),
        (
            "readings: {pin: {1: {c: 10}}}",
            'pin 1: "c" is no shackle; there are a and b, since shackles is taken to be 2; write shackles: 3 '
            "under facts, "
            "if there are so many",
        ),
        (
            "readings: {rope_size: {1: {spare: 10}}}",
            'rope_size 1: "spare" is no rope; there are main and guide, since ropes is taken to be main, guide; write '
            "ropes: [..., spare] under facts, if there is one",
        ),
        (
            "readings: {slope: {left: 10}}",
            'slope: "left" is no shore; there is all, since shores is not stated; write shores: {left: [...], '
            "...} under "
            "facts, if there is one",
        ),
        (
            "signed: {paired: {by: ab, at: {pair: 1}}}",
            'signed paired: "1" is no pair; there are none, since pairs is not stated; write pairs: {1: [...], '
            "...} under "
            "facts, if there is one",
        ),
        (
            "facts: {winches: 2, pairs: [[1, 2, 3]]}",
            'pairs: "3" is no winch; there are 1 and 2, since winches is 2; write winches: 3 under facts, if '
            "there are "
            "so many",
        ),
        (
            "facts: {winches: 2, drum_stated: {3: 10}}",
            'drum_stated: "3" is no winch; there are 1 and 2, since winches is 2; write winches: 3 under facts, '
            "if there "
            "are so many",
        ),
    ],
)
def test_what_is_said_where_no_sheet_states_them(written: str, said: str) -> None:
    line = "" if said[0].isdigit() else "4, "
    assert settled(f"{HEAD}{written}", {"ferry": FERRY})[2] == (f"engine.sheet.yaml, line {line}{said}.",)


def test_a_count_that_a_pack_sets_is_taken_to_be_it() -> None:
    twin = FERRY.replace("unit: mm}\naxes", "unit: mm, sets: {winches: 2}}\naxes")
    said = settled(f"{HEAD}readings: {{drum: {{3: 10}}}}", {"ferry": twin})[2]
    assert said == (
        'engine.sheet.yaml, line 4, drum: "3" is no winch; there are 1 and 2, since winches is taken to be 2; write '
        "winches: 3 under facts, if there are so many.",
    )


@given(count=st.integers(1, 30), number=st.integers(1, 40))
def test_what_is_told_to_write_is_what_it_takes(count: int, number: int) -> None:
    told = settled(f"{HEAD}facts: {{winches: {count}}}\nreadings: {{drum: {{{number}: 10}}}}", {"ferry": FERRY})[2]
    wanted = f"write winches: {number} under facts"
    assert [wanted in said for said in told] == ([] if number <= count else [True])
    assert not settled(f"{HEAD}facts: {{winches: {number}}}\nreadings: {{drum: {{{number}: 10}}}}", {"ferry": FERRY})[2]
