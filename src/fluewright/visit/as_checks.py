"""What was tried on an instrument, between a row of the visit's tables and an entry of its own kind."""

from collections.abc import Callable, Mapping
from typing import Any

from fluewright.errors import VisitError
from fluewright.quantity import names, parse
from fluewright.quantity.meaning import Typed
from fluewright.visit.parts.instrument import BESIDE, READ_AS, TABLE, USUAL_GAS

__all__ = ["TABLE", "body_of", "row_of", "understood_in", "words_of"]

AIR = ("altitude", "barometer")
PLAIN = ("what", "time", "place", "how", "gas", "other")
TAKEN = "taken"
"""The result of a check that has none of its own in words."""

Value = Callable[[str, Typed | None, str], dict[str, str]]


def quantity_of(row: Mapping[str, Any], key: str) -> str:
    """Registry name of what stands under a key; empty for words."""
    if key in BESIDE:
        return names.named(str(row.get("gas", USUAL_GAS))).name
    return READ_AS.get(key, "")


def understood_in(row: Mapping[str, Any]) -> dict[str, Typed]:
    """The figures of a typed row; QuantityError for one that is none."""
    found = {key: quantity_of(row, key) for key in row}
    return {key: parse.parse(str(row[key]), quantity=name) for key, name in found.items() if name}


def body_of(
    row: Mapping[str, Any], typed: Callable[[str], Typed | None], value: Value, *, instrument: str
) -> dict[str, Any]:
    """An entry's body from a row.

    row         as typed
    typed       what a key was understood as
    value       how a figure is kept
    instrument  id; VisitError when the visit has none
    -> body without the visit
    """
    if not instrument:
        raise VisitError(
            code="FW-V-121",
            read=f"{row.get('what', 'a check')} of an instrument that nobody has named",
            expected="the visit to say what it is read with",
            matters="what was tried would belong to no instrument",
            do="type it first, such as `instrument: words = the grey meter`",
        )
    kept = {key: value(str(row[key]), typed(key), quantity_of(row, key)) for key in row if quantity_of(row, key)}
    body: dict[str, Any] = {"instrument": instrument, **{key: str(row[key]) for key in PLAIN if key in row}}
    body["result"] = str(row.get("result", TAKEN))
    air = {key: kept.pop(key) for key in AIR if key in kept}
    body |= {"minutes_on": kept.pop("on")} if "on" in kept else {}
    return body | ({"air": air} if air else {}) | ({"seen": kept} if kept else {})


def row_of(body: Mapping[str, Any]) -> dict[str, str]:
    """The row of a visit's tables from an entry's body."""
    row = {key: str(body[key]) for key in PLAIN if key in body}
    row |= {"result": body["result"]} if body["result"] != TAKEN else {}
    figures = {"on": body["minutes_on"]} if "minutes_on" in body else {}
    figures |= {**body.get("air", {}), **body.get("seen", {})}
    return row | {key: str(figure["typed"]) for key, figure in figures.items()}


NAMES = {"leak": "leak check", "response": "response to a step", "cross-check": "two instruments on the same gas"}
SAID = {"oxygen": "oxygen ", "monoxide": "carbon monoxide ", "altitude": "altitude ", "barometer": "barometer ",
        "response": "nine tenths after "}  # fmt: skip


def _figure(key: str, value: Mapping[str, Any]) -> str:
    """A figure as typed, with the unit it was taken in where none was typed."""
    text = str(value["typed"])
    unit = str(value.get("typed_unit", ""))
    bare = not any(sign.isalpha() or sign in '%"' for sign in text)
    return f"{SAID.get(key, '')}{text}{f' {unit}' if bare and unit not in ('', '1') else ''}"


def words_of(body: Mapping[str, Any]) -> str:
    """What was tried, in words without its time: zero outdoors, 12 min after switching on, carbon monoxide 0 ppm."""
    what = str(body["what"])
    head = f"{NAMES.get(what, what)} {body.get('place', '')}".strip()
    parts = [str(body["result"])] if body["result"] != TAKEN else []
    parts += [f"{body['minutes_on']['typed']} after switching on"] if "minutes_on" in body else []
    figures = {**body.get("air", {}), **body.get("seen", {})}
    beside = [figures.pop(key) for key in BESIDE if key in figures]
    parts += [_figure(key, value) for key, value in figures.items()]
    if len(beside) == len(BESIDE):
        here, there = (_figure("", value) for value in beside)
        parts.append(f"{here} here, {there} by {body.get('other', 'the other')}")
    parts += [str(body["how"])] if body.get("how") else []
    return f"{head}: {', '.join(parts)}" if parts else head
