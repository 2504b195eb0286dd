"""Recorded traces: read with every doubt written down, surveyed, cut into steady stretches, compared."""
