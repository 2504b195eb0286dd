"""The colours and stroke weights of every printing, in one place. Contrast is checked by a test, not by eye."""

import re
from importlib.resources import files
from typing import Literal

Ink = Literal["paper", "lamp", "print"]
Weight = Literal["regular", "strong"]

TOKENS: dict[tuple[Ink, Weight], dict[str, str]] = {
    ("paper", "regular"): {
        "paper": "#f2f5ec", "ink": "#151a1c", "quiet": "#3f4a4c", "rule": "#6c7775", "pen": "#2a2fa6",
        "st": "1.6px", "st-heavy": "3.2px", "st-hair": "1px",
        "w-text": "420", "w-value": "640", "w-title": "300", "w-derived": "520", "w-hand": "480",
    },
    ("paper", "strong"): {
        "paper": "#ffffff", "ink": "#000000", "quiet": "#000000", "rule": "#333333", "pen": "#14128c",
        "st": "2.4px", "st-heavy": "4.4px", "st-hair": "1.6px",
        "w-text": "560", "w-value": "760", "w-title": "560", "w-derived": "640", "w-hand": "600",
    },
    ("lamp", "regular"): {
        "paper": "#000000", "ink": "#ff9648", "quiet": "#ee8233", "rule": "#9c541f", "pen": "#ffd98c",
        "st": "1.6px", "st-heavy": "3.2px", "st-hair": "1px",
        "w-text": "420", "w-value": "640", "w-title": "380", "w-derived": "520", "w-hand": "480",
    },
    ("lamp", "strong"): {
        "paper": "#000000", "ink": "#ffab6b", "quiet": "#ffab6b", "rule": "#c9702f", "pen": "#ffe9b8",
        "st": "2.4px", "st-heavy": "4.4px", "st-hair": "1.6px",
        "w-text": "560", "w-value": "760", "w-title": "560", "w-derived": "640", "w-hand": "600",
    },
    ("print", "regular"): {
        "paper": "#ffffff", "ink": "#000000", "quiet": "#000000", "rule": "#555555", "pen": "#000000",
        "st": "1.5px", "st-heavy": "2.8px", "st-hair": "0.8px",
        "w-text": "400", "w-value": "600", "w-title": "300", "w-derived": "500", "w-hand": "400",
    },
    ("print", "strong"): {
        "paper": "#ffffff", "ink": "#000000", "quiet": "#000000", "rule": "#333333", "pen": "#000000",
        "st": "2.2px", "st-heavy": "4px", "st-hair": "1.2px",
        "w-text": "500", "w-value": "700", "w-title": "500", "w-derived": "600", "w-hand": "600",
    },
}  # fmt: skip
"""paper: ground. ink: kept text and strokes. quiet: notes. rule: hairlines. pen: live or not yet kept, never danger."""


def drawing_css() -> str:
    """The style of all drawings, with the tokens as CSS variables."""
    return (files(__package__) / "drawing.css").read_text(encoding="utf-8")


def fixed_css(ink: Ink, weight: Weight) -> str:
    """The same style with the tokens put in, for a drawing that stands alone or goes into the PDF."""
    tokens = TOKENS[ink, weight]
    return re.sub(r"var\(--([\w-]+)\)", lambda match: tokens[match.group(1)], drawing_css())


def declarations(ink: Ink, weight: Weight) -> str:
    """The tokens as CSS custom properties."""
    return "".join(f"--{name}:{value};" for name, value in TOKENS[ink, weight].items())
