"""Words of the house for findings about safety devices, vents and the house around them, by code."""

from fluewright.report.words.words import Words

WORDS: dict[str, Words] = {}
