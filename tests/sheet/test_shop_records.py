"""What a sheet records beside figures: the maker's limits, work done, who signed, what was permitted."""

from __future__ import annotations

from datetime import date

from tests.sheet.small_shop import FILE, sentences, sheet_of


def test_the_makers_own_limits() -> None:
    sheet = sheet_of(
        "limits:\n"
        "  main_oil_clearance:\n"
        "    - {least: 0.0015 in, most: 0.0025 in, source: the card in the box}\n"
        "    - {when: main == 3, most: 0.0030 in, name: thrust}\n"
        "  ring_end_gap: {least: 0.018 mm (0.0007 in), aim: 0.02 in}\n"
    )
    first, second = sheet.limits["main_oil_clearance"]
    assert (first.name, first.pack, set(first.sets)) == ("line 1", FILE, {"least", "most"})
    assert first.source is not None
    assert (first.source.kind, first.source.note) == ("maker", "the card in the box")
    assert (second.name, second.place.line) == ("thrust", 6)
    assert second.when is not None
    assert [line.name for line in sheet.limits["ring_end_gap"]] == ["base"]
    assert sheet_of("limits: {ring_end_gap: none}\n").limits == {"ring_end_gap": ()}


def test_limits_that_cannot_be() -> None:
    """What is wrong with a formula is said by the formula room; here it counts that it is said, and where."""
    told = sentences(
        "limits:\n"
        "  main_oil_clearence: {most: 0.0025 in}\n"
        "  main_oil_clearance: {most: 0.0025 + 0.01 mm}\n"
        '  ring_end_gap: [{least: "0.0045 * bore", most: 0.1 cc}, {note: nothing}]\n'
    )
    assert [sentence.split(": ")[0] for sentence in told] == [
        "line 4, limits",
        "line 5, main_oil_clearance limits base most",
        "line 6, ring_end_gap limits line 1 least",
        "line 6, ring_end_gap limits line 1 most",
        "line 6, ring_end_gap limits line 2",
    ]
    assert told[0] == 'line 4, limits: "main_oil_clearence" is no rule; write main_oil_clearance.'
    assert '"0.0025 + 0.01 mm"' in told[1]
    assert "bore" in told[2]
    assert "volume" in told[3]


def test_a_bare_figure_is_no_limit_and_what_a_limit_has_is_told() -> None:
    assert sentences("limits: {main_oil_clearance: 0.0025 in}\n") == [
        'line 3, main_oil_clearance: has "0.0025 in" where a list belongs; write entries with keys such as name, when,'
        " least, aim."
    ]


def test_work_done() -> None:
    (work, undated) = sheet_of(
        "facts: {mains: 4, cylinders: 2}\n"
        "work done:\n"
        "  - {operation: align_hone, on: 2026-09-20, at: {main: [1, 3-4]}, restated: [stroke]}\n"
        "  - {operation: grind}\n"
    ).work_done
    assert (work.operation, work.on, work.at) == ("align_hone", date(2026, 9, 20), {"main": ("1", "3", "4")})
    assert (work.restated, work.place.line) == (("stroke",), 5)
    assert (undated.on, undated.at) == (None, {})


def test_work_that_cannot_be() -> None:
    assert sentences(
        "facts: {mains: 3}\n"
        "work done:\n"
        "  - {operation: alignhone, on: yesterday, at: {mian: 1}}\n"
        "  - {operation: grind, on: 2026-02-29, at: {main: [1, 4]}, restated: [stoke]}\n"
        "  - {on: 2026-02-20}\n"
    ) == ['line 7, work done 3: has no "operation" (the operation, as the packs name it).']
    assert sentences(
        "facts: {mains: 3}\n"
        "work done:\n"
        "  - {operation: alignhone, on: yesterday, at: {mian: 1}}\n"
        "  - {operation: grind, on: 2026-02-29, at: {main: [1, 4]}, restated: [stoke]}\n"
    ) == [
        'line 5, work done: "alignhone" is no operation; write align_hone.',
        'line 5, work done alignhone: "yesterday" is no date as sheets write them; write it year first: 2026-10-02.',
        'line 5, work done alignhone: "mian" is no axis; write main.',
        'line 6, work done grind: there is no day "2026-02-29".',
        'line 6, work done grind: "4" is no main; there are 1 to 3, since mains is 3; write '
        "mains: 4 under facts, if there are so many.",
        'line 6, work done grind: "stoke" is no fact; write stroke.',
    ]


def test_sign_offs() -> None:
    signed = sheet_of(
        "facts: {cylinders: 4, banks: {left: [1, 3], right: [2, 4]}}\n"
        "signed:\n"
        "  rotates_freely: {by: initials, on: 2026-10-05, answer: no, after: grind}\n"
        "  rings_squared: [{at: {cylinder: [1, 2]}, by: ab, on: 2026-10-02}, {at: {bank: right}, by: cd}]\n"
    ).signed
    (turned,) = signed["rotates_freely"]
    assert (turned.answer, turned.by, turned.on, turned.at, turned.after) == (
        False, "initials", date(2026, 10, 5), {}, ("grind",),
    )  # fmt: skip
    first, second = signed["rings_squared"]
    assert (first.answer, first.at) == (True, {"cylinder": ("1", "2")})
    assert (second.at, second.on) == ({"bank": ("right",)}, None)


def test_sign_offs_that_cannot_be() -> None:
    assert sentences(
        "facts: {mains: 3}\n"
        "signed:\n"
        "  rotats_freely: {by: ab}\n"
        "  rotates_freely: {by: ab, at: {main: 1}, after: hone}\n"
    ) == [
        'line 5, signed: "rotats_freely" is no sign-off; write rotates_freely.',
        'line 6, signed rotates_freely: "main" is an axis that this does not lie on.',
        'line 6, signed rotates_freely: "hone" is no operation; there are align_hone and grind.',
    ]
    assert sentences("signed: {rotates_freely: {on: 2026-10-05}}\n") == [
        'line 3, rotates_freely: has no "by" (who answers for it).'
    ]


def test_concessions() -> None:
    (given,) = sheet_of(
        "facts: {mains: 3}\n"
        "concessions: [{rule: main_oil_clearance, at: {main: 3}, reason: kept loose, by: ab, on: 2026-10-06}]\n"
    ).concessions
    assert (given.rule, given.at, given.reason, given.by, given.on) == (
        "main_oil_clearance", {"main": ("3",)}, "kept loose", "ab", date(2026, 10, 6),
    )  # fmt: skip
    assert sentences(
        "facts: {mains: 3}\n"
        "concessions:\n"
        "  - {rule: main_clearance, reason: r, by: ab}\n"
        "  - {rule: main_oil_clearance, at: {main: 4, cylinder: 1, pair: 3}, reason: r, by: ab, on: 1.2.2026}\n"
    ) == [
        'line 5, concessions: "main_clearance" is no rule; write main_oil_clearance.',
        'line 6, concessions main_oil_clearance: "4" is no main; there are 1 to 3, since mains is 3; write '
        "mains: 4 under facts, if there are so many.",
        'line 6, concessions main_oil_clearance: "cylinder" is an axis that this does not lie on.',
        'line 6, concessions main_oil_clearance: "1.2.2026" is no date as sheets write them;'
        " write it year first: 2026-10-02.",
    ]
