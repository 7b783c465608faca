"""How far each wood may be stretched when a thin strip of it is bent, dry and hot.

The figures are common practice for straight-grained strips up to about 2 mm thick, no standard:
dry a little under the strain at which a beam of the wood breaks (bending strength over stiffness,
0.7 to 0.9 % for most woods), hot the 1 to 2 % that steamed wood stands on its outer face. A maker
who knows his wood gives his own.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class BendLimits:
    """Percent that the outer face may be stretched, dry and over a hot iron.

    `known` is whether the wood is in the table; the others get cautious figures.
    """

    dry: float
    hot: float
    known: bool = True


_TABLE = {
    "apple": (0.6, 1.5),
    "ash": (0.8, 2.0),
    "beech": (0.8, 2.0),
    "birch": (0.8, 2.0),
    "bloodwood": (0.6, 1.3),
    "boxwood": (0.7, 1.6),
    "cedar": (0.5, 1.0),
    "redcedar": (0.5, 1.0),
    "cherry": (0.7, 1.8),
    "cocobolo": (0.6, 1.3),
    "cypress": (0.6, 1.3),
    "ebony": (0.5, 1.2),
    "elm": (0.8, 2.0),
    "fir": (0.5, 1.0),
    "holly": (0.7, 1.8),
    "khaya": (0.6, 1.3),
    "koa": (0.6, 1.5),
    "mahogany": (0.6, 1.3),
    "maple": (0.8, 2.0),
    "curly maple": (0.6, 1.5),
    "flamed maple": (0.6, 1.5),
    "oak": (0.8, 2.0),
    "padauk": (0.6, 1.3),
    "pear": (0.7, 1.8),
    "purpleheart": (0.6, 1.3),
    "rosewood": (0.7, 1.6),
    "sapele": (0.6, 1.3),
    "spruce": (0.6, 1.0),
    "sycamore": (0.7, 1.8),
    "walnut": (0.7, 1.8),
    "wenge": (0.5, 1.2),
    "yew": (0.8, 2.0),
}
_OTHERS = (0.5, 1.2)


def bend_limits(wood: str) -> BendLimits:
    """The limits of a wood by its longest known name; cautious ones for a wood that has none.

    >>> bend_limits("hard maple").hot, bend_limits("curly maple").hot, bend_limits("brass").known
    (2.0, 1.5, False)
    """
    name = f" {' '.join(wood.lower().replace('-', ' ').split())} "
    found = max((key for key in _TABLE if f" {key} " in name), key=len, default=None)
    dry, hot = _OTHERS if found is None else _TABLE[found]
    return BendLimits(dry=dry, hot=hot, known=found is not None)


def bent_strain(thickness: float, inner_radius: float) -> float:
    """Percent that the outer face of a strip is stretched, bent to an inner radius (mm).

    The middle keeps its length: t/2R with R the radius of the middle (any textbook of mechanics).

    >>> round(bent_strain(1.0, 49.5), 9)
    1.0
    """
    return 100.0 * thickness / (2.0 * inner_radius + thickness)


def least_radius(thickness: float, limit: float) -> float:
    """The least inner radius (mm) that a strip may be bent to with `limit` percent of strain.

    >>> round(least_radius(1.0, 1.0), 9)
    49.5
    """
    return thickness * (100.0 / limit - 1.0) / 2.0


def most_thickness(inner_radius: float, limit: float) -> float:
    """The thickest strip (mm) that may be bent to an inner radius with `limit` percent of strain.

    >>> round(most_thickness(49.5, 1.0), 9)
    1.0
    """
    return 2.0 * inner_radius * limit / (100.0 - limit)
