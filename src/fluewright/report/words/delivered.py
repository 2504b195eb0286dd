"""Words of the house for findings about heat delivered, by code."""

from fluewright.report.words.words import Words

WORDS: dict[str, Words] = {}
