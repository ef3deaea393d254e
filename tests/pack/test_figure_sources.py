"""Where each figure of a kind of gauge comes from: its own source where it has one, else that of its range, else its
class's."""

from __future__ import annotations

from decimal import Decimal

import pytest

from specrules.pack import Source
from tests.pack.small_packs import BASE, faults_of, resolved, upper

OLD = """\
  bore gauge:
    resolution: 0.0001 in
    mpe: 0.0001 in
    source: {kind: from memory}
"""
NEW = """\
  bore gauge:
    resolution: 0.0001 in
    mpe: 0.0005 in
    repeatability: 0.00005 in
    by size:
      - {over: 0 mm, to: 50 mm, mpe: 0.004 mm}
      - {over: 50 mm, to: 100 mm, mpe: 0.005 mm, source: house}
    source: {kind: published, document: A standard, edition: "1999"}
    sources: {repeatability: from memory, resolution: the maker's sheet of this gauge}
"""
assert OLD in BASE
SOURCED = BASE.replace(OLD, NEW)
STANDARD = Source("published", document="A standard", edition="1999")


@pytest.mark.parametrize(
    ("figure", "size", "source"),
    [
        ("mpe", 25, STANDARD),
        ("mpe", 75, Source("house")),
        ("mpe", 125, STANDARD),  # past every range the figure for all sizes holds
        ("repeatability", 75, Source("from memory")),  # the range says nothing of it
        ("resolution", 75, Source("maker", "the maker's sheet of this gauge")),
    ],
)
def test_the_source_of_a_figure_at_a_size(figure: str, size: int, source: Source) -> None:
    assert resolved(SOURCED).gauge_classes["bore gauge"].source_of(figure, Decimal(size)) == source


@pytest.mark.parametrize(
    ("source", "said"),
    [
        ("sources: {repeatability: {kind: published}}", "is published and names no document"),
        ("sources: {repeatability: published}", "is published and names no document"),
        ("sources: {bumps: house}", "bumps"),
        ("sources: {mpe: {kind: hearsay}}", "hearsay"),
    ],
)
def test_what_is_no_source(source: str, said: str) -> None:
    faults = faults_of(BASE.replace(OLD, OLD + f"    {source}\n"))
    assert said in " ".join(fault.sentence() for fault in faults)


def test_a_published_class_names_its_document() -> None:
    faults = faults_of(BASE.replace(OLD, OLD.replace("from memory", "published")))
    assert ["bore gauge source: is published and names no document" in fault.sentence() for fault in faults] == [True]


def test_an_amendment_replaces_one_source_whole_and_leaves_the_others() -> None:
    amend = """\
  gauge classes:
    bore gauge:
      reason: Studied here.
      repeatability: 0.00004 in
      sources: {repeatability: {kind: house, note: study of May}}
"""
    sources = resolved(SOURCED, upper("top", amend)).gauge_classes["bore gauge"].sources
    assert sources["repeatability"] == Source("house", "study of May")
    assert sources["resolution"].kind == "maker"


def test_no_verdict_hangs_on_a_source() -> None:
    assert (
        resolved(SOURCED).seal == resolved(SOURCED.replace("repeatability: from memory", "repeatability: house")).seal
    )
    assert resolved(SOURCED).seal != resolved(SOURCED.replace("mpe: 0.004 mm", "mpe: 0.003 mm")).seal
