"""The plan: everything worked out from one design, in millimetres and degrees."""

from __future__ import annotations

from dataclasses import dataclass

from rosette.errors import Finding
from rosette.geometry.hidden import HiddenStrip
from rosette.patterns.base import RingPlan
from rosette.units import Units


@dataclass(frozen=True, slots=True, kw_only=True)
class Pass:
    """One setting of the router: pivot to bit centre, total depth, and what it cuts.

    `wall` is "outer", "inner" or "clear" (between the walls).
    """

    pivot_radius: float
    depth: float
    wall: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ChannelStep:
    """A part of a channel with one depth; its cutting starts `top` mm below the top."""

    rings: tuple[int, ...]
    inner_radius: float
    outer_radius: float
    top: float
    depth: float
    floor: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Channel:
    """The channel of rings that touch; `depth` is its deepest, `floor` the thinnest wood left."""

    index: int
    rings: tuple[int, ...]
    inner_radius: float
    outer_radius: float
    depth: float
    floor: float
    bit_diameter: float
    gap: float
    proud: float
    steps: tuple[ChannelStep, ...]
    passes: tuple[Pass, ...]

    @property
    def width(self) -> float:
        """Wall to wall."""
        return self.outer_radius - self.inner_radius


@dataclass(frozen=True, slots=True, kw_only=True)
class Movement:
    """How far a ring's circumference would move, left free, from shop to climate (mm).

    `temperature` °C, `humidity`, `moisture_build` and `moisture` percent; changes are positive
    for swelling; `radius` is where the circumference is taken.
    """

    ring: int
    case: str
    temperature: float
    humidity: float
    moisture_build: float
    moisture: float
    radius: float
    circumference_change: float
    per_joint: float
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FixtureWishes:
    """How the maker wants fixtures, and the machines they go with (mm).

    `kinds` are the fixtures to put into the job folder. `clearance` is the sliding fit,
    `process` "fdm", "cnc" or "plywood", `bit_diameter` the cutter that fixtures are routed with.
    `bed_width` and `bed_depth` are what a printer holds. `bar_width` and `bar_depth` are the
    slot of the saw's table, `pivot_pin` the diameter of the pin that ring and channel turn on.
    A router's base has `router_screws` threads of size `router_thread` on a circle of diameter
    `router_circle`.
    """

    kinds: tuple[str, ...]
    clearance: float
    text: bool
    process: str
    bit_diameter: float
    bed_width: float
    bed_depth: float
    bar_width: float
    bar_depth: float
    pivot_pin: int
    router_circle: float
    router_screws: int
    router_thread: int

    @property
    def bed(self) -> tuple[float, float]:
        """Width and depth of the printer's bed."""
        return self.bed_width, self.bed_depth


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """What title blocks say (ISO 7200); empty where the maker fills it in by hand."""

    owner: str = ""
    creator: str = ""
    number: str = ""
    date: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """One design worked out, in mm and degrees; `units` is only how people are told."""

    name: str
    units: Units
    job: Job
    soundhole_diameter: float
    top_thickness: float
    hidden: HiddenStrip | None
    kerf: float
    minimum_floor: float
    proud: float
    depth_per_pass: float
    rings: tuple[RingPlan, ...]
    channels: tuple[Channel, ...]
    movement: tuple[Movement, ...]
    fixtures: FixtureWishes
    warnings: tuple[Finding, ...]

    @property
    def wedge_rings(self) -> tuple[RingPlan, ...]:
        """The rings made of wedges."""
        return tuple(ring for ring in self.rings if ring.wedges is not None)

    @property
    def line_rings(self) -> tuple[RingPlan, ...]:
        """The rings bent from a strip."""
        return tuple(ring for ring in self.rings if ring.strip is not None)
