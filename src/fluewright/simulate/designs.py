"""The virtual appliances as data: one for each way of getting air, and which classes of appliance it stands for."""

import tomllib
from functools import cache
from importlib.resources import files

from fluewright.simulate.condition import Design


@cache
def designs() -> dict[str, Design]:
    """All designs by name."""
    text = files("fluewright.simulate").joinpath("designs.toml").read_text(encoding="utf-8")
    return {
        name: Design(name=name, **{**fields, "kinds": tuple(fields["kinds"])})
        for name, fields in tomllib.loads(text).items()
    }


@cache
def design_of_kind(kind: str) -> Design | None:
    """The design that stands for a class of appliance; None when none does."""
    return next((design for design in designs().values() if kind in design.kinds), None)
