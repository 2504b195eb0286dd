"""Files that somebody sends: by content, bounded, made anew."""

import io
import struct
import zlib

import pytest
from PIL import Image

from fluewright.errors import EntryError
from fluewright.visit import uploads


def made(form: str = "JPEG", size: tuple[int, int] = (120, 80), **more: object) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", size, (200, 120, 40)).save(out, form, **more)
    return out.getvalue()


def with_place() -> bytes:
    exif = Image.Exif()
    exif[0x010E] = "taken at Made-up Street 1"
    exif[0x0112] = 6  # lies on its side
    exif.get_ifd(0x8825)[2] = (51.0, 30.0, 0.0)
    return made(exif=exif)


def bomb(side: int) -> bytes:
    """A PNG of many pixels in a few bytes."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", side, side, 8, 0, 0, 0, 0)
    body = chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"\0" * 10_000)) + chunk(b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + body


def test_asvs_5_2_2_a_picture_is_known_by_its_content() -> None:
    assert uploads.picture_type(made()) == "image/jpeg"
    assert uploads.picture_type(made("PNG")) == "image/png"
    assert uploads.picture_type(made("WEBP")) == "image/webp"
    for strange in (b"", b"<svg xmlns='http://www.w3.org/2000/svg'/>", b"<html>", b"GIF89a", b"%PDF-1.7", b"MZ"):
        with pytest.raises(EntryError, match="FW-J-161"):
            uploads.picture_type(strange)


def test_asvs_5_2_1_a_file_that_is_too_long_is_refused() -> None:
    with pytest.raises(EntryError, match="at most 20 MB"):
        uploads.picture_type(made() + b"x" * uploads.LONGEST)


def test_a_picture_that_swells_when_it_is_decoded_is_refused() -> None:
    for side, said in ((9_000, "9,000 x 9,000"), (60_000, "cannot be decoded")):
        assert len(bomb(side)) < 1000
        with pytest.raises(EntryError, match=said):
            uploads.shown(bomb(side))


def test_what_is_shown_holds_nothing_of_the_file_that_came() -> None:
    source = with_place() + b"<script>alert(1)</script>"
    found = uploads.shown(source)
    assert (found.wide, found.high) == (80, 120), "turned upright"
    with Image.open(io.BytesIO(found.content)) as again:
        assert not again.getexif()
    assert b"script" not in found.content and b"Street" not in found.content and b"Exif" not in found.content


def test_a_picture_is_no_larger_than_it_is_shown() -> None:
    found = uploads.shown(made(size=(4000, 1000)), 400)
    assert (found.wide, found.high) == (400, 100)


def test_a_torn_picture_is_refused() -> None:
    source = made(size=(400, 400))
    for broken in (source[:200], source[:-200], source[:30] + b"\0" * 500, made("PNG")[:60]):
        with pytest.raises(EntryError, match="FW-J-161"):
            uploads.shown(broken)
