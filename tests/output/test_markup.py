"""Pages as trees: whatever text is put into one, it comes out as that text, and as nothing else."""

from __future__ import annotations

import re
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.document.safe_text import safe
from specrules.output.drawing import svg
from specrules.output.marks import BLANK
from specrules.output.markup import element, page
from tests.output.page_reading import read_page, safe_page

HOSTILE = (
    "</style><script>alert(1)</script>",
    "--><img src=x onerror=alert(1)>",
    "&lt;script&gt; &#60; &quot; ' \" `",
    '" onload="alert(1)" x="',
    '"; } * { display: none } @import url(x); "',
    "\\22 ; } body { color: red }",
    "]]> <![CDATA[ x",
    "{{ 7 * 7 }} {% x %}",
)


def made(text: str) -> str:
    drawn = svg(text, 10, 10, [element("text", {"data-place": text}, text)])
    return page(BLANK, text, text, "", element("main", {}, element("h1", {"title": text}, text), drawn))


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_is_inert_wherever_it_stands(text: str) -> None:
    tree = safe_page(made(text))
    title, heading, drawn = next(tree.iter("title")), next(tree.iter("h1")), next(tree.iter("svg"))
    assert [title.text, heading.text, heading.get("title"), drawn.get("aria-label")] == [text] * 4
    assert (drawn[0].text, drawn[0].get("data-place")) == (text, text)
    assert [each.tag for each in next(tree.iter("body")).iter()] == ["body", "main", "h1", "svg", "text"]


@given(st.text())
def test_any_text_comes_out_as_it_went_in_but_for_what_is_made_safe(text: str) -> None:
    tree = read_page(made(text))
    assert next(tree.iter("h1")).get("title") == safe(text)
    assert (next(tree.iter("h1")).text or "") == safe(text)


@given(st.text())
def test_no_text_at_the_foot_ends_its_string(text: str) -> None:
    style = next(read_page(made(text)).iter("style")).text or ""
    (found,) = re.findall(r'@bottom-left \{ content: "((?:\\[0-9a-f]{6})*)"; font', style)
    assert "".join(chr(int(code, 16)) for code in re.findall(r"\\([0-9a-f]{6})", found)) == safe(text)
    assert style == next(read_page(made("")).iter("style")).text.replace('""', f'"{found}"')  # type: ignore[union-attr]


def test_texts_and_elements_stand_in_their_order() -> None:
    made_up = element("p", {}, "a", element("b", {}, "c"), ["d", element("i"), "e"], "f")
    assert "".join(made_up.itertext()) == "acdef"
    assert [each.tail for each in made_up] == ["d", "ef"]


def luminance(colour: str) -> float:
    short = colour.removeprefix("#")
    full = "".join(c * 2 for c in short) if len(short) == 3 else short
    channels = [int(full[i : i + 2], 16) / 255 for i in (0, 2, 4)]
    linear = [c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_every_colour_stands_out_from_white_as_wcag_asks() -> None:
    from specrules.output import blank_form, drawing, limits_card, page_frame, value_drawing

    styles = [page_frame.STYLE, page_frame.RECORDS_STYLE, blank_form._STYLE, limits_card._STYLE]
    styles += [repr((drawing._LINE, drawing._FAINT, value_drawing._LINE))]
    text = [colour for style in styles for colour in re.findall(r"(?<!-)color: (#[0-9a-f]{3,6})", style)]
    lines = [colour for style in styles for colour in re.findall(r"(?:solid |'stroke': ')(#[0-9a-f]{3,6})", style)]
    assert len(text) >= 3
    assert len(lines) >= 3
    for colour, least in (*product(text, (4.5,)), *product(lines, (3.0,))):  # WCAG 2.2, 1.4.3 and 1.4.11
        assert 1.05 / (luminance(colour) + 0.05) >= least, colour
