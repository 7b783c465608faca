"""How many wedges a radial ring has, or why it can have none."""

from __future__ import annotations

from rosette.errors import CannotMakeError, Finding, finding
from rosette.geometry import wedge
from rosette.patterns.base import RingSite
from rosette.patterns.count import choose_count
from rosette.patterns.radial_keys import RadialKeys
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
    most = wedge.most_segments(radius, joint=keys.joint)
    segments = keys.segments
    if segments is None:
        segments = choose_count(
            keys.segment_width or 0.0,
            outer_radius=site.outer_radius,
            joint=keys.joint,
            sequence=len(keys.wood),
            most=most,
        )
    if segments is None or segments > most:
        raise CannotMakeError([_no_inner_edge(segments, most, radius, keys, site)])
    return segments


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
            "a sequence of {sequence} woods with joints of {joint} needs more wedges than fit;"
            " at most {most} fit this ring",
            sequence=len(keys.wood),
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
        width=Length(wedge.width_at(radius, segments=segments, joint=keys.joint), 3),
        most=most,
    )
