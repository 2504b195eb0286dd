"""What each instrument showed: figures by instrument and visit, so that its visits are found without opening them."""

from collections.abc import Iterator, Sequence
from typing import Any

from sqlalchemy import Column, Index, Integer, Table, delete, insert, select
from sqlalchemy.engine import Connection

from fluewright.record.views.frame import NUMBER, VIEWS, Taken, Unit, parts, text, written

NAME = "shown"
VERSION = 2

SHOWN = Table(
    "view_shown",
    VIEWS,
    Column("arrival", NUMBER, primary_key=True, autoincrement=False),
    Column("place", Integer, primary_key=True, autoincrement=False),
    text("instrument"),
    text("day"),
    text("visit"),
    text("stretch"),
    text("point"),
    text("name"),
    text("figure"),
    text("condition"),
    text("jurisdiction"),
)
"""place: number of the figure in its entry. figure: in the canonical unit as kept; empty where the entry does not say.
point: kind and class of the sampling point, where its stretch says any. condition: what the visit says of the
instrument."""
Index("view_shown_instrument", SHOWN.c.instrument, SHOWN.c.day)
TABLES = (SHOWN,)
KINDS = frozenset({"visit", "stretch", "reading", "line", "check"})

UNSAID = ""
"""Figure of what lies in a file, was never understood, or was amended; its name is then table and key, and whoever asks
has to look into the visit."""

MOVED = "moved"
"""Key beside what the visit says of the instrument: what its zeros showed."""

APPLIANCE = "appliance"
"""Key beside it: what the visit says of the kind of its appliance, since limits speak by that."""
OF_KIND = ("class", "burner", "condensing")


def _figures(each: Taken) -> Iterator[tuple[str, str]]:
    """Quantities and figures of one entry; of a range or a bound its ends."""
    body = each.current.body
    if each.kind == "stretch":
        yield from (("stretch.trace", UNSAID) for key in ("trace", "trace_block") if key in body)
        return
    known = (body.get("understood") or {}) if each.kind == "line" else {}
    held = [one for one in known.values() or (body.get("value"),) if isinstance(one, dict)]
    for one in held:
        ends = [one[end] for end in ("figure", "least", "most") if isinstance(one.get(end), str)]
        yield from ((str(one.get("quantity", "")), end) for end in ends or [UNSAID])
    if each.kind == "line":
        doubtful = not held or each.current.history
        keys = [key for key in body["typed"] if key not in known and (doubtful or key == "trace")]
        yield from ((f"{each.words('table')}.{key}", UNSAID) for key in keys)


def _moved(unit: Unit) -> dict[str, str]:
    """The carbon monoxide that zeros of the visit showed, where it was not nothing: readings carry it as doubt."""
    seen = [(each.current.body.get("seen") or {}).get("monoxide") for each in unit.counting("check")]
    figures = [one["figure"] for one in seen if isinstance(one, dict) and float(one.get("figure", 0.0))]
    return {MOVED: ",".join(figures)} if figures else {}


def _kind(unit: Unit) -> dict[str, dict[str, str]]:
    """What is said of the kind of the appliance; empty for nothing."""
    tables = [each.current.body["typed"] for each in unit.counting("line") if each.words("table") == "appliance"]
    said = {key: str(one[key]) for one in tables for key in OF_KIND if key in one}
    return {APPLIANCE: said} if said else {}


def _about(unit: Unit) -> dict[str, str]:
    """What every row of a visit has alike; empty for a visit that names no instrument."""
    lines = unit.counting("line")
    about = [each for each in lines if each.words("table") == "instrument" and each.words("instrument")]
    if not about:
        return {}
    condition = {key: value for each in about for key, value in each.current.body["typed"].items()}
    visits = unit.counting("visit")
    said = {key: next((each.words(key) for each in visits), "") for key in ("day", "jurisdiction")}
    return {
        "instrument": about[-1].words("instrument"),
        "condition": written({**condition, **_moved(unit), **_kind(unit)}),
        **said,
    }


def _rows(unit: Unit) -> Iterator[dict[str, Any]]:
    about, stretches = _about(unit), unit.counting("stretch")
    if not about:
        return
    points = {each.id: f"{each.words('point_kind')} {each.words('point_class')}".strip() for each in stretches}
    for each in (*stretches, *unit.counting("reading", "line")):
        if each.words("table") == "instrument":
            continue
        own = {"instrument": each.words("instrument") or about["instrument"], "stretch": each.words("stretch")}
        own |= {"visit": each.words("visit"), "point": points.get(each.words("stretch"), "")}
        for place, (name, figure) in enumerate(_figures(each)):
            yield {**about, **own, "arrival": each.arrival, "place": place, "name": name, "figure": figure}


def take(connection: Connection, units: Sequence[Unit]) -> None:
    """Fold units into the table; a visit that names no instrument has no rows in it."""
    old = [arrival for unit in units if unit.again for arrival in unit.arrivals]
    for some in parts(old):
        connection.execute(delete(SHOWN).where(SHOWN.c.arrival.in_(some)))
    rows = [row for unit in units for row in _rows(unit)]
    if rows:
        connection.execute(insert(SHOWN), rows)


def between(connection: Connection, instrument: str, first: str, last: str) -> Sequence[Any]:
    """What an instrument showed in visits from one day to another, both counted: rows with the fields named here."""
    told = ("visit", "stretch", "point", "name", "figure", "condition", "jurisdiction")
    asked = select(*(SHOWN.c[name] for name in told)).where(
        SHOWN.c.instrument == instrument, SHOWN.c.day >= first, SHOWN.c.day <= last
    )
    return connection.execute(asked).all()
