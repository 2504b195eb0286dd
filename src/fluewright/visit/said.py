"""What an entry of a visit says, in words: how it was understood, for who typed it and for who reads it later."""

from collections.abc import Mapping, Sequence
from typing import Any

from fluewright.quantity import names
from fluewright.record.fold import Current
from fluewright.record.shape import HASH, ID
from fluewright.visit import trade
from fluewright.visit.as_checks import words_of

_HIDDEN = (
    "visit",
    "stretch",
    "under",
    "understood",
    "condition",
    "of",
    "knows",
    "appliance",
    "instrument",
    "appliances",
)
"""Fields that lead elsewhere and say nothing by themselves."""


def words(kind: str, body: Mapping[str, Any], *, within: str = "") -> str:
    """One entry in words.

    kind    its kind
    body    its fields
    within  for a reading, the word of its stretch
    -> a phrase without full stop
    """
    if kind == "reading":
        where = f", at {body['point']}" if body.get("point") else ""
        return f"{reading(body)}{where}" + (f", {within}" if within else "")
    if kind == "line":
        return f"{body['table'].replace('_', ' ').replace('.', ', ')}: " + ", ".join(
            f"{name.replace('_', ' ')} {_flat(value)}" for name, value in body["typed"].items()
        )
    if kind == "check" and "visit" in body:
        return f"{body['time']} {words_of(body)}" if body.get("time") else words_of(body)
    if kind == "file":
        return f"photograph: {body.get('place') or body.get('words') or 'not said of what'}"
    if kind == "not measured":
        return f"{body['what']}: not measured, because {body['because']}"
    if kind == "stretch":
        return f"new stretch: {body['word']}"
    if kind == "notice":
        told = f"; told: {body['told']}" if body.get("told") else ""
        return f"danger: {body['words']}; consent to shutting down: {body['consent']}{told}"
    if kind == "danger closed":
        by = ", ".join(str(body[name]) for name in ("to", "when") if body.get(name))
        return f"danger {body['danger']} {body['how']}{f' to {by}' if by else ''}: {body['words']}"
    if kind == "seal":
        return f"sealed by {body.get('name') or 'the device'}: {body['meaning']}"
    return f"{kind}: {body['word']}" if "word" in body else f"{kind}: {_flat(body)}"


def reading(body: Mapping[str, Any], *, short: bool = False) -> str:
    """A reading with its value as typed, and the unit it was taken to be in where none was typed.

    short  in the words of the trade, for whoever has just typed it
    """
    value = body["value"]
    text, unit = str(value["typed"]), str(value.get("typed_unit", ""))
    if short:
        return f"{trade.words(body['name'])} {trade.value(text, unit)}"
    bare = not any(sign.isalpha() or sign in '%"°' for sign in text.replace("rising", "").replace("..", ""))
    shown = f"{text} {unit}" if bare and unit not in ("", "1") and any(sign.isdigit() for sign in text) else text
    return f"{names.named(body['name']).words} {shown}"


def _short(body: Mapping[str, Any]) -> str:
    units = {key: str(value.get("typed_unit", "")) for key, value in body.get("understood", {}).items()}
    return trade.line(body["table"], body["typed"], {key: unit for key, unit in units.items() if unit not in ("", "1")})


def _flat(value: Any) -> str:
    """A field in one line, without ids."""
    if isinstance(value, Mapping):
        if isinstance(value.get("typed"), str):
            return str(value["typed"])
        return ", ".join(f"{key.replace('_', ' ')} {_flat(each)}" for key, each in value.items() if _says(key, each))
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list | tuple):
        return ", ".join(map(_flat, value))
    return str(value)


def _says(key: str, value: Any) -> bool:
    return key not in _HIDDEN and not (isinstance(value, str) and (ID.fullmatch(value) or HASH.fullmatch(value)))


def stretches(entries: Sequence[Current]) -> dict[str, str]:
    """Words of the stretches of a visit by their ids."""
    held = (each for each in entries if each.read.entry.kind == "stretch")
    return {each.read.entry.id: str(each.body.get("word", "")) for each in held}


def each(entries: Sequence[Current], some: Sequence[Current]) -> tuple[str, ...]:
    """Some entries of a visit in words, one by one."""
    known = stretches(entries)
    return tuple(
        words(one.read.entry.kind, one.body, within=known.get(str(one.body.get("stretch", "")), "")) for one in some
    )


def together(entries: Sequence[Current], some: Sequence[Current], *, short: bool = False) -> str:
    """What one typed line was understood as, in one sentence: as found: oxygen 4.3 %, carbon monoxide 38 ppm.

    entries  all of the visit
    some     those of the line
    short    readings in the words of the trade
    -> a sentence without full stop; empty for none
    """
    known = stretches(entries)
    read: dict[tuple[str, str], list[str]] = {}
    others = []
    for one in some:
        kind, body = one.read.entry.kind, one.body
        if kind == "reading":
            word = known.get(str(body.get("stretch", "")), "")
            read.setdefault((word, str(body.get("point", ""))), []).append(reading(body, short=short))
        elif kind != "stretch":
            others.append((_short(body) if short and kind == "line" else "") or words(kind, body))
    told = [f"{word}{f', at {point}' if point else ''}: {', '.join(values)}" for (word, point), values in read.items()]
    text = "; ".join([*told, *others])
    return text[:1].upper() + text[1:]
