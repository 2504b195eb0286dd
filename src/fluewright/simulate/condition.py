"""What a virtual appliance is told: its design, the day and place, its physical condition, and the instrument.

Everything a fault changes is a field of Condition; a fault is nothing but other numbers here. All figures are invented.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Condition:
    """The physical inputs of one appliance and of the instrument that looks at it. Clean and right when untouched.

    Fuel: wobbe, orifice (width), setting, droop, supply (pressures), nozzle (flow), spray, pump, strainer, oil_water,
    oil_air, moisture as ratios to what is right or as shares; oil_temperature in K.
    Air: shutter, fan, damper as ratios; intake_block, lint, burner_dirt as shares; offset of the premix valve in Pa.
    Heat: fouling on the gas side and scale on the water side as shares of the resistance of a clean exchanger;
    passes_block as a share of the free area; crack as the share of flue gas that blower air adds; impinge as the share
    of the flame that is chilled; carrier as a ratio of the flow of water or air.
    Flue: flue_block, recirculation, breech_leak, gasket_leak as shares; wind and exhaust in Pa; trap_dry as a share
    of the products; regulator_stuck as a share of its opening.
    Instrument: see `cells`.
    """

    wobbe: float = 1.0
    orifice: float = 1.0
    setting: float = 1.0
    droop: float = 0.0
    supply: float = 1.0
    nozzle: float = 1.0
    spray: float = 0.0
    pump: float = 1.0
    strainer: float = 0.0
    oil_temperature: float = 290.0
    oil_water: float = 0.0
    oil_air: float = 0.0
    moisture: float = 0.0
    load: float = 1.0

    shutter: float = 1.0
    fan: float = 1.0
    damper: float = 1.0
    intake_block: float = 0.0
    lint: float = 0.0
    burner_dirt: float = 0.0
    misaligned: float = 0.0
    offset: float = 0.0
    ratio: float = 1.0

    fouling: float = 0.0
    scale: float = 0.0
    passes_block: float = 0.0
    crack: float = 0.0
    impinge: float = 0.0
    carrier: float = 1.0
    rod_dirt: float = 0.0

    flue_block: float = 0.0
    recirculation: float = 0.0
    breech_leak: float = 0.0
    air_leak: float = 0.0
    gasket_leak: float = 0.0
    trap_dry: float = 0.0
    regulator_stuck: float = 0.0
    wind: float = 0.0
    exhaust: float = 0.0
    room_shut: float = 0.0

    hose_leak: float = 0.0
    oxygen_gain: float = 1.0
    oxygen_offset: float = 0.0
    monoxide_gain: float = 1.0
    inside_zero: float = 0.0
    hydrogen_response: float = 0.03
    fuel_set: float = 1.0
    flue_as_fahrenheit: float = 0.0
    pressure_unit: float = 1.0
    draft_unit: float = 1.0
    shallow: float = 0.0
    early: float = 0.0
    after_hood: float = 0.0
    lag_left: float = 0.0


@dataclass(frozen=True, slots=True)
class Site:
    """The day and the place: temperatures in K, barometer in Pa, return in K, and what makers and fitters leave open.

    factory   ratio of the air ratio of this unit to that of its design
    surface   ratio of its exchanger's transfer units
    evenness  ratio of the unevenness of its mixing
    chimney   m, height
    changes   1/h, air changes of the room
    play      ratio of what the fuel valve or nozzle passes to what is stamped
    rise      ratio of the flow of water or air that the fitter set
    """

    outdoor: float = 278.0
    room: float = 293.0
    barometer: float = 100_000.0
    returning: float = 328.0
    factory: float = 1.0
    surface: float = 1.0
    evenness: float = 1.0
    chimney: float = 7.0
    changes: float = 1.0
    play: float = 1.0
    rise: float = 1.0
    current: float = 1.0


@dataclass(frozen=True, slots=True)
class Constants:
    """Numbers of the model that no measurement of ours stands behind. Varied when the weighing is put to the test.

    drawn        how the air that a jet draws follows its own width
    gather       power of the flow that heat transfer follows
    burn_out     share of the carbon monoxide of rich pockets that still burns on the way
    chilled      mol/mol dry of carbon monoxide where a flame is chilled
    floor        mol/mol, what every flame leaves
    soot         smoke number for each share of very rich pockets
    viscosity    power of the viscosity that a nozzle follows (kernel.oil_supply names the range)
    hood         coupling of the flue to the chamber through a draft hood, 0 is none
    rich         factor on the carbon monoxide of rich pockets
    """

    drawn: float = 1.0
    gather: float = 0.35
    burn_out: float = 0.97
    chilled: float = 0.012
    floor: float = 6e-6
    soot: float = 300.0
    viscosity: float = 0.12
    hood: float = 0.08
    rich: float = 1.0


@dataclass(frozen=True, slots=True)
class Design:
    """One class of appliance as built. Every figure is invented, near what the trade expects.

    family      how it gets its air: atmospheric, induced, premix, power, oil, wood
    fuel        name in the library of fuels
    kinds       classes of appliance/classes that it stands for
    carrier     what takes the heat: water or air
    input       W, gross
    air_ratio   -, as tuned
    unevenness  relative spread of the local air ratio
    transfer    heat-transfer units at design flow
    rise        K, of water or air
    returning   K, of water or air as it comes back
    fuel_pressure  Pa, at the manifold or pump
    pull        Pa, of the fan, or draft of the chimney wanted
    over_fire   share of the pull that reaches the fire
    current     A, of a healthy flame; 0 where it is not read
    hood        whether a draft hood stands between burner and chimney
    arrestor    whether it breathes through a flame arrestor
    """

    name: str
    words: str
    family: str
    fuel: str
    kinds: tuple[str, ...]
    carrier: str
    input: float
    air_ratio: float
    unevenness: float
    transfer: float
    rise: float
    returning: float
    fuel_pressure: float
    pull: float
    over_fire: float
    current: float
    hood: bool = False
    arrestor: bool = False
