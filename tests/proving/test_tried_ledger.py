"""The ledger of a pack without a sheet: limits and conditions of rules, held at every size and setting."""

from __future__ import annotations

import pytest

from specrules.output.ledger_lines import told
from specrules.proving.tried_ledger import pack_ledger
from specrules.vocabulary import Relaxed
from tests.pack.small_packs import BASE, resolved, upper


def amended(parts: str, rule: str = "fit") -> str:
    return upper("upper", f"  rules:\n    {rule}: {{reason: Because., {parts}}}\n")


def found(parts: str, base: str = BASE) -> list[tuple[str, str]]:
    return [(each.code.value, each.part) for each in pack_ledger(resolved(base, amended(parts)), "upper")]


CASES = {
    "a limit widened": ("limits: [{name: base, most: 0.0015 * size}]", [("limit widened", "most")]),
    "a limit narrowed": ("limits: [{name: base, most: 0.0013 * size}]", []),
    "at some sizes only": ("limits: [{name: base, most: 0.004 in}]", [("limit widened", "most")]),
    "under one choice only": (
        "limits: [{name: thin, when: material == aluminium, least: 0.0001 in}]",
        [("limit widened", "least")],
    ),
    "moved outwards": ("limits: [{name: soft, shift: 0.0005 in}]", [("limit widened", "most")]),
    "worn parts": ("limits: [{name: base, wear most: 0.003 * size}]", [("limit widened", "wear most")]),
    "an aim": ("limits: [{name: base, aim: 0.0011 * size}]", []),
    "no limits": ("limits: none", [("judged less often", "limits")]),
    "a condition that nothing meets": (
        "applies when: material == iron and material == aluminium",
        [("judged less often", "applies when")],
    ),
    "a condition on a number": ("applies when: work == new and grip < 3", [("judged less often", "applies when")]),
    "a condition that is wider": ("applies when: work == new or coated == yes", []),
    "the same condition otherwise": ("applies when: not (work == refresh)", []),
}


@pytest.mark.parametrize(("parts", "expected"), CASES.values(), ids=CASES)
def test_what_a_rule_asks_less(parts: str, expected: list[tuple[str, str]]) -> None:
    assert found(parts) == expected


def test_limits_where_the_makers_own_were_asked_for() -> None:
    base = BASE.replace('        least: "max(0.0007', '        from the maker: yes\n        least: "max(0.0007')
    assert base != BASE
    assert found("limits: [{name: base, from the maker: no}]", base) == [
        ("judged without the maker's limits", "limits")
    ]


def test_it_is_told_with_the_limits_from_the_smallest_size_to_the_largest() -> None:
    """Worked by hand: shafts of 30 to 120 mm, and 0.0014 and 0.0015 of those; aluminium takes off half a thou."""
    (entry,) = pack_ledger(resolved(BASE, amended("limits: [{name: base, most: 0.0015 * size}]")), "upper")
    assert (entry.code, entry.below, entry.place.line) == (Relaxed.LIMIT_WIDENED, "base", 5)
    assert told(entry) == (
        "Fit of shaft and hole: most about 0.0012 to 0.0070 in instead of about 0.0011 to 0.0066 in, by upper, "
        "pack1.yaml, line 5. Because."
    )


def test_a_pack_answers_for_itself_alone() -> None:
    wide = upper("wide", "  rules:\n    fit: {reason: So., limits: [{name: base, most: 0.0015 * size}]}\n")
    top = upper("top", "  rules:\n    fit: {reason: Less., limits: [{name: base, most: 0.00145 * size}]}\n", on="wide")
    spec = resolved(BASE, wide, top)
    assert [len(pack_ledger(spec, name)) for name in ("base", "wide", "top")] == [0, 1, 0]
