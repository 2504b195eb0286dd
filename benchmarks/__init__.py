"""Measured speed beside peers and the physical limit: `python -m benchmarks`."""
