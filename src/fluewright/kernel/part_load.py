"""Burning now and then: what pilot and standing losses take while a burner cycles. A balance over the time watched."""

from fluewright.kernel.ops import Number


def run_fraction_from_times(*, burner_on_time: Number, burner_off_time: Number) -> Number:
    """Share of the time that the burner was on.

    burner_on_time   s, whole cycles together, any shape
    burner_off_time  s, of the same cycles, any shape
    -> run fraction, 0..1

    Holds   whole cycles
    Fails   half a cycle at either end
    Source  definition; check DEL-PART-1
    """
    return burner_on_time / (burner_on_time + burner_off_time)


def fuel_input_cycling(*, fuel_input: Number, run_fraction: Number, pilot_input: Number = 0.0) -> Number:
    """Mean gross heat input of a burner that cycles, its pilot with it.

    fuel_input    W gross while it burns, the pilot not counted, any shape
    run_fraction  0..1, any shape
    pilot_input   W gross, burning all the time, any shape
    -> mean gross input, W

    Holds   one rate while on
    Fails   modulating burners; lighting at a lower rate
    Source  mean over time; check DEL-PART-2
    """
    return fuel_input * run_fraction + pilot_input


def heat_output_cycling(*, heat_output: Number, run_fraction: Number, idle_loss: Number = 0.0) -> Number:
    """Mean heat delivered by a burner that cycles.

    Off, an appliance that stays warm loses heat by jacket and flue, and that comes off what it delivered.

    heat_output   W while it burns, any shape
    run_fraction  0..1, any shape
    idle_loss  W lost by the warm appliance while it is off, any shape
    -> mean heat delivered, W

    Holds   appliance as warm at the end of the cycles as at their beginning
    Fails   heat of the jacket that warms a heated room is no loss there
    Source  mean over time; check DEL-PART-3
    """
    return heat_output * run_fraction - idle_loss * (1.0 - run_fraction)
