"""A specification as a plan: plain data, kept between runs, read with every part checked, sealed by its digest."""

from specrules.plan.codec import Unreadable, decode, encode
from specrules.plan.kept import Plan, keep, restore
from specrules.plan.sealing import key_of

__all__ = ["Plan", "Unreadable", "decode", "encode", "keep", "key_of", "restore"]
