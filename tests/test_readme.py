"""The README says what is so: its demo is the demo, its examples are taken, its commands exist, its words are ours.

After a change of the demo that is meant: `python -m tests.test_readme` writes the new one into both places.
"""

from __future__ import annotations

import ast
import csv
import re
import shlex
from pathlib import Path

import click
import pytest

from specrules.api import read_record
from specrules.cli.commands import ListedCommand, specrules
from specrules.pack import Rule
from specrules.vocabulary import Verdict
from tests.cli.shell import call
from tests.shipped import resolved

ROOT = Path(__file__).parent.parent
README = ROOT / "README.md"
PROGRAM = ROOT / "specrules"
STORED = ROOT / "tests" / "output" / "demo.txt"
DEMO = re.compile(r"(<!-- demo output -->\n```text\n)(.*?)(```\n<!-- end of demo output -->)", re.DOTALL)


def text() -> str:
    return README.read_text(encoding="utf-8")


def blocks(language: str) -> list[str]:
    """What stands between fences of one language."""
    return re.findall(rf"^```{language}\n(.*?)^```$", text(), re.DOTALL | re.MULTILINE)


def example(header: str) -> str:
    """The one YAML example with this header."""
    found = [block for block in blocks("yaml") if f"specrules: {header}" in block]
    assert len(found) == 1
    return found[0]


SHOWN = ("V8 for", "TO PUT RIGHT", "TO READ AGAIN", "NOT MEASURED YET", "IN SPEC", "Stop at")
"""How the paragraphs of the demo begin that the README shows; what it leaves out is marked."""
LEFT_OUT = "[...]\n"


def excerpt(demo: str) -> str:
    """The demo's paragraphs that the README shows, to the byte, and a mark where some are left out."""
    paragraphs = demo.split("\n\n")
    shown = [paragraph.strip("\n").startswith(SHOWN) for paragraph in paragraphs]
    parts: list[str] = []
    for number, paragraph in enumerate(paragraphs):
        if shown[number]:
            parts.append(f"{paragraph.strip(chr(10))}\n")
        elif number and shown[number - 1]:
            parts.append(LEFT_OUT)
    return "\n".join(parts if shown[-1] else parts[:-1])


def test_the_demo_in_the_readme_is_the_demo() -> None:
    found = DEMO.search(text())
    assert found is not None
    assert found[2] == excerpt(call("demo").out)
    assert all(any(line.startswith(start) for line in found[2].split("\n")) for start in SHOWN)


CHECKS = re.compile(r"(<!-- checks by group -->\n)(.*?)(<!-- end of checks by group -->)", re.DOTALL)
KINDS = ("published", "maker", "house", "common practice", "from memory")


def speaks(rule: Rule, fact: str, label: str) -> bool:
    """Whether some figure of a rule holds for engines of one kind, whatever else it asks for."""
    keys = (validity.key(fact) for line in rule.lines for validity in line.holds.values())
    return any(key is None or key.any or label in key.labels for key in keys)


def checks_by_group() -> str:
    """A row for each group of the general pack: its rules and sign-offs, what kind of source its limits have, and how
    many of the rules have a figure for engines of which kind."""
    general = resolved("general")
    rules = [chain.governing[-1] for chain in general.rules.values()]
    used = [kind for kind in KINDS if any(rule.source.kind == kind for rule in rules)]
    engines = [(fact, label) for fact in general.figures_hold_by for label in general.facts[fact].choices]
    heads = ["group", "rules", "sign-offs", *used, *(f"{fact}: {label}" for fact, label in engines)]
    rows = [heads, ["---"] * len(heads)]
    for group in [*general.groups, "all"]:
        mine = [rule for rule in rules if group in (rule.group, "all")]
        asked = [sign_off for sign_off in general.sign_offs.values() if group in (sign_off.group, "all")]
        by_kind = [sum(rule.source.kind == kind for rule in mine) for kind in used]
        by_engine = [sum(speaks(rule, *kind) for rule in mine) for kind in engines]
        if mine or asked:
            rows.append([group, *map(str, (len(mine), len(asked), *by_kind, *by_engine))])
    return "\n".join(f"| {' | '.join(row)} |" for row in rows) + "\n"


def test_the_table_of_checks_is_what_the_packs_hold() -> None:
    found = CHECKS.search(text())
    assert found is not None
    assert found[2] == checks_by_group()


@pytest.mark.second_lane
def test_the_sheet_in_the_readme_is_judged(tmp_path: Path) -> None:
    path = tmp_path / "yard.sheet.yaml"
    path.write_text(example("build-sheet/1"), encoding="utf-8")
    ran = call("inspect", path)
    assert ran.err == ""
    assert ran.status in (1, 3)
    assert ran.out.startswith("Inline six for the yard tug ")


def test_the_map_in_the_readme_reads_a_table(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    head = "specrules: build-sheet/1\npacks: [general]\nunit: in\nfacts: {mains: 5}\n"
    Path("my.sheet.yaml").write_text(head, encoding="utf-8")
    Path("mains.map.yaml").write_text(example("import-map/1"), encoding="utf-8")
    rows = "Main,Journal front A,Journal front B (mm)\n#3,2.4990,63.475\nAverage,2.4990,63.475\n"
    Path("mains.csv").write_text(rows, encoding="utf-8")
    ran = call("sheet", "import", "my.sheet.yaml", "mains.csv", "--map", "mains.map.yaml")
    assert (ran.status, ran.err) == (0, "")
    assert "  main 3  front a 2.4990, front b 63.475 mm\n" in ran.out


PYTHON = re.compile(r"<!-- python -->\n```python\n(.*?)^```$", re.DOTALL | re.MULTILINE)


def test_the_python_in_the_readme_gives_what_it_says(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Each expression with a comment behind it has the comment as its repr; what is printed stands in one likewise."""
    found = PYTHON.search(text())
    assert found is not None
    (tmp_path / "engine.sheet.yaml").write_bytes((PROGRAM / "demo" / "carousel.sheet.yaml").read_bytes())
    monkeypatch.chdir(tmp_path)
    names: dict[str, object] = {}
    said, got = [], []
    for statement in ast.parse(found[1]).body:
        source = "\n".join(found[1].split("\n")[statement.lineno - 1 : statement.end_lineno])
        comment = source.partition("  # ")[2]
        if isinstance(statement, ast.Expr):
            said.append(comment)
            got.append(repr(eval(compile(ast.Expression(statement.value), "README.md", "eval"), names)))
            continue
        exec(compile(ast.Module([statement], []), "README.md", "exec"), names)
        if printed := capsys.readouterr().out:
            said.append(comment)
            got.append(printed.rstrip("\n"))
    assert got == said
    assert len(got) == 7
    with (tmp_path / "findings.csv").open(newline="", encoding="utf-8") as file:
        assert len(list(csv.DictReader(file))) > 400


RECORD_SCRIPT = re.compile(r"<!-- record script -->\n```python\n(.*?)^```$", re.DOTALL | re.MULTILINE)


@pytest.mark.second_lane
def test_a_record_is_read_by_the_few_lines_that_the_readme_has(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    found = RECORD_SCRIPT.search(text())
    assert found is not None
    monkeypatch.chdir(tmp_path)
    call("inspect", PROGRAM / "demo" / "carousel.sheet.yaml", "--form", "json", "--out", "as-found.json")
    exec(compile(found[1], "README.md", "exec"), {})
    said = [
        (each.rule, each.value, each.limits.least, each.limits.most, each.unit)
        for each in read_record("as-found.json").findings
        if each.verdict == "out of spec"
    ]
    assert len(said) == 4
    assert capsys.readouterr().out.splitlines() == [" ".join(map(str, each)) for each in said]


@pytest.mark.second_lane
def test_the_pack_in_the_readme_proves(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "packs").mkdir()
    (tmp_path / "packs" / "house.pack.yaml").write_text(example("tolerance-pack/1"), encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    ran = call("pack", "prove", "house")
    assert (ran.status, ran.err) == (0, "")
    assert "house proves." in ran.out
    assert call("pack", "schema", "house").status == 0


def test_its_house_pack_over_several_applications_is_that_of_the_reference() -> None:
    """Where it is proven, and held on each of the applications."""
    (margins,) = [block for block in blocks("yaml") if block.startswith("margins:")]
    assert margins in (ROOT / "packs" / "README.md").read_text(encoding="utf-8")


def commands() -> list[str]:
    """Every line of a shell block, and every inline code, that calls the program."""
    lines = [line for block in blocks("sh") for line in block.split("\n")]
    lines += re.findall(r"`(specrules [^`]+)`", text())
    return [line.split("#")[0].strip() for line in lines if line.startswith("specrules ")]


@pytest.mark.parametrize("line", commands())
def test_every_command_of_the_readme_exists_with_its_options(line: str) -> None:
    words = shlex.split(line.split(">")[0])[1:]
    command: click.Command = specrules
    while words and isinstance(command, click.Group):
        found = command.get_command(click.Context(command), words.pop(0))
        assert found is not None, line
        command = found.imported() if isinstance(found, ListedCommand) else found
    command.make_context("specrules", words, resilient_parsing=True, help_option_names=["-h", "--help"])
    known = {option for parameter in command.params for option in parameter.opts}
    assert {word for word in words if word.startswith("--")} <= known


def test_the_first_command_can_run_where_nothing_is_installed() -> None:
    """Its parts are a virtual environment, an installation of this tree and the demo; CI runs the whole."""
    block = blocks("sh")[0].strip()
    made, installed, ran = (part.strip() for part in block.split("&&"))
    assert made == "python3 -m venv .venv"
    assert installed == ".venv/bin/pip install --quiet ."
    assert ran == ".venv/bin/specrules demo"


def test_the_table_of_verdicts_is_the_programs() -> None:
    table = text().split("| verdict | when |")[1].split("\n\n")[0]
    told = {word.strip() for row in re.findall(r"^\| ([a-z, ]+) \|", table, re.MULTILINE) for word in row.split(",")}
    assert told == set(map(str, Verdict))


PAPERS = (
    "README.md",
    "DEVELOPERS.md",
    "packs/README.md",
    "specrules/plugins/README.md",
    "tests/benchmarks/README.md",
)


@pytest.mark.parametrize("paper", PAPERS)
def test_every_file_that_a_paper_links_to_is_there(paper: str) -> None:
    path = ROOT / paper
    links = re.findall(r"\]\(([^)#:]+)(?:#[^)]*)?\)", path.read_text(encoding="utf-8"))
    assert links
    assert [link for link in links if not (path.parent / link).exists()] == []


@pytest.mark.parametrize("paper", PAPERS)
def test_every_file_that_a_paper_names_is_there(paper: str) -> None:
    named = re.findall(r"`((?:\w+/)+[\w.]+\.(?:py|md))`", (ROOT / paper).read_text(encoding="utf-8"))
    assert [name for name in named if not (ROOT / name).exists() and not (PROGRAM / name).exists()] == []


if __name__ == "__main__":
    STORED.write_text(call("demo").out, encoding="utf-8")
    STORED.with_name("demo_full.txt").write_text(call("demo", "--full").out, encoding="utf-8")
    README.write_text(CHECKS.sub(lambda found: found[1] + checks_by_group() + found[3], text()), encoding="utf-8")
    SHORT = excerpt(STORED.read_text(encoding="utf-8"))
    README.write_text(DEMO.sub(lambda found: found[1] + SHORT + found[3], text()), encoding="utf-8")
