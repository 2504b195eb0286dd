"""Inside diameters of gas pipe and tube, roughness of their walls, and what a fitting counts for: data with sources."""

from collections.abc import Mapping
from typing import NamedTuple

INCH = 0.0254
"""m, exact."""


class PipeSeries(NamedTuple):
    """Pipes of one standard.

    words      as a person says it
    diameters  m inside, by the size as it is ordered
    roughness  m of the wall when new
    source     document and how known
    """

    words: str
    diameters: Mapping[str, float]
    roughness: float
    source: str


_STEEL = {
    "1/4": 0.364, "3/8": 0.493, "1/2": 0.622, "3/4": 0.824, "1": 1.049, "1-1/4": 1.380, "1-1/2": 1.610,
    "2": 2.067, "2-1/2": 2.469, "3": 3.068, "4": 4.026,
}  # fmt: skip
_TYPE_L = {"3/8": 0.430, "1/2": 0.545, "5/8": 0.666, "3/4": 0.785, "1": 1.025, "1-1/4": 1.265, "1-1/2": 1.505}
_COPPER = {
    "10 mm": 8.8, "12 mm": 10.8, "15 mm": 13.6, "22 mm": 20.2, "28 mm": 26.2, "35 mm": 32.6, "42 mm": 39.6,
    "54 mm": 51.6,
}  # fmt: skip
_DN = {
    "DN 10": 12.6, "DN 15": 16.1, "DN 20": 21.7, "DN 25": 27.3, "DN 32": 36.0, "DN 40": 41.9, "DN 50": 53.1,
}  # fmt: skip

STEEL_ROUGHNESS = 45e-6
"""m, new commercial steel: Moody, Trans. ASME 66 (1944) gives 0.00015 ft (from memory)."""
DRAWN_ROUGHNESS = 1.5e-6
"""m, drawn tube: the same, 0.000005 ft (from memory)."""

SERIES: Mapping[str, PipeSeries] = {
    "steel": PipeSeries(
        "schedule 40 steel pipe",
        {size: inches * INCH for size, inches in _STEEL.items()},
        STEEL_ROUGHNESS,
        "ASME B36.10M; 1/2, 3/4, 1, 1-1/4, 2, 3 and 4 in read in the IFGC 2018 tables 402.4, the rest from memory",
    ),
    "copper L": PipeSeries(
        "copper tube of type L, by nominal size",
        {size: inches * INCH for size, inches in _TYPE_L.items()},
        DRAWN_ROUGHNESS,
        "ASTM B88 (from memory)",
    ),
    "copper": PipeSeries(
        "copper tube, by outside diameter",
        {size: inside * 1e-3 for size, inside in _COPPER.items()},
        DRAWN_ROUGHNESS,
        "EN 1057, walls 0.6 mm to 12, 0.7 at 15, 0.9 to 28, 1.2 above (from memory)",
    ),
    "steel DN": PipeSeries(
        "threaded steel pipe, medium",
        {size: inside * 1e-3 for size, inside in _DN.items()},
        STEEL_ROUGHNESS,
        "EN 10255 medium series (from memory)",
    ),
}
"""Pipes that have one inside diameter a size; corrugated tube has none and is typed in by its equivalent."""

FITTINGS: Mapping[str, float] = {
    "90 elbow": 30.0,
    "45 elbow": 16.0,
    "tee through": 20.0,
    "tee branch": 60.0,
    "ball valve": 3.0,
    "gate valve": 8.0,
    "plug valve": 18.0,
}
"""Length over inside diameter of straight pipe with the same loss: Crane Technical Paper 410 (from memory)."""


class LineGas(NamedTuple):
    """A fuel gas as the code equations and a first-principle drop see it.

    code_factor    Cr of the code equations, -
    compression    Y of the high-pressure code equation, -
    viscosity      Pa s at 20 C and 101.325 kPa
    warming        power of the absolute temperature with which the viscosity grows
    """

    code_factor: float
    compression: float
    viscosity: float
    warming: float


LINE_GASES: Mapping[str, LineGas] = {
    "natural gas": LineGas(0.6094, 0.9992, 1.104e-5, 0.85),
    "propane": LineGas(1.2462, 0.9910, 8.01e-6, 0.99),
}
"""Cr and Y: IFGC 2018 402.4 (from memory). Viscosity: methane and propane, CoolProp 8.0.0 (computed)."""
