"""The reference asked for a word: all of it is found, and nothing else is said."""

from pathlib import Path

import pytest

from specrules.formula import FUNCTIONS
from specrules.pack.language import cells, sections, told_of, words
from specrules.pack.pack_json_schema import pack_schema
from specrules.quantity import UNITS
from specrules.trade import FUNCTIONS as TRADE
from specrules.vocabulary import Code
from tests.packs.tables_of_reference import keys_of

TEXT = (Path(__file__).parents[2] / "packs" / "README.md").read_text(encoding="utf-8")
SMALL = """\
# Title

Before.

## Colours: all of them

<!-- made: keys -->
| key | what for |
| --- | --- |
| `red \\| rot` | a `warm` one |
| `blue` | a cold one |
<!-- end of made -->

- `warm` is what [burns](#fire), and
  `cold: yes` what freezes.
- Nothing else.

```yaml
warm: yes
```

### Fire

`warm(x)` of itself.
"""


def test_the_reference_is_cut_at_its_headings() -> None:
    first, second = sections(SMALL)
    assert (first.level, first.heading, len(first.blocks)) == (2, "Colours: all of them", 5)
    assert first.rows == (("`red | rot`", "a `warm` one"), ("`blue`", "a cold one"))
    assert first.blocks[2] == "- `warm` is what burns, and `cold: yes` what freezes."
    assert (second.level, second.heading, second.blocks) == (3, "Fire", ("`warm(x)` of itself.",))
    assert cells("| a |  | b |") == ("a", "", "b")


@pytest.mark.parametrize(
    ("word", "told"),
    [
        ("warm", [("Colours: all of them", 2), ("Fire", 1)]),
        ("WARM", [("Colours: all of them", 2), ("Fire", 1)]),
        ("cold", [("Colours: all of them", 1)]),
        ("colours", [("Colours: all of them", 5)]),
        ("fire", [("Fire", 1)]),
        ("war", []),
        ("", []),
    ],
)
def test_a_section_is_told_whole_and_of_the_others_what_speaks_of_the_word(word: str, told: list[object]) -> None:
    assert [(each.section.heading, len(each.blocks)) for each in told_of(word, SMALL)] == told


@pytest.mark.second_lane
def test_every_word_of_the_declarations_is_known() -> None:
    schema = pack_schema()
    keys = {key.name for key in keys_of(schema)}
    for section in keys - {"specrules", "group", "applies when", "holds for", "hold points"}:
        keys |= {key.name for key in keys_of(schema, section)}
    names = {*keys, *(each.name for each in (*FUNCTIONS.values(), *TRADE)), *map(str, Code)}
    assert {name for name in names if not told_of(name, TEXT)} == set()
    known = words(TEXT)
    units = {unit.symbol.casefold() for unit in UNITS if unit.symbol.isalpha()}
    assert {name.casefold() for name in names} | units <= known
