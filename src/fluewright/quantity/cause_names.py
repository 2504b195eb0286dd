"""Registry entries that only the weighing of causes asks for."""

from fluewright.quantity.meaning import GAS_PERCENT, PERCENT, Quantity

CAUSES: tuple[Quantity, ...] = (
    GAS_PERCENT.quantity(
        "oxygen_at_flame",
        "oxygen in dry flue gas close behind the flame",
        (0.0, 0.2095),
        "read beside that at the usual place it shows air leaking in between",
        basis="dry",
        aliases=("o2_at_flame", "o2_over_fire"),
    ),
    GAS_PERCENT.quantity(
        "oxygen_low_fire",
        "oxygen in dry flue gas at low fire",
        (0.0, 0.2095),
        "read beside that at full fire it shows the offset of a gas valve that follows the air",
        basis="dry",
        aliases=("o2_low_fire", "low_fire_o2"),
    ),
    PERCENT.quantity(
        "oxygen_blower_step",
        "change of oxygen in dry flue gas when the house blower starts",
        (-0.02, 0.10),
        "points of oxygen; a healthy exchanger shows none",
        basis="dry",
        aliases=("o2_step", "blower_step"),
    ),
)
