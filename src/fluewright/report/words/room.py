"""Words of the house for findings about room air and air for burning, by code."""

from fluewright.report.words.words import Words

WORDS: dict[str, Words] = {}
