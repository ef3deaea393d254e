"""Files that people write, held against models: what models are made of, every fault of a file, schemas for editors."""

from specrules.validation.base import FileModel, SomeModel
from specrules.validation.checking import and_more, checked, fits, headed, not_a_word

__all__ = ["FileModel", "SomeModel", "and_more", "checked", "fits", "headed", "not_a_word"]
