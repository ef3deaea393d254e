"""From a save to the screen: how long `specrules inspect --watch` takes with the demo's sheet.

`python -m tests.benchmarks.watching [SAVES]` saves the sheet so many times in each of several ways, at random moments,
and reads the screen through a pseudo-terminal until it is what an inspection from nothing says. It prints the middle
and the longest time of each way, and ends with 1 where a screen does not come to say that.
"""

from __future__ import annotations

import os
import pty
import random
import re
import select
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median

from tests.benchmarks.whole import say

DEMO = Path(__file__).parents[2] / "specrules" / "demo" / "carousel.sheet.yaml"
FIGURE = re.compile(r"(?<=[\[ ])\d\.\d{4}(?=[,\]])")
LONGEST = 10.0
"""Seconds after which a screen comes no more."""

SHEET = DEMO.name
INSPECT = (sys.executable, "-m", "specrules", "inspect", "--colour", "never")
AS_SEEN = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path), "COLUMNS": "80", "LINES": "24", "TERM": "xterm"}

Change = Callable[[str, random.Random], str]


def another_figure(text: str, draw: random.Random) -> str:
    """One reading has another last digit."""
    found = draw.choice([*FIGURE.finditer(text)])
    digit = str((int(found[0][-1]) + 1) % 10)
    return text[: found.end() - 1] + digit + text[found.end() :]


def one_open(text: str, draw: random.Random) -> str:
    """One reading is taken out, so that those behind it have other numbers."""
    found = draw.choice([*FIGURE.finditer(text)])
    return text[: found.start()] + "open" + text[found.end() :]


def a_line_more(text: str, _draw: random.Random) -> str:
    """A comment before all readings: each of them stands on another line."""
    return text.replace("\nreadings:\n", "\n# a note\nreadings:\n")


def the_decision_rule(text: str, _draw: random.Random) -> str:
    """Everything is judged anew."""
    return text.replace("\nreadings:\n", "\ndecision: simple\nreadings:\n")


WAYS: tuple[Change, ...] = (another_figure, one_open, a_line_more, the_decision_rule)


class Watched:
    """The program, which watches a sheet at a terminal."""

    def __init__(self, sheet: Path) -> None:
        self.sheet = sheet
        self.screen, theirs = pty.openpty()
        self.process = subprocess.Popen(
            [*INSPECT, sheet.name, "--watch"], cwd=sheet.parent, stdin=theirs, stdout=theirs, stderr=theirs, env=AS_SEEN
        )
        os.close(theirs)

    def shows(self, whole: str) -> float | None:
        """When the screen had all of this; None where it never did."""
        got, until = "", time.perf_counter() + LONGEST
        while (left := until - time.perf_counter()) > 0 and select.select([self.screen], [], [], left)[0]:
            got += os.read(self.screen, 1 << 16).decode("utf-8", "replace").replace("\r\n", "\n")
            if whole in got:
                return time.perf_counter()
        return None

    def saved(self, text: str, whole: str) -> float | None:
        """Save the sheet as editors do. How long it took until the screen showed what it says."""
        beside = self.sheet.with_suffix(".new")
        beside.write_text(text, encoding="utf-8")
        os.replace(beside, self.sheet)
        begun = time.perf_counter()
        shown = self.shows(whole)
        return None if shown is None else shown - begun

    def end(self) -> None:
        self.process.send_signal(signal.SIGINT)
        self.process.wait(10)
        os.close(self.screen)


def from_nothing(text: str) -> str:
    """What an inspection says of a sheet."""
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / SHEET).write_text(text, encoding="utf-8")
        ran = subprocess.run([*INSPECT, SHEET], cwd=folder, capture_output=True, env=AS_SEEN)
    return ran.stdout.decode("utf-8")


def main(saves: int) -> int:
    """Print the times. 0 where every screen is what an inspection from nothing says."""
    draw, wrong = random.Random(1), 0
    say("a save that changes", "middle, longest")
    with tempfile.TemporaryDirectory() as folder:
        sheet, text = Path(folder) / SHEET, DEMO.read_text(encoding="utf-8")
        sheet.write_text(text, encoding="utf-8")
        watched, sound = Watched(sheet), from_nothing(text)
        watched.shows(sound)
        for way in WAYS:
            times = []
            for number in range(saves):
                new = way(text, draw) if number % 2 == 0 else text
                whole = from_nothing(new)
                time.sleep(draw.uniform(0, 0.1))
                took = watched.saved(new, whole)
                wrong += took is None
                times += [] if took is None else [took * 1000]
            told = f"{median(times):.0f} ms, {max(times):.0f} ms" if times else "no screen"
            say(way.__name__.replace("_", " "), told)
        watched.end()
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 12))
