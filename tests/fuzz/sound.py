"""The sound texts that are altered: sheets, packs, a study, answers, formulas, numbers and command lines."""

from __future__ import annotations

import re
from functools import cache

from tests.cli.small_jobs import CLEAR, HELD, NEAR
from tests.output.small_screen import BASE, PACKS, build
from tests.sheet.small_trolley import TROLLEY, WHEELS
from tests.study.small_studies import written
from tests.teaching.small_lessons import PACK

FULL = build(
    """\
facts: {places: 3, material: aluminium, work: refresh}
gauges:
  dial: {class: dial, zero: {standard: 1.0000 in, reads: 1.0001 in}, mpe: 0.0001 in, checked: 2026-09-01}
readings:
  hole:
    gauge: dial
    taken: 2026-09-28
    1: {front: 1.5020, rear: 1.5021}
    2: [1.5020, open]
    3: 1.5019..1.5021
  shaft: {1: [1.5000, 1.5000], 2: 38.1 mm, 3: under 1.5001}
  grip: {unit: thou, 1: 3, 2: 2..4, 3: {value: 2.0, gauge: dial}}
  tilt: 0.0039 ±0.0002
  slot: {1: {left: 0.0150, right: 0.0151}, others: 0.0160}
  plug: 15.0
  weight: {1-3: 100 g}
limits: {plug: [{least: 0.9990 in, most: 1.0010 in, source: card in the box}]}
work done: [{operation: hone, on: 2026-09-20}]
concessions: [{rule: tilt, reason: agreed, by: ab, on: 2026-10-01}]
signed: {clean: {by: ab, on: 2026-10-01}, turned: {answer: no, by: cd, on: 2026-10-01, at: {place: 1}}}
decision: guarded
"""
)
SHEETS = (CLEAR, HELD, NEAR, FULL, WHEELS)
ALL_PACKS = {**PACKS, "trolley": TROLLEY}
TAUGHT = PACK.replace("name: base\n", "name: taught\n")
SOUND_PACKS = (BASE, PACKS["wide"], PACKS["strict"], TROLLEY)
STUDY = written(
    {
        "first": {"1": ["2.4990", "2.4991"], "2": ["2.4985", "2.4985"]},
        "second": {"1": ["2.4991", "2.4991"], "2": ["2.4986", "2.4985"]},
    }
)
TABLE = "Place,Hole front,Hole rear,By\n1,1.5020,1.5021,JT\n#2,,38.1 mm,\n"
IMPORT_MAP = """\
specrules: import-map/1
layout: a row a station
unit: in
stations: {Place: place}
readings:
  Hole front: {measurand: hole, at: {plane: front}}
  Hole rear: {measurand: hole, at: {plane: rear}}
"""
ANSWERS = "1: 0.0023\n2: 2.5000 in\n# not yet\n"

QUANTITIES = (
    "x",
    "x - y",
    "max(0.0007 * x, 0.0015 in)",
    "sqrt(x * y) / z * 1 in",
    "largest(journal)",
    "smallest(housing) - largest(journal)",
    "spread(mean(journal, plane), main)",
    "mean(bore) - rod_bore[1]",
    "0.3 thou + x / 3 if use == street else y",
    "sin(slant) * stroke",
    "tan(slant) * 1 in",
    "(x / y)^2 * 1 mm",
    "exp(x / y) * z",
    "ln(x / (1 mm))",
    "abs(x - y)",
    "weight[1] + weight[2]",
    "size[2]",
    "-3/8 in",
    "2-1/2 in",
    "largest(gap[1]) if coated == yes else least",
    "(heat[1] - heat[2]) * 0.0000115 1/K * x",
    "chamber[1] / (stroke^2)",
)
CONDITIONS = (
    "use == street",
    "use in (street, towing) and not coated == yes",
    "mains >= 3 or ratio < 1.5",
    "x < y",
    "alloy[1] == cast",
    "not (breathing == boosted)",
)
WRAPPED = (
    *("({}) + ({})", "{} - {}", "({}) * ({}) / (1 in)", "({}) / ({}) * 1 mm", "max({}, {})", "min({}, {})", "abs({})"),
    *(
        "sqrt(({0}) * ({0}))",
        "({}) * sin(slant)",
        "({}) * tan(slant)",
        "(({}) / x)^3 * y",
        "{} if x > y else {}",
        "-({})",
    ),
    *("exp(({}) / x) * y", "ln(({}) / x) * y", "{} if use == street else {}", "not ({})", "({}) / 0", "({}) / (x - x)"),
    *(
        "(({}) / x)^-2 * y",
        "(({}) / x)^.5 * y",
        "asin(({}) / x)",
        "largest({})",
        "mean({})",
        "spread({})",
        "{0} * 1 in / {0}",
    ),
)
"""Formulas about formulas."""
NUMBERS = (
    *("2.4990", "2.4990 in", "0.018..0.020", "under 0.0015 in", "over 3 mm", "3/8 in", "2 3/8", "63.5 um", "0.5 thou"),
    *(
        "2.4990 ±0.0002",
        "2.4990 in (63.475 mm)",
        "15 ft-lb",
        "60 °F",
        "-0.0020 in",
        "open",
        "",
        "½ in",
        "12 cc",
        "110 lbf",
    ),
    *(
        "1.5 deg",
        "12° 30'",
        "4 thou and a half",
        "2 tenths",
        "goes 0.020",
        "1/64",
        "25.40 mm ±0.01 mm",
        "0.1 %",
        "9.8 m/s2",
    ),
)

COMMANDS = (
    "inspect e.sheet.yaml",
    "inspect e.sheet.yaml --form json",
    "inspect e.sheet.yaml --until dry_fit --held-by critical --sure",
    "inspect e.sheet.yaml --add wide --decision guarded --colour always",
    "inspect e.sheet.yaml --out report.txt",
    "inspect e.sheet.yaml good.sheet.yaml --form json --out records.jsonl",
    "working fit e.sheet.yaml",
    "working fit e.sheet.yaml --add wide",
    "working fit --add base",
    "gauge able e.sheet.yaml --add strict",
    "gauge study e.study.yaml",
    "gauge study e.study.yaml --entry --out entry.txt",
    "pack show house",
    "pack prove house",
    "pack prove packs/house.pack.yaml",
    "pack compare base house",
    "pack compare base house good.sheet.yaml",
    "pack schema house",
    "pack new packs/mine.pack.yaml --on house",
    "pack exercise taught",
    "pack exercise taught one_fit --seed 7 --answers e.answers.txt",
    "pack exercise taught one_fit --solve",
    "inspect e.sheet.yaml --out good.sheet.yaml",
    "inspect e.sheet.yaml --form json --out e.sheet.yaml",
    "gauge study e.study.yaml --entry --out e.answers.txt",
    "gauge study e.study.yaml --out e.study.yaml",
    "pack new packs/house.pack.yaml --on base",
    "sheet new good.sheet.yaml --pack base --no-ask",
    "sheet new new.sheet.yaml --pack house --fact places=2 --unit mm --no-ask",
    "sheet take e.sheet.yaml --only hole",
    "sheet import e.sheet.yaml e.table.csv --map e.map.yaml",
    "sheet import e.sheet.yaml e.table.csv --map e.map.yaml --rest --overwrite --unit mm",
    "sheet import good.sheet.yaml e.table.csv --learn",
    "sheet import good.sheet.yaml e.table.csv --learn --map mine.map.yaml",
    "sheet new new.sheet.yaml --pack base --scope Fits --until dry_fit --with-how --no-ask",
)
"""Command lines; `e` and `house` are the altered files."""

ARGUMENTS = (
    *(
        "--help",
        "-h",
        "--version",
        "--",
        "-",
        "",
        " ",
        ".",
        "..",
        "/",
        "nowhere",
        "nowhere/e.sheet.yaml",
        "--form",
        "xml",
    ),
    *(
        "--out",
        "report.txt",
        "--until",
        "dry_fit",
        "first_start",
        "--sure",
        "--held-by",
        "minor",
        "--decision",
        "simple",
    ),
    *(
        "--add",
        "base",
        "house",
        "taught",
        "general",
        "../x",
        "packs",
        "packs/base.pack.yaml",
        "e.sheet.yaml",
        "é\u202e",
    ),
    *(
        "e.study.yaml",
        "good.sheet.yaml",
        "e.answers.txt",
        "--colour",
        "never",
        "--no-plugins",
        "--ask",
        "--fact",
        "=",
        "a=",
    ),
    *(
        "--seed",
        "-1",
        "999999999999999999999",
        "--on",
        "--name",
        "x" * 300,
        "\udcff",
        "*",
        "~",
        "$HOME",
        "--unit",
        "fit",
    ),
    *("--title", "a: [b", "--answers", "--solve", "--entry", "--pack", "--copy", "inspect", "working", "pack", "sheet"),
)


@cache
def words_of(*texts: str) -> tuple[str, ...]:
    """The words of these texts, each once."""
    return tuple(dict.fromkeys(re.findall(r"[^\W\d][\w/-]*", "\n".join(texts))))


@cache
def words_of_files() -> tuple[str, ...]:
    """The words of all files."""
    return words_of(*SHEETS, *SOUND_PACKS, TAUGHT, STUDY)
