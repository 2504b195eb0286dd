"""Adapters for oil supply and smoke."""

from collections.abc import Callable, Mapping
from typing import Any

from fluewright.checks.rows import Row
from fluewright.checks.units import to_si
from fluewright.kernel import oil_supply, pipe_friction, smoke_scale
from fluewright.rules import apply, load, oil_figures


def _nozzle(row: Row) -> Any:
    return oil_supply.nozzle_flow(
        rated_flow=row.number("rated flow"),
        rated_pressure=row.number("rated pressure"),
        oil_pressure=row.number("pressure"),
    )


def _density(row: Row) -> Any:
    return oil_supply.oil_density(
        reference_density=row.number("density"),
        reference_temperature=row.number("at"),
        temperature=row.number("temperature"),
    )


def _viscosity(row: Row) -> Any:
    return oil_supply.oil_viscosity(
        cold_viscosity=row.number("cold viscosity"),
        cold_temperature=row.number("cold"),
        warm_viscosity=row.number("warm viscosity"),
        warm_temperature=row.number("warm"),
        temperature=row.number("temperature"),
    )


def _mass_flow_ratio(row: Row) -> Any:
    return oil_supply.oil_mass_flow_ratio(
        tuned_density=row.number("tuned density"),
        later_density=row.number("later density"),
        tuned_viscosity=row.number("tuned viscosity"),
        later_viscosity=row.number("later viscosity"),
        viscosity_exponent=row.number("exponent"),
    )


def _by_volume(row: Row) -> Any:
    return oil_supply.fuel_input_by_volume(oil_flow=row.number("flow"), heating_value=row.number("heating value"))


def _by_mass(row: Row) -> Any:
    return oil_supply.fuel_input_by_mass(
        oil_flow=row.number("flow"), density=row.number("density"), heating_value=row.number("heating value")
    )


def _line(row: Row) -> Any:
    return oil_supply.line_loss(
        oil_flow=row.number("flow"),
        line_length=row.number("length"),
        line_bore=row.number("bore"),
        viscosity=row.number("viscosity"),
        density=row.number("density"),
    )


def _reynolds(row: Row) -> Any:
    """By the kinematic viscosity, which is the dynamic one of a density of 1."""
    return pipe_friction.reynolds_number(
        gas_flow=row.number("flow"),
        inner_diameter=row.number("bore"),
        density=1.0,
        dynamic_viscosity=row.number("viscosity"),
    )


def _by_rule(row: Row) -> Any:
    return oil_supply.vacuum_by_rule(suction_lift=row.number("lift"), line_length=row.number("length"))


def _cutoff(row: Row) -> Any:
    return oil_supply.cutoff_fall(oil_pressure=row.number("pressure"), later_oil_pressure=row.number("later"))


def _mean_of_papers(row: Row) -> float:
    """The mean of papers, rounded as a rule of the books asks."""
    papers = [float(paper) for paper in row.inputs["papers"]]
    return apply.judged(load.limit(row.word("limit")), value=sum(papers) / len(papers), spread=0.0).result


def _figure(row: Row) -> float:
    found = oil_figures.figure(row.word("file"), row.word("figure"))
    return to_si(found.value, found.unit)


def _with_margin(row: Row) -> Any:
    return smoke_scale.oxygen_with_margin(oxygen_dry_fraction=row.number("oxygen"), oxygen_margin=row.number("margin"))


ASKS: Mapping[str, Callable[[Row], Any]] = {
    "nozzle_flow": _nozzle,
    "oil_density": _density,
    "oil_viscosity": _viscosity,
    "oil_mass_flow_ratio": _mass_flow_ratio,
    "fuel_input_by_volume": _by_volume,
    "fuel_input_by_mass": _by_mass,
    "lift_vacuum": lambda row: oil_supply.lift_vacuum(suction_lift=row.number("lift"), density=row.number("density")),
    "line_loss": _line,
    "oil_reynolds_number": _reynolds,
    "vacuum_by_rule": _by_rule,
    "cutoff_fall": _cutoff,
    "transmission_from_spot": lambda row: smoke_scale.transmission_from_spot(smoke_spot=row.number("spot")),
    "spot_from_transmission": lambda row: smoke_scale.spot_from_transmission(transmission=row.number("transmission")),
    "spot_from_reflectance": lambda row: smoke_scale.spot_from_reflectance(reflectance=row.number("reflectance")),
    "mean_of_papers": _mean_of_papers,
    "oil_figure": _figure,
    "oxygen_with_margin": _with_margin,
}
