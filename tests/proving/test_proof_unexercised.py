"""What the worked examples leave unexercised, each with its place and the next step."""

import pytest

from tests.proving.small_proofs import HEAD, LIMITS, PACK, WORKED, changed, proved, sentences

CHOICE = "      - {name: dry, when: dry == yes, least: 0.001 * size}\n"


def without(*lines: str) -> str:
    """The pack without some lines of its examples."""
    text = PACK
    for line in lines:
        text = changed(f"{line}\n", "", text)
    return text


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (
            HEAD + LIMITS + CHOICE + WORKED,
            "line 33, fit: no example reaches the line dry; write an example in which dry == yes.",
        ),
        (
            changed("card: card_shaft}", "card: card_shaft, guess: 2 in}"),
            "line 19, size: no example uses the way guess; write an example of it.",
        ),
        (
            changed("most: 0.003 * size, wear", "most: 0.003 * (size if dry == no else 1 in), wear"),
            "line 31, fit: 'dry == no' is never false in an example (0.003 * (size if dry == no else 1 in)); "
            "write an example in which it is.",
        ),
    ],
)
def test_what_no_example_reaches(text: str, sentence: str) -> None:
    assert sentences(proved(text)) == [f"small.pack.yaml, {sentence}"]


BEYOND_WEAR = "          - {at: {place: 3}, verdict: out of spec, side: loose}"
ON_WEAR = f"          - {{at: {{place: 2}}, verdict: worn within limit}}\n{BEYOND_WEAR}"


def test_a_wear_limit_has_to_be_worked_on_both_sides_and_exactly() -> None:
    where = "small.pack.yaml, line 31, fit: no example lies"
    assert sentences(proved(without(ON_WEAR))) == [
        f"{where} on or beyond the wear most of the line base; write an example on it."
    ]
    assert sentences(proved(without(BEYOND_WEAR))) == [
        f"{where} beyond the wear most of the line base; write an example beyond it."
    ]
    inside = "          - {at: {place: 1}, verdict: worn within limit}\n" + ON_WEAR
    text = changed(inside, ON_WEAR)
    assert sentences(proved(text)) == [f"{where} inside the wear most of the line base; write an example inside it."]


def test_a_shift_has_to_be_worked_on_each_side_that_it_moves() -> None:
    lines = [f"          - {{at: {{place: {place}}}, verdict: in spec}}" for place in (2, 4)]
    aluminium = PACK[PACK.index("facts: {material: aluminium}") :]
    cut = aluminium
    for line in lines:
        cut = changed(f"{line}\n", "", cut)
    where = "small.pack.yaml, line 32, fit: no example lies on the"
    assert sentences(proved(PACK.replace(aluminium, cut))) == [
        f"{where} {side} as the line aluminium shifts it; write an example on it." for side in ("least", "most")
    ]


def test_a_floor_is_credited_only_where_it_governs() -> None:
    """At 2 in the floor lies below the least so far, so no example is on it or beyond it by its own figure."""
    floor = '      - {name: floor, least: "max(least, 0.0012 in)"}\n'
    assert sentences(proved(HEAD + LIMITS + floor + WORKED)) == [
        "small.pack.yaml, line 33, fit: no example works the least of the line floor; "
        "write an example on each side, and one on it."
    ]


def test_something_has_to_be_left_out() -> None:
    text = changed("readings: {hole: {1: 2.0040}}}", "readings: {hole: {1: 2.0040}, shaft: {1: 2.0000}}}").replace(
        "verdict: not measured", "verdict: in spec"
    )
    assert sentences(proved(text)) == [
        "small.pack.yaml, line 21, fit: no example leaves something out; "
        "write one without a reading, and expect not measured.",
        "small.pack.yaml, line 19, size: no example uses the way card; "
        "write an example with card_shaft and nothing that a way before it needs.",
    ]


def test_a_condition_that_is_never_false_is_said() -> None:
    """Every example is of aluminium, so nothing shows what stands without its shift."""
    start = PACK.index("      - given:\n          facts: {material: iron}")
    end = PACK.index("      - given:\n          facts: {material: aluminium}")
    text = (PACK[:start] + PACK[end:]).replace("material: iron, card", "material: aluminium, card")
    found = sentences(proved(text))
    assert (
        "small.pack.yaml, line 32, fit: 'material == aluminium' is never false in an example (the line aluminium); "
        "write an example in which it is." in found
    )


def test_while_an_example_does_not_come_out_nothing_is_said_of_what_it_would_show() -> None:
    found = proved(changed("verdict: not measured", "verdict: in spec")).remarks
    assert [remark.kind for remark in found] == ["example"]
