"""Nothing that a file may hold raises: there is a sheet, or there are faults that say where and why."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from specrules.sheet import read_sheet, settle, suspects
from tests.sheet.small_shop import FILE, PACK, settled, shop

HEAD = "specrules: build-sheet/1\nunit: in\n"
WORDS = """
    main_journal main_bore ring_end_gap crank_end_float deck_height chamber_volume opens facts readings gauges limits
    signed concessions build packs unit work done mains cylinders throws banks use stroke coated crown_volume remark
    front rear a b top second intake 1 2 3 257 1-3 others all open repeats at gauge taken after because class zero
    standard reads mic 2.4990 0.018..0.020 thou mm cc yes no by on rule reason operation align_hone grind name most
    when main_oil_clearance rotates_freely rings_squared 2026-10-02 under -0.003 '' 0 least
"""
word = st.sampled_from(WORDS.split())
node = st.recursive(
    word,
    lambda inner: st.one_of(
        st.lists(inner, max_size=4).map(lambda items: f"[{', '.join(items)}]"),
        st.dictionaries(word, inner, max_size=4).map(
            lambda fields: "{" + ", ".join(f"{key}: {value}" for key, value in fields.items()) + "}"
        ),
    ),
    max_leaves=12,
)
section = st.sampled_from(
    ("build", "packs", "facts", "gauges", "readings", "limits", "work done", "signed", "concessions", "decision")
)
fact = st.sampled_from(sorted(shop().facts))
measurand = st.sampled_from(sorted(shop().measurands))


def judged(text: str | bytes) -> None:
    raw, faults = read_sheet(text, FILE)
    assert raw is not None or faults
    if raw is None:
        return
    sheet, more = settle(raw, shop())
    assert (sheet is None) == bool(more or raw.left_out)
    for fault in (*faults, *more):
        assert fault.place.file == FILE
        assert fault.place.line >= 1
        assert fault.said
        assert len(fault.sentence()) < 2000
    if sheet is not None:
        suspects(sheet, shop())


@given(st.dictionaries(section, node, max_size=4))
def test_any_tree_of_known_words(sections: dict[str, str]) -> None:
    judged(HEAD + "".join(f"{key}: {value}\n" for key, value in sections.items()))


@given(
    st.dictionaries(measurand, node, max_size=3),
    st.dictionaries(st.sampled_from(sorted(shop().facts)), node, max_size=3),
)
def test_any_shape_of_readings_and_facts(readings: dict[str, str], facts: dict[str, str]) -> None:
    judged(
        HEAD
        + f"facts: {{{', '.join(f'{name}: {value}' for name, value in facts.items())}}}\n"
        + f"readings: {{{', '.join(f'{name}: {value}' for name, value in readings.items())}}}\n"
    )


@given(st.one_of(st.text(max_size=200), st.binary(max_size=200)))
def test_any_text_and_any_bytes(tail: str | bytes) -> None:
    judged(tail)
    judged(HEAD + tail if isinstance(tail, str) else HEAD.encode() + tail)


def test_a_pack_given_as_a_sheet() -> None:
    judged(PACK)


def test_a_hostile_sheet_costs_little() -> None:
    nested = "".join(f"{n}: {{" for n in range(1, 40)) + "}" * 39
    _, faults = settled(f"readings: {{main_journal: {{{nested}}}}}\n")
    assert [fault.said.partition(";")[0] for fault in faults] == ['"2" is no plane or clock']
    wide = ", ".join(f"{first}-{first + 1}: {{1-256: 2.5}}" for first in range(1, 250))
    _, faults = settled(f"readings: {{main_journal: {{{wide}}}}}\n")
    assert len(faults) == 249
