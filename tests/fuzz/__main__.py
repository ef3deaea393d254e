"""`python -m tests.fuzz`: more inputs than the second lane tries, from any seed, with their counts.

python -m tests.fuzz --inputs 100000 --seed 1
python -m tests.fuzz --inputs 100000 --seed 1 --first 100000    those after it; Ctrl-C ends a run with its counts
python -m tests.fuzz --seed 1 --only 4711          one input again, shown
python -m tests.fuzz --seed 1 --kind command --inputs 1000
"""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
import time
from contextlib import suppress
from pathlib import Path

from tests.fuzz.trying import SHARES, Trial, drawn

TOLD = 10_000
"""After so many inputs there is a line on the standard error."""
MOST_FAILURES = 200
"""So many are enough to look at."""


def main() -> int:
    """Try them; 1 where something does not hold."""
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz", description=__doc__.partition(":")[2].split("\n")[0])
    parser.add_argument("--inputs", type=int, default=100_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--first", type=int, default=0, metavar="NUMBER")
    parser.add_argument("--kind", choices=tuple(SHARES), default="")
    parser.add_argument("--only", type=int, default=None, metavar="NUMBER")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="specrules-fuzz-") as name:
        os.environ["XDG_CACHE_HOME"] = str(Path(name) / "cache")
        (Path(name) / "shop").mkdir()
        trial, start = Trial(Path(name) / "shop"), time.monotonic()
        first, many = (asked.first, asked.inputs) if asked.only is None else (asked.only, 1)
        with suppress(KeyboardInterrupt):
            for number in range(first, first + many):
                given = drawn(asked.seed, number, asked.kind)
                if asked.only is not None:
                    print(given)  # noqa: T201 - a command that prints
                failures = len(trial.tally.failures)
                trial.attempt(number, given)
                if len(trial.tally.failures) > failures or not (number + 1) % TOLD:
                    said = [f"{number + 1 - first} inputs, {time.monotonic() - start:.0f} s"]
                    said += [f"{each.given!r}\n{each.why}" for each in trial.tally.failures[failures:]]
                    print("\n".join(said), file=sys.stderr, flush=True)  # noqa: T201 - a command that prints
                if len(trial.tally.failures) >= MOST_FAILURES:
                    break
        rows = [*trial.tally.lines(), f"seed {asked.seed} from {first}, {time.monotonic() - start:.0f} s"]
        print("\n".join(rows))  # noqa: T201 - a command that prints
    return 1 if trial.tally.failures else 0


if __name__ == "__main__":
    sys.exit(main())
