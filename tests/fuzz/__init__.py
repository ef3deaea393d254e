"""Inputs that nobody would write on purpose, by the thousand: each is altered from a sound one by a seed.

What has to hold of every input stands in `attempts.py`; `python -m tests.fuzz --inputs 100000 --seed 1` runs more of
them than a test does and prints its counts.
"""
