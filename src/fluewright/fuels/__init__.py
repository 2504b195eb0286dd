"""Fuels: a library of cited files, blends of them, and compositions that a person brings."""
