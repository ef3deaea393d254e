"""The picture in the README is there, is small, has words in its stead, and can be made again."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from specrules.sheet.picture_formats import picture_format
from tests.cli.browser import in_browser
from tests.output.picture_of_page import PICTURE, ROOT, picture


def test_the_readme_has_the_picture_and_words_in_its_stead() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    ((words, file),) = re.findall(r"!\[([^\]]*)\]\(([^)]*)\)", readme)
    assert ROOT / file == PICTURE
    assert len(words) > 40
    data = PICTURE.read_bytes()
    assert len(data) < 150_000
    kind = picture_format(data)
    assert kind is not None
    assert kind[0] == "image/png"
    assert 800 <= kind[1] <= 2000


@in_browser
@pytest.mark.skipif(not shutil.which("pdftoppm"), reason="no Poppler is installed")
@pytest.mark.second_lane
def test_it_can_be_made_again(tmp_path: Path) -> None:
    """As large as it is: another system has other letters, and so no two are the same."""
    pytest.importorskip("PIL")
    assert picture_format(picture(tmp_path)) == picture_format(PICTURE.read_bytes())
