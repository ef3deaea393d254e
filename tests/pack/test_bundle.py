"""A bundle is what it was made of, or is refused: damaged, hostile, of another kind, or with files of no pack."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.pack.bundle import MOST_BYTES, bundle_of, bundle_text, digest, grounds_here, read_bundle
from tests.pack.small_packs import BASE, resolved

SPEC = resolved(BASE)
NAME = SPEC.packs[-1].name
FILES = {f"{NAME}.pack.yaml": BASE, f"{NAME}.sizes.csv": "size\r\n1\r\n"}
TEXT = bundle_text(bundle_of(SPEC, NAME, FILES, ["it proves."], "1.0"))


def altered(**changes: Any) -> str:
    return json.dumps(json.loads(TEXT) | changes)


def a_file(name: str, text: str = "x", sha256: str = "") -> dict[str, str]:
    return {"name": name, "text": text, "sha256": sha256 or digest(text)}


def said(source: bytes | str) -> list[str]:
    bundle, faults = read_bundle(source.encode() if isinstance(source, str) else source, "it.json")
    assert bundle is None
    return [fault.sentence() for fault in faults]


@pytest.mark.second_lane
@given(st.dictionaries(st.from_regex(r"[a-z]{1,8}\.csv", fullmatch=True), st.text(st.characters(codec="utf-8"))))
def test_a_bundle_reads_back_to_the_letter(tables: dict[str, str]) -> None:
    files = {f"{NAME}.pack.yaml": BASE, **tables}
    made = bundle_of(SPEC, NAME, files, ["a\u0000b", "ü"], "1.0")
    read, faults = read_bundle(bundle_text(made).encode(), "it.json")
    assert faults == ()
    assert read == made
    assert {each.name: each.text for each in read.files} == files


def test_it_says_what_it_stands_on() -> None:
    house = (
        "specrules: tolerance-pack/1\ngroup: Fits\n"
        f'pack: {{name: house, version: "3", title: Ours, builds on: [{NAME}]}}\n'
    )
    spec = resolved(BASE, house)
    made = bundle_of(spec, "house", {"house.pack.yaml": house}, [], "1.0")
    assert [(each.name, each.version, each.sha256) for each in made.stands_on] == [
        (NAME, spec.packs[0].version, spec.packs[0].sha256)
    ]
    assert [here.sha256 if here else "" for _, here in grounds_here(made, spec)] == [spec.packs[0].sha256]
    assert [here for _, here in grounds_here(made, SPEC)] == [SPEC.packs[0]]


@pytest.mark.parametrize(
    ("source", "sentence"),
    [
        (b"", "it.json: is no bundle of packs: invalid JSON"),
        (b"\xff", "it.json: is no bundle of packs: invalid JSON"),
        ("[]", "it.json: is no bundle of packs: "),
        ("{}", "it.json: is no bundle of packs: specrules: field required"),
        (altered(specrules="pack-bundle/2"), "it.json: is no bundle of packs: specrules: "),
        (altered(more=1), "it.json: is no bundle of packs: more: "),
        (altered(files=[]), "it.json: is no bundle of packs: files: "),
        (altered(name="other"), "it.json: has no file of the pack 'other' that it is of"),
        (altered(files=[a_file("../x.pack.yaml")]), "it.json: has a file that is none of a pack: '../x.pack.yaml'"),
        (altered(files=[a_file("/x.pack.yaml")]), "it.json: has a file that is none of a pack: '/x.pack.yaml'"),
        (altered(files=[a_file("a\\x.pack.yaml")]), "it.json: has a file that is none of a pack: "),
        (altered(files=[a_file("a/b/x.pack.yaml")]), "it.json: has a file that is none of a pack: "),
        (altered(files=[a_file("x.sh")]), "it.json: has a file that is none of a pack: 'x.sh'"),
        (altered(files=[a_file("\u202ex.csv")]), "it.json: has a file that is none of a pack: '\\u202ex.csv'"),
        (altered(files=[a_file(f"{NAME}.pack.yaml")] * 2), f"it.json: has {NAME}.pack.yaml twice"),
        (altered(files=[a_file(f"{NAME}.pack.yaml", "x", "0" * 64)]), f"it.json: has a {NAME}.pack.yaml that is not"),
        (TEXT.replace('"text": "', '"text": "\\ud800', 1), "it.json: is no bundle of packs: "),
        ("[" * 100_000, "it.json: is no bundle of packs: "),
        (b" " * (MOST_BYTES + 1), "it.json: has more than "),
    ],
    ids=lambda each: str(each)[:40],
)
def test_what_is_no_bundle_is_refused(source: bytes | str, sentence: str) -> None:
    found = said(source)
    assert found[0].startswith(sentence)
    assert all(each.endswith("; bundle it anew.") or "bundle" in each for each in found)
