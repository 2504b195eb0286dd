"""What stands between the flue gas and the number shown: water left in the sample, flue gas in the intake air."""

from fluewright.kernel import saturation
from fluewright.kernel.ops import Number


def dry_from_dried(*, dried_fraction: Number, trap_temperature: Number, pressure: Number) -> Number:
    """A dry fraction from a reading behind a water trap that still lets some vapour through.

    A trap at 20 C leaves 2.3 % water in the sample, so "dry" readings are 2.3 % low.

    dried_fraction    mol/mol of the dried sample, any shape
    trap_temperature  K, where the sample was last in touch with water, any shape
    pressure          Pa, absolute, any shape
    -> fraction, mol/mol dry

    Holds   sample saturated at the trap, so the gas before it held more water than that
    Fails   a gas drier than the trap comes out too high
    Source  Dalton's law; checks RED-WET
    """
    return dried_fraction / (1.0 - saturation.pressure(temperature=trap_temperature) / pressure)


def dried_from_dry(*, dry_fraction: Number, trap_temperature: Number, pressure: Number) -> Number:
    """What a sample saturated at its trap shows for a given dry fraction.

    dry_fraction      mol/mol dry, any shape
    trap_temperature  K, any shape
    pressure          Pa, absolute, any shape
    -> fraction of the dried sample, mol/mol

    Holds   as dry_from_dried
    Fails   as dry_from_dried
    Source  Dalton's law; checks RED-WET
    """
    return dry_fraction * (1.0 - saturation.pressure(temperature=trap_temperature) / pressure)


def recirculated_fraction(
    *, intake_oxygen_fraction: Number, oxygen_dry_fraction: Number, air_oxygen_fraction: Number = 0.2095
) -> Number:
    """Share of flue gas in the intake air.

    A leak between the pipes of a balanced flue feeds the flame its own smoke.

    intake_oxygen_fraction  mol/mol dry, in the intake, any shape
    oxygen_dry_fraction     mol/mol dry, in the flue, any shape
    air_oxygen_fraction     mol/mol, outdoor air read minutes earlier by the same cell
    -> share of flue gas in the intake, 0..1

    Holds   both readings by one cell with the same drying
    Fails   damp air read wet looks like a leak of 1 to 5 %
    Source  mixing; practice P4, checks RED-REC
    """
    return (air_oxygen_fraction - intake_oxygen_fraction) / (air_oxygen_fraction - oxygen_dry_fraction)


def intake_oxygen_fraction(
    *, recirculated_fraction: Number, oxygen_dry_fraction: Number, air_oxygen_fraction: Number = 0.2095
) -> Number:
    """Oxygen of intake air that holds a share of flue gas; the inverse of `recirculated_fraction`.

    recirculated_fraction  share of flue gas, 0..1, any shape
    oxygen_dry_fraction    mol/mol dry, in the flue, any shape
    air_oxygen_fraction    mol/mol, outdoor air
    -> oxygen in the intake, mol/mol dry

    Holds   mixing
    Fails   -
    Source  mixing; practice P4, checks RED-REC
    """
    return air_oxygen_fraction - recirculated_fraction * (air_oxygen_fraction - oxygen_dry_fraction)
