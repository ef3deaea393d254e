"""A pack's parts as compiled, packs in several files, and hostile trees that must yield faults and never raise."""

from decimal import Decimal
from types import MappingProxyType

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.document import Fields, Items, Node, Place, Text, read
from specrules.formula import Role
from specrules.pack.pack_json_schema import pack_schema
from specrules.pack.pack_model import misplaced, pack_file
from specrules.pack.pack_reading import read_pack
from specrules.pack.resolving import resolve
from specrules.quantity import LENGTH, NUMBER
from specrules.validation import checked
from tests.pack.small_packs import BASE, faults_of, read_text, resolved, upper


def test_the_parts_of_a_specification() -> None:
    made = resolved(BASE)
    assert {name: axis.count for name, axis in made.axes.items()} == {"place": "places", "plane": "", "class": ""}
    assert (made.axes["class"].groups, made.axes["class"].of, made.axes["class"].default) == ("classes", "place", "one")
    assert made.axes["plane"].names == ("front", "rear")
    hole = made.measurands["hole"]
    assert (hole.axes, hole.unit.symbol, hole.repeats, hole.title) == (("place", "plane"), "in", 1, "hole")
    assert hole.usual is not None
    assert (hole.usual.low, hole.usual.high) == (Decimal("38.1"), Decimal("114.3"))  # 1.5 in and 4.5 in, in mm
    assert hole.may_be_negative is None
    shaft = made.measurands["shaft"]
    assert shaft.usual is not None
    assert (shaft.repeats, shaft.usual.low) == (2, Decimal(30))
    stand = made.measurands["stand"].may_be_negative
    assert stand is not None
    assert stand.names == frozenset()
    assert made.facts["card_shaft"].unit is hole.unit
    assert made.facts["coated"].choices == ("yes", "no")
    assert made.scope.names["clearance"].role is Role.FIGURE
    assert made.scope.names["clearance"].dimension == LENGTH
    assert made.scope.names["ratio"].dimension == NUMBER
    clearance = made.figures["clearance"]
    assert [way.name for way in clearance.ways] == ["two sizes", "stated"]
    assert (clearance.ways[1].needs, clearance.ways[1].gauge_classes) == (("clean",), ("bore gauge",))
    assert (clearance.unit.symbol, made.figures["ratio"].unit.symbol) == ("in", "")
    assert [way.name for way in made.figures["ratio"].ways] == ["formula"]
    assert made.groups == ("Base practice",)
    assert made.hold_points == ("dry_fit", "first_start")
    assert made.sign_offs["clean"].hold_point == "first_start"
    assert made.sign_offs["clean"].importance.text == "major"


def test_the_parts_of_a_rule() -> None:
    rule = resolved(BASE).rules["fit"].governing[0]
    assert (rule.title, rule.each, rule.formula.text, rule.unit.symbol) == (
        "Fit of shaft and hole",
        ("place",),
        "clearance",
        "in",
    )
    assert [line.name for line in rule.lines] == ["base", "soft", "floor"]
    soft = rule.lines[1]
    assert soft.when is not None
    assert soft.shift is not None
    assert (soft.when.text, soft.shift.text, soft.sets) == ("material == aluminium", "-0.0005 in", {})
    assert set(rule.lines[0].sets) == {"least", "aim", "most", "wear most"}
    assert (rule.words, rule.hold_point, rule.needs) == (("tight", "loose"), "dry_fit", ("clean",))
    assert {word: formula.text for word, formula in rule.importance.items()} == {
        "tight": "critical",
        "loose": "critical if coated == yes else minor",
    }
    assert {
        word: [(step.do, step.moves.text) for step in steps if step.moves] for word, steps in rule.remedy.items()
    } == {
        "tight": [("the larger hole", "0.0005 in")],
        "loose": [("the smaller hole", "-0.0005 in")],
    }
    assert rule.otherwise == "Measure again."
    (example,) = rule.worked
    (expected,) = example.expect
    assert (expected.at, expected.value, expected.verdict, expected.side) == (
        {"place": "1"},
        "0.0025 in",
        "in spec",
        "",
    )
    assert example.given[Text("readings")] == {"hole": {"1": "2.5025"}, "shaft": {"1": "2.5000"}}
    share = resolved(BASE).rules["share"].governing[0]
    assert (share.limits_wanted, share.lines, share.worked[0].unsigned) == (False, (), ("clean",))
    assert (share.source.kind, share.source.page, share.words) == ("published", "12", ("low", "high"))
    assert {formula.text for formula in share.importance.values()} == {"minor"}


def test_short_forms_are_the_long_ones() -> None:
    long = BASE.replace("each: place", "each: [place]").replace("limits: none", "limits: [{name: base, most: 2}]")
    short = BASE.replace("limits: none", "limits: {most: 2}").replace("at: place", "at: [place]")
    more = "    importance: {low: minor, high: minor}\n    may be", "    importance: minor\n    may be"
    one = resolved(long.replace("    may be", more[0])).rules["share"].governing[0]
    two = resolved(short.replace("    may be", more[1])).rules["share"].governing[0]
    assert [(line.name, line.sets["most"].text) for line in one.lines] == [("base", "2")]
    assert [(line.name, line.sets["most"].text) for line in two.lines] == [("base", "2")]
    assert {w: f.text for w, f in one.importance.items()} == {w: f.text for w, f in two.importance.items()}
    assert one.each == two.each == ("place",)


def test_a_text_as_the_source_of_a_line_is_what_its_maker_says() -> None:
    text = BASE.replace("shift: -0.0005 in}", "shift: -0.0005 in, source: the sheet in the box, from the maker: yes}")
    line = resolved(text).rules["fit"].governing[0].lines[1]
    assert line.source is not None
    assert (line.source.kind, line.source.note, line.from_the_maker) == ("maker", "the sheet in the box", True)


def test_a_rule_may_have_no_limits_but_the_makers() -> None:
    text = BASE.replace("    limits: none\n", "    from the maker: yes\n    importance: minor\n")
    rule = resolved(text).rules["share"].governing[0]
    assert (rule.lines, rule.limits_wanted, rule.from_the_maker) == ((), True, True)


HEAD = "specrules: tolerance-pack/1\ngroup: Holes\n"


def test_a_pack_in_several_files_is_one_pack_with_a_heading_for_each() -> None:
    first, rules = BASE.split("rules:\n")
    files = [("a.yaml", first.encode()), ("b.yaml", (HEAD + "rules:\n" + rules).encode())]
    pack, faults = read_pack(files)
    assert faults == ()
    assert pack is not None
    assert pack.files == ("a.yaml", "b.yaml")
    assert pack.groups == {"a.yaml": "Base practice", "b.yaml": "Holes"}
    assert set(pack.sections["rules"]) == {"fit", "share"}
    alone, _ = read_pack(files[:1])
    assert alone is not None
    assert len({pack.sha256, alone.sha256}) == 2
    assert isinstance(pack.sections, MappingProxyType)


def test_headings_come_in_the_order_that_the_pack_states() -> None:
    first, rules = BASE.split("rules:\n")
    first = first.replace("  unit: in\n", "  unit: in\n  groups: [Holes, Base practice]\n", 1)
    pack, _ = read_pack([("a.yaml", first.encode()), ("b.yaml", (HEAD + "rules:\n" + rules).encode())])
    assert pack is not None
    made, faults = resolve([pack], ["base"])
    assert faults == ()
    assert made is not None
    assert made.groups == ("Holes", "Base practice")


def test_faults_of_several_files_come_together() -> None:
    bad = HEAD + "rules:\n  fit: {titel: a}\npack: {name: b, version: '1', title: c}\n"
    _, faults = read_pack([("a.yaml", BASE.encode()), ("b.yaml", bad.encode()), ("c.yaml", b"a: [1")])
    assert {fault.place.file for fault in faults} == {"b.yaml", "c.yaml"}


def test_one_thing_twice_in_a_pack() -> None:
    again = HEAD + "pack: {name: b, version: '1', title: c}\nhold points: [a]\nfacts:\n  grip: {kind: number}\n"
    _, faults = read_pack([("a.yaml", BASE.encode()), ("b.yaml", again.encode())])
    tail = "; write one of them only."
    assert [fault.sentence() for fault in faults] == [
        f"b.yaml, line 6, grip: stands twice in this pack, and first in a.yaml, line 19{tail}",
        f"b.yaml, line 3, pack: stands twice in this pack, and first in a.yaml, line 2{tail}",
        f"b.yaml, line 4, hold points: stands twice in this pack, and first in a.yaml, line 21{tail}",
    ]


def test_a_pack_without_a_head_and_files_that_are_none() -> None:
    _, (fault,) = read_pack([("b.yaml", HEAD.encode())])
    said = 'b.yaml, line 1: has no "pack" section; write pack: and its name, version and title.'
    assert fault.sentence() == said
    assert read_pack([])[0] is None
    _, (empty,) = read_pack([("b.yaml", b"")])
    assert empty.sentence() == "b.yaml, line 1: the file is empty."


def test_a_builds_on_that_is_a_path_is_refused() -> None:
    _, (fault,) = read_pack([("b.yaml", upper("more", "", on="../../etc/passwd").encode())])
    assert fault.sentence() == 'b.yaml, line 2, pack: "../../etc/passwd" is no plain name for a pack.'


def test_the_name_of_a_pack_is_kept_as_written() -> None:
    assert read_text(BASE).name == "base"


# Hostile values, by the public reports of what goes wrong between YAML and pydantic.


@pytest.mark.parametrize("word", ["true", "True", "on", "t", "1", "y", "YES"])
def test_no_word_but_yes_and_no_is_a_yes_or_a_no(word: str) -> None:
    text = BASE.replace("    caution: Measure cold.", f"    from the maker: {word}\n    caution: Measure cold.")
    (fault,) = faults_of(text)
    assert fault.said == f'"{word}" is neither yes nor no'


@pytest.mark.parametrize("number", ["true", "nan", ".inf", "1_000", "0x10", "١", "1e3", "2,5"])
def test_no_other_text_is_a_number(number: str) -> None:
    (fault,) = faults_of(BASE.replace("aim: 0.0010 * size", f"aim: {number}"))
    assert fault.place.line == 52
    (fault,) = faults_of(BASE.replace("repeats: 2", f"repeats: '{number}'"))
    assert fault.said == f'"{number}" is no number of readings'


def test_one_wrong_key_is_one_fault_whatever_forms_were_possible() -> None:
    for written in ("{lest: 0.001 in}", "[{name: base, lest: 0.001 in}]"):
        (fault,) = faults_of(BASE.replace("limits: none", f"limits: {written}\n    importance: minor"))
        assert (fault.said, fault.write) == ('"lest" is no key here', "least")


def test_a_name_is_no_way_out_of_the_tree() -> None:
    (fault,) = faults_of(BASE.replace("facts:\n", "facts:\n  '[key]': {kind: number}\n"))
    assert fault.sentence() == (
        'base.pack.yaml, line 13, facts: "[key]" cannot be a name: letters, digits and _, not a digit first; write key.'
    )


def test_thousands_of_faults_make_a_hundred() -> None:
    many = "".join(f"  f{number}: {{kind: x}}\n" for number in range(3000))
    _, faults = read_pack([("a.yaml", (BASE.replace("facts:\n", "facts:\n" + many)).encode())])
    assert len(faults) == 101
    assert faults[-1].sentence() == "a.yaml, line 113: here and below are 2900 faults more."
    assert len("".join(fault.sentence() for fault in faults)) < 20_000


WORDS = st.sampled_from(
    ["rules", "fit", "limits", "name", "amend", "reason", "each", "worked", "given", "expect", "pack", "importance",
     "none", "yes", "", "[key]", "0", "remedy", "otherwise", "facts", "kind", "choice", "specrules", "ways", "source"]
)  # fmt: skip


def placed(made: object) -> Node:
    """A made-up tree, every node of it placed."""
    if isinstance(made, dict):
        fields = Fields((Text(key, PLACE), placed(value)) for key, value in made.items())
        fields.place = PLACE
        return fields
    if isinstance(made, list):
        items = Items(map(placed, made))
        items.place = PLACE
        return items
    return Text(str(made), PLACE)


PLACE = Place("made-up", 1, 1)
TREES = st.recursive(
    WORDS, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(WORDS, inner, max_size=4), max_leaves=25
)


@given(st.dictionaries(WORDS, TREES, max_size=6))
def test_any_tree_gives_faults_with_places_and_never_raises(made: dict[str, object]) -> None:
    model, faults = checked(pack_file(), placed(made), advise=misplaced)
    assert (model is None) == bool(faults)
    for fault in faults:
        assert fault.place == PLACE
        assert fault.said
        assert "pydantic" not in fault.sentence().lower()
        assert "input should" not in fault.sentence().lower()


@given(
    st.integers(0, len(BASE) - 1),
    st.sampled_from(["", "x", "{", "]", "- ", ": ", "0", "\n", "size", "-"]),
    st.integers(0, 6),
)
def test_a_good_pack_with_any_slip_in_it_gives_faults_or_a_specification(at: int, more: str, less: int) -> None:
    for fault in faults_of(BASE[:at] + more + BASE[at + less :]):
        assert fault.place.line >= 1
        assert fault.sentence().endswith(".")


def test_every_key_says_what_it_is_for() -> None:
    for name, entry in pack_schema()["$defs"].items():
        for key, about in entry["properties"].items():
            assert about.get("description"), f"{name} {key}"


def test_reading_is_the_same_from_a_text_and_its_bytes() -> None:
    assert read(BASE, "a", kind="pack")[0] == read(BASE.encode(), "a", kind="pack")[0]
