"""Drills by name and by diameter: numbers and letters by the list, fractions and metric sizes by themselves."""

import re
import tomllib
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib import resources

from fluewright.errors import RuleError

INCH = 0.0254
"""m, exact."""
METRIC_STEP = 0.05e-3
"""m between metric drills offered (common practice, no source)."""
_FRACTION = re.compile(r"(\d{1,2})/(\d{1,2})(?:in|\")?")


@dataclass(frozen=True, slots=True)
class Drill:
    """A drill: its name as it is written on orifices, and its diameter in m."""

    name: str
    diameter: float


@cache
def listed() -> tuple[Drill, ...]:
    """Number and letter drills and fractions of an inch up to half an inch, thinnest first."""
    text = (resources.files("fluewright.rules") / "tables" / "drills.toml").read_text(encoding="utf-8")
    table = tomllib.loads(text)
    found = [Drill(f"#{number}", size * INCH) for number, size in enumerate(table["numbers"], 1)]
    found += [Drill(letter, size * INCH) for letter, size in table["letters"].items()]
    found += [Drill(f"{Fraction(part, 64)} in", part / 64 * INCH) for part in range(1, 33)]
    return tuple(sorted(found, key=lambda drill: drill.diameter))


def drill(text: str) -> Drill | None:
    """The drill that a text names, such as #42, 42, 3/64 or F; None when it names none.

    text -> drill; RuleError FW-B-041 for a number that there is no drill of
    """
    name = text.strip().lower().replace("drill", "").replace("no.", "#").replace(" ", "")
    if found := _FRACTION.fullmatch(name):
        return _by_name(text, str(Fraction(int(found[1]), int(found[2]) or 1)) + " in")
    if re.fullmatch(r"#?\d{1,3}", name):
        return _by_name(text, f"#{int(name.lstrip('#'))}")
    return _by_name(text, name.upper()) if re.fullmatch(r"[a-z]", name) else None


def _by_name(text: str, name: str) -> Drill:
    found = next((one for one in listed() if one.name == name), None)
    if found is None:
        raise RuleError(
            code="FW-B-041",
            read=f"the drill {text!r}",
            expected="#1 to #80, A to Z, a fraction of an inch up to 1/2 in, or a diameter such as 1.25 mm",
            matters="the input goes with the square of the diameter",
            do="read the stamp on the orifice again, or measure it with drill shanks",
        )
    return found


def metric(diameter: float) -> Drill:
    """The nearest metric drill.

    diameter  m
    -> drill
    """
    size = round(diameter / METRIC_STEP) * METRIC_STEP
    return Drill(f"{size * 1000.0:.2f} mm", size)


def around(diameter: float) -> tuple[Drill, ...]:
    """The nearest listed drill on each side of a diameter, or one that fits it; thinner first.

    diameter  m
    -> one or two drills; fewer at the ends of the list
    """
    thin = [one for one in listed() if one.diameter <= diameter * (1.0 + 1e-9)]
    thick = [one for one in listed() if one.diameter > diameter * (1.0 + 1e-9)]
    if thin and abs(thin[-1].diameter - diameter) < 1e-9:
        return (thin[-1],)
    return (*thin[-1:], *thick[:1])
