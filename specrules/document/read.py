"""Reading a file of keys and values into a placed tree."""

from specrules.document.place import Fault, Kind, Place
from specrules.document.quick import quick
from specrules.document.source import Budget, Source, decode, unwanted
from specrules.document.text import Fields

USUAL = Budget()


def read(
    source: bytes | str, file: str, budget: Budget = USUAL, kind: Kind = "sheet"
) -> tuple[Fields | None, tuple[Fault, ...]]:
    """The tree of a YAML file, and its faults in the order of the file. Never raises; safe in threads.

    Scalars are what is written, never numbers, dates or yes and no. Where it is not readable YAML there is no
    tree; where something is merely not what its writer meant there are both, and the tree must not be judged.
    """
    if len(source) > budget.size:
        return None, (Fault(Place(file, 1, 1), "", f"the file is larger than {budget.size} bytes", "", kind),)
    text = decode(source, file, kind)
    if isinstance(text, Fault):
        return None, (text,)
    whole = Source(file, text, kind)
    if faults := unwanted(whole, budget.faults):
        return None, tuple(faults)
    if (tree := quick(whole, budget)) is not None:
        return tree, ()
    from specrules.document.compose import compose  # a whole YAML parser: loaded for the files that need it

    tree, faults = compose(whole, budget)
    return tree, tuple(sorted(faults))
