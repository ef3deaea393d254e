"""Limits in order, tried over every choice, label and usual size before anything is measured."""

import pytest

from specrules.output.proof import remark_text
from specrules.proving import ProofRemark
from tests.proving.small_proofs import HEAD, LIMITS, WORKED, changed, proved


def about_limits(text: str) -> list[ProofRemark]:
    """What was found of the limits themselves, the examples aside."""
    proof = proved(text)
    assert not proof.faults, [fault.sentence() for fault in proof.faults]
    return [remark for remark in proof.remarks if remark.kind in ("limits", "small sizes", "untried")]


def with_limits(*lines: str, head: str = HEAD) -> str:
    """The small pack with other limit lines."""
    return head + "    limits:\n" + "".join(f"      - {line}\n" for line in lines) + WORKED


@pytest.mark.parametrize(
    ("line", "said"),
    [
        (
            "{name: base, least: 0.0035 * size, most: 0.003 * size}",
            "the least lies above the most at every usual size; write a least below the most",
        ),
        (
            "{name: base, least: 0.006 in, most: 0.005 in}",
            "the least lies above the most whatever is measured; "
            "write least: 0.005 in, most: 0.006 in, if they are exchanged",
        ),
        (
            "{name: base, least: 0.001 * size, aim: 0.004 * size, most: 0.003 * size}",
            "the aim lies outside the limits at every usual size; write an aim between the limits",
        ),
        (
            "{name: base, most: 0.003 * size, wear most: 0.0029 * size}",
            "the wear most lies below the most of new work at every usual size; write a wear most no lower than that",
        ),
        (
            "{name: base, least: 0.003 * size, wear least: 0.0031 * size}",
            "the wear least lies above the least of new work at every usual size; "
            "write a wear least no higher than that",
        ),
        (
            "{name: base, most: 0.003 * size, wear most: 0.006 in}",
            "the wear most lies below the most of new work from a shaft of 2 in on; "
            "write a wear most no lower than that",
        ),
    ],
)
def test_limits_that_cannot_be_used_are_wrong(line: str, said: str) -> None:
    (found,) = about_limits(with_limits(line))
    assert found.wrong
    assert remark_text(found) == f"small.pack.yaml, line 31, fit: {said}."


@pytest.mark.parametrize(
    ("line", "said"),
    [
        (
            '{name: base, least: "max(0.001 * size, 0.005 in)", most: 0.003 * size}',
            "the least lies above the most up to a shaft of 1.667 in; there an inspection asks for the maker's limits",
        ),
        (
            "{name: base, least: 0.001 * size, aim: 0.004 in, most: 0.003 * size}",
            "the aim lies outside the limits up to a shaft of 1.333 in; there it is left out",
        ),
    ],
)
def test_limits_that_cross_on_some_sizes_are_a_remark_with_the_size(line: str, said: str) -> None:
    """0.005 / 0.003 and 0.004 / 0.003: worked by hand."""
    (found,) = about_limits(with_limits(line))
    assert not found.wrong
    assert remark_text(found) == f"small.pack.yaml, line 31, fit: {said}."


def test_every_setting_of_facts_is_tried_and_the_one_at_fault_named() -> None:
    (found,) = about_limits(changed("shift: 0.0005 in", "most: 0.0005 * size", HEAD + LIMITS + WORKED))
    assert found.said == "the least lies above the most at every usual size, with material aluminium"


def test_labels_that_conditions_name_are_tried() -> None:
    """Place 3 has limits of its own; of a counted axis that label is tried, and one other."""
    own = "{name: third, when: place == 3, least: 0.02 * size}"
    (found,) = about_limits(with_limits("{name: base, least: 0.001 * size, most: 0.003 * size}", own))
    assert found.said == "the least lies above the most at every usual size, with place 3"


def test_labels_of_groups_are_tried_where_conditions_name_them() -> None:
    head = changed("  end: {names", "  row: {groups: rows, of: place, default: one}\n  end: {names", HEAD)
    head = changed("  dry: {", "  rows: {kind: groups}\n  dry: {", head)
    own = "{name: left, when: row == left, least: 0.02 * size}"
    (found,) = about_limits(with_limits("{name: base, least: 0.001 * size, most: 0.003 * size}", own, head=head))
    assert found.said == "the least lies above the most at every usual size, with row left"


def test_where_a_rule_does_not_apply_its_limits_are_not_tried() -> None:
    lines = (
        "{name: base, least: 0.001 * size, most: 0.003 * size}",
        "{name: aluminium, when: material == aluminium, least: 0.02 * size}",
    )
    assert about_limits(with_limits(*lines))
    head = HEAD + "    applies when: material == iron\n"
    assert not about_limits(with_limits(*lines, head=head))


def test_a_line_that_leaves_it_to_the_maker_has_nothing_to_be_in_order() -> None:
    maker = "{name: aluminium, when: material == aluminium, from the maker: yes}"
    assert not about_limits(with_limits("{name: base, least: 0.001 * size, most: 0.003 * size}", maker))


def test_a_stated_size_is_tried_where_examples_state_it_and_else_said_to_be_untried() -> None:
    lines = "{name: base, least: 0.003 in, most: 0.001 * card_shaft}"
    (found,) = about_limits(with_limits(lines))
    assert found.said == "the least lies above the most at every usual size"
    head = changed("  dry: {", "  card_hole: {kind: quantity, unit: in}\n  dry: {", HEAD)
    (found,) = about_limits(with_limits("{name: base, most: 0.001 * card_hole}", head=head))
    assert (found.kind, found.wrong) == ("untried", False)
    assert found.said == "the limits are not tried, for nothing says what size card_hole may be"
