"""Every fault as a reader meets it: where, what is wrong, the line as it should be."""

import pytest
from ruamel.yaml.error import MarkedYAMLError, StringMark

from specrules.document import Fault, Place, read
from specrules.document.reword import reworded
from specrules.document.source import SourceText
from specrules.vocabulary import Code


def sentences(source: str | bytes) -> list[str]:
    return [fault.sentence() for fault in read(source, "s.yaml")[1]]


def test_a_fault_is_one_sentence() -> None:
    place = Place("engine.sheet.yaml", 34, 8)
    fault = Fault(place, "main_journal 3", Code.COMMA_IN_NUMBER, '"2,4990" has a comma', "2.4990")
    assert fault.sentence() == 'engine.sheet.yaml, line 34, main_journal 3: "2,4990" has a comma; write 2.4990.'
    empty = Fault(place, "", Code.EMPTY_FILE, "the file is empty")
    assert empty.sentence() == "engine.sheet.yaml, line 34: the file is empty."
    assert Fault(Place("a", 0, 0), "", Code.UNREADABLE, "it is not there").sentence() == "a: it is not there."


COMMENT = "is read as a comment (if it is one, put a space after the #)"
OUTSIDE = "has a comma outside quotes, which ends the text there"
MEANT = "which is not taken here; write what is meant in full, or as text:"
GOES_ON = "goes on after its closing quote"
NOT_CLOSED = "opened here is not closed, or a comma is missing at the end of a line"

# What YAML takes without a word: a tree is made, and the fault says what the writer most likely meant.
SILENT = [
    ("j: {a:2.49}", ['1, j: "a:2.49" has no space after its colon; write j: {a: 2.49}']),
    ("j: {a:2.49, b:3}", ['1, j: "a:2.49" has no space after its colon; write j: {a: 2.49, b: 3}',
                          '1, j: "b:3" has no space after its colon; write j: {a: 2.49, b: 3}']),
    ("x:\n  a:2.4\n  b:2.5\n", ['2, x: "a:2.4 b:2.5" has no space after its colon; write a: 2.4']),
    ("x:\n  -1\n  -2\n", ['2, x: "-1 -2" is one long text; a list has a space after each dash; write - 1']),
    ("s: table #6, p. 118", [f'1, s: "#6, p. 118" {COMMENT}; write s: "table #6, p. 118"']),
    ("s: #6 rod", [f'1, s: "#6 rod" {COMMENT}; write s: "#6 rod"']),
    ("s:\n- #6 rod", [f'2, s: "#6 rod" {COMMENT}; write - "#6 rod"']),
    ("n: {a: bolt #6\n  , b: 1}", [f'1, a: "#6" {COMMENT}; write n: {{a: "bolt #6"']),
    ("n: {a: bolt #6, b: 1}", [f'1, a: "#6, b: 1}}" {COMMENT}; write n: {{a: "bolt #6", b: 1}}']),
    ("od: [49,98, 49,99]", ['1, od: "49,98, 49,99" has a comma with no space after it; write od: [49.98, 49.99]']),
    ("od: [49,98 mm, 50]", ['1, od: "49,98 mm" has a comma with no space after it; write od: [49.98 mm, 50]']),
    ("l: [1,3,5]", ['1, l: "1,3,5" has a comma with no space after it; '
                    'write l: [1.3, 5], or, for whole numbers, l: [1, 3, 5]']),
    ("od: {a: 49,98, b: 49,99}", ['1, od: "49,98" has a comma; write od: {a: 49.98, b: 49.99}',
                                  '1, od: "49,99" has a comma; write od: {a: 49.98, b: 49.99}']),
    ("l: {least: max(0.7 * m, 0.0015 in), most: 3}",
     [f'1, l: "max(0.7 * m, 0.0015 in)" {OUTSIDE}; write l: {{least: "max(0.7 * m, 0.0015 in)", most: 3}}']),
    ("l: [min(a, max(b, c)), d]", [f'1, l: "min(a, max(b, c))" {OUTSIDE}; write l: ["min(a, max(b, c))", d]']),
    ("b: {tight: Film breaks, and wipes, really., loose: Oil falls}",
     [f'1, b: "Film breaks, and wipes, really." {OUTSIDE}; '
      'write b: {tight: "Film breaks, and wipes, really.", loose: Oil falls}']),
    ("b: {oil falls}", ['1, b: "oil falls" has no colon and no value; write b: {oil falls: open}']),
    ("b: {a: [1], oil}", ['1, b: "oil" has no colon and no value; write b: {a: [1], oil: open}']),
    ('b: {"a:b"}', ['1, b: "a:b" has no colon and no value; write b: {"a:b": open}']),
    ("a: [1, -, 2]", ["1, a: a dash alone is no value; write a: [1, open, 2]"]),
    ("a: >5\nb: 1", ['1, a: ">5" starts text on the lines below in YAML, and none follows; write a: ">5"']),
    ("a: |\nb: 1", ['1, a: "|" starts text on the lines below in YAML, and none follows']),
    ("m:\n  main:\n    a: 1\n    a: 2\n", ['4, main a: "a" stands here and on line 3; keep one of the two']),
    ("a: 1\na: 2\nb: 3\n'b': 4\n", ['2, a: "a" stands here and on line 1; keep one of the two',
                                    '4, b: "b" stands here and on line 3; keep one of the two']),
    ("caf\u00e9: 1\ncafe\u0301: 2", ['2, cafe\u0301: "cafe\u0301" stands here and on line 1, in other code points '
                                     "for the same letters; keep one of the two"]),
    ("m: {<<: {a: 1}}", ['1, <<: "<<" is a merge key, which is not taken here; write the keys out']),
    ("a: &x 1", [f'1, a: "&x" is an anchor in YAML, {MEANT} a: "&x 1"']),
    ("a: &x [1]", ['1, a: "&x" is an anchor in YAML, which is not taken here']),
    ("a: *important*", [f'1, a: "*important*" is an alias in YAML, {MEANT} a: "*important*"']),
    ("a: !in 2.0", [f'1, a: "!in" is a tag in YAML, {MEANT} a: "!in 2.0"']),
    ("a: !!int x", [f'1, a: "!!int" is a tag in YAML, {MEANT} a: "!!int x"']),
    (": x", ["1: a key is missing before this colon"]),
    ("? [a]\n: b", ["1: a list or mapping cannot be a key"]),
    ('a: "\\e[2J"', ["1, a: the text holds a control or invisible character (U+001B)"]),
    ('a: "\\ud800"', ["1, a: the text holds a control or invisible character (U+D800)"]),
]  # fmt: skip

# What is no YAML: no tree, one fault, the parser's words never shown.
BROKEN = [
    ("a: -", "1: a dash alone is no value; write a: open"),
    ("a: - b # c", "1: a list starts on the line below its key, or stands in brackets; write a: [b]"),
    (
        'a: "x"\n  - c',
        '2: "- c" is indented unlike the lines that it belongs to, or the line above already has a value',
    ),
    ("a: >= 71.40", '1: a value that starts with > is text on the lines below in YAML; write a: ">= 71.40"'),
    ("a: > 5 # c", '1: a value that starts with > is text on the lines below in YAML; write a: "> 5" # c'),
    ("a: |x", '1: a value that starts with | is text on the lines below in YAML; write a: "|x"'),
    ("a: {b: >= 5, c: 1}", '1: a value cannot start with > outside quotes; write a: {b: ">= 5", c: 1}'),
    ("a: %5", '1: a value cannot start with % outside quotes; write a: "%5"'),
    ("- a: @x # c", '1: a value cannot start with @ outside quotes; write - a: "@x" # c'),
    ("a: `x`", '1: a value cannot start with ` outside quotes; write a: "`x`"'),
    ("a: & b", '1: a value cannot start with & outside quotes; write a: "& b"'),
    ("a: * 2", '1: a value cannot start with * outside quotes; write a: "* 2"'),
    ("a: !x!y z", '1: a value cannot start with ! outside quotes; write a: "!x!y z"'),
    ("a: ? b", '1: a value cannot start with ? outside quotes; write a: "? b"'),
    ("a: }", '1: a value cannot start with } outside quotes; write a: "}"'),
    ("a: ,b", '1: a value cannot start with , outside quotes; write a: ",b"'),
    ("a: [1,,2]", "1: nothing stands before this comma; write a: [1,open,2]"),
    ("note: see: this", '1: "note: see: this" has a second colon outside quotes; write note: "see: this"'),
    ("x: {a: b: c}", '1: a second colon stands outside quotes; write x: {a: "b: c"}'),
    (
        "a: 1\n  b: 2",
        '2: "b: 2" is indented unlike the lines that it belongs to, or the line above already has a value',
    ),
    (
        "a:\n    b: 1\n  c: 2\n",
        '3: "c: 2" is indented unlike the lines that it belongs to, or the line above already has a value',
    ),
    ("a: 1\n}", '2: "}" is indented unlike the lines that it belongs to, or the line above already has a value'),
    ('"a" "b"', '1: ""a" "b"" is indented unlike the lines that it belongs to'),
    (
        "a: |\n \n   x\n",
        '3: "x" is indented unlike the lines that it belongs to, or the line above already has a value',
    ),
    ("a: [1, [2\n", f"1: the [ {NOT_CLOSED}; write a: [1, [2]]"),
    ("a: [1, {\n", f"1: the {{ {NOT_CLOSED}; write a: [1, {{}}]"),
    ("a: 1\nb:2\nc: 3", '2: "b:2" has no space after its colon; write b: 2'),
    ("a: 1\nsome words\nc: 3", '2: "some words" is neither a key with a colon nor part of the value above'),
    ('a: "x" y', f'1: ""x" y" {GOES_ON}; write a: \'"x" y\''),
    ("a: 'it's'", f"1: \"'it's'\" {GOES_ON}; write a: \"it's\""),
    ("a: ['b' c]", f"1: \"'b' c\" {GOES_ON}; write a: [\"'b' c\"]"),
    ('a: {b: "c" d}', f'1: ""c" d" {GOES_ON}; write a: {{b: \'"c" d\'}}'),
    ("a: [1] 2", '1: "2" stands where nothing more can stand; write a: "[1] 2"'),
    ("a: [[1] 2]", "1: a comma is missing before this; write a: [[1] , 2]"),
    ('a: "abc\nb: 1\n', '1: the quote " is opened here and not closed; write a: "abc"'),
    ('a: "c:\\dir"', '1: "\\d" means nothing in double quotes; write a: "c:\\\\dir"'),
    ('a: "\\xzz"', '1: "\\x" means nothing in double quotes; write a: "\\\\xzz"'),
    ("a: {b: 1, c: [2\nd: 3\n", f"1: the [ {NOT_CLOSED}; write a: {{b: 1, c: [2]}}"),
    ("a: [1, 2 # two\n", f"1: the [ {NOT_CLOSED}; write a: [1, 2] # two"),
    ("a: [1, 2}\n", "1: } stands here, where ] must close what [ opened; write a: [1, 2]"),
    ("l: {least: jrn[a], most: 3}", '1: "jrn[a]" has a bracket outside quotes; write l: {least: "jrn[a]", most: 3}'),
    (
        "l: {f: least(x[top]) - y}",
        '1: "least(x[top]) - y" has a bracket outside quotes; write l: {f: "least(x[top]) - y"}',
    ),
    ("a: {b:{c: 1}}", "1: a colon has no space after it; write a: {b: {c: 1}}"),
    ("%YAML 1.1\n---\na: 1", '1: "%YAML 1.1" is a directive to YAML readers; leave the line out'),
    ("# c\n%TAG ! x\n---\na: 1", '2: "%TAG ! x" is a directive to YAML readers; leave the line out'),
    ("a: 1\n... b", "2: lines that start with %, --- or ... do not belong here; one file holds one document"),
    ("--- \na: 1\n---\nb: 2", "3: a second document starts here; put it in a file of its own"),
    ("a: 1\n...\nb: 2", "3: a second document starts here; put it in a file of its own"),
    ("[a] - b", '1: "[a] - b" is indented unlike the lines that it belongs to'),
    ("a: [%5", '1: a value cannot start with % outside quotes; write a: ["%5"'),
    ("a: {b: ]}", "1: a value cannot start with ] outside quotes"),
    ("- a", "1: the file must be made of keys with values, as key: value"),
    ("just text", "1: the file must be made of keys with values, as key: value"),
    ("", "1: the file is empty"),
    ("# only\n", "1: the file is empty"),
    ("---\n", "2: the file is empty"),
    ('a: "\\U00110000"', "1: this cannot be read as YAML"),
]


@pytest.mark.parametrize(("source", "expected"), SILENT, ids=[source for source, _ in SILENT])
def test_what_yaml_takes_silently_is_said(source: str, expected: list[str]) -> None:
    assert sentences(source) == [f"s.yaml, line {each}." for each in expected]


@pytest.mark.parametrize(("source", "expected"), BROKEN)
def test_what_is_no_yaml_is_said_in_our_words(source: str, expected: str) -> None:
    tree, faults = read(source, "s.yaml")
    assert tree is None
    assert [fault.sentence() for fault in faults] == [f"s.yaml, line {expected}."]


def test_words_of_the_parser_that_are_not_known_get_a_plain_sentence() -> None:
    error = MarkedYAMLError(problem="something new", problem_mark=StringMark("", 6, 1, 1, "", 0))
    fault = reworded(SourceText("s.yaml", "a: 1\n b\n", "sheet"), error)
    assert fault.sentence() == 's.yaml, line 2: this cannot be read as YAML at "b".'


def test_an_unclosed_bracket_behind_a_number_sign_names_the_comment() -> None:
    said = 'the { opened here is not closed: "#6}" is read as a comment'
    assert sentences('n: {"a" #6}\n')[0] == f's.yaml, line 1: {said}; write n: {{"\\"a\\" #6"}}.'


@pytest.mark.parametrize(
    "source",
    [
        "a: bolt#6 # a comment",
        "a: 1 ## a heading",
        "a: '#6'",
        'a: "b" #c',
        "a:\n  #- old\n  - new",
        "a: [1, 3, 5, 7]",
        "a: [[1], [2]]",
        "a: [2.4990,2.4991]",
        "a: [b,c]",
        "a: {b: , c: 1}",
        "a: {b: (x), c: 'd, e'}",
        "a: [max(b), 'max(c, d)']",
        "a: 12:30",
        "a: [12:30]",
        "a: -1",
        "a: max(b, c)",
        "a: jrn[b] - c",
        "a:\n  words without a colon\n  on two lines",
        "a: c\tomment".replace("\t", " ") + " #\twith a tab",
    ],
)
def test_what_is_meant_so_is_left_alone(source: str) -> None:
    tree, faults = read(source, "s.yaml")
    assert faults == ()
    assert tree is not None


def test_all_faults_of_a_file_show_in_one_run() -> None:
    source = "a: 1\na: 2\nj: {b:1}\nod: [49,98, 1]\nn: bolt #6\nx: &y 1\nz: *y\nt: !t 1\nd: [-]\n"
    tree, faults = read(source, "s.yaml")
    assert [fault.place.line for fault in faults] == [2, 3, 4, 5, 6, 7, 8, 9]
    assert tree is not None
    assert tree["a"] == "1"  # type: ignore[index]


def test_faults_before_a_syntax_error_are_kept() -> None:
    assert [fault.place.line for fault in read("a: 1\na: 2\nb: [\n", "s.yaml")[1]] == [2, 3]


@pytest.mark.parametrize(
    ("source", "expected"),
    [
        ("a:\t1\n", "1: a tab stands at column 3; use spaces; write a: 1"),
        ("a: 1\n\tb: 2\n", "2: a tab stands at column 1; use spaces; write b: 2"),
        ("od: 49.98\t# mic 3", "1: a tab stands at column 10; use spaces; write od: 49.98 # mic 3"),
        ("a: x\u2028b: 1", "1: a line separator (U+2028) stands here; end the line as the editor's other lines end"),
        (
            "a: 1\nb: \x85",
            "2: a next-line character (U+0085) stands here; end the line as the editor's other lines end",
        ),
        ("a: 1\rb: 2", "1: a carriage return alone (U+000D) stands here; end the line as the editor's other lines end"),
        ("a: \x1b[2J", "1: an invisible character (U+001B) stands here; delete it"),
        ("a: \ud800", "1: an invisible character (U+D800) stands here; delete it"),
        ("a: b\ufeff", "1: an invisible character (U+FEFF) stands here; delete it"),
        (b"a\0:\0", "1: a null character stands here; save the file as UTF-8"),
        (b"a: 1\nn: 25 \xb5m\n", "2: byte 0xB5 is not text in UTF-8; save the file as UTF-8"),
        (b"\xff\xfea\0:\0\x00\xd8", "1: byte 0x00 is not text in UTF-16-LE; save the file as UTF-8"),
    ],
)
def test_characters_that_programs_read_differently_are_refused(source: str | bytes, expected: str) -> None:
    assert sentences(source)[0] == f"s.yaml, line {expected}."
    assert read(source, "s.yaml")[0] is None


def test_a_quoted_text_is_no_half_of_a_decimal() -> None:
    tree, faults = read('a: [1,"2"]\nb: [1,2]', "s.yaml")
    assert tree is not None
    assert tree["a"] == ["1", "2"]  # type: ignore[index]
    assert [fault.place.line for fault in faults] == [2]
    assert read('a: ["1",2]', "s.yaml")[1] == ()
    (fault,) = read('a: [1,"2", 3,4]', "s.yaml")[1]
    assert fault.write == 'a: [1,"2", 3.4]'


def test_a_byte_that_is_no_text_is_placed() -> None:
    assert read("é: 1\nn: 25 ".encode() + b"\xb5m", "s.yaml")[1][0].place == Place("s.yaml", 2, 7)


def test_long_lines_are_clipped_around_the_trouble() -> None:
    source = (
        "a: {" + "".join(f"k{i}: 1, " for i in range(200)) + "b:2, " + "".join(f"m{i}: 1, " for i in range(200)) + "}"
    )
    (fault,) = read(source, "s.yaml")[1]
    assert len(fault.write) <= 100
    assert "b: 2, " in fault.write


def test_the_subject_is_the_path_below_the_section() -> None:
    (fault,) = read("readings:\n  main_journal:\n    3: [49,98]\n", "s.yaml")[1]
    assert fault.subject == "main_journal 3"
