"""Proving a pack: its limits held in order and its worked examples worked, as a machinist proves out a setup."""

from specrules.proving.parts import CameFrom, Proof, ProofRemark, RemarkKind
from specrules.proving.prove import prove

__all__ = ["CameFrom", "Proof", "ProofRemark", "RemarkKind", "prove"]
