"""The journal: immutable entries, their proof, and the stores that keep them. Knows no physics and no rules."""
