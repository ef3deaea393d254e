"""A sheet as a form to write on: in the order of the work all that one gauge reads, a box a place, drawings beside.

A check stands under the last reading of its most trusted way, and nowhere else.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import chain, groupby, product
from math import ceil, prod
from typing import NamedTuple
from xml.etree.ElementTree import Element

from specrules.formula import Station
from specrules.inspection import Examination
from specrules.output.drawing import band, places
from specrules.output.marks import BLANK
from specrules.output.markup import Content, element, page
from specrules.output.standing_limits import StandingLimits, limits_standing
from specrules.output.words import listed, name, place, sentence
from specrules.pack import Measurand, SignOff, Specification
from specrules.pack.needing import read_for_value
from specrules.quantity import YES_NO_UNIT
from specrules.sheet import Sheet
from specrules.sheet.cells import Cell, Spot, WorkStep, facts_to_place, group_of, spot_of
from specrules.sheet.station_cover import touches

ACROSS = 5
"""So many boxes fit beside each other, with the labels before them and a drawing behind them."""
LINE = 8
"""Millimetres that a figure written by hand needs."""
TOGETHER = 15
"""So many lines, of boxes and of limits, are kept on one page; where there are more it may end behind any of them."""
FITS = 11
"""So many letters of a figure fit in a box at their full size."""

_STYLE = f"""
.fields {{ width: 100%; margin-bottom: 2mm }}
.fields th {{ width: 1%; white-space: nowrap; padding: 1.5mm 1.5mm 0 0; font-weight: 400 }}
.fields td {{ border-bottom: .25mm solid #000; height: 7.5mm; vertical-align: bottom; padding: 0 3mm .4mm 0 }}
.places {{ float: right; width: 44mm; margin: 0 0 2mm 4mm }}
.boxes {{ margin: 0 0 2mm }}
.boxes th {{ padding: .5mm 2mm .5mm 0; vertical-align: middle }}
.boxes thead th {{ padding: 0 1mm }}
.row-label {{ min-width: 25mm }}
td.box {{ border: .35mm solid #000; min-width: 22.4mm; width: 22.4mm; height: {LINE}mm; text-align: center;
  padding: 0 .5mm }}
td.long {{ font-size: 7.5pt }}
.gauge {{ break-after: avoid; break-inside: avoid }}
.measured::after {{ content: ""; display: block; clear: both }}
figure, .measured > p {{ break-after: avoid }}
.judged {{ clear: both; margin: 0; padding: 0; list-style: none; font-size: 8.5pt }}
.judged li {{ display: flex; justify-content: space-between;
  align-items: center; gap: 3mm; min-height: 4mm }}
.judged svg {{ flex: none }}
.signing {{ width: 100%; margin-bottom: 2mm }}
.signing td, .signing th {{ border: .25mm solid #000; padding: 1mm 1.5mm; vertical-align: top; height: {LINE}mm }}
.signing thead th {{ height: auto }}
.signing .answer {{ width: 18mm }} .signing .who {{ width: 28mm }} .signing .day {{ width: 26mm }}
.above {{ break-after: avoid }}
"""


class _Work(NamedTuple):
    """What a form is made of. `judged`: by measurand, the limits that its readings are the last to be read for;
    `figures`: what was read already, by the place of its cell."""

    examination: Examination
    judged: Mapping[str, Sequence[StandingLimits]]
    figures: Mapping[Spot, Content]

    @property
    def sheet(self) -> Sheet:
        """The sheet whose form it is."""
        return self.examination.sheet

    @property
    def spec(self) -> Specification:
        """What there is to measure and to sign."""
        return self.examination.spec


def form_to_print(examination: Examination, job: Specification, steps: Sequence[WorkStep]) -> str:
    """The form as a page. `job`: what it covers; `steps`: in the order of the work, read and signed ones too."""
    sheet, spec = examination.sheet, examination.spec
    cells = [step for step in steps if isinstance(step, Cell)]
    order = [*dict.fromkeys(cell.measurand.name for cell in cells)]
    judged: dict[str, list[StandingLimits]] = {}
    for rule, rows in limits_standing(examination, job.rules):
        read = [measured for measured in read_for_value(spec, rule.name) if measured in order]
        if read:
            judged.setdefault(max(read, key=order.index), []).extend(rows)
    figures = dict(_figures(examination))
    doubtful = any(_is_doubtful(figures[cell.spot]) for cell in cells if cell.spot in figures)
    work = _Work(examination, judged, figures)
    build, title = sheet.build, sheet.title or sheet.file
    head = element("header", {}, element("h1", {}, title), _head(sheet), *_cautions(spec))
    groups = [_group(group, list(of), work) for group, of in groupby(steps, key=group_of)]
    unknown = facts_to_place(spec, sheet, [*job.measurands.values(), *job.sign_offs.values()])
    first = _first(len(cells), unknown, doubtful)
    foot = "   ".join(filter(None, (f"job {build['job']}" if build.get("job") else "", title)))
    return page(BLANK, f"{title}: form", foot, _STYLE, head, element("main", {}, first, groups), _feet(spec, sheet))


def _figures(examination: Examination) -> Iterator[tuple[Spot, Content]]:
    """What stands in the boxes already: what work has overtaken is struck out, what looks like a slip has a mark."""
    evidence = examination.evidence
    for number, each in enumerate(examination.sheet.readings):
        figure: Content = each.text
        if number in evidence.stale:
            figure = element("s", {}, each.text)
        elif number in evidence.suspects:
            figure = f"{each.text} ?"
        yield spot_of(each), figure


def _is_doubtful(figure: Content) -> bool:
    return isinstance(figure, Element) or str(figure).endswith(" ?")


def _first(number: int, unknown: Sequence[str], doubtful: bool) -> Iterator[Element]:
    """What has to be known of the form before anything is written into it."""
    boxes = f"{number} box{'' if number == 1 else 'es'}."
    how = "Write every figure as the gauge shows it, with all its places; leave empty what was not read."
    marks = " Struck out: read before later work. With a question mark: looks like a slip. Read these again."
    yield element("p", {}, f"{boxes} {how}{marks if doubtful else ''}")
    if unknown:
        said = (
            f"State {listed(unknown)} in the sheet's facts and print this again: what lies along them has no box yet."
        )
        yield element("p", {"class": "caution"}, said)


_ASKED = (
    ("Job", "job", "Serial number", "serial"),
    ("Customer", "customer", "Builder", "builder"),
    ("Date", "date", "Taken by (initials)", ""),
)


def _head(sheet: Sheet) -> Element:
    rows = [[(one, sheet.build.get(key, "")), (other, sheet.build.get(more, ""))] for one, key, other, more in _ASKED]
    rows.append([("Temperature of the parts", ""), ("of the gauges", "")])
    return _fields(rows)


def _fields(rows: Sequence[Sequence[tuple[str, str]]]) -> Element:
    """Lines to write on, each behind what it asks for."""
    made = ([(element("th", {"scope": "row"}, asked), element("td", {}, said)) for asked, said in row] for row in rows)
    return element("table", {"class": "fields"}, element("tbody", {}, [element("tr", {}, row) for row in made]))


def _cautions(spec: Specification) -> Iterator[Element]:
    for text in dict.fromkeys(pack.caution for pack in spec.packs if pack.caution):
        yield element("p", {"class": "caution"}, sentence(text))


def _group(group: str, steps: Sequence[WorkStep], work: _Work) -> Element:
    """All under one heading: by gauge what it reads, then what is signed."""
    cells = [step for step in steps if isinstance(step, Cell)]
    signs = [step for step in steps if isinstance(step, SignOff)]
    by_gauge = groupby(cells, key=lambda cell: cell.measurand.gauge_classes[:1])
    said = [_gauge(list(of), work) for _, of in by_gauge]
    signing = [element("h3", {}, "To sign"), _signing(signs, work)] if signs else []
    return element("section", {}, element("h2", {}, group or "Measured"), said, signing)


def _gauge(cells: Sequence[Cell], work: _Work) -> Element:
    """What one gauge reads, with its zero."""
    classes = cells[0].measurand.gauge_classes
    head = element("h3", {}, sentence(classes[0]).rstrip(".") if classes else "Any gauge")
    lines = _fields([[("Gauge used", ""), ("Zero: standard", ""), ("reads", "")]])
    of_one = [
        _measurand(measurand, list(of), work) for measurand, of in groupby(cells, key=lambda cell: cell.measurand)
    ]
    return element("section", {}, element("div", {"class": "gauge"}, head, lines), of_one)


def _measurand(measurand: Measurand, cells: Sequence[Cell], work: _Work) -> Element:
    """One thing to measure: how, where, its boxes, and the limits that are known."""
    unit = cells[0].unit.symbol if cells[0].unit is not None else ""
    title = f"{measurand.title or name(measurand.name)}{f' ({unit})' if unit else ''}"
    others = f"With {listed(measurand.gauge_classes, 'or')}." if len(measurand.gauge_classes) > 1 else ""
    times = f"Read each {measurand.repeats} times and write all down." if measurand.repeats > 1 else ""
    how = " ".join(filter(None, (sentence(measurand.how), others, times)))
    axes = work.spec.axes
    drawn = places([axes[a] for a in measurand.at], [axes[a] for a in measurand.positions], work.sheet.labels)
    figure = [element("figure", {"class": "places"}, drawn)] if drawn is not None else []
    said = [element("p", {"class": "quiet"}, how)] if how else []
    whole = [cell for cell in cells if cell.position is None]
    tables = [_boxes(some, work, measurand) for some in (whole, [c for c in cells if c.position is not None]) if some]
    rows = work.judged.get(measurand.name)
    judged = [element("ul", {"class": "judged"}, map(_judged, rows))] if rows else []
    lines = measurand.repeats * sum(len(list(table.iter("tr"))) for table in chain(*tables)) + len(rows or ())
    sort = "measured whole" if lines <= TOGETHER else "measured"
    return element("section", {"class": sort}, element("h4", {}, title), said, figure, tables, judged)


def _judged(row: StandingLimits) -> Element:
    """A check that can be judged once this is read, with its limits to scale where they are known."""
    drawn = band(row.exact, row.texts) if row.rule.unit != YES_NO_UNIT else None
    where = f", {row.where}" if row.where else ""
    head = element("strong", {}, f"{row.rule.title}{where}: ")
    return element("li", {}, element("span", {}, head, row.line), [drawn] if drawn is not None else [])


def _boxes(cells: Sequence[Cell], work: _Work, measurand: Measurand) -> list[Element]:
    """Tables with a box for each of these cells: the first axes down, the others across, as many as fit."""
    axes = list(dict.fromkeys(axis for cell in cells for axis in cell.place))
    labels = {axis: [*dict.fromkeys(cell.place[axis] for cell in cells)] for axis in axes}
    at = {tuple(cell.place.values()): cell for cell in cells}
    split = max(len(axes) - 1, 0)
    while split > 1 and prod(len(labels[axis]) for axis in axes[split - 1 :]) <= ACROSS:
        split -= 1
    rows, columns = _stations(axes[:split], labels), _stations(axes[split:], labels)
    runs = ceil(len(columns) / ACROSS)
    each = ceil(len(columns) / runs)
    return [_table(rows, columns[start : start + each], at, work, measurand) for start in range(0, len(columns), each)]


def _stations(axes: Sequence[str], labels: Mapping[str, Sequence[str]]) -> list[Station]:
    """Every place along these axes, which have these labels."""
    return [dict(zip(axes, each, strict=True)) for each in product(*(labels[axis] for axis in axes))]


def _table(
    rows: Sequence[Station],
    columns: Sequence[Station],
    at: Mapping[tuple[str, ...], Cell],
    work: _Work,
    measurand: Measurand,
) -> Element:
    corner = [element("td", {})] if any(rows) else []
    heads = [element("th", {"scope": "col"}, place(column)) for column in columns]
    head = [element("thead", {}, element("tr", {}, corner, heads))] if any(columns) else []
    high = {"style": f"height: {LINE * measurand.repeats}mm"} if measurand.repeats > 1 else {}
    body = []
    for row in rows:
        lead = [element("th", {"scope": "row", "class": "row-label"}, place(row))] if row else []
        found = [at.get((*row.values(), *column.values())) for column in columns]
        boxes = [element("td") if cell is None else _box(cell, work, high) for cell in found]
        body.append(element("tr", {}, lead, boxes))
    return element("table", {"class": "boxes"}, head, element("tbody", {}, body))


def _box(cell: Cell, work: _Work, style: dict[str, str]) -> Element:
    """A box to write in, with what was read there already; which cell of the sheet it is can be read back."""
    figure = work.figures.get(cell.spot, "")
    sort = "box long" if len("".join(element("td", {}, figure).itertext())) > FITS else "box"
    spot = " ".join((cell.measurand.name, *cell.station, *(cell.position or ())))
    return element("td", {"class": sort, "data-cell": spot, **style}, figure)


def _signing(sign_offs: Sequence[SignOff], work: _Work) -> Element:
    """A row for each question, with one for each place where it is asked apart; what stands signed is printed."""
    heads = [element("th", {"scope": "col", "class": sort}, said) for sort, said in _SIGNED]
    rows = [row for sign_off in sign_offs for row in _question(sign_off, work)]
    head, body = element("thead", {}, element("tr", {}, heads)), element("tbody", {}, rows)
    return element("table", {"class": "signing"}, head, body)


_SIGNED = (("question", "Question"), ("answer", "Yes or no"), ("who", "Initials"), ("day", "Date"))
_ANSWERED = {"signed": "yes", "answered no": "no"}


def _question(sign_off: SignOff, work: _Work) -> Iterator[Element]:
    signatures = work.examination.sign_offs
    asked = [each for each in _stations(sign_off.at, work.sheet.labels) if signatures.applies(sign_off, each)]
    states = {place(each): signatures.state(sign_off.name, each) for each in asked}
    point = f"Before {name(sign_off.hold_point)}." if sign_off.hold_point else ""
    again = "Signed before later work: sign again." if "stale" in states.values() else ""
    caution = f"Caution: {sentence(sign_off.caution)}" if sign_off.caution else ""
    what = (sign_off.question, _quiet(" ".join(filter(None, (point, again, caution)))))
    if sign_off.at and asked:
        yield element("tr", {"class": "above"}, element("td", {"colspan": str(len(_SIGNED))}, what))
    for station in asked:
        state = states[place(station)]
        given = work.sheet.signed.get(sign_off.name, ()) if state in _ANSWERED else ()
        here = [each for each in given if touches(each.at, station, work.sheet, work.spec.axes)]
        by, on = (here[-1].by, f"{here[-1].on or ''}") if here else ("", "")
        head = element("th", {"scope": "row"}, place(station)) if station else element("td", {}, what)
        said = zip(("answer", "who", "day"), (_ANSWERED.get(state, ""), by, on), strict=True)
        yield element("tr", {}, head, [element("td", {"class": sort}, each) for sort, each in said])


def _quiet(said: str) -> list[Element]:
    return [element("div", {"class": "quiet"}, said)] if said else []


def _feet(spec: Specification, sheet: Sheet) -> Element:
    packs = ", ".join(f"{pack.name} {pack.version}" for pack in spec.packs)
    said = (
        f"Form of {sheet.file}, by the packs {packs}. Figures written here go into that sheet, where they are judged."
    )
    return element("footer", {}, element("p", {"class": "quiet"}, said))
