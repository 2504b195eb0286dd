"""Files that somebody sends: known by their content, never by their name; pictures are made anew before they are shown.

A picture is decoded and encoded again, so that nothing of the file that came in reaches another browser: no script, no
page hidden behind the picture, no place where it was taken. Nothing that can hold a script (HTML, SVG) is taken at all.
"""

import io
from dataclasses import dataclass
from typing import Literal

from fluewright.errors import EntryError, UseError

Picture = Literal["image/jpeg", "image/png", "image/webp"]

BEGINNINGS: dict[Picture, tuple[int, bytes]] = {
    "image/jpeg": (0, b"\xff\xd8\xff"),
    "image/png": (0, b"\x89PNG\r\n\x1a\n"),
    "image/webp": (8, b"WEBP"),
}
"""What a picture begins with, and where."""

LONGEST = 20 * 1024 * 1024
"""Bytes of one picture."""

PIXELS = 64_000_000
"""Of one picture when it is decoded: a quarter of a gigabyte, more than phones take. Common practice, no source."""

SHOWN = 2048
"""Pixels of the longer side of a picture as it is shown."""


@dataclass(frozen=True, slots=True)
class Shown:
    """A picture made anew, for other people's browsers.

    content  JPEG, without anything that the camera wrote besides the picture
    wide     pixels
    high     pixels
    """

    content: bytes
    wide: int
    high: int


def picture_type(content: bytes) -> Picture:
    """What kind of picture a file is, by its content.

    -> its type; EntryError for everything else, also for a picture that is too long
    """
    if not content or len(content) > LONGEST:
        raise _not_taken(f"a file of {len(content):,} bytes", f"a picture of at most {LONGEST // 2**20} MB")
    for name, (at, beginning) in BEGINNINGS.items():
        if content[at : at + len(beginning)] == beginning and (name != "image/webp" or content[:4] == b"RIFF"):
            return name
    raise _not_taken("a file that is no photograph by its content", "JPEG, PNG or WebP")


def shown(content: bytes, longest: int = SHOWN) -> Shown:
    """A picture for other people's browsers, turned upright and made anew.

    content  the file as it came
    longest  pixels of its longer side, at most
    -> picture; EntryError when it cannot be decoded whole, or would be too large when it is
    """
    expected = picture_type(content).partition("/")[2].upper()
    try:
        from PIL import Image, ImageOps, UnidentifiedImageError
    except ImportError as error:  # as inside a page
        raise _no_pictures() from error
    try:
        with Image.open(io.BytesIO(content), formats=[expected]) as found:
            if found.width * found.height > PIXELS:
                raise _not_taken(f"a picture of {found.width:,} x {found.height:,}", f"at most {PIXELS:,} pixels")
            found.load()
            upright = ImageOps.exif_transpose(found).convert("RGB")
    except (OSError, ValueError, SyntaxError, EOFError, UnidentifiedImageError, Image.DecompressionBombError) as error:
        raise _not_taken("a picture that cannot be decoded", "a whole one") from error
    upright.thumbnail((longest, longest))
    clean = Image.new("RGB", upright.size)
    clean.paste(upright)
    out = io.BytesIO()
    clean.save(out, "JPEG", quality=85)
    return Shown(out.getvalue(), *clean.size)


def _not_taken(read: str, expected: str) -> EntryError:
    return EntryError(
        code="FW-J-161",
        read=read,
        expected=expected,
        matters="a file that is something else than it says can do harm on every machine that shows it",
        do="send another; nothing was kept",
    )


def _no_pictures() -> UseError:
    return UseError(
        code="FW-U-201",
        read="a photograph, where this program has nothing to decode it with",
        expected="a machine on which the program is installed whole",
        matters="a picture is shown to others only after it was made anew",
        do="take the photograph in on the shop's machine; the visit is kept without it",
    )
