"""Makes the typefaces of pages and PDFs from the open web fonts in node_modules. Runs at build time only.

Pages take the variable fonts as they come. The PDF writer reads only plain TTF of one weight each, so every face is cut
from its variable font at a weight and optical size, joined over the alphabets, and given the few signs that the source
lacks. Cut and added to, it may no longer carry the reserved name of its source (SIL OFL 1.1, clause 3): hence
Fluewright Serif and Fluewright Sans.
"""

import shutil
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

from fontTools.merge import Merger
from fontTools.pens.boundsPen import BoundsPen
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.pens.transformPen import TransformPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont
from fontTools.varLib.instancer import instantiateVariableFont

SERIF = "source-serif-4"
SANS = "atkinson-hyperlegible-next"

SIGNS = "±≤≥→←−–—“”’×·§°²³₀₁₂₃₄₅₆₇₈₉ₓ√∞≈λΔπμ½¼¾†…"
"""What a sheet may need. A sign that no source has and that is not made below fails the build."""

LACKING_IN_SERIF = "√∞"
LACKING_IN_SANS = "√∞λΔπμ"
"""Known gaps: the PDF writer then takes the sign from another face. No Greek in the sans."""

PAGE_SIGNS = "≤≥→←₀₁₂₃₄₅₆₇₈₉ₓ≈λΔπμ"
"""What the latin web fonts of the pages lack; pages get these in a small font of their own."""


@dataclass(frozen=True)
class Face:
    """One plain TTF: where it is cut and how it is named. optical is a size in points, None without that axis."""

    file: str
    source: str
    slope: str
    weight: int
    optical: int | None
    family: str
    style: str
    os2_weight: int


FACES = (
    Face("serif-regular", SERIF, "normal", 400, 11, "Fluewright Serif", "Regular", 400),
    Face("serif-italic", SERIF, "italic", 400, 11, "Fluewright Serif", "Italic", 400),
    Face("serif-semibold", SERIF, "normal", 640, 12, "Fluewright Serif", "SemiBold", 600),
    Face("serif-bold", SERIF, "normal", 700, 18, "Fluewright Serif", "Bold", 700),
    Face("serif-light", SERIF, "normal", 300, 36, "Fluewright Serif", "Light", 300),
    Face("note-regular", SERIF, "normal", 400, 8, "Fluewright Serif Note", "Regular", 400),
    Face("note-italic", SERIF, "italic", 400, 8, "Fluewright Serif Note", "Italic", 400),
    Face("note-semibold", SERIF, "normal", 640, 8, "Fluewright Serif Note", "SemiBold", 600),
    Face("sans-regular", SANS, "normal", 400, None, "Fluewright Sans", "Regular", 400),
    Face("sans-semibold", SANS, "normal", 600, None, "Fluewright Sans", "SemiBold", 600),
)

WEB = {
    "serif.woff2": (SERIF, "latin-opsz-normal"),
    "serif-italic.woff2": (SERIF, "latin-opsz-italic"),
    "serif-ext.woff2": (SERIF, "latin-ext-opsz-normal"),
    "serif-ext-italic.woff2": (SERIF, "latin-ext-opsz-italic"),
    "sans.woff2": (SANS, "latin-wght-normal"),
    "sans-italic.woff2": (SANS, "latin-wght-italic"),
    "sans-ext.woff2": (SANS, "latin-ext-wght-normal"),
    "sans-ext-italic.woff2": (SANS, "latin-ext-wght-italic"),
}


def build(*, packages: Path, out: Path) -> None:
    """Write out/web/*.woff2, out/type/*.ttf and the licence texts from packages (node_modules/@fontsource-variable)."""
    for folder in ("web", "type"):
        shutil.rmtree(out / folder, ignore_errors=True)
        (out / folder).mkdir(parents=True)
        for source in (SERIF, SANS):
            shutil.copyfile(packages / source / "LICENSE", out / folder / f"{source}-OFL.txt")
    for web_name, (source, part) in WEB.items():
        shutil.copyfile(packages / source / "files" / f"{source}-{part}.woff2", out / "web" / web_name)
    for face in FACES:
        font = cut(face, packages)
        font.save(out / "type" / f"{face.file}.ttf")
    signs_for_pages(out / "type" / "serif-regular.ttf", out / "web" / "signs.woff2")


def cut(face: Face, packages: Path) -> TTFont:
    """One face: the variable font of each alphabet pinned to weight and size, joined, completed, named."""
    axes = "wght" if face.optical is None else "opsz"
    alphabets = ("latin", "latin-ext") if face.source == SANS else ("latin", "latin-ext", "greek")
    place = {"wght": face.weight} if face.optical is None else {"wght": face.weight, "opsz": face.optical}
    with TemporaryDirectory() as folder:
        parts = []
        for alphabet in alphabets:
            variable = TTFont(packages / face.source / "files" / f"{face.source}-{alphabet}-{axes}-{face.slope}.woff2")
            plain = instantiateVariableFont(variable, place)
            plain.flavor = None
            parts.append(Path(folder) / f"{alphabet}.ttf")
            plain.save(parts[-1])
        font = Merger().merge([str(part) for part in parts])
    add_signs(font)
    name(font, face)
    require(font, face)
    return font


def add_signs(font: TTFont) -> None:
    """Draw the signs that the source lacks from those it has: orders with a bar, arrows, lowered small figures."""
    drawn = {**orders(font), **arrows(font), **small_figures(font)}
    for sign, parts in drawn.items():
        if ord(sign) not in font.getBestCmap():
            draw(font, sign, parts)


@dataclass(frozen=True)
class Part:
    """A glyph of the font, scaled, stretched across and then moved."""

    glyph: str
    scale: float = 1.0
    stretch: float = 1.0
    right: float = 0.0
    up: float = 0.0


def orders(font: TTFont) -> dict[str, list[Part]]:
    """Less-or-equal, greater-or-equal and about, each from its plain sign and a bar or its own twin."""
    less, greater, bar, tilde = (font.getBestCmap()[ord(sign)] for sign in "<>−~")
    lift = font["head"].unitsPerEm * 0.06
    foot = box(font, less)[1] - box(font, bar)[1] - lift
    return {
        "≤": [Part(less, up=lift), Part(bar, up=foot)],
        "≥": [Part(greater, up=lift), Part(bar, up=foot)],
        "≈": [Part(tilde, up=1.5 * lift), Part(tilde, up=-1.5 * lift)],
    }


def arrows(font: TTFont) -> dict[str, list[Part]]:
    """An arrow each way: the minus as shaft, the order sign made smaller as head."""
    greater, less, shaft = (font.getBestCmap()[ord(sign)] for sign in "><−")
    left, low, right, high = box(font, shaft)
    size, stretch = 0.62, 1.6
    made = {}
    for sign, head in (("→", greater), ("←", less)):
        head_left, head_low, head_right, head_high = (size * edge for edge in box(font, head))
        across = stretch * right - head_right if sign == "→" else stretch * left - head_left
        up = (low + high - head_low - head_high) / 2
        made[sign] = [Part(shaft, stretch=stretch), Part(head, scale=size, right=across, up=up)]
    return made


def small_figures(font: TTFont) -> dict[str, list[Part]]:
    """Lowered figures for formulas: the small figures of the font where it has them, else the large ones scaled."""
    names = font.getBestCmap()
    cap_height = font["OS/2"].sCapHeight
    small = {names[ord(digit)]: names[ord(high)] for digit, high in zip("123", "¹²³", strict=True)}
    small = numerators(font) | small
    made = {}
    for sign, large in zip("₀₁₂₃₄₅₆₇₈₉ₓ", "0123456789x", strict=True):
        glyph = small.get(names[ord(large)])
        if glyph is None:
            made[sign] = [Part(names[ord(large)], scale=0.62, up=-0.19 * cap_height)]
        else:
            made[sign] = [Part(glyph, up=-0.19 * cap_height - box(font, glyph)[1])]
    return made


def numerators(font: TTFont) -> dict[str, str]:
    """Glyph of a figure -> its small form, from the font's own numerator feature; empty where it has none."""
    table = font["GSUB"].table
    found: dict[str, str] = {}
    for record in table.FeatureList.FeatureRecord:
        if record.FeatureTag == "numr":
            for index in record.Feature.LookupListIndex:
                for sub in table.LookupList.Lookup[index].SubTable:
                    found |= getattr(sub, "mapping", {})
    return found


def box(font: TTFont, glyph: str) -> tuple[float, float, float, float]:
    """Left, low, right and high edge of the drawn shape."""
    glyphs = font.getGlyphSet()
    pen = BoundsPen(glyphs)
    glyphs[glyph].draw(pen)
    return pen.bounds


def draw(font: TTFont, sign: str, parts: list[Part]) -> None:
    """Add one glyph made of parts; it is as wide as the first."""
    glyphs = font.getGlyphSet()
    pen = TTGlyphPen(None)
    for part in parts:
        outline = DecomposingRecordingPen(glyphs)
        glyphs[part.glyph].draw(outline)
        outline.replay(TransformPen(pen, (part.scale * part.stretch, 0, 0, part.scale, part.right, part.up)))
    made = f"uni{ord(sign):04X}"
    width = round(parts[0].scale * parts[0].stretch * font["hmtx"][parts[0].glyph][0])
    glyph = pen.glyph()
    font.setGlyphOrder([*font.getGlyphOrder(), made])
    font["glyf"][made] = glyph
    font["hmtx"][made] = (width, getattr(glyph, "xMin", 0))
    for table in font["cmap"].tables:
        if table.isUnicode():
            table.cmap[ord(sign)] = made


def name(font: TTFont, face: Face) -> None:
    """Family, style, weight and slope where a PDF writer looks for them; the copyright lines stay."""
    copyright_line = font["name"].getDebugName(0)
    licence = font["name"].getDebugName(14)
    table = font["name"]
    table.names = []
    regular_four = face.style in ("Regular", "Italic", "Bold")
    postscript = f"{face.family}-{face.style}".replace(" ", "")
    lines = {
        0: copyright_line,
        1: face.family if regular_four else f"{face.family} {face.style}",
        2: face.style if regular_four else "Regular",
        3: f"fluewright;{postscript}",
        4: f"{face.family} {face.style}",
        5: "Version 1.000",
        6: postscript,
        10: f"Cut from {face.source} with signs added",
        13: "SIL Open Font License, Version 1.1",
        14: licence,
        16: face.family,
        17: face.style,
    }
    for number, text in lines.items():
        table.setName(text, number, 3, 1, 0x409)
    italic = face.slope == "italic"
    font["OS/2"].usWeightClass = face.os2_weight
    bold = face.os2_weight == 700
    upright_regular = regular_four and not italic and not bold
    font["OS/2"].fsSelection = (1 if italic else 0) | (32 if bold else 0) | (64 if upright_regular else 0) | 128
    font["head"].macStyle = (1 if bold else 0) | (2 if italic else 0)
    for leftover in ("STAT", "MVAR", "HVAR", "avar", "fvar", "gvar"):
        if leftover in font:
            del font[leftover]


def require(font: TTFont, face: Face) -> None:
    """Refuse a face that lacks a sign which a sheet may need."""
    allowed = LACKING_IN_SANS if face.source == SANS else LACKING_IN_SERIF
    lacking = [sign for sign in SIGNS if ord(sign) not in font.getBestCmap() and sign not in allowed]
    if lacking:
        raise RuntimeError(f"{face.file}: no glyph for {' '.join(lacking)}; see SIGNS in web/typefaces.py")


def signs_for_pages(plain: Path, out: Path) -> None:
    """The signs that the latin web fonts lack, as one small upright web font for pages."""
    font = TTFont(plain)
    options = Options()
    options.flavor = "woff2"
    subsetter = Subsetter(options)
    subsetter.populate(text=PAGE_SIGNS)
    subsetter.subset(font)
    font.flavor = "woff2"
    font.save(out)
