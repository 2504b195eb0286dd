"""Drawings as plain SVG, each with the table that says the same."""

from functools import lru_cache

from fluewright.report.drawing import history, plane, pulls, ribbon, section, strip
from fluewright.report.drawing.data import (
    Branch,
    Case,
    Channel,
    Drawing,
    Firing,
    History,
    House,
    How,
    Knot,
    LossCurve,
    Past,
    Pin,
    Plane,
    PressureSection,
    Pull,
    Pulls,
    Ribbon,
    Seen,
    Shed,
    Strip,
    Value,
    Window,
)
from fluewright.report.drawing.inks import Ink, Weight
from fluewright.report.drawing.svg import Canvas
from fluewright.report.tree import Table

__all__ = [
    "Branch",
    "Case",
    "Channel",
    "Drawing",
    "Firing",
    "History",
    "House",
    "How",
    "Knot",
    "LossCurve",
    "Past",
    "Pin",
    "Plane",
    "PressureSection",
    "Pull",
    "Pulls",
    "Ribbon",
    "Seen",
    "Shed",
    "Strip",
    "Value",
    "Window",
    "svg",
    "twin",
]


REMEMBERED = 128
"""Drawings that are kept: a page redraws each for several widths, and is asked for again after every line."""


def svg(
    data: Drawing, *, ink: Ink = "paper", weight: Weight = "regular", width: float = 700.0, alone: bool = True
) -> str:
    """One drawing as an SVG element.

    It is redrawn for its width and never scaled, so that words stay readable on a phone.

    data    what to draw; a tuple of ribbons shares one scale
    ink     paper, lamp or print
    weight  regular, or strong for sun
    width   px, 300 or more
    alone   True: carries its own style, for a file or the PDF. False: bare classes, the page brings the style
    -> SVG  well-formed, with role, label and title

    Holds   any number of knots, strips and samples; long traces keep the lowest and highest value of each pixel column
    Fails   no
    Source  the laws are drawn by the caller's numbers; nothing is computed here but positions
    """
    return _drawn(data, ink, weight, width, alone)


@lru_cache(maxsize=REMEMBERED)
def _drawn(data: Drawing, ink: Ink, weight: Weight, width: float, alone: bool) -> str:
    return canvas(data, width).element(ink=ink, weight=weight, alone=alone)


def canvas(data: Drawing, width: float) -> Canvas:
    """The shapes of a drawing."""
    if isinstance(data, Plane):
        return plane.draw(data, width=width)
    if isinstance(data, Strip):
        return strip.draw(data, width=width)
    if isinstance(data, PressureSection):
        return section.draw(data, width=width)
    if isinstance(data, History):
        return history.draw(data, width=width)
    if isinstance(data, Pulls):
        return pulls.draw(data, width=width)
    return ribbon.draw(data if isinstance(data, tuple) else (data,), width=width)


def twin(data: Drawing) -> Table:
    """The table that says the same as the drawing, for readers who cannot see it and for the record."""
    if isinstance(data, Plane):
        return plane.twin(data)
    if isinstance(data, Strip):
        return strip.twin(data)
    if isinstance(data, PressureSection):
        return section.twin(data)
    if isinstance(data, History):
        return history.twin(data)
    if isinstance(data, Pulls):
        return pulls.twin(data)
    return ribbon.twin(data if isinstance(data, tuple) else (data,))
