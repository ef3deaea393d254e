"""Packs on disk: where they are found, and what is refused."""

import os
from pathlib import Path

import pytest

from specrules.document import Fault, Place, Text
from specrules.effects.pack_files import PackFiles, shipped_folder
from specrules.pack.resolving import resolve
from specrules.plugins import plug
from tests.pack.small_packs import BASE, upper


@pytest.fixture
def shipped(tmp_path: Path) -> Path:
    """A folder of packs as they ship: one in two files, one in one."""
    folder = tmp_path / "ships" / "packs"
    (folder / "base").mkdir(parents=True)
    first, rules = BASE.split("rules:\n")
    (folder / "base" / "base.pack.yaml").write_text(first)
    (folder / "base" / "holes.pack.yaml").write_text("specrules: tolerance-pack/1\ngroup: Holes\nrules:\n" + rules)
    tow = upper("tow", "  rules:\n    fit: {reason: Hot., limits: [{name: base, least: 0.0008 * size}]}\n")
    (folder / "tow.pack.yaml").write_text(tow)
    return folder


@pytest.fixture
def house(tmp_path: Path) -> Path:
    """A shop's own folder of packs."""
    folder = tmp_path / "shop" / "packs"
    folder.mkdir(parents=True)
    (folder / "ours.pack.yaml").write_text(upper("ours", "", on="tow"))
    return folder


def sentences(faults: tuple[Fault, ...]) -> list[str]:
    return [fault.sentence() for fault in faults]


def test_a_pack_brings_all_that_it_builds_on(shipped: Path, house: Path) -> None:
    library = PackFiles([house], shipped=shipped)
    assert library.names() == ("base", "ours", "tow")
    packs, faults = library.load(["ours"])
    assert faults == ()
    assert [pack.name for pack in packs] == ["ours", "tow", "base"]
    assert packs[2].files == ("packs/base/base.pack.yaml", "packs/base/holes.pack.yaml")


def test_the_packs_that_ship_are_found() -> None:
    assert "general" in PackFiles().names()
    packs, faults = PackFiles().load(["general"])
    assert faults == ()
    assert [pack.name for pack in packs] == ["general"]
    assert (shipped_folder() / "general").is_dir()


def test_an_unknown_pack_is_a_fault_where_it_was_asked_for(shipped: Path) -> None:
    asked = Text("twо", Place("a.sheet.yaml", 4, 9))
    _, faults = PackFiles(shipped=shipped).load([Text("twow", Place("a.sheet.yaml", 4, 9))])
    assert sentences(faults) == ['a.sheet.yaml, line 4, packs: "twow" is no pack that was found; write tow.']
    _, faults = PackFiles(shipped=shipped).load([asked])  # the last letter is not a Latin one
    assert [fault.said for fault in faults] == ['"twо" is no plain name for a pack']


@pytest.mark.parametrize(
    "name", ["../shop/packs/ours", "/etc/passwd", "..", "packs/tow", "tow.pack.yaml", "a\x00b", ""]
)
def test_a_pack_is_named_never_pointed_at(shipped: Path, house: Path, name: str) -> None:
    packs, (fault,) = PackFiles([house], shipped=shipped).load([name])
    assert packs == ()
    assert fault.said.endswith(" is no plain name for a pack")
    assert fault.write == "its name only, no path"


def test_a_pack_may_not_take_the_name_of_one_that_ships_or_a_plugins(
    shipped: Path, house: Path, tmp_path: Path
) -> None:
    (house / "tow.pack.yaml").write_text(upper("tow", ""))
    _, faults = PackFiles([house], shipped=shipped).load(["ours"])
    assert sentences(faults) == [
        'packs/tow.pack.yaml: a pack called "tow" ships with the program, and this one would be taken for it;'
        " write another name, and builds on: [tow] in it."
    ]
    (house / "tow.pack.yaml").unlink()
    plugin = tmp_path / "plugin"
    plugin.mkdir()
    (plugin / "ours.pack.yaml").write_text(upper("ours", ""))
    _, (fault,) = PackFiles([house], plugins=[plugin], shipped=shipped).load(["base"])
    assert fault.said.startswith('a pack called "ours" comes with a plugin')


def test_the_nearest_of_a_shops_own_folders_stands(shipped: Path, house: Path, tmp_path: Path) -> None:
    (tmp_path / "packs").mkdir()
    (tmp_path / "packs" / "ours.pack.yaml").write_text(upper("ours", "").replace("version: '1'", "version: '9'"))
    (pack, *_), faults = PackFiles([house, tmp_path / "packs"], shipped=shipped).load(["ours"])
    assert faults == ()
    assert pack.head.version == "1"


def test_the_folder_that_ships_may_be_named_again(shipped: Path) -> None:
    assert PackFiles([shipped], shipped=shipped).load(["tow"])[1] == ()


def test_a_file_and_a_folder_of_one_name_are_a_fault(shipped: Path) -> None:
    (shipped / "base.pack.yaml").write_text(BASE)
    _, (fault,) = PackFiles(shipped=shipped).load(["tow"])
    assert fault.said == 'the pack "base" is a file and a folder too'


def test_a_file_goes_by_the_name_of_its_pack(shipped: Path, house: Path) -> None:
    (house / "theirs.pack.yaml").write_text(upper("ours", ""))
    _, (fault,) = PackFiles([house], shipped=shipped).load(["theirs"])
    said = (
        'packs/theirs.pack.yaml, line 2, pack: calls itself "ours", and its file is called theirs; write name: theirs.'
    )
    assert fault.sentence() == said


def test_a_link_out_of_the_folder_is_not_followed(shipped: Path, house: Path, tmp_path: Path) -> None:
    (tmp_path / "secret.pack.yaml").write_text("password: 12345\n")
    (house / "leak.pack.yaml").symlink_to(tmp_path / "secret.pack.yaml")
    _, (fault,) = PackFiles([house], shipped=shipped).load(["leak"])
    assert fault.sentence() == "packs/leak.pack.yaml: leads out of its folder of packs."
    assert "12345" not in fault.sentence()


def test_what_is_no_plain_file_is_not_read(shipped: Path, house: Path) -> None:
    (house / "mixed").mkdir()
    os.mkfifo(house / "mixed" / "pipe.pack.yaml")
    (house / "mixed" / "loop.pack.yaml").symlink_to(house / "mixed" / "loop.pack.yaml")
    (house / "mixed" / "lost.pack.yaml").symlink_to(house / "mixed" / "nowhere")
    _, faults = PackFiles([house], shipped=shipped).load(["mixed"])
    assert [fault.kind for fault in faults] == ["file", "file", "file"]
    assert faults[0].said.startswith(("is a link that leads nowhere", "cannot be read: "))
    assert sentences(faults[1:]) == [
        "mixed/lost.pack.yaml: cannot be read: no such file or directory.",
        "mixed/pipe.pack.yaml: is no plain file.",
    ]


def test_a_folder_that_is_not_there_has_no_packs(tmp_path: Path) -> None:
    library = PackFiles([tmp_path / "nowhere"], shipped=tmp_path / "nothing")
    assert library.names() == ()
    assert library.load(["tow"])[1][0].said == '"tow" is no pack that was found'


def test_a_file_larger_than_a_pack_may_be_is_not_read_whole(shipped: Path, house: Path) -> None:
    with (house / "large.pack.yaml").open("wb") as file:
        file.truncate(5_000_000_000)
    _, (fault,) = PackFiles([house], shipped=shipped).load(["large"])
    assert fault.said.startswith("the file is larger than ")


@pytest.mark.second_lane
def test_the_packs_that_ship_make_a_specification_each() -> None:
    library = PackFiles()
    for name in library.names():
        packs, faults = library.load([name])
        assert faults == ()
        made, faults = resolve(packs, [name], plug().functions)
        assert sentences(faults) == []
        assert made is not None
        assert made.rules
