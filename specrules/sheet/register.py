"""A shop's register of gauges: what is written once for all its sheets."""

from collections.abc import Iterator, Mapping
from hashlib import sha256
from typing import NamedTuple

from specrules.document import Fault, Fields, Items, Node, Text, read
from specrules.sheet.sheet_model import REGISTER_HEADER, GaugeEntry, RegisterFile
from specrules.validation import checked, headed

SUFFIX = ".gauges.yaml"
_GAUGE = Text("gauge")


class Register(NamedTuple):
    """The gauges of a register, and the file that they stand in."""

    file: str
    sha256: str
    gauges: Mapping[Text, GaugeEntry]


def read_register(source: bytes, file: str) -> tuple[Register | None, tuple[Fault, ...]]:
    """A register's file. Never raises for any input; every fault of its shape is told in one run."""
    tree, faults = read(source, file, kind="file")
    if tree is None:
        return None, faults
    if (head := headed(tree, REGISTER_HEADER, "register of gauges", "file")) is not None:
        return None, (head,)
    model, wrong = checked(RegisterFile, tree, "file")
    every = tuple(sorted(dict.fromkeys((*faults, *wrong))))
    if every or model is None:
        return None, every
    return Register(file, sha256(source).hexdigest(), model.gauges), ()


def called_for(
    own: Mapping[Text, GaugeEntry], readings: Fields, shop: Mapping[Text, GaugeEntry]
) -> Iterator[tuple[Text, tuple[GaugeEntry, ...]]]:
    """The sheet's own gauges, those of the shop that it names, and what any of them is set with: what is written of
    each, the sheet's word before the shop's."""
    wanted = [*own, *_named(readings)]
    written = {name: name for name in (*shop, *own)}  # where each stands
    told: set[str] = set()
    for name in wanted:
        entries = tuple(known[name] for known in (own, shop) if name in known)
        if entries and name not in told:
            told.add(name)
            wanted += [setter for each in entries if (setter := each.set_with)][:1]
            yield written[name], entries


def merged(entries: tuple[GaugeEntry, ...]) -> GaugeEntry:
    """What is written of one gauge: of each key the first word."""
    first, *rest = entries
    for each in rest:
        said = {name: getattr(each, name) for name in each.model_fields_set - first.model_fields_set}
        first = first.model_copy(update=said)
    return first


def _named(node: Node) -> Iterator[Text]:
    """The gauges that readings name."""
    if isinstance(node, Fields):
        for key, value in node.items():
            if key == _GAUGE and isinstance(value, Text):
                yield value
            else:
                yield from _named(value)
    elif isinstance(node, Items):
        for each in node:
            yield from _named(each)
