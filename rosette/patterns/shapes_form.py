"""One shape and its pocket, upright about its middle: corners no sharper than the bit (mm)."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from rosette.errors import CannotMakeError, Finding, finding
from rosette.geometry.outline import Outline, Vertex, circle, polygon
from rosette.geometry.rolling import rounded_by, widened
from rosette.geometry.tracing import TracingError
from rosette.patterns.base import RingSite
from rosette.patterns.shapes_drawing import scaled
from rosette.patterns.shapes_keys import ShapesKeys
from rosette.words import Length, Saying


@dataclass(frozen=True, slots=True, kw_only=True)
class Inlay:
    """A shape, and the pocket that it goes into with room for glue all round.

    `length` and `breadth` are the finished shape's, +y outward.
    """

    shape: Outline
    pocket: Outline

    @property
    def length(self) -> float:
        """Along its own middle line."""
        _, low, _, high = self.shape.bounds()
        return high - low

    @property
    def breadth(self) -> float:
        """Across it."""
        left, _, right, _ = self.shape.bounds()
        return right - left


def inlay_of(keys: ShapesKeys, site: RingSite) -> Inlay:
    """The shape that the keys ask for.

    Raises:
        CannotMakeError: where the bit does not get into it, or the glue is too thick.
    """
    most = keys.cutter / 2.0
    if keys.glue_line > most + 1e-9:
        raise CannotMakeError(
            [
                finding(
                    "thick-glue",
                    f"{site.where}.glue_line",
                    "{glue} of glue round a shape is more than half the bit of {cutter}, and inward"
                    " corners would close; at most {most} would do",
                    glue=Length(keys.glue_line),
                    cutter=Length(keys.cutter),
                    most=Length(math.floor(most * 100.0 + 1e-6) / 100.0),
                )
            ]
        )
    try:
        shape = _rounded(_sharp(keys, site), keys.cutter / 2.0)
    except TracingError as error:
        raise CannotMakeError([_too_narrow(error, keys, site)]) from None
    return Inlay(shape=shape, pocket=widened(shape, keys.glue_line))


@lru_cache(maxsize=16)
def _rounded(outline: Outline, radius: float) -> Outline:
    return rounded_by(outline, radius)


def _too_narrow(error: TracingError, keys: ShapesKeys, site: RingSite) -> Finding:
    name = f'"{keys.file.name}"' if keys.file else f"a {keys.shape} of {{length}}"
    key = "file" if keys.file else "cutter"
    template = f"{name} {error.saying.template}"
    words = (*error.saying.words, ("length", Length(keys.length or 0.0)))
    return finding("too-narrow", f"{site.where}.{key}", Saying(template, words))


def _sharp(keys: ShapesKeys, site: RingSite) -> Outline:
    """The shape before its corners are rounded."""
    if keys.file is not None:
        outline = keys.file.outline
        _, low, _, high = outline.bounds()
        return outline if keys.length is None else scaled(outline, keys.length / (high - low))
    assert keys.length is not None  # the keys are looked over
    long, wide = keys.length, keys.breadth or keys.length / 2.0
    if keys.shape == "dot":
        return circle(long / 2.0)
    if keys.shape == "diamond":
        corners = [(wide / 2.0, 0.0), (0.0, long / 2.0), (-wide / 2.0, 0.0), (0.0, -long / 2.0)]
        return polygon(corners)
    return _leaf(long, wide, site)


def _leaf(long: float, wide: float, site: RingSite) -> Outline:
    """Two arcs over one chord: each rises half the breadth, so its bulge is breadth over length."""
    if wide >= long:
        raise CannotMakeError(
            [
                finding(
                    "no-leaf",
                    f"{site.where}.breadth",
                    "a leaf {wide} wide and {long} long has no ends; make it narrower than long",
                    wide=Length(wide),
                    long=Length(long),
                )
            ]
        )
    bulge = wide / long
    return Outline((Vertex(0.0, -long / 2.0, bulge), Vertex(0.0, long / 2.0, bulge)))
