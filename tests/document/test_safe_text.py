"""No letter that steers a terminal, turns text round or hides in it survives in any form of output."""

from __future__ import annotations

import io
import json
import re
import unicodedata
from collections.abc import Mapping
from contextlib import redirect_stderr
from dataclasses import fields, replace
from enum import Enum
from functools import cached_property
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.document import Fault, Place
from specrules.document.safe_text import safe, safe_json
from specrules.formula import Formula
from specrules.inspection import Finding, Report, WholeFinding
from specrules.output.encoding import plain
from specrules.output.lines import line
from specrules.output.pack_list import listing
from specrules.output.proof import proof_lines
from specrules.output.report_record import record_of
from specrules.output.terminal import put, text_of
from specrules.pack import PackHead
from specrules.proving import Proof, ProofRemark
from specrules.quantity import Unit
from specrules.record import record_text
from specrules.vocabulary import Code
from tests.cli.shell import call
from tests.inspecting import whole
from tests.output.small_screen import BASE, GOOD, SCREENS, build, judged, read, shown

XML_CHAR = re.compile("[\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]*")
"""XML 1.0 (fifth edition), production 2."""
VISIBLE_FORMAT = set("\u0600\u0601\u0602\u0603\u0604\u0605\u06dd\u070f\u0890\u0891\u08e2\U000110bd\U000110cd")
"""Format characters that have a shape of their own: prepended concatenation marks (Unicode Standard, 23.2)."""
TURNING = {"LRE", "RLE", "PDF", "LRO", "RLO", "LRI", "RLI", "FSI", "PDI", "BN"}
"""Bidirectional classes that only steer (Unicode Standard Annex 9, table 4)."""


def harmful(text: str) -> list[str]:
    """Letters that a reader could be misled by, found by the Unicode database and not by the program's own list."""
    return [
        f"U+{ord(letter):04X}"
        for letter in text
        if letter != "\n"
        and letter not in VISIBLE_FORMAT
        and (
            unicodedata.category(letter) in ("Cc", "Cs", "Cf", "Zl", "Zp")
            or unicodedata.bidirectional(letter) in TURNING
            or not XML_CHAR.fullmatch(letter)
        )
    ]


@pytest.mark.second_lane
def test_every_letter_of_unicode_comes_out_harmless() -> None:
    everything = "".join(map(chr, range(0x110000)))
    assert harmful(safe(everything)) == []


@pytest.mark.second_lane
@given(st.text(st.characters(codec=None)))
def test_what_is_written_out_can_be_read_and_is_done_once(text: str) -> None:
    made = safe(text)
    assert harmful(made) == []
    assert safe(made) == made
    assert "\n" not in made
    assert "\t" not in made


ENCODINGS = ("ascii", "cp1252", "latin-1", "cp437", "utf-8", "shift_jis")
VISIBLE = ("2.4990 ±0.0002", "63.5 µm", "½ − ×", "Müller & Söhne", "軸受", "π², °C", "[/x] :gear: \\")


@pytest.mark.parametrize("text", VISIBLE)
def test_plain_visible_text_is_left_alone(text: str) -> None:
    assert safe(text) == text


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("\x1b[2Jgone", "\\x1b[2Jgone"),
        ("\x1b]8;;http://x\x07y", "\\x1b]8;;http://x\\x07y"),
        ("a\u202eb", "a\\u202eb"),
        ("a\x9b1mb", "a\\x9b1mb"),
        ("a\ud800b", "a\\ud800b"),
        ("a\U000e0041b", "a\\U000e0041b"),
        ("a\r\nb\tc", "a\\x0d b c"),
        ("a\u2028b\ufeff", "a\\u2028b\\ufeff"),
    ],
)
def test_harmful_letters_are_shown_as_escapes(text: str, shown: str) -> None:
    assert safe(text) == shown


@given(st.text(st.characters(exclude_categories=["Cs"])))
def test_json_keeps_its_meaning(text: str) -> None:
    made = safe_json(json.dumps({"title": text}, ensure_ascii=False))
    assert harmful(made) == []
    assert json.loads(made) == {"title": text}


@pytest.mark.parametrize(
    ("encoding", "shown"),
    [
        ("ascii", "o-| 0.0016 +/-0.0003 > 63.5 um -> -1/2"),
        ("cp1252", "o-| 0.0016 ±0.0003 > 63.5 µm -> -½"),
        ("utf-8", "●─┤ 0.0016 ±0.0003 ► 63.5 µm → −½"),
    ],
)
def test_a_terminal_gets_what_it_can_show(encoding: str, shown: str) -> None:
    raw = io.BytesIO()
    stream = io.TextIOWrapper(raw, encoding=encoding, newline="\n")
    put([line("●─┤ 0.0016 ±0.0003 ► 63.5 µm → −½")], stream)
    stream.flush()
    assert raw.getvalue().decode(encoding) == shown + "\n"


def test_what_grows_in_ascii_takes_the_blanks_that_follow() -> None:
    text = "  main 3  0.0016 ±0.0003      ├──●──┤  just in"
    assert plain(text) == "  main 3  0.0016 +/-0.0003    |--o--|  just in"
    assert len(plain(text)) == len(text)


@given(st.text(st.characters(codec=None)), st.sampled_from(ENCODINGS))
def test_no_text_stops_any_terminal(text: str, encoding: str) -> None:
    raw = io.BytesIO()
    stream = io.TextIOWrapper(raw, encoding=encoding, newline="\n")
    put([line(text, (text, "bad"))], stream)
    put([line(text, (text, "bad"))], stream, colour=True)
    stream.flush()


# Hostile texts in every field that a person may write, through every command that prints.

ESCAPES = "\\e[2J\\u202e\\x9b\\u200b"
"""In a double-quoted YAML scalar: clear the screen, turn the text, a C1 control, a hidden letter."""
MARKUP = "[/x] [red]:gear: \\\\"


def hostile(text: str, poison: str) -> str:
    """Every free text of a pack or a sheet, poisoned: those after these keys, in braces or on a line of their own."""
    keys = "title|question|note|caution|document|edition|page|otherwise|because|how|reason|by|job|customer|builder|do"
    pattern = rf"(?<=[ {{])((?:{keys}): )([^\n,}}{{\[]+)"
    poisoned = re.sub(pattern, lambda found: f'{found[1]}"{found[2].strip()} {poison}"', text)
    return poisoned.replace("It seizes.", f'"It seizes. {poison}"').replace("It knocks.", f'"It knocks. {poison}"')


SHEET = build(
    GOOD.replace("1: [1.5020, 1.5020]", "1: [1.5008, 1.5008]", 1)
    + "  tilt: 0.0050\n"
    + "concessions: [{rule: tilt, reason: old, by: ab, on: 2026-10-01}]\n"
    + "limits:\n  plug: [{least: 0.9 in, most: 1 in, source: {kind: maker, note: card}}]\n",
    "house",
    title="A pair",
)
FILES = {
    "packs/house.pack.yaml": BASE.replace("name: base\n", "name: house\n"),
    "e.sheet.yaml": SHEET,
    "bad.sheet.yaml": SHEET.replace("tilt: 0.0050", f'tilt: "0,005{ESCAPES}"\n  "sl{ESCAPES}": 3'),
}
COMMANDS = (
    ("inspect", "e.sheet.yaml"),
    ("inspect", "e.sheet.yaml", "--colour", "always"),
    ("inspect", "e.sheet.yaml", "--form", "json"),
    ("inspect", "bad.sheet.yaml"),
    ("working", "fit", "e.sheet.yaml"),
    pytest.param(("pack", "list"), marks=pytest.mark.second_lane),
    ("pack", "show", "house"),
    ("pack", "prove", "house"),
    ("pack", "schema", "house"),
)


def outputs(folder: Path, poison: str, monkeypatch: pytest.MonkeyPatch, *command: str) -> str:
    """What a command prints of poisoned files, on both streams, without its own colours."""
    for name, text in FILES.items():
        path = folder / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(hostile(text, poison), encoding="utf-8")
    monkeypatch.chdir(folder)
    ran = call(*command)
    return re.sub(r"\x1b\[[0-9;]*m", "", ran.out + ran.err)


@pytest.mark.second_lane
@pytest.mark.parametrize("command", COMMANDS, ids=" ".join)
def test_a_file_with_an_escape_in_it_is_refused_without_showing_it(
    command: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    said = outputs(tmp_path, ESCAPES, monkeypatch, *command)
    assert harmful(said) == []
    assert "title: the text holds a control or invisible character (U+001B)" in said


KEPT = {"state", "importance", "limit_side", "held_by", "hold_point", "hold_points"}
"""Words that tables of the program have."""

OWN_WORDS = {
    "Source": {"kind"},
    "PackHead": {"sha256"},
    "Report": {"sha256", "seal"},
    "Limits": {"worn"},
    "SideMargin": {"side"},
}
"""What no file can say: words and digests of the program, of which a record takes no others."""


def poisoned(thing: Any) -> Any:
    """An inspection or a specification with every text in it made hostile, the same texts alike."""
    if isinstance(thing, Enum | Unit | Formula):
        return thing
    if isinstance(thing, str):
        return f"{thing}\x1b[2J\u202e\x9b\u200b\ud800\x00" if thing else thing
    if isinstance(thing, Mapping):
        return {poisoned(key): poisoned(value) for key, value in thing.items()}
    if isinstance(thing, WholeFinding):
        return poisoned_whole(thing)
    if isinstance(thing, Report):
        kept = KEPT | OWN_WORDS["Report"]
        parts = [each.name for each in fields(thing) if each.name not in kept]
        return replace(thing, **{name: poisoned(getattr(thing, name)) for name in parts})
    if isinstance(thing, tuple) and hasattr(thing, "_replace"):
        kept = KEPT | OWN_WORDS.get(type(thing).__name__, set())
        names = [name for name in type(thing)._fields if name not in kept]  # type: ignore[attr-defined]
        return thing._replace(**{name: poisoned(getattr(thing, name)) for name in names})
    if isinstance(thing, tuple):
        return tuple(map(poisoned, thing))
    return thing


ON_DEMAND = [name for name, made in vars(WholeFinding).items() if isinstance(made, cached_property)]


def poisoned_whole(finding: WholeFinding) -> WholeFinding:
    """A finding of which all that it stands on is hostile too."""
    rule = finding.judged.rule
    judged = finding.judged._replace(rule=rule._replace(otherwise=poisoned(rule.otherwise)))
    made = WholeFinding.of(poisoned(Finding(*finding)), finding.judge, judged, finding.chain)
    for name in ON_DEMAND:
        vars(made)[name] = poisoned(getattr(finding, name))
    return made


@pytest.mark.second_lane
@pytest.mark.parametrize("path", SCREENS, ids=lambda path: path.stem)
def test_no_form_of_output_relies_on_the_reader_of_files(path: Path) -> None:
    """Whatever an inspection holds, nothing harmful leaves on a screen or in a record."""
    packs, options, body, screen_text = read(path)
    report = judged(body, packs, options)
    build = {key: poisoned(value) for key, value in report.build.items()}  # its keys are words of the program
    inspection = replace(poisoned(report), build=build)
    said = shown(inspection)
    assert harmful(said) == []
    assert "\\x1b[2J\\u202e\\x9b\\u200b\\ud800\\x00" in said
    assert len(said.split("\n")) >= len(screen_text.split("\n"))
    made = record_text(record_of(inspection, whole, "1"))
    assert harmful(made) == []
    assert json.loads(made)["specrules"] == "inspection-record/4"


def test_a_proof_and_a_listing_of_packs_rely_on_it_no_more() -> None:
    remark = ProofRemark(Place("a.pack.yaml", 3, 1), "fit", "does not come out", "another figure", "example")
    proof = Proof("house", (), (remark,), {"rules": 1, "examples": 2, "expectations": 3, "settings": 4})
    counted = {**proof.counts}
    hostile_proof = poisoned(proof)._replace(counts=counted, remarks=(poisoned(remark)._replace(kind="example"),))
    head = PackHead("house", "1", "t", "l", "c", None, ("base",), {}, "simple", "", "")
    for lines in (proof_lines(hostile_proof), listing([poisoned(head)])):
        said = text_of(lines)
        assert harmful(said) == []
        assert "\\x1b[2J" in said


@pytest.mark.parametrize("command", COMMANDS, ids=" ".join)
def test_no_markup_is_read_out_of_a_file(
    command: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    said = outputs(tmp_path, MARKUP, monkeypatch, *command)
    if command[-1] != "bad.sheet.yaml" and "prove" not in command:  # those print nothing that was written as prose
        assert re.search(r"\[/x\]\s+\[red\]:gear:\s+\\", said), said


@given(st.text(st.characters(codec=None)), st.text(st.characters(codec=None)))
def test_a_fault_carries_nothing_harmful(said: str, subject: str) -> None:
    from specrules.cli.writing import put_faults

    with redirect_stderr(io.StringIO()) as stream:
        put_faults([Fault(Place("e.sheet.yaml", 3, 1), subject, Code.NOT_YAML, said, said)])
    assert stream.getvalue().startswith("e.sheet.yaml, line 3")
    assert harmful(stream.getvalue()) == []
