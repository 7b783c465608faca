"""A part's solid cut into its pieces, and the checks that they must pass."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigs.base import FixtureError
from jigs.pieces import Piece, Split

if TYPE_CHECKING:
    import cadquery

LOST = 1e-6
"""How far, relatively, pieces and what is cut away between them may be from the whole."""
SAME_BOX = 0.05
"""How far the bounds of a piece may be from those of its plan, whose curves are chords (mm)."""


def split_solid(solid: cadquery.Solid, split: Split, name: str) -> list[cadquery.Solid]:
    """The solids of the pieces, in the order of `split.pieces`, in the part's coordinates.

    Raises:
        FixtureError: the kernel failed, or the pieces are not what was asked for.
    """
    if not split.seams:
        return [solid]
    try:
        bodies = _parted(solid, strips_of(solid, split))
        found = [_of(piece, bodies) for piece in split.pieces]
    except FixtureError:
        raise
    except Exception as error:  # the kernel throws its own kinds, with its own words
        raise FixtureError(f"{name}: the CAD kernel could not cut it into pieces") from error
    problem = _problem(solid, found, bodies)
    if problem:
        raise FixtureError(f"{name}: {problem}, so nothing was written")
    return found


def strips_of(solid: cadquery.Solid, split: Split) -> list[cadquery.Solid]:
    """What is cut away along each seam, as prisms through the whole height."""
    from cadquery import Face, Solid, Vector, Wire

    box = solid.BoundingBox()
    low, height = box.zmin - 1.0, box.zlen + 2.0
    found = []
    for seam in split.seams:
        corners = [Vector(x, y, low) for x, y in seam.strip(split.gap)]
        face = Face.makeFromWires(Wire.makePolygon(corners, close=True))
        found.append(Solid.extrudeLinear(face, Vector(0, 0, height)))
    return found


def _parted(solid: cadquery.Solid, strips: list[cadquery.Solid]) -> list[cadquery.Solid]:
    """The bodies that strips part a solid into, those within the strips among them."""
    from cadquery import Shape
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Splitter
    from OCP.TopTools import TopTools_ListOfShape

    arguments, tools = TopTools_ListOfShape(), TopTools_ListOfShape()
    arguments.Append(solid.wrapped)
    for strip in strips:
        tools.Append(strip.wrapped)
    splitter = BRepAlgoAPI_Splitter()
    splitter.SetArguments(arguments)
    splitter.SetTools(tools)
    splitter.Build()
    return list(Shape.cast(splitter.Shape()).Solids())


def _problem(
    solid: cadquery.Solid, found: list[cadquery.Solid], bodies: list[cadquery.Solid]
) -> str:
    if not all(one.isValid() for one in found):
        return "the kernel cut a piece that is not valid"
    if len({id(one) for one in found}) < len(found):
        return "the kernel cut pieces that are not where they should be"
    whole, kept = solid.Volume(), sum(one.Volume() for one in bodies)
    if abs(kept - whole) > LOST * whole:
        return f"the pieces and what is cut away hold {kept:.3f} mm³ instead of {whole:.3f} mm³"
    return ""


def _of(piece: Piece, found: list[cadquery.Solid]) -> cadquery.Solid:
    """The solid whose bounds are those of a piece."""

    def off(solid: cadquery.Solid) -> float:
        box = solid.BoundingBox()
        bounds = (box.xmin, box.ymin, box.xmax, box.ymax)
        return max(abs(a - b) for a, b in zip(bounds, piece.box, strict=True))

    best = min(found, key=off)
    if off(best) > SAME_BOX:
        raise FixtureError("the kernel cut a piece that is not where it should be")
    return best
