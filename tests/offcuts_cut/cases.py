"""Plans and offcuts for these tests, and a whole cutting plan seen through the checker's eyes."""

from __future__ import annotations

from collections import Counter
from typing import Any

import shapely

from rosette.offcuts.cutplan import CutPiece, CuttingPlan
from rosette.offcuts.cutting import cut
from rosette.offcuts.model import Cut, Layout, Offcut, Placement, WedgeSize
from rosette.offcuts.options import CutOptions
from rosette.offcuts.supply import Stock
from rosette.plan import make_plan
from rosette.plan.model import Plan
from tests.offcuts.checker import faults
from tests.properties.designs import design, radial

# 3 mm of ring per wedge and few of them keep the small cases small.
SMALL: dict[str, Any] = {"width": 9.0, "segments": 12, "tile_thickness": 2.0}


def plan(*rings: dict[str, Any], **tables: Any) -> Plan:
    """A plan of these rings; one small ring of walnut where none are given."""
    return make_plan(design(list(rings) or [radial(**SMALL)], **tables))


def board(
    name: str,
    length: float,
    width: float,
    *,
    wood: str = "walnut",
    thickness: float = 2.4,
    **more: Any,
) -> Stock:
    """A rectangle of wood, its grain along its length."""
    count = more.pop("count", 1)
    outline = ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))
    offcut = Offcut(id=name, outline=outline, wood=wood, thickness=thickness, **more)
    return Stock(wood=offcut, count=count)


def cutting(of: Plan, *stock: Stock, **options: Any) -> CuttingPlan:
    """The cutting plan, which has to be sound."""
    found = cut(of, stock, CutOptions(**options))
    assert unsound(found) == []
    return found


def unsound(found: CuttingPlan) -> list[str]:
    """Everything that is wrong with a cutting plan, by a checker that shares no code with it."""
    wrong = [f"{piece.name}: {what}" for piece in found.touched for what in _faults(piece, found)]
    labels = Counter(wedge.label for wedge in found.wedges)
    wrong += [f"label {label} is given {n} times" for label, n in labels.items() if n > 1]
    for piece in found.touched:
        wrong += _left(piece, found)
    return wrong


def _faults(piece: CutPiece, found: CuttingPlan) -> list[str]:
    wrong = []
    sizes = {(tally.ring, tally.wood): tally.size for tally in found.tallies}
    by_size: dict[WedgeSize, list[Placement]] = {}
    for one in piece.wedges:
        by_size.setdefault(sizes[one.ring, one.wood], []).append(_placement(one))
    shared = len(by_size) > 1
    for size, placements in by_size.items():
        layout = Layout(
            method=found.method,
            placements=tuple(placements),
            cuts=() if shared else _cuts(piece),
            bound=max(piece.bound, len(placements)),
        )
        told = faults(
            piece.wood,
            size,
            layout,
            kerf=found.kerf,
            grain_tolerance=found.grain_tolerance,
            one_way=found.arrangement == "neighbours",
        )
        # Two sizes in one piece: its cuts are made on the whole of it, below.
        if shared:
            told = [one for one in told if "come off the saw" not in one and "bands and" not in one]
        wrong += told
    if shared:
        wrong += _sawn_together(piece, found)
    return wrong


def _sawn_together(piece: CutPiece, found: CuttingPlan) -> list[str]:
    from tests.offcuts import checker

    shapes = [shapely.Polygon(one.vertices) for one in piece.wedges]
    wrong = checker._apart(shapes, found.kerf)
    if found.method == "strip":
        wood = shapely.Polygon(piece.wood.outline, piece.wood.holes)
        wrong += checker._sawn(wood, shapes, _cuts(piece), found.kerf)
    return wrong


def _placement(one: Any) -> Placement:
    return Placement(
        band=one.band,
        order=one.order,
        flipped=one.flipped,
        centre=one.centre,
        vertices=one.vertices,
        turn=one.turn,
    )


def _cuts(piece: CutPiece) -> tuple[Cut, ...]:
    signs = {"right": 1.0, "left": -1.0, "square": 0.0}
    return tuple(
        Cut(
            step=one.step,
            kind=one.kind,
            band=one.band,
            start=one.start,
            end=one.end,
            lean=one.mitre * signs[one.swing] if one.kind == "slant" else 0.0,
        )
        for one in piece.cuts
    )


def _left(piece: CutPiece, found: CuttingPlan) -> list[str]:
    """Remainders lie in the wood, clear of the wedges and of one another."""
    wood = shapely.Polygon(piece.wood.outline, piece.wood.holes).buffer(1e-4)
    left = [shapely.Polygon(one.outline, one.holes).buffer(-1e-4) for one in piece.remainders]
    wedges = shapely.union_all([shapely.Polygon(one.vertices) for one in piece.wedges])
    wrong = [f"remainder {i} lies outside" for i, one in enumerate(left) if not wood.covers(one)]
    wrong += [
        f"remainder {i} holds a wedge" for i, one in enumerate(left) if one.intersects(wedges)
    ]
    together = shapely.union_all(left).area
    if abs(together - sum(one.area for one in left)) > 1e-3:
        wrong.append("remainders overlap")
    if wedges.area + together > wood.area:
        wrong.append("more comes out of the wood than goes in")
    return wrong
