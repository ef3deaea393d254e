"""Two specifications held against each other without a sheet: line by line, by how much over the usual sizes."""

from __future__ import annotations

from decimal import Decimal

from specrules.pack import Specification
from specrules.pack.pack_reading import read_pack
from specrules.pack.resolving import resolve
from specrules.proving.written_comparison import WrittenComparison, between_specifications
from tests.proving.small_proofs import PACK

UPPER = """\
specrules: tolerance-pack/1
pack: {{name: {name}, version: "1", title: An upper practice, builds on: [small]}}
amend:
  rules:
    fit:
      reason: so
      limits: [{lines}]
"""


def resolved(*texts: str) -> Specification:
    packs = []
    for number, text in enumerate((PACK, *texts)):
        pack, faults = read_pack([(f"p{number}.pack.yaml", text.encode())])
        assert pack is not None, [fault.sentence() for fault in faults]
        packs.append(pack)
    made, faults = resolve(packs, [packs[-1].name])
    assert made is not None, [fault.sentence() for fault in faults]
    return made


def compared(lines: str) -> WrittenComparison:
    """The small pack against one that amends its lines."""
    return between_specifications(resolved(), resolved(UPPER.format(name="upper", lines=lines)))


def test_a_factor_is_told_over_the_usual_sizes() -> None:
    """0.0035 less 0.0030 of a shaft of 1 to 3 in: 0.0005 to 0.0015 in."""
    (found,) = compared("{name: base, most: 0.0035 * size}").differences
    assert (found.line, found.part, found.texts) == ("base", "most", ("0.003 * size", "0.0035 * size"))
    assert found.wider == 1
    assert found.by is not None
    assert [size / Decimal("25.4") for size in found.by] == [Decimal("0.0005"), Decimal("0.0015")]


def test_what_is_wider_at_some_sizes_and_narrower_at_others_is_neither() -> None:
    (found,) = compared("{name: base, most: 0.006 in}").differences
    assert (found.wider, found.by) == (None, None)


def test_a_shift_a_condition_and_a_new_line_are_told_as_they_are_written() -> None:
    found = compared(
        "{name: aluminium, when: material == iron, shift: 0.0006 in}, {name: dry, when: dry == yes, least: 0.001 in}"
    )
    assert [(each.line, each.part, each.texts, each.wider) for each in found.differences] == [
        ("aluminium", "shift", ("0.0005 in", "0.0006 in"), None),
        ("aluminium", "when", ("material == aluminium", "material == iron"), None),
        ("dry", "least", ("", "0.001 in"), None),
        ("dry", "when", ("", "dry == yes"), None),
    ]


def test_blanks_are_no_difference() -> None:
    assert compared("{name: base, most: 0.003  *  size}").differences == ()


def test_rules_that_only_one_has_are_named() -> None:
    own = UPPER.format(name="upper", lines="{name: base, most: 0.003 * size}") + (
        "measurands: {lid: {unit: in}}\n"
        "rules:\n"
        "  lid:\n"
        "    title: Lid\n"
        "    formula: lid\n"
        "    limits: {most: 1 in}\n"
        "    importance: minor\n"
        "    source: {kind: house}\n"
        "    worked: [{given: {readings: {lid: open}}, expect: {verdict: not measured}}]\n"
    )
    found = between_specifications(resolved(), resolved(own))
    assert (found.alone, found.alike, found.differences) == (((), ("lid",)), 1, ())
