"""A burner that cycles, with its pilot and what it loses while it waits: a balance over the time that was watched."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from fluewright.evidence.delivered import worded
from fluewright.evidence.finding import PHYSICS, Finding
from fluewright.evidence.limits import CERTAIN, HARDLY, in_words
from fluewright.evidence.part import Derived, Part, Piece, Seen, SoFar, Statement
from fluewright.evidence.reading import Reading
from fluewright.evidence.reckon import Reckoning, refused
from fluewright.evidence.result import Result
from fluewright.evidence.sizes import Size, need
from fluewright.evidence.trust import beyond
from fluewright.kernel import part_load
from fluewright.kernel.ops import Number
from fluewright.quantity import names

CYCLING = "burner cycling"
ON = Size("time with the burner on", "without some time on there is no cycle")

OF_A_MOMENT = (
    "Cycling: this is the balance of the cycles that were watched. It says nothing of a season, a year or a bill.",
    "Cycling: where the appliance stands in a heated room, part of what it loses there warms the room.",
)


@dataclass(frozen=True, slots=True)
class Cycling:
    """Whole cycles of a burner as they were watched.

    readings  burner_on_time, burner_off_time, fuel_input, pilot_input, heat_output, idle_loss: by registry name
    """

    readings: Mapping[str, Reading] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Refuse a time in which nothing burned."""
        need(self.readings.get("burner_on_time"), ON)

    @property
    def late(self) -> bool:
        """It rests on nothing else."""
        return False

    def worked(self, so_far: SoFar) -> Part:
        """Work the cycles out."""
        reckoning = Reckoning(so_far.account)
        numbers: dict[str, Number] = {
            name: reckoning.read(reading) for name, reading in self.readings.items() if reading.figure is not None
        }
        results: dict[str, Result] = {}
        share = _share(numbers, reckoning, results)
        if share is not None:
            _means(numbers, share, reckoning, results)
        findings = [*_more_out(numbers, reckoning, results), *_loses(results)]
        return Part(
            CYCLING,
            "Burner cycling",
            "delivered",
            tuple(_statements(self, results)),
            results,
            tuple(findings),
            OF_A_MOMENT if results else ("Cycling: without the time on and the time off nothing follows.",),
        )


def _share(numbers: Mapping[str, Number], reckoning: Reckoning, results: dict[str, Result]) -> Number | None:
    """Share of the time with the burner on, where both times were read."""
    on, off = numbers.get("burner_on_time"), numbers.get("burner_off_time")
    if on is None or off is None:
        return None
    account = reckoning.account
    share = part_load.run_fraction_from_times(burner_on_time=on, burner_off_time=off)
    times = (worded(on, "burner_on_time", account), worded(off, "burner_off_time", account))
    results["run_fraction"] = reckoning.result(
        "run_fraction",
        share,
        formula="share on = time on / (time on + time off)",
        substitution=f"{times[0]} / ({times[0]} + {times[1]}) = {worded(share, 'run_fraction', account)}",
        source="definition",
        holds="whole cycles",
    )
    return share


def _means(numbers: Mapping[str, Number], share: Number, reckoning: Reckoning, results: dict[str, Result]) -> None:
    """Mean input and mean output over the cycles."""
    account = reckoning.account
    on = worded(share, "run_fraction", account)
    burned, pilot = numbers.get("fuel_input"), numbers.get("pilot_input", 0.0)
    if burned is not None:
        mean = part_load.fuel_input_cycling(fuel_input=burned, run_fraction=share, pilot_input=pilot)
        results["fuel_input_mean"] = reckoning.result(
            "fuel_input_mean",
            mean,
            formula="mean input = input x share on + pilot",
            substitution=f"{worded(burned, 'fuel_input', account)} x {on} + {worded(pilot, 'pilot_input', account)} = "
            f"{worded(mean, 'fuel_input_mean', account)}",
            source="mean over time",
            holds="one rate while on; the input counted without the pilot",
            basis="gross",
        )
    given, lost = numbers.get("heat_output"), numbers.get("idle_loss", 0.0)
    if given is not None:
        mean = part_load.heat_output_cycling(heat_output=given, run_fraction=share, idle_loss=lost)
        results["heat_output_mean"] = reckoning.result(
            "heat_output_mean",
            mean,
            formula="mean output = output x share on - loss while off x share off",
            substitution=f"{worded(given, 'heat_output', account)} x {on} - {worded(lost, 'idle_loss', account)} x the "
            f"rest = {worded(mean, 'heat_output_mean', account)}",
            source="mean over time",
            holds="appliance as warm at the end of the cycles as at their beginning",
        )


def _more_out(numbers: Mapping[str, Number], reckoning: Reckoning, results: dict[str, Result]) -> list[Finding]:
    """Heat out against heat in, while the burner burns: more out than in was never delivered by any flame."""
    burned, given = numbers.get("fuel_input"), numbers.get("heat_output")
    if burned is None or given is None:
        return []
    pilot = numbers.get("pilot_input", 0.0)
    over = reckoning.result("heat_output", given - burned - pilot, formula="", substitution="", source="", holds="")
    odds = beyond(over, 0.0)
    if odds is None or odds < HARDLY:
        return []
    account = reckoning.account
    said = f"{worded(given, 'heat_output', account)} out, {worded(burned, 'fuel_input', account)} in"
    impossible = odds >= CERTAIN
    if impossible:
        why = "more heat came out than went in, so one of the two readings is wrong"
        for name in ("fuel_input_mean", "heat_output_mean"):
            if name in results:
                results[name] = refused(name, why)
    return [
        Finding(
            "cycling-more-out",
            "open",
            f"Cycling: {'more' if impossible else 'perhaps more'} heat came out than went in.",
            f"While the burner burned: {said}. More out than in: {in_words(odds)}. No flame gives more than its fuel "
            "holds: an input, a flow, a rise or a unit was misread, or the input of another appliance was counted.",
            ((CYCLING, "heat_output"), (CYCLING, "fuel_input")),
            PHYSICS,
            odds=odds,
            limit="no more than the gross input",
            do_next=("clock the meter again with this appliance alone, and read flow and rise again",),
        )
    ]


def _loses(results: Mapping[str, Result]) -> list[Finding]:
    """Cycles over which an appliance lost more than it delivered."""
    mean = results.get("heat_output_mean")
    if mean is None or mean.value is None or mean.value >= 0.0:
        return []
    return [
        Finding(
            "cycling-loses",
            "open",
            "Cycling: over these cycles the appliance lost more heat than it delivered.",
            "While it waited it gave off more than it had brought while it burned. Either it hardly ran, or the loss "
            "while off was typed too high.",
            ((CYCLING, "heat_output_mean"),),
            PHYSICS,
            do_next=("read the loss while off again, and watch longer",),
        )
    ]


def _statements(given: Cycling, results: Mapping[str, Result]) -> list[Statement]:
    read: list[Piece] = []
    for name, reading in given.readings.items():
        read += [*([", "] if read else []), f"{names.of(name).words} ", Seen(name, reading)]
    told: list[Piece] = []
    for name in ("run_fraction", "fuel_input_mean", "heat_output_mean"):
        if name in results and results[name].value is not None:
            told += [", " if told else "over these cycles: ", f"{names.of(name).words} ", Derived(name)]
    return [Statement((*pieces, ".")) for pieces in (read, told) if pieces]
