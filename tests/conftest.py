"""Makes the helpers that lie in this folder known to the tests in the folders below it."""

from __future__ import annotations

import os
import tempfile

os.environ["XDG_CACHE_HOME"] = tempfile.mkdtemp(
    prefix="specrules-tests-"
)  # plans of tests are kept apart from a user's
