"""What a step should come to: oxygen, carbon monoxide, flue temperature and loss, each with its doubt."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from fluewright.errors import PhysicsRefused
from fluewright.evidence import flue
from fluewright.evidence.oil_noted import Noted
from fluewright.evidence.reading import Point, Reading, Stretch
from fluewright.evidence.reckon import refused
from fluewright.evidence.result import Result, Working
from fluewright.kernel import balance, ops
from fluewright.kernel.air import DRY_AIR
from fluewright.kernel.balance import FlueGas
from fluewright.quantity import parse
from fluewright.rules import adjusting_figures as trade
from fluewright.tune import advise
from fluewright.tune.advise import Lever, Turn
from fluewright.tune.curve import Knee

if TYPE_CHECKING:
    from fluewright.tune.turn import Stand
    from fluewright.tune.walked import CurveWalked

ZERO = 273.15


@dataclass(frozen=True, slots=True)
class Foreseen:
    """What the other sentences need: air then over air now for the same fuel, and flue gas then over now."""

    air_share: float
    flow: float


def _gas(noted: Noted, oxygen: float) -> FlueGas:
    return balance.from_dry_oxygen(fuel=noted.fuel.fuel, air=DRY_AIR, oxygen_dry_fraction=oxygen)


def _plain(number: object) -> float:
    return float(ops.value_of(number))


def _shares(noted: Noted, before: float, after: float) -> Foreseen:
    now, then = _gas(noted, before), _gas(noted, after)
    share = _plain(then.air_ratio) / _plain(now.air_ratio)
    return Foreseen(share, _plain(then.dry + then.water) / _plain(now.dry + now.water))


def _kept(noted: Noted, key: str, quantity: str, value: float, spread: float, *, formula: str, holds: str) -> None:
    working = Working(formula, "", (), "docs/method/adjusting.md; common practice, no source", holds)
    noted.keep(key, Result(quantity, value, spread, spread, working))


def _stretch(oxygen: float, flue_temperature: float, air: Reading) -> Stretch:
    """A moment as it may come, for the same working as any other."""
    readings = {
        "oxygen_dry": Reading("oxygen_dry", parse.parse(f"{oxygen * 100:.2f} %", quantity="oxygen_dry"), "assumed"),
        "flue_temperature": Reading(
            "flue_temperature", parse.parse(f"{flue_temperature - ZERO:.1f} C", quantity="flue_temperature"), "assumed"
        ),
        "air_temperature": air,
    }
    return Stretch("foreseen", "", Point("the flue"), readings, steady="foreseen")


def _losses(noted: Noted, oxygen: float, flue_temperature: float, air: Reading) -> tuple[Result, Result] | None:
    """Gross and net loss of a moment; None where physics refuses it."""
    account = noted.account
    try:
        worked = flue.work(
            record=account.fuel,
            stretch=_stretch(oxygen, flue_temperature, air),
            instrument=account.instrument,
            surroundings=account.surroundings,
            jacket_fraction=account.jacket,
        )
    except (PhysicsRefused, ArithmeticError):
        return None
    return worked.results["loss_gross"], worked.results["loss_net"]


def _temperatures(noted: Noted, now: "Stand", turn: Turn, foreseen: Foreseen, sink: float | None) -> None:
    """Flue temperature and loss after the step, and the loss if the flue temperature stayed."""
    if now.oxygen is None or now.flue is None or now.air is None:
        return
    oxygen, hot, air = now.oxygen.figure, now.flue.figure, now.air.figure
    if oxygen is None or hot is None or air is None:
        return
    found = _losses(noted, oxygen, hot, now.air)
    if found is None or found[1].value is None:
        return
    if found[1].low is not None and found[1].low < 0.03:
        noted.keep("flue_then", refused("flue_temperature", "water condenses here: the return decides, not the air"))
        return
    stayed = _losses(noted, turn.oxygen, hot, now.air)
    if stayed is not None:
        noted.keep("loss_if_stayed", stayed[0])
    warm = trade.figure("water-warmth").value + ZERO if sink is None else sink
    then = advise.flue_temperature_then(flue=hot, air=air, sink=warm, loss=found[1].value, flow=foreseen.flow)
    if then is None:
        return
    holds = "the same fire on the same surfaces, clean as they are; not a promise"
    formula = "an exchanger of one size with more or less gas; between all and none of the hotter flame taken before it"
    _kept(noted, "flue_then", "flue_temperature", then[0], then[1], formula=formula, holds=holds)
    after, hotter = _losses(noted, turn.oxygen, then[0], now.air), _losses(noted, turn.oxygen, sum(then), now.air)
    if after is None or hotter is None or after[0].value is None or hotter[0].value is None:
        return
    more = abs(hotter[0].value - after[0].value)
    spread = (after[0].spread ** 2 + more**2) ** 0.5
    noted.keep("loss_then", replace(after[0], below=spread, above=spread))


def _knee(walked: "CurveWalked | None") -> Knee | None:
    """The knee that asks for more air, of a curve of carbon monoxide."""
    if walked is None or walked.made != "carbon monoxide":
        return None
    found: Sequence[Knee] = [knee for knee in walked.knees().values() if isinstance(knee, Knee)]
    return max(found, key=lambda knee: knee.high) if found else None


def _made(noted: Noted, turn: Turn, walked: "CurveWalked | None") -> None:
    """Carbon monoxide by the curve, at or above its knee."""
    then = advise.carbon_monoxide_then(_knee(walked), oxygen=turn.oxygen)
    if then is None:
        return
    value, factor = then
    formula, holds = "the curve as it was walked, at that oxygen", "above the knee only, same fuel and rate"
    _kept(noted, "made_then", "carbon_monoxide_dry", value, value * (factor - 1.0), formula=formula, holds=holds)


def foresee(
    noted: Noted, lever: Lever, now: "Stand", turn: Turn, walked: "CurveWalked | None", *, sink: float | None
) -> Foreseen:
    """What a step should come to, kept as results of the part.

    lever   what is turned
    now     readings as it stands, with oxygen
    turn    the step
    walked  the curve, None where none was walked
    sink    K of what takes the heat, None for a usual one
    -> what the sentences about size need
    """
    oxygen = 0.0 if now.oxygen is None else now.oxygen.figure or 0.0
    foreseen = _shares(noted, oxygen, turn.oxygen)
    doubt = trade.practice("lever-doubt")
    change = foreseen.air_share - 1.0
    formula = "air ratio then / now - 1, from the two oxygen figures by the balance"
    _kept(
        noted, "air_wanted", "air_wanted_change", change, 0.05 * abs(change),
        formula=formula, holds=f"moved by the {lever}; how far that is to be turned only the step shows",
    )  # fmt: skip
    _kept(
        noted, "oxygen_then", "oxygen_dry", turn.oxygen, doubt * abs(turn.oxygen - oxygen),
        formula="where the step should end", holds="a rough turn: read it, and turn again",
    )  # fmt: skip
    _made(noted, turn, walked)
    _temperatures(noted, now, turn, foreseen, sink)
    return foreseen
