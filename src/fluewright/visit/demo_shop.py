"""An invented shop to look around in: customers, appliances with a past, instruments, one open danger, things due.

Names and places are those of the invented shop of the simulator, readings those of its virtual appliances, worked out
by the same laws year after year: dirt grows, is brushed off, and grows again. Every visit is marked as invented.
"""

import random
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

from fluewright.quantity import names, units
from fluewright.record.draft import Draft
from fluewright.record.seal import Signer
from fluewright.simulate.designs import designs
from fluewright.simulate.faults import faults
from fluewright.simulate.shop import Invented, Size
from fluewright.simulate.visits import invented
from fluewright.visit import changing, closing, kept, once, sealing, shop_settings

if TYPE_CHECKING:
    from fluewright.record.journal import Journal
    from fluewright.record.keys import Key

SIZE = Size(customers=6, appliances=6, visits=0)
NUMBER = 6
TECHNICIAN = "T. Placeholder (invented)"
YEARS = 7
WHERE = "US-MN"

HEATING_VALUE = 1037.0
"""Btu/ft3 of the invented gas."""
COUNTED = 10.0
"""ft3 that a meter is watched for."""


@dataclass(frozen=True, slots=True)
class Life:
    """One appliance of the invented shop.

    design  of the simulator
    words   as a person calls it
    kind    class of appliance
    fault   what grows in it
    grows   severity that each year adds
    brushed years after which it is cleaned; its as-left readings are then without it
    missed  years in which nobody came
    """

    design: str
    words: str
    kind: str
    fuel: str
    fault: str
    grows: float
    brushed: int
    missed: tuple[int, ...] = ()


LIVES = (
    Life("oil", "oil boiler in the cellar", "oil-burner", "oil-2", "exchanger-sooted", 0.16, 1, (3,)),
    Life(
        "atmospheric-boiler", "gas boiler with a hood", "natural-draft-boiler", "natural-gas", "burner-dirty", 0.13, 9
    ),
    Life("induced-furnace", "furnace in the closet", "induced-draft", "natural-gas", "burner-dirty", 0.1, 3, (2,)),
    Life("premix-boiler", "wall boiler", "condensing-boiler", "natural-gas", "burner-dirty", 0.06, 4),
    Life("atmospheric-boiler", "water heater", "natural-draft-water-heater", "natural-gas", "burner-dirty", 0.05, 9),
    Life("oil", "oil boiler behind the shop", "oil-burner", "oil-2", "exchanger-sooted", 0.1, 2, (1, 4)),
)

READ = (
    ("oxygen_dry", "%", 1),
    ("carbon_monoxide_dry", "ppm", 0),
    ("flue_temperature", "F", 0),
    ("air_temperature", "F", 0),
    ("draft", "inwc", 3),
    ("smoke_spot", "", 0),
)
"""What is read on an invented visit, in which unit, with how many places."""


def _typed(name: str, value: float, symbol: str, places: int) -> str:
    quantity = names.of(name)
    there = value if not symbol else units.in_unit(value, unit=units.unit_named(symbol, quantity=quantity),
                                                   quantity=quantity)  # fmt: skip
    return f"{there:.{places}f} {symbol}".strip()


def _readings(life: Life, severity: float, seed: int) -> tuple[dict[str, str], float]:
    """One flame of an appliance: readings as typed, and its input in W."""
    design = designs()[life.design]
    seen = invented(noise=random.Random(seed), design=design, faults=[faults()[life.fault]], severities=[severity])
    typed = {name: _typed(name, seen.readings[name], symbol, places) for name, symbol, places in READ
             if name in seen.readings}  # fmt: skip
    return typed, seen.readings["fuel_input"]


def _tables(life: Life, place: Mapping[str, str], day: date, years: int, seed: int) -> dict[str, Any]:
    """One visit as tables; as left only where something was cleaned."""
    since = years % life.brushed if life.brushed <= YEARS else years
    grown = life.grows * (since or life.brushed if years else 0)
    chance = random.Random(f"{seed} {years}").uniform(0.8, 1.15)  # no two years are alike
    found, heat = _readings(life, min(grown * chance, 1.0), seed)
    tables: dict[str, Any] = {
        "visit": {"title": f"{life.words[:1].upper()}{life.words[1:]}, annual", "date": day.isoformat(),
                  "jurisdiction": WHERE, "technician": TECHNICIAN, "route": "annual", "units": "us", "invented": True,
                  "emergency": "911", "supplier": "the supplier, 555-0100 (invented)", **place},
        "appliance": {"words": life.words, "class": life.kind, "serial": f"NOT-REAL-{seed:04}"},
        "fuel": {"name": life.fuel},
        "instrument": {"words": "invented analyser one", "accuracy": "statutory", "calibration_due": day.isoformat(),
                       "zero": "outdoors"},
        "room": {"symptoms": "no"},
        "stretch": [{"word": "as found", "time": "09:20", "readings": found}],
    }  # fmt: skip
    if life.fuel == "natural-gas":
        flow = heat / 0.29307107 / HEATING_VALUE  # ft3/h, from W by the Btu of the International Table
        tables["gas_input"] = [{"dial": "2 ft3", "turns": int(COUNTED / 2), "time": f"{COUNTED / flow * 3600:.0f} s",
                                "compensated": "no", "heating_value": f"{HEATING_VALUE:.0f} Btu/ft3",
                                "heating_by": "a gas company that does not exist", "heating_when": "that week",
                                "meter": "billing"}]  # fmt: skip
    if years and years % life.brushed == 0:
        left, _ = _readings(life, 0.0, seed)
        tables["step"] = [{"time": "10:05", "word": "brushed, and soot taken out"}]
        tables["stretch"].append({"word": "as left", "time": "10:40", "readings": left})
    return tables


def _visits(today: date) -> Iterator[tuple[int, int, date]]:
    """Appliance, years since the first visit, and day of each visit, the oldest first."""
    found = [
        (at, year, today - timedelta(days=365 * (YEARS - 1 - year) + 17 * at + 9))
        for at, life in enumerate(LIVES)
        for year in range(YEARS)
        if year not in life.missed
    ]
    return iter(sorted(found, key=lambda each: each[2]))


def _shop(journal: "Journal") -> tuple[list[Mapping[str, str]], list[str]]:
    """Customers and sites of the simulator's invented shop kept; -> each as a visit names it, ids of instruments."""
    drafts = [each for each in next(Invented(SIZE, NUMBER).portions()) if each.kind not in ("appliance", "calibration")]
    marked = [Draft(each.kind, {**each.body, **({"name": f"{each.body['name']} (invented)"} if each.kind == "customer"
              else {"jurisdiction": WHERE} if each.kind == "site" else {})}, source="program", id=each.id)
              for each in drafts]  # fmt: skip
    journal.add_all(marked)
    names_of = {each.id: str(each.body["name"]) for each in marked if each.kind == "customer"}
    places = [{"site": str(each.body["address"]), "customer": names_of[each.body["customer"]]}
              for each in marked if each.kind == "site"]  # fmt: skip
    return list(places), [each.id for each in marked if each.kind == "instrument"]


def _instruments(journal: "Journal", ids: list[str], today: date) -> None:
    """One instrument fit for today, and one whose calibration ran out."""
    fit, late = ids

    def ago(days: int) -> str:
        return (today - timedelta(days=days)).isoformat()

    drafts = [
        Draft("calibration", {"instrument": fit, "day": ago(120), "due": ago(120 - 365), "by": "nobody real"}),
        Draft("calibration", {"instrument": late, "day": ago(400), "due": ago(35), "by": "nobody real"}),
        Draft("check", {"instrument": fit, "what": "zero", "result": "0 ppm after 60 s", "place": "outdoors"}),
        Draft("check", {"instrument": fit, "what": "leak", "result": "stalled, no leak in 30 s"}),
        Draft("amendment", {"of": late, "fields": {"made": ago(1100)}, "because": "cells were fitted new that day"}),
    ]  # fmt: skip
    journal.add_all([replace(each, id=_id(f"shelf {place}")) for place, each in enumerate(drafts)])


def filled(journal: "Journal", key: "Key | None") -> int:
    """Fill a new journal with the invented shop; one that was begun and cut short is gone on with.

    journal  open; one that was filled is left as it is
    key      seals the visits of earlier years; without one they stay open
    -> how many visits were kept
    """
    if journal.entry(_id("filled")) is not None:
        return 0
    shop_settings.settle(journal, {"shop name": "Invented Heating Co., Nowhere", "emergency": "911",
                                   "jurisdiction": WHERE, "units": "us"}, form=_FORM)  # fmt: skip
    today = date.fromisoformat(next(journal.of_kind("settings")).entry.entered[:10])
    places, instruments = _shop(journal)
    _instruments(journal, instruments, today)
    count, newest = 0, ""
    for at, years, day in _visits(today):
        entry = kept.begun(journal, _tables(LIVES[at], places[at], day, years, 100 + at), source="program",
                           form=_id(f"visit {at} {years}"))  # fmt: skip
        newest, count = (entry.id if at == 1 else newest), count + 1
        last = years == YEARS - 1 and at in (1, 3)
        if key is not None and not last and not _is_sealed(journal, entry.id):
            _sealed(journal, entry.id, key)
    _open_ends(journal, places, newest, today)
    return count


def _sealed(journal: "Journal", visit: str, key: "Key") -> None:
    """The visit of an earlier year sealed, every danger that its readings leave in view looked into before."""
    standing = [each.name for each in closing.dangers_of(journal, visit)]
    if standing:
        closing.closed(journal, visit, standing, how="tested out", words="looked into, nothing found (invented)",
                       form=_id(f"closed {visit}"))  # fmt: skip
    sealing.sealed(journal, visit, key=key, signer=Signer(who="", recognised="invented", name=TECHNICIAN))


def _open_ends(journal: "Journal", places: list[Mapping[str, str]], visit: str, today: date) -> None:
    """A danger that nobody closed, a duty that is late, a visit that is planned."""
    changing.noticed(
        journal, visit, "flue gas spills at the hood with every fan on", consent="refused",
        told="the owner, who wants to wait", done=["fans off, window open, alarm placed"],
        calls=["the supplier, 10:58"], form=_id("danger"),
    )  # fmt: skip
    late, soon = (today - timedelta(days=9)).isoformat(), (today + timedelta(days=6)).isoformat()
    site = next(each.entry.id for each in journal.of_kind("site"))
    planned = {"visit": {"title": "Second look at the liner", "date": soon, "invented": True, "jurisdiction": WHERE,
                         **places[1]}, "appliance": {"words": LIVES[1].words, "serial": "NOT-REAL-0101"},
               "fuel": {"name": "natural-gas"}}  # fmt: skip
    kept.begun(journal, planned, source="program", form=_id("planned"))
    journal.add(Draft("due", {"what": "annual visit", "due": late, "site": site}, id=_id("filled")))


def _is_sealed(journal: "Journal", visit: str) -> bool:
    return any(each.read.entry.kind == "seal" for each in kept.entries_of(journal, visit))


def _id(what: str) -> str:
    """The id of something invented, the same again when the filling was cut short and is gone on with."""
    return once.derived(_FORM, what)


_FORM = "01a00000-0000-7000-8000-000000000001"
"""Id under which the settings of the invented shop are kept."""
