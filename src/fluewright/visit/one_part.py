"""One part of the job without a visit around it: what the command line and a program ask."""

from collections.abc import Sequence
from typing import Literal

from fluewright import clock
from fluewright.evidence.part import Measured
from fluewright.evidence.reading import Account, Appliance, Instrument, Surroundings
from fluewright.fuels import load
from fluewright.fuels.record import FuelRecord
from fluewright.quantity import uncertain
from fluewright.rules.shop import PROGRAM, Shop
from fluewright.visit import work
from fluewright.visit.work import Verdict


def answered(
    measured: Sequence[Measured],
    *,
    fuel: FuelRecord | None = None,
    surroundings: Surroundings | None = None,
    instrument: Instrument | None = None,
    appliance: Appliance | None = None,
    jurisdiction: str = "",
    system: Literal["us", "si"] = "us",
    shop: Shop = PROGRAM,
) -> Verdict:
    """Work out and judge one or several parts of the job alone.

    measured      what was measured
    fuel          natural gas of the library when not said; parts that rest on the fuel must ask for it themselves
    surroundings  sea level when not said
    shop          whose rule books, those of the program alone when not said
    -> verdict without a flame
    """
    uncertain.instrument_class((instrument or Instrument()).accuracy)
    account = Account(
        title="One measurement",
        customer="",
        site="",
        day=clock.now().date(),
        technician="",
        appliance=appliance or Appliance(""),
        fuel=fuel or load.load("natural-gas"),
        instrument=instrument or Instrument(),
        surroundings=surroundings or Surroundings(),
        stretches=(),
        jurisdiction=jurisdiction.upper(),
        route="one measurement",
        system=system,
        parts=tuple(measured),
        shop=shop,
    )
    return work.parts_judged(account)
