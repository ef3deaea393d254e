"""What the document room's tests share: a sheet in the usual shapes, and ways to look at a tree."""

from typing import Any

from specrules.document import Fields, Node, Text

USUAL = """\
# a sheet
build: {title: Inline six, serial: , date: 2026-10-03, 'of': [a, "b, c", -1]}

packs: [towing]   # brings in more
readings:
    main_journal:
      gauge: "mic 2-3"
      1: {front: {a: 2.4990, b: 2.4990},
          # on its own line
          rear: {a: 12.30}}
      2: [2.4991, [], {}, open,
   2.4990]
      4:
    bore:
    - at: 1
      to:
        - x: y
    - - deep: 1
    -
      - last
how: >-
  words on
  two lines # and this

caution: |
      one
      two
# after
note: text, with [brackets] and a bolt#6 and 4.030" and x:y
"""


def texts(node: Node) -> list[Text]:
    """All keys and values, in the order of the file."""
    if isinstance(node, Text):
        return [node]
    parts = [each for entry in node.items() for each in entry] if isinstance(node, Fields) else list(node)
    return [text for part in parts for text in texts(part)]


def plain(node: Node | None) -> Any:
    """Everything that a tree says, as plain tuples."""
    if node is None:
        return None
    if isinstance(node, Text):
        return str(node), node.place, node.quoted, node.span
    if isinstance(node, Fields):
        return node.place, [(plain(key), plain(value)) for key, value in node.items()]
    return node.place, [plain(item) for item in node]
