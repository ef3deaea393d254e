"""The scalars that the YAML 1.2.2 core schema turns into values: here every one stays the text that was written.

Source: YAML 1.2.2 specification, section 10.3.2 (tag resolution) and example 10.9; the further rows are forms that
readers of YAML 1.1 and 1.2 are known to take differently, so that a file would change its meaning with its reader.
"""

import pytest

from specrules.document import Text, read

EXAMPLE_10_9 = ["null", "true", "True", "false", "FALSE", "0", "0o7", "0x3A", "-19", "0.", "-0.0", ".5", "+12e03",
                "-2E+05", ".inf", "-.Inf", "+.INF", ".NAN"]  # fmt: skip
NULL_AND_BOOL = ["null", "Null", "NULL", "~", "true", "True", "TRUE", "false", "False", "FALSE"]
READ_DIFFERENTLY = ["+.5", ".0025", "1e-3", "1.5e3", "12e03", "010", "08", "0o10", "0777", "12:30", "1:20", "no", "NO",
                    "off", "y", "1_000", "0b101", "-0x1F", "2024-01-01", "2024-13-45", "5e400", "1/2", "3-1/2", "nan",
                    "3.50", "1.10", "4.0400"]  # fmt: skip
SHAPES = ["{}: 1\nv: {}\n", "v: {}  # bare\n", "v:\n  - {}\n", "v: [{}, {}]\n", "v: {{a: {}}}\n", "---\nv: {}\n"]


@pytest.mark.second_lane
@pytest.mark.parametrize("scalar", sorted({*EXAMPLE_10_9, *NULL_AND_BOOL, *READ_DIFFERENTLY}))
@pytest.mark.parametrize("shape", SHAPES)
def test_a_scalar_stays_as_it_was_written(shape: str, scalar: str) -> None:
    tree, faults = read(shape.format(scalar, scalar), "s.yaml")
    assert tree is not None
    assert faults == ()
    value = tree["v"]  # type: ignore[index]
    while not isinstance(value, Text):
        value = value[0] if isinstance(value, list) else value["a"]  # type: ignore[index]
    assert (str(value), value.quoted) == (scalar, False)
    assert next(iter(tree)) in (scalar, "v")


@pytest.mark.parametrize("source", ["v:\n", "v: \nw: 1\n", "{v: , w: 1}\n", "v: # nothing\n"])
def test_an_empty_value_is_an_empty_text_and_nothing_else(source: str) -> None:
    tree, faults = read(source, "s.yaml")
    assert tree is not None
    assert faults == ()
    assert tree["v"] == ""  # type: ignore[index]
    assert isinstance(tree["v"], Text)  # type: ignore[index]


def test_one_and_one_point_nought_are_two_keys() -> None:
    tree, faults = read("{1: a, 1.0: b, 01: c}", "s.yaml")
    assert (tree, faults) == ({"1": "a", "1.0": "b", "01": "c"}, ())
