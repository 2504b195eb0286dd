"""One part of an invented visit about oil, worked out of tables as a visit file holds them."""

from datetime import date
from typing import Any

import fluewright
from fluewright.evidence.finding import Finding
from fluewright.evidence.part import Part
from fluewright.evidence.reading import Account, Appliance, Instrument, Point, Stretch, Surroundings
from fluewright.visit import oil_typed, work


def part(
    word: str,
    table: dict[str, Any],
    *,
    fuel: str = "oil-no-2",
    jurisdiction: str = "",
    appliance: Appliance | None = None,
    **readings: str,
) -> Part:
    """One part worked out of tables as a visit file holds them; readings are those of a last stretch."""
    name = {"oil supply": "oil_supply", "smoke": "smoke"}[word]
    taken = fluewright.readings_of(readings)
    stretches = (Stretch("as left", "10:00", Point("the flue"), taken, steady="steady for 90 s"),) if readings else ()
    account = Account(
        title="Invented", customer="", site="", day=date(2026, 11, 25), technician="",
        appliance=appliance or Appliance("boiler", burner="oil pressure jet"), fuel=fluewright.load_fuel(fuel),
        instrument=Instrument("NOT-REAL-1", "statutory"), surroundings=Surroundings(), stretches=stretches,
        jurisdiction=jurisdiction, parts=oil_typed.measured_from({name: table}),
    )  # fmt: skip
    (found,) = work.parts_of(account, ())
    assert found.word == word
    keys = {*found.readings(), *found.results}
    for finding in found.findings:
        assert all(key in keys for where, key in finding.evidence if where == word), finding.code
    return found


def codes(found: Part) -> dict[str, Finding]:
    """Findings by code."""
    return {finding.code: finding for finding in found.findings}


def value(found: Part, key: str) -> float:
    """A result that must be there."""
    got = found.results[key].value
    assert got is not None, found.results[key].refused
    return got
