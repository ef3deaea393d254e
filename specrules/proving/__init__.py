"""Proving a pack: its limits held in order and its worked examples worked, as a machinist proves out a setup."""

from specrules.proving.proof_parts import CameFrom, Proof, ProofRemark, RemarkKind
from specrules.proving.proposals import Proposal
from specrules.proving.prover import propose, prove

__all__ = ["CameFrom", "Proof", "ProofRemark", "Proposal", "RemarkKind", "propose", "prove"]
