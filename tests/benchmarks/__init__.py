"""Measurements, run by hand: `python -m tests.benchmarks.run`. Ratios are compared, never seconds of one machine."""
