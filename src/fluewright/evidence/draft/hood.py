"""Room air that a hood or damper lets in, worked out by gas and by temperature, each with its doubt, side by side."""

from dataclasses import dataclass

from fluewright.evidence.draft.refusals import need_order, need_thinner
from fluewright.evidence.finding import PHYSICS, Finding
from fluewright.evidence.limits import seen
from fluewright.evidence.part import Derived, Part, Piece, Seen, SoFar, Statement
from fluewright.evidence.reading import Reading
from fluewright.evidence.reckon import Reckoning, refused
from fluewright.evidence.result import Result
from fluewright.kernel import balance, dilution_hood, losses, ops
from fluewright.kernel.air import DRY_AIR, water_ratio
from fluewright.kernel.ops import Number

WORD = "hood"
HUMIDITY, HUMIDITY_SPREAD = 0.5, 0.2
"""Relative humidity of a room where nobody read it, with standard uncertainty (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Hood:
    """Readings on both sides of a draft hood or a barometric damper; each may be missing.

    oxygen_before, oxygen_after                  dry
    carbon_dioxide_before, carbon_dioxide_after  dry
    hot, mixed, room                             temperatures before, after, of the air let in
    """

    oxygen_before: Reading | None = None
    oxygen_after: Reading | None = None
    carbon_dioxide_before: Reading | None = None
    carbon_dioxide_after: Reading | None = None
    hot: Reading | None = None
    mixed: Reading | None = None
    room: Reading | None = None

    @property
    def late(self) -> bool:
        """It rests on no other part."""
        return False

    def need(self) -> None:
        """Gas that grew thinner and temperatures in their order; PhysicsRefused FW-K-073 or FW-K-074 otherwise."""
        oxygen = _two(self.oxygen_before, self.oxygen_after)
        if oxygen is not None:
            need_thinner(before=oxygen[0].figure or 0.0, after=oxygen[1].figure or 0.0, air=DRY_AIR.oxygen)
        heat = _two(self.hot, self.mixed)
        if heat is not None and self.room is not None and self.room.figure is not None:
            need_order(flue=heat[0].figure or 0.0, diluted=heat[1].figure or 0.0, room=self.room.figure)

    def worked(self, so_far: SoFar) -> Part:
        """Work out both ways and hold them against each other."""
        self.need()
        reckoning = Reckoning(so_far.account)
        oxygen = self.oxygen_before
        known = oxygen is not None and oxygen.figure is not None
        before = reckoning.read(oxygen, words="oxygen before the hood") if oxygen is not None and known else None
        gas = _by_gas(self, before, reckoning)
        heat = _by_heat(self, before, reckoning)
        results: dict[str, Result] = {}
        if gas is not None:
            results["by gas"] = _result(gas, "dilution of oxygen or carbon dioxide, dry", reckoning, "well mixed gas")
        if heat is not None:
            results["by temperature"] = _result(
                heat, "heat lost by the flue gas over heat taken up by each mole of air, NASA enthalpies", reckoning,
                "no heat lost between the two points",
            )  # fmt: skip
        elif self.hot and self.mixed and self.room:
            results["by temperature"] = refused("air_added", "oxygen before the hood is needed for the heat of the gas")
        if gas is not None and heat is not None:
            results["difference"] = reckoning.result(
                "air_added_difference", heat - gas, formula="difference = by temperature - by gas",
                substitution=f"{_plain(heat):.3f} - {_plain(gas):.3f}", source="two ways to one figure",
                holds="readings that both share count once",
            )  # fmt: skip
        return Part(
            WORD, "Room air at the hood", "draft", (*_seen(self), *_said(results)), results,
            _findings(results, reckoning), tuple(_cannot_tell(results)),
        )  # fmt: skip


def _plain(number: Number) -> float:
    return float(ops.value_of(number))


def _result(number: Number, formula: str, reckoning: Reckoning, holds: str) -> Result:
    return reckoning.result(
        "air_added",
        number,
        formula=f"air let in = {formula}",
        substitution=f"{_plain(number):.3f}",
        source="mixing and energy balance; docs/method/draft.md",
        holds=holds,
    )


def _two(one: Reading | None, other: Reading | None) -> tuple[Reading, Reading] | None:
    """Both, with figures; None otherwise."""
    if one is None or other is None or one.figure is None or other.figure is None:
        return None
    return one, other


def _by_gas(given: Hood, before: Number | None, reckoning: Reckoning) -> Number | None:
    oxygen = _two(given.oxygen_before, given.oxygen_after)
    if oxygen is not None:
        return dilution_hood.air_added_from_oxygen(
            oxygen_dry_fraction=before,
            diluted_oxygen_dry_fraction=reckoning.read(oxygen[1], words="oxygen after the hood"),
        )
    carbon = _two(given.carbon_dioxide_before, given.carbon_dioxide_after)
    if carbon is None or (carbon[1].figure or 0.0) < 0.002:
        return None
    return dilution_hood.air_added_from_carbon_dioxide(
        carbon_dioxide_dry_fraction=reckoning.read(carbon[0], words="carbon dioxide before the hood"),
        diluted_carbon_dioxide_dry_fraction=reckoning.read(carbon[1], words="carbon dioxide after the hood"),
    )


def _by_heat(given: Hood, before: Number | None, reckoning: Reckoning) -> Number | None:
    heat = _two(given.hot, given.mixed)
    if before is None or heat is None or given.room is None or given.room.figure is None:
        return None
    around = reckoning.account.surroundings
    humid = around.relative_humidity
    room = reckoning.read(given.room)
    damp = water_ratio(
        relative_humidity=reckoning.assumed(
            "relative_humidity", HUMIDITY if humid is None else humid, HUMIDITY_SPREAD if humid is None else 0.04,
            source="assumed" if humid is None else "typed",
        ),
        temperature=room,
        pressure=around.pressure,
    )  # fmt: skip
    burned = reckoning.account.fuel.fuel
    return dilution_hood.air_added_from_temperatures(
        carriers=losses.carriers(fuel=burned, air=DRY_AIR),
        flue=balance.from_dry_oxygen(
            fuel=burned,
            air=DRY_AIR,
            oxygen_dry_fraction=before,
        ),
        flue_temperature=reckoning.read(heat[0], words="temperature before the hood"),
        diluted_temperature=reckoning.read(heat[1], words="temperature after the hood"),
        room_temperature=room,
        water_ratio=damp,
    )


def _seen(given: Hood) -> list[Statement]:
    pairs = (
        ("oxygen", given.oxygen_before, given.oxygen_after),
        ("carbon dioxide", given.carbon_dioxide_before, given.carbon_dioxide_after),
        ("temperature", given.hot, given.mixed),
    )
    found = []
    for words, before, after in pairs:
        pieces: list[Piece] = []
        if before is not None:
            pieces += [f"{words} before the hood ", Seen(f"{words} before", before)]
        if after is not None:
            pieces += [", after it " if pieces else f"{words} after the hood ", Seen(f"{words} after", after)]
        if pieces:
            found.append(Statement((*pieces, ".")))
    if given.room is not None:
        found.append(Statement(("the room air let in is at ", Seen("room", given.room), ".")))
    return found


def _said(results: dict[str, Result]) -> list[Statement]:
    found = []
    for key in ("by gas", "by temperature"):
        if key in results and results[key].value is not None:
            words = f"for each volume of dry flue gas the opening lets in, {key}, "
            found.append(Statement((words, Derived(key), " of room air."), mark="derived"))
    if "difference" in results:
        found.append(Statement(("the two ways differ by ", Derived("difference"), "."), mark="derived"))
    return found


def _findings(results: dict[str, Result], reckoning: Reckoning) -> tuple[Finding, ...]:
    """Two ways that do not agree."""
    result = results.get("difference")
    if result is None or result.value is None or abs(result.value) <= 2.0 * result.spread:
        return ()
    cooled = "gas that lost heat between the two points" if result.value > 0.0 else "heat that came in from elsewhere"
    return (
        Finding(
            "hood-two-ways",
            "open",
            "Gas and temperature tell two stories of the hood.",
            f"They differ by {seen(result, reckoning.account)}, more than their doubt. It points to {cooled}, to gas "
            "not yet mixed at the second point, or to a probe out of place.",
            ((WORD, "difference"),),
            PHYSICS,
            do_next=("move the second point further down the pipe and read both again at one moment",),
        ),
    )


def _cannot_tell(results: dict[str, Result]) -> list[str]:
    found = ["Whether gas spills from the hood as well: what comes in does not show what goes out."]
    if not any(result.value is not None for result in results.values()):
        found.append("How much room air the hood lets in: neither both gases nor all three temperatures were read.")
    return found
