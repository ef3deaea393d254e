"""What each pack of a chain says of a rule: every value with who says it and where, and what it took the place of."""

from __future__ import annotations

from specrules.output.terminal import text_of
from specrules.output.working_page import rule_whole
from specrules.pack import Specification
from specrules.pack.pack_reading import read_pack
from specrules.pack.resolving import resolve
from specrules.plan import Plan, keep, restore
from tests.output.small_screen import PACKS, upper

HOUSE = """\
specrules: tolerance-pack/1
pack: {name: house, version: '1', title: house, builds on: [wide]}
amend:
  rules:
    tilt:
      reason: Ours are not so long.
      limits:
        - {name: base, least: 0.0001 in, most: 0.0050 in}
        - {name: soft, when: material == aluminium, shift: 0.0005 in}
      importance: major
      caution: Mind the edge.
"""


def resolved(asked: list[str], **more: str) -> Specification:
    packs = []
    for name, text in {**PACKS, **more}.items():
        pack, faults = read_pack([(f"{name}.pack.yaml", text.encode())])
        assert pack is not None, [fault.sentence() for fault in faults]
        packs.append(pack)
    made, faults = resolve(packs, asked)
    assert made is not None, [fault.sentence() for fault in faults]
    return made


def test_every_value_comes_with_the_packs_that_it_came_through() -> None:
    text = text_of(rule_whole(resolved(["house"], house=HOUSE), "tilt"))
    assert (
        text
        == """\
Tilt of the plate
name          tilt
written       base: base.pack.yaml, line 66
amended       wide: wide.pack.yaml, line 5
              Ours are long.
amended       house: house.pack.yaml, line 5
              Ours are not so long.
at            once for the whole build
formula       tilt
measure       tilt
limits        base
  least       0.0001 in                                            house, line 8
  most        0.0050 in                                            house, line 8
              instead of 0.0060 in                                  wide, line 5
              instead of 0.0040 in                                 base, line 69
              soft, when material == aluminium
  moved by    0.0005 in                                            house, line 9
words         low under the least, high over the most
importance    major
              (house says so; base has minor)
hold point    first start
caution       Mind the edge.
              (house says so; base has nothing)
source        published: Plates, 2nd edition, p. 12
"""
    )


def test_a_specification_that_was_kept_tells_the_same_of_every_rule() -> None:
    made = resolved(["house"], house=HOUSE)
    plan = restore("k", keep("k", Plan(made, frozenset())), lambda _: made.scope.functions)
    assert plan is not None
    told = {rule: text_of(rule_whole(made, rule)) for rule in made.rules}
    assert "instead of 0.0060 in" in told["tilt"]
    assert {rule: text_of(rule_whole(plan.specification, rule)) for rule in made.rules} == told


def test_packs_of_which_neither_builds_on_the_other_are_shown_apart() -> None:
    text = text_of(rule_whole(resolved(["strict", "lenient"]), "grip"))
    first, second = text.split("\n\n")
    assert "  least       0.0030 in                                           strict, line 5\n" in first
    assert "  least       0.0015 in                                          lenient, line 5\n" in second


def test_a_long_formula_has_its_place_behind_it() -> None:
    formula = "max(0.0010 in, 0.0020 in, 0.0030 in, 0.0031 in, 0.0032 in)"
    longer = upper("long", f'    grip: {{reason: So., limits: [{{name: base, least: "{formula}"}}]}}\n')
    text = text_of(rule_whole(resolved(["long"], long=longer), "grip"))
    assert f"  least       {formula}  (long,\n              line 5)\n" in text
