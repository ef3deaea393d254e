"""The shape of a pack's file: unknown keys, missing keys, wrong kinds of value; each fault in full.

In each row the second text takes the place of the first in a good pack; the mark ¦ shows where the fault must be.
A sentence that ends in ... has the words of another room after that.
"""

import pytest

from tests.pack.small_packs import BASE, faults_of

ROWS: list[tuple[str, str, str]] = [
    ("title: Base practice", "¦titel: Base practice", 'pack: "titel" is no key here; write title.'),
    ("pack:\n  name: base", "pack:\n  ¦nam: base", 'pack: "nam" is no key here; write name.'),
    (
        "{kind: common practice, note: a thou an inch}",
        "{kind: ¦hearsay, note: a thou an inch}",
        'fit source kind: "hearsay" is none of published, maker, house, common practice, from memory.',
    ),
    (
        "coated: {kind: yes/no",
        "coated: {kind: ¦bool",
        'coated kind: "bool" is none of count, number, quantity, choice, yes/no, groups, labels, text; write yes/no.',
    ),
    (
        "resolution: 0.0001 in",
        "resolution: ¦{value: 0.0001 in}",
        "bore gauge resolution: has a mapping where a text belongs.",
    ),
    (
        "    title: Fit of shaft and hole\n",
        "    title: ¦[Fit, of, shaft]\n",
        "fit title: has a list where a text belongs.",
    ),
    (
        "{name: floor, least:",
        "{name: floor, ¦lest: 0 in, least:",
        'fit limits floor: "lest" is no key here; write least.',
    ),
    (
        "verdict: in spec",
        "verdict: ¦inspec",
        (
            'fit worked 1 expect verdict: "inspec" is none of in spec, worn within limit, just in, just out, out of '
            "spec, not proven, not measured, no figure, not applicable; write in spec."
        ),
    ),
    (
        "hold points: [dry_fit, first_start]",
        "hold points: [¦dry fit]",
        'hold points 1: "dry fit" cannot be a name: letters, digits and _, not a digit first; write dry_fit.',
    ),
    (
        "      - {name: soft,",
        "      - ¦{when: coated == no, least: 0 in}\n      - {name: soft,",
        'fit limits 2: has no "name" (the name that other packs amend it by).',
    ),
    (
        "expect: [{at: {place: 1}, verdict: not measured}]",
        "expect: ¦not measured",
        (
            'share worked 1 expect: has "not measured" where a mapping belongs; write keys such as at, '
            "value, verdict, side."
        ),
    ),
    (
        "        given: {readings: {hole: {1: 2.5025}}}",
        "        given: ¦nothing",
        'share worked 1 given: has "nothing" where a mapping belongs.',
    ),
    (
        "unsigned: clean\n",
        "unsigned: ¦not clean\n",
        (
            'share worked 1 unsigned: "not clean" cannot be a name: letters, digits and _, not a digit '
            "first; write not_clean."
        ),
    ),
    (
        "  plane: {names",
        "  ¦pl-ane: {names",
        'axes: "pl-ane" cannot be a name: letters, digits and _, not a digit first; write pl_ane.',
    ),
    (
        "axes:\n  place: {count: places}",
        "axes:\n  place: ¦[count, places]",
        "place: has a list where a mapping belongs; write keys such as count, names, groups, of.",
    ),
    ("facts:\n  places:", "facts: ¦none\nfacts2:\n  places:", 'facts: has "none" where a mapping belongs.'),
    ("  name: base\n", "  name: ¦../base\n", 'pack: "../base" is no plain name for a pack.'),
    (
        "    caution: Measure cold.",
        "    from the maker: ¦true\n    caution: Measure cold.",
        'fit from the maker: "true" is neither yes nor no; write yes.',
    ),
    (
        "specrules: tolerance-pack/1",
        "specrules: ¦build-sheet/1",
        ("does not start with specrules: tolerance-pack/1; write specrules: tolerance-pack/1 on its first line."),
    ),
    (
        "specrules: tolerance-pack/1\n",
        "¦",
        ("does not start with specrules: tolerance-pack/1; write specrules: tolerance-pack/1 on its first line."),
    ),
]


@pytest.mark.parametrize(("good", "bad", "sentence"), ROWS)
def test_a_fault_has_its_place_and_its_sentence(good: str, bad: str, sentence: str) -> None:
    assert BASE.count(good) == 1
    before, mark, _ = BASE.replace(good, bad).partition("¦")
    assert mark
    line, column = before.count("\n") + 1, len(before) - before.rfind("\n")
    fault = faults_of(BASE.replace(good, bad.replace("¦", "")))[0]
    assert (fault.place.line, fault.place.column, fault.kind) == (line, column, "pack")
    whole = f"base.pack.yaml, line {line}, {sentence}"
    if sentence.startswith("does not start"):
        whole = f"base.pack.yaml, line {line}: {sentence}"
    if sentence.endswith("..."):
        assert fault.sentence().startswith(whole.removesuffix("..."))
        assert len(fault.sentence()) > len(whole)
    else:
        assert fault.sentence() == whole


def test_the_good_pack_has_no_fault() -> None:
    assert faults_of(BASE) == ()


def test_a_reason_outside_of_amend_says_where_amendments_go() -> None:
    text = BASE.replace("  share:\n", "  share:\n    reason: Ours are closer.\n")
    assert [fault.sentence() for fault in faults_of(text)] == [
        'base.pack.yaml, line 73, share: "reason" is no key here; '
        "write share under amend, rules, if it changes what another pack has."
    ]


def test_every_fault_of_a_file_comes_in_one_run() -> None:
    text = BASE.replace("question:", "qestion:").replace("repeats: 2", "repeat: 2").replace("mpe:", "mpx:")
    assert [fault.sentence() for fault in faults_of(text)] == [
        'base.pack.yaml, line 25, bore gauge: "mpx" is no key here; write mpe.',
        'base.pack.yaml, line 29, shaft: "repeat" is no key here; write repeats.',
        'base.pack.yaml, line 41, clean: "qestion" is no key here; write question.',
    ]


def test_a_missing_key_points_at_the_thing_that_lacks_it() -> None:
    (fault,) = faults_of(BASE.replace("    source: {kind: common practice, note: a thou an inch}\n", ""))
    assert fault.place.line == 45
    assert fault.place.column == 3
    assert fault.sentence() == 'base.pack.yaml, line 45, fit: has no "source" (where its figures come from).'


def test_an_empty_value_is_no_value() -> None:
    (fault,) = faults_of(BASE.replace("caution: Measure cold.", "caution:"))
    said = "base.pack.yaml, line 67, fit caution: has no value; write a value, or leave the key out."
    assert fault.sentence() == said


def test_a_wrong_section_besides_others_is_named_at_its_key() -> None:
    first, second = faults_of(BASE.replace("facts:\n", "facts: none\nfacts2:\n"))
    assert first.sentence() == 'base.pack.yaml, line 12, facts: has "none" where a mapping belongs.'
    assert second.sentence() == 'base.pack.yaml, line 13: "facts2" is no key here; write facts.'
    assert second.place.column == 1
