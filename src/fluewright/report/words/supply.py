"""Words of the house for findings about gas and oil supply, by code."""

from fluewright.report.words import gas_input, gas_pipe
from fluewright.report.words.words import Words

WORDS: dict[str, Words] = {**gas_input.WORDS, **gas_pipe.WORDS}
