"""An invented boiler house, from the recorded traces of a virtual boiler to the hand-over.

Everything in it is made up: people, place, appliance, serial, readings. The traces go to CSV files and come back
through the door that every trace takes.
"""

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime, timedelta
from pathlib import Path

from fluewright.errors import UseError
from fluewright.simulate.condition import Condition, Design, Site
from fluewright.simulate.running import Moment, running
from fluewright.visit import keep

BOILER = Design(
    name="laundry", words="cast-iron gas boiler with an induced-draft fan", family="induced", fuel="natural-gas",
    kinds=(), carrier="water", input=117_228.0, air_ratio=1.43, unevenness=0.11, transfer=2.17, rise=11.1,
    returning=338.7, fuel_pressure=872.0, pull=220.0, over_fire=0.35, current=0.0,
)  # fmt: skip
"""400 kBtu/h; all of it is invented, like its cellar."""
CELLAR = Site(outdoor=281.5, room=291.5, barometer=98_600.0, returning=338.7, chimney=7.3)
FOUND = Condition(intake_block=0.14, burner_dirt=0.55, fouling=0.1)
"""Soot on the flueways and in the air inlet screen, and the shutter where it stood."""
LEFT = Condition()
RUNS = (("as found", FOUND, datetime(2026, 11, 25, 9, 41), 7), ("as left", LEFT, datetime(2026, 11, 25, 11, 8), 11))

VISIT = """\
# An invented visit: people, place, appliance and readings are made up.
[visit]
title = "Boiler of a laundry that does not exist"
customer = "Ms. Madeup-Owner (invented)"
site = "Made-up Street 1, Nowhere"
date = 2026-11-25
technician = "T. Placeholder (invented)"
jurisdiction = "US-MN"
route = "annual"
units = "us"
invented = true
emergency = "911"
supplier = "the gas supplier, 555-0100 (invented)"

[appliance]
words = "cast-iron gas boiler with an induced-draft fan, in the cellar"
burner = "induced draft"
serial = "NOT-REAL-0001"
input = "400 kBtu/h"
carrier = "water"
jacket = "1.0 %"

[fuel]
name = "natural-gas"

[instrument]
words = "analyser NOT-REAL-A7"
accuracy = "statutory"
calibration_due = 2027-03-03
zero = "outdoors"
hydrogen_compensated = "yes"
over_range = "4000 ppm"
trap = "50 F"

[place]
barometer = "986 hPa"
humidity = "40 %"

[room]
symptoms = "no"
entry = "0 ppm"
outdoor = "0 ppm"
personal = "0 ppm"
personal_zero = "outdoors"

[[room.alarm]]
place = "in the laundry, above the boiler room"
standard = "UL 2034"
tested = "yes"
sounded = "no"
made = 2022-04-01

[air_for_burning]
volume = "9000 ft3"

[[air_for_burning.appliance]]
words = "boiler"
draws = "fan-assisted"
input = "400 kBtu/h"

[[air_for_burning.appliance]]
words = "water heater"
draws = "natural"
input = "75 kBtu/h"

[[air_for_burning.opening]]
words = "high grille"
kind = "outdoors"
width = "16 in"
height = "16 in"
grille = "metal"
place = "high"

[[air_for_burning.opening]]
words = "low grille"
kind = "outdoors"
width = "16 in"
height = "16 in"
grille = "metal"
place = "low"

[gas_supply]
set_point = "7.0 in w.c."
least = "5.0 in w.c."
most = "10.5 in w.c."

[[gas_supply.pressure]]
at = "appliance"
with = "standing"
pressure = "7.6 in w.c."
time = "09:33"

[[gas_supply.pressure]]
at = "appliance"
with = "everything on"
pressure = "6.7 in w.c."
time = "09:50"

[[gas_input]]
dial = "5 ft3"
turns = 2
time = "94 s"
meter_pressure = "7 inwc"
meter_temperature = "58 F"
compensated = "no"
heating_value = "1037 Btu/ft3"
heating_by = "a gas company that does not exist"
heating_when = "week 47"
meter = "billing"
manifold = "3.5 inwc"
manifold_plate = "3.5 inwc"

[[gas_input.other]]
words = "water heater and its pilot"
state = "off"

[flue]
height = "24 ft"
diameter = "10 in"
wall = "masonry, clay liner"
outdoors = "47 F"
room = "65 F"
room_pressure = "-0.5 Pa"
fans_pressure = "-3 Pa"
ground = "7 ft"
floors = ["9 ft"]
eaves = "18 ft"
ridge = "22 ft"
foot = "1 ft"

[[flue.appliance]]
words = "water heater"
kind = "hood"
state = "lit"
input = "75 kBtu/h"
oxygen = "8.0 %"
outlet = "410 F"
height = "5.2 ft"
joins = "7.4 ft"
diameter = "4 in"
length = "6 ft"
opening = "7 in2"

[[flue.appliance]]
words = "boiler"
kind = "closed"
state = "lit"
input = "400 kBtu/h"
oxygen = "4.7 %"
outlet = "400 F"
height = "4.5 ft"
joins = "8.2 ft"
diameter = "8 in"
length = "5 ft"

[[flue.measured]]
place = "above the heater's hood"
height = "6.5 ft"
draft = "-0.055 in"
at = "water heater"

[water_side]
return = "150 F"
supply = "170 F"
flow = "32.5 gpm"
liquid = "water"
meter_at = "return"

[[note]]
time = "09:31"
word = "Asked at the door: nobody has a headache or feels ill."

[[note]]
time = "09:36"
word = "Hose and trap pinched off at the probe: the pump stalled, no leak in 30 s."

[[stretch]]
word = "as found"
time = "09:41"
point = "the flue collar"
trace = "as-found.csv"
readings = { carbon_monoxide_room = "0 ppm" }

[[step]]
time = "10:20"
word = "flueways brushed, soot out of the air inlet screen"
meant = "even air across the burner, and a cooler flue"

[[step]]
time = "11:05"
word = "air shutter from 21 to 24 degrees"
meant = "margin for the hottest day"

[[stretch]]
word = "as left"
time = "11:08"
point = "the flue collar"
trace = "as-left.csv"
readings = { carbon_monoxide_room = "0 ppm" }
"""


def _row(moment: datetime, shown: Mapping[str, float]) -> str:
    cells = (
        f"{moment:%Y-%m-%d %H:%M:%S}",
        f"{shown['oxygen_dry'] * 100:.2f}",
        f"{shown['carbon_monoxide_dry'] * 1e6:.0f}",
        f"{shown['flue_temperature'] * 1.8 - 459.67:.1f}",
        f"{shown['air_temperature'] * 1.8 - 459.67:.1f}",
    )
    return ",".join(cells)


def _fired(condition: Condition, seed: int, seconds: int) -> Iterator[Moment]:
    return running(design=BOILER, condition=condition, seed=seed, seconds=seconds, site=CELLAR)


def trace_text(condition: Condition, start: datetime, seed: int, *, seconds: int = 780) -> str:
    """One firing of the virtual boiler as a CSV text with units in the heads."""
    lines = ["time,O2 (%),CO (ppm),Stack temp (°F),Combustion air temp (°F)"]
    lines += [_row(start + timedelta(seconds=one.seconds), one.shown) for one in _fired(condition, seed, seconds)]
    return "\n".join(lines) + "\n"


def files() -> dict[str, str]:
    """The files of the invented visit, by name: two traces and the visit that names them."""
    made = {f"{word.replace(' ', '-')}.csv": trace_text(state, start, seed) for word, state, start, seed in RUNS}
    return {**made, "visit.toml": VISIT}


def lay_out(folder: Path, *, printings: Sequence[Path] = ()) -> Path:
    """Write the files of the invented visit into a folder, made if need be.

    folder     new, empty, or left by an earlier run
    printings  files that will be made of the visit; in a folder of an earlier run they may be there already
    -> the visit file; UseError when the folder holds files of those names that are not the invented ones
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except (OSError, ValueError) as error:
        raise UseError(
            code="FW-U-010",
            where=str(folder),
            read=f"no folder can be made there: {getattr(error, 'strerror', None) or error}",
            expected="a new folder, or one left by an earlier run",
            matters="the invented visit is five files",
            do="choose another with --folder",
        ) from error
    contents = [(folder / name, content.encode()) for name, content in files().items()]
    wanted = [(path, content) for path, content in contents if not _ours(path, content)]
    keep.free([path for path, _ in wanted])
    keep.free(printings, replace=not wanted)
    keep.write_all(wanted)
    return folder / "visit.toml"


def _ours(path: Path, content: bytes) -> bool:
    return path.is_file() and not path.is_symlink() and path.read_bytes() == content
