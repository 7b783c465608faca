"""The letters that are shipped, read with fontTools."""

from __future__ import annotations

import pytest
from fontTools.ttLib import TTFont

from rosette import lettering
from rosette.lettering import FAMILY, FOLDER, font_path, missing_glyphs, text_width

USED = "0123456789°×±−–→←↑↓Øø⌀½¼¾″′≤≥✓□☐“”‘’…·²³µα≈%&@#§"
LATIN = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
NAMES = "Åse Łukasz Çağla Dvořák Œuvre Straße Ñandú Ελληνικά Кремона"


@pytest.mark.parametrize("bold", [False, True])
def test_both_weights_have_every_character_we_use(bold: bool) -> None:
    with TTFont(font_path(bold)) as font:
        known = font.getBestCmap()
        drawn = font["glyf"]
        for letter in USED + LATIN + NAMES.replace(" ", ""):
            assert ord(letter) in known, letter
            assert drawn[known[ord(letter)]].numberOfContours != 0, letter


def test_a_character_that_is_missing_is_told() -> None:
    assert missing_glyphs(USED + LATIN + NAMES) == ""
    assert missing_glyphs("Gitarre 木 木 𝄞") == "木𝄞"


@pytest.mark.parametrize("bold", [False, True])
def test_capital_height_and_name_are_the_font_files_own(bold: bool) -> None:
    with TTFont(font_path(bold)) as font:
        assert font["OS/2"].sCapHeight / font["head"].unitsPerEm == lettering.CAPITAL
        top = font["glyf"][font.getBestCmap()[ord("H")]].yMax
        assert top == font["OS/2"].sCapHeight
        assert font["name"].getDebugName(1) == FAMILY
        assert font["OS/2"].fsType == 0


def test_widths_are_the_advance_widths() -> None:
    with TTFont(font_path()) as font:
        units = sum(font["hmtx"][font.getBestCmap()[ord(letter)]][0] for letter in "Ring 1")
        capital = font["OS/2"].sCapHeight
    assert text_width("Ring 1", 2.5) == pytest.approx(2.5 * units / capital)


def test_figures_are_all_as_wide() -> None:
    for bold in (False, True):
        assert len({text_width(figure, 2.5, bold) for figure in "0123456789"}) == 1


def test_the_licence_goes_with_the_files() -> None:
    licence = (FOLDER / "OFL.txt").read_text(encoding="utf-8")
    assert "SIL OPEN FONT LICENSE Version 1.1" in licence
    assert all(font_path(bold).stat().st_size < 300_000 for bold in (False, True))


def test_a_missing_file_is_an_error(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(lettering._FILES, True, "nowhere.ttf")
    with pytest.raises(FileNotFoundError, match="install rosette again"):
        font_path(bold=True)
