"""The drop of gas in pipes from first principles: any gas, any wall, laminar to turbulent, small drops and large."""

from fluewright.kernel import ops
from fluewright.kernel.air import MOLAR_MASS as AIR_MOLAR_MASS
from fluewright.kernel.constants import GAS_CONSTANT, PI
from fluewright.kernel.ops import Number


def line_density(*, relative_density: Number, pressure: Number, temperature: Number) -> Number:
    """Density of a gas as it stands in the pipe.

    relative_density  -, against air, any shape
    pressure          Pa absolute, any shape
    temperature       K, any shape
    -> density, kg/m3

    Holds   ideal gas; 0.2 % for natural gas, 2 % for propane at house pressure
    Fails   near condensation
    Source  ideal-gas law with the molar mass of dry air; check PIPE-RHO
    """
    return relative_density * AIR_MOLAR_MASS * pressure / (GAS_CONSTANT * temperature)


def reynolds_number(*, gas_flow: Number, inner_diameter: Number, density: Number, dynamic_viscosity: Number) -> Number:
    """Reynolds number of flow in a round pipe: below about 2300 laminar, above 4000 turbulent.

    gas_flow           m3/s of gas, or of oil, as it stands in the pipe, any shape
    inner_diameter     m, above 0, any shape
    density            kg/m3 as it stands in the pipe
    dynamic_viscosity  Pa s; the kinematic one times the density
    -> Reynolds number, -

    Holds   full round pipe
    Fails   nothing within its definition
    Source  4 rho Q/(pi D mu), definition; checks PIPE-RE, OILK-R
    """
    return 4.0 * density * gas_flow / (PI * inner_diameter * dynamic_viscosity)


def friction_factor(*, reynolds: Number, relative_roughness: Number) -> Number:
    """Darcy friction factor from laminar to turbulent flow, in one smooth form.

    The drop per length is f/D times the dynamic pressure. Between 2000 and 4000 a real pipe may do either; this form
    passes through.

    reynolds            -, above 0, any shape
    relative_roughness  wall roughness over inside diameter, -, 0..0.05
    -> Darcy friction factor, -

    Holds   64/Re when laminar; within 3 % of Colebrook-White from Re 5000
    Fails   nothing below 1e8; within 2000 to 4000 no form can know
    Source  Churchill, Chem. Eng. 84 (1977) no. 24 p. 91 (from memory); compared with Colebrook-White solved by
            iteration; checks PIPE-F-*
    """
    low = ops.maximum(reynolds, 1e-3)
    turbulent = (2.457 * ops.log(1.0 / ((7.0 / low) ** 0.9 + 0.27 * relative_roughness))) ** 16
    passing = (37530.0 / low) ** 16
    return 8.0 * ((8.0 / low) ** 12 + 1.0 / (turbulent + passing) ** 1.5) ** (1.0 / 12.0)


def drop_darcy(
    *,
    gas_flow: Number,
    inner_diameter: Number,
    length: Number,
    density: Number,
    dynamic_viscosity: Number,
    roughness: Number,
) -> Number:
    """Pressure lost along a pipe by friction, from first principles.

    gas_flow           m3/s as it stands in the pipe, 0 or more, any shape
    inner_diameter     m, above 0, any shape
    length             m with fittings, any shape
    density            kg/m3 as it stands in the pipe
    dynamic_viscosity  Pa s
    roughness          m of the wall
    -> pressure drop, Pa

    Holds   drop small against the absolute pressure, so that the density stays; level pipe
    Fails   a drop of more than 5 % of the absolute pressure: see pressure_out_isothermal
    Source  Darcy-Weisbach with friction_factor; checks PIPE-DW-*
    """
    reynolds = reynolds_number(
        gas_flow=gas_flow, inner_diameter=inner_diameter, density=density, dynamic_viscosity=dynamic_viscosity
    )
    factor = friction_factor(reynolds=reynolds, relative_roughness=roughness / inner_diameter)
    return factor * length * density * 8.0 * gas_flow**2 / (PI**2 * inner_diameter**5)


def flow_darcy(
    *,
    inner_diameter: Number,
    pressure_drop: Number,
    length: Number,
    density: Number,
    dynamic_viscosity: Number,
    roughness: Number,
) -> Number:
    """Flow that a pipe carries with a given drop, from first principles.

    inner_diameter     m, above 0, any shape
    pressure_drop      Pa, above 0, any shape
    length             m with fittings, above 0
    density            kg/m3 as it stands in the pipe
    dynamic_viscosity  Pa s
    roughness          m of the wall
    -> flow, m3/s as it stands in the pipe

    Holds   as drop_darcy; 1e-9..100 m3/s
    Fails   a drop of more than 5 % of the absolute pressure
    Source  drop_darcy inverted by halving; check PIPE-DW-flow
    """

    def drop(logarithm: Number) -> Number:
        return drop_darcy(
            gas_flow=ops.exp(logarithm),
            inner_diameter=inner_diameter,
            length=length,
            density=density,
            dynamic_viscosity=dynamic_viscosity,
            roughness=roughness,
        )

    return ops.exp(ops.root_between(drop, -20.7, 4.6, goal=pressure_drop))


def diameter_darcy(
    *,
    gas_flow: Number,
    pressure_drop: Number,
    length: Number,
    density: Number,
    dynamic_viscosity: Number,
    roughness: Number,
) -> Number:
    """Inside diameter that carries a flow with a given drop, from first principles.

    gas_flow           m3/s as it stands in the pipe, above 0, any shape
    pressure_drop      Pa, above 0, any shape
    length             m with fittings, above 0
    density            kg/m3 as it stands in the pipe
    dynamic_viscosity  Pa s
    roughness          m of the wall
    -> inside diameter, m

    Holds   as drop_darcy; 1 mm..1 m
    Fails   a drop of more than 5 % of the absolute pressure
    Source  drop_darcy inverted by halving; check PIPE-DW-diameter
    """

    def drop(logarithm: Number) -> Number:
        return drop_darcy(
            gas_flow=gas_flow,
            inner_diameter=ops.exp(0.0 - logarithm),
            length=length,
            density=density,
            dynamic_viscosity=dynamic_viscosity,
            roughness=roughness,
        )

    return ops.exp(0.0 - ops.root_between(drop, 0.0, 6.9, goal=pressure_drop))


def pressure_out_isothermal(
    *,
    mass_flow: Number,
    pressure_in: Number,
    temperature: Number,
    relative_density: Number,
    inner_diameter: Number,
    length: Number,
    dynamic_viscosity: Number,
    roughness: Number,
) -> Number:
    """Pressure at the end of a pipe in which the gas thins as it goes, from first principles.

    mass_flow          kg/s, 0 or more, any shape
    pressure_in        Pa absolute, any shape
    temperature        K, the same along the pipe
    relative_density   -, against air
    inner_diameter     m, above 0, any shape
    length             m with fittings, any shape
    dynamic_viscosity  Pa s
    roughness          m of the wall
    -> pressure at the end, Pa absolute; the floor of 1 Pa where the pipe cannot carry that flow

    Holds   ideal gas, one temperature, flow well below the speed of sound
    Fails   choked flow: the answer runs to the floor
    Source  isothermal flow with friction and acceleration, p1^2 - p2^2 = G^2 RT/M (f L/D + 2 ln(p1/p2)), as in any
            text on gas dynamics (from memory); checks PIPE-ISO-*
    """
    through = mass_flow / (PI / 4.0 * inner_diameter**2)
    reynolds = through * inner_diameter / dynamic_viscosity
    friction = (
        friction_factor(reynolds=reynolds, relative_roughness=roughness / inner_diameter) * length / inner_diameter
    )
    push = through**2 * GAS_CONSTANT * temperature / (relative_density * AIR_MOLAR_MASS)
    out = ops.sqrt(ops.maximum(pressure_in**2 - push * friction, 1.0))
    for _ in range(30):
        left = pressure_in**2 - push * (friction + 2.0 * ops.log(pressure_in / out))
        out = ops.sqrt(ops.maximum(left, 1.0))
    return out


def equivalent_length(*, fittings_ratio: Number, inner_diameter: Number) -> Number:
    """Length of straight pipe that loses as much as the fittings.

    fittings_ratio  sum over the fittings of length over diameter, -, see FITTINGS
    inner_diameter  m, any shape
    -> length, m

    Holds   turbulent flow
    Fails   laminar flow, where a fitting counts for more
    Source  equivalent-length method, Crane Technical Paper 410 (from memory); check PIPE-EQ
    """
    return fittings_ratio * inner_diameter


def viscosity_at(*, viscosity: Number, warming: float, temperature: Number) -> Number:
    """Viscosity of a gas at another temperature.

    viscosity    Pa s at 20 C
    warming      power of the absolute temperature, -
    temperature  K, 250..330, any shape
    -> dynamic viscosity, Pa s

    Holds   house pressures; within 0.5 % of reference equations of state
    Fails   high pressure
    Source  power law fitted to CoolProp 8.0.0 (computed); check PIPE-VISC
    """
    return viscosity * (temperature / 293.15) ** warming
