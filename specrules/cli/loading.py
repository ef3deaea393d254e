"""Names under which `inspect` imports what stands in `effects`; goes with the last of them."""

from specrules.effects.workspace import Faults
from specrules.effects.workspace import Workspace as Shelf

__all__ = ["Faults", "Shelf"]
