"""What has to hold of every form that other programs read, and of a record held against itself, whatever the sheet."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator
from xml.etree import ElementTree as Xml

from specrules.output.csv_tables import findings_table, readings_table
from specrules.output.junit_suites import suite
from specrules.output.sarif_runs import run
from specrules.output.table_columns import FINDING_COLUMNS, READING_COLUMNS
from specrules.record import Record
from specrules.record.record_comparison import compare
from specrules.record.standing import standing_of


def of_forms(kept: Record) -> Iterator[tuple[bool, str]]:
    """Whether each thing holds, and what it is where it does not."""
    made = Xml.fromstring(suite(kept))
    red = any(int(made.attrib[each]) for each in ("failures", "errors"))
    yield red == (kept.verdict != "clear"), "a suite that says another thing than the verdict"
    results = json.loads(run(kept, every=True))["results"]
    yield len(results) == len(kept.findings) + len(kept.sign_offs), "a result that is lacking"
    for table, columns in ((findings_table, FINDING_COLUMNS), (readings_table, READING_COLUMNS)):
        rows = list(csv.reader(io.StringIO(table(kept), newline=""), strict=True))
        yield bool(rows) and {len(row) for row in rows} == {len(columns)}, "a row of another width"
    yield standing_of(kept, kept).as_it_was, "a record that does not stand against itself"
    same = compare(kept, kept)
    yield not (same.findings or same.readings), "a record that moved against itself"
