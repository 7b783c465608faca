"""Boxes and questions that the tests of the choice share."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from rosette.offcuts.asking import ask_for
from rosette.offcuts.box import Box, BoxOffcut
from rosette.offcuts.explored import Ask
from rosette.offcuts.supply import Stock
from tests.offcuts.scraps import scrap

SMALLER = 0.6
"""The invented scraps, at this scale, are as tight as a guitar maker's box."""


def rectangle(
    name: str, wide: float, long: float, *, wood: str = "walnut", **more: Any
) -> BoxOffcut:
    """A rectangle whose grain runs along its second side."""
    outline = ((0.0, 0.0), (wide, 0.0), (wide, long), (0.0, long))
    return BoxOffcut(id=name, wood=wood, thickness=2.4, outline=outline, grain=90.0, **more)


def scraps(*seeds: int, wood: str = "walnut") -> tuple[BoxOffcut, ...]:
    """Invented scraps of one wood."""

    def small(ring: tuple[tuple[float, float], ...]) -> tuple[tuple[float, float], ...]:
        return tuple((SMALLER * x, SMALLER * y) for x, y in ring)

    found = []
    for seed in seeds:
        one = scrap(seed)
        found.append(
            BoxOffcut(
                id=one.id,
                wood=wood,
                thickness=2.4,
                outline=small(one.outline),
                holes=tuple(map(small, one.holes)),
                defects=tuple(map(small, one.defects)),
                grain=one.grain,
            )
        )
    return tuple(found)


def box_of(*offcuts: BoxOffcut, units: str = "mm") -> Box:
    """A box."""
    return Box(units=units, offcuts=tuple(offcuts), source="box.toml")  # type: ignore[arg-type]


def stock(box: Box) -> list[Stock]:
    """What the solvers take of a box."""
    return [Stock(wood=one.pieces(), count=one.count) for one in box.offcuts]


def asked(box: Box, **given: Any) -> Ask:
    """A question, with the kerf of a fine saw."""
    ask = ask_for(box, {"kerf": "0.9", **given})
    return replace(ask, everything=bool(given.get("everything")))
