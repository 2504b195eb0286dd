"""The built typefaces: all there, found by the PDF writer under their names, and asked for plainly when absent."""

from pathlib import Path

import pytest

from fluewright.errors import OurFault
from fluewright.report import assets

ASKED_FOR = {
    assets.SERIF: {(300, "normal"), (400, "normal"), (400, "italic"), (600, "normal"), (700, "normal")},
    assets.NOTE: {(400, "normal"), (400, "italic"), (600, "normal")},
    assets.SANS: {(400, "normal"), (600, "normal")},
}
"""Weights and slopes that docs/house.md promises."""


def test_the_pdf_writer_finds_every_face_by_family_weight_and_slope() -> None:
    import typst

    folder = str(assets.type_folder())
    fonts = typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[folder])
    found: dict[str, set[tuple[int, str]]] = {}
    for font in fonts.fonts():
        found.setdefault(font.family, set()).add((font.weight, font.style))
    assert found == ASKED_FOR


@pytest.mark.parametrize("family", sorted(ASKED_FOR))
def test_a_page_in_each_family_is_set_without_a_warning(family: str) -> None:
    import typst

    lines = "\n\n".join(
        f'#text(weight: {weight}, style: "{style}")[CO₂ ≤ 9.4 % → λ 1.25 ± 0.02]' for weight, style in ASKED_FOR[family]
    )
    source = f'#set text(font: ("{family}", "{assets.SERIF}"), fallback: false)\n{lines}'
    picture, warnings = typst.compile_with_warnings(
        source.encode(), font_paths=[str(assets.type_folder())], ignore_system_fonts=True, format="png"
    )
    assert picture
    assert [str(warning) for warning in warnings] == []


def test_pages_get_compressed_web_fonts() -> None:
    fonts = assets.web_fonts()
    assert tuple(fonts) == assets.WEB_FONTS
    assert {path.read_bytes()[:4] for path in fonts.values()} == {b"wOF2"}
    assert sum(path.stat().st_size for path in fonts.values()) < 650_000


def test_the_licence_lies_beside_the_faces() -> None:
    for folder in ("web", "type"):
        for source in ("source-serif-4", "atkinson-hyperlegible-next"):
            text = (assets.STATIC / folder / f"{source}-OFL.txt").read_text(encoding="utf-8")
            assert "SIL Open Font License, Version 1.1" in text


def test_absent_faces_are_asked_for_plainly(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(assets, "STATIC", tmp_path)
    for lookup in (assets.type_folder, assets.web_fonts):
        with pytest.raises(OurFault) as caught:
            lookup()
        assert caught.value.code == "FW-Z-201"
        assert "make setup" in caught.value.do
