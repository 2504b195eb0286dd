"""B1: one reading as a technician has it, twelve typed values, to losses, dew point and findings, each with its doubt.

Warm is the library in a program that is already running; cold is the command, its start included, beside a Cantera
script that gives the losses alone, its start included.
"""

import json
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

from benchmarks import b05_uncertain_scalar
from benchmarks.b02_million_arrays import script
from benchmarks.b18_start import command
from benchmarks.flue import given
from benchmarks.measure import Aim, Report, Times, Work, alternate, interpreter_start, run_program, run_python
from fluewright.kernel import air

TYPED = {
    "oxygen_dry": "5.0 %",
    "carbon_dioxide_dry": "9,0 %",
    "carbon_monoxide_dry": "50ppm",
    "nitric_oxide_dry": "38 ppm",
    "flue_temperature": "400F",
    "air_temperature": "68F",
    "outdoor_temperature": "41 F",
    "draft": '-.02"',
    "gas_pressure": "3.5 inwc",
    "carbon_monoxide_room": "<2 ppm",
    "barometer": "1013.25 hPa",
    "relative_humidity": "50 %",
}
OPTIONS = ("flue", "--composition", "CH4=95,C2H6=2,N2=2,CO2=1", "--o2", "5.0 %", "--co2", "9.0 %", "--co", "50ppm")
PLACE = (
    "--no",
    "38 ppm",
    "--flue",
    "400F",
    "--air",
    "68F",
    "--humidity",
    "50 %",
    "--barometer",
    "1013.25 hPa",
    "--json",
)
OXYGEN, CARBON_MONOXIDE = 0.05, 50e-6
FLUE, AIR = (400.0 + 459.67) / 1.8, (68.0 + 459.67) / 1.8
WARM_AIM, COLD_AIM = 2e-3, 0.15
SCRIPT = Path(__file__).with_name("by_cantera.py")


@cache
def record() -> Any:
    """The bench gas as a typed composition, read once as a running program would."""
    from fluewright.visit import fuel_of

    return fuel_of.chosen(name=None, inline=OPTIONS[2], file=None)


def account() -> Any:
    """The twelve texts parsed and put together as a visit."""
    from fluewright.evidence.reading import Account, Appliance, Instrument, Point, Reading, Stretch, Surroundings
    from fluewright.quantity.parse import parse

    readings = {name: Reading(name, parse(text, quantity=name)) for name, text in TYPED.items()}
    pressure, humidity = (readings.pop(name).typed.value for name in ("barometer", "relative_humidity"))
    return Account(
        title="bench",
        customer="",
        site="",
        day=date(2026, 11, 25),
        technician="",
        appliance=Appliance("bench appliance, invented"),
        fuel=record(),
        instrument=Instrument(),
        surroundings=Surroundings(float(pressure or 0.0), 100.0, "typed", humidity),
        stretches=(Stretch("as found", "", Point("the flue"), readings),),
    )


def warm() -> Any:
    """From typed texts to results, doubts and findings."""
    from fluewright.visit import work

    return work.judged(account())


def cold() -> dict[str, Any]:
    """The command in a Python of its own; exit 1 says that something was found."""
    found: dict[str, Any] = json.loads(run_program(*command(), *OPTIONS, *PLACE, allowed=(0, 1)))
    return found


def arguments() -> list[str]:
    """What the peer script is told: readings, then what its writer would look up."""
    g = given()
    damp = air.humid(relative_humidity=0.5, temperature=AIR, pressure=101_325.0)
    numbers = (OXYGEN, CARBON_MONOXIDE, FLUE, AIR, g.gross, g.net, damp.water_ratio)
    return [repr(float(number)) for number in numbers]


def cold_script() -> list[float]:
    """The Cantera script in a Python of its own."""
    found: list[float] = json.loads(run_python(str(SCRIPT), *arguments()))
    return found


def cold_script_with_pandas() -> str:
    """The same where the script also loads pandas, as many do to read the values from a table."""
    code = f"import pandas, runpy; runpy.run_path({str(SCRIPT)!r}, run_name='__main__')"
    return run_python("-c", code, *arguments())


def differences() -> dict[str, float]:
    """Difference of gross efficiency and dry gas loss, as fractions, to the peer: library and command."""
    results = warm().told[0][1].results
    dry_gas, efficiency = cold_script()[3], cold_script()[6]
    printed = cold()
    return {
        "library": max(
            abs(results["efficiency_gross"].value - efficiency), abs(results["loss_dry_gas"].value - dry_gas)
        ),
        "command": max(
            abs(printed["efficiency_gross"]["value"] / 100.0 - efficiency),
            abs(printed["loss_dry_gas"]["value"] / 100.0 - dry_gas),
        ),
    }


def _warm(worst: float) -> Report:
    losses = script()
    times = alternate(
        {
            "ours": Work(warm, calls=50),
            "kernel with doubt": Work(b05_uncertain_scalar.ours, calls=500),
            "Cantera, losses, no doubt": Work(lambda: losses.of(OXYGEN, CARBON_MONOXIDE, FLUE, AIR), calls=2000),
        }
    )
    best = times["ours"].best
    peers = {name: seconds for name, seconds in times.items() if name.startswith("Cantera")}
    aims = (Aim(f"2 ms warm: {best * 1e3:.2f} ms", best <= WARM_AIM),)
    share = times["kernel with doubt"].best / best
    limit = "the physics alone, with four doubtful inputs (B5)"
    return Report("B1", "12 typed values, warm", "reading", times["ours"], peers, share, limit, f"{worst:.0e}", aims)


def _cold(worst: float) -> Report:
    times: dict[str, Times] = alternate(
        {
            "ours": Work(cold),
            "Cantera script": Work(cold_script),
            "Cantera script with pandas": Work(cold_script_with_pandas),
        }
    )
    best = times["ours"].best
    peers = {name: seconds for name, seconds in times.items() if name != "ours"}
    slow = times["Cantera script with pandas"].best / best
    aims = (
        Aim(f"150 ms cold: {best * 1e3:.0f} ms", best <= COLD_AIM),
        Aim(f"10 x the script that also loads pandas: {slow:.1f} x", slow >= 10.0),
    )
    share = interpreter_start() / best
    return Report(
        "B1", "one reading, cold command", "start", times["ours"], peers, share, "python -c pass", f"{worst:.0e}", aims
    )


def run() -> list[Report]:
    """Time it."""
    worst = differences()
    return [_warm(worst["library"]), _cold(worst["command"])]
