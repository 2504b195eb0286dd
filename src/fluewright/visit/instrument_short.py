"""A try of the instrument on one typed line: `zero outdoors o2 20.9 co 0 on 12 min altitude 520 m`.

    zero PLACE [o2 VALUE] [co VALUE] [on MINUTES] [altitude VALUE | barometer VALUE]
    closing zero PLACE co VALUE [o2 VALUE]
    leak check tight | leaks [WORDS]
    response SECONDS
    beside NAME: VALUE here, VALUE there

PLACE is outdoors, doorway or inside.
"""

import re
from collections.abc import Mapping

from fluewright.evidence.checked import PLACES

_KEYS: Mapping[str, str] = {
    "o2": "oxygen", "oxygen": "oxygen", "co": "monoxide", "on": "on", "altitude": "altitude", "barometer": "barometer",
}  # fmt: skip
_ZERO = re.compile(rf"(?P<what>zero|closing zero)\s+(?P<place>{'|'.join(PLACES)})(?P<rest>(?:\s+.*)?)", re.IGNORECASE)
_KEY = re.compile(rf"(?:^|[\s,]+)({'|'.join(_KEYS)})\s+", re.IGNORECASE)
_LEAK = re.compile(r"leak check\s+(?P<result>tight|leaks)(?:[,\s]+(?P<how>.+))?", re.IGNORECASE)
_RESPONSE = re.compile(r"response\s+(?P<response>\d.*)", re.IGNORECASE)
_BESIDE = re.compile(r"beside\s+(?P<other>[^:]+):\s*(?P<here>.+?)\s+here,?\s+(?P<there>.+?)\s+there", re.IGNORECASE)
_TIME = re.compile(r"\s+at\s+(?P<time>\d{1,2}:\d\d)$")


def _zero(found: re.Match[str]) -> dict[str, str] | None:
    """A zero with what it showed; None where something of it is not understood."""
    parts = _KEY.split(found["rest"])
    if parts[0].strip(" ,"):
        return None
    pairs = {_KEYS[key.lower()]: value.strip(" ,") for key, value in zip(parts[1::2], parts[2::2], strict=True)}
    if any(not value for value in pairs.values()):
        return None
    return {"what": found["what"].lower(), "place": found["place"].lower(), **pairs}


def fields_of(text: str) -> dict[str, str] | None:
    """The row of the table of checks that a typed line means; None where it means none.

    text  one line
    -> fields by key, figures as typed
    """
    line = text.strip()
    timed = _TIME.search(line)
    if timed is not None:
        line = line[: timed.start()]
    fields: dict[str, str] | None = None
    if found := _ZERO.fullmatch(line):
        fields = _zero(found)
    elif found := _LEAK.fullmatch(line):
        fields = {"what": "leak", "result": found["result"].lower()} | ({"how": found["how"]} if found["how"] else {})
    elif found := _RESPONSE.fullmatch(line):
        fields = {"what": "response", "response": found["response"]}
    elif found := _BESIDE.fullmatch(line):
        fields = {"what": "cross-check", **{key: value.strip() for key, value in found.groupdict().items()}}
    return None if fields is None else fields | ({"time": timed["time"]} if timed is not None else {})
