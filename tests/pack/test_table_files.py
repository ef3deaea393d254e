"""Rows of tables in CSV files: read as those in the pack's own file, each fault in its line, part of the digest."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from specrules.effects.pack_files import PackFiles
from specrules.pack import Specification
from specrules.pack.pack_reading import Pack, read_pack
from specrules.pack.resolving import resolve

HEAD = """\
specrules: tolerance-pack/1
pack: {name: shop, version: "1", title: A shop, unit: mm}
tables:
  wall:
    keys: {colour: choice}
    columns: {thin: mm, thick: mm}
    file: shop.wall.csv
    source: {kind: house}
  crossed:
    keys: {block: choice, crank: whole}
    columns: {shell: label}
    file: shop.crossed.csv
    source: {kind: house}
"""
WALL = "colour, thin, thick\nblue, 1.496, 1.500\n\nblack, 1.500, 1.504\nbrown, , 1.508\n"
CROSSED = "block,crank,shell\nA,1,blue\nA,2,black\nB,1,black\n"
INLINE = HEAD.replace(
    "file: shop.wall.csv", "rows: {blue: [1.496, 1.500], black: [1.500, 1.504], brown: [none, 1.508]}"
)
INLINE = INLINE.replace("file: shop.crossed.csv", "rows: {A: {1: blue, 2: black}, B: {1: black}}")


def read(wall: str = WALL, head: str = HEAD, **files: str) -> tuple[Pack | None, list[str]]:
    beside: Mapping[str, str] = {"shop.wall.csv": wall, "shop.crossed.csv": CROSSED, **files}
    every = [("packs/shop.pack.yaml", head.encode())]
    every += [(f"packs/{name}", text.encode()) for name, text in beside.items()]
    pack, faults = read_pack(every)
    return pack, [fault.sentence() for fault in faults]


def specification(pack: Pack | None) -> Specification:
    assert pack is not None
    made, faults = resolve([pack], ["shop"])
    assert made is not None, faults
    return made


def test_rows_of_a_file_are_rows_of_the_pack() -> None:
    pack, faults = read()
    assert faults == []
    inline, _ = read(head=INLINE)
    made, same = specification(pack), specification(inline)
    assert {name: table.data for name, table in made.tables.items()} == {
        name: table.data for name, table in same.tables.items()
    }
    assert made.seal == same.seal
    assert pack is not None
    assert pack.files == ("packs/shop.pack.yaml", "packs/shop.crossed.csv", "packs/shop.wall.csv")


def test_a_figure_of_a_file_is_part_of_the_digest() -> None:
    one, other = (read(text)[0] for text in (WALL, WALL.replace("1.508", "1.509")))
    assert one is not None
    assert other is not None
    assert one.sha256 != other.sha256
    assert read(**{"shop.other.csv": "a,b\n"})[0].sha256 == one.sha256  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("wall", "said"),
    [
        ("colour,thick\nblue,1\n", "packs/shop.wall.csv, line 1, wall file: does not begin with the names of its keys"),
        ("", "packs/shop.wall.csv, line 1, wall file: does not begin with the names of its keys and columns; write"),
        (WALL + "blue,1,2\n", 'packs/shop.wall.csv, line 6, wall file: "blue" stands twice, and first in line 2'),
        (WALL + "white,1\n", 'packs/shop.wall.csv, line 6, wall file: "white" has 2 cells where there are 3'),
        (WALL + 'white,"1",2\n', "packs/shop.wall.csv, line 6, wall file: "),
        (WALL + "white,1\x1b,2\n", "packs/shop.wall.csv, line 6, wall file: "),
    ],
)
def test_a_fault_of_a_file_stands_in_its_line(wall: str, said: str) -> None:
    _, faults = read(wall)
    assert faults[0].startswith(said)


@pytest.mark.parametrize(
    "change",
    [
        lambda text: text.replace("\n", "\r\n"),
        lambda text: text.replace("\n", "\r"),
        lambda text: "\ufeff" + text,
        lambda text: "\ufeff" + text.replace("\n", "\r\n") + "\r\n",
        lambda text: text.replace(", ", ","),
        lambda text: text.replace(", ", " ,\t"),
        lambda text: text.replace(", ", ",\u00a0"),
        lambda text: text.rstrip("\n"),
        lambda text: "\n\n" + text,
    ],
    ids=["Windows", "carriage returns", "mark", "mark and Windows", "bare", "tabs", "hard blanks", "no end", "lines"],
)
def test_what_programs_add_to_a_file_changes_no_figure(change: Callable[[str], str]) -> None:
    pack, faults = read(change(WALL))
    assert faults == []
    assert specification(pack).seal == specification(read()[0]).seal


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("white;1,508;1,512", '"white;1" has a semicolon; write white,1.508,1.512.'),
        ("white;1.508;1.512", '"white;1.508;1.512" has a semicolon; write white,1.508,1.512.'),
        ("white\t1.508\t1.512", '"white\\u00091.508\\u00091.512" has a tab; write white,1.508,1.512.'),
        ("white\t1,508\t1,512", '"white\\u00091" has a tab; write white,1.508,1.512.'),
        ("white;1,508", '"white;1" has a semicolon.'),
        ("white,1,508,1,512", '"white" has 5 cells where there are 3; write white,1.508,1.512.'),
        ("white,1,508,1.512", '"white" has 4 cells where there are 3; write a comma between two cells, and none in'),
        ('white,"1,508","1,512"', "has a quote or a sign that is none of a text; write white,1.508,1.512."),
        ('"white",1.508,1.512', "has a quote or a sign that is none of a text; write white,1.508,1.512."),
        ('"white;grey",1.508,1.512', 'white;grey"" has a semicolon.'),
        (",,", "a row has no key; write its key, or take the row out."),
        (",1.508,1.512", "a row has no key; write its key, or take the row out."),
        ("white,1.508,1.512\u2028grey,1.5,1.6", "has a quote or a sign that is none of a text"),
        ("white,1.5\x0c08,1.512", "has a quote or a sign that is none of a text"),
    ],
)
def test_what_other_programs_write_is_told_with_the_row_that_is_meant(row: str, said: str) -> None:
    _, faults = read(WALL + row + "\n")
    (fault,) = faults
    assert fault.startswith("packs/shop.wall.csv, line 6, wall file: ")
    assert said in fault


@pytest.mark.parametrize("first", ["colour;thin;thick", "colour\tthin\tthick", "sep=;", '"colour","thin","thick"'])
def test_a_first_line_as_other_programs_write_it_is_told_with_the_line_to_write(first: str) -> None:
    _, faults = read(WALL.replace("colour, thin, thick", first))
    (fault,) = faults
    assert fault.endswith("does not begin with the names of its keys and columns; write colour,thin,thick.")


@pytest.mark.parametrize("encoding", ["utf-16", "cp1252"])
def test_another_encoding_is_told_with_what_to_save(encoding: str) -> None:
    every = [("packs/shop.pack.yaml", HEAD.encode()), ("packs/shop.crossed.csv", CROSSED.encode())]
    every.append(("packs/shop.wall.csv", WALL.replace("blue", "bl\u00fc").encode(encoding)))
    _, faults = read_pack(every)
    assert [(fault.place.file, fault.said, fault.write) for fault in faults] == [
        ("packs/shop.wall.csv", "is no text in UTF-8", "the file saved as CSV in UTF-8")
    ]


def test_what_is_wrong_with_a_figure_of_a_file_is_told_there() -> None:
    pack, _ = read(WALL.replace("1.504", "much"))
    assert pack is not None
    _, faults = resolve([pack], ["shop"])
    assert [(f.place.file, f.place.line, f.place.column) for f in faults] == [("packs/shop.wall.csv", 4, 15)]


@pytest.mark.parametrize(
    ("head", "said"),
    [
        (HEAD.replace("shop.wall.csv", "shop.walls.csv"), 'wall file: "shop.walls.csv" is no file beside the pack'),
        (HEAD.replace("shop.wall.csv", "../shop.wall.csv"), 'wall file: "../shop.wall.csv" is no file beside the pack'),
        (
            HEAD.replace("file: shop.wall.csv", "file: shop.wall.csv\n    rows: {blue: [1, 2]}"),
            "wall file: has rows and a",
        ),
    ],
)
def test_a_file_that_is_not_there_is_a_fault(head: str, said: str) -> None:
    _, faults = read(head=head)
    assert said in faults[0]


def test_no_more_faults_are_told_than_anyone_reads() -> None:
    assert len(read("colour,thin,thick\n" + "blue,1,2,3\n" * 500)[1]) == 10


@pytest.mark.parametrize("folder", [False, True])
def test_files_beside_a_pack_are_read_with_it(tmp_path: Path, folder: bool) -> None:
    """Of a pack that is one file those whose names begin with its own; of a folder all that lie in it."""
    packs = tmp_path / "packs"
    home = packs / "shop" if folder else packs
    home.mkdir(parents=True)
    files = {"shop.pack.yaml": HEAD, "shop.wall.csv": WALL, "shop.crossed.csv": CROSSED, "other.csv": "what, ever\n"}
    for name, text in files.items():
        (home / name).write_text(text, encoding="utf-8")
    found = PackFiles([packs])
    loaded, faults = found.load(["shop"])
    assert [fault.sentence() for fault in faults] == []
    assert list(specification(loaded[0]).tables) == ["wall", "crossed"]
    ours = {path.name for path in found.paths() if path.is_relative_to(tmp_path)}
    assert ours == (set(files) if folder else set(files) - {"other.csv"})
    everything = found.read()
    assert everything is not None
    assert any(label.endswith("shop.wall.csv") and raw == WALL.encode() for label, raw in everything)
