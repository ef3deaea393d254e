"""Margins: how much further in than the packs below a pack holds rules, after all lines of all packs."""

import pytest

from specrules.vocabulary import Code
from tests.pack.small_packs import BASE, faults_of, read_text, resolved, upper
from tests.proving.small_proofs import PACK, proved, sentences

HOUSE = """\
specrules: tolerance-pack/1
pack: {{name: upper, version: "1", title: Ours, unit: in, builds on: [small]}}
margins: [{{on: [fit], inward: {inward}, reason: Two came back.{more}}}]
amend:
  rules:
    fit:
      reason: Shown here.
      worked:
        - {{given: {{facts: {{material: iron, card_shaft: 2.0000}}}}, at: {{{at}}}}}
"""


def said(inward: str, at: str, more: str = "") -> list[str]:
    """What the house pack's proof says, of values of which a verdict is expected."""
    return sentences(proved(PACK, HOUSE.format(inward=inward, at=at, more=more), name="upper"))


def test_the_least_goes_up_and_the_most_down() -> None:
    at = "0.0022: in spec, 0.0021: tight by 0.0001, 0.0058: in spec, 0.0059: loose by 0.0001"
    assert said("0.0002 in", at) == []


def test_a_margin_is_no_limit_of_worn_parts() -> None:
    worn = HOUSE.replace("material: iron,", "material: iron, work: refresh,")
    text = worn.format(inward="0.0002 in", at="0.0080: worn within limit, 0.0081: loose by 0.0001", more="")
    assert sentences(proved(PACK, text, name="upper")) == []


def test_a_band_that_is_used_up_is_no_figure() -> None:
    nothing = "small.pack.yaml, line 31, fit: the margin leaves nothing between least and most up to a shaft of {} in"
    left = ", with material iron; there an inspection asks for the maker's limits."
    assert said("0.0020 in", "0.0040: no figure") == [nothing.format("2") + left]
    assert said("0.0019 in", "0.0040: in spec") == [nothing.format("1.9") + left]


@pytest.mark.parametrize(("more", "verdict"), [("", "in spec"), (", makers too: yes", "tight by 0.0002")])
def test_the_makers_own_limits_are_drawn_in_only_where_that_is_said(more: str, verdict: str) -> None:
    own = HOUSE.replace(
        "card_shaft: 2.0000}}", "card_shaft: 2.0000}}, limits: {{fit: {{least: 0.0010 in, most: 0.0090 in}}}}"
    )
    text = own.format(inward="0.0002 in", at=f"0.0010: {verdict}", more=more)
    assert not any("expected" in each for each in sentences(proved(PACK, text, name="upper")))


def test_margins_count_after_the_lines_of_all_packs_whatever_their_order() -> None:
    house = upper("house", "", more="margins: [{on: [fit], inward: 0.0002 in, reason: Ours.}]\n")
    tow = upper("tow", "  rules:\n    fit: {reason: Hot., limits: [{name: hot, least: 0.001 in}]}\n")
    for order in (["tow", "house"], ["house", "tow"]):
        chain = resolved(BASE, house, tow, asked=order).rules["fit"]
        (rule,) = chain.governing
        assert [line.name for line in rule.lines] == ["base", "soft", "floor", "hot"]
        assert [(margin.pack, margin.text) for margin in rule.margins] == [("house", "0.0002 in")]
        assert {version.pack: len(version.margins) for version in chain.versions} == {"base": 0, "tow": 0, "house": 1}


def test_margins_of_packs_one_on_another_add_up() -> None:
    text = "margins: [{on: [fit], inward: 0.0002 in, reason: Ours.}]\n"
    top = resolved(BASE, upper("house", "", more=text), upper("bench", "", "house", text)).rules["fit"].governing[0]
    assert [margin.pack for margin in top.margins] == ["house", "bench"]


@pytest.mark.parametrize(
    ("margin", "code", "words"),
    [
        ("{on: [fitt], inward: 0.0002 in, reason: R.}", Code.AMENDS_NOTHING, "no pack below has it among its rules"),
        ("{on: [fit], inward: 0.0002, reason: R.}", Code.UNIT_MISSING, ""),
        ("{on: [fit], inward: 2 g, reason: R.}", Code.WRONG_UNIT, ""),
        ("{on: [fit], inward: -0.0002 in, reason: R.}", Code.WRONG_RANGE, "is no amount above 0"),
        ("{on: [fit], inward: 0 in, reason: R.}", Code.WRONG_RANGE, "is no amount above 0"),
        ("{on: [fit], inward: 0.0001..0.0002 in, reason: R.}", Code.WRONG_RANGE, "is no amount above 0"),
        ("{on: [fit, fit], inward: 0.0002 in, reason: R.}", Code.DEFINED_TWICE, "has a margin of this pack already"),
        ("{on: [fit], inward: 0.0002 in}", Code.MISSING_KEY, ""),
    ],
)
def test_what_is_wrong_with_a_margin(margin: str, code: Code, words: str) -> None:
    faults = faults_of(BASE, upper("top", "", more=f"margins: [{margin}]\n"))
    assert [fault.code for fault in faults] == [code]
    assert words in faults[0].said


def test_a_rule_that_the_pack_itself_retires_has_no_margin() -> None:
    more = "margins: [{on: [share], inward: 0.1, reason: R.}]\n"
    faults = faults_of(BASE, upper("top", "  rules: {share: {reason: no, retire: yes}}\n", more=more))
    assert [fault.said for fault in faults] == ["is retired by this pack"]


def test_a_margin_is_kept_with_its_place() -> None:
    pack = read_text(upper("top", "", more="margins: [{on: fit, inward: 0.0002 in, reason: R.}]\n"))
    assert [(each.on, each.inward, each.place.line) for each in pack.margins] == [(("fit",), "0.0002 in", 3)]
