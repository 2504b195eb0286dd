"""Questions about gas input without a visit around them: the same readers, fed with the options of a command."""

from fluewright.errors import UseError
from fluewright.evidence.gas_altitude import HeightAsked
from fluewright.evidence.gas_height import Derate
from fluewright.evidence.gas_orifice import OrificeAsked
from fluewright.evidence.part import Measured
from fluewright.rules import altitude
from fluewright.visit.parts import gas_typed
from fluewright.visit.source import Source


def others_of(text: str) -> list[dict[str, str]]:
    """Other appliances and pilots as typed: water heater off; range pilots on.

    text -> rows of words and state; UseError FW-U-240 for one without a state
    """
    rows = []
    for part in filter(None, (part.strip() for part in text.split(";"))):
        words, _, state = part.rpartition(" ")
        if not words or state not in ("off", "on"):
            raise UseError(
                code="FW-U-240",
                read=f"{part!r} among the others",
                expected="each with off or on behind it: water heater off; range pilots on",
                matters="whatever else burns is counted as if it burned here",
                do="say of each whether it was off",
            )
        rows.append({"words": words, "state": state})
    return rows


def heights_of(text: str) -> list[list[str]]:
    """A maker's table as typed: 0ft=100%; 2000ft=93.6%."""
    return [[part.strip() for part in row.split("=")] for row in text.split(";") if row.strip()]


def orifice(file: Source) -> tuple[Measured, ...]:
    """The table [orifice]: holes, pressure and an input wanted."""
    table, place = file.table("orifice"), "orifice"
    gas_typed.need_height_with_unit(file)
    pressure = gas_typed.gauge(file, place, table, "manifold")
    holes = gas_typed.holes(file, place, table)
    many = gas_typed.number(file, place, table, "orifices") if "orifices" in table else 1.0
    wanted = gas_typed.plate_input(file, place, table, "input")
    share = gas_typed.discharge(file, place, table)
    if not {"orifice", "input", "input_net"} & set(table):
        raise UseError(
            code="FW-U-241",
            read="neither an orifice nor an input",
            expected="--orifice '#42' to learn its input, or --input '75 kBtu/h' to learn its drill, or both",
            matters="there is nothing to work out",
            do="give one of them with --manifold",
        )
    if pressure is None:
        return ()
    if (pressure.figure or 0.0) <= 0.0:
        raise UseError(
            code="FW-U-243",
            read=f"a manifold pressure of {pressure.typed.text}",
            expected="a pressure above that of the room",
            matters="nothing flows without one; burners that draw their gas are set by their flue gas",
            do="read the pressure before the hole while it burns",
        )
    return (OrificeAsked(pressure, holes, round(many or 1.0), wanted, share),)


def height(file: Source) -> tuple[Measured, ...]:
    """The table [derate]: plate, rule or maker's table, at the height of the place."""
    table, place = file.table("derate"), "derate"
    if "altitude" not in file.table("place"):
        raise UseError(
            code="FW-U-242",
            read="no altitude",
            expected="--altitude with its unit, such as 5280ft or 1600m",
            matters="rules go by the height of the place, not by its barometer",
            do="look the height up on a map",
        )
    gas_typed.need_height_with_unit(file)
    rules = ("", "none", *(rule.id for rule in altitude.rules()))
    derate = Derate(
        file.choice(place, table, "altitude_rule", rules), gas_typed.heights(file, place, table, "altitude_table")
    )
    return (HeightAsked(gas_typed.plate_input(file, place, table, "plate"), derate),)
