"""Amendments that take away: a line of limits retired by its name, and one side of the limits cleared."""

import pytest

from specrules.vocabulary import Code, Relaxed
from tests.pack.small_packs import BASE, faults_of, resolved, upper
from tests.proving.small_proofs import PACK, UPPER, proved, sentences


def amended(limits: str) -> str:
    return upper("top", f"  rules:\n    fit: {{reason: Ours., limits: {limits}}}\n")


def test_a_retired_line_is_gone_and_the_others_stay_in_their_order() -> None:
    rule = resolved(BASE, amended("[{name: soft, retire: yes}, {name: hot, most: 0.003 in}]")).rules["fit"].governing[0]
    assert [line.name for line in rule.lines] == ["base", "floor", "hot"]
    assert [line.name for line in resolved(BASE).rules["fit"].governing[0].lines] == ["base", "soft", "floor"]


@pytest.mark.parametrize(
    ("limits", "code", "said"),
    [
        ("[{name: sofd, retire: yes}]", Code.AMENDS_NOTHING, "retires a limit line that no pack below has"),
        ("[{name: soft, retire: perhaps}]", Code.NOT_A_CHOICE, ""),
        ("[{name: new}]", Code.MISSING_KEY, "sets no limit and shifts none"),
    ],
)
def test_what_retires_nothing_is_a_fault(limits: str, code: Code, said: str) -> None:
    (fault,) = faults_of(BASE, amended(limits))
    assert fault.code is code
    assert said in fault.said


def test_a_rule_may_lose_all_its_lines_only_by_saying_that_it_is_not_judged() -> None:
    gone = "[{name: base, retire: yes}, {name: soft, retire: yes}, {name: floor, retire: yes}]"
    (fault,) = faults_of(BASE, amended(gone))
    assert (fault.said, fault.write) == ("has no limits", "limits: and lines of them, or limits: none")


def test_a_cleared_side_is_no_limit_and_stands_in_the_ledger() -> None:
    worked = "      worked: [{given: {facts: {card_shaft: 2.0000}}, at: {0.0010: tight, 0.0900: in spec}}]\n"
    proof = proved(PACK, UPPER + "      limits: [{name: base, most: none, wear most: none}]\n" + worked, name="upper")
    assert [(entry.code, entry.part) for entry in proof.ledger] == [
        (Relaxed.LIMIT_WIDENED, "most"),
        (Relaxed.LIMIT_WIDENED, "wear most"),
    ]
    assert all(now is None for entry in proof.ledger for _, now in entry.limits)
    assert proof.sound, sentences(proof)


def test_a_later_line_may_clear_what_stood_under_a_condition() -> None:
    text = PACK.replace(
        "      - {name: aluminium, when: material == aluminium, shift: 0.0005 in}\n",
        "      - {name: aluminium, when: material == aluminium, shift: 0.0005 in}\n"
        "      - {name: dry, when: dry, most: none}\n",
    ).replace(
        "    worked:\n",
        "    worked:\n      - {given: {facts: {material: iron, dry: yes, card_shaft: 2.0}}, at: {0.0900: in spec}}\n",
    )
    assert sentences(proved(text)) == []
