"""Kinds of guitar, and what is usual on them: a place to start from, never a measurement."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from rosette.units import Units

Usual = Mapping[str, Any]
_WORDS = {"name": "My guitar", "wood": ("walnut",)}

# Soundholes, ring widths, wedge counts, tops, stock, kerfs, bits and boards: common practice.
# The fingerboard is taken to end at the soundhole's edge.
_ANY: dict[Units, dict[str, str]] = {
    "mm": {"top": "3", "tile": "1.5", "kerf": "0.8", "bit": "3.175", "space": "3"},
    "in": {"top": "1/8", "tile": "1/16", "kerf": "0.032", "bit": "1/8", "space": "1/8"},
}
_OWN: dict[str, dict[Units, dict[str, str]]] = {
    "parlour": {
        "mm": {"soundhole": "95", "board": "56", "reach": "47", "width": "14", "segments": "24"},
        "in": {
            "soundhole": "3 3/4",
            "board": "2 1/4",
            "reach": "1 7/8",
            "width": "9/16",
            "segments": "24",
        },
    },
    "steel": {
        "mm": {"soundhole": "101", "board": "57", "reach": "50", "width": "16", "segments": "24"},
        "in": {
            "soundhole": "4",
            "board": "2 1/4",
            "reach": "2",
            "width": "5/8",
            "segments": "24",
        },
    },
    "classical": {
        "mm": {"soundhole": "85", "board": "60", "reach": "42", "width": "20", "segments": "36"},
        "in": {
            "soundhole": "3 3/8",
            "board": "2 3/8",
            "reach": "1 11/16",
            "width": "3/4",
            "segments": "36",
        },
    },
}

KINDS = tuple(_OWN)
"""The kinds of guitar that a design can start from."""


def usual(kind: str, units: Units) -> Usual:
    """What is usual on a kind of guitar, as it would be typed in these units.

    >>> usual("parlour", "mm")["soundhole"], usual("parlour", "in")["soundhole"]
    ('95', '3 3/4')
    """
    return MappingProxyType({**_WORDS, **_ANY[units], **_OWN[kind][units]})
