"""The lettering of every sheet and fixture: one family, shipped with the tool.

Heights are those of a capital letter in millimetres, as on a technical drawing
(ISO 3098), not the type size of a printer.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

FAMILY = "Rosette Sans"
"""The family's name inside the font files."""

FOLDER = Path(__file__).with_name("fonts")
_FILES = {False: "RosetteSans-Regular.ttf", True: "RosetteSans-Bold.ttf"}

CAPITAL = 1490 / 2048
"""Height of a capital over the type size, the same for both weights."""


@dataclass(frozen=True, slots=True)
class _Metrics:
    """Advance widths by character, for a capital height of 1."""

    widths: Mapping[str, float]
    unknown: float


def font_path(bold: bool = False) -> Path:
    """The font file, made sure of.

    A CAD kernel given a wrong path takes another font without a word, so a missing
    file is an error here.

    Raises:
        FileNotFoundError: the installation lacks the file.
    """
    path = FOLDER / _FILES[bold]
    if not path.is_file():
        raise FileNotFoundError(f"{path}: this font file is part of rosette; install rosette again")
    return path


def font_size(height: float) -> float:
    """The type size in mm whose capitals are `height` mm high.

    >>> round(font_size(2.5), 4)
    3.4362
    """
    return height / CAPITAL


def text_width(text: str, height: float, bold: bool = False) -> float:
    """How long a line of words is, in mm, by the advance widths of its letters.

    Pair kerning is left out, as it is where the words are drawn. A character that the
    family lacks counts as the box that stands for it (see `missing_glyphs`).

    >>> text_width("", 2.5)
    0.0
    >>> text_width("1.25", 5.0) == 2 * text_width("1.25", 2.5)
    True
    """
    metrics = _metrics(bold)
    return height * sum(metrics.widths.get(letter, metrics.unknown) for letter in text)


def missing_glyphs(text: str) -> str:
    """The characters of `text` that the family can't show, each once, in order.

    >>> missing_glyphs("Ø 94 × ½ ≤ 3″")
    ''
    """
    known = _metrics(False).widths
    return "".join(dict.fromkeys(letter for letter in text if letter not in known))


@cache
def _metrics(bold: bool) -> _Metrics:
    from fontTools.ttLib import TTFont

    with TTFont(font_path(bold), lazy=True) as font:
        per_unit = 1.0 / (CAPITAL * font["head"].unitsPerEm)
        advances = font["hmtx"].metrics
        widths = {
            chr(code): advances[glyph][0] * per_unit for code, glyph in font.getBestCmap().items()
        }
        return _Metrics(widths, advances[".notdef"][0] * per_unit)
