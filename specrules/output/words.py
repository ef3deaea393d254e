"""Places, lists and counts in words, the same in every form of output."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from specrules.formula import Station


def name(word: str) -> str:
    """A name of a pack as words: underscores become blanks."""
    return word.replace("_", " ")


def place(station: Station, position: Station | None = None) -> str:
    """Where something is: numbered labels with their axis, named ones alone."""
    labels = [*station.items(), *(position or {}).items()]
    return " ".join(f"{name(axis)} {label}" if label.isdigit() else name(label) for axis, label in labels)


def listed(words: Iterable[str], last: str = "and") -> str:
    """One, two and three."""
    items = list(words)
    return items[0] if len(items) == 1 else f"{', '.join(items[:-1])} {last} {items[-1]}" if items else ""


def places(stations: Sequence[Station]) -> str:
    """Many places briefly: runs of numbers become ranges, and what differs besides is said apart."""
    rows: dict[tuple[tuple[str, str], ...], dict[str, list[str]]] = {}
    for station in stations:
        numbered = next((axis for axis, label in station.items() if label.isdigit()), "")
        rest = tuple((axis, label) for axis, label in station.items() if axis != numbered)
        rows.setdefault(rest, {}).setdefault(numbered, []).append(station[numbered] if numbered else "")
    said = []
    for rest, by_axis in rows.items():
        named = " ".join(place({axis: label}) for axis, label in rest)
        for axis, labels in by_axis.items():
            said.append(" ".join(part for part in (f"{name(axis)} {runs(labels)}" if axis else "", named) if part))
    return "; ".join(part for part in said if part)


def runs(labels: Sequence[str]) -> str:
    """1, 2, 3, 5 as "1-3, 5"; the order is kept."""
    spans: list[list[int]] = []
    for number in (int(label) for label in labels):
        if spans and number == spans[-1][1] + 1:
            spans[-1][1] = number
        else:
            spans.append([number, number])
    return ", ".join(str(a) if a == b else f"{a}, {b}" if b == a + 1 else f"{a}-{b}" for a, b in spans)


def counted(counts: Mapping[str, int]) -> str:
    """The verdicts that occur, with their numbers."""
    return ", ".join(f"{number} {word}" for word, number in counts.items() if number)


def sentence(text: str) -> str:
    """With a capital at the start and a stop at the end."""
    text = text.strip()
    return text if not text else text[0].upper() + text[1:] + ("" if text[-1] in ".?!:" else ".")
