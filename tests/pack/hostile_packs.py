"""Small packs that would take a great deal of work: each of a few kilobytes, each sound but for that."""

from __future__ import annotations

from collections.abc import Sequence

RULE = """\
  NAME:
    title: T
    each: [EACH]
    formula: FORMULA
    unit: in
    limits: [{name: a, least: 1 in}]
    words: low/high
    importance: major
    needs: [NEEDS]
    source: {kind: house}
    worked: [{given: {readings: {size: 1.5}}, expect: [{at: {}, verdict: in spec}]}]
"""
ONE_SIZE = "measurands:\n  size: {unit: in}\n"


def rule(formula: str, each: Sequence[str] = (), needs: str = "", name: str = "fit") -> str:
    made = RULE.replace("EACH", ", ".join(each)).replace("FORMULA", formula).replace("NEEDS", needs)
    return made.replace("NAME", name)


def pack(*parts: str, rules: str, name: str = "house", builds_on: str = "") -> str:
    head = f"{{name: {name}, version: '1', title: T, unit: in, builds on: [{builds_on}]}}"
    return f"specrules: tolerance-pack/1\ngroup: G\npack: {head}\n{''.join(parts)}rules:\n{rules}"


def figures(number: int, formula: str) -> str:
    """Figures of which each is worked out from the one before it, which the formula calls `before`."""
    more = (f"  f{n}: {{unit: in, formula: {formula.replace('before', f'f{n - 1}')}}}\n" for n in range(1, number))
    return "figures:\n  f0: {unit: in, formula: size}\n" + "".join(more)


def doubling(number: int) -> str:
    return pack(ONE_SIZE, figures(number, "before + before"), rules=rule(f"f{number - 1}"))


def chain(number: int) -> str:
    return pack(ONE_SIZE, figures(number, "before + 0.001 in"), rules=rule(f"f{number - 1}"))


def row(number: int) -> str:
    """Rules of which each needs the one before it."""
    return pack(ONE_SIZE, rules="".join(rule("size", (), f"r{n - 1}" if n else "", f"r{n}") for n in range(number)))


def axes(number: int, labels: int) -> str:
    return "axes:\n" + "".join(f"  x{n}: {{names: {_labels(n, labels)}}}\n" for n in range(number))


def _labels(axis: int, number: int) -> str:
    return f"[{', '.join(f'l{axis}_{label}' for label in range(number))}]"


def all_of(number: int) -> list[str]:
    return [f"x{n}" for n in range(number)]


def reducer(number: int, labels: int) -> str:
    """One reducer over the sum of what lies along an axis each."""
    lying = "measurands:\n" + "".join(f"  s{n}: {{unit: in, at: x{n}}}\n" for n in range(number))
    return pack(axes(number, labels), lying, rules=rule(f"largest({' + '.join(f's{n}' for n in range(number))})"))


def along_each(number: int, labels: int) -> str:
    return pack(axes(number, labels), ONE_SIZE, rules=rule("size", all_of(number)))


def lying_along(number: int, labels: int) -> str:
    """A measurand that nothing uses."""
    lying = f"{ONE_SIZE}  s: {{unit: in, at: [{', '.join(all_of(number))}]}}\n"
    return pack(axes(number, labels), lying, rules=rule("size"))


def many_along_each(rules: int, labels: int) -> str:
    return pack(axes(2, labels), ONE_SIZE, rules="".join(rule("size", all_of(2), "", f"r{n}") for n in range(rules)))


def signed_along_each(number: int, labels: int) -> str:
    along = ", ".join(all_of(number))
    signed = f"sign-offs:\n  clean: {{question: Q?, at: [{along}], source: {{kind: house}}}}\n"
    return pack(axes(number, labels), ONE_SIZE, signed, rules=rule("size"))


def supposed(rules: int, labels: int) -> str:
    """Rules that are worked out in 64 worlds, each of them from many readings, at many stations."""
    facts = "facts:\n" + "".join(f"  k{n}: {{kind: yes/no}}\n" for n in range(6))
    lying = "measurands:\n  s: {unit: in, at: x0, positions: x1}\n"
    asked = " + ".join(f"(sum(s, x1) if k{n} == yes else smallest(s, x1))" for n in range(6))
    every = "".join(rule(asked, ["x0"], "", f"r{n}") for n in range(rules))
    return pack(axes(2, labels), facts, lying, rules=every)


def amending(number: int, rules: int) -> list[str]:
    """A pack, and packs over it that know nothing of each other and amend all its rules."""
    names = [f"r{n}" for n in range(rules)]
    below = pack(ONE_SIZE, rules="".join(rule("size", (), "", name) for name in names), name="p0")
    made = [below]
    for n in range(1, number):
        amended = "".join(f"    {name}: {{limits: [{{name: a, least: 1.{n:03d} in}}], reason: r}}\n" for name in names)
        head = f"pack: {{name: p{n}, version: '1', title: T, builds on: [p0]}}"
        made.append(f"specrules: tolerance-pack/1\ngroup: G\n{head}\namend:\n  rules:\n{amended}")
    return made
