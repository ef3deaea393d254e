"""What stands around the content of a page: policy, style, title. Plain text, which costs nothing to make."""

from __future__ import annotations

from html import escape

from specrules.document.safe_text import safe

POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'"
"""The content security policy: a page has its own style, and nothing from anywhere else."""

STYLE = """
@page { size: auto; margin: 11mm 12mm 15mm; @bottom-left { content: FOOT; font: 7.5pt sans-serif; color: #333 }
  @bottom-right { content: "page " counter(page) " of " counter(pages); font: 7.5pt sans-serif; color: #333 } }
* { box-sizing: border-box }
html { font: 9.5pt/1.35 "Helvetica Neue", Arial, "Liberation Sans", "DejaVu Sans", sans-serif; color: #000;
  background: #fff }
body { margin: 0 auto; max-width: 186mm; padding: 0 }
@media screen { body { padding: 6mm; max-width: 198mm } }
h1 { font-size: 15pt; margin: 0 0 2mm; line-height: 1.2 }
h2 { font-size: 12.5pt; margin: 5mm 0 1.5mm; padding-bottom: .6mm; border-bottom: .5mm solid #000; break-after: avoid }
h3 { font-size: 10pt; margin: 3.5mm 0 1mm; break-after: avoid }
h4 { font-size: 10pt; margin: 3mm 0 .8mm; break-after: avoid }
p { margin: 0 0 1.2mm }
h1, h2, h3, h4, p, li, th, td { overflow-wrap: anywhere }
.quiet { color: #444; font-size: 8.5pt }
.caution { border-left: 1mm solid #000; padding-left: 2mm }
table { border-collapse: collapse }
th { text-align: left; font-weight: 600; font-size: 8.5pt; vertical-align: bottom }
thead { display: table-header-group }
tr, figure, li, .whole { break-inside: avoid }
svg { display: block }
"""
"""What all pages have. The smaller of A4 and Letter in each direction is what a page is laid out for: 210 x 279 mm."""


def frame(mark: str, title: str, foot: str, style: str) -> tuple[str, str]:
    """What stands before and behind the content of a page. `mark`: how its file begins, by which a later run knows it;
    `foot`: at the foot of each sheet of paper; `style`: what this kind of page has beyond `STYLE`."""
    css = STYLE.replace("FOOT", _in_css(safe(foot))) + style
    before = (
        f'{mark}<html lang="en"><head><meta charset="utf-8">'
        f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{escape(safe(title))}</title><style>{css}</style></head><body>"
    )
    return before, "</body></html>\n"


def foot_of(name: str, foot: str) -> str:
    """The style by which the sheets of paper of what is called `name` have a foot of their own."""
    return f"@page {name} {{ @bottom-left {{ content: {_in_css(safe(foot))} }} }} .{name} {{ page: {name} }}"


def _in_css(text: str) -> str:
    """A text as CSS writes a string, each character by its number: none of them can end it (CSS Syntax 3, 4.3.7)."""
    return '"' + "".join(f"\\{ord(character):06x}" for character in text) + '"'


RECORDS_STYLE = """
article + article { break-before: page }
.facts th, .facts td { text-align: left; vertical-align: top; padding: .4mm 3mm .4mm 0; font-size: 9.5pt }
.facts th { min-width: 27mm; font-weight: 600 }
.stands { font-size: 12pt; font-weight: 700; border: .5mm solid #000; padding: 2mm 3mm; margin: 3mm 0 }
.told { width: 100%; margin-bottom: 2mm }
.told th, .told td { border-bottom: .15mm solid #777; padding: .5mm 2mm .5mm 0; vertical-align: top; font-size: 8.5pt;
  text-align: left }
.told th[scope=row] { font-weight: 400; min-width: 28mm }
.told thead th { white-space: nowrap }
.limits { margin: 0 0 1mm; font-size: 8.5pt; break-after: avoid }
.beyond { font-weight: 700 }
.check tbody tr:nth-child(-n+5) { break-after: avoid }
.check tbody tr:nth-last-child(-n+2) { break-before: avoid }
.values { float: right; width: 84mm; margin: 0 0 2mm 4mm }
.check { margin-bottom: 2mm }
.check::after { content: ""; display: block; clear: both }
.check .told { width: calc(100% - 90mm) }
.check .alone { width: 100% }
.shapes { margin: 1mm 0 2mm; clear: both }
@media screen { .values svg, .shapes svg { max-width: 100%; height: auto } }
@media screen and (max-width: 720px) { .values { float: none; width: auto; margin: 0 0 2mm }
  .check .told { width: 100% } }
.signed td { min-width: 17mm }
.sign td { border-bottom: .25mm solid #000; height: 11mm; width: 60mm }
.sign th { padding: 0 3mm 0 0; vertical-align: bottom; white-space: nowrap }
.legend { display: flex; flex-wrap: wrap; gap: .5mm 4mm; font-size: 8pt; margin: 0 0 2mm; padding: 0; list-style: none }
.legend svg { display: inline-block; vertical-align: middle }
.details { break-before: page }
.pictures figure { display: inline-block; vertical-align: top; width: 88mm; max-width: 100%; margin: 0 4mm 4mm 0 }
.picture img { display: block; max-width: 100%; max-height: 88mm; width: auto; height: auto; margin-bottom: 1mm }
code { font-family: monospace; font-size: 8pt; overflow-wrap: anywhere }
ul { margin: 0 0 2mm; padding-left: 5mm }
"""
"""What the page of records has besides."""

INDEX_STYLE = """
a { color: #003c96; text-decoration: underline; overflow-wrap: anywhere }
nav { margin-bottom: 2mm }
@media print { nav { display: none } a { color: #000; text-decoration: none } }
.index { width: 100%; border-top: .5mm solid #000; table-layout: fixed }
.index th, .index td { border-bottom: .15mm solid #777; padding: .8mm 2mm .8mm 0; vertical-align: top; font-size: 8.5pt;
  text-align: left; font-weight: 400 }
.index thead th, .index .beyond th, .index td[data-head="Comes to"] { font-weight: 700 }
.index th:first-child { width: 21% } .index .quiet { font-weight: 400 }
.index td[data-head=Findings], .index td[data-head="By what"] { font-size: 8pt }
.index th:nth-child(2) { width: 11% } .index th:nth-child(3), .index th:nth-child(4) { width: 9% }
.index th:nth-child(5) { width: 10% } .index th:nth-child(6) { width: 14% } .index th:nth-child(7) { width: 7.5% }
@media screen and (max-width: 600px) {
  .index, .index tbody, .index tr, .index th, .index td { display: block; width: auto !important; padding-right: 0 }
  .index thead { display: none }
  .index tr { border-bottom: .5mm solid #000; padding: 1.5mm 0 } .index th, .index td { border: 0; padding: .3mm 0 }
  .index td::before { content: attr(data-head) ": "; color: #444 } .index .empty { display: none }
}
"""
"""What an index has besides, and the pages that it links to. On a narrow screen a line of it is a block of its own."""

CHANGES_STYLE = """
.heads { table-layout: fixed } .heads th:first-child { width: 24mm }
.other td { font-weight: 700 }
.check .told td:nth-child(n+3) { font-variant-numeric: tabular-nums; overflow-wrap: normal }
.told thead th { white-space: normal } .told th[scope=row] { min-width: 15mm }
"""
"""What a page of changes has besides."""

CLASS_STYLE = """
.told thead th { white-space: normal } .told th[scope=row] { min-width: 0 }
.marks th, .marks td { padding-left: 1mm }
.marks td:last-child, .marks th:last-child { font-weight: 700 }
.marks .wrong { background: #e8e8e8 } .marks tfoot th, .marks tfoot td { border-top: .5mm solid #000 }
.marks .answer { font-size: 8pt; color: #333 }
"""
"""What the page of a class has besides."""
