"""What the weighing is given: class of appliance, readings with their doubts, the plate, answers of looks."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from fluewright.diagnose import refusals
from fluewright.diagnose.table import looks
from fluewright.evidence.reading import Reading
from fluewright.quantity.show import System
from fluewright.simulate.designs import design_of_kind, designs

USUAL: Mapping[str, float] = {
    "gas_pressure": 0.5,
    "line_pressure": 0.4,
    "oil_pressure": 0.25,
    "air_rise": 0.25,
    "water_rise": 0.35,
    "flame_current": 0.5,
}
"""How far a plate that nobody has read may lie from that of the virtual appliance, relative: another gas alone changes
the pressure at the burner threefold. Common practice, no source."""
_SIZED = {"fuel_input"}
"""Counts only against a plate: no size is usual."""
_BEYOND = {"at least": (1.3, 0.35), "at most": (0.6, 0.4)}
"""A reading that is only an edge is taken a way beyond it, and wide: factor, relative spread."""
_DRAFTS = ("draft_above_hood", "draft_breech", "draft_common_flue")


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked.

    kind    class of appliance, or name of a virtual one
    read    registry name to value in canonical unit
    doubts  registry name to standard uncertainty beyond an ordinary instrument's
    plate   what plate or maker says, by registry name of the reading
    seen    answers of looks, by name: found or not
    most    highest carbon dioxide of the fuel that burns, mol/mol dry; that of the virtual appliance when None
    """

    kind: str
    read: Mapping[str, float]
    doubts: Mapping[str, float] = field(default_factory=dict)
    plate: Mapping[str, float] = field(default_factory=dict)
    seen: Mapping[str, bool] = field(default_factory=dict)
    most: float | None = None
    system: System = "us"

    @property
    def design(self) -> str:
        """Name of the virtual appliance; UseError FW-U-310 when none stands for the class."""
        if self.kind in designs():
            return self.kind
        found = design_of_kind(self.kind)
        if found is None:
            known = [kind for design in designs().values() for kind in design.kinds]
            raise refusals.no_virtual_appliance(self.kind, known)
        return found.name

    def checked(self) -> "Asked":
        """The same with drafts at other places taken as the draft; UseError FW-U-311 for a look that is not listed."""
        for name in self.seen:
            if name not in looks() or looks()[name].reads:
                raise refusals.unknown_look(name, [look.name for look in looks().values() if not look.reads])
        read = dict(self.read)
        for name in _DRAFTS:
            if name in read and "draft" not in read:
                read["draft"] = read[name]
        return replace(self, read=read)

    def usual(self, plate: Mapping[str, float]) -> dict[str, tuple[float, float]]:
        """What stands in for a plate that nobody has read."""
        return {name: (plate[name], wide) for name, wide in USUAL.items() if name in plate}


def asked_of(*, kind: str, readings: Sequence[Reading], plate: Mapping[str, float], seen: Mapping[str, bool]) -> Asked:
    """Readings of a visit as they were typed: ranges, edges and trend words keep their width.

    kind      class of appliance
    readings  the last of each quantity counts
    plate     what plate or maker says
    seen      answers of looks
    -> what to ask with
    """
    read: dict[str, float] = {}
    doubts: dict[str, float] = {}
    answers = dict(seen)
    for reading in readings:
        figure = reading.figure
        if reading.rising and reading.quantity == "carbon_monoxide_dry":
            answers.setdefault("settled", True)
        if figure is None:
            continue
        factor, wide = _BEYOND.get(reading.bound, (1.0, 0.0))
        read[reading.quantity] = figure * factor
        own = (reading.half_width**2 / 3.0 + (wide * figure) ** 2) ** 0.5
        if own > 0.0:
            doubts[reading.quantity] = own
    return Asked(kind=kind, read=read, doubts=doubts, plate=plate, seen=answers)


def sized(name: str) -> bool:
    """Whether a reading says something only beside the plate."""
    return name in _SIZED
