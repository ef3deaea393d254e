"""The JSON Schema of a study's file, for editors."""

from __future__ import annotations

from specrules.study.study_model import StudyFile
from specrules.validation.editors import Schema, schema_of


def study_schema() -> Schema:
    """The JSON Schema of a gauge's repeatability study."""
    return schema_of(StudyFile, "Gauge study")
