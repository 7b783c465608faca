"""Offcuts files for the tests."""

from __future__ import annotations

from pathlib import Path

import pytest

from rosette.errors import InputError
from rosette.offcuts import Box, BoxOffcut
from rosette.offcuts.box import read_box_text

PLAIN = '[[offcut]]\nid = "S2"\nwood = "walnut"\nthickness = 2.4\n'
SQUARE = "rectangle = [40, 30]\n"


def box(body: str, *, units: str = "mm", folder: Path | None = None) -> Box:
    text = f'schema = 1\nunits = "{units}"\n{body}'
    return read_box_text(text.encode(), "box.toml", folder=folder)


def one(lines: str, *, units: str = "mm", folder: Path | None = None) -> BoxOffcut:
    """The one offcut with these lines beside id, wood and thickness."""
    (found,) = box(PLAIN + lines, units=units, folder=folder).offcuts
    return found


def wrong(body: str, *, folder: Path | None = None) -> list[str]:
    """The lines that a box which is not sound is told of with."""
    with pytest.raises(InputError) as told:
        box(body, folder=folder)
    return told.value.lines()
