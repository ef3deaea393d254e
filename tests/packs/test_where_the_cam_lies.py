"""What a cam and its buckets run in grows as the block does, and as the head does where they lie in it."""

from __future__ import annotations

from decimal import Decimal

import pytest

from tests.inspecting import inspected

READ = """\
specrules: build-sheet/1
packs: [general]
unit: mm
part temperature: 40 C
gauge temperature: 20 C
facts: {{cam_bearings: 1, cylinders: 1, valve_action: {action}, block_material: {block}, head_material: {head}}}
readings:
  cam_journal: {{1: 30.000}}
  cam_bearing_bore: {{1: 30.100}}
  lifter: {{1: {{intake: 30.000}}}}
  lifter_bore: {{1: {{intake: 30.100}}}}
"""


def clearance(rule: str, action: str, block: str, head: str) -> Decimal:
    """In mm at 20 C, of parts read at 40 C with gauges at 20 C."""
    report = inspected(READ.format(action=action, block=block, head=head))
    found = next(each for each in report.findings if each.rule == rule and each.value is not None)
    assert found.value is not None
    return found.value


GROWN = {"aluminium": Decimal("0.0000231"), "iron": Decimal("0.0000108"), "steel": Decimal("0.0000115")}


@pytest.mark.parametrize("rule", ["cam_bearing_clearance", "lifter_clearance"])
@pytest.mark.parametrize(
    ("action", "block", "head", "of"),
    [
        ("pushrod", "iron", "aluminium", "iron"),
        ("pushrod", "aluminium", "iron", "aluminium"),
        ("bucket_shim", "iron", "aluminium", "aluminium"),
        ("bucket_shim", "aluminium", "iron", "iron"),
    ],
)
def test_the_bores_grow_with_what_they_are_in(rule: str, action: str, block: str, head: str, of: str) -> None:
    """A part 20 K warmer than its gauge reads too large by its own growth; to the last places, which are products."""
    worked = Decimal("30.100") * (1 - 20 * GROWN[of]) - Decimal("30.000") * (1 - 20 * GROWN["steel"])
    assert clearance(rule, action, block, head) == pytest.approx(worked, abs=Decimal("0.0001"))
