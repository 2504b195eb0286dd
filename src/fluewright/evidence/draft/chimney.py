"""What a chimney pulls at rest, by density and in the forms that books print, and what wind and house leave of it."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from fluewright.evidence.draft.refusals import need_a_climate
from fluewright.evidence.finding import PHYSICS, Finding
from fluewright.evidence.limits import in_words, seen
from fluewright.evidence.part import Derived, Part, Piece, Seen, SoFar, Statement, Voiced
from fluewright.evidence.reading import Reading
from fluewright.evidence.reckon import Reckoning
from fluewright.evidence.result import Result
from fluewright.evidence.sizes import Size, need
from fluewright.evidence.trust import beyond
from fluewright.kernel import balance, draft, flue_flow, ops
from fluewright.kernel.air import DRY_AIR, density
from fluewright.kernel.balance import FlueGas
from fluewright.kernel.constants import GAS_CONSTANT
from fluewright.kernel.gases import molar_mass
from fluewright.kernel.ops import Number

WORD = "chimney"
AIR_CONSTANT = 288.0
"""J/(kg K) of outdoor air, EN 13384-1 (from memory)."""
USUAL_GAS, USUAL_GAS_SPREAD = 0.0282, 0.0003
"""kg/mol of flue gas where its oxygen is not said: 290 to 300 J/(kg K) by fuel and water (EN 13384-1, from memory)."""
_GASES = {
    "CO2": "carbon_dioxide", "CO": "carbon_monoxide", "H2O": "water", "O2": "oxygen", "N2": "nitrogen",
    "Ar": "argon", "SO2": "sulfur_dioxide",
}  # fmt: skip
_HOLDS = "at rest, with the mean temperature of the whole height; moving gas has lost a part of it"


HEIGHT = Size("height of the chimney", "the pull grows with the height, and no flue of a house is taller", most=300.0)
COEFFICIENT = Size("coefficient of the wind", "stopped wind presses with 1, and none presses more", -3.0, 1.0, False)


@dataclass(frozen=True, slots=True)
class Chimney:
    """A chimney on a day.

    height            over the appliance
    flue              mean temperature of the gas over the whole height
    outdoors          temperature outdoors
    oxygen            of the dry flue gas, for the weight of the gas; None takes a usual gas
    wind              speed at the mouth
    wind_coefficient  1 where the wind presses full on the mouth, below zero where it pulls
    drawn_down        how far the room lies below outdoors
    """

    height: Reading
    flue: Reading
    outdoors: Reading
    oxygen: Reading | None = None
    wind: Reading | None = None
    wind_coefficient: Reading | None = None
    drawn_down: Reading | None = None

    def __post_init__(self) -> None:
        """Refuse what no chimney and no wind has."""
        need(self.height, HEIGHT)
        need(self.wind_coefficient, COEFFICIENT)

    @property
    def late(self) -> bool:
        """It rests on no other part."""
        return False

    def worked(self, so_far: SoFar) -> Part:
        """Work it out."""
        need_a_climate(self.flue, self.outdoors)
        reckoning = Reckoning(so_far.account)
        numbers = _Given.of(self, reckoning)
        results = {**_forms(numbers, reckoning), **_left(self, numbers, reckoning)}
        findings = _findings(results, reckoning)
        return Part(
            WORD,
            "What the chimney pulls",
            "draft",
            (*_seen(self), *_said(results)),
            results,
            findings,
            ("What friction, bends and the appliance take of the pull: it is worked out at rest.",),
            "Here a pull is above zero; a gauge in the flue reads it below zero.",
        )


@dataclass(frozen=True)
class _Given:
    """Inputs of the forms as uncertain numbers."""

    height: Number
    flue: Number
    outdoors: Number
    pressure: Number
    constant: Number
    known: str

    @classmethod
    def of(cls, given: Chimney, reckoning: Reckoning) -> "_Given":
        account = reckoning.account
        around = account.surroundings
        constant, known = _constant(given, reckoning)
        pressure = reckoning.assumed(
            "barometer", around.pressure, around.pressure_spread, source=around.pressure_source
        )
        return cls(
            reckoning.read(given.height),
            reckoning.read(given.flue),
            reckoning.read(given.outdoors),
            pressure,
            constant,
            known,
        )

    def densities(self) -> tuple[Number, Number]:
        """Outdoor air and flue gas, kg/m3."""
        outdoor, flue = (
            flue_flow.gas_density(molar_mass=GAS_CONSTANT / constant, temperature=temperature, pressure=self.pressure)
            for temperature, constant in ((self.outdoors, AIR_CONSTANT), (self.flue, self.constant))
        )
        return outdoor, flue

    def pull(self) -> Number:
        """By density, Pa."""
        outdoor, flue = self.densities()
        return draft.draft_from_densities(height=self.height, outdoor_density=outdoor, flue_density=flue)


def _constant(given: Chimney, reckoning: Reckoning) -> tuple[Number, str]:
    """Gas constant of the flue gas: of its own composition, or a usual one."""
    record = reckoning.account.fuel
    if given.oxygen is None or given.oxygen.figure is None:
        usual = reckoning.assumed(
            "molar_mass", USUAL_GAS, USUAL_GAS_SPREAD, source="EN 13384-1, from memory", words="weight of the flue gas"
        )
        return GAS_CONSTANT / usual, "of a usual flue gas, 290 to 300 J/(kg K)"
    gas = balance.from_dry_oxygen(fuel=record.fuel, air=DRY_AIR, oxygen_dry_fraction=reckoning.read(given.oxygen))
    constant = GAS_CONSTANT / _molar_mass(gas)
    figure = f"{float(ops.value_of(constant)):.1f} J/(kg K)"
    return constant, f"{figure} of {record.words} at {given.oxygen.typed.text} oxygen"


def _molar_mass(gas: FlueGas) -> Number:
    """kg/mol of wet flue gas, nothing condensed."""
    total: Number = gas.dry + gas.water
    mass: Number = 0.0
    for species, name in _GASES.items():
        mass = mass + getattr(gas, name) * molar_mass(species=species)
    return mass / total


def _forms(given: _Given, reckoning: Reckoning) -> dict[str, Result]:
    """The same pull by density and by each printed form."""
    column: dict[str, Any] = {
        "height": given.height,
        "pressure": given.pressure,
        "outdoor_temperature": given.outdoors,
        "flue_temperature": given.flue,
    }
    outdoor, flue = given.densities()
    by_density = given.pull()
    plain = [float(ops.value_of(one)) for one in (given.height, outdoor, flue)]
    made = {
        "by density": (
            by_density,
            "pull = height x g x (density outdoors - density of the gas)",
            f"{plain[0]:.2f} m x 9.807 x ({plain[1]:.3f} - {plain[2]:.3f}) kg/m3",
            f"EN 13384-1 (from memory); gas constant {given.known}",
        ),
        "handbook form": (
            draft.draft_from_handbook_form(**column),
            "0.2554 x inHg x ft x (1/To - 1/Tm), in R",
            _in_trade_units(given),
            "ASHRAE (from memory); takes the gas for air",
        ),
        "steam form": (
            draft.draft_from_steam_form(**column),
            "0.52 x ft x psi x (1/To - 1/Tm), in R",
            _in_trade_units(given),
            "Steam, Its Generation and Use (1919), formula 24 (read)",
        ),
    }
    return {
        key: reckoning.result("chimney_pull", number, formula=formula, substitution=put, source=source, holds=_HOLDS)
        for key, (number, formula, put, source) in made.items()
    }


def _in_trade_units(given: _Given) -> str:
    height, pressure, outdoors, flue = (
        float(ops.value_of(one)) for one in (given.height, given.pressure, given.outdoors, given.flue)
    )
    return (
        f"{height / 0.3048:.1f} ft, {pressure / 3386.39:.2f} inHg ({pressure / 6894.76:.2f} psi), "
        f"To {outdoors * 1.8:.0f} R, Tm {flue * 1.8:.0f} R"
    )


def _left(given: Chimney, numbers: _Given, reckoning: Reckoning) -> dict[str, Result]:
    """What wind and house leave, where they were said."""
    if given.wind is None and given.drawn_down is None:
        return {}
    pull = numbers.pull()
    found: dict[str, Result] = {}
    wind: Number = 0.0
    if given.wind is not None:
        wind = _wind(given.wind, given.wind_coefficient, numbers, reckoning)
        found["wind"] = reckoning.result(
            "wind_pressure", wind, formula="wind = density x speed2 / 2 x coefficient",
            substitution=f"{float(ops.value_of(wind)):.1f} Pa", source="Bernoulli", holds="steady wind, not gusts",
        )  # fmt: skip
    down: Number = 0.0 if given.drawn_down is None else reckoning.read(given.drawn_down)
    found["left"] = reckoning.result(
        "chimney_pull_left",
        draft.draft_left(draft=pull, wind_pressure=wind, depressurisation=down),
        formula="left = pull - wind on the mouth - what the room is drawn down",
        substitution=" - ".join(f"{float(ops.value_of(one)):.1f} Pa" for one in (pull, wind, down)),
        source="EN 13384-1 (from memory), less what the room is drawn down",
        holds="friction and bends not taken off",
    )
    return found


def _wind(wind: Reading, coefficient: Reading | None, numbers: _Given, reckoning: Reckoning) -> Number:
    """Pressure of the wind on the mouth; full where nobody knows the coefficient."""
    air = density(temperature=numbers.outdoors, pressure=numbers.pressure)
    pressing: Number = 1.0 if coefficient is None else reckoning.read(coefficient)
    return draft.wind_pressure(wind_speed=reckoning.read(wind), density=air, pressure_coefficient=pressing)


def _seen(given: Chimney) -> list[Statement]:
    pieces: list[Piece] = ["the chimney rises ", Seen("height", given.height), " over the appliance; gas in it "]
    pieces += [Seen("flue", given.flue), " in the mean, outdoors ", Seen("outdoors", given.outdoors)]
    if given.oxygen is not None:
        pieces += [", oxygen ", Seen("oxygen", given.oxygen)]
    found = [Statement((*pieces, "."))]
    if given.wind is not None:
        pressed: Piece = (
            Seen("coefficient", given.wind_coefficient)
            if given.wind_coefficient is not None
            else Voiced("1, full on the mouth, taken", "plate")
        )
        found.append(Statement(("wind ", Seen("wind speed", given.wind), ", pressure coefficient ", pressed, ".")))
    if given.drawn_down is not None:
        found.append(Statement(("the room lies ", Seen("drawn down", given.drawn_down), " below outdoors.")))
    return found


def _said(results: Mapping[str, Result]) -> list[Statement]:
    found = [
        Statement(("by density ", Derived("by density"), " of pull at rest."), mark="derived"),
        Statement(
            ("beside it the handbook form gives ", Derived("handbook form"), ", the form of the old book of steam ",
             Derived("steam form"), " of pull."),
            mark="derived", margin="both take the gas for air",
        ),
    ]  # fmt: skip
    if "wind" in results:
        found.append(Statement(("wind on the mouth: ", Derived("wind"), "."), mark="derived"))
    if "left" in results:
        found.append(Statement(("of the pull ", Derived("left"), " is left, before friction."), mark="derived"))
    return found


def _findings(results: Mapping[str, Result], reckoning: Reckoning) -> tuple[Finding, ...]:
    """A chimney that wind and house can turn round."""
    key = "left" if "left" in results else "by density"
    result = results[key]
    above = beyond(result, 0.0)
    odds = None if above is None else 1.0 - above
    if odds is None or odds < 0.25:
        return ()
    said = seen(result, reckoning.account)
    return (
        Finding(
            "chimney-may-turn",
            "advise",
            "The chimney may not pull on such a day.",
            f"{said} is left at rest, before friction. Below nothing: {in_words(odds)}. Worked out, not read: test "
            "draft and spillage on such a day with every fan on.",
            ((WORD, key),),
            PHYSICS,
            odds,
            "above zero",
            do_next=("test draft and spillage with every fan on",),
            cautions=("A chimney that turns round brings flue gas into the room.",),
        ),
    )
