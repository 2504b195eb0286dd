"""The virtual house of a live demonstration: a boiler to adjust, its neighbour on the same flue, a kitchen fan."""

import threading
from collections.abc import Iterator, Mapping

from fluewright.live import played
from fluewright.live.hub import Stream, stream
from fluewright.live.mapping import Mapping as Said
from fluewright.live.played import Played, channels_of
from fluewright.simulate.condition import Condition
from fluewright.simulate.designs import designs
from fluewright.simulate.running import T90
from fluewright.simulate.steered import Lever, Steered

BOILER, NEIGHBOUR = "boiler 1", "water heater"
"""Words of the two appliances."""

DESIGN = "atmospheric-boiler"
FOUND = Condition(shutter=0.52, setting=1.12)
"""How the boiler is found: short of primary air, gas above its plate."""

BESIDE = Condition(flue_block=0.2)
"""The neighbour: part of its connector is narrowed, so that it draws less than the boiler."""

FAN = 14.0
"""Pa that the kitchen fan takes from the room of the boiler: invented, a strong hood in a tight house."""

NEARER = 1.8
"""How much more it takes from the closet of the neighbour, which is beside the kitchen: invented."""

LEVERS = (
    Lever("shutter", "air shutter", 0.3, 1.6, 0.1),
    Lever("setting", "gas pressure", 0.7, 1.3, 0.04),
    Lever("exhaust", "kitchen fan", 0.0, FAN, FAN, "Pa"),
)
"""What a person at the demonstration turns."""

SHOWN = {
    BOILER: ("oxygen_dry", "carbon_monoxide_dry", "flue_temperature", "air_temperature", "draft",
             "carbon_monoxide_room"),
    NEIGHBOUR: ("draft",),
}  # fmt: skip
NAMES = {BOILER: "virtual-boiler", NEIGHBOUR: "virtual-heater"}


class House:
    """Two appliances on one flue, turned together where they share something: the fan.

    seed   of the noise
    speed  how many times faster than real time
    """

    def __init__(self, *, seed: int = 1, speed: float = 1.0) -> None:
        design = designs()[DESIGN]
        self.speed = speed
        self._turn = threading.Lock()
        self._fires = {
            BOILER: Steered(design, FOUND, seed=seed),
            NEIGHBOUR: Steered(design, BESIDE, seed=seed + 1),
        }

    def settings(self) -> Mapping[str, float]:
        """How the levers stand."""
        condition = self._fires[BOILER].condition
        return {lever.name: float(getattr(condition, lever.name)) for lever in LEVERS}

    def turn(self, settings: Mapping[str, float]) -> None:
        """Turn levers by name, each held within its reach; the fan pulls at both appliances."""
        known = {lever.name: lever for lever in LEVERS}
        held = {
            name: min(max(value, known[name].least), known[name].most)
            for name, value in settings.items()
            if name in known
        }
        with self._turn:
            self._fires[BOILER].turn(**held)
            if "exhaust" in held:
                self._fires[NEIGHBOUR].turn(exhaust=NEARER * held["exhaust"])

    def streams(self) -> list[Stream]:
        """Both as sources of a hub."""
        return [self._stream(word) for word in self._fires]

    def _stream(self, word: str) -> Stream:
        channels = channels_of(SHOWN[word], T90)
        said = Said(NAMES[word], "appliance", f"virtual instrument at the {word}", channels, word, practice=True)
        return stream(said, Played(said.name, self._texts(word), self.speed))

    def _texts(self, word: str) -> Iterator[tuple[float, dict[str, str]]]:
        fire, at = self._fires[word], 0.0
        while True:
            with self._turn:
                shown = fire.moment()
            yield at, {name: played.shown(shown[name], name)[0] for name in SHOWN[word]}
            at += fire.step
