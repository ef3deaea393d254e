"""`prove --write`: values that examples lack are proposed, put where they belong, and judged by their author."""

import pytest

from specrules.document import read
from specrules.pack.pack_reading import read_pack
from specrules.proving import propose
from specrules.proving.proposed_text import with_proposals
from tests.proving.small_proofs import HEAD, LIMITS, PACK, proved, sentences

WHOLE = """\
    worked:
      - given: {facts: {material: iron}, readings: {hole: {1: 2.0040}}}   # kept
        expect: {at: {place: 1}, verdict: not measured}
      - given: {facts: {material: iron}, readings: {hole: {1: 2.0040}, shaft: {1: 2.0000}}}
        expect: {at: {place: 1}, value: 0.0040 in, verdict: in spec}
# after it
operations: {hone: {makes stale: [hole]}}
"""
TEXT = HEAD + LIMITS + WHOLE
PROPOSED = """\
      - given: {facts: {material: iron}, readings: {shaft: {1: 2 in}}}
        at: {0.0020: to be judged, 0.0019: to be judged, 0.0060: to be judged, 0.0061: to be judged}
      - given: {facts: {material: aluminium}, readings: {shaft: {1: 2 in}}}
        at: {0.0045: to be judged, 0.0025: to be judged, 0.0024: to be judged, 0.0065: to be judged,
          0.0066: to be judged}
"""


def written(text: str) -> tuple[str, int]:
    """A pack's text with all that its examples lack, and how many could not be put there."""
    pack, faults = read_pack([("small.pack.yaml", text.encode())])
    assert pack is not None, faults
    made = with_proposals(text, "small.pack.yaml", propose([pack], "small"))
    return made.text, len(made.left)


def test_what_is_lacking_is_put_behind_the_examples_and_nothing_else_changes() -> None:
    assert written(TEXT) == (TEXT.replace("# after it\n", PROPOSED + "# after it\n"), 0)


def test_nothing_is_proposed_where_nothing_lacks() -> None:
    assert written(PACK) == (PACK, 0)


def test_what_is_proposed_is_no_example_until_its_author_judges_it() -> None:
    text, _ = written(TEXT)
    proof = proved(text)
    assert not proof.sound
    said = [each for each in sentences(proof) if "is still to be judged" in each]
    assert len(said) == PROPOSED.count("to be judged")
    assert not any("came out" in each for each in sentences(proof))
    judged = text.replace("0.0019: to be judged", "0.0019: tight").replace("0.0024: to be judged", "0.0024: tight")
    judged = judged.replace("0.0061: to be judged", "0.0061: loose").replace("0.0066: to be judged", "0.0066: loose")
    assert proved(judged.replace("to be judged", "in spec")).sound
    assert written(judged.replace("to be judged", "in spec"))[0] == judged.replace("to be judged", "in spec")


@pytest.mark.parametrize(
    ("worked", "left"),
    [
        (
            "    worked: [{given: {readings: {hole: {1: 2.0}}}, expect: {verdict: not measured}}]\n",
            2,
        ),
        ("    worked:\n      [{given: {readings: {hole: {1: 2.0}}}, expect: {verdict: not measured}}]\n", 2),
    ],
)
def test_a_list_in_brackets_is_left_as_it_is(worked: str, left: int) -> None:
    assert written(HEAD + LIMITS + worked) == (HEAD + LIMITS + worked, left)


def test_an_amendment_without_examples_gets_a_list_of_them() -> None:
    upper = """\
specrules: tolerance-pack/1
pack: {name: upper, version: "1.0", title: Upper, unit: in, builds on: [small]}
amend:
  rules:
    fit:
      reason: Closer work.
      limits: [{name: base, least: 0.0015 * size}]"""
    packs = []
    for name, text in (("small", PACK), ("upper", upper)):
        pack, faults = read_pack([(f"{name}.pack.yaml", text.encode())])
        assert pack is not None, faults
        packs.append(pack)
    made = with_proposals(upper, "upper.pack.yaml", propose(packs, "upper"))
    assert made.text.startswith(f"{upper}\n      worked:\n        - given: {{facts: {{material: iron}}, readings:")
    assert read(made.text.encode(), "upper.pack.yaml")[1] == ()
    assert made.left == ()


def test_one_rule_alone_may_be_asked_for() -> None:
    pack, _ = read_pack([("small.pack.yaml", TEXT.encode())])
    assert pack is not None
    assert propose([pack], "small", only="another") == ()
    assert {each.rule for each in propose([pack], "small", only="fit")} == {"fit"}


def test_each_edge_of_what_a_line_holds_for_is_proposed_and_one_step_past_it() -> None:
    text = PACK.replace("wear most: 0.004 * size}", "wear most: 0.004 * size, holds for: {size: 1..3 in}}")
    assert text != PACK
    made, left = written(text)
    assert left == 0
    for size in ("1", "0.9999", "3", "3.0001"):
        assert f"given: {{facts: {{material: iron}}, readings: {{shaft: {{1: {size} in}}}}}}\n" in made, made
