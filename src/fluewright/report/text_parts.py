"""A pen for the terminal: filling lines, aligning tables, a plane of signs. Width is counted without colour codes."""

import re
import unicodedata
from collections.abc import Sequence
from math import log10

from fluewright.report.drawing import Plane
from fluewright.report.phrase import clean

Runs = list[tuple[str, str]]
Filled = list[tuple[str, int]]
"""Lines with their codes, each with the columns it takes."""

MARKS = {
    "measured": ("■", "#"),
    "derived": ("□", "o"),
    "plate": ("▨", "/"),
    "unknown": ("┄", "."),
    "danger": ("⯃", "!!"),
}
VOICES = {
    "measured": "1", "strong": "1", "derived": "4", "plate": "4", "unknown": "3", "quiet": "3", "loud": "1;7",
    "struck": "9",
}  # fmt: skip
"""ANSI codes by voice: weight, slant, underline, and reverse for the stop sentence. No hue: colour says nothing."""
ASCII = str.maketrans({
    "±": "+/-", "×": "x", "−": "-", "–": "-", "—": "-", "·": "-", "°": " deg", "’": "'", "‘": "'", "“": '"', "”": '"',
    "…": "...", "§": "sec.", "²": "2", "³": "3", "½": "1/2", "¼": "1/4", "¾": "3/4", "\u2009": " ", "\xa0": " ",
    "≤": "<=", "≥": ">=", "→": "->", "µ": "u", "│": "|", "─": "-", "╱": "/", "┈": ".", "░": ":", "┤": "+", "└": "+",
    "█": "#", "□": "o",
})  # fmt: skip


def columns(text: str) -> int:
    """How many columns a text takes: wide letters take two, marks above others none."""
    return sum(
        0 if unicodedata.combining(letter) else 2 if unicodedata.east_asian_width(letter) in "WF" else 1
        for letter in text
    )


class Pen:
    """Writes lines of a given width."""

    def __init__(self, *, width: int, colour: bool, plain: bool) -> None:
        self.width, self.colour, self.plain = width, colour, plain
        self.lines: list[str] = []
        self.bar = "|" if plain else "│"

    def sign(self, text: str) -> str:
        """The text as this terminal can show it."""
        text = clean(text)
        if not self.plain:
            return text
        spelled = re.sub(r" *deg([FC]\b)", r" \1", text.translate(ASCII))
        spelled = unicodedata.normalize("NFKD", spelled)
        return "".join(
            letter if letter.isascii() else "" if unicodedata.combining(letter) else "?" for letter in spelled
        )

    def mark(self, name: str) -> str:
        """The mark of a kind of knowledge."""
        return MARKS[name][self.plain]

    def voice(self, text: str, voice: str) -> str:
        """The text with the codes of its voice, when colour is wanted."""
        code = VOICES.get(voice, "") if self.colour else ""
        return f"\x1b[{code}m{text}\x1b[0m" if code and text else text

    def line(self, text: str = "") -> None:
        """One line as it is, without spaces at its end."""
        self.lines.append(text.rstrip())

    def blank(self) -> None:
        """An empty line, never two."""
        if self.lines and self.lines[-1]:
            self.lines.append("")

    def paragraph(self, words: Runs, *, indent: int = 0) -> None:
        """Filled text."""
        for shown, _ in filled(self, words, self.width - indent):
            self.line(" " * indent + shown)

    def block(self, mark: str, words: Runs, *, indent: int, hang: int = 0) -> None:
        """Filled text with a mark hanging at its left."""
        for index, (shown, _) in enumerate(filled(self, words, self.width - indent)):
            head = " " * hang + (mark if index == 0 else "")
            self.line(f"{head:<{indent}}{shown}")

    def rule(self) -> None:
        """A rule across."""
        self.line(("-" if self.plain else "─") * self.width)

    def dots(self) -> None:
        """A dotted rule across."""
        self.line(("." if self.plain else "┈") * self.width)

    def hatch(self) -> None:
        """A hatched rule across."""
        self.line(("/" if self.plain else "╱") * self.width)

    def heading(self, number: str, title: str) -> None:
        """A head with a rule above it."""
        self.blank()
        self.rule()
        self.line(f"{number:>3}{'':<11}{self.voice(self.sign(title), 'strong')}")

    def text(self) -> str:
        """Everything written."""
        return "\n".join(self.lines) + "\n"


def filled(pen: Pen, words: Runs, room: int) -> Filled:
    """Runs of words broken into lines of at most so many columns; a longer word is cut."""
    lines: Filled = []
    shown, used = "", 0
    for group in _groups(pen, words):
        length = sum(columns(piece) for piece, _ in group)
        space = 1 if used else 0
        if used and used + space + length > room:
            lines.append((shown, used))
            shown, used, space = "", 0, 0
        shown += " " * space
        used += space
        for part, voice in group:
            for piece in _cut(part, room):
                if used + columns(piece) > room:
                    lines.append((shown, used))
                    shown, used = "", 0
                shown += pen.voice(piece, voice)
                used += columns(piece)
    return [*lines, (shown, used)] if used else lines


def _groups(pen: Pen, words: Runs) -> list[list[tuple[str, str]]]:
    """What stands together without a space, in whatever voices: a figure and the stop behind it are one."""
    groups: list[list[tuple[str, str]]] = [[]]
    for text, voice in words:
        for part in _parts(pen.sign(text)):
            if part.startswith(" "):
                groups.append([])
            else:
                groups[-1].append((part, voice))
    return [group for group in groups if group]


def _parts(text: str) -> list[str]:
    """Words and the spaces between them, in order."""
    parts: list[str] = []
    for letter in text:
        if parts and parts[-1].startswith(" ") == (letter == " "):
            parts[-1] += letter
        else:
            parts.append(letter)
    return parts


def _cut(word: str, room: int) -> list[str]:
    """A word in pieces that fit."""
    if columns(word) <= room:
        return [word]
    step = room if columns(word) <= len(word) else room // 2
    return [word[at : at + step] for at in range(0, len(word), step)]


def grid(pen: Pen, heads: Sequence[str], rows: Sequence[Sequence[str]], *, indent: int = 2) -> list[str]:
    """A table in columns; the widest column gives way until the table fits, its cells then take several lines."""
    cells = [[pen.sign(cell) for cell in row] for row in (heads, *rows)]
    widths = [max(columns(cell) for cell in column) for column in zip(*cells, strict=True)]
    room = pen.width - indent - 2 * (len(widths) - 1)
    while sum(widths) > room and max(widths) > 6:
        widths[widths.index(max(widths))] -= 1
    lines: list[str] = []
    for index, row in enumerate(cells):
        voice = "quiet" if index == 0 else "page"
        folded = [filled(pen, [(cell, voice)], width) for cell, width in zip(row, widths, strict=True)]
        for level in range(max(map(len, folded), default=0)):
            line = " " * indent
            for column, width in zip(folded, widths, strict=True):
                shown, used = column[level] if level < len(column) else ("", 0)
                line += shown + " " * (width - used + 2)
            lines.append(line)
        if index == 0:
            lines.append(" " * indent + ("-" if pen.plain else "─") * (sum(widths) + 2 * (len(widths) - 1)))
    return lines


def plotted(pen: Pen, plane: Plane) -> list[str]:
    """The plane in signs: the window shaded, each step a number in the order of the table, log scale upwards."""
    across, up = min(pen.width - 12, 66), 11
    low, high = log10(plane.cell_floor_ppm), log10(plane.co_limit)

    def spot(oxygen: float, ppm: float) -> tuple[int, int]:
        share = (log10(max(min(ppm, plane.co_limit), plane.cell_floor_ppm)) - low) / (high - low)
        return round(
            min(oxygen / plane.oxygen_limit, 1) * (across - 1)
        ), 0 if ppm <= plane.cell_floor_ppm else 1 + round(share * (up - 2))

    field = [[" "] * across for _ in range(up)]
    if plane.window:
        left, top = spot(plane.window.low, plane.window.carbon_monoxide)
        right, _ = spot(plane.window.high, plane.window.carbon_monoxide)
        for level in range(1, top + 1):
            field[level][left : right + 1] = [pen.sign("░")] * (right - left + 1)
    for index, knot in enumerate(plane.knots):
        column, level = spot(knot.oxygen, knot.carbon_monoxide_air_free)
        field[level][column] = str((index + 1) % 10)
    decades = [10.0**power for power in range(1, 7) if plane.cell_floor_ppm < 10.0**power < plane.co_limit]
    marks = {spot(0, ppm)[1]: f"{ppm:.0f}" for ppm in (*decades, plane.co_limit)}
    lines = ["  CO air-free, ppm"]
    for level in reversed(range(up)):
        lines.append(f"  {marks.get(level, ''):>6} {pen.bar}{''.join(field[level])}")
    lines.append(f"{'':>9}{pen.sign('└')}{('-' if pen.plain else '─') * across}")
    ticks = [" "] * (across + 4)
    for oxygen in range(0, int(plane.oxygen_limit) + 1, 2):
        column = spot(oxygen, 1)[0]
        ticks[column : column + len(str(oxygen))] = str(oxygen)
    lines.append(f"{'':>10}{''.join(ticks)}")
    return lines
