"""Worked examples of a rule, whole and compact, to what must come out at each station or of each value."""

from __future__ import annotations

from specrules.document import Text, shown
from specrules.document.text import fields_at
from specrules.pack.compiling import Compiler
from specrules.pack.rule_entries import ExampleEntry
from specrules.pack.specification import Expected, Worked
from specrules.validation.texts import NOTHING
from specrules.vocabulary import VERDICTS, Code, Verdict

BY = " by "
TO_JUDGE = "to be judged"
"""What stands in the place of a verdict that the author still has to write."""


def worked_example(
    entry: ExampleEntry, words: tuple[str, str], each: tuple[str, ...], rule: Text, pack: str, compiler: Compiler
) -> Worked | None:
    """The example; None where its keys do not go together. `words` are of the rule's sides, `each` its axes."""
    if bool(entry.expect) == bool(entry.at) or (entry.expect and entry.given is None):
        said = "has neither given and expect nor at" if not entry.at else "has both expect and at"
        write = "given: with expect:, or at: with values such as {0.0025: in spec}"
        compiler.fault(entry.place, f"{rule} worked", Code.KEYS_DISAGREE, said, write)
        return None
    if entry.expect and entry.station and entry.station.keys() <= {*each}:
        said = "belongs to at, and this example has expect, which says its stations itself"
        compiler.fault(next(iter(entry.station)), f"{rule} worked station", Code.KEYS_DISAGREE, said, "at: in expect")
    compiler.known(entry.station, each, "axis of this rule", f"{rule} worked station")
    station = _plain(entry.station)
    if entry.at:
        found = [_of_value(value, said, station, words, rule, compiler) for value, said in entry.at.items()]
        expected = tuple([one for one in found if one is not None])
    else:
        expected = tuple(
            Expected(_plain(one.at), one.value, one.verdict, one.side, one.beyond, one.place) for one in entry.expect
        )
    given = entry.given if entry.given is not None else fields_at(entry.place)
    return Worked(given, expected, tuple(entry.unsigned), entry.note, pack, entry.place, bool(entry.at))


def _of_value(
    value: Text, said: Text, station: dict[str, str], words: tuple[str, str], rule: Text, compiler: Compiler
) -> Expected | None:
    """What is expected of one value: a verdict, or how far out of spec and on which side."""
    if said in (*VERDICTS, TO_JUDGE):
        return Expected(station, value, said, NOTHING, NOTHING, value.place)
    side, by, beyond = said.partition(BY)
    if side not in words or (by and not beyond.strip()):
        meant = compiler.nearest(side, (*words, *VERDICTS)) or f"in spec, {words[0]}{BY}0.0001 in, {words[1]}"
        compiler.fault(said, f"{rule} worked at {value}", Code.NOT_A_CHOICE, f"{shown(said)} is no verdict here", meant)
        return None
    return Expected(station, value, _OUT, Text(side, said.place), Text(beyond, said.place), value.place)


_OUT = Text(Verdict.OUT)


def _plain(station: dict[Text, Text]) -> dict[str, str]:
    return {str(axis): str(label) for axis, label in station.items()}
