"""Reasons in words: one sentence for each code."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from specrules.output.words import listed, name
from specrules.vocabulary import Reason, Why


def said(reason: Reason) -> str:
    """A reason as a text that goes on in the middle of a sentence."""
    return _SAID[reason.code](reason)


def overtaken(reason: Reason) -> str:
    """What work has overtaken: a reading, or a fact as it is stated."""
    return f"{name(reason.names[0])}{' as stated' if reason.code is Why.STALE_FACT else ''}"


def _trouble(reason: Reason) -> str:
    code, *names = reason.names
    return said(Reason(Why(code), tuple(names), (), reason.text))


def _outside(reason: Reason) -> str:
    return f"{reason.names[0]} has no value there{': ' if reason.text else ''}{reason.text}"


def _read(reason: Reason) -> str:
    return f"{name(reason.names[0])} {' '.join(reason.labels)}".rstrip()


def _no_line(reason: Reason) -> str:
    here = [f"{name(what)} {name(label)}" for what, label in zip(reason.names, reason.labels, strict=True)]
    return f"no limit for {listed(here)}" if here else "no limit line counts here"


def _disagreeing_ways(reason: Reason) -> str:
    return (
        f"disagrees with the way '{reason.names[0]}' by more than both together can be wrong: one of the two is wrong, "
        f"and {reason.labels[0]} way is the less to be trusted, for its U is the larger"
    )


def _disagreeing_packs(reason: Reason) -> str:
    each = "; ".join(f"by {pack}: {verdict}" for pack, verdict in zip(reason.names, reason.labels, strict=True))
    return f"two packs of which neither builds on the other disagree: {each}"


_SAID: Mapping[Why, Callable[[Reason], str]] = {
    Why.STATE_FACT: lambda reason: f"state {reason.names[0]}",
    Why.READ: _read,
    Why.READ_EVERY_POSITION: lambda _: "every position, for one figure hides the scatter",
    Why.READ_FOR_ONE_WAY: lambda _: "readings enough for one way",
    Why.ASK_THE_MAKER: lambda reason: reason.text or "the maker's limits, in the sheet",
    Why.LIMITS_CROSS: lambda _: "general practice has no limit for this size: the maker's limits, in the sheet",
    Why.NO_LIMIT_LINE: _no_line,
    Why.LIMIT_WITHOUT_VALUE: lambda reason: f"limits that can be worked out: {_trouble(reason)}",
    Why.PACK_NOTE: lambda reason: reason.text,
    Why.SIDE_DROPPED: lambda reason: f"the sheet's own limits give no {reason.names[0]}, so there is none",
    Why.AIM_OUTSIDE: lambda _: "the aim lies outside the limits and is left out",
    Why.NO_LIMITS_WANTED: lambda _: "the sheet says that there are no limits",
    Why.WITHOUT_VALUE: lambda reason: f"cannot be worked out: {_trouble(reason)}",
    Why.WAYS_DISAGREE: _disagreeing_ways,
    Why.PACKS_DISAGREE: _disagreeing_packs,
    Why.GAUGE_BARRED: lambda reason: f"a {reason.names[0]} must not decide this",
    Why.SAME_IN_ALL_WORLDS: lambda reason: f"the same whatever {' and '.join(reason.names)} may be",
    Why.WORN_ONLY: lambda _: "inside the wear limit, which counts for a refresh and not for new work",
    Why.ASSUMED: lambda reason: f"{reason.names[0]}: {reason.text}",
    Why.STALE_READING: lambda reason: f"{reason.names[0]}: {reason.names[1]}",
    Why.STALE_FACT: lambda reason: f"{reason.names[0]} as stated: {reason.names[1]}",
    Why.DIVIDES_BY_ZERO: lambda _: "it divides by something that cannot be told from zero",
    Why.ROOT_OF_NEGATIVE: lambda _: "it takes the root of a negative value",
    Why.ROOT_OF_ZERO: lambda _: "it takes the root of zero, which has no slope",
    Why.TOO_LARGE: lambda _: "it is too large a number",
    Why.OUTSIDE_DOMAIN: _outside,
    Why.NOT_FINITE: lambda reason: f"{reason.names[0]} has no finite value there",
}
