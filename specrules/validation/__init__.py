"""Files that people write, held against models: what models are made of, every fault of a file, schemas for editors."""

from specrules.validation.base import FileModel, SomeModel
from specrules.validation.checking import MOST_FAULTS, and_more, checked, headed, not_a_word

__all__ = ["MOST_FAULTS", "FileModel", "SomeModel", "and_more", "checked", "headed", "not_a_word"]
