"""Prints each dependency of pyproject.toml pinned to the lowest version that it allows."""

import re
import sys
import tomllib
from pathlib import Path

project = tomllib.loads(Path(sys.argv[1]).read_text())["project"]
for requirement in [*project["dependencies"], *project["optional-dependencies"]["test"]]:
    name, lowest = re.match(r"([\w.-]+)>=([\d.]+)", requirement).groups()
    sys.stdout.write(f"{name}=={lowest}\n")
