"""Random fuels, airs and readings, as a burner might meet them, for the laws to be tried on."""

from dataclasses import dataclass

from hypothesis import settings
from hypothesis import strategies as st

from fluewright.kernel import air as airs
from fluewright.kernel import balance
from fluewright.kernel.air import Air
from fluewright.kernel.components import COMPONENTS
from fluewright.kernel.constants import REFERENCE_TEMPERATURE
from fluewright.kernel.fuel import Fuel, gas, ultimate

MANY = settings(max_examples=200, deadline=None, derandomize=True)
"""As many states as a law is tried on; the same ones in every run, so that a failure can be looked at twice."""

BURNING = ("CH4", "C2H6", "C3H8", "nC4H10", "iC4H10", "C2H4", "C3H6", "H2", "CO", "H2S", "NH3", "CH4O", "nC6H14")
INERT = ("N2", "CO2", "O2", "Ar", "He", "H2O")


def numbers(low: float, high: float) -> st.SearchStrategy[float]:
    """Plain numbers between two bounds."""
    return st.floats(low, high, allow_nan=False, allow_infinity=False, width=64)


@st.composite
def gases(draw: st.DrawFn) -> Fuel:
    """A gas of at least 30 % combustible parts and at most 10 % oxygen, so that there is a flame to speak of."""
    parts = draw(st.dictionaries(st.sampled_from(BURNING), numbers(0.05, 1.0), min_size=1, max_size=4))
    inert = draw(st.dictionaries(st.sampled_from(INERT), numbers(0.01, 0.1), max_size=3))
    total = sum(parts.values())
    share = 1.0 - sum(inert.values())
    fractions = {name: amount / total * share for name, amount in parts.items()} | inert
    assert set(fractions) <= set(COMPONENTS)
    return gas(name="made up", mole_fractions=fractions)


@st.composite
def solids(draw: st.DrawFn) -> Fuel:
    """A liquid or solid by its ultimate analysis, from wet wood to light oil."""
    water, ash = draw(numbers(0.0, 0.5)), draw(numbers(0.0, 0.05))
    carbon, hydrogen = draw(numbers(0.45, 0.86)), draw(numbers(0.04, 0.14))
    sulfur, nitrogen = draw(numbers(0.0, 0.02)), draw(numbers(0.0, 0.02))
    oxygen = max(0.0, 0.98 - carbon - hydrogen) * draw(numbers(0.0, 1.0))
    total = carbon + hydrogen + sulfur + nitrogen + oxygen
    burning = {"C": carbon, "H": hydrogen, "S": sulfur, "N": nitrogen, "O": oxygen}
    dry = {name: part / total * (1.0 - water - ash) for name, part in burning.items()}
    return ultimate(name="made up", mass_fractions=dry | {"water": water, "ash": ash})


def fuels() -> st.SearchStrategy[Fuel]:
    """Gases, and liquids or solids."""
    return st.one_of(gases(), solids())


@st.composite
def damp_airs(draw: st.DrawFn) -> Air:
    """Air of any weather and height up to 3,000 m, or the dry two-gas air of handbooks."""
    if draw(st.integers(0, 5)) == 0:
        return airs.DRY_AIR_TWO_GASES
    return airs.humid(
        relative_humidity=draw(numbers(0.0, 1.0)),
        temperature=draw(numbers(250.0, 313.0)),
        pressure=draw(numbers(68_000.0, 105_000.0)),
    )


@dataclass(frozen=True)
class Flame:
    """One reading of one fuel in one air: dry fractions and kelvin."""

    fuel: Fuel
    air: Air
    oxygen: float
    carbon_monoxide: float
    hydrogen: float
    flue_temperature: float
    air_temperature: float
    fuel_temperature: float = REFERENCE_TEMPERATURE

    def flue(self) -> balance.FlueGas:
        """Its flue gas by the oxygen route."""
        return balance.from_dry_oxygen(
            fuel=self.fuel,
            air=self.air,
            oxygen_dry_fraction=self.oxygen,
            carbon_monoxide_dry_fraction=self.carbon_monoxide,
            hydrogen_dry_fraction=self.hydrogen,
        )


@st.composite
def flames(draw: st.DrawFn, *, rich: bool | None = None) -> Flame:
    """A reading: lean with traces of CO, rich with per cents of CO and H2, or one of the two."""
    fuel, air = draw(fuels()), draw(damp_airs())
    if fuel.carbon == 0.0 and air.carbon_dioxide == 0.0:
        air = airs.DRY_AIR  # a flue gas without any carbon dioxide has a test of its own
    short_of_air = draw(st.booleans()) if rich is None else rich
    carbon = fuel.carbon > 0.02
    if short_of_air:
        oxygen = draw(numbers(0.0, 0.004))
        carbon_monoxide = draw(numbers(0.01, 0.05)) if carbon else 0.0
        hydrogen = draw(numbers(0.01, 0.03))
    else:
        oxygen = draw(numbers(0.0005, 0.19))
        carbon_monoxide = draw(numbers(0.0, 0.0005)) if carbon else 0.0
        hydrogen = draw(numbers(0.0, 0.0004))
    return Flame(fuel, air, oxygen, carbon_monoxide, hydrogen, draw(numbers(310.0, 900.0)), draw(numbers(255.0, 305.0)))
