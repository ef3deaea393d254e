"""A new house pack: a head that stands, and everything else as comments to be taken into use line by line."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from textwrap import wrap
from typing import NamedTuple

from specrules.document.source import quoted
from specrules.formula.formula_reading import syntax_of
from specrules.formula.syntax import Number
from specrules.pack.pack_model import HEADER
from specrules.pack.specification import LimitLine, Rule, Specification
from specrules.quantity import Unit, find_unit, show

WIDTH = 80
_STEP = 2  # of the last written place: so much the amended example is tightened
_OWN = {"in": ("0.0100", "0.0200", "0.0150", "0.0099", "0.0201", "0.0001", "0.001..0.100")}
_OWN["mm"] = ("0.25", "0.50", "0.40", "0.24", "0.51", "0.01", "0.02..2.50")


def start_pack(spec: Specification, name: str, title: str, on: Sequence[str], file: str) -> str:
    """The text of a pack `name` that builds on `on`, packs with this specification; `file` is how a command has it.

    It proves as it stands, and so it does once every line that begins with one # has that # taken away.
    """
    unit = "mm" if spec.unit is not None and spec.unit.symbol == "mm" else "in"
    lines = [
        f"specrules: {HEADER}",
        "",
        *_told(
            f"This is your own tolerance pack. It builds on {' and '.join(on)}: all of that stands, and you write only "
            "what your shop holds otherwise."
        ),
        "##",
        "## Lines that begin with ## are for reading. Those that begin with # alone are",
        "## to be used: take away the # at the start of the line and nothing else, for",
        "## the blanks behind it matter. Write no tabs. After every change:",
        "##",
        f"##     specrules pack prove {_word(file)}       what is wrong, with its line",
        f"##     specrules pack show {_word(file)}        how the rules stand now",
        "##",
        *_told(
            f"A sheet is judged by it once it says packs: [{name}] and this file is in a folder called packs beside "
            "the sheet, or in one above."
        ),
        "",
        "pack:",
        f"  name: {name}                     # as this file is called, before .pack.yaml",
        '  version: "1"                    # count it up when a limit changes',
        f"  title: {quoted(title)}",
        f"  builds on: [{', '.join(on)}]",
        f"  unit: {unit}                        # what a length without a unit means in the examples",
        "",
        *_amended(spec),
        "",
        *_own(spec, unit),
        "",
        *_fragments(spec),
        "",
        *_rules(spec),
    ]
    return "\n".join(line.rstrip() for line in lines) + "\n"


class _Plain(NamedTuple):
    """A rule whose least is one plain figure of what is measured: the easiest to amend."""

    rule: Rule
    line: LimitLine
    unit: Unit
    least: Decimal  # base units
    step: Decimal
    places: int


def _amended(spec: Specification) -> Iterator[str]:
    yield from _told(
        "1. Change a limit. Name the rule, say why, and give the line of limits by its name and only the "
        "figures that change. specrules pack show gives the names of lines, and every rule is listed at the end."
    )
    found = next(_plain(spec), None)
    if found is None:
        return
    rule, line, unit, least, step, places = found

    def size(value: Decimal) -> str:
        return f"{show(value, unit, places)} {unit.symbol}"

    new = least + _STEP * step
    yield "##"
    yield from _told(f"As an example {rule.name}, whose least is {size(least)}:")
    yield "#amend:"
    yield "#  rules:"
    yield f"#    {rule.name}:"
    yield "#      reason: Say in your own words why your shop holds this."
    yield f"#      limits: [{{name: {_word(line.name)}, least: {size(new)}}}]"
    yield from _told("Worked examples show that the figure is meant: one inside, one on it, one beyond it.", "      ")
    yield "#      worked:"
    beyond = f"{size(new - step)}: {_word(rule.words[0])} by {size(step)}"
    yield f"#        - at: {{{size(new + step)}: in spec, {size(new)}: in spec, {beyond}}}"


def _plain(spec: Specification) -> Iterator[_Plain]:
    for rule in (chain.governing[-1] for chain in spec.rules.values()):
        measurand = spec.measurands.get(rule.formula.text)
        if measurand is None or measurand.axes or rule.each or rule.applies_when is not None or len(rule.lines) != 1:
            continue
        line = rule.lines[0]
        trees = {part: syntax_of(formula) for part, formula in line.sets.items()}
        least, most = trees.get("least"), trees.get("most")
        if line.when or line.shift or line.from_the_maker or not isinstance(least, Number) or not least.value:
            continue
        unit, places = find_unit(least.unit), len(line.sets["least"].text.split()[0].partition(".")[2])
        if not isinstance(unit, Unit) or unit.dimension != rule.formula.dimension or not least.unit:
            continue
        step = unit.difference_to_base(Decimal((0, (1,), -places)))
        others = [tree.value for part, tree in trees.items() if part in ("aim", "most") and isinstance(tree, Number)]
        roomy = isinstance(most, Number) and least.value + (_STEP + 1) * step <= min(others)
        if roomy and all(need in spec.sign_offs for need in rule.needs):
            yield _Plain(rule, line, unit, least.value, step, places)


def _own(spec: Specification, unit: str) -> Iterator[str]:
    taken = {*spec.measurands, *spec.facts, *spec.figures, *spec.rules, *spec.axes, *spec.sign_offs}
    name = next(word for word in ("own_gap", *(f"own_gap_{n}" for n in range(2, 100))) if word not in taken)
    least, most, inside, under, over, step, usual = (f"{figure} {unit}" for figure in _OWN[unit])
    yield from _told(
        "2. Add a rule of your own: first what is measured, then the rule that judges it. Here it is judged once "
        "for the whole build. For one at every station write at: [AXIS] in the first and each: [AXIS] in the "
        "second, with an axis from part 3."
    )
    yield "#measurands:"
    yield f"#  {name}:"
    yield "#    title: A gap of our own"
    yield f"#    unit: {unit}"
    yield f"#    usual: {usual}              # what is plausible; a reading outside it is asked about"
    yield "#    how: Say how it is measured."
    yield "#rules:"
    yield f"#  {name}:"
    yield "#    title: A gap of our own"
    yield f"#    formula: {name}                     # or algebra, such as hole - shaft"
    yield f"#    limits: {{least: {least}, most: {most}}}"
    if spec.figures_hold_by:
        held = ", ".join(f"{fact}: any" for fact in (*spec.figures_hold_by, *_sizes(spec)))
        yield f"#    holds for: {{{held}}}"
        yield "#                                         # for what they hold: labels, a range such as 2..4 in, or any"
    yield "#    words: tight/loose                   # for under the least, for over the most"
    yield "#    importance: major                    # critical, major or minor"
    if spec.hold_points:
        yield f"#    hold point: {spec.hold_points[0]:<24} # one of {', '.join(spec.hold_points)}"
    yield "#    because: {tight: Say what happens., loose: Say what happens.}"
    yield "#    source: {kind: house, note: where the figures come from}"
    yield "#    worked:"
    yield f"#      - given: {{readings: {{{name}: {inside}}}}}            # out of readings"
    yield f"#        expect: {{value: {inside}, verdict: in spec}}"
    yield "#      - at:                                # values as they stand: in it, on each limit, beyond each"
    for size, said in (
        (least, "in spec"),
        (under, f"tight by {step}"),
        (most, "in spec"),
        (over, f"loose by {step}"),
    ):
        yield f"#          {size}: {said}"
    yield f"#      - given: {{readings: {{{name}: open}}}}            # nobody measured it"
    yield "#        expect: {verdict: not measured}"


def _fragments(spec: Specification) -> Iterator[str]:
    yield from _told(
        "3. How a worked example is written. given is a piece of a build sheet: facts and readings as a sheet has "
        "them. expect says what must come out, at one station or at several. Keep the noughts at the end of a "
        "figure: 2.5000 is finer than 2.5."
    )
    yield "##"
    along = [one for one in spec.measurands.values() if len(one.at) == 1 and not one.positions]
    judged = next(
        (
            (rule, one)
            for rule in (chain.governing[-1] for chain in spec.rules.values())
            for one in along
            if rule.each == one.at and rule.formula.text == one.name
        ),
        None,
    )
    if judged is not None:
        rule, one = judged
        axis, labels = one.at[0], _labels(spec, one.at[0])
        yield f"##     - given: {{readings: {{{one.name}: {{{labels[0]}: FIGURE, {labels[1]}: FIGURE}}}}}}"
        yield "##       expect:"
        yield f"##         - {{at: {{{axis}: {labels[0]}}}, verdict: in spec}}"
        yield f"##         - {{at: {{{axis}: {labels[1]}}}, verdict: out of spec, side: {rule.words[1]}}}"
        yield "##"
    yield from _told(
        "Facts stand beside readings: given: {facts: {NAME: VALUE}, readings: {...}}. The verdicts are in spec, "
        "out of spec, not measured, not proven and not applicable. The axes, and the labels on them:"
    )
    yield "##"
    for axis in spec.axes:
        yield f"##     {axis:<16} {', '.join(_labels(spec, axis))}{'' if spec.axes[axis].names else ' and so on'}"


def _labels(spec: Specification, axis: str) -> tuple[str, ...]:
    return spec.axes[axis].names or tuple(spec.axes[axis].numbered(number) for number in (1, 2))


def _rules(spec: Specification) -> Iterator[str]:
    yield from _told("The rules that can be amended, as they stand now:")
    group = ""
    for rule in (chain.governing[-1] for chain in spec.rules.values()):
        if rule.group != group:
            group = rule.group
            yield "##"
            yield f"##   {group}"
        yield f"##     {rule.name:<32} {_word(rule.title)}"


def _told(text: str, indent: str = " ") -> Iterator[str]:
    yield from wrap(text, WIDTH, initial_indent=f"##{indent}", subsequent_indent=f"##{indent}", break_on_hyphens=False)


def _word(text: str) -> str:
    """A text of a pack as it can stand in a line of a file."""
    return "".join(c if c.isprintable() else " " for c in text)


def start_alone(name: str, title: str, file: str, unit: str) -> str:
    """The text of a pack `name` that builds on no other: one rule that proves as it stands, to be made one's own."""
    least, most, inside, under, over, step, usual = (f"{figure} {unit}" for figure in _OWN[unit])
    told = (
        "This is a tolerance pack that stands alone, for any trade. It has one of each thing that a pack needs, and "
        "proves as it is: change the names and figures, and add to it. Write no tabs. After every change:"
    )
    return f"""\
specrules: {HEADER}
group: First checks

{chr(10).join(_told(told))}
##
##     specrules pack prove {_word(file)}       what is wrong, with its line
##     specrules pack language WORD             what a key or a function is for
##     specrules sheet new my.sheet.yaml --pack {name}

pack:
  name: {name}                     # as this file is called, before .pack.yaml
  version: "1"                    # count it up when a limit changes
  title: {quoted(title)}
  unit: {unit}                        # what a length without a unit means in the examples

axes:
  side: {{names: [left, right]}}    # what readings lie along; or count: and a fact that says how many

facts:
  finish: {{kind: choice, choices: [ground, turned], title: Finish of the faces}}

gauge classes:
  feeler:
    resolution: {step}
    mpe: {step}
    source: {{kind: from memory, note: a checked gauge in a careful hand}}

measurands:
  gap:
    title: Gap
    at: [side]                    # one for each side
    unit: {unit}
    usual: {usual}      # what is plausible; a reading outside it is asked about
    gauge classes: [feeler]
    how: Say how it is measured.

sign-offs:
  faces_clean:
    question: Are the faces clean?
    source: {{kind: house}}

hold points: [fit]                # where work waits

rules:
  gap:
    title: Gap
    each: [side]                  # one finding for each side
    formula: gap                  # or algebra, such as hole - shaft
    limits:
      - {{name: base, least: {least}, most: {most}}}
      - {{name: turned, when: finish == turned, most: most + {step}}}
    words: tight/loose            # for under the least, for over the most
    importance: major             # critical, major or minor
    hold point: fit
    needs: [faces_clean]
    because: {{tight: Say what happens., loose: Say what happens.}}
    remedy: {{tight: Say what to do., loose: Say what to do.}}
    source: {{kind: house, note: where the figures come from}}
    worked:
      - note: out of readings, with one left out
        given: {{facts: {{finish: ground}}, readings: {{gap: {{left: {inside}, right: open}}}}}}
        expect:
          - {{at: {{side: left}}, value: {inside}, verdict: in spec}}
          - {{at: {{side: right}}, verdict: not measured}}
      - given: {{facts: {{finish: ground}}}}
        at: {{{inside}: in spec, {least}: in spec, {under}: tight, {most}: in spec, {over}: loose by {step}}}
      - given: {{facts: {{finish: turned}}}}
        at: {{{inside}: in spec, {over}: in spec, {_OVER[unit]} {unit}: loose by {step}}}
"""


_OVER = {"in": "0.0202", "mm": "0.52"}
"""One step beyond the most of a turned face."""


def _sizes(spec: Specification) -> tuple[str, ...]:
    """A size by which figures of the packs below hold, if there is one."""
    rules = (rule for chain in spec.rules.values() for rule in chain.governing)
    every = (key for rule in rules for line in rule.lines for each in line.validities() for key in each.keys)
    return tuple([key.name for key in every if key.unit is not None][:1])
