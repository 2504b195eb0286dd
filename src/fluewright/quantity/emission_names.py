"""Registry entries for trace gases per volume and per heat; every gas is counted as itself.

Nitrogen oxides as nitrogen dioxide stand beside nitric oxide as nitric oxide, so that one never becomes the other.
"""

from collections.abc import Iterator

from fluewright.quantity.meaning import CONCENTRATION, GAS_PPM, PER_HEAT_LB, Quantity

_WHY = "a burner that makes more is out of order"
_NORMAL = "at 0 °C and 101.325 kPa, dry"

GASES = {
    "carbon_monoxide": ("carbon monoxide", 0.1, 0.03, 2.0e-8),
    "nitric_oxide": ("nitric oxide, as itself", 0.005, 0.005, 2.0e-9),
    "nitrogen_dioxide": ("nitrogen dioxide", 0.005, 0.005, 2.0e-9),
    "nitrogen_oxides": ("nitrogen oxides as nitrogen dioxide", 0.005, 0.005, 2.0e-9),
    "sulfur_dioxide": ("sulfur dioxide", 0.01, 0.01, 3.0e-9),
}
"""Words, then the top of the plausible range as share, kg/m3 and kg/J."""


def _of_one_gas(gas: str) -> Iterator[Quantity]:
    words, share, density, mass = GASES[gas]
    yield GAS_PPM.quantity(
        f"{gas}_at_reference_oxygen", f"{words} at the reference oxygen", (0.0, share), _WHY, basis="dry"
    )
    yield CONCENTRATION.quantity(
        f"{gas}_mass_concentration", f"{words} per flue-gas volume {_NORMAL}", (0.0, density), _WHY, basis="dry"
    )
    for suffix, heat, basis in (
        ("", "gross heat burned", "gross"),
        ("_net", "net heat burned", "net"),
        ("_output", "heat delivered", "none"),
    ):
        yield PER_HEAT_LB.quantity(
            f"{gas}_mass_per_heat{suffix}", f"{words} given off per {heat}", (0.0, mass), _WHY, basis=basis
        )


TRACE_GASES: tuple[Quantity, ...] = tuple(quantity for gas in GASES for quantity in _of_one_gas(gas))
"""All forms of all gases."""

METHOD_19: tuple[Quantity, ...] = tuple(
    PER_HEAT_LB.quantity(
        f"{gas}_method_19", f"{GASES[gas][0]} per gross heat by Method 19", (0.0, GASES[gas][3]), _WHY, basis="gross"
    )
    for gas in ("carbon_monoxide", "nitrogen_oxides")
)
"""By the published F factor of the fuel kind, beside the balance of this very fuel."""

CONDENSATE: tuple[Quantity, ...] = (
    PER_HEAT_LB.quantity(
        "condensate_per_heat",
        "condensate weighed per gross heat burned",
        (0.0, 5.0e-8),
        "natural gas gives at most about 160 g of water per kWh",
        basis="gross",
        aliases=("condensate_weighed",),
    ),
)
