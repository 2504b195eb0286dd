"""Words of the house for findings about draft and venting, by code."""

from fluewright.report.words.words import Words

WORDS: dict[str, Words] = {}
