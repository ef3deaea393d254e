"""A whole engine taken at the bench: keystrokes a reading, and nothing lost whenever the program is killed.

`python -m tests.benchmarks.taking [KILLS]` types some 300 readings of an invented straight six through a
pseudo-terminal, with slips put right, and kills the program so many times at random. It ends with 0 where every reading
is in the sheet and not a byte of anything else has changed.
"""

from __future__ import annotations

import os
import pty
import random
import re
import signal
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

from specrules.quantity import LENGTH, Unit, find_unit
from specrules.sheet.typed_figures import figure
from tests.benchmarks.whole import say
from tests.shipped import resolved

FACTS = (
    "cylinders=6",
    "mains=7",
    "throws=[[1],[2],[3],[4],[5],[6]]",
    "ignition=spark",
    "cooling=liquid",
    "cycle=four_stroke",
    "card_bore=3.8750",
)
NEW = (
    *["sheet", "new", "six.sheet.yaml", "--pack", "general", "--unit", "in", "--no-ask"],
    *(f"--fact={each}" for each in FACTS),
)
SIZES = {
    # what is measured: its size, and how far readings lie from it either way, in the last place
    "main_journal": ("2.4990", 3),
    "main_bearing_bore": ("2.5012", 3),
    "rod_journal": ("2.0990", 3),
    "rod_bearing_bore": ("2.1010", 3),
    "main_housing": ("2.6910", 4),
    "rod_housing": ("2.2240", 4),
    "cylinder_bore": ("3.8750", 6),
    "piston_skirt": ("3.8730", 4),
    "ring_end_gap": ("0.0180", 30),
    "ring_side_gap": ("0.0020", 3),
    "main_shell_wall": ("0.0950", 2),
    "rod_shell_wall": ("0.0615", 2),
    "pin_diameter": ("0.9270", 1),
    "pin_bore_piston": ("0.9276", 1),
    "ring_radial_width": ("0.1720", 5),
    "groove_depth": ("0.1800", 5),
    "valve_stem": ("0.3415", 3),
    "guide_bore": ("0.3432", 3),
}
SLIPS = 0.03
"""Of the readings, so many are typed wrong at first, and put right."""
PROMPT = re.compile(r"(?:^|\n)([^\n]*): $")


class Typist:
    """Somebody at the bench: knows every size, types as few keys as will do, and slips now and then."""

    def __init__(self, seed: int) -> None:
        self.chance = random.Random(seed)
        self.right: dict[tuple[str, str], str] = {}
        self.sized: set[str] = set()
        self.keys = {"sizes": 0, "readings": 0, "slips": 0}
        self.typed = 0

    def reading(self, name: str, place: str) -> str:
        """What there is to be read at a place."""
        if (name, place) not in self.right:
            size, far = SIZES[name]
            places = len(size.partition(".")[2])
            off = Decimal(self.chance.randint(-far, far)).scaleb(-places)
            self.right[name, place] = f"{Decimal(size) + off:.{places}f}"
        return self.right[name, place]

    def answers(self, name: str, place: str, again: bool) -> Iterator[str]:
        """What is typed at a prompt, one line after another. `again`: a figure stands there, and it is wrong."""
        right, size = self.reading(name, place), SIZES[name][0]
        if name not in self.sized:
            self.sized.add(name)
            yield self.counted("sizes", f"={size}")
            return
        if not again and self.chance.random() < SLIPS:
            yield self.counted("slips", shortest(f"{Decimal(right) + Decimal('0.0002'):.4f}", size))
            return
        yield self.counted("slips" if again else "readings", shortest(right, size))

    def counted(self, what: str, line: str) -> str:
        """A line, its keys counted with Enter."""
        self.keys[what] += len(line) + 1
        self.typed += what == "readings"
        return line


def shortest(right: str, size: str) -> str:
    """Two digits or more, as few as write a figure beside a size that was said."""
    inch = find_unit("in")
    assert isinstance(inch, Unit)
    tails = (right.replace(".", "")[-length:] for length in range(2, 5))
    return next((tail for tail in tails if figure(tail, size, inch, LENGTH) == right), right)


class Terminal:
    """The program on a pseudo-terminal of 80 by 24."""

    def __init__(self, folder: Path, names: list[str]) -> None:
        command = [sys.executable, "-m", "specrules", "sheet", "take", "six.sheet.yaml", "--colour", "never"]
        only = [word for name in names for word in ("--only", name)]
        self.handle, program_end = pty.openpty()
        env = {**os.environ, "COLUMNS": "80", "LINES": "24", "XDG_CACHE_HOME": str(folder / "cache")}
        self.process = subprocess.Popen(
            [*command, *only], cwd=folder, env=env, stdin=program_end, stdout=program_end, stderr=program_end
        )
        os.close(program_end)
        self.said = ""

    def prompt(self) -> str | None:
        """The next prompt; None where the program has ended."""
        while (found := PROMPT.search(self.said)) is None:
            try:
                piece = os.read(self.handle, 4096)
            except OSError:
                piece = b""
            if not piece:
                return None
            self.said += piece.decode("utf-8", "replace").replace("\r\n", "\n")
        return found[1]

    def type(self, line: str) -> str:
        """Type a line; what was on the screen before it."""
        before, self.said = self.said, ""
        os.write(self.handle, f"{line}\n".encode())
        return before

    def kill(self) -> None:
        """End the program without warning."""
        os.kill(self.process.pid, signal.SIGKILL)
        self.process.wait()
        os.close(self.handle)


def whole_job(folder: Path, kills: int, seed: int = 6) -> Typist:
    """Take every reading, killed so many times. AssertionError where anything is lost, or anything else has changed."""
    subprocess.run(
        [sys.executable, "-m", "specrules", *NEW, *(f"--fact={each}" for each in FACTS)],
        cwd=folder,
        check=True,
        stdout=subprocess.DEVNULL,
    )
    sheet = folder / "six.sheet.yaml"
    before = sheet.read_text(encoding="utf-8")
    titles = {measurand.title: name for name, measurand in resolved("general").measurands.items() if name in SIZES}
    typist, chance = Typist(seed), random.Random(seed)
    waits = sorted(chance.sample(range(400), kills), reverse=True)
    answered, ended = 0, False
    while not ended:
        terminal, name = Terminal(folder, [*SIZES]), ""
        typist.sized.clear()
        while (prompt := terminal.prompt()) is not None:
            for line in terminal.said.split("\n"):
                name = next((titles[title] for title in titles if line.startswith(f"{title} (in)")), name)
            place, _, standing = prompt.partition(" [")
            wrong = bool(standing) and standing.removesuffix("]") != typist.reading(name, place)
            (answer,) = typist.answers(name, place, wrong)
            terminal.type(answer)
            answered += 1
            if waits and answered >= waits[-1]:
                waits.pop()
                terminal.kill()
                break
            slipped = not answer.startswith("=") and figure_of(answer, name) != typist.reading(name, place)
            if slipped and terminal.prompt() is not None and place not in (terminal.prompt() or ""):
                typist.keys["slips"] += 2
                terminal.type("b")
        else:
            terminal.process.wait()
            os.close(terminal.handle)
            ended = True
    after = sheet.read_text(encoding="utf-8")
    assert without_figures(after) == without_figures(before)
    for (name, place), right in typist.right.items():
        assert right in after, (name, place, right)
    return typist


def figure_of(answer: str, name: str) -> str:
    """What an answer comes to."""
    inch = find_unit("in")
    assert isinstance(inch, Unit)
    return str(figure(answer, SIZES[name][0], inch, LENGTH))


def without_figures(text: str) -> str:
    """A sheet without its readings, and the blanks that stand for them."""
    return re.sub(r"(?<=: )\d\.\d{4}|(?<=:)\s*(?=[,}\n#])| ", "", text)


def main(kills: int) -> None:
    """Print the figures."""
    with tempfile.TemporaryDirectory() as name:
        typist = whole_job(Path(name), kills)
    read = len(typist.right)
    say("readings taken, killed", f"{read}, {kills} times: none lost")
    say("keystrokes a reading, size said", f"{typist.keys['readings'] / max(typist.typed, 1):.2f}", "at most 3.5")
    whole, goal = ("with sizes said anew after each kill", "") if kills else ("with sizes and slips", "at most 4.5")
    say(whole, f"{sum(typist.keys.values()) / read:.2f}", goal)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 50)
