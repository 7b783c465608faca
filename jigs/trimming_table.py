"""The trimming table: the glued ring lies on it, clamped, and the pivot plate turns over it.

Everything is in ring coordinates, the neck at 12 o'clock. The ring's land stands in a recess
so deep that the clamps stay below the rim, on which the pivot plate slides. The outer edge is
trimmed while the inner clamp holds the ring, then the inner edge while the outer one does.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from jigs.base import Check, Fixture, Part, Place
from jigs.hardware import NUTS, SOCKET_HEADS, Fastener
from jigs.process import Process, process_for
from jigs.trimming_table_findings import corner_of, no_room, too_narrow, warnings_for
from rosette.errors import Finding
from rosette.geometry.outline import Point
from rosette.patterns.base import RingPlan
from rosette.plan.model import Plan
from rosette.words import Length, say

THREAD = 4
"""Screws of the clamps, and those that hold the table to the bench."""
OVERHANG = 0.5
"""How far the ring reaches over its land at each finished edge."""
LEAST_GROOVE = 2.0
"""The bit goes this deep at the most below the ring, with as much to spare."""
OVERRUN = 1.0
KEEP = 3.0
"""From the bit to the clamp that holds the ring, so that its shank goes by; half a narrow ring."""
NARROWEST = 3.0
"""A narrower ring has no room for clamps."""
LEAST_CAP = 3.0
BELOW_RIM = 0.4
"""The clamps stay so far below the rim, as thick as the ring is planned."""
TO_FLOOR = 0.5
"""A clamp's foot stays so far off the recess's floor, so that it presses the ring."""
UNDER_SCREW = 0.3
"""The screws' ends stay so far above the bench."""
POST = 12.0
"""Radius of the post round the pin, where there is room: the pivot plate rests on it."""
LENGTHS = (8, 10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 55, 60)
"""Usual lengths of socket head screws, ISO 4762 (values from memory)."""
PIN_LENGTHS = (10, 12, 14, 16, 18, 20, 24, 28, 32, 40, 50, 60)
"""Lengths of pins that both ISO 2338 and ISO 8734 list (values from memory)."""
UNDER_PIN = 1.5
BELOW_PLATE_TOP = 1.0
"""The pin stays so far below the top of the pivot plate, where the router is."""
BESIDE_HEAD = 2.0
"""Left beside a screw's sunk head."""
BESIDE = 10.0
"""From the table to the clamp that is not in use."""
INNER_SCREWS = (30.0, 150.0, 270.0)
OUTER_SCREWS = (0.0, 60.0, 120.0, 180.0, 240.0, 300.0)
RIM_SCREWS = (45.0, 135.0, 225.0, 315.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class TrimmingTable(Fixture):
    """Sizes of one table (mm); heights are above the bench.

    `inner` and `outer` are the ring's finished radii, `thickness` what it is thick. The recess
    has the radius `recess` and its floor at `base`, the land its top at `land`, the rim and the
    post theirs at `top`. `foot` is how far the clamps reach down beside the ring, `cap` what is
    thick above it. `inner_foot` is the radius of the inner clamp's foot, `outer_clamp` that of
    the outer clamp.
    """

    inner: float
    outer: float
    thickness: float
    slide: float
    base: float
    land: float
    top: float
    recess: float
    rim: float
    post: float
    cap: float
    foot: float
    keep: float
    inner_foot: float
    outer_clamp: float
    sink_diameter: float
    sink_depth: float
    nut_depth: float
    screw: int
    pin: int
    pin_hole: float
    pin_length: int
    pin_foot: float
    chamfer: float
    process: Process

    @property
    def table(self) -> float:
        """Radius of the whole table."""
        return self.recess + self.rim

    @property
    def outer_clamp_place(self) -> Place:
        """Where the outer clamp stands while it holds the ring."""
        return Place(z=self.land + self.thickness - self.foot)

    @property
    def inner_screws(self) -> float:
        """How far from the pivot the inner clamp's screws stand."""
        return (self.post + self.slide + self.inner_foot) / 2.0

    @property
    def outer_screws(self) -> float:
        """How far from the pivot the outer clamp's screws stand."""
        return (self.outer + self.slide + self.outer_clamp) / 2.0

    @property
    def reach(self) -> float:
        """How far the bit must reach below the pivot plate."""
        return self.top - self.land + OVERRUN

    def parts(self) -> tuple[Part, ...]:
        """The table, the inner clamp in its place, the outer clamp beside it: they take turns."""
        from jigs.trimming_table_blocks import inner_clamp, outer_clamp, table_block

        on_ring = self.land + self.thickness
        return (
            Part(name="table", title=self.title, block=table_block(self)),
            Part(
                name="inner-clamp",
                title="Clamp for trimming the outside",
                block=inner_clamp(self),
                places=(Place(z=on_ring),),
                print_over=True,
                colour=1,
            ),
            Part(
                name="outer-clamp",
                title="Clamp for trimming the inside",
                block=outer_clamp(self),
                places=(Place(x=self.table + self.outer_clamp + BESIDE),),
                print_over=True,
                colour=2,
            ),
        )

    def checks(self) -> tuple[Check, ...]:
        """What the ring's fit and the bit's room depend on."""

        def across(part: str, what: str, radius: float) -> Check:
            ends: tuple[Point, Point] = ((-radius, 0.0), (radius, 0.0))
            return Check(part=part, what=what, size=2.0 * radius, ends=ends)

        middle = (0.0, (self.inner + self.outer) / 2.0)
        return (
            across("table", "across the pin hole", self.pin_hole / 2.0),
            across("table", "across the post", self.post),
            across("table", "across the land", self.outer - OVERHANG),
            Check(
                part="table",
                what="from the land up to the rim",
                size=self.top - self.land,
                at=middle,
                heights=(self.land, self.top),
            ),
            across("inner-clamp", "across the foot", self.inner_foot),
            across("outer-clamp", "across the hole that takes the ring", self.outer + self.slide),
        )

    def hardware(self) -> tuple[Fastener, ...]:
        """The pin, the clamps' screws and nuts, the screws to the bench."""
        count = max(len(INNER_SCREWS), len(OUTER_SCREWS))
        nuts = len(INNER_SCREWS) + len(OUTER_SCREWS)
        return (
            Fastener(what=f"dowel pin {self.pin} x {self.pin_length}", standard="ISO 8734"),
            Fastener(
                what=f"socket head screw M{THREAD} x {self.screw}",
                standard="ISO 4762",
                count=count,
            ),
            Fastener(what=f"hexagon nut M{THREAD}", standard="ISO 4032", count=nuts),
        )


def fixtures(plan: Plan) -> tuple[TrimmingTable | Finding, ...]:
    """The table of every ring of wedges, or why it can't be made and what would work."""
    return tuple(table_for(plan, ring) for ring in plan.wedge_rings)


def table_for(plan: Plan, ring: RingPlan) -> TrimmingTable | Finding:
    """The table of one ring."""
    from jigs.pivot_plate_thickness import plate_thickness

    wedges, process = ring.wedges, process_for(plan.fixtures)
    assert wedges is not None
    if ring.width < NARROWEST:
        return too_narrow(ring, NARROWEST)
    sink = SOCKET_HEADS[THREAD][0] + 2.0 * process.loose
    room = sink + 2.0 * max(BESIDE_HEAD, process.feature)
    inner_foot = wedges.blank.inner_distance - process.slide
    least_post = plan.fixtures.pivot_pin / 2.0 + process.wall
    post = min(POST, inner_foot - room - process.slide)
    if post < least_post:
        return no_room(ring, least_post + room + 2.0 * process.slide, plan)
    thickness, cap = ring.tile_thickness + ring.backing, max(LEAST_CAP, 1.5 * process.feature)
    sink_depth = SOCKET_HEADS[THREAD][1] + UNDER_SCREW
    groove = max(LEAST_GROOVE, sink_depth + process.floor - cap - thickness + TO_FLOOR)
    nut_depth = NUTS[THREAD][1] + UNDER_SCREW
    base, screw = _base(nut_depth + process.floor, groove + thickness + cap - sink_depth)
    land = base + groove
    top = land + thickness + cap + BELOW_RIM
    pin_top = top + plate_thickness(plan) - BELOW_PLATE_TOP
    pin_length = max(one for one in PIN_LENGTHS if pin_top - one >= UNDER_PIN)
    outer_clamp = ring.outer_radius + process.slide + room
    corner = corner_of(wedges)
    made = TrimmingTable(
        name=f"ring-{ring.index}-trimming-table",
        kind="trimming-table",
        title=f"Trimming table, ring {ring.index}",
        purpose=(
            f"Holds the glued ring {ring.index} on the pivot while the router trims its outer and"
            " inner edge."
        ),
        why=say(
            "the untrimmed ring, {corners} across its corners, is trimmed to {outer} and {inner}"
            " across on the same pivot that its channel is routed on",
            corners=Length(2.0 * corner),
            outer=Length(2.0 * ring.outer_radius),
            inner=Length(2.0 * ring.inner_radius),
        ),
        inner=ring.inner_radius,
        outer=ring.outer_radius,
        thickness=thickness,
        slide=process.slide,
        base=base,
        land=land,
        top=top,
        recess=max(outer_clamp + process.loose, corner + 1.0),
        rim=room + 2.0,
        post=post,
        cap=cap,
        foot=thickness + groove - TO_FLOOR,
        keep=min(KEEP, ring.width / 2.0),
        inner_foot=inner_foot,
        outer_clamp=outer_clamp,
        sink_diameter=sink,
        sink_depth=sink_depth,
        nut_depth=nut_depth,
        screw=screw,
        pin=plan.fixtures.pivot_pin,
        pin_hole=plan.fixtures.pivot_pin + 2.0 * process.press,
        pin_length=pin_length,
        pin_foot=pin_top - pin_length,
        chamfer=process.chamfer,
        process=process,
    )
    table = replace(made, section=((-made.table, 0.0), (made.table, 0.0)))
    return replace(table, warnings=warnings_for(table, ring, plan))


def _base(least: float, above: float) -> tuple[float, int]:
    """How thick the table is under its recess, so that screws of a usual length just go through.

    `least` is what it must have, `above` what of a screw is above it.
    """
    shortest = least + above - UNDER_SCREW
    length = next((one for one in LENGTHS if one >= shortest), math.ceil(shortest))
    return length + UNDER_SCREW - above, length
