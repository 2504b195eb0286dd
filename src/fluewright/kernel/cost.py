"""Price of heat, fuel saved, fuel for a heating season, pilots and standing by.

Nothing here turns one spot test into a year: a year needs a meter or degree days.
"""

from fluewright.kernel.ops import Number

DAY = 86_400.0
"""s in a day, exact."""


def price_of_heat(*, price: Number, heating_value: Number) -> Number:
    """The price of the heat in a fuel that is sold by volume or mass.

    price          money per m3 or kg
    heating_value  J per m3 or kg, gross or net: the answer is on the same basis
    -> price per heat, money/J

    Holds   heating value of the fuel as sold, at the conditions at which it is counted
    Fails   standing charges are not in it
    Source  definition; check UNIT-3
    """
    return price / heating_value


def price_of_delivered_heat(*, fuel_price: Number, efficiency: Number) -> Number:
    """The price of heat that reaches the house.

    fuel_price  money per J in the fuel, gross or net
    efficiency  0..1 on the same basis, of the same moment or season
    -> price per heat delivered, money/J

    Holds   price and efficiency on one basis
    Fails   a gross price with a net efficiency: natural gas then looks a tenth too cheap
    Source  definition; checks UNIT-2, UNIT-3
    """
    return fuel_price / efficiency


def share_saved(*, efficiency_before: Number, efficiency_after: Number) -> Number:
    """The share of the fuel that the same heat no longer takes.

    efficiency_before, efficiency_after  0..1, both gross or both net, over the same kind of time
    -> share of the former fuel, negative when it became worse

    Holds   the same heat delivered before and after
    Fails   the difference of the two efficiencies is another number: 70 to 95 % saves 26.3 % of the fuel, not 25 %;
            two spot tests say nothing about a year
    Source  fuel = heat / efficiency, twice; checks SAV-1, SAV-2
    """
    return 1.0 - efficiency_before / efficiency_after


def fuel_heat_from_degree_days(
    *, degree_days: Number, heat_loss_rate: Number, efficiency: Number, degree_day_correction: Number
) -> Number:
    """The heat in the fuel that a house takes over a heating season.

    degree_days            K d, to the base temperature they were counted from
    heat_loss_rate         W/K, of the house
    efficiency             0..1, over the season and on the basis that the fuel is counted in
    degree_day_correction  factor for heat from sun and people, 1 for none
    -> heat in the fuel, J

    Holds   one balance point through the season
    Fails   spot efficiency in place of that of the season: too little fuel
    Source  F = 24 HDD UA Cd / (e HV); checks DD-1, DD-2
    """
    return DAY * degree_days * heat_loss_rate * degree_day_correction / efficiency


def use_in_other_weather(
    *, fuel_heat: Number, base_heat: Number, degree_days: Number, new_degree_days: Number
) -> Number:
    """What a fuel bill would have been in other weather.

    Only the part above the base load follows the weather.

    fuel_heat        J, as metered
    base_heat        J, hot water, cooking and pilots in the same time
    degree_days      K d in that time, above 0
    new_degree_days  K d in the other weather
    -> heat in the fuel, J

    Holds   same base temperature, same habits
    Fails   base load guessed too low: weather then moves too much of the bill
    Source  use = base + (use - base) HDD2/HDD1; check DD-WEATHER
    """
    return base_heat + (fuel_heat - base_heat) * new_degree_days / degree_days


def pilot_heat(*, fuel_input: Number, duration: Number) -> Number:
    """The heat in the gas that a pilot burns.

    fuel_input  W, of the pilot
    duration    s
    -> heat in the fuel, J

    Holds   a standing pilot
    Fails   part of it may warm the house in winter
    Source  definition; check COST-PILOT
    """
    return fuel_input * duration


def efficiency_with_standby(*, efficiency: Number, standby_loss: Number, load_share: Number) -> Number:
    """The efficiency over a season of an appliance that loses heat while it stands ready.

    The steady figure of a flue test is the best an appliance ever does: between firings it goes on losing.

    efficiency    0..1, burner on, steady
    standby_loss  share of the rated input lost while ready, 0..1
    load_share    running time over ready time, above 0, up to 1
    -> efficiency over the time ready, same basis

    Holds   loss while ready the same all season
    Fails   purging, cold starts and pipes outside the heated space come on top
    Source  VDI 2067 part 1 (from memory): e = e_on / (1 + (1/share - 1) q); check COST-STANDBY
    """
    return efficiency / (1.0 + (1.0 / load_share - 1.0) * standby_loss)


def carbon_dioxide_from_heat(*, fuel_heat: Number, carbon_factor: Number) -> Number:
    """The carbon dioxide of burned fuel.

    fuel_heat      J, gross or net
    carbon_factor  kg/J on the same basis
    -> mass, kg

    Holds   heat and factor on one basis
    Fails   a factor per net heat on gross heat: a tenth too much for natural gas
    Source  definition; checks CO2-therm, CO2-oil-gal
    """
    return fuel_heat * carbon_factor


def carbon_factor_on_other_basis(
    *, carbon_factor: Number, heating_value: Number, other_heating_value: Number
) -> Number:
    """A carbon factor per net heat from one per gross heat, or the other way.

    carbon_factor        kg/J on the basis of heating_value
    heating_value        J per unit, of the basis it is on
    other_heating_value  J per unit, of the basis it is to be on
    -> carbon factor, kg/J

    Holds   both heating values of one fuel
    Fails   a rounded ratio of another gas moves the third figure
    Source  the carbon of one unit is the same; check COST-BASIS
    """
    return carbon_factor * heating_value / other_heating_value
