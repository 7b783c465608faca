"""Goldens of a ring of twelve out of a small box: offcut, box, sources, labels, laser.

The cutting plan is laid out here by hand, so that no golden changes where a search finds another
layout as good.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from rosette.offcuts.cutplan import CutPiece, CuttingPlan, CutWedge, Remainder, SawCut, Tally
from rosette.offcuts.model import Offcut, Point, WedgeSize
from rosette.plan import make_plan
from rosette.plan.model import Plan
from rosette.sheets import box, offcut
from rosette.sheets.drawing import Drawing
from rosette.sheets.labels import label_drawings
from rosette.sheets.laser import laser_drawings
from rosette.sheets.offcut_marks import Lie
from rosette.sheets.origins import origins
from tests.properties.designs import design, radial
from tests.sheets_cutting.cutplans import KNOT, rectangle

KERF = 0.9
LABELS = [*(f"1-{i:02}" for i in range(1, 13)), "1-s1"]


@cache
def _plan() -> Plan:
    return make_plan(design([radial(segments=12, width=16.0)]))


def _band(
    wood: Offcut, size: WedgeSize, start: Point, band: int, labels: list[str], step: int
) -> tuple[list[CutWedge], list[SawCut]]:
    """Wedges head to tail from `start` (u, v) rightwards, a crosscut above, slants between."""
    lie, (u, v) = Lie(axis=wood.grain), start
    kx, a, b = size.slant_kerf(KERF), size.inner_width / 2.0, size.outer_width / 2.0
    wedges, cuts = [], []
    for i, label in enumerate(labels):
        c = u + b + i * (size.mean_width + kx)
        flipped = i % 2 == 1
        foot, top = (v + size.height, v) if flipped else (v, v + size.height)
        hand = -1.0 if flipped else 1.0
        corners = [(c - hand * a, foot), (c + hand * a, foot), (c + hand * b, top)]
        p, q, r, s = (lie.own(one) for one in [*corners, (c - hand * b, top)])
        wedges.append(
            CutWedge(
                ring=1, label=label, position=None if "s" in label else int(label[2:]),
                wood="walnut", offcut=wood.id, piece=1, band=band, order=i + 1, flipped=flipped,
                centre=lie.own((c, v + size.height / 2.0)), vertices=(p, q, r, s),
                face="other" if flipped else "marked",
                laid="turned over" if flipped else "as it lies",
            )
        )  # fmt: skip
        low, high = (b, a) if flipped else (a, b)
        cuts.append(
            SawCut(
                step=step + i, kind="slant", band=band, ring=1,
                start=lie.own((c + low + kx / 2.0, v)),
                end=lie.own((c + high + kx / 2.0, v + size.height)),
                mitre=size.mitre, swing="left" if flipped else "right", turn_over=flipped,
                in_hand=110.0 - 20.0 * i, frees=(label, *labels[i + 1 : i + 2]),
            )
        )  # fmt: skip
    return wedges, cuts


def _cross(wood: Offcut, v: float, width: float, band: int, step: int) -> SawCut:
    lie = Lie(axis=wood.grain)
    return SawCut(
        step=step, kind="crosscut", band=band, ring=1, start=lie.own((0.0, v)),
        end=lie.own((width, v)), mitre=0.0, swing="square", in_hand=64.0 - v,
        fence_line=((150.0, 0.0), (150.0, 64.0)) if width == 150.0 else None,
    )  # fmt: skip


def _left(ring: list[Point], *, useful: bool) -> Remainder:
    return Remainder(
        outline=tuple(ring), holes=(), defects=(), area=0.0, along=21.0, across=52.0, useful=useful
    )


@cache
def _cut() -> CuttingPlan:
    size = WedgeSize.of(_plan().wedge_rings[0].wedges.blank)  # type: ignore[union-attr]
    knot = tuple((x + 75.0, y + 24.0) for x, y in KNOT)
    first = rectangle("S1", 150.0, 64.0, grain=90.0, defects=(knot,))
    second, third = rectangle("S2", 70.0, 60.0, grain=102.0), rectangle("S3", 40.0, 20.0)
    row = size.height + KERF
    one, slants = _band(first, size, (1.0, 0.0), 1, LABELS[:4], 3)
    two, more = _band(first, size, (4.0, row), 2, LABELS[4:7], 7)
    crosses = [
        _cross(first, (i + 1) * row - KERF / 2.0, 150.0, min(i + 1, 2), i + 1) for i in (0, 1)
    ]
    three, others = _band(second, size, (18.0, 6.0), 1, LABELS[7:8], 2)
    pieces = (
        CutPiece(
            wood=first, piece=1, count=1, wedges=(*one, *two), cuts=(*crosses, *slants, *more),
            remainders=(
                _left([(0, 2 * row), (150, 2 * row), (150, 64), (0, 64)], useful=True),
                _left([(122, row), (150, row), (150, 2 * row - KERF), (128, 2 * row - KERF)],
                      useful=False),
            ),
            planed=((1, 2.2),), area=9600.0,
        ),
        CutPiece(wood=second, piece=1, count=1, area=4200.0, wedges=tuple(three),
                 cuts=(_cross(second, 6.0 - KERF / 2.0, 69.0, 1, 1), *others)),
        CutPiece(wood=third, piece=1, count=1, remainders=(_left([], useful=True),)),
    )  # fmt: skip
    tally = Tally(
        ring=1, wood="walnut", size=size, mitre=size.mitre, thickness=2.2, needed=12, placed=8,
        arrangement="as in the wood",
    )  # fmt: skip
    return CuttingPlan(
        name="Test", method="strip", kerf=KERF, arrangement="as in the wood",
        objectives=("offcuts",), faces="both", pieces=pieces, tallies=(tally,),
    )  # fmt: skip


def _named(name: str, made: Callable[[], tuple[Drawing, ...]]) -> Callable[[], Drawing]:
    return lambda: next(drawing for drawing in made() if drawing.name == name)


def _offcuts() -> tuple[Drawing, ...]:
    return offcut.cutting_drawings(_cut(), _plan())


def _box() -> tuple[Drawing, ...]:
    return box.cutting_drawings(_cut(), _plan())


CUTTING_CASES: dict[str, Callable[[], Drawing]] = {
    "offcut": _named("offcut-S1", _offcuts),
    "offcut-cuts": _named("offcut-S1-cuts", _offcuts),
    "box": _named("box", _box),
    "sources-1": _named("sources-1", _box),
    "labels-with-origins": _named("labels-1", lambda: label_drawings(_plan(), origins(_cut()))),
    "laser": _named("S1-laser", lambda: laser_drawings(_cut())),
}
