"""Proposed examples put into the text of a pack's file, where the rule keeps its own; nothing else in it changes."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from specrules.document import Fields, Node, Text, read
from specrules.document.inserting import with_item
from specrules.proving.proposals import Proposal

WORKED = "worked"


class Placed(NamedTuple):
    """A file's text with proposals in it, and those that could not be put there."""

    text: str
    placed: tuple[Proposal, ...]
    left: tuple[Proposal, ...]


def with_proposals(text: str, file: str, proposals: Iterable[Proposal]) -> Placed:
    """Put each proposal behind the examples that its rule has in this file. What comes out is read again, and one
    after which it would be at fault is left out."""
    placed: list[Proposal] = []
    left: list[Proposal] = []
    for each in proposals:
        rule = _rule(_tree(text, file), each.rule)
        made = None if rule is None else with_item(text, rule, WORKED, each.lines)
        if made is None or _count(_rule(_tree(made, file), each.rule)) != _count(rule) + 1:
            left.append(each)
        else:
            text = made
            placed.append(each)
    return Placed(text, tuple(placed), tuple(left))


def _tree(text: str, file: str) -> Fields | None:
    tree, faults = read(text.encode(), file, kind="pack")
    return None if faults else tree


def _rule(tree: Fields | None, name: str) -> Fields | None:
    """The rule as this file defines or amends it."""
    for path in (("rules", name), ("amend", "rules", name)):
        node: Node | None = tree
        for key in path:
            node = node.get(Text(key)) if isinstance(node, Fields) else None
        if isinstance(node, Fields):
            return node
    return None


def _count(rule: Fields | None) -> int:
    held = rule.get(Text(WORKED)) if rule is not None else None
    return len(held) if isinstance(held, list) else 0
