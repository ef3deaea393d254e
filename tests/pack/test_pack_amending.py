"""Specifications of packs: order, amendments, several packs side by side, and what of it is a fault."""

from decimal import Decimal

import pytest

from specrules.pack import Amount, Rule
from specrules.pack.resolving import resolve
from tests.pack.small_packs import BASE, faults_of, read_text, resolved, upper

TOW = upper(
    "tow",
    """\
  rules:
    fit:
      reason: It works hot.
      limits: [{name: base, least: 0.0008 * size}, {name: hot, most: 0.003 in}]
      because: {loose: It knocks and leaks.}
      worked:
        - given: {readings: {hole: {1: 2.5026}}}
          expect: {at: {place: 1}, verdict: not measured}
""",
)
RACE = upper(
    "race", "  rules:\n    fit: {reason: Speed., limits: [{name: base, most: 0.0013 * size}], caution: Hurry not.}\n"
)
HOUSE = upper("house", "  rules:\n    fit: {reason: Ours., limits: {least: 0.0009 * size}}\n", on="tow")


def limits(rule: Rule) -> dict[str, dict[str, str]]:
    """What each line of limits sets, as written."""
    return {line.name: {part: formula.text for part, formula in line.sets.items()} for line in rule.lines}


def test_an_amendment_edits_the_line_of_that_name_in_place_and_adds_others_at_the_end() -> None:
    rule = resolved(BASE, TOW).rules["fit"].governing[0]
    assert limits(rule) == {
        "base": {
            "least": "0.0008 * size",
            "aim": "0.0010 * size",
            "most": "0.0014 * size",
            "wear most": "0.002 * size",
        },
        "soft": {},
        "floor": {"least": "max(least, 0.0008 in)"},
        "hot": {"most": "0.003 in"},
    }
    assert rule.because == {"tight": "It seizes.", "loose": "It knocks and leaks."}


SHORT = (
    BASE[: BASE.index("      - name: base\n")].rstrip()
    + " {least: 0.001 in, most: 0.003 in}\n"
    + BASE[BASE.index("    words: tight/loose") :]
)


@pytest.mark.parametrize("amended", ["[{name: base, most: 0.002 in}]", "{most: 0.002 in}"])
def test_limits_written_short_are_the_line_named_base(amended: str) -> None:
    race = upper("race", f"  rules:\n    fit: {{reason: Speed., limits: {amended}}}\n")
    assert limits(resolved(SHORT, race).rules["fit"].governing[0]) == {
        "base": {"least": "0.001 in", "most": "0.002 in"}
    }
    lines = limits(resolved(BASE, race).rules["fit"].governing[0])
    assert (lines["base"]["most"], lines["base"]["aim"], [*lines]) == (
        "0.002 in",
        "0.0010 * size",
        ["base", "soft", "floor"],
    )


def test_every_value_remembers_the_pack_the_file_and_the_line_that_wrote_it() -> None:
    rule = resolved(BASE, TOW).rules["fit"].governing[0]
    base = rule.lines[0]
    assert (base.pack, base.place.file, base.place.line) == ("tow", "pack1.yaml", 7)
    least, most = base.sets["least"].text, base.sets["most"].text
    assert getattr(least, "place", None) == ("pack1.yaml", 7, 36)
    assert getattr(most, "place", None) == ("pack0.yaml", 53, 15)
    assert (rule.lines[1].pack, rule.lines[1].place.file) == ("base", "pack0.yaml")
    assert (rule.pack, rule.place.file, rule.place.line) == ("tow", "pack1.yaml", 5)
    assert rule.reasons == (("tow", "It works hot."),)


def test_worked_examples_stay_on_the_level_of_their_pack() -> None:
    chain = resolved(BASE, TOW, HOUSE).rules["fit"]
    assert [rule.pack for rule in chain.versions] == ["base", "tow", "house"]
    assert [len(rule.worked) for rule in chain.versions] == [1, 1, 0]
    assert [rule.worked[0].pack for rule in chain.versions[:2]] == ["base", "tow"]
    assert chain.governing == (chain.versions[-1],)
    assert chain.governing[0].reasons == (("tow", "It works hot."), ("house", "Ours."))
    assert limits(chain.governing[0])["base"]["least"] == "0.0009 * size"


def test_a_rule_that_no_pack_amends_has_one_version() -> None:
    chain = resolved(BASE, TOW).rules["share"]
    assert len(chain.versions) == 1
    assert chain.governing == chain.versions


def test_packs_come_weakest_first_and_only_those_asked_for_with_their_grounds() -> None:
    packs = [read_text(text, f"{n}.yaml") for n, text in enumerate((HOUSE, RACE, TOW, BASE))]
    made, faults = resolve(packs, ["house"])
    assert faults == ()
    assert made is not None
    assert [pack.name for pack in made.packs] == ["base", "tow", "house"]


def test_strangers_that_set_different_parts_are_merged_into_one() -> None:
    race = upper("race", "  rules:\n    fit: {reason: Speed., limits: [{name: base, aim: 0.0012 * size}]}\n")
    chain = resolved(BASE, TOW, race, asked=["tow", "race"]).rules["fit"]
    (rule,) = chain.governing
    assert limits(rule)["base"]["least"] == "0.0008 * size"
    assert limits(rule)["base"]["aim"] == "0.0012 * size"
    assert rule.reasons == (("tow", "It works hot."), ("race", "Speed."))
    assert rule.worked == ()
    assert [version.pack for version in chain.versions] == ["base", "tow", "race"]


def test_strangers_that_set_the_same_part_differently_govern_side_by_side() -> None:
    race = upper(
        "race", "  rules:\n    fit: {reason: Speed., limits: [{name: base, least: 0.001 * size, aim: 0.0012 * size}]}\n"
    )
    chain = resolved(BASE, TOW, race, asked=["tow", "race"]).rules["fit"]
    assert [rule.pack for rule in chain.governing] == ["tow", "race"]
    assert [limits(rule)["base"]["least"] for rule in chain.governing] == ["0.0008 * size", "0.001 * size"]
    assert [limits(rule)["base"]["aim"] for rule in chain.governing] == ["0.0010 * size", "0.0012 * size"]
    assert ["hot" in limits(rule) for rule in chain.governing] == [True, False]


def test_one_that_no_limits_at_all_and_one_that_sets_a_limit_differ() -> None:
    race = upper("race", "  rules:\n    fit: {reason: Speed., limits: none}\n")
    chain = resolved(BASE, TOW, race, asked=["tow", "race"]).rules["fit"]
    assert [(rule.pack, rule.limits_wanted) for rule in chain.governing] == [("tow", True), ("race", False)]


def test_a_pack_above_two_strangers_settles_what_they_differ_in() -> None:
    race = upper("race", "  rules:\n    fit: {reason: Speed., limits: [{name: base, least: 0.001 * size}]}\n")
    both = upper(
        "both", "  rules:\n    fit: {reason: Settled., limits: [{name: base, least: 0.0009 * size}]}\n", "tow, race"
    )
    (rule,) = resolved(BASE, TOW, race, both).rules["fit"].governing
    assert limits(rule)["base"]["least"] == "0.0009 * size"
    assert rule.pack == "both"


def test_one_stranger_and_the_heir_of_another_govern_not_the_one_that_was_inherited() -> None:
    race = upper("race", "  rules:\n    fit: {reason: Speed., limits: [{name: base, least: 0.001 * size}]}\n")
    chain = resolved(BASE, TOW, HOUSE, race, asked=["house", "race"]).rules["fit"]
    assert [rule.pack for rule in chain.governing] == ["house", "race"]
    assert limits(chain.governing[1])["base"]["least"] == "0.001 * size"
    assert "hot" not in limits(chain.governing[1])


def test_strangers_that_only_word_a_caution_differently_do_not_split_the_rule() -> None:
    one = upper("one", "  rules:\n    fit: {reason: a, caution: First.}\n")
    two = upper("two", "  rules:\n    fit: {reason: b, caution: Second.}\n")
    (rule,) = resolved(BASE, one, two, asked=["one", "two"]).rules["fit"].governing
    assert rule.caution == "Second."


def test_a_source_is_replaced_whole_since_half_of_two_sources_is_none() -> None:
    one = upper("one", "  rules:\n    share: {reason: a, source: {kind: house}}\n")
    (rule,) = resolved(BASE, one).rules["share"].governing
    assert (rule.source.kind, rule.source.document) == ("house", "")


def test_a_retired_thing_is_gone_with_every_mention_of_it() -> None:
    gone = upper(
        "gone",
        "  sign-offs:\n    clean: {reason: a, retire: yes}\n  rules:\n    share: {reason: a, retire: yes}\n",
    )
    made = resolved(BASE, gone)
    assert made.sign_offs == {}
    assert list(made.rules) == ["fit"]
    assert made.rules["fit"].governing[0].needs == ()
    assert made.figures["clearance"].ways[1].needs == ()
    assert made.operations["hone"].makes_stale == ("hole",)


def test_what_a_stranger_still_works_with_is_not_retired() -> None:
    gone = upper("gone", "  rules:\n    fit: {reason: a, retire: yes}\n")
    chain = resolved(BASE, TOW, gone, asked=["tow", "gone"]).rules["fit"]
    assert [rule.pack for rule in chain.governing] == ["tow"]


def test_facts_gauges_figures_and_the_rest_can_be_amended_too() -> None:
    more = upper(
        "more",
        """\
  facts:
    material: {reason: a, choices: [iron, aluminium, steel]}
  gauge classes:
    bore gauge: {reason: b, mpe: 0.0002 in}
  measurands:
    hole: {reason: c, how: Across the pin., repeats: 3}
  figures:
    size: {reason: d, ways: {rough: stand}}
  operations:
    hone: {reason: e, makes stale: [hole, shaft]}
""",
    )
    made = resolved(BASE, more)
    assert made.facts["material"].choices == ("iron", "aluminium", "steel")
    capability = made.gauge_classes["bore gauge"].capability.figures
    assert capability.mpe == Amount(Decimal("0.0002") * Decimal("25.4"))
    assert capability.resolution == Amount(Decimal("0.0001") * Decimal("25.4"))
    assert (made.measurands["hole"].how, made.measurands["hole"].repeats) == ("Across the pin.", 3)
    assert [way.name for way in made.figures["size"].ways] == ["measured", "card", "rough"]
    assert made.operations["hone"].makes_stale == ("hole", "shaft")


def test_hold_points_of_an_upper_pack_go_between_those_below() -> None:
    more = upper("more", "", more="hold points: [dry_fit, before_paint, first_start]\n")
    assert resolved(BASE, more).hold_points == ("dry_fit", "before_paint", "first_start")


def test_what_the_packs_set_decide_and_ask_for() -> None:
    more = BASE.replace("  unit: in\n", "  unit: in\n  sets: {material: iron}\n  decision: simple\n")
    made = resolved(
        more, upper("more", "", more="").replace("builds on", "decision: guarded, sets: {work: refresh}, builds on")
    )
    assert made.sets == {"material": "iron", "work": "refresh"}
    assert made.decision == "guarded"
    assert made.wear_when is not None
    assert made.wear_when.text == "work == refresh"
    assert [pack.unit.symbol for pack in made.packs if pack.unit] == ["in", "in"]
    assert made.unit is not None
    assert made.unit.symbol == "in"


FAULTS = [
    (
        "  rules:\n    ¦fitt: {reason: a, caution: b}\n",
        "fitt: amends nothing: no pack below has it among its rules; write fit.",
    ),
    (
        "  ¦ruels:\n    fit: {reason: a, caution: b}\n",
        'amend: "ruels" is no key here; write rules.',
    ),
    (
        "  ¦fit:\n    reason: a\n    caution: b\n",
        'amend: "fit" is no key here; write fit under the section that it is of, such as rules.',
    ),
    (
        "  rules:\n    ¦fit: {caution: b}\n",
        'fit: has no "reason" (why this pack differs).',
    ),
    ("  rules:\n    fit: {reason: a, ¦formula: size}\n", 'fit: "formula" cannot be amended.'),
    ("  rules:\n    fit: {reason: a, ¦each: plane}\n", 'fit: "each" cannot be amended.'),
    ("  measurands:\n    hole: {reason: a, ¦unit: mm}\n", 'hole: "unit" cannot be amended.'),
    (
        "  figures:\n    size: {reason: a, ways: {¦card: stand}}\n",
        "size ways card: stands already, and a formula cannot be amended; write another name.",
    ),
    (
        "  rules:\n    fit: {reason: a, limits: [{name: base, ¦lest: 1 in}]}\n",
        'fit limits base: "lest" is no key here; write least.',
    ),
    (
        "  rules:\n    fit: {reason: a, words: ¦snug/slack}\n",
        'fit words: "snug/slack" leaves importance and because and remedy of tight and loose without a side; write '
        "tight/loose as it was, or importance and because and remedy anew.",
    ),
    ("  rules:\n    fit: {reason: a, retire: ¦true}\n", 'fit retire: "true" is neither yes nor no; write yes.'),
]


@pytest.mark.parametrize(("amend", "sentence"), FAULTS)
def test_amendments_at_fault(amend: str, sentence: str) -> None:
    text = upper("more", amend)
    before = text.partition("¦")[0]
    line, column = before.count("\n") + 1, len(before) - before.rfind("\n")
    fault = faults_of(BASE, text.replace("¦", ""))[0]
    assert fault.sentence() == f"upper1.pack.yaml, line {line}, {sentence}"
    assert fault.place.column == column


def said(*texts: str, asked: list[str]) -> list[str]:
    packs = [read_text(text, f"{n}.yaml") for n, text in enumerate(texts)]
    return [fault.sentence() for fault in resolve(packs, asked)[1]]


def test_a_second_definition_is_a_fault_that_names_the_first() -> None:
    again = upper("more", "", more="facts:\n  grip: {kind: number}\n")
    assert said(BASE, again, asked=["more"]) == [
        "1.yaml, line 4, grip: is defined already, by the pack base (0.yaml, line 19); write it under amend, facts."
    ]


def test_a_pack_does_not_amend_what_it_defines_or_what_is_gone() -> None:
    own = upper("own", "  facts:\n    mine: {reason: a, title: b}\n", more="facts:\n  mine: {kind: number}\n")
    assert said(BASE, own, asked=["own"]) == [
        "1.yaml, line 7, mine: is defined in this pack itself; write the change under facts."
    ]
    gone = upper("gone", "  facts:\n    grip: {reason: a, retire: yes}\n")
    late = upper("late", "  facts:\n    grip: {reason: a, title: b}\n", on="gone")
    assert said(BASE, gone, late, asked=["late"]) == [
        "2.yaml, line 5, grip: is amended here, and the pack gone retired it."
    ]


def test_a_pack_amends_only_what_it_builds_on() -> None:
    other = upper("other", "", more="facts:\n  far: {kind: number}\n")
    mine = upper("mine", "  facts:\n    far: {reason: a, title: b}\n")
    assert said(BASE, other, mine, asked=["other", "mine"]) == [
        "2.yaml, line 5, far: amends nothing: no pack below has it among its facts."
    ]


def test_strangers_that_set_another_thing_than_a_rule_differently_are_a_fault() -> None:
    one = upper("one", "  figures:\n    size: {reason: a, title: One}\n")
    two = upper("two", "  figures:\n    size: {reason: a, title: Two}\n")
    assert said(BASE, one, two, asked=["one", "two"]) == [
        "2.yaml, line 5, size: the packs one and two set it differently, and neither builds on the other."
    ]


def test_packs_that_imply_different_facts_cannot_be_used_together() -> None:
    one = upper("one", "").replace("builds on", "sets: {material: iron}, builds on")
    two = upper("two", "").replace("builds on", "sets: {material: aluminium}, builds on")
    assert said(BASE, one, two, asked=["one", "two"]) == [
        '2.yaml, line 2, pack sets material: "aluminium" is not what the pack one sets, "iron",'
        " so not both can be used."
    ]


def test_strangers_that_ask_for_different_decisions_are_a_fault() -> None:
    one = upper("one", "").replace("builds on", "decision: simple, builds on")
    two = upper("two", "").replace("builds on", "decision: guarded, builds on")
    assert said(BASE, one, two, asked=["one", "two"]) == [
        '2.yaml, line 2, pack decision: "guarded" is not what the pack one says, "simple",'
        " and neither builds on the other."
    ]


def test_packs_in_a_circle_and_packs_that_are_not_there() -> None:
    one, two = upper("one", "", on="two"), upper("two", "", on="one")
    assert said(one, two, asked=["one"]) == [
        "1.yaml, line 2, pack: the packs go in a circle: one builds on two builds on one."
    ]
    assert said(BASE, upper("more", "", on="bsae"), asked=["more"]) == [
        '1.yaml, line 2, pack: "bsae" is no pack that was found; write base.'
    ]
    assert said(BASE, asked=["racing"]) == ['pack: "racing" is no pack that was found.']


def test_a_long_row_of_packs_is_no_trouble_and_one_too_long_is_a_fault() -> None:
    texts = [BASE, *(upper(f"p{n}", "", on=f"p{n - 1}" if n else "base") for n in range(120))]
    packs = [read_text(text, f"{n}.yaml") for n, text in enumerate(texts)]
    made, faults = resolve(packs, ["p60"])
    assert made is not None
    assert len(made.packs) == 62
    made, faults = resolve(packs, ["p119"])
    assert [fault.said for fault in faults] == ["more than 100 packs build one on another"]


def test_hold_points_below_may_not_be_left_out() -> None:
    more = upper("more", "", more="hold points: [first_start]\n")
    assert said(BASE, more, asked=["more"]) == [
        "1.yaml, line 3, hold points: does not have the hold points of the packs before it, in their order:"
        " dry_fit, first_start; write all of them, and its own between."
    ]


def test_a_fault_of_the_rule_below_is_not_said_again_for_every_pack_above() -> None:
    bad = BASE.replace("aim: 0.0010 * size", "aim: 0.0010 * sise")
    assert len(said(bad, TOW, HOUSE, asked=["house"])) == 1


def test_a_fault_of_an_amendment_stands_where_the_amendment_was_written() -> None:
    bad = TOW.replace("0.0008 * size", "0.0008 * sise")
    packs = [read_text(BASE, "0.yaml"), read_text(bad, "1.yaml")]
    made, (fault,) = resolve(packs, ["tow"])
    assert made is None
    assert fault.place == ("1.yaml", 7, 45)
