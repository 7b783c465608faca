"""Why a ring gets no trimming table, and what to mind about the one it gets."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rosette.errors import Finding, finding
from rosette.patterns.base import RingPlan, Wedges
from rosette.plan.model import Plan
from rosette.words import Length

if TYPE_CHECKING:
    from jigs.trimming_table import TrimmingTable


def corner_of(wedges: Wedges) -> float:
    """How far the untrimmed ring's corners reach from the pivot (mm), spacers and all."""
    return wedges.blank.outer_distance / math.cos(math.radians(wedges.mitre_angle))


def too_narrow(ring: RingPlan, least: float) -> Finding:
    """The ring has no room for a clamp beside the bit."""
    return finding(
        "no-trimming-table",
        f"ring[{ring.index}].width",
        "no trimming table: a ring {width} wide has no room for clamps beside the bit, which take"
        " {least}; hold it with thin double-sided tape on a flat board round the same pivot",
        width=Length(ring.width),
        least=Length(least),
    )


def no_room(ring: RingPlan, least: float, plan: Plan) -> Finding:
    """The clamp's screws and the post with the pin do not go inside the ring."""
    assert ring.wedges is not None
    return finding(
        "no-trimming-table",
        f"ring[{ring.index}].inner_radius",
        "no trimming table: the wedges reach to {inner} from the pivot, and the pin and the"
        " clamp's screws need {least} there; a larger inner radius makes room, or a pivot_pin"
        " thinner than {pin} mm",
        inner=Length(ring.wedges.blank.inner_distance),
        least=Length(least),
        pin=plan.fixtures.pivot_pin,
    )


def warnings_for(table: TrimmingTable, ring: RingPlan, plan: Plan) -> tuple[Finding, ...]:
    """What to mind about a table: loose waste, and how far the bit must reach."""
    assert ring.wedges is not None
    bit = next(one.bit_diameter for one in plan.channels if ring.index in one.rings)
    outside = corner_of(ring.wedges) - ring.outer_radius
    inside = ring.inner_radius - ring.wedges.blank.inner_distance
    waste = max(outside, inside)
    reach = finding(
        "trimming-table-reach",
        f"ring[{ring.index}]",
        "to trim ring {index} on its table the bit of {bit} must reach {reach} below the pivot"
        " plate; see that yours does, its shank no thicker than {shank}",
        index=ring.index,
        bit=Length(bit, 3),
        reach=Length(table.reach, 1),
        shank=Length(bit + 2.0 * (table.keep - 0.5), 1),
    )
    if waste <= bit + 1e-9:
        return (reach,)
    return (
        finding(
            "trimming-table-waste",
            f"ring[{ring.index}]",
            "saw or sand ring {index} to within {bit} of its finished edges before it goes on the"
            " trimming table: the corners stand {waste} out, and what is wider than the bit comes"
            " off as loose pieces",
            index=ring.index,
            bit=Length(bit, 3),
            waste=Length(waste),
        ),
        reach,
    )
