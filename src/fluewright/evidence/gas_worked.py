"""Results of a clocking of the meter, each with its working."""

from fluewright.errors import PhysicsRefused
from fluewright.evidence import plate_basis
from fluewright.evidence.gas_count import Count, Numbers, reference_words
from fluewright.evidence.gas_height import Allowed
from fluewright.evidence.gas_holes import Hole, by_orifice
from fluewright.evidence.gas_plate import Manifold
from fluewright.evidence.reading import Account
from fluewright.evidence.reckon import Reckoning, by_physics, refused
from fluewright.evidence.result import Result
from fluewright.kernel.ops import value_of
from fluewright.quantity import show


def _w(number: object, quantity: str, account: Account) -> str:
    return show.shown(float(value_of(number)), quantity=quantity, system=account.system)


def of_count(count: Count, numbers: Numbers, reckoning: Reckoning) -> dict[str, Result]:
    """Flow, correction, steps and heat input of one count, by key."""
    return {**_counted(count, numbers, reckoning), **_heat(count, numbers, reckoning)}


def _counted(count: Count, numbers: Numbers, reckoning: Reckoning) -> dict[str, Result]:
    account = reckoning.account
    volume = _w(count.volume.figure or 0.0, "metered_volume", account)
    seconds = f"{count.duration.figure or 0.0:.1f} s"
    factor = f"{float(value_of(numbers.correction)):.4f}"
    step, share = _w(count.meter.step, "volume_step", account), f"{numbers.resolution * 100.0:.2f}"
    return {
        "gas_flow": reckoning.result(
            "gas_flow",
            numbers.flow,
            formula="gas flow = volume counted / time",
            substitution=f"{volume} / {seconds} = {_w(numbers.flow, 'gas_flow', account)}",
            source="the meter",
            holds="in the state that the meter counts at",
        ),
        "volume_correction": reckoning.result(
            "volume_correction",
            numbers.correction,
            formula="correction = pressure x reference temperature / (reference pressure x temperature)",
            substitution=f"{numbers.corrected} = {factor}, to {reference_words(count.heat.counted_at)}",
            source="ideal-gas law, once",
            holds="absolute pressures; what the meter makes up for itself stands at its base",
        ),
        "count_resolution": reckoning.result(
            "count_resolution",
            numbers.resolution,
            formula="steps = root of (step of meter / volume)² + (step of watch / time)²",
            substitution=f"root of ({step} / {volume})² + ({count.time_step:g} s / {seconds})² = {share} %",
            source="practice P23",
            holds="steps of meter and watch alone, no other doubt",
        ),
    }


def _heat(count: Count, numbers: Numbers, reckoning: Reckoning) -> dict[str, Result]:
    account = reckoning.account
    volume = _w(count.volume.figure or 0.0, "metered_volume", account)
    seconds = f"{count.duration.figure or 0.0:.1f} s"
    factor = f"{float(value_of(numbers.correction)):.4f}"
    heating = _w(numbers.heating, "heating_value_gross", account)
    input_words = _w(numbers.fuel_input, "fuel_input", account)
    return {
        "fuel_input": reckoning.result(
            "fuel_input",
            numbers.fuel_input,
            formula="heat input = volume counted / time x correction x gross heating value",
            substitution=f"{volume} / {seconds} x {factor} x {heating} = {input_words}",
            source="heat balance",
            holds="everything else on the meter off, gas rate steady",
            basis="gross",
        ),
        "fuel_input_net": reckoning.result(
            "fuel_input_net",
            numbers.net,
            formula="net heat input = gross heat input x net / gross heating value of the fuel",
            substitution=f"{input_words} gross = {_w(numbers.net, 'fuel_input_net', account)} net",
            source="ISO 6976:2016 heating values of the fuel",
            holds="ratio of the fuel named",
            basis="net",
        ),
    }


def of_plate(
    numbers: Numbers, reckoning: Reckoning, *, plate: float | None, allowed: Allowed, open_basis: bool
) -> dict[str, Result]:
    """The input against what plate and height allow; refused where nobody read the plate.

    open_basis  whether the plate may state gross or net
    """
    account = reckoning.account
    if plate is None:
        return {"input_of_plate": refused("input_of_plate", "nobody read the plate")}
    if allowed.share is None:
        why = f"the rule ({allowed.words}) says nothing for this height"
        return {"input_of_plate": refused("input_of_plate", why)}
    found: dict[str, Result] = {}
    limit = plate * allowed.share
    if allowed.share < 1.0:
        plate_words = _w(plate, "fuel_input", account)
        found["derated_input"] = reckoning.result(
            "derated_input",
            limit,
            formula="input allowed = plate x share left at this height",
            substitution=f"{plate_words} x {allowed.share:.3f} = {_w(limit, 'derated_input', account)}",
            source=allowed.source,
            holds=allowed.words,
            basis="gross",
        )
    said = f"{_w(numbers.fuel_input, 'fuel_input', account)} / {_w(limit, 'fuel_input', account)}"
    share, ratio = numbers.fuel_input / limit, float(value_of(numbers.fuel_input)) / float(value_of(numbers.net))
    if open_basis:
        share = plate_basis.doubted(share, gross_net_ratio=ratio, reckoning=reckoning)
    found["input_of_plate"] = reckoning.result(
        "input_of_plate",
        share,
        formula="share = heat input / heat input allowed",
        substitution=f"{said} = {float(value_of(numbers.fuel_input)) / limit:.3f}",
        source="the plate" + (f" and {allowed.words}" if allowed.share < 1.0 else ""),
        holds=f"at full input; {plate_basis.TAKEN if open_basis else 'both gross'}",
    )
    return found


def at_burner(manifold: Manifold, holes: Hole | None, reckoning: Reckoning) -> dict[str, Result]:
    """Manifold against plate, and what the holes pass."""
    found: dict[str, Result] = {}
    read, plate = manifold.read, manifold.plate
    if read is not None and plate is not None and read.figure is not None and plate.figure:
        number = reckoning.read(read, words="manifold pressure") / plate.figure
        said = " / ".join(_w(p, "gas_pressure", reckoning.account) for p in (read.figure, plate.figure))
        found["manifold_of_plate"] = reckoning.result(
            "manifold_of_plate",
            number,
            formula="share = manifold pressure / that of the plate",
            substitution=f"{said} = {float(value_of(number)):.3f}",
            source="the plate",
            holds="burner at full input",
        )
    if holes is not None and read is not None and read.figure is not None and read.figure > 0.0:
        try:
            found["fuel_input_by_orifice"] = by_orifice(holes, read, reckoning)
        except PhysicsRefused as error:
            found["fuel_input_by_orifice"] = by_physics("fuel_input", error)
    return found
