"""Water and damp air against two libraries of the international steam formulations.

iapws 1.5.5 holds IF97, the formulation of the kernel itself: only rounding may differ. CoolProp 8.0.0 holds the
reference equation IAPWS-95 and the real damp air of ASHRAE RP-1485: there the differences are those of the models.
"""

import numpy as np
import pytest
from chances import STATES, dice
from CoolProp.CoolProp import HAPropsSI, PropsSI
from iapws._iapws import _Sublimation_Pressure
from iapws.iapws97 import _PSat_T, _TSat_P

from fluewright.kernel import air as airs
from fluewright.kernel import saturation


def test_saturation_line_is_the_published_one() -> None:
    kelvin = dice(1).uniform(273.16, 647.0, STATES)
    expected = np.array([_PSat_T(t) for t in kelvin]) * 1e6
    assert np.max(np.abs(saturation.pressure(temperature=kelvin) / expected - 1)) < 1e-12
    back = np.array([_TSat_P(p / 1e6) for p in expected])
    assert np.max(np.abs(saturation.temperature(pressure=expected) - back)) < 1e-8


def test_saturation_line_is_near_the_reference_equation() -> None:
    """IF97 is fitted to IAPWS-95 within 0.025 % of pressure (IAPWS R7-97, figure on region 4, from memory)."""
    kelvin = dice(2).uniform(273.2, 620.0, STATES)
    expected = np.array([PropsSI("P", "T", t, "Q", 0, "Water") for t in kelvin])
    assert np.max(np.abs(saturation.pressure(temperature=kelvin) / expected - 1)) < 2.5e-4
    found = saturation.temperature(pressure=expected)
    assert np.max(np.abs(found - kelvin)) < 0.02


def test_frost() -> None:
    """IAPWS R14-08(2011); the same equation in both."""
    kelvin = dice(3).uniform(200.0, 273.15, STATES)
    expected = np.array([_Sublimation_Pressure(t) for t in kelvin]) * 1e6
    assert np.max(np.abs(saturation.pressure(temperature=kelvin) / expected - 1)) < 1e-9


def test_latent_heat() -> None:
    """The kernel's cubic promises 0.01 % from 0 to 100 C."""
    kelvin = dice(4).uniform(273.16, 373.15, STATES)
    vapour = np.array([PropsSI("HMOLAR", "T", t, "Q", 1, "Water") for t in kelvin])
    liquid = np.array([PropsSI("HMOLAR", "T", t, "Q", 0, "Water") for t in kelvin])
    assert np.max(np.abs(saturation.latent_heat(temperature=kelvin) / (vapour - liquid) - 1)) < 1e-4


def weather(seed: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Humidity, kelvin and pascal of a thousand kinds of weather above freezing."""
    chance = dice(seed)
    return chance.uniform(0.05, 1.0, STATES), chance.uniform(274.0, 318.0, STATES), chance.uniform(7e4, 1.05e5, STATES)


def test_humidity_ratio() -> None:
    """0.6 %: the kernel leaves out the enhancement factor of real damp air, 0.3 to 0.5 % at these pressures."""
    humidity, kelvin, pascal = weather(5)
    expected = np.array(HAPropsSI("W", "T", kelvin, "P", pascal, "R", humidity))
    found = airs.humidity_ratio(relative_humidity=humidity, temperature=kelvin, pressure=pascal)
    apart = found / expected - 1
    assert np.max(np.abs(apart)) < 0.006
    assert np.max(apart) < 1e-4, "leaving the factor out can only make the air drier"


def test_dew_point_of_damp_air() -> None:
    """0.08 K: 0.5 % of vapour pressure."""
    humidity, kelvin, pascal = weather(6)
    vapour = humidity * saturation.pressure(temperature=kelvin)
    keep = vapour > 620.0
    expected = np.array(HAPropsSI("DewPoint", "T", kelvin[keep], "P", pascal[keep], "R", humidity[keep]))
    assert np.max(np.abs(saturation.temperature(pressure=vapour[keep]) - expected)) < 0.08


def test_wet_bulb() -> None:
    """0.1 K for the ASHRAE short balance against the real-gas one."""
    humidity, kelvin, pascal = weather(7)
    expected = np.array(HAPropsSI("WetBulb", "T", kelvin, "P", pascal, "R", humidity))
    found = airs.wet_bulb_temperature(relative_humidity=humidity, temperature=kelvin, pressure=pascal)
    keep = expected > 273.5
    assert keep.sum() > 0.8 * STATES
    assert np.max(np.abs(found - expected)[keep]) < 0.1


def test_density_of_air() -> None:
    """An ideal gas against the reference equation of air: 0.1 %."""
    chance = dice(8)
    kelvin, pascal = chance.uniform(253.0, 323.0, STATES), chance.uniform(7e4, 1.05e5, STATES)
    expected = np.array([PropsSI("D", "T", t, "P", p, "Air") for t, p in zip(kelvin, pascal, strict=True)])
    assert airs.density(temperature=kelvin, pressure=pascal) == pytest.approx(expected, rel=1e-3)
