"""Words of the house for findings that together are worse than each, by code."""

from fluewright.report.words.words import CLEAR_AIR, LEAVE_OFF, Words
from fluewright.rules.together import rows

_STOP = Words(
    "Two faults were found that make each other worse, and together they can bring carbon monoxide to people.",
    "Two faults made each other worse, and together they could have brought carbon monoxide to people.",
    "mend both, and test both again",
    CLEAR_AIR,
)
_ACT = Words(
    "Two faults were found that make each other worse.",
    "Two faults made each other worse.",
    "mend both, and test both again",
    LEAVE_OFF,
)

WORDS: dict[str, Words] = {row.id: _STOP if row.severity == "stop" else _ACT for row in rows()}
