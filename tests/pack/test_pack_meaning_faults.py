"""What a pack means: names, units, formulas, limits; each fault in full.

In each row the second text takes the place of the first in a good pack; the mark ¦ shows where the fault must be.
A sentence that ends in ... has the words of another room after that.
"""

import pytest

from tests.pack.small_packs import BASE, faults_of, resolved

ROWS = [
    *(
        (
            "    mpe: 0.0001 in\n",
            f"    mpe: 0.0001 in\n    days between checks: ¦{days}\n",
            f'bore gauge days between checks: "{days}" is no number of days; write a whole number.',
        )
        for days in ("often", "0", "3.5", "٣")
    ),
    (
        "    limits:\n      - name: base",
        "    unit: ¦cc\n    limits:\n      - name: base",
        'fit unit: "cc" is a unit of volume, and this is length.',
    ),
    (
        "    importance: {tight: critical",
        "    importance: {¦tihgt: critical",
        'fit importance: "tihgt" is no side of this rule; write tight.',
    ),
    (
        "each: place\n    formula: clearance\n",
        "each: ¦plaec\n    formula: clearance\n",
        'fit each: "plaec" is no axis; write place.',
    ),
    ("most: 0.0014 * size", "most: 0.0014 * ¦sise", 'fit limits base most: "0.0014 * sise" ...'),
    ("aim: 0.0010 * size", "aim: ¦0.0010", 'fit limits base aim: "0.0010" ...'),
    ('"max(least, 0.0008 in)"', '"max(least, ¦leest)"', 'fit limits floor least: "max(least, leest)" ...'),
    ("shift: -0.0005 in", "shift: ¦-0.0005 cc", 'fit limits soft shift: "-0.0005 cc" ...'),
    (
        "when: material == aluminium,",
        "when: material == ¦aluminum,",
        'fit limits soft when: "material == aluminum" ...',
    ),
    ("applies when: work == new", "applies when: clearance ¦> 0 in", 'fit applies when: "clearance > 0 in" ...'),
    (
        "words: tight/loose",
        "words: ¦tight",
        'fit words: "tight" is no pair of words; write a pair such as tight/loose.',
    ),
    ("hold point: dry_fit", "hold point: ¦dryfit", 'fit hold point: "dryfit" is no hold point; write dry_fit.'),
    ("    needs: [clean]\n", "    needs: [¦claen]\n", 'fit needs: "claen" is no sign-off or rule; write clean.'),
    (
        "because: {tight: It",
        "because: {¦tite: It",
        'fit because: "tite" is no side of this rule; write tight or loose.',
    ),
    ("      loose: {do: the", "      ¦lose: {do: the", 'fit remedy: "lose" is no side of this rule; write loose.'),
    ("moves: 0.0005 in", "moves: ¦0.0005 deg", 'fit remedy tight moves: "0.0005 deg" ...'),
    (
        "      otherwise: Measure again.",
        "      otherwise: {do: Measure again., moves: ¦0.001 in}",
        "fit remedy otherwise: is for where no step is enough.",
    ),
    (
        '{kind: published, document: Sizes of things, page: "12"}',
        "{kind: ¦published, document: Sizes of things}",
        "share source: is published and names no page or clause; write page: in it.",
    ),
    (
        '{kind: published, document: Sizes of things, page: "12"}',
        '{kind: ¦published, page: "12"}',
        "share source: is published and names no document; write document: in it.",
    ),
    (
        "makes stale: [hole, clean]",
        "makes stale: [¦whole, clean]",
        'hone makes stale: "whole" is no measurand, fact or sign-off; write hole.',
    ),
    ("place: {count: places}", "place: {count: ¦material}", 'place: "material" is no fact of kind count.'),
    (
        "place: {count: places}",
        "¦place: {count: places, names: [a]}",
        "place: has count and names where one of them says what its labels are.",
    ),
    (
        "plane: {names: [front, rear]}",
        "plane: {names: [front, ¦front]}",
        'plane: "front" stands twice among its labels.',
    ),
    (
        "plane: {names: [front, rear]}",
        "plane: {names: [front, ¦value]}",
        'plane: "value" is no label, for in a sheet it is a word of one reading.',
    ),
    ("groups: classes, of: place", "groups: classes, of: ¦plase", 'class: "plase" is no axis; write place.'),
    (
        "groups: classes, of: place, default: one",
        "groups: ¦classes",
        "class: groups labels of no axis; write of: and that axis.",
    ),
    (
        "plane: {names: [front, rear]}",
        "plane: {names: [front, rear], of: ¦place}",
        "plane: says what is grouped, and groups nothing; write groups: and a fact.",
    ),
    ("groups: classes, of: place,", "groups: classes, of: ¦class,", "class: groups its own labels."),
    (
        "  material: {kind: choice, choices: [iron, aluminium]}",
        "  ¦material: {kind: choice}",
        "material: is a choice and has no choices.",
    ),
    ("  maker: {kind: text}", "  ¦maker: {kind: text, unit: in}", "maker: has a unit and is no quantity."),
    ("  maker: {kind: text}", "  ¦maker: {kind: text, choices: [a]}", "maker: has choices and is none."),
    ("  maker: {kind: text}", "  ¦maker: {kind: quantity}", "maker: is a quantity and has no unit."),
    ("unit: in, at: place}", "unit: ¦inn, at: place}", 'card_shaft unit: "inn" ...'),
    ("assumed: 0.5", "assumed: ¦0.5..0.7", 'grip assumed: "0.5..0.7" is no one number.'),
    ("assumed: 0.5", "assumed: 0.5 ¦in", 'grip assumed: "0.5 in" ...'),
    (
        "kind: count, title",
        "kind: count, assumed: ¦four, title",
        'places assumed: "four" is no count; write a whole number.',
    ),
    ("positions: [plane], unit: in", "positions: [plane], unit: ¦inc", 'hole unit: "inc" ...'),
    ("at: [place], positions: [plane]", "at: [place], positions: [¦plain]", 'hole positions: "plain" is no axis.'),
    (
        "usual: 30..120 mm",
        "usual: ¦30 mm",
        'shaft usual: "30 mm" is no range with two ends; write a range such as 1.5..4.5 in.',
    ),
    ("usual: 30..120 mm", "usual: 30..120 ¦g", 'shaft usual: "30..120 g" ...'),
    ("repeats: 2", "repeats: ¦two", 'shaft repeats: "two" is no number of readings; write a whole number.'),
    (
        "gauge classes: [bore gauge]}\n  shaft",
        "gauge classes: [¦boer gauge]}\n  shaft",
        'hole gauge classes: "boer gauge" is no gauge class; write bore gauge.',
    ),
    ("may be negative: yes", "may be negative: hole ¦> 1 in", 'stand may be negative: "hole > 1 in" ...'),
    (
        "two sizes: smallest(hole) - largest(shaft)",
        "two sizes: smallest(hole) - largest(¦shft)",
        'clearance ways two sizes formula: "smallest(hole) - largest(shft)" ...',
    ),
    (
        "stated: {formula: smallest(hole) - card_shaft",
        "stated: {formula: ¦clean",
        'clearance ways stated formula: "clean" ...',
    ),
    ("when: coated == no", "when: ¦card_shaft", 'clearance ways stated when: "card_shaft" ...'),
    (
        "needs: [clean], gauge",
        "needs: [¦cleen], gauge",
        'clearance ways stated needs: "cleen" is no sign-off or rule; write clean.',
    ),
    (
        "gauge classes: [bore gauge]}\n  size",
        "gauge classes: [¦bore]}\n  size",
        'clearance ways stated gauge classes: "bore" is no gauge class.',
    ),
    ("card: card_shaft}", "card: ¦grip}", 'size ways card formula: "grip" ...'),
    (
        "  ratio: {each: place, formula: clearance / size}",
        "  ¦ratio: {each: place}",
        "ratio: has neither formula nor ways; write one of the two.",
    ),
    (
        "  ratio: {each: place, formula: clearance / size}",
        "  ¦ratio: {each: place, formula: clearance * size}",
        "ratio: does not say the unit to show its area in; write unit: and its symbol.",
    ),
    (
        "  ratio: {each: place, formula: clearance / size}",
        "  ¦ratio: {each: place, formula: clearance / rate}\n  rate: {each: place, formula: ratio + 1}",
        "ratio: stands on itself: ratio uses rate uses ratio.",
    ),
    ("formula: clearance / size}", "formula: ¦clearance / size, unit: in}", 'ratio formula: "clearance / size" ...'),
    ("  size: {each", "  ¦shaft: {each", "shaft: is among the measurands already; write another name."),
    ("  grip: {kind", "  ¦least: {kind", "least: is a word of the formula language; write least_size or another name."),
    (
        "question: Is it clean?\n    at: place",
        "question: Is it clean?\n    at: ¦palce",
        'clean at: "palce" is no axis; write place.',
    ),
    (
        "    source: {kind: common practice}\nrules",
        "    importance: ¦severe\n    source: {kind: common practice}\nrules",
        'clean importance: "severe" ...',
    ),
    ("wear when: work == refresh", "wear when: work == ¦refrehs", 'pack wear when: "work == refrehs" ...'),
    (
        "hold points: [dry_fit, first_start]",
        "hold points: [dry_fit, ¦dry_fit]",
        'hold points: "dry_fit" stands twice; write it once.',
    ),
    (
        "- {name: soft, when: material == aluminium, shift: -0.0005 in}",
        "- {name: ¦soft, when: material == aluminium}",
        "fit limits soft: sets no limit and shifts none; write least, aim, most or shift in it.",
    ),
    ("{name: soft, when", "{name: ¦base, when", "fit limits base: stands twice in these limits; write another name."),
    (
        "  share:\n    title: Fit as a share\n    each: place\n    formula: ratio\n    limits: none",
        "  ¦share:\n    title: Fit as a share\n    each: place\n    formula: ratio\n    importance: minor",
        "share: has no limits; write limits: and lines of them, or limits: none.",
    ),
    (
        "  share:\n    title: Fit as a share\n    each: place\n    formula: ratio\n    limits: none",
        "  ¦share:\n    title: Fit as a share\n    each: place\n    formula: ratio\n    limits: {least: 0}",
        "share: has no importance; write critical, major or minor.",
    ),
    (
        "  fit:\n    title: Fit of shaft and hole\n    each: place\n    formula: clearance",
        "  ¦fit:\n    title: Fit of shaft and hole\n    each: place\n    formula: clearance * size",
        "fit: does not say the unit to show its area in; write unit: and its symbol.",
    ),
    ("needs: [clean]\n    because", "needs: [¦fit]\n    because", "fit needs: needs itself."),
    ("  unit: in\n", "  unit: ¦inn\n", 'pack unit: "inn" ...'),
    ("  unit: in\n", "  unit: in\n  sets: {¦materail: iron}\n", 'pack sets: "materail" is no fact; write material.'),
    ("  unit: in\n", "  unit: in\n  groups: [¦Bearings]\n", 'pack groups: "Bearings" is the group of no file.'),
    ("assumed: new}", "assumed: ¦now}", 'work assumed: "now" is none of new, refresh; write new.'),
    (
        "  shaft: {title: Shaft size, at: place, positions: plane",
        "  ¦shaft: {title: Shaft size, at: place, positions: place",
        "shaft: lies twice along place: at it, and in positions on it.",
    ),
    ("  unit: in\n", "  unit: in\n  sets: {material: ¦tin}\n", 'pack sets material: "tin" is none of iron, aluminium.'),
    (
        "coated: {kind: yes/no, assumed: no}",
        "coated: {kind: yes/no, assumed: ¦false}",
        'coated assumed: "false" is neither yes nor no; write no.',
    ),
]


@pytest.mark.second_lane
@pytest.mark.parametrize(("good", "bad", "sentence"), ROWS)
def test_a_fault_has_its_place_and_its_sentence(good: str, bad: str, sentence: str) -> None:
    assert BASE.count(good) == 1
    before, mark, _ = BASE.replace(good, bad).partition("¦")
    assert mark
    line, column = before.count("\n") + 1, len(before) - before.rfind("\n")
    fault = faults_of(BASE.replace(good, bad.replace("¦", "")))[0]
    assert (fault.place.line, fault.place.column, fault.kind) == (line, column, "pack")
    whole = f"base.pack.yaml, line {line}, {sentence}"
    if sentence.endswith("..."):
        assert fault.sentence().startswith(whole.removesuffix("..."))
        assert len(fault.sentence()) > len(whole)
    else:
        assert fault.sentence() == whole


def sentences(text: str) -> list[str]:
    return [fault.sentence() for fault in faults_of(text)]


def test_a_figure_has_a_formula_or_ways() -> None:
    text = BASE.replace("formula: clearance / size}", "formula: clearance / size, ways: {a: size}}")
    said = "base.pack.yaml, line 38, ratio: has a formula and ways; write one of the two."
    assert sentences(text) == [said]


def test_a_rule_and_a_sign_off_cannot_share_a_name() -> None:
    text = BASE.replace("  clean:\n", "  fit:\n")
    assert sentences(text) == ["base.pack.yaml, line 45, fit: is among the sign-offs already; write another name."]


def test_a_rule_needs_worked_examples() -> None:
    start, end = BASE.index("    worked:\n"), BASE.index("  share:\n")
    said = "base.pack.yaml, line 45, fit: has no worked examples; write worked: and at least one."
    assert sentences(BASE[:start] + BASE[end:]) == [said]


def test_one_bad_name_is_said_once_and_not_again_by_all_that_use_it() -> None:
    (only,) = sentences(BASE.replace("{measured: mean(shaft),", "{measured: mean(shaff),"))
    assert only.startswith('base.pack.yaml, line 37, size ways measured formula: "mean(shaff)" ')


def test_figures_that_state_their_units_may_stand_on_each_other_in_any_order_but_not_in_a_loop() -> None:
    first = "  a: {formula: b, unit: in}\n  b: {formula: stand, unit: in}\n"
    assert sentences(BASE.replace("sign-offs:\n", first + "sign-offs:\n")) == []
    loop = "  a: {formula: b, unit: in}\n  b: {formula: a, unit: in}\n"
    (said,) = sentences(BASE.replace("sign-offs:\n", loop + "sign-offs:\n"))
    assert said == "base.pack.yaml, line 39, a: stands on itself: a uses b uses a."


def test_a_fault_in_a_text_over_several_lines_stands_where_the_text_starts() -> None:
    text = BASE.replace("        aim: 0.0010 * size\n", "        aim: >-\n          0.0010 *\n          sizes\n")
    (fault,) = faults_of(text)
    assert fault.place[1:] == (52, 14)


@pytest.mark.second_lane
def test_more_faults_than_anyone_reads_are_cut_short() -> None:
    more = "".join(f"  f{number}: {{formula: nothing{number}}}\n" for number in range(500))
    assert len(faults_of(BASE.replace("sign-offs:\n", more + "sign-offs:\n"))) == 100


def test_many_loops_are_not_looked_for_one_by_one() -> None:
    more = "".join(f"  f{n}: {{formula: g{n}}}\n  g{n}: {{formula: f{n}}}\n" for n in range(300))
    faults = faults_of(BASE.replace("sign-offs:\n", more + "sign-offs:\n"))
    assert 10 <= len(faults) <= 100
    assert faults[0].said == "stands on itself: f0 uses g0 uses f0"


def test_more_axes_than_any_real_thing_has_are_refused() -> None:
    more = "".join(f"  a{number}: {{names: [x]}}\n" for number in range(101))
    said = [fault.said for fault in faults_of(BASE.replace("facts:\n", more + "facts:\n"))]
    assert "these are more than 100 axes" in said


@pytest.mark.parametrize(("written", "days"), [("", None), ("    days between checks: 1\n", 1)])
def test_days_between_checks_are_a_whole_number_of_them(written: str, days: int | None) -> None:
    made = resolved(BASE.replace("    mpe: 0.0001 in\n", f"    mpe: 0.0001 in\n{written}"))
    assert made.gauge_classes["bore gauge"].days_between_checks == days
