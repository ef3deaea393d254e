"""Reading a file of keys and values into a placed tree."""

from specrules.document.composing import compose
from specrules.document.place import Fault, Kind, Place
from specrules.document.source import Budget, SourceText, decode, unwanted
from specrules.document.text import Fields
from specrules.vocabulary import Code

USUAL = Budget()


def read(
    source: bytes | str, file: str, budget: Budget = USUAL, kind: Kind = "sheet", pure: bool = False
) -> tuple[Fields | None, tuple[Fault, ...]]:
    """The tree of a YAML file, and its faults in the order of the file. Never raises; safe in threads.

    Scalars are what is written, never numbers, dates or yes and no. Where it is not readable YAML there is no
    tree; where something is merely not what its writer meant there are both, and the tree must not be judged.
    `pure` reads without the C parser, to the same answer, as where there is none.
    """
    if len(source) > budget.size:
        said = f"the file is larger than {budget.size} bytes"
        return None, (Fault(Place(file, 1, 1), "", Code.FILE_TOO_LARGE, said, "", kind),)
    text = decode(source, file, kind)
    if isinstance(text, Fault):
        return None, (text,)
    whole = SourceText(file, text, kind)
    if faults := unwanted(whole, budget.faults):
        return None, tuple(faults)
    tree, faults = compose(whole, budget, pure)
    return tree, tuple(sorted(faults))
