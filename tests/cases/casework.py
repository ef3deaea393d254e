"""Runs a check case that is written as data: its packs, its sheets, and what must come out of each of them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from itertools import product
from pathlib import Path
from typing import Any

from ruamel.yaml import YAML

from specrules.inspection import Options, Report, StepOutcome, WholeFinding
from specrules.output.proof import remark_text
from specrules.output.reasons import said, slip_name
from specrules.pack.pack_reading import read_pack
from specrules.proving import prove
from specrules.quantity import Unit
from specrules.sheet import Suspect
from tests.inspecting import Outcome, run, same, shown, whole, words

FOLDER = Path(__file__).parent


def load(path: Path) -> Any:
    """A file of test data; every scalar stays the text it was written as."""
    return YAML(typ="base").load(path)


@cache
def case(name: str) -> Any:
    """The case of this name."""
    return load(FOLDER / f"{name}.yaml")


def sheet_text(name: str, variant: str) -> str:
    """The text of one sheet of a case; one that is `from` another is that text with some of it changed."""
    entry = case(name)["sheets"][variant]
    if "sheet" in entry:
        return str(entry["sheet"])
    text = sheet_text(name, entry["from"])
    for old, new in entry["change"].items():
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in the sheet that is changed"
        text = text.replace(old, new)
    return text


@cache
def outcome(name: str, variant: str) -> Outcome:
    """What comes of one sheet of a case."""
    entry = case(name)["sheets"][variant]
    packs = {**case(name).get("packs", {}), **entry.get("packs", {})}
    return run(sheet_text(name, variant), packs, Options(decision=entry.get("decision", "simple")))


def stations(at: Mapping[str, Any]) -> Iterator[dict[str, str]]:
    """The stations that an expectation speaks of: a list of labels stands for each of them."""
    labels = [label if isinstance(label, list) else [label] for label in at.values()]
    for each in product(*labels):
        yield dict(zip(at, each, strict=True))


def spot(suspect: Suspect) -> str:
    """A suspect in words: what it is, where, which kind of slip."""
    where = " ".join((suspect.name, *suspect.station, *(suspect.position or ())))
    in_its_unit = None if suspect.would_be is None else suspect.unit.from_base(suspect.would_be)
    undone = "" if in_its_unit is None else f", would be {shown(in_its_unit, suspect.unit)}"
    return f"{where}: {slip_name(suspect.reason)}{undone}"


def differences(found: Report, expected: Mapping[str, Any]) -> list[str]:
    """Where an inspection differs from one expectation about findings, in words."""
    told: list[str] = []
    for station in stations(expected.get("at", {})):
        which = [f for f in found.findings if f.rule == expected["rule"] and f.station == station]
        where = " ".join((expected["rule"], *(f"{axis} {label}" for axis, label in station.items())))
        if len(which) != 1:
            told.append(f"{where}: {len(which)} findings")
            continue
        told += [f"{where}: {each}" for each in _of_finding(whole(which[0]), expected)]
    return told


def _of_finding(finding: WholeFinding, expected: Mapping[str, Any]) -> Iterator[str]:
    unit = finding.unit
    texts = {
        "verdict": str(finding.verdict),
        "would be": str(finding.would_be or "none"),
        "side": finding.side,
        "importance": finding.importance,
        "way": finding.way,
        "readings": f"{finding.rests_on.found} of {finding.rests_on.asked}",
        "from one statement": "yes" if finding.rests_on.group_statement else "no",
    }
    figures = {
        "value": finding.value,
        "low": finding.low,
        "high": finding.high,
        "U": finding.U,
        "beyond": finding.beyond,
        "beyond at most": finding.beyond_at_most,
        "least": finding.limits.least,
        "most": finding.limits.most,
        **{f"margin {margin.side}": margin.value for margin in finding.margins},
    }
    lists = {
        "suspects": [spot(suspect) for suspect in finding.rests_on.suspect],
        "unsigned": list(finding.rests_on.unsigned),
        "missing": list(words(finding.rests_on.missing)),
        "settled by": [said(each.how) for each in finding.alternatives if each.decides],
    }
    for key, want in expected.items():
        if key in ("rule", "at"):
            continue
        if key in texts:
            if texts[key] != want:
                yield f"{key} is {texts[key]}, not {want}"
        elif key in figures:
            if not same(figures[key], want, unit):
                yield f"{key} is {shown(figures[key], unit)}, not {want}"
        elif key in lists:
            if lists[key] != want:
                yield f"{key} are {lists[key]}, not {want}"
        elif key == "notes":
            yield from (
                f"no note says {each!r}: {words(finding.notes)}"
                for each in want
                if not _says(words(finding.notes), each)
            )
        elif key == "otherwise":
            if want not in finding.otherwise or (want == "" and finding.otherwise):
                yield f"otherwise is {finding.otherwise!r}, not {want!r}"
        elif key == "steps":
            yield from _of_steps(finding, want)
        elif key == "beside":
            yield from _of_besides(finding, want)
        else:
            raise AssertionError(f"{key!r} is nothing that an expectation may hold")


def _says(texts: Sequence[str], part: str) -> bool:
    return any(part in text for text in texts)


def _of_steps(finding: WholeFinding, wanted: Sequence[Mapping[str, str]]) -> Iterator[str]:
    if len(finding.steps) != len(wanted):
        yield f"{len(finding.steps)} steps, not {len(wanted)}: {[step.do for step in finding.steps]}"
        return
    for step, want in zip(finding.steps, wanted, strict=True):
        yield from (f"step {step.do!r}: {each}" for each in _of_step(step, want, finding.unit))


def _of_step(step: StepOutcome, want: Mapping[str, str], unit: Unit) -> Iterator[str]:
    if want["do"] not in step.do:
        yield f"does not say {want['do']!r}"
    if "verdict" in want and str(step.verdict) != want["verdict"]:
        yield f"brings {step.verdict}, not {want['verdict']}"
    if "side" in want and step.side != want["side"]:
        yield f"brings {step.side}, not {want['side']}"
    for key, actual in (("value", step.value), ("beyond", step.beyond)):
        if key in want and not same(actual, want[key], unit):
            yield f"brings {key} {shown(actual, unit)}, not {want[key]}"


def _of_besides(finding: WholeFinding, wanted: Mapping[str, Mapping[str, str]]) -> Iterator[str]:
    found = {beside.pack: beside for beside in finding.beside}
    for pack, want in wanted.items():
        if pack not in found:
            yield f"nothing stands beside it from {pack}: {list(found)}"
            continue
        beside = found[pack]
        if str(beside.verdict) != want["verdict"] or beside.side != want.get("side", ""):
            yield f"beside it {pack} says {beside.verdict} {beside.side}"
        if "beyond" in want and not same(beside.beyond, want["beyond"], finding.unit):
            yield f"beside it {pack} says beyond by {shown(beside.beyond, finding.unit)}"


def figures_wrong(found: Report, wanted: Sequence[Mapping[str, Any]]) -> list[str]:
    """Where the derived figures of an inspection differ from those expected, in words."""
    said: list[str] = []
    for want in wanted:
        for station in stations(want.get("at", {})):
            which = [f for f in found.figures if f.name == want["name"] and f.station == station]
            where = f"{want['name']} {' '.join(station.values())}".rstrip()
            if len(which) != 1:
                said.append(f"{where}: {len(which)} figures")
            elif not same(which[0].value, want["value"], which[0].unit):
                said.append(f"{where}: is {shown(which[0].value, which[0].unit)}, not {want['value']}")
    return said


def remarks_on(text: str) -> tuple[list[str], list[str]]:
    """What keeps a pack from being proven, and what is asked about its figures, in sentences."""
    pack, faults = read_pack([("column.pack.yaml", text.encode())])
    assert pack is not None, [fault.sentence() for fault in faults]
    proof = prove([pack], str(pack.name))
    wrong = [fault.sentence() for fault in proof.faults]
    wrong += [remark_text(remark) for remark in proof.remarks if remark.wrong]
    return wrong, [remark_text(remark) for remark in proof.remarks if remark.kind == "question"]
