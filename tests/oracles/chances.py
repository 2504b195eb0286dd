"""Seeded random states, at least a thousand for each witness, the same ones in every run."""

import numpy as np

STATES = 1000

Names = tuple[str, ...]


def dice(seed: int) -> np.random.Generator:
    """A source of chance that repeats itself."""
    return np.random.default_rng(seed)


def shares(chance: np.random.Generator, names: Names, *, most: int) -> dict[str, float]:
    """One to `most` of the names with random shares that sum to 1."""
    chosen = chance.choice(len(names), size=chance.integers(1, most + 1), replace=False)
    parts = chance.dirichlet(np.ones(len(chosen)))
    return {names[index]: float(part) for index, part in zip(chosen, parts, strict=True)}
