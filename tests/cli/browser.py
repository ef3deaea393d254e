"""Pages in a browser without a window, where one is installed: as they are printed."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

BROWSER = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), "")
QUIET = (
    *("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--no-pdf-header-footer"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
)

in_browser = pytest.mark.skipif(not BROWSER, reason="no Chromium is installed")


def run(folder: Path, page: Path, *options: str) -> str:
    """What the browser says of a page; `folder`: for a profile of its own, which nothing else has used."""
    profile = folder / f"profile-{len(list(folder.glob('profile-*')))}"
    asked = [BROWSER, *QUIET, f"--user-data-dir={profile}", *options, page.as_uri()]
    ran = subprocess.run(asked, capture_output=True, text=True, timeout=120, check=True)
    return ran.stdout


def measured(folder: Path, text: str, script: str, wide: int) -> str:
    """What a script of ours finds on a page that is so many pixels wide, as a page. Its policy, which forbids scripts,
    is taken off for that."""
    policy = text.index('<meta http-equiv="Content-Security-Policy"')
    bare = text[:policy] + text[text.index(">", policy) + 1 :]
    with_script = bare.replace(
        "</body>", f'<script>document.body.setAttribute("data-found", JSON.stringify({script}))</script></body>'
    )
    page = folder / "measured.html"
    page.write_text(with_script, encoding="utf-8")
    return run(folder, page, f"--window-size={wide},1200", "--dump-dom")
