"""The known word that a mistyped one most likely stands for."""

from collections.abc import Iterable, Sequence

MOST_SLIPS = 3
MOST_OFFERED = 12
LONGEST = 60  # a longer word is no typing slip, and comparing costs its length squared


def nearest(word: str, choices: Iterable[str]) -> str | None:
    """The choice fewest slips of the pen away from `word`, the first of equals; None where none is near.

    A slip is a letter added, lost, changed or exchanged with its neighbour; one is allowed for every three letters, and
    three at most, with more it is another word; of a name whose words all stand in the other, any. Case does not
    count."""
    return next(iter(all_nearest(word, choices)), None)


def all_nearest(word: str, choices: Iterable[str]) -> tuple[str, ...]:
    """Every choice that is as near to `word` as the nearest one."""
    typed = word.casefold()
    if not typed or len(typed) > LONGEST:
        return ()
    allowed = len(typed) // 3
    parts = {*typed.split("_")}
    found: list[str] = []
    for choice in choices:
        most = allowed if parts <= {*choice.casefold().split("_")} else min(allowed, MOST_SLIPS)
        if abs(len(choice) - len(typed)) > most or (count := slips(typed, choice.casefold(), most)) > most:
            continue
        if count < allowed:
            allowed, found = count, []
        found.append(choice)
    return tuple(found)


def likely(word: str, choices: Sequence[str]) -> str:
    """What `word` was likely meant for: the choice nearest to it; else those that have each word of it, as wall_end_gap
    has those of end_gap, or whose each word it has, as a dial depth gauge has those of depth gauge; "" for none."""
    said = _words(word)
    alike = [choice for choice in choices if said and (said <= (parts := _words(choice)) or parts <= said)]
    *others, last = alike[:MOST_OFFERED] or [""]
    return nearest(word, choices) or (f"{', '.join(others)} or {last}" if others else last)


def _words(name: str) -> set[str]:
    return set(name.casefold().replace("_", " ").split())


def slips(typed: str, meant: str, most: int) -> int:
    """The number of slips between two words (optimal string alignment); any above `most` where there are more."""
    before: list[int] = []
    above = list(range(len(meant) + 1))
    least = 0
    for row, letter in enumerate(typed, 1):
        line = [row]
        for column, other in enumerate(meant, 1):
            count = min(above[column] + 1, line[-1] + 1, above[column - 1] + (letter != other))
            exchanged = row > 1 and column > 1 and letter == meant[column - 2] and typed[row - 2] == other
            line.append(min(count, before[column - 2] + 1) if exchanged else count)
        before, above, least_before, least = above, line, least, min(line)
        if least > most and least_before > most:  # an exchange looks back two rows
            return most + 1
    return above[-1]
