"""How far below the work budget the packs that ship are, by the number of labels on every counted axis.

Run it by hand: `python -m tests.benchmarks.work_budget`. The fear behind it: that a real engine is refused.
"""

from __future__ import annotations

import sys

from specrules.pack.work_budget import BUDGET, WorkCount
from tests import shipped


def main() -> None:
    """Print, for each pack and number of labels, what there is of everything that is counted."""
    for name in shipped.SHIPPED:
        spec = shipped.resolved(name)
        for labels in (8, 16, 64):
            work = WorkCount(spec, {axis.name: len(axis.names) or labels for axis in spec.axes.values()})
            told = ", ".join(
                f"{what} {amount:,} (1/{getattr(BUDGET, what) // max(amount, 1)})"
                for what, amount in work.amounts.items()
            )
            sys.stdout.write(f"{name}, {labels} labels: {told}\n")


if __name__ == "__main__":
    main()
