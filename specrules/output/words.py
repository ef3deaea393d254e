"""Places, lists and counts in words, the same in every form of output."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby

from specrules.vocabulary import DECISION_RULES

Labels = Mapping[str, int | str]
"""A station or a position: labels by axis, those of a record being numbers where they count."""
ALL = "all"
"""The label of an axis that has one group alone: there is nothing to tell it from."""


def name(word: str) -> str:
    """A name of a pack as words: underscores become blanks."""
    return word.replace("_", " ")


def short(title: str) -> str:
    """A title without what stands in brackets behind it."""
    return title.split(" (")[0]


def lower(title: str) -> str:
    """A title inside a sentence."""
    return title if title[1:2].isupper() else title[:1].lower() + title[1:]


def place(station: Labels, position: Labels | None = None) -> str:
    """Where something is: numbered labels with their axis, named ones alone; "" for the whole build."""
    labels = [(axis, str(label)) for axis, label in (*station.items(), *(position or {}).items())]
    return " ".join(
        f"{name(axis)} {label}" if label.isdigit() else name(label) for axis, label in labels if label != ALL
    )


def decided_by(rule: str | None) -> str:
    """A decision rule in words, or by its name where that says it."""
    return (rule in DECISION_RULES and DECISION_RULES[rule].about) or rule or ""


def with_article(noun: str) -> str:
    """A noun with its article: a dial, an inside dial."""
    return f"{'an' if noun[:1] in 'aeiou' else 'a'} {noun}"


def listed(words: Iterable[str], last: str = "and") -> str:
    """One, two and three."""
    items = list(words)
    return items[0] if len(items) == 1 else f"{', '.join(items[:-1])} {last} {items[-1]}" if items else ""


def places(of: Iterable[Labels]) -> str:
    """Many places briefly: runs of numbers become ranges, and the named labels that share them stand together."""
    numbers: dict[str, dict[str, list[str]]] = {}  # named labels -> axis -> numbers
    for station in [{axis: str(label) for axis, label in each.items()} for each in of]:
        axis = next((axis for axis, label in station.items() if label.isdigit()), "")
        named = place({other: label for other, label in station.items() if other != axis})
        numbers.setdefault(named, {}).setdefault(axis, []).append(station[axis] if axis else "")
    sharing: dict[str, list[str]] = {}  # "axis 1-6" -> named labels
    for named, by_axis in numbers.items():
        for axis, labels in by_axis.items():
            sharing.setdefault(f"{name(axis)} {runs(labels)}" if axis else "", []).append(named)
    said = []
    for where, these in sharing.items():
        shared = ", ".join(_in_runs(list(filter(None, these))))
        colon = ":" if where and shared and "," in where + shared else ""
        said.append(f"{where}{colon} {shared}".strip())
    return "; ".join(filter(None, said))


def _in_runs(named: Sequence[str]) -> Iterator[str]:
    """Labels that are numbered in a row as one: intake 1-2 for intake 1 and intake 2."""
    for word, some in groupby(named, key=lambda label: label.rpartition(" ")[0]):
        labels = list(some)
        ends = [label.rpartition(" ")[2] for label in labels]
        numbers = [int(end) for end in ends if end.isdecimal()]
        in_a_row = word and numbers == list(range(numbers[0], numbers[0] + len(ends))) if numbers[1:] else False
        yield from [f"{word} {ends[0]}-{ends[-1]}"] if in_a_row else labels


def runs(labels: Sequence[str]) -> str:
    """1, 2, 3, 5 as "1-3, 5"; the order is kept."""
    spans: list[list[int]] = []
    for number in (int(label) for label in labels):
        if spans and number == spans[-1][1] + 1:
            spans[-1][1] = number
        else:
            spans.append([number, number])
    return ", ".join(str(a) if a == b else f"{a}, {b}" if b == a + 1 else f"{a}-{b}" for a, b in spans)


def counted(counts: Iterable[tuple[str, int]]) -> str:
    """What occurs, with its numbers."""
    return ", ".join(f"{number} {word}" for word, number in counts if number)


def many(number: int, word: str) -> str:
    """A number with its thing: 1 check, 2 checks."""
    return f"{number} {word}{'' if number == 1 else 's'}"


def sentence(text: str) -> str:
    """With a capital at the start and a stop at the end."""
    text = text.strip()
    return text if not text else text[0].upper() + text[1:] + ("" if text[-1] in ".?!:" else ".")
