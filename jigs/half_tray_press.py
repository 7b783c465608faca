"""What presses in a half tray: the cap that keeps the wedges down, the bar that closes joints."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.caul_pads import HEIGHT
from jigs.caul_press import BOW, PRESSURE, STIFFNESS, whole_thickness
from jigs.half_tray import HalfTray
from jigs.half_tray_screws import HOLE, LEDGE, Frame
from jigs.process import Process
from jigs.terrace import Block, Step
from rosette.geometry.outline import Outline, circle, polygon
from rosette.patterns.base import Wedges

CAP_BACK = 0.6
"""The cap's front edge stands so far behind the rail: out of the way of the grit."""
PAD_BACK = 0.3
"""Its pads stand so far behind its front edge."""
OVER_LANDS = 0.3
"""The bar's noses pass so far above the lands."""
NOSE = 3.0
"""How far the noses stand out of the bar, and their least height."""
NOSE_INSET = 0.3
"""So far inside an end face's corners its nose ends, on small wedges a fifth of the face."""
BAR = 18.0
"""Depth of the bar without its noses."""
BESIDE = 8.0
"""How far the bar reaches past the noses: room for clamps."""
FOOT_INSET = 1.0


def strip_thickness(load: float, span: float, *, stiffness: float, bow: float) -> float:
    """Thickness in mm at which a strip between two supports bends by `bow` mm.

    `load` is what a millimetre of its width bears at its middle, in N/mm; `span` in mm,
    `stiffness` in N/mm². δ = F·L³ / (48·E·I) with I = b·t³/12 (beam formula of every handbook;
    a plate that goes on to the sides bends less).

    >>> round(strip_thickness(1.0, 80.0, stiffness=2000.0, bow=0.1), 3)
    8.618
    """
    return float((load * span**3 / (4.0 * stiffness * bow)) ** (1.0 / 3.0))


def cap_thickness(wedges: Wedges, frame: Frame, process: Process) -> float:
    """The cap's thickness (mm): the ring presses on its strips between neighbouring screws."""
    load = PRESSURE * wedges.blank.height
    least = strip_thickness(load, frame.span, stiffness=STIFFNESS[process.name], bow=BOW)
    return whole_thickness(least, process)


def cap_block(of: HalfTray) -> Block:
    """A plate over the whole half, z = 0 at its underside, a pad for every wedge under it."""
    x, low, high = of.half_width - LEDGE, of.rail + CAP_BACK, of.back - LEDGE
    return Block(
        outline=polygon([(-x, low), (x, low), (x, high), (-x, high)]),
        top=of.cap,
        steps=tuple(Step(outline=circle(HOLE / 2.0, screw), top=0.0) for screw in of.screws),
        under=tuple(_pads(of)),
        chamfer=0.0,
    )


def _pads(of: HalfTray) -> Iterator[Step]:
    """Those at both ends keep behind the cap's front edge."""
    edge = max(of.pads.groove / 2.0, of.rail + CAP_BACK + PAD_BACK)
    last = of.count - 1
    for i, axis in enumerate(of.axes):
        outline = of.pads.outline(
            axis, left=edge if i == 0 else None, right=edge if i == last else None
        )
        if outline is not None:
            yield Step(outline=outline, top=-HEIGHT)


def bar_low(of: HalfTray) -> float:
    """The height of the noses' underside over the bench."""
    return of.floor_top + OVER_LANDS


def bar_block(of: HalfTray) -> Block:
    """A bar with a nose for each end face of the half, z = 0 at the noses' underside, on a foot."""
    face, end = of.rail, of.side[1] + BESIDE
    back = face - NOSE
    foot = polygon(
        [
            (-end + FOOT_INSET, back - BAR + FOOT_INSET),
            (end - FOOT_INSET, back - BAR + FOOT_INSET),
            (end - FOOT_INSET, back - FOOT_INSET),
            (-end + FOOT_INSET, back - FOOT_INSET),
        ]
    )
    return Block(
        outline=_bar_outline(of, end, back),
        top=max(of.tile_thickness - OVER_LANDS, NOSE),
        under=(Step(outline=foot, top=-bar_low(of)),),
    )


def _bar_outline(of: HalfTray, end: float, back: float) -> Outline:
    inset = min(NOSE_INSET, (of.side[1] - of.side[0]) / 5.0)
    near, far = of.side[0] + inset, of.side[1] - inset
    right = [(near, back), (near, of.rail), (far, of.rail), (far, back), (end, back)]
    low = [(end, back - BAR), (-end, back - BAR)]
    # walked clockwise: along the back from left to right, then along the front
    return polygon([*[(-x, y) for x, y in right[::-1]], *right, *low])
