"""Checks a cutting layout with shapely alone: nothing here is shared with what made it.

`faults(...)` names everything that is wrong; an empty list is a sound layout. For a strip layout
the cuts are made one after the other on the wood: in the end every wedge must be a piece of its
own, with its exact shape.
"""

from __future__ import annotations

import math

import shapely
from shapely.affinity import rotate, translate
from shapely.geometry import LineString, Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from rosette.offcuts.model import Cut, Layout, Offcut, Placement, WedgeSize

OUTSIDE = 1e-9
LENGTH = 1e-7
ANGLE = 1e-6


def faults(
    offcut: Offcut,
    size: WedgeSize,
    layout: Layout,
    *,
    kerf: float,
    grain_tolerance: float = 0.0,
    one_way: bool = False,
) -> list[str]:
    """What is wrong with a layout, one sentence each."""
    wood = Polygon(offcut.outline, offcut.holes)
    usable = wood
    for ring in offcut.defects:
        usable = usable.difference(Polygon(ring))
    shapes = [Polygon(one.vertices) for one in layout.placements]
    found = []
    for number, (one, shape) in enumerate(zip(layout.placements, shapes, strict=True), 1):
        found += [
            f"wedge {number}: {what}"
            for what in (
                *_inside(shape, usable),
                *_size(one, size),
                *_axis(one, offcut.grain, grain_tolerance),
            )
        ]
    found += _apart(shapes, kerf)
    if one_way and len({one.flipped for one in layout.placements}) > 1:
        found.append("not all the same way up")
    if layout.bound < layout.placed:
        found.append(f"the bound {layout.bound} is less than the {layout.placed} placed")
    if layout.method == "strip":
        found += _numbered(layout) + _sawn(wood, shapes, layout.cuts, kerf)
    return found


def _inside(shape: Polygon, usable: BaseGeometry) -> list[str]:
    far = max(usable.distance(Point(corner)) for corner in shape.exterior.coords)
    if far > OUTSIDE:
        return [f"a corner is {far} mm outside the wood"]
    # Between the corners the wood must not come in either: what a hair's shrinking leaves is wood.
    slim = shape.buffer(-1e-7, join_style="mitre")
    return [] if usable.covers(slim) else ["it reaches over an edge, a hole or a defect"]


def _size(one: Placement, size: WedgeSize) -> list[str]:
    il, ir, outer_right, outer_left = (complex(*corner) for corner in one.vertices)
    inner, outer = (il + ir) / 2, (outer_right + outer_left) / 2
    axis = outer - inner
    measures = {
        "inner width": (abs(ir - il), size.inner_width),
        "outer width": (abs(outer_right - outer_left), size.outer_width),
        "height": (abs(axis), size.height),
        "inner edge square to the axis": (((ir - il) / axis).real, 0.0),
        "outer edge square to the axis": (((outer_right - outer_left) / axis).real, 0.0),
        "centre": (abs((inner + outer) / 2 - complex(*one.centre)), 0.0),
    }
    wrong = [f"{what} is {a}, not {b}" for what, (a, b) in measures.items() if abs(a - b) > LENGTH]
    if not Polygon(one.vertices).exterior.is_ccw:
        wrong.append("its left and right are changed over")
    return wrong


def _axis(one: Placement, grain: float, tolerance: float) -> list[str]:
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = one.vertices
    heading = math.degrees(math.atan2(cy + dy - ay - by, cx + dx - ax - bx))
    off = (heading - grain - (180.0 if one.flipped else 0.0) + 180.0) % 360.0 - 180.0
    if abs(off) > tolerance + ANGLE:
        return [f"its axis is {off} degrees off the grain"]
    return [] if abs(off - one.turn) <= ANGLE else [f"its turn is {off}, not {one.turn}"]


def _apart(shapes: list[Polygon], kerf: float) -> list[str]:
    found = []
    slim = [shape.buffer(-1e-7, join_style="mitre") for shape in shapes]
    tree = shapely.STRtree(shapes)
    for i, shape in enumerate(shapes):
        for j in tree.query(shape.buffer(kerf + 1.0)):
            if i < j:
                gap = shape.distance(shapes[j])
                if gap < kerf - 1e-7 or slim[i].intersects(slim[j]):
                    found.append(f"wedges {i + 1} and {j + 1} are {gap} mm apart")
    return found


def _numbered(layout: Layout) -> list[str]:
    found = []
    places = [(one.band, one.order) for one in layout.placements]
    wanted = [
        (band, order)
        for band in range(1, max((b for b, _ in places), default=0) + 1)
        for order in range(1, sum(b == band for b, _ in places) + 1)
    ]
    if places != wanted:
        found.append(f"bands and orders are {places}")
    if [cut.step for cut in layout.cuts] != list(range(1, len(layout.cuts) + 1)):
        found.append("the cuts are not numbered from 1")
    kinds = [cut.kind for cut in layout.cuts]
    if kinds != sorted(kinds):
        found.append("a crosscut comes after a slant")
    return found


def _sawn(
    wood: BaseGeometry, shapes: list[Polygon], cuts: tuple[Cut, ...], kerf: float
) -> list[str]:
    """Make every cut, edge to edge across the pieces it runs over, and look at what is left."""
    pieces, found = [wood], []
    slim = [shape.buffer(-1e-6, join_style="mitre") for shape in shapes]
    for cut in cuts:
        line = LineString((cut.start, cut.end))
        road = _road(line, kerf)
        run_over = [i for i, shape in enumerate(slim, 1) if road.intersects(shape)]
        if run_over:
            found.append(f"cut {cut.step} runs through wedges {run_over}")
        near = line.buffer(kerf / 2 + 1e-6, cap_style="flat")
        met = [one for one in pieces if near.intersection(one).area > 1e-9 * line.length]
        if not met:
            found.append(f"cut {cut.step} meets no wood")
        pieces = [one for one in pieces if one not in met]
        for one in met:
            # The end of a slanted kerf lies along the band's edge: one of its corners goes on.
            if _beyond(one, line, kerf) > kerf / 2 * math.tan(math.radians(abs(cut.lean))) + 1e-5:
                found.append(f"cut {cut.step} does not reach from edge to edge")
            pieces += _halves(one, line, kerf)
    for number, shape in enumerate(shapes, 1):
        # Overlays of shapes with almost the same edges are not to be trusted: shrink one first.
        heart = shape.buffer(-1e-3, join_style="mitre")
        mine = [one for one in pieces if one.intersects(heart)]
        if len(mine) != 1 or mine[0].hausdorff_distance(shape) > 1e-4:
            found.append(f"wedge {number} does not come off the saw as a piece of its own")
    return found


def _road(line: LineString, kerf: float) -> BaseGeometry:
    return line.buffer(kerf / 2, cap_style="flat") if kerf else line


def _beyond(piece: BaseGeometry, line: LineString, kerf: float) -> float:
    """How far the piece goes on past the ends of a cut, in the cut's own direction."""
    (ax, ay), (bx, by) = line.coords
    ux, uy = (bx - ax) / line.length, (by - ay) / line.length
    long = LineString(((ax - 1e4 * ux, ay - 1e4 * uy), (bx + 1e4 * ux, by + 1e4 * uy)))
    under = piece.intersection(long.buffer(kerf / 2 + 1e-6, cap_style="flat"))
    along = [(x - ax) * ux + (y - ay) * uy for x, y in shapely.get_coordinates(under)]
    return max(-min(along), max(along) - line.length)


def _halves(piece: BaseGeometry, line: LineString, kerf: float) -> list[BaseGeometry]:
    """The piece on either side of a kerf that runs right across it."""
    (ax, ay), (bx, by) = line.coords
    degrees, far = math.degrees(math.atan2(by - ay, bx - ax)), 1e4
    parts: list[BaseGeometry] = []
    for half in (box(-far, kerf / 2, far, far), box(-far, -far, far, -kerf / 2)):
        side = translate(rotate(half, degrees, origin=(0, 0)), (ax + bx) / 2, (ay + by) / 2)
        # Shavings thinner than a thousandth of a hair are dust.
        left = piece.intersection(side).buffer(-1e-6, join_style="mitre")
        parts += shapely.get_parts(left.buffer(1e-6, join_style="mitre")).tolist()
    return [one for one in parts if one.area > 1e-9]
