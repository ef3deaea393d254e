"""Forms and cards of small sheets, made without a file and read back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from xml.etree.ElementTree import Element

from specrules.inspection import Examination, Options
from specrules.output.blank_form import form_to_print
from specrules.output.limits_card import card_to_print
from specrules.pack.needing import covered_by_job
from specrules.sheet import read_sheet
from specrules.sheet.cells import Cell, cells_of_sheet, in_order_of_work
from tests.inspecting import FILE, settled
from tests.output.page_reading import safe_page
from tests.output.small_screen import PACKS, build


def form(body: str, packs: Mapping[str, str] = PACKS, asked: str = "base") -> tuple[Element, Sequence[Cell]]:
    """The form of a sheet with these sections, read back, and the cells that it is of, in the order of the work."""
    return form_of(build(body, asked), packs)


def form_of(sheet: str, packs: Mapping[str, str] = PACKS) -> tuple[Element, Sequence[Cell]]:
    """The same of a whole sheet."""
    read, spec, faults = settled(sheet, packs)
    raw, _ = read_sheet(sheet.encode(), FILE)
    assert read is not None, faults
    assert spec is not None
    assert raw is not None
    examined = Examination(read, spec, Options())
    job = covered_by_job(examined.spec, read.scope, read.until)
    cells = [each for each in cells_of_sheet(raw, read, examined.spec) if each.measurand.name in job.measurands]
    steps = in_order_of_work(cells, job.sign_offs.values(), examined.spec.groups)
    return safe_page(form_to_print(examined, job, steps)), [each for each in steps if isinstance(each, Cell)]


def card(body: str, packs: Mapping[str, str] = PACKS, asked: str = "base") -> Element:
    """The card of a sheet with these sections, read back."""
    return card_of(build(body, asked), packs)


def card_of(sheet: str, packs: Mapping[str, str] = PACKS) -> Element:
    """The same of a whole sheet."""
    read, spec, faults = settled(sheet, packs)
    assert read is not None, faults
    assert spec is not None
    examined = Examination(read, spec, Options())
    return safe_page(card_to_print(examined, covered_by_job(examined.spec, read.scope, read.until)))
