"""A clocking of the meter as sentences."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from fluewright.evidence.gas_count import Count, reference_words
from fluewright.evidence.gas_height import Allowed
from fluewright.evidence.gas_holes import Hole
from fluewright.evidence.gas_plate import Manifold
from fluewright.evidence.part import Derived, Piece, Seen, Statement, Voiced
from fluewright.evidence.reading import Account
from fluewright.evidence.result import Result
from fluewright.quantity import show


@dataclass(frozen=True, slots=True)
class Told:
    """Everything the sentences speak of."""

    count: Count
    results: Mapping[str, Result]
    allowed: Allowed
    plate: float | None
    manifold: Manifold
    holes: Hole | None
    account: Account


def sentences(told: Told, others: str) -> tuple[Statement, ...]:
    """The sentences in order; others: what else is on the meter and its state, empty when nobody said."""
    return (
        *_counted(told.count, others),
        _meter(told.count),
        _heat(told.count, told.account),
        _input(told),
        *_plate(told),
        *_burner(told),
    )


def _counted(count: Count, others: str) -> Iterator[Statement]:
    pieces: tuple[Piece, ...] = (
        "the meter counted ",
        Seen("volume_counted", count.volume),
        " in ",
        Seen("time_counted", count.duration),
        ": ",
        Derived("gas_flow"),
        " as counted. The steps of meter and watch are ",
        Derived("count_resolution"),
        " of that.",
    )
    yield Statement(pieces)
    if others == "nothing else":
        yield Statement(("the meter feeds nothing else.",))
    elif others:
        yield Statement(("on the same meter: ", Voiced(others), "."))
    else:
        yield Statement(("what else burned on this meter, ", Voiced("nobody said", "unknown"), "."), mark="unknown")


_MAKES_UP = {
    "unknown": "nobody said whether it corrects for temperature",
    "no": "it does not correct for temperature or pressure",
    "temperature": "it corrects for temperature itself",
    "both": "it corrects for pressure and temperature itself",
}


def _meter(count: Count) -> Statement:
    meter = count.meter
    pieces: list[Piece] = [*_vouched(count), "gas in the meter: "]
    if meter.pressure is not None:
        pieces += [Seen("meter_pressure", meter.pressure), " above the barometer, "]
    if meter.temperature is not None:
        pieces += [Seen("meter_temperature", meter.temperature), ", "]
    if meter.factor is not None:
        pieces += ["the supplier's correction factor ", Voiced(f"{meter.factor:g}", "plate"), "; "]
    pieces += [f"{_MAKES_UP[meter.compensated]}. "]
    if count.heat.counted_at == "as metered":
        return Statement((*pieces, "The heating value counts the gas as metered, so nothing is corrected."))
    pieces += [
        "What it counted is ",
        Derived("volume_correction"),
        f" of the same at {reference_words(count.heat.counted_at)}, which the heating value ",
        *_counts(count),
    ]
    return Statement(tuple(pieces), mark="derived")


def _vouched(count: Count) -> tuple[Piece, ...]:
    """Whose meter it is and how far off it may be."""
    if count.meter.accuracy is not None:
        return ("the meter by its own check is within ", Voiced(f"{count.meter.accuracy * 100.0:g} %"), "; ")
    if count.meter.kind == "billing":
        return ("the meter is the sealed one that bills are made by; ",)
    return ("how far off the meter may be, ", Voiced("nobody said", "unknown"), "; ")


def _counts(count: Count) -> tuple[Piece, ...]:
    """How it is known what the heating value counts at."""
    if count.heat.reference or count.heat.value is None:
        return ("counts at.",)
    return ("is taken to count at; ", Voiced("nobody said", "unknown"), ".")


def _heat(count: Count, account: Account) -> Statement:
    heat = count.heat
    if heat.value is None:
        said = Voiced(f"assumed from {account.fuel.words}", "unknown")
        return Statement(("heating value: ", said, "; nobody asked the supplier."), mark="unknown")
    who = ", ".join(part for part in (heat.by, heat.when) if part)
    source: tuple[Piece, ...] = (
        (", from ", Voiced(who)) if who else (", ", Voiced("nobody wrote down whose", "unknown"))
    )
    return Statement(
        ("heating value ", Seen("heating_value", heat.value), f" {heat.basis}", *source, "."), mark="measured"
    )


def _input(told: Told) -> Statement:
    pieces: tuple[Piece, ...] = (
        "heat input ", Derived("fuel_input"), " gross, which is ", Derived("fuel_input_net"), " net.",
    )  # fmt: skip
    return Statement(pieces, mark="derived")


def _plate(told: Told) -> Iterator[Statement]:
    if told.plate is None or told.results["input_of_plate"].value is None:
        return
    words = show.shown(told.plate, quantity="fuel_input", system=told.account.system)
    plate = Voiced(words, "plate")
    if "derated_input" in told.results:
        height = told.account.surroundings.altitude
        at = f" at {show.shown(height, quantity='altitude', system=told.account.system)}" if height is not None else ""
        rule = f"{told.allowed.words}, {told.allowed.how}"
        pieces: tuple[Piece, ...] = (
            "the plate says ",
            plate,
            f";{at} that leaves ",
            Derived("derated_input"),
            f" ({rule}).",
        )
        yield Statement(pieces, mark="plate")
        yield Statement(("the input is ", Derived("input_of_plate"), " of what is allowed here."), mark="derived")
        return
    yield Statement(("that is ", Derived("input_of_plate"), " of the plate's ", plate, "."), mark="derived")


def _burner(told: Told) -> Iterator[Statement]:
    read, plate = told.manifold.read, told.manifold.plate
    if read is not None:
        pieces: list[Piece] = ["manifold pressure ", Seen("manifold_pressure", read)]
        if plate is not None:
            pieces += [", the plate says ", Voiced(show.as_typed(plate.typed), "plate")]
        if "manifold_of_plate" in told.results:
            pieces += [": ", Derived("manifold_of_plate"), " of it"]
        yield Statement((*pieces, "."))
    if told.holes is not None:
        end: tuple[Piece, ...] = (
            (": by pressure and holes alone ", Derived("fuel_input_by_orifice"), ".")
            if "fuel_input_by_orifice" in told.results
            else (".",)
        )
        yield Statement((Voiced(told.holes.said(), "plate"), *end), mark="derived")
