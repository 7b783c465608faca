"""How many wedges a radial ring has, or why it can have none."""

from __future__ import annotations

import math

from rosette.errors import CannotMakeError, Finding, finding
from rosette.geometry import wedge
from rosette.patterns.base import RingSite
from rosette.patterns.count import choose_count
from rosette.patterns.radial_keys import RadialKeys
from rosette.patterns.radial_woods import repeat
from rosette.words import Length


def _trimmed_radius(site: RingSite) -> float:
    """Where the blanks' inner corners stand: the inner radius less its allowance."""
    radius = site.inner_radius - site.inner_allowance
    if radius <= 0:
        raise CannotMakeError(
            [
                finding(
                    "no-inner-edge",
                    "cutting.inner_allowance",
                    "{allowance} of trim reaches past the centre of ring {index}, whose inner"
                    " radius is {radius}; use less than that radius",
                    allowance=Length(site.inner_allowance),
                    index=site.index,
                    radius=Length(site.inner_radius),
                )
            ]
        )
    return radius


def count_of(keys: RadialKeys, site: RingSite) -> int:
    """The count given, or the one chosen for the width given.

    Raises:
        CannotMakeError: where no such count leaves a wedge, with the largest that does.
    """
    radius = _trimmed_radius(site)
    most = _most(radius, keys)
    segments = keys.segments
    if segments is None:
        segments = choose_count(
            keys.segment_width or 0.0,
            outer_radius=site.outer_radius,
            joint=keys.joint,
            sequence=repeat(keys),
            most=most,
        )
    if segments is None or segments > most:
        raise CannotMakeError([_no_inner_edge(segments, most, radius, keys, site)])
    return segments


def narrow_share(keys: RadialKeys) -> float:
    """The narrowest wedge's angle as a share of what it would be were all alike."""
    return 1.0 if keys.widths is None else 2.0 * min(keys.widths) / sum(keys.widths)


def _most(radius: float, keys: RadialKeys) -> int:
    """The largest count that leaves every wedge an inner edge at `radius`; 0 where none does."""
    share, joint = narrow_share(keys), keys.joint
    if share == 1.0 or joint == 0.0 or joint >= 2.0 * radius:
        return wedge.most_segments(radius, joint=joint)
    least_half = math.degrees(math.asin(joint / (2.0 * radius))) + 1e-9
    most = min(wedge.MOST_SEGMENTS, math.floor(180.0 * share / least_half) // 2 * 2)
    return most if most >= 4 else 0


def _no_inner_edge(
    segments: int | None, most: int, radius: float, keys: RadialKeys, site: RingSite
) -> Finding:
    joint = Length(keys.joint)
    if most == 0:
        return finding(
            "no-inner-edge",
            f"{site.where}.spacer" if keys.spacer else f"{site.where}.glue_line",
            "joints of {joint} leave no wedge at all at {radius} from the centre;"
            " use thinner joints or a larger inner radius",
            joint=joint,
            radius=Length(radius),
        )
    if segments is None:
        return finding(
            "no-inner-edge",
            f"{site.where}.wood",
            "an order of woods that takes {sequence} wedges, with joints of {joint}, needs more"
            " than fit; at most {most} fit this ring",
            sequence=repeat(keys),
            joint=joint,
            most=most,
        )
    return finding(
        "no-inner-edge",
        f"{site.where}.segments",
        "{segments} wedges with joints of {joint} leave no inner edge ({width});"
        " at most {most} fit this ring",
        segments=segments,
        joint=joint,
        width=Length(
            wedge.width_at(radius, segments=segments / narrow_share(keys), joint=keys.joint), 3
        ),
        most=most,
    )
