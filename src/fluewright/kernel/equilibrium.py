"""What a flame is made of when it has time: the mixture of least Gibbs energy, its temperature, its rich products.

Newton steps on the logarithms of the amounts with one multiplier per element (Gordon and McBride, NASA RP-1311 (1994),
chapter 2, from memory; checked against Cantera). Scalar only: it iterates, so arrays and uncertain numbers stay out.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from fluewright.kernel import gases
from fluewright.kernel.air import Air
from fluewright.kernel.constants import GAS_CONSTANT
from fluewright.kernel.fuel import Fuel

_REACTING = ("CO2", "CO", "H2O", "H2", "O2", "N2", "NO", "OH", "H", "O", "Ar", "He", "SO2")
_STANDARD_PRESSURE = 100_000.0
"""Pa, 1 bar, of the NASA entropies."""
_SMALLEST = 1e-60


@dataclass(frozen=True, slots=True)
class Mixture:
    """An equilibrium mixture: temperature in K, pressure in Pa, mol of each species."""

    temperature: float
    pressure: float
    amounts: Mapping[str, float]

    def dry_fraction(self, species: str) -> float:
        """Mol of one species per mol of the mixture without its water."""
        dry = sum(amount for name, amount in self.amounts.items() if name != "H2O")
        return self.amounts.get(species, 0.0) / dry

    def enthalpy(self) -> float:
        """Enthalpy with formation, J."""
        parts = (n * gases.absolute_enthalpy(species=s, temperature=self.temperature) for s, n in self.amounts.items())
        return float(sum(parts))


def elements_of(*, fuel: Fuel, air: Air, air_ratio: float) -> dict[str, float]:
    """Atoms in one unit of fuel with its air.

    fuel       per unit
    air        per mole dry
    air_ratio  -, any positive
    -> mol of atoms per unit of fuel, keys C H O N S Ar He

    Holds   always
    Fails   -
    Source  counting
    """
    need = float(fuel.carbon + fuel.sulfur + fuel.hydrogen / 4.0 - fuel.oxygen / 2.0)
    amount = air_ratio * need / air.oxygen
    return {
        "C": fuel.carbon + amount * air.carbon_dioxide,
        "H": fuel.hydrogen + 2.0 * (fuel.water + amount * air.water_ratio),
        "O": fuel.oxygen + fuel.water + amount * (2.0 * air.oxygen + 2.0 * air.carbon_dioxide + air.water_ratio),
        "N": fuel.nitrogen + 2.0 * amount * air.nitrogen,
        "S": fuel.sulfur,
        "Ar": fuel.argon + amount * air.argon,
        "He": fuel.helium,
    }


def enthalpy_of(*, fuel: Fuel, air: Air, air_ratio: float, temperature: float) -> float:
    """Enthalpy with formation of one unit of fuel and its air before they burn.

    The fuel's own formation follows from its net heating value, so any fuel can be taken.

    fuel         per unit
    air          per mole dry
    air_ratio    -, any positive
    temperature  K, of fuel and air
    -> enthalpy, J per unit of fuel

    Holds   near room temperature; the fuel's heat capacity is a constant
    Fails   strongly preheated fuel
    Source  Hess's law with NASA TM-4513 formation enthalpies
    """
    products = {"CO2": fuel.carbon, "H2O": fuel.hydrogen / 2.0, "SO2": fuel.sulfur}
    formed = sum(amount * gases.formation_enthalpy(species=name) for name, amount in products.items())
    of_fuel = formed + fuel.heating_value_net + fuel.heat_capacity * (temperature - 298.15)
    of_fuel += fuel.water * gases.formation_enthalpy(species="H2O")
    need = float(fuel.carbon + fuel.sulfur + fuel.hydrogen / 4.0 - fuel.oxygen / 2.0)
    amount = air_ratio * need / air.oxygen
    parts = {"O2": air.oxygen, "N2": air.nitrogen, "Ar": air.argon, "CO2": air.carbon_dioxide, "H2O": air.water_ratio}
    of_air = sum(
        share * gases.absolute_enthalpy(species=name, temperature=temperature) for name, share in parts.items()
    )
    return float(of_fuel + amount * of_air)


def _solved(matrix: list[list[float]], right: list[float]) -> list[float]:
    """Solution of a small linear system by elimination with row exchange."""
    size = len(right)
    rows = [[*row, value] for row, value in zip(matrix, right, strict=True)]
    for column in range(size):
        best = max(range(column, size), key=lambda row: abs(rows[row][column]))
        rows[column], rows[best] = rows[best], rows[column]
        pivot = rows[column]
        for row in range(column + 1, size):
            factor = rows[row][column] / pivot[column]
            if factor:
                rows[row] = [a - factor * b for a, b in zip(rows[row], pivot, strict=True)]
    answer = [0.0] * size
    for row in range(size - 1, -1, -1):
        known = sum(rows[row][k] * answer[k] for k in range(row + 1, size))
        answer[row] = (rows[row][size] - known) / rows[row][row]
    return answer


def _newton_step(
    amounts: Sequence[float],
    total: float,
    atoms: Sequence[Sequence[int]],
    potentials: Sequence[float],
    supply: Sequence[float],
) -> tuple[list[float], float]:
    """Changes of the logarithms of each amount and of the total."""
    kinds = range(len(supply))
    matrix = [[sum(n * a[i] * a[k] for n, a in zip(amounts, atoms, strict=True)) for k in kinds] for i in kinds]
    held = [sum(n * a[i] for n, a in zip(amounts, atoms, strict=True)) for i in kinds]
    driven = [n * g for n, g in zip(amounts, potentials, strict=True)]
    right = [supply[i] - held[i] + sum(d * a[i] for d, a in zip(driven, atoms, strict=True)) for i in kinds]
    for i in kinds:
        matrix[i].append(held[i])
    counted = sum(amounts)
    matrix.append([*held, counted - total])
    right.append(total - counted + sum(driven))
    *multipliers, step = _solved(matrix, right)
    changes = [
        step + sum(m * a for m, a in zip(multipliers, count, strict=True)) - g
        for count, g in zip(atoms, potentials, strict=True)
    ]
    return changes, step


def at_temperature(*, elements: Mapping[str, float], temperature: float, pressure: float) -> Mixture:
    """Equilibrium mixture at a given temperature and pressure.

    elements     mol of atoms, keys C H O N S Ar He
    temperature  K, 600..4000
    pressure     Pa, absolute
    -> mixture

    Holds   gas phase of the thirteen species listed; no soot: C/O below about 0.9; sulfur only as SO2
    Fails   ArithmeticError when it does not settle in 200 steps
    Source  least Gibbs energy with NASA TM-4513 data; checks AFT and RICH
    """
    present = [name for name, amount in elements.items() if amount > 0.0]
    names = [s for s in _REACTING if all(atom in present for atom in gases.SPECIES[s].atoms)]
    atoms = [[gases.SPECIES[s].atoms.get(atom, 0) for atom in present] for s in names]
    supply = [elements[atom] for atom in present]
    gibbs = [
        gases.absolute_enthalpy(species=s, temperature=temperature) / (GAS_CONSTANT * temperature)
        - gases.entropy(species=s, temperature=temperature) / GAS_CONSTANT
        + math.log(pressure / _STANDARD_PRESSURE)
        for s in names
    ]
    total = sum(supply) / 2.0
    logs = [math.log(total / len(names))] * len(names)
    log_total = math.log(total)
    for _ in range(200):
        amounts = [math.exp(value) for value in logs]
        potentials = [g + value - log_total for g, value in zip(gibbs, logs, strict=True)]
        changes, step = _newton_step(amounts, math.exp(log_total), atoms, potentials, supply)
        largest = max(abs(5.0 * step), *(abs(change) for change in changes))
        damping = min(1.0, 2.0 / largest) if largest else 1.0
        logs = [max(value + damping * change, math.log(_SMALLEST)) for value, change in zip(logs, changes, strict=True)]
        log_total += damping * step
        moved = max(n * abs(change) for n, change in zip(amounts, changes, strict=True))
        if damping == 1.0 and moved < 1e-13 * total and abs(step) < 1e-12:
            return Mixture(temperature, pressure, dict(zip(names, (math.exp(v) for v in logs), strict=True)))
    raise ArithmeticError("the equilibrium did not settle in 200 steps")


def adiabatic(*, elements: Mapping[str, float], enthalpy: float, pressure: float) -> Mixture:
    """Equilibrium mixture of given enthalpy: the flame that loses nothing.

    elements  mol of atoms
    enthalpy  J, with formation, of the same amount
    pressure  Pa, absolute
    -> mixture at its own temperature

    Holds   600 K to 4000 K
    Fails   ArithmeticError outside
    Source  first law with least Gibbs energy; checks AFT-001 to AFT-040
    """
    low, high = 600.0, 4000.0
    below = at_temperature(elements=elements, temperature=low, pressure=pressure).enthalpy() - enthalpy
    above = at_temperature(elements=elements, temperature=high, pressure=pressure).enthalpy() - enthalpy
    if below > 0.0 or above < 0.0:
        raise ArithmeticError("no flame temperature between 600 K and 4000 K")
    middle = low
    for count in range(60):
        bisect = count % 3 == 2
        middle = 0.5 * (low + high) if bisect else low - below * (high - low) / (above - below)
        mixture = at_temperature(elements=elements, temperature=middle, pressure=pressure)
        left = mixture.enthalpy() - enthalpy
        if abs(left) < 1e-7 * (above - below) or high - low < 1e-6:
            return mixture
        if left < 0.0:
            low, below = middle, left
        else:
            high, above = middle, left
    return at_temperature(elements=elements, temperature=middle, pressure=pressure)


def shift_constant(*, temperature: float) -> float:
    """Equilibrium constant (CO2)(H2)/(CO)(H2O).

    temperature  K, 600..3000
    -> constant, -

    Holds   ideal gases
    Fails   -
    Source  NASA TM-4513 Gibbs energies; checks RICH-016, RICH-017
    """
    change = 0.0
    for species, sign in (("CO2", 1.0), ("H2", 1.0), ("CO", -1.0), ("H2O", -1.0)):
        enthalpy = gases.absolute_enthalpy(species=species, temperature=temperature)
        change += sign * (enthalpy - temperature * gases.entropy(species=species, temperature=temperature))
    return math.exp(-change / (GAS_CONSTANT * temperature))
