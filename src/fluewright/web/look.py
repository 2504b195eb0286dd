"""The look of the pages: the sheet's own style and inks, then what only a screen needs, with the fonts by address.

One source for what sheet and page share: `report/style.css`, `report/drawing`; nothing of it is written again here.
"""

import hashlib
from dataclasses import dataclass
from pathlib import Path

from fluewright.report import html
from fluewright.report.assets import STATIC, web_fonts

PAGES = Path(__file__).resolve().parent / "pages.css"
AROUND = PAGES.with_name("around.css")
"""What only the pages around the visit need."""

INKS = ("paper", "lamp")
WEIGHTS = ("regular", "strong")
DENSITIES = ("normal", "glove")
HANDS = ("right", "left")

CHOICES = {"ink": INKS, "weight": WEIGHTS, "density": DENSITIES, "hand": HANDS}
"""What a person may choose about the pages; the first of each when nothing was chosen."""


@dataclass(frozen=True, slots=True)
class Style:
    """The one style sheet of the pages.

    text  its text
    name  its file name, which changes with the text, so that a browser may keep it for long
    """

    text: str
    name: str


def style() -> Style:
    """The style sheet, the fonts by their addresses beside it."""
    faces = "".join(
        html.face(family, slope, reach, f"/static/{_marked(web_fonts()[name])}")
        for family, name, slope, reach in html.FACES
    )
    text = faces + html.look() + PAGES.read_text(encoding="utf-8") + AROUND.read_text(encoding="utf-8")
    return Style(text, f"pages.{hashlib.sha256(text.encode()).hexdigest()[:12]}.css")


def fonts() -> dict[str, Path]:
    """The fonts by the names under which they are served."""
    return {_marked(path): path for path in web_fonts().values()}


def script() -> dict[str, Path]:
    """The one script of the pages by the name under which it is served; none where it was not built."""
    path = STATIC / "web" / "pages.js"
    return {_marked(path): path} if path.is_file() else {}


def _marked(path: Path) -> str:
    """A file name that changes with its content."""
    return f"{path.stem}.{hashlib.sha256(path.read_bytes()).hexdigest()[:12]}{path.suffix}"


def chosen(cookie: str) -> dict[str, str]:
    """What was chosen, from the cookie that keeps it; anything else in it counts for nothing."""
    parts = set(cookie.split("."))
    return {name: next((each for each in several if each in parts), several[0]) for name, several in CHOICES.items()}
