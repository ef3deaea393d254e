"""The hooks: everything that a plugin may offer. Each is called once, after all plugins are loaded, and takes nothing.

A hook returns a list, or None for nothing. What it returns is checked and copied; where anything in it is at fault the
whole plugin is named and set aside, and the inspection goes on without it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from pluggy import HookimplMarker, HookspecMarker

from specrules.formula import Function
from specrules.plugins.offers import Form, Gauge
from specrules.quantity import Unit

GROUP = "specrules"
"""The group of entry points, and the project name of the markers."""

hookspec = HookspecMarker(GROUP)
hookimpl = HookimplMarker(GROUP)


@hookspec
def pack_folders() -> Sequence[Path] | None:
    """Folders of tolerance packs that come with the plugin, as absolute paths."""


@hookspec
def functions() -> Sequence[Function] | None:
    """Functions that formulas may call."""


@hookspec
def units() -> Mapping[Unit, Sequence[str]] | None:
    """Units, each with the further names that it is written by."""


@hookspec
def gauge_classes() -> Sequence[Gauge] | None:
    """Kinds of gauge, and what each can do."""


@hookspec
def forms() -> Sequence[Form] | None:
    """Forms of output, for `specrules inspect --form NAME`."""
