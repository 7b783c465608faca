"""The layout of one offcut for one wedge; what a run finds out, kept for the next question."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import TypeVar

from rosette.offcuts.bounds import free_bound
from rosette.offcuts.cutplan import Objective
from rosette.offcuts.free import EFFORT, free_layout
from rosette.offcuts.model import Layout, Offcut, WedgeSize
from rosette.offcuts.options import CutOptions
from rosette.offcuts.region import Region, RegionOf, usable_region
from rosette.offcuts.selection import Part, parts
from rosette.offcuts.strip import strip_count, strip_layout

MOST_KEPT = 4000
"""Regions, layouts, parts: how many of each are kept; the oldest make room."""

Key = TypeVar("Key")
Value = TypeVar("Value")


def layout_of(
    offcut: Offcut,
    size: WedgeSize,
    *,
    kerf: float,
    options: CutOptions,
    effort: int | None = None,
    region_of: RegionOf = usable_region,
) -> Layout:
    """The most wedges of one size out of one offcut, as the options want them.

    `effort` is what the free method may spend on it, in steps; None for what the options say.
    Its cuts are left out: they follow from the wedges that are taken.
    """
    if options.method == "strip":
        return strip_layout(
            offcut,
            size,
            kerf=kerf,
            ways=options.ways,
            grain_tolerance=options.grain_tolerance,
            region_of=region_of,
            with_cuts=False,
        )
    if options.keep_neighbours:
        return _one_way_free(offcut, size, kerf=kerf, options=options, region_of=region_of)
    if effort is None:
        effort = EFFORT if options.effort is None else options.effort
    return free_layout(
        offcut, size, kerf=kerf, grain_tolerance=options.grain_tolerance, effort=effort
    )


def _one_way_free(
    offcut: Offcut, size: WedgeSize, *, kerf: float, options: CutOptions, region_of: RegionOf
) -> Layout:
    """The strips' layout with all wedges one way up, to be cut out along its outlines."""
    strip = strip_layout(
        offcut, size, kerf=kerf, ways="one", grain_tolerance=options.grain_tolerance,
        region_of=region_of, with_cuts=False,
    )  # fmt: skip
    bound = free_bound(region_of(offcut), size, kerf=kerf, grain_tolerance=options.grain_tolerance)
    placements = tuple(
        replace(one, band=1, order=order) for order, one in enumerate(strip.placements, 1)
    )
    return Layout(
        method="free",
        placements=placements,
        bound=max(bound, len(placements)),
        tilt=strip.tilt,
        nodes=strip.nodes,
    )


@dataclass(slots=True)
class FoundOut:
    """Regions, layouts and their parts of one run. Whoever starts a run makes one and hands it on.

    `made` counts the layouts that were searched for: how much work the run has done, the same
    on every machine.
    """

    regions: dict[tuple[Offcut, float, float], Region] = field(default_factory=dict)
    layouts: dict[tuple[Offcut, WedgeSize, float, CutOptions, int | None], Layout] = field(
        default_factory=dict
    )
    parted: dict[tuple[object, ...], tuple[Part, ...]] = field(default_factory=dict)
    made: int = 0

    def region(self, offcut: Offcut, *, tilt: float = 0.0, simplify: float = 0.0) -> Region:
        """See `rosette.offcuts.region.usable_region`."""
        key = (offcut, tilt, simplify)
        if key not in self.regions:
            _keep(self.regions, key, usable_region(offcut, tilt=tilt, simplify=simplify))
        return self.regions[key]

    def layout(
        self,
        offcut: Offcut,
        size: WedgeSize,
        *,
        kerf: float,
        options: CutOptions,
        effort: int | None = None,
    ) -> Layout:
        """See `layout_of`."""
        key = (offcut, size, kerf, _way(options), effort)
        if key not in self.layouts:
            self.made += 1
            _keep(
                self.layouts,
                key,
                layout_of(
                    offcut, size, kerf=kerf, options=options, effort=effort, region_of=self.region
                ),
            )
        return self.layouts[key]

    def holds(self, offcut: Offcut, size: WedgeSize, *, kerf: float, options: CutOptions) -> int:
        """How many wedges a layout has, found without it where that is quicker."""
        key = (offcut, size, kerf, _way(options), None)
        if key in self.layouts or options.method == "free" or options.grain_tolerance:
            return self.layout(offcut, size, kerf=kerf, options=options).placed
        self.made += 1
        return strip_count(
            self.region(offcut, tilt=-size.grain), size, kerf=kerf, ways=options.ways
        )[0]

    def parts(
        self,
        offcut: Offcut,
        layout: Layout,
        size: WedgeSize,
        *,
        kerf: float,
        objectives: Sequence[Objective],
        least: int,
        most: int,
    ) -> tuple[Part, ...]:
        """See `rosette.offcuts.selection.parts`."""
        key = (offcut, layout, size, kerf, tuple(objectives), least, most)
        if key not in self.parted:
            found = parts(
                offcut, layout, size, kerf=kerf, objectives=objectives, least=least, most=most,
                region_of=self.region,
            )  # fmt: skip
            _keep(self.parted, key, found)
        return self.parted[key]


def _way(options: CutOptions) -> CutOptions:
    """What of the options a layout depends on."""
    return CutOptions(
        method=options.method,
        grain_tolerance=options.grain_tolerance,
        keep_neighbours=options.keep_neighbours,
        effort=options.effort,
    )


def _keep(kept: dict[Key, Value], key: Key, value: Value) -> None:
    if len(kept) >= MOST_KEPT:
        del kept[next(iter(kept))]
    kept[key] = value
