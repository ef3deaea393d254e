"""From an empty folder to the first verdict with what `specrules --help` and the screens say, and nothing else."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.cli.shell import call

COMMANDS = ("sheet new", "sheet take", "inspect")
ANSWERS = {
    # what is asked -> what somebody with a four of 4 in bore answers
    "Judge by which pack": "street",
    "What is being built": "Marine four",
    "Lengths in": "in",
    "Number of cylinders": "4",
    "Number of main bearings": "3",
    "The cylinders on each crankpin": "[[1], [2], [3], [4]]",
    "Is it lit by a spark": "spark",
    "Are the cylinders cooled": "liquid",
    "Does each cylinder fire": "four_stroke",
    "What bore does the maker state": "4.0000",
}


def answered(command: list[str]) -> tuple[str, int]:
    """The screen of a command that asks, and how many answers it takes: each the one for the question that stands last
    on the screen, an empty one where there is none."""
    typed: list[str] = []
    while len(typed) < 40:
        ran = call(*command, "--ask", typed="".join(f"{each}\n" for each in typed))
        if ran.status == 0:
            return ran.out, len(typed)
        question = re.split(r"[)\]]: ", " ".join(ran.out.split()))[-1]
        typed.append(next((answer for asked, answer in ANSWERS.items() if asked in question), ""))
    raise AssertionError(ran.out)


@pytest.mark.second_lane
def test_an_empty_folder_has_its_first_verdict_after_four_commands(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each command is the one that the screen before it names. Under 20 answers, and 18 readings."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    lines = re.findall(r"^  [A-Z][^:\n]+: +specrules (.+)$", call("--help").out, re.MULTILINE)
    named = {word: next(line.split() for line in lines if line.startswith(word)) for word in COMMANDS}

    said, answers = answered(named["sheet new"])
    assert "specrules inspect my.sheet.yaml" in said
    assert answers < 20

    sizes = ["2.5012", "2.5013", "2.5011", "2.5012", "2.5012", "2.5012", "q"]
    ran = call(*named["sheet take"], "--only", "main_bearing_bore", typed="\n".join(sizes) + "\n")
    assert "6 readings taken, 0 places left" in ran.out
    ran = call(*named["sheet take"], "--only", "main_journal", typed="2.4990\n" * 12)
    assert re.search(r"Main bearing oil clearance, main 1 +0\.002\d ±0\.000\d in", ran.out) is not None

    ran = call(*named["inspect"])
    assert ran.status == 3
    assert "caps_torqued_dry_shells" in ran.out  # what the clearance waits for: the question to sign
    assert ran.out.rstrip("\n").split("\n\n")[-1].startswith("Not yet: ")
