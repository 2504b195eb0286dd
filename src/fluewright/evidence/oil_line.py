"""Suction and cut-off: the vacuum that the line should make, the vacuum there is, and whether the pump closes."""

from fluewright.evidence import oil_head
from fluewright.evidence.finding import Clause, Finding
from fluewright.evidence.limits import seen
from fluewright.evidence.oil_given import PART, OilGiven
from fluewright.evidence.oil_input import CELLAR, Oil, oil_of
from fluewright.evidence.oil_noted import Noted
from fluewright.evidence.part import Derived, Piece, Seen
from fluewright.evidence.reckon import refused
from fluewright.evidence.result import Result
from fluewright.kernel import oil_supply, ops, pipe_friction
from fluewright.kernel.ops import Number
from fluewright.quantity import show
from fluewright.rules import oil_figures

WEIGHT = Clause("law of nature", "weight and friction of the oil", "", "everywhere", "physics")
LAMINAR = 2300.0
"""Reynolds number below which the law of friction used here holds (handbooks, from memory)."""
MORE_HELD = 1.05
"""Pressure held over that while running beyond which the two were mixed up (common practice, no source)."""
FITTINGS = 3386.0
"""Pa that filter, valve and fittings may add before a line is called hard to draw from (common practice, no source)."""


def usual_viscosity(noted: Noted, temperature: Number) -> Number | None:
    """Usual viscosity of this oil at a temperature; None for an oil that the list does not have."""
    found = oil_figures.viscosities(noted.fuel.name)
    if found is None:
        return None
    return oil_supply.oil_viscosity(
        cold_viscosity=found.cold,
        cold_temperature=oil_figures.COLD,
        warm_viscosity=found.warm,
        warm_temperature=oil_figures.WARM,
        temperature=temperature,
    )


def _friction(noted: Noted, given: OilGiven, oil: Oil) -> Number | str:
    """Friction in the line, or why it cannot be had."""
    if given.run is None or given.bore is None or given.run.figure is None or not given.bore.figure:
        return "length and inner width of the line were not both read"
    moved = given.pump_flow if given.pipes == "two" else (given.pump_flow or given.measured_flow)
    if moved is not None and moved.figure is not None:
        flow: Number = noted.reckoning.read(moved, words="oil moved through the line")
    elif given.pipes != "two" and (found := noted.results.get("oil_flow")) is not None and found.value is not None:
        flow = noted.reckoning.assumed("oil_flow", found.value, found.spread, source="by the stamp of the nozzle")
    else:
        return "what flows in the line is not known: with two pipes it is all that the pump moves"
    warmth = given.oil_temperature
    known = warmth is not None and warmth.figure is not None
    at = noted.reckoning.read(warmth) if warmth is not None and known else CELLAR
    viscosity = usual_viscosity(noted, at)
    if viscosity is None:
        return "the viscosity of this oil is not in our list"
    bore = noted.reckoning.read(given.bore)
    reynolds = pipe_friction.reynolds_number(
        gas_flow=flow, inner_diameter=bore, density=oil.density, dynamic_viscosity=viscosity * oil.density
    )
    if float(ops.value_of(reynolds)) > LAMINAR:
        return "the oil does not run in layers in this line (Reynolds number above 2300)"
    length = noted.reckoning.read(given.run)
    return oil_supply.line_loss(
        oil_flow=flow, line_length=length, line_bore=bore, viscosity=viscosity, density=oil.density
    )


def _worked_out(noted: Noted, given: OilGiven, oil: Oil) -> bool:
    """Vacuum from the weight of the oil and its friction; gives whether friction is in it."""
    if given.lift is None or given.lift.figure is None:
        return False
    lift = noted.reckoning.read(given.lift)
    weight = oil_supply.lift_vacuum(suction_lift=lift, density=oil.density)
    rub = _friction(noted, given, oil)
    known = not isinstance(rub, str)
    vacuum = weight + rub if known else weight
    source = "hydrostatics" + (" and the law of Hagen and Poiseuille; usual viscosity, from memory" if known else "")
    holds = "vented tank, line full of oil; filter, valves and fittings left out"
    holds += "" if known else f"; friction left out: {rub}"
    parts = (weight, rub if known else 0.0, vacuum)
    above = float(ops.value_of(vacuum)) < 0.0
    quantity, sign = ("oil_vacuum", -1.0) if above else ("suction_vacuum", 1.0)
    said = [show.shown(sign * float(ops.value_of(p)), quantity=quantity, system=noted.account.system) for p in parts]
    figures = f"{said[0]} + {said[1]} = {said[2]}" if known else f"density × 9.807 m/s2 × lift = {said[0]}"
    if above:
        oil_head.pushes(noted, -1.0 * vacuum, substitution=figures, source=source, holds=holds)
        return known
    noted.keep(
        "vacuum_worked_out",
        noted.reckoning.result(
            "suction_vacuum",
            vacuum,
            formula="vacuum = weight of the oil column" + (" + friction in the line" if known else ""),
            substitution=figures,
            source=source,
            holds=holds,
        ),
    )
    return known


def _by_rule(noted: Noted, given: OilGiven) -> None:
    """Vacuum as the trade reckons it."""
    if given.lift is None or given.run is None or given.lift.figure is None or given.run.figure is None:
        return
    if given.lift.figure < 0.0:
        return  # the rule of the trade is for a pump above the oil
    lift = noted.reckoning.read(given.lift)
    run = noted.reckoning.read(given.run)
    vacuum = oil_supply.vacuum_by_rule(suction_lift=lift, line_length=run)
    feet = [reading.figure / 0.3048 for reading in (given.lift, given.run) if reading.figure is not None]
    noted.keep(
        "vacuum_by_rule",
        noted.reckoning.result(
            "suction_vacuum",
            vacuum,
            formula="vacuum = 1 inHg for each foot of lift + 1 inHg for each ten feet of line",
            substitution=f"{feet[0]:.1f} ft + {feet[1]:.1f} ft / 10 = {feet[0] + feet[1] / 10:.1f} inHg",
            source="a supplier's set-up note for oil pumps of houses",
            holds="clean line of the usual width; a third more than the weight of the oil alone",
        ),
    )


def _gap(noted: Noted, read: Result, other: Result, room: float) -> tuple[float, bool]:
    """By how much a vacuum exceeds another, and whether that is more than room and doubt allow."""
    gap = (read.value or 0.0) - (other.value or 0.0)
    doubt = 2.0 * (read.spread**2 + other.spread**2) ** 0.5
    return gap, gap > room + doubt


def _hard(noted: Noted, most: Result, key: str) -> None:
    """More vacuum than the line explains."""
    read = noted.results["suction_vacuum"]
    if most.value is None or read.value is None or not _gap(noted, read, most, FITTINGS)[1]:
        return
    noted.findings.append(
        Finding(
            "oil-line-draws-hard",
            "advise",
            "The oil line is harder to draw from than lift and length explain.",
            f"Vacuum {seen(read, noted.account)}, expected {seen(most, noted.account)}, one inch of mercury allowed "
            "for filter and valve. Something stands in the way: filter, valve, kink, frost or wax.",
            ((PART, "vacuum"), (PART, key)),
            WEIGHT,
            do_next=("change the filter, open the valves, look for a kink, and read again",),
        )
    )


def _against_push(noted: Noted) -> None:
    """A vacuum where the oil should push."""
    read, push = noted.results["suction_vacuum"], noted.results["pressure_worked_out"]
    doubt = 2.0 * (read.spread**2 + push.spread**2) ** 0.5
    if push.value is None or read.value is None or read.value <= 2.0 * read.spread:
        return  # a vacuum gauge that stands at nothing is what oil that pushes leaves it at
    if read.value + push.value <= FITTINGS + doubt:
        return
    noted.findings.append(
        Finding(
            "oil-line-draws-hard",
            "advise",
            "The pump draws a vacuum although the tank stands above it.",
            f"Vacuum {seen(read, noted.account)} where the oil should push with {seen(push, noted.account)}; an inch "
            "of mercury allowed for filter and valve. Something stands in the way: filter, valve, kink, frost or wax.",
            ((PART, "vacuum"), (PART, "pressure_worked_out")),
            WEIGHT,
            do_next=("change the filter, open the valves, look for a kink, and read again",),
        )
    )


def _light(noted: Noted, least: Result) -> None:
    """Less vacuum than the weight of the oil makes by itself."""
    read = noted.results["suction_vacuum"]
    if least.value is None or read.value is None or least.value <= 0.0 or not _gap(noted, least, read, 0.0)[1]:
        return
    noted.findings.append(
        Finding(
            "oil-line-not-full",
            "advise",
            "There is less vacuum than the weight of the oil alone would make.",
            f"Vacuum {seen(read, noted.account)}, the oil column alone {seen(least, noted.account)}. Air gets into the "
            "line, the lift is less than was written, or the gauge is wrong.",
            ((PART, "vacuum"), (PART, "vacuum_worked_out")),
            WEIGHT,
            do_next=("look for bubbles at the pump, tighten or renew joints, and read again",),
        )
    )


def _suction(noted: Noted, given: OilGiven) -> None:
    """Vacuum read against what was expected and what oil and pump can bear."""
    oil = oil_of(noted, given)
    rubs = oil is not None and _worked_out(noted, given, oil)
    _by_rule(noted, given)
    weight = "by weight and friction" if rubs else "by the weight of the oil alone"
    expected: list[Piece] = []
    for key, words in (("vacuum_worked_out", weight), ("vacuum_by_rule", "by the rule of the trade")):
        if key in noted.results and not noted.results[key].refused:
            expected += [", " if expected else "vacuum to expect at the pump: ", Derived(key), f" {words}"]
    if expected:
        noted.say(*expected, ".", mark="derived")
    if given.vacuum is None or given.vacuum.figure is None:
        oil_head.degasses(noted, given)
        if expected or "pressure_worked_out" in noted.results:
            noted.cannot_tell.append("Whether the oil line is free and tight: no vacuum was read at the pump.")
        return
    noted.say("vacuum at the pump ", Seen("vacuum", given.vacuum), f", {given.pipes} pipe{'s' * (given.pipes == 'two')}"
              if given.pipes else "", ".")  # fmt: skip
    number = noted.reckoning.read(given.vacuum)
    below, above = noted.reckoning.ledger.sides(number)
    noted.keep(
        "suction_vacuum", Result("suction_vacuum", given.vacuum.figure, below, above, None, bound=given.vacuum.bound)
    )
    rule = {"one": "practice-oil-vacuum-one-pipe", "two": "practice-oil-vacuum-two-pipe"}.get(given.pipes)
    oil_head.degasses(noted, given)
    if rule is None:
        noted.cannot_tell.append("Whether the vacuum suits the pump: one pipe or two, nobody wrote.")
    else:
        noted.judge(rule, "suction_vacuum", shown="vacuum")
    told = [key for key, so in (("vacuum_by_rule", True), ("vacuum_worked_out", rubs)) if so and key in noted.results]
    known = [key for key in told if noted.results[key].value is not None]
    if known and given.vacuum.bound != "at most":
        key = max(known, key=lambda one: noted.results[one].value or 0.0)
        _hard(noted, noted.results[key], key)
    if "pressure_worked_out" in noted.results and given.vacuum.bound != "at most":
        _against_push(noted)
    if "vacuum_worked_out" in noted.results and given.vacuum.bound != "at least":
        _light(noted, noted.results["vacuum_worked_out"])


def _cut_off(noted: Noted, given: OilGiven) -> None:
    """How much of its pressure the pump keeps after it has closed."""
    if given.pressure_held is None:
        if given.pump_pressure is not None:
            noted.cannot_tell.append(
                "Whether the pump closes after a run: its pressure was not watched after shut-down."
            )
        return
    noted.say("after shut-down the closed pump holds ", Seen("pressure_held", given.pressure_held), ".")
    running = given.pump_pressure
    if running is None or not running.figure or given.pressure_held.figure is None:
        noted.keep("cutoff_fall", refused("cutoff_fall", "the pressure while running was not read"))
        return
    if given.pressure_held.figure > MORE_HELD * running.figure:
        noted.keep(
            "cutoff_fall", refused("cutoff_fall", "more was held than the pump gave while running: read both again")
        )
        return
    one = noted.reckoning.read(running, words="pump pressure while running")
    held = noted.reckoning.read(given.pressure_held, words="pump pressure held after shut-down")
    fall = oil_supply.cutoff_fall(oil_pressure=one, later_oil_pressure=held)
    system = noted.account.system
    said = [show.shown(p, quantity="oil_pressure", system=system) for p in (running.figure, given.pressure_held.figure)]
    noted.keep(
        "cutoff_fall",
        noted.reckoning.result(
            "cutoff_fall",
            fall,
            formula="fall = (running pressure − pressure held) / running pressure",
            substitution=f"({said[0]} − {said[1]}) / {said[0]} = {float(ops.value_of(fall)):.1%}",
            source="definition",
            holds="one gauge in the closed nozzle port, line bled of air",
        ),
    )
    noted.say("it has lost ", Derived("cutoff_fall"), " of its pressure.", mark="derived")
    noted.judge("practice-oil-cutoff-fall", "cutoff_fall")


def told(noted: Noted, given: OilGiven) -> None:
    """The way from the tank to the pump, and the pump's valve."""
    _suction(noted, given)
    _cut_off(noted, given)
