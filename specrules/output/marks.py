"""What the files of each form begin with: by it a later run knows them for its own, and may replace them.

A report replaces what bears a mark, an empty file, and with `--replace` any other; never what the run reads, told by
what it is on the disk.
"""

REPORT = "specrules: inspection-report/1\n"
STUDY = "specrules: study-report/1\n"
CHANGES = "specrules: comparison-report/1\n"
CLASS = "specrules: class-report/1\n"
ENTRY = "# specrules: gauge-entry/1\n"
RECORD = '{\n "specrules": "inspection-record/'
COMPARISON = '{\n "specrules": "record-comparison/'
BUNDLE = '{\n "specrules": "pack-bundle/'
RECORDS = '{"specrules":"inspection-record/'
"""One record a line."""
FINDINGS = "\ufeffspecrules,sheet,job,rule,"
READINGS = "\ufeffspecrules,sheet,job,name,"
"""The headings of tables: first the version of what wrote the row."""
SUITES = '<?xml version="1.0" encoding="UTF-8"?>\n<testsuites name="specrules'
RUNS = (
    '{\n "$schema": "https://json.schemastore.org/sarif-2.1.0.json",\n "version": "2.1.0",\n'
    ' "properties": {"made by": "specrules'
)
_PAGE = "<!doctype html>\n<!-- specrules: "
BLANK = f"{_PAGE}blank-form/1 -->\n"
CARD = f"{_PAGE}limits-card/1 -->\n"
PAGE = f"{_PAGE}inspection-page/1 -->\n"
CHANGES_PAGE = f"{_PAGE}comparison-page/1 -->\n"
CLASS_PAGE = f"{_PAGE}class-page/1 -->\n"
INDEX = f"{_PAGE}inspection-index/1 -->\n"

MARKS = (
    *(REPORT, STUDY, CHANGES, CLASS, ENTRY, RECORD, COMPARISON, BUNDLE, RECORDS, FINDINGS, READINGS, SUITES, RUNS),
    *(BLANK, CARD, PAGE, CHANGES_PAGE, CLASS_PAGE, INDEX),
)
