"""What an instrument shows against what is there: lag, height, hydrogen, and a zero taken in bad air."""

from fluewright.kernel import ops
from fluewright.kernel.ops import Number


def spike_share(*, duration: Number, response_time: Number) -> Number:
    """Share of a short peak's height that a first-order channel reaches.

    A cell of 60 s shows a sixth of a five-second puff. What it shows is therefore printed as "at least".

    duration       s, of the peak, any shape
    response_time  s, to 90 % of a step (T90), any shape
    -> share of the true height, 0..1

    Holds   first-order channel, rectangular peak
    Fails   pumps and filters add dead time
    Source  step response 1 - 10^(-t/T90); practice P11, checks RED-LAG
    """
    return 1.0 - ops.exp(-2.302585092994046 * duration / response_time)


def partial_pressure_reading(*, fraction: Number, zero_pressure: Number, pressure: Number) -> Number:
    """What an oxygen cell that feels partial pressure shows after moving to another height.

    fraction       mol/mol, true, any shape
    zero_pressure  Pa, barometer where it was last set in fresh air
    pressure       Pa, barometer where it is used
    -> fraction shown, mol/mol

    Holds   cells that answer to partial pressure
    Fails   capillary-limited cells hardly mind
    Source  Dalton's law; practice P6, checks RED-ALT
    """
    return fraction * pressure / zero_pressure


def hydrogen_excess(*, hydrogen_to_carbon_monoxide: Number, cross_share: Number) -> Number:
    """How much too high a carbon monoxide cell reads because hydrogen is about.

    hydrogen_to_carbon_monoxide  mol/mol in the sample
    cross_share                  response to hydrogen relative to carbon monoxide, 0..1
    -> excess, fraction of the true carbon monoxide

    Holds   linear cells
    Fails   the share grows with age and is rarely known
    Source  Majder-Lopatka et al., Sustainability 12 (2020) 14 (abstract read); practice P10, checks RED-H2X
    """
    return hydrogen_to_carbon_monoxide * cross_share
