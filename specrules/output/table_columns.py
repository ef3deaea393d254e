"""The headings of tables, apart from what makes their rows: every run knows them, and few make a table."""

from specrules.output.marks import FINDINGS, READINGS

OF_SHEET = ("specrules", "sheet", "job")
FINDING_COLUMNS = (
    *OF_SHEET,
    *("rule", "title", "group", "pack", "station"),
    *("verdict", "would_be", "side", "value", "U", "low", "high", "unit"),
    *("least", "aim", "most", "wear_least", "wear_most", "beyond", "beyond_at_most"),
    *("importance", "hold_point", "holds", "open", "conceded", "way", "readings", "missing", "fault"),
)
"""What is judged; what it comes to; by which limits, and how far beyond; what that means for the job, and why."""
READING_COLUMNS = (
    *OF_SHEET,
    *("name", "station", "position"),
    *("value", "low", "high", "U", "unit", "gauge", "written", "state", "taken"),
    *("replaced", "confirmed", "pictures", "file", "line", "column", "fault"),
)
"""What was read; what it was read as; what else is known of it, and where it stands."""
FINDINGS_HEADING = FINDINGS + ",".join(FINDING_COLUMNS[len(OF_SHEET) + 1 :]) + "\r\n"
READINGS_HEADING = READINGS + ",".join(READING_COLUMNS[len(OF_SHEET) + 1 :]) + "\r\n"
