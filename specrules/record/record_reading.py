"""Reading a record back: version 4 put together, older ones as a record of it that lacks what they did not know."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from functools import partial
from typing import Any, NoReturn

from pydantic import ValidationError

from specrules.record.inspection_record import HEADER, Record
from specrules.record.record_unpacking import pointer, unpacked
from specrules.vocabulary import BEYOND, INSIDE, SIDES, Relaxed, Verdict

VERSION_1, VERSION_2, VERSION_3 = (f"inspection-record/{version}" for version in (1, 2, 3))
MOST = 20
"""More faults than these are counted, not told."""
ANEW = "no record is written by hand: write it anew with `specrules inspect SHEET --form json`"


def read_record(source: bytes | str) -> Record:
    """The record that a JSON text holds, of version 1, 2, 3 or 4.

    Raises ValueError where it is none: each fault with its line and column, or its place as a JSON pointer (RFC 6901),
    and what to do. What is wrong in a finding or reading of version 4 is placed by its number among all of them.
    """
    try:
        return _record(source)
    except RecursionError:
        raise ValueError(f"its mappings and lists lie deeper in each other than any record's; {ANEW}") from None


def records_in(source: bytes) -> tuple[Record, ...]:
    """The records of a file, which has one, or one a line. Raises ValueError as `read_record` does, with the line."""
    lines = [(number, text) for number, text in enumerate(source.splitlines(), 1) if text.strip()]
    if len(lines) < 2 or not all(text.startswith(b'{"specrules":') for _, text in lines):
        return (read_record(source),)
    made = []
    for number, text in lines:
        try:
            made.append(read_record(text))
        except ValueError as wrong:
            raise ValueError("\n".join(f"line {number}: {each}" for each in str(wrong).splitlines())) from None
    return tuple(made)


def _record(source: bytes | str) -> Record:
    given = _tree(source)
    header = given.get("specrules") if isinstance(given, dict) else None
    tree = given
    if header in (VERSION_1, VERSION_2):
        tree = _of_older(given)
    elif header == VERSION_3:
        tree = {**given, "specrules": HEADER}
    elif header == HEADER:
        tree = given = _put_together(given)
    else:
        raise ValueError(
            f"/specrules: this is no {VERSION_1}, {VERSION_2}, {VERSION_3} or {HEADER}; {_unknown(header)}"
        )
    try:
        return Record.model_validate_json(json.dumps(tree), strict=True, by_alias=True, by_name=False)
    except ValidationError as error:
        raise ValueError(_told(error, given)) from None


def _put_together(tree: dict[str, Any]) -> dict[str, Any]:
    try:
        return unpacked(tree)
    except ValueError as wrong:
        raise ValueError(f"{wrong}\n{ANEW}") from None


def _tree(source: bytes | str) -> Any:
    """The JSON value of a text, as RFC 8259 has it: UTF-8, no NaN, and no key twice."""

    def unique(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        made = dict(pairs)
        if len(made) < len(pairs):
            keys = [key for key, _ in pairs]
            twice = next(key for key in keys if keys.count(key) > 1)
            raise ValueError(f"the key {json.dumps(twice)} stands twice in one mapping")
        return made

    def refuse(constant: str) -> NoReturn:
        raise ValueError(f"{constant} is no number of JSON")

    try:
        text = source.decode("utf-8-sig") if isinstance(source, bytes) else source
        return json.loads(text, object_pairs_hook=unique, parse_constant=refuse)
    except json.JSONDecodeError as error:
        raise ValueError(f"line {error.lineno}, column {error.colno}: no JSON ({error.msg.lower()}); {ANEW}") from None
    except UnicodeDecodeError as error:
        raise ValueError(f"byte {error.start + 1}: no UTF-8; {ANEW}") from None
    except ValueError as error:
        raise ValueError(f"{error}; {ANEW}") from None


def _unknown(header: object) -> str:
    newer = isinstance(header, str) and header.startswith("inspection-record/")
    return "a newer specrules may read it" if newer else "give a file that `specrules inspect --form json` wrote"


def _of_older(tree: dict[str, Any]) -> dict[str, Any]:
    """The same in version 4. What is not as its version has it is left as it is, for the model to refuse.

    Its ledger is what was loosened, its evidence what its findings show.
    """
    made = _changed(
        tree,
        counts=_counts,
        findings=partial(_each, _finding),
        suspects=partial(_each, _suspect),
        remarks=_reasons,
        faults=partial(_each, _without_code),
    )
    if "loosened" in made:
        made["ledger"] = _each(_relaxation, made.pop("loosened"))
    new = {"specrules": HEADER, "evidence": _evidence(tree.get("findings"))}
    return {"whole": True, "seal": None, "at least": None, "waiting": None, "figures hold by": None, **made, **new}


def _relaxation(loosened: Any) -> Any:
    if not isinstance(loosened, dict):
        return loosened
    made = dict(loosened)
    rule, side, pack, reason = (made.pop(key, None) for key in ("rule", "side", "pack", "reason"))
    said = f"{side} of {rule} widened by {pack}{f': {reason}' if reason else ''}"
    new = {
        "code": Relaxed.LIMIT_WIDENED,
        "section": "rules",
        "name": rule,
        "part": side,
        "pack": pack,
        "reason": reason,
    }
    unknown = dict.fromkeys(("was", "now", "below", "file", "line"))
    return {**unknown, **made, **new, "said": said}


def _evidence(findings: Any) -> Any:
    """What is known of the evidence without the readings themselves."""
    verdicts = [(each.get("rule"), each.get("verdict")) for each in findings or () if isinstance(each, dict)]
    decided = {*INSIDE, *BEYOND}
    judged = {str(rule) for rule, verdict in verdicts if verdict in decided}
    applies = {str(rule) for rule, verdict in verdicts if verdict != Verdict.NOT_APPLICABLE}
    return {"judged": len(judged), "apply": len(applies), "readings": None, "entered": None}


def _changed(mapping: Any, **changes: Callable[[Any], Any]) -> Any:
    """A mapping with some of its values changed."""
    if not isinstance(mapping, dict):
        return mapping
    return {key: changes[key](value) if key in changes else value for key, value in mapping.items()}


def _each(change: Callable[[Any], Any], items: Any) -> Any:
    return list(map(change, items)) if isinstance(items, list) else items


def _counts(counts: Any) -> Any:
    later = (Verdict.WORN, Verdict.NO_FIGURE)
    return {**dict.fromkeys([verdict.value for verdict in later], 0), **counts} if isinstance(counts, dict) else counts


def _finding(finding: Any) -> Any:
    cause = partial(_changed, cause=_words_alone)
    if isinstance(finding, dict):
        rest = {key: value for key, value in finding.items() if key != "gauge cannot decide"}
        finding = {"alternatives": None, **rest}
    budget = partial(_each, cause)
    return _changed(finding, notes=_reasons, limits=_limits, budget=budget, **{"rests on": _rests_on})


def _limits(limits: Any) -> Any:
    """Version 1 has a wear limit that decides in the place of the new one, which it doesn't keep."""
    worn = limits.get("worn") if isinstance(limits, dict) else None
    return {**limits, **{side: None for side in SIDES if side in worn}} if isinstance(worn, list) else limits


def _suspect(suspect: Any) -> Any:
    if not (isinstance(suspect, dict) and "said" in suspect):
        return suspect
    rest = {key: value for key, value in suspect.items() if key != "said"}
    return {**rest, "reason": _words_alone(suspect["said"])}


def _without_code(fault: Any) -> Any:
    return {"code": None, **fault} if isinstance(fault, dict) else fault


def _rests_on(rests_on: Any) -> Any:
    return _changed(rests_on, assumed=_reasons, stale=_reasons, missing=_reasons, suspect=partial(_each, _suspect))


def _reasons(sentences: Any) -> Any:
    return _each(_words_alone, sentences)


def _words_alone(said: Any) -> dict[str, Any]:
    """A reason of which the words are all that is known; one of which more is known as it is."""
    return said if isinstance(said, dict) else {"code": None, "names": [], "labels": [], "text": None, "said": said}


def _told(error: ValidationError, tree: Any) -> str:
    """Every fault with its place, a line each."""
    found = error.errors(include_url=False, include_input=False)
    told = dict.fromkeys(_fault(each["type"], each["loc"], each["msg"], tree) for each in found)
    more = [f"and {len(told) - MOST} more"] if len(told) > MOST else []
    return "\n".join([*list(told)[:MOST], *more, ANEW])


def _fault(kind: str, location: Sequence[int | str], message: str, tree: Any) -> str:
    """One fault; of its location only those steps lead to a place that the tree has, the others are pydantic's own."""
    steps: list[int | str] = []
    node = tree
    for step in location:
        try:
            node = node[step]
        except (LookupError, TypeError):
            break
        steps.append(step)
    if kind == "missing":
        return f'{pointer(steps)}: lacks the key "{location[-1]}"'
    if kind == "extra_forbidden":
        return f"{pointer(steps)}: unknown key"
    said = message.removeprefix("Value error, ")
    return f"{pointer(steps)}: {said[:1].lower()}{said[1:]}"
