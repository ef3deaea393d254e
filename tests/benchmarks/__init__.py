"""Benchmarks: run by hand, and once in CI without a limit. They print times and, what matters more, ratios."""
