"""Reasons in words: one sentence for each code."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from specrules.output.words import listed, lower, name, sentence, with_article
from specrules.sheet import Suspect
from specrules.vocabulary import PAIR, Reason, Why, WrittenAs


def said(reason: Reason) -> str:
    """A reason as a text that goes on in the middle of a sentence; what is said of a whole sheet is sentences."""
    return _SAID[reason.code](reason)


def overtaken(reason: Reason) -> str:
    """What work has overtaken: a reading, or a fact as it is stated."""
    return f"{name(reason.names[0])}{' as stated' if reason.code is Why.STALE_FACT else ''}"


def slip_name(reason: Reason) -> str:
    """What a slip is called: a step that a gauge is misread by has a name of its own."""
    return reason.names[0] if reason.code is Why.GAUGE_STEP else reason.code


def figure_in_doubt(suspect: Suspect) -> str:
    """A figure that looks like a slip, as a clause."""
    return f"{suspect.name} {suspect.text} {said(suspect.reason)}"


def _trouble(reason: Reason) -> str:
    code, *names = reason.names
    return said(Reason(Why(code), tuple(names), (), reason.text))


def _outside(reason: Reason) -> str:
    return f"{reason.names[0]} has no value there{': ' if reason.text else ''}{reason.text}"


def _no_row(reason: Reason) -> str:
    table, key = map(name, reason.names)
    return f"the table {table} has no figure for {key} {reason.text}".rstrip()


def _read(reason: Reason) -> str:
    return f"{name(reason.names[0])} {' '.join(reason.labels)}".rstrip()


def _no_line(reason: Reason) -> str:
    here = [f"{name(what)} {name(label)}" for what, label in zip(reason.names, reason.labels, strict=True)]
    return f"no limit for {listed(here)}" if here else "no limit line counts here"


def _for_others(reason: Reason) -> str:
    here = [f"{name(what)}: {name(label)}" for what, label in zip(reason.names[1:], reason.labels, strict=True)]
    return f"{lower(reason.text)} has no figure for {listed(here)}; state the maker's"


def _for_other_sizes(reason: Reason) -> str:
    size, least, most, unit = reason.labels
    what = name(reason.names[1])
    here = f"{with_article(what)} of {size} {unit}" if unit else f"{what}: {size}"
    theirs = f"{least} to {most} {unit}".rstrip()
    return f"{lower(reason.text)} has no figure for {here}, only for {theirs}; state the maker's"


def _disagreeing_ways(reason: Reason) -> str:
    return (
        f"disagrees with the way '{reason.names[0]}' by more than both together can be wrong: one of the two is wrong, "
        f"and {reason.labels[0]} way is the less to be trusted, for its U is the larger"
    )


def _disagreeing_packs(reason: Reason) -> str:
    each = "; ".join(f"by {pack}: {verdict}" for pack, verdict in zip(reason.names, reason.labels, strict=True))
    return f"two packs of which neither builds on the other disagree: {each}"


def _negative(reason: Reason) -> str:
    if len(reason.names) > 1:
        return f"gives a negative value where none can be; {_undone(reason)}"
    if reason.names:
        return "gives a negative value where none can be: one of the readings is wrong, or a part is"
    return "is negative, which this never is; if it was read from some zero, add what that zero measured"


def _impossible(reason: Reason) -> str:
    rule, *slip = reason.names
    if slip:
        return f"makes the {name(rule)} impossible; {_undone(reason)}"
    return (
        f"makes the {name(rule)} impossible, many times farther beyond its limits than they are wide: one of the "
        "readings is wrong, or the parts do not belong together"
    )


def _undone(reason: Reason) -> str:
    """What a slip in what does not fit would be with that undone."""
    slip, (would_be, *within) = reason.names[1], reason.labels
    undone = {
        PAIR: f"with the two exchanged it would be {would_be}",
        Why.DIGITS_EXCHANGED: f"with two digits exchanged it would be {would_be}",
    }.get(slip, f"with one {slip} undone it would be {would_be}")
    return ", and ".join((undone, *within))


def _confirmed(reason: Reason) -> str:
    by, figure, *where = reason.labels
    return f"Confirmed by {by}: {' '.join((name(reason.names[0]), *where))} = {figure}."


def _gauge_step(reason: Reason) -> str:
    off, unit, side, would_be = reason.labels
    return f"stands {off} {unit} {side} its neighbours, one {reason.names[0]}; with that undone it would be {would_be}"


_WRITTEN_AS = {
    WrittenAs.MILLIMETRES: ", as millimetres among inches are",
    WrittenAs.INCHES: ", as inches among millimetres are",
    WrittenAs.THOU: ", as thou or um without their unit are",
    WrittenAs.SIZE: ", as a size is beside which thou or um was put by mistake",
    WrittenAs.OTHER_SYSTEM: ", as one in the wrong system of units is",
}


def _factor(reason: Reason) -> str:
    against, *written_as = reason.names
    times, size, would_be = reason.labels
    whose = "its" if against == "neighbours" else "the"
    as_what = "".join(_WRITTEN_AS[WrittenAs(each)] for each in written_as)
    if against == "places":
        return f"is written finer than its gauge shows{as_what}; with that undone it would be {would_be}"
    return f"is {times} times too {size} for {whose} {against}{as_what}; with that undone it would be {would_be}"


def _exchanged(reason: Reason) -> str:
    a, b, would_be = reason.labels
    return f"is far from its neighbours; with {a} and {b} exchanged it would be {would_be}"


def _grown(reason: Reason) -> str:
    side = "larger" if reason.code is Why.LARGER_THAN_NEW else "smaller"
    return f"is {side} than it was new, {reason.labels[0]} by {reason.names[0]}, and wear does not make it so"


def _unusual(reason: Reason) -> str:
    least, most, unit, *ways = reason.labels
    undone = f"; with a slip undone it would be {' or '.join(ways)}" if ways else ""
    return f"is outside the usual sizes, {least}..{most} {unit}".rstrip() + undone


def _zero_off(reason: Reason) -> str:
    return (
        f"{reason.names[0]} reads its standard wrong by more than its permissible error: have it set right; "
        "until then what it read is corrected, and no surer for that."
    )


def _check_overdue(reason: Reason) -> str:
    day, days = reason.labels
    return f"{reason.names[0]} was last checked on {day}, more than {days} days before this build."


def _past_due(reason: Reason) -> str:
    due, used = reason.labels
    return (
        f"{reason.names[0]} was due to be checked by {due} and used on {used}: have it checked, and take again what it "
        "read if it is off."
    )


def _no_blade(reason: Reason) -> str:
    return (
        f"{_titled(reason)} {reason.labels[0]} is no blade of {_gauge_of(reason)}: taken to lie between the blades "
        "beside it, or past the last. Of stacked blades write two stacks: the one that goes, two dots, the one that "
        "does not."
    )


def _finer(reason: Reason) -> str:
    figure, step = reason.labels
    return (
        f"{_titled(reason)} {figure} is finer than {_gauge_of(reason)} reads, which goes by {step}: write what it "
        "shows, or name the gauge that read it."
    )


def _titled(reason: Reason) -> str:
    """What is measured, at the start of a sentence."""
    return sentence(name(reason.names[0])).rstrip(".")


def _gauge_of(reason: Reason) -> str:
    _, gauge, *assumed = reason.names
    return f"the assumed {gauge}" if assumed else gauge


def _alike(reason: Reason) -> str:
    of_each: dict[str, list[str]] = {}
    for measurand, figure in zip(reason.names, reason.labels, strict=True):
        of_each.setdefault(measurand, []).append(figure)
    told = "; ".join(f"{name(measurand)} {', '.join(figures)}" for measurand, figures in of_each.items())
    return f"The same to the last place at every station, or one reading copied: {told}."


def _unit_taken(reason: Reason) -> str:
    now_in, was_in = reason.labels
    they_are = "it is" if len(reason.names) == 1 else "they are"
    return (
        f"No unit stands with {listed(map(name, reason.names))}: {they_are} taken in {now_in}, by the unit of this"
        f" sheet, and not in {was_in}. If that is not meant, write the unit."
    )


def _temperature_assumed(reason: Reason) -> str:
    at, either_way, unit = reason.labels
    return (
        f"No temperature is stated: parts and gauges are taken to be at {at} ±{either_way} {unit}, which counts where"
        " they expand differently. If you know it, write part temperature: 20 C ±1 K."
    )


def _of_what(reason: Reason) -> str:
    """What a source of error is named for, with its place."""
    return " ".join((name(reason.names[0]), *reason.labels))


_SAID: Mapping[Why, Callable[[Reason], str]] = {
    Why.STATE_FACT: lambda reason: f"state {reason.names[0]}",
    Why.READ: _read,
    Why.READ_EVERY_POSITION: lambda _: "every position, for one figure hides the scatter",
    Why.ROW_NOT_SURE: lambda reason: (
        f"what is looked up in the table {listed(map(name, reason.names))} surely enough to tell its row"
    ),
    Why.READ_FOR_ONE_WAY: lambda _: "readings enough for one way",
    Why.SIZE_ACROSS_EDGE: lambda reason: f"{name(reason.names[0])} more closely: it decides whether there is a figure",
    Why.ASK_THE_MAKER: lambda reason: reason.text or "the maker's limits, in the sheet",
    Why.LIMITS_CROSS: lambda _: "the packs' limits cross at this size and leave none: the maker's limits, in the sheet",
    Why.NO_LIMIT_LINE: _no_line,
    Why.HOLDS_FOR_OTHERS: _for_others,
    Why.HOLDS_FOR_OTHER_SIZES: _for_other_sizes,
    Why.LIMIT_WITHOUT_VALUE: lambda reason: f"limits that can be worked out: {_trouble(reason)}",
    Why.IMPOSSIBLE_FIT: _impossible,
    Why.CONFIRMED: _confirmed,
    Why.PACK_NOTE: lambda reason: reason.text,
    Why.MARGIN_TAKES_ALL: lambda reason: (
        f"the margin leaves nothing, {listed(reason.names)} draws the limits in so far that they meet: the maker's "
        "limits, in the sheet, or a smaller margin"
    ),
    Why.DRAWN_IN: lambda reason: f"{reason.names[0]} draws the limits in by {reason.text}",
    Why.SIDE_DROPPED: lambda reason: f"the sheet's own limits give no {reason.names[0]}, so there is none",
    Why.AIM_OUTSIDE: lambda _: "the aim lies outside the limits and is left out",
    Why.NO_LIMITS_WANTED: lambda _: "the sheet says that there are no limits",
    Why.WITHOUT_VALUE: lambda reason: f"cannot be worked out: {_trouble(reason)}",
    Why.WAYS_DISAGREE: _disagreeing_ways,
    Why.PACKS_DISAGREE: _disagreeing_packs,
    Why.GAUGE_BARRED: lambda reason: f"a {reason.names[0]} must not decide this",
    Why.SAME_IN_ALL_WORLDS: lambda reason: (
        f"{reason.labels[0] if reason.labels else 'the same'} whatever {' and '.join(reason.names)} may be"
    ),
    Why.WEAR_INSIDE_NEW: lambda reason: (
        f"the wear {reason.names[0]} lies inside that of new work: one of them is wrong"
    ),
    Why.WORN_ONLY: lambda _: "inside the wear limit, which counts for reused parts alone",
    Why.ASSUMED: lambda reason: f"{reason.names[0]}: {reason.text}",
    Why.STALE_READING: lambda reason: f"{reason.names[0]}: {reason.names[1]}",
    Why.STALE_FACT: lambda reason: f"{reason.names[0]} as stated: {reason.names[1]}",
    Why.IMPOSSIBLE_NEGATIVE: _negative,
    Why.GAUGE_STEP: _gauge_step,
    Why.DECIMAL_SLIP: _factor,
    Why.UNIT_SLIP: _factor,
    Why.DIGITS_EXCHANGED: _exchanged,
    Why.LARGER_THAN_NEW: _grown,
    Why.SMALLER_THAN_NEW: _grown,
    Why.UNUSUAL: _unusual,
    Why.TOO_FEW_PLACES: lambda _: "is written to fewer places than the tolerance needs",
    Why.ZERO_TOO_FAR_OFF: _zero_off,
    Why.CHECK_TOO_LONG_AGO: _check_overdue,
    Why.TEMPERATURE_ASSUMED: _temperature_assumed,
    Why.PAST_DUE: _past_due,
    Why.NO_BLADE: _no_blade,
    Why.FINER_THAN_READ: _finer,
    Why.ALL_ALIKE: _alike,
    Why.UNIT_TAKEN: _unit_taken,
    Why.READING: lambda reason: f"reading {_of_what(reason)}",
    Why.CALIBRATION: lambda reason: f"calibration of {', '.join(reason.names + reason.labels)}",
    Why.SCALE: lambda reason: f"scale of {', '.join(reason.names + reason.labels)}",
    Why.SETTING: lambda reason: f"setting {reason.names[0]} with {reason.names[1]}",
    Why.SELECTION: lambda _: "picking the extreme of near-equal readings",
    Why.TEMPERATURE: lambda reason: f"temperature of the {', '.join(reason.names + reason.labels)}",
    Why.STATED: lambda reason: f"{_of_what(reason)} as stated",
    Why.ASSUMPTION: lambda reason: f"{_of_what(reason)} as assumed",
    Why.READ_MORE_OFTEN: lambda reason: (
        f"read {listed(map(name, reason.names))} {reason.labels[0]} times at each place"
    ),
    Why.READ_WITH: lambda reason: f"read {name(reason.names[0])} with {with_article(name(reason.names[1]))}",
    Why.READ_BETWEEN: lambda reason: (
        f"read {name(reason.names[0])} with {with_article(name(reason.names[1]))}, should it lie between"
        f" {reason.labels[0]} and {' '.join(reason.labels[1:])}"
    ),
    Why.SET_WITH: lambda reason: (
        f"set the gauge for {name(reason.names[0])} with {with_article(name(reason.names[1]))}"
    ),
    Why.DIVIDES_BY_ZERO: lambda _: "it divides by something that cannot be told from zero",
    Why.ROOT_OF_NEGATIVE: lambda _: "it takes the root of a negative value",
    Why.ROOT_OF_ZERO: lambda _: "it takes the root of zero, which has no slope",
    Why.TOO_LARGE: lambda _: "it is too large a number",
    Why.OUTSIDE_DOMAIN: _outside,
    Why.NO_ROW: _no_row,
    Why.NOT_FINITE: lambda reason: f"{reason.names[0]} has no finite value there",
}
