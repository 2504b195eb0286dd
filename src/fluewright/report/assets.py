"""The built typefaces: where pages and PDFs find them.

They are made at build time (web/typefaces.py) and lie in the package's static folder. The names below are what a style
sheet or a PDF template calls them; docs/house.md lists the signs that each face has.
"""

from pathlib import Path

from fluewright.errors import OurFault

SERIF = "Fluewright Serif"
"""The page speaks. Weights 300 (cut for titles), 400, 600 and 700; italic at 400."""

NOTE = "Fluewright Serif Note"
"""The same hand cut for sizes up to 9 pt. Weights 400 and 600; italic at 400."""

SANS = "Fluewright Sans"
"""A hand wrote this: typed text, codes, keys. Weights 400 and 600."""

STATIC = Path(__file__).resolve().parent.parent / "static"

WEB_FONTS = (
    "serif",
    "serif-italic",
    "serif-ext",
    "serif-ext-italic",
    "sans",
    "sans-italic",
    "sans-ext",
    "sans-ext-italic",
    "signs",
)
"""Web fonts: Latin, the rest of Latin (ext), and the signs that Latin lacks. The serif has weights 200 to 900 and
optical sizes 8 to 60, the sans weights 200 to 800."""

TYPE_FACES = (
    "serif-regular",
    "serif-italic",
    "serif-semibold",
    "serif-bold",
    "serif-light",
    "note-regular",
    "note-italic",
    "note-semibold",
    "sans-regular",
    "sans-semibold",
)
"""Plain TTF faces for the PDF."""

UNICODE_RANGES = {
    "": "U+0000-00FF,U+0131,U+0152-0153,U+02BB-02BC,U+02C6,U+02DA,U+02DC,U+2000-206F,U+20AC,U+2122,U+2212,U+2215",
    "ext": "U+0100-0130,U+0132-0151,U+0154-02BA,U+1E00-1E9F,U+1EF2-1EFF,U+2020,U+20A0-20AB,U+20AD-20C0,U+2113",
    "signs": "U+0394,U+03BB-03BC,U+03C0,U+2080-2089,U+2093,U+2190,U+2192,U+2248,U+2264-2265",
}
"""For the unicode-range of a style sheet: "" for plain Latin, "ext" and "signs" for the fonts named so."""


def web_fonts() -> dict[str, Path]:
    """The web fonts by name, as files in WOFF2.

    -> name -> path, in the order of WEB_FONTS
    Fails with FW-Z-201 when the typefaces were never built
    """
    return {name: _present(STATIC / "web" / f"{name}.woff2") for name in WEB_FONTS}


def type_folder() -> Path:
    """The folder of plain TTF faces, to be given to the PDF writer as its only font folder.

    -> folder that holds every one of TYPE_FACES
    Fails with FW-Z-201 when the typefaces were never built
    """
    folder = STATIC / "type"
    for name in TYPE_FACES:
        _present(folder / f"{name}.ttf")
    return folder


def _present(path: Path) -> Path:
    if not path.is_file():
        raise OurFault(
            code="FW-Z-201",
            read=f"the typeface {path.name} is not in the package",
            expected="typefaces built with the package",
            matters="pages and PDFs are set in them, and another face would break lines and lose signs",
            do="in a checkout run: make setup; an installed package lacks them only when it was built wrongly",
        )
    return path
