"""Closings of dangerous causes as entries tell them, with what came after each.

A closing names every reading and look that its writer knew. What comes or changes after it, on whatever device, may
bring the danger back: then the closing holds no longer, and stays to be seen.
"""

from collections.abc import Iterator, Sequence
from typing import cast

from fluewright.evidence.reading import Closing, How
from fluewright.record.fold import Current

KIND = "danger closed"
_MEASURED = frozenset(("reading", "line", "stretch"))


def known_in(entries: Sequence[Current]) -> list[str]:
    """Ids of all that was measured and counts, and of the changes made to it."""
    measured = [each for each in entries if each.read.entry.kind in _MEASURED and each.counts]
    ids = [each.read.entry.id for each in measured]
    return ids + [change.read.entry.id for each in measured for change in each.history]


def _names(entry: Current, entries: Sequence[Current]) -> Iterator[str]:
    """Readings and looks that an entry speaks of."""
    kind, body = entry.read.entry.kind, entry.body
    if kind == "reading":
        yield str(body["name"])
    elif kind == "line":
        yield str(body["typed"].get("look", ""))
        yield from (str(value.get("quantity", "")) for value in body.get("understood", {}).values())
    elif entry.struck:
        inside = (each for each in entries if each.body.get("stretch") == entry.read.entry.id)
        yield from (str(each.body["name"]) for each in inside if each.read.entry.kind == "reading")


def _since(knows: frozenset[str], entries: Sequence[Current]) -> frozenset[str]:
    """Readings and looks that came, were amended or were struck out after somebody knew some entries."""
    found: set[str] = set()
    for each in entries:
        if each.read.entry.kind not in _MEASURED:
            continue
        known = each.read.entry.id in knows
        amended = any(change.read.entry.id not in knows for change in each.history)
        if known != each.counts or (known and amended):
            found |= {*_names(each, entries)}
    return frozenset(found - {""})


def closings_in(entries: Sequence[Current]) -> tuple[Closing, ...]:
    """The closings of a visit that count, in the order of their entries."""
    found = []
    for each in entries:
        if each.read.entry.kind == KIND and each.counts:
            body = each.body
            how, since = cast(How, body["how"]), _since(frozenset(body.get("knows", ())), entries)
            to, when = str(body.get("to", "")), str(body.get("when", ""))
            found.append(Closing(str(body["danger"]), how, str(body["words"]), to, when, since))
    return tuple(found)
