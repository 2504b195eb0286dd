"""The registry: complete, without doubles, every entry explains itself."""

import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from fluewright.errors import QuantityError
from fluewright.quantity.meaning import Quantity
from fluewright.quantity.names import REGISTRY, named, of

PROMISED = [
    "oxygen_dry", "oxygen_wet", "carbon_dioxide_dry", "carbon_dioxide_dry_max",
    "carbon_monoxide_dry", "carbon_monoxide_wet", "carbon_monoxide_air_free", "co_co2_ratio",
    "nitric_oxide_dry", "nitrogen_dioxide_dry", "nitrogen_oxides_dry", "hydrogen_dry",
    "sulfur_dioxide_dry", "flue_temperature", "air_temperature", "room_temperature",
    "trap_temperature", "water_dew_point", "acid_dew_point", "return_water_temperature",
    "supply_water_temperature", "temperature_difference", "altitude", "barometer",
    "relative_humidity", "wet_bulb_temperature", "humidity_ratio", "draft", "gas_pressure",
    "smoke_spot", "fuel_input", "heat_output", "gas_flow", "oil_flow", "water_flow", "excess_air",
    "air_ratio", "loss_dry_gas", "loss_vapour", "loss_carbon_monoxide", "loss_jacket", "loss_gross",
    "loss_net", "loss_siegert", "efficiency_gross", "efficiency_net", "condensed_fraction",
    "condensate_flow", "condensate_mass", "flue_gas_volume", "combustion_air_volume",
    "reference_oxygen", "mass_concentration", "mass_per_heat", "molar_mass", "relative_density",
    "density", "heating_value_gross", "heating_value_net", "wobbe_gross", "wobbe_net", "air_need",
    "carbon_factor", "equivalence_ratio", "share", "duration", "firing_rate", "moisture",
    "oxygen_intake", "oxygen_outdoor", "carbon_dioxide_wet", "nitric_oxide_wet", "nitrogen_dioxide_wet",
    "sulfur_dioxide_wet", "carbon_monoxide_method_19", "nitrogen_oxides_method_19", "excess_air_method_3b",
    "efficiency_abbreviated", "carbon_monoxide_air_free_by_carbon_dioxide",
]  # fmt: skip

BASES = {"dry", "wet", "dried-to", "air-free", "gross", "net", "none"}


def test_every_promised_name_is_there() -> None:
    assert not [name for name in PROMISED if name not in REGISTRY]


@pytest.mark.parametrize("quantity", REGISTRY.values(), ids=lambda quantity: quantity.name)
def test_an_entry_explains_itself(quantity: Quantity) -> None:
    assert quantity.low < quantity.high
    assert len(quantity.why) > 10
    assert quantity.words
    assert quantity.basis in BASES
    assert quantity.kernel
    if quantity.least is not None or quantity.most is not None:
        assert quantity.cannot
    assert quantity.least is None or quantity.least <= quantity.low
    assert quantity.most is None or quantity.most >= quantity.high


def test_an_alias_means_one_quantity() -> None:
    seen: dict[str, str] = {}
    for quantity in REGISTRY.values():
        for alias in quantity.aliases:
            assert alias == alias.lower()
            assert " " not in alias
            assert alias not in REGISTRY, alias
            assert seen.setdefault(alias, quantity.name) == quantity.name, alias


@pytest.mark.parametrize(
    ("alias", "name"),
    [
        ("o2", "oxygen_dry"),
        ("CO", "carbon_monoxide_dry"),
        ("co2", "carbon_dioxide_dry"),
        ("no", "nitric_oxide_dry"),
        ("NOx", "nitrogen_oxides_dry"),
        ("outdoor O2", "oxygen_outdoor"),
        ("fresh_o2", "oxygen_outdoor"),
        ("co2_wet", "carbon_dioxide_wet"),
        ("no_wet", "nitric_oxide_wet"),
        ("no2_wet", "nitrogen_dioxide_wet"),
        ("so2-wet", "sulfur_dioxide_wet"),
        ("stack", "flue_temperature"),
        ("flue", "flue_temperature"),
        ("room", "room_temperature"),
        ("air", "air_temperature"),
        ("draft", "draft"),
        ("manifold", "gas_pressure"),
        ("supply", "gas_pressure"),
        ("smoke", "smoke_spot"),
        ("Dew Point", "water_dew_point"),
        ("wet-bulb", "wet_bulb_temperature"),
        ("oxygen_dry", "oxygen_dry"),
    ],
)
def test_a_trade_name(alias: str, name: str) -> None:
    assert named(alias) is of(name)


def test_an_unknown_name_is_answered_with_near_ones() -> None:
    with pytest.raises(QuantityError, match="oxygen_dry") as caught:
        of("oxigen_dry")
    assert caught.value.code == "FW-Q-012"
    with pytest.raises(QuantityError, match="FW-Q-012"):
        named("colour of the van")


def test_nothing_heavy_comes_with_it(root: Path) -> None:
    code = (
        "import sys, fluewright.quantity.parse, fluewright.quantity.show, fluewright.quantity.uncertain\n"
        "print([name for name in ('numpy', 'pint', 'tomllib', 'difflib') if name in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, env={"PYTHONPATH": str(root / "src")}
    )
    assert done.stdout.strip() == "[]"


def test_the_page_of_quantities_lists_every_name_and_class(root: Path) -> None:
    from fluewright.quantity.uncertain import class_names

    page = "".join((root / "docs" / name).read_text(encoding="utf-8") for name in ("names.md", "quantities.md"))
    rows = {line.split("`")[1]: line for line in page.splitlines() if line.startswith("| `")}
    assert not [name for name in (*REGISTRY, *class_names()) if name not in rows]
    assert not [name for name, entry in REGISTRY.items() if f"| {entry.words} |" not in rows[name]]


def test_what_the_page_says_is_understood_is_understood(root: Path) -> None:
    from fluewright.quantity.parse import parse

    page = (root / "docs" / "quantities.md").read_text(encoding="utf-8").partition("## Showing")[0]
    table = [line.split("|")[1] for line in page.splitlines() if line.startswith("| `")]
    texts = [text for cell in table for text in cell.split("`")[1::2]]
    assert len(texts) > 25
    for text in texts:
        assert any(_understood(parse, text, name) for name in PROMISED), text


def _understood(parse: Any, text: str, name: str) -> bool:
    try:
        return bool(parse(text, quantity=name).text == text)
    except QuantityError:
        return False
