"""A gauge's repeatability study: read, taken apart by analysis of variance, and put into words that a sheet takes."""

from specrules.study.analysis import Analysis, analyse
from specrules.study.components import Component
from specrules.study.entry import gauge_entry
from specrules.study.study_parts import Study
from specrules.study.study_reading import read_study

__all__ = ["Analysis", "Component", "Study", "analyse", "gauge_entry", "read_study"]
