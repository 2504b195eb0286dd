"""Oil supply and smoke from typed words, by the same reader as a visit file's tables."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from fluewright.errors import Problems, UseError
from fluewright.evidence import judge
from fluewright.evidence.part import Measured
from fluewright.evidence.reading import Appliance
from fluewright.fuels.plate import heat_input_from_net as gross_from_net
from fluewright.fuels.plate import says_gross
from fluewright.fuels.record import FuelRecord
from fluewright.quantity import parse
from fluewright.visit.parts import oil
from fluewright.visit.source import Source

WHERE = "command line"


def burners() -> tuple[str, ...]:
    """Kinds of burner that burn oil through a nozzle or from a pot, as the rule books name them."""
    return tuple(kind for kind in judge.burners() if kind.startswith("oil"))


def appliance_from(
    *, burner: str, output: str | None, plate: str | None, plate_net: str | None = None, fuel: FuelRecord | None = None
) -> Appliance:
    """The appliance that a question on the command line speaks of.

    burner  as the rule books name it, or unknown
    output  nominal heat output as typed
    plate   gross input of the plate as typed
    plate_net  net input of the plate as typed, with the fuel that it burns
    """
    if plate is not None and plate_net is not None:
        raise UseError(
            code="FW-U-262",
            read="a gross and a net input of one plate",
            expected="--plate where the plate states gross input, --plate-net where it states net",
            matters="of two inputs that do not belong together nobody knows which is the plate's",
            do="keep the one on the plate",
        )
    power = None if plate is None else parse.single(plate, quantity="fuel_input").value
    if plate_net is not None and fuel is not None:
        power = gross_from_net(parse.single(plate_net, quantity="fuel_input_net").value or 0.0, fuel)
    return Appliance(
        "appliance not named",
        burner=burner,
        output=None if output is None else parse.single(output, quantity="heat_output").value,
        plate_input=power,
        plate_basis="net" if plate_net is not None else "gross" if plate is not None and says_gross(plate) else "",
    )


def measured_from(tables: Mapping[str, Mapping[str, Any]]) -> tuple[Measured, ...]:
    """What was measured, from the tables that a visit file would hold.

    tables  "oil_supply" and "smoke", values as typed; empty values are left out
    -> parts of the job; the error when there is one, Problems when there are several
    """
    told = {
        name: {key: value for key, value in table.items() if value not in (None, "", [], ())}
        for name, table in tables.items()
    }
    if not any(told.values()):
        raise UseError(
            code="FW-U-261",
            read="a question about oil without any reading",
            expected="at least one of its options, such as --lift 6ft or --pressure 140psi",
            matters="nothing can be said about nothing",
            do="see the help of the question for what it takes",
        )
    file = Source(Path(WHERE), told)
    found = oil.read(file)
    errors = file.gathered.errors
    if len(errors) == 1:
        raise errors[0]
    if errors:
        raise Problems(subject=WHERE, errors=errors)
    return found
