"""The limits of one build on a card for the wall: heading by heading, least, aim, most and wear limit."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from xml.etree.ElementTree import Element

from specrules.inspection import Examination
from specrules.output.marks import CARD
from specrules.output.markup import element, page
from specrules.output.standing_limits import StandingLimits, limits_standing
from specrules.output.words import sentence, short
from specrules.pack import Rule, Specification
from specrules.quantity import YES_NO_UNIT, Unit
from specrules.vocabulary import WORN

COLUMNS = ("least", "aim", "most", "wear")

_STYLE = """
html { font-size: 8.5pt; line-height: 1.2 }
h1 { font-size: 14pt; margin: 0 0 .5mm }
main { column-count: 2; column-gap: 5mm }
h2 { font-size: 9.5pt; margin: 0; padding: 0; border: 0; text-align: left }
section { margin-bottom: 2mm }
table { width: 100% }
td, th { padding: .35mm .6mm; border-bottom: .15mm solid #777; vertical-align: top; font-size: 8pt }
thead th { border-bottom: .5mm solid #000; vertical-align: bottom }
th[scope=row] { font-weight: 400 }
tbody th { overflow-wrap: break-word; min-width: 28mm }
.number { width: 11mm; min-width: 11mm; text-align: right; font-weight: 700; white-space: nowrap }
thead .number { font-weight: 600; font-size: 7.5pt }
.wear { font-weight: 400 }
.where { padding-left: 3mm }
.unknown { font-size: 7.5pt; font-style: italic }
.caution { font-size: 8pt }
@media screen and (max-width: 150mm) { main { column-count: 1 } }
"""


def card_to_print(examination: Examination, job: Specification) -> str:
    """The card as a page. `job`: the rules that it covers."""
    sheet, spec = examination.sheet, examination.spec
    told = [*limits_standing(examination, job.rules)]
    unit = sheet.unit or spec.lengths_in or spec.unit
    title = sheet.title or sheet.file
    rounded = any(row.rounded for _, rows in told for row in rows)
    packs = ", ".join(f"{pack.name} {pack.version}" for pack in spec.packs)
    by = " ".join(
        filter(None, (f"Job {sheet.build['job']}." if sheet.build.get("job") else "", f"By the packs {packs}."))
    )
    lengths = f"Lengths in {unit.symbol} where no unit stands. " if unit is not None else ""
    star = "* rounded to the inside. " if rounded else ""
    groups = groupby(told, key=lambda each: each[0].group)
    main = [_group(group, list(of), unit) for group, of in groups] or element("p", {}, "No limit is in force here.")
    head = element(
        "header", {}, element("h1", {}, f"Limits: {title}"), element("p", {}, f"{by} {lengths}{star}"), _first()
    )
    cautions = dict.fromkeys(sentence(pack.caution) for pack in spec.packs if pack.caution)
    feet = element("footer", {}, [element("p", {"class": "caution"}, text) for text in cautions])
    return page(CARD, f"{title}: limits", f"Limits of {title}", _STYLE, head, element("main", {}, main), feet)


def _first() -> Element:
    said = "The maker's figure for the part in hand comes before every figure on this card."
    return element("p", {"class": "caution"}, element("strong", {}, said))


def _group(group: str, rules: Sequence[tuple[Rule, list[StandingLimits]]], unit: Unit | None) -> Element:
    heads = [element("th", {"scope": "col", "class": "number"}, said) for said in COLUMNS]
    title = element("th", {"scope": "col"}, element("h2", {}, group))
    rows = [row for rule, told in rules for row in _rule(rule, told, unit)]
    return element(
        "section",
        {},
        element("table", {}, element("thead", {}, element("tr", {}, title, heads)), element("tbody", {}, rows)),
    )


def _rule(rule: Rule, told: Sequence[StandingLimits], unit: Unit | None) -> Iterator[Element]:
    """A rule's row, or a row for each of its places where they differ."""
    symbol = rule.unit.symbol
    title = short(rule.title) + (f", {symbol}" if symbol and rule.unit != unit and rule.unit != YES_NO_UNIT else "")
    if len(told) == 1:
        where = f" ({told[0].where})" if told[0].where else ""
        yield from _row(title + where, told[0], "")
        return
    yield element("tr", {}, element("th", {"scope": "row", "colspan": str(1 + len(COLUMNS))}, title))
    for row in told:
        yield from _row(row.where or "everywhere", row, "where")


def _row(head: str, row: StandingLimits, sort: str) -> Iterator[Element]:
    attributes = {"scope": "row"} | ({"class": sort} if sort else {})
    if row.texts:
        yield element("tr", {}, element("th", attributes, head), [_number(part, row) for part in COLUMNS])
        head = ""
    if row.unknown:
        said = element("td", {"class": "unknown", "colspan": str(len(COLUMNS))}, row.unknown)
        yield element("tr", {}, element("th", attributes, head), said)


def _number(part: str, row: StandingLimits) -> Element:
    """A limit, with a star where it is rounded; the wear limits of both sides share a cell."""
    texts = [row.texts[each] for each in (WORN.values() if part == "wear" else (part,)) if each in row.texts]
    if row.rule.unit == YES_NO_UNIT and texts:
        texts = ["so"]
    star = "*" if row.rounded and texts else ""
    return element("td", {"class": "number wear" if part == "wear" else "number"}, " / ".join(texts) + star)
