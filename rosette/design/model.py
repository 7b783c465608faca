"""A design: what the maker wrote, read and checked, in millimetres."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from typing import ClassVar, Literal

from rosette.keys import Keys, RingKeys, Rule, inner, key, table
from rosette.keys.files import NamedFile
from rosette.keys.kinds import (
    DATE,
    FLAG,
    HUMIDITY,
    LENGTH,
    NAME,
    POSITIVE_LENGTH,
    TEMPERATURE,
    format_number,
    names,
    one_number,
    one_of,
    whole,
)
from rosette.units import Units


@table
class InstrumentKeys(Keys):
    """[instrument]: the guitar, as measured."""

    rules: ClassVar[tuple[Rule, ...]] = (Rule(("fingerboard_width", "fingerboard_reach"), (0, 2)),)

    name: str = key(NAME, "what the job is called", example="Damson parlour no. 3")
    soundhole_diameter: float = key(POSITIVE_LENGTH, "across the finished soundhole", example=94)
    top_thickness: float = key(
        POSITIVE_LENGTH,
        "thickness of the top as it is when the rosette goes in: measure it",
        example=2.7,
    )
    fingerboard_width: float | None = key(
        POSITIVE_LENGTH,
        "width of the fingerboard's extension, where it covers the rosette",
        example=57,
        default=None,
    )
    fingerboard_reach: float | None = key(
        LENGTH,
        "from the soundhole's centre to the fingerboard's end, along the centreline",
        example=46,
        default=None,
    )


@table
class CuttingKeys(Keys):
    """[cutting]: the saw and the stock left for trimming."""

    kerf: float = key(LENGTH, "width of the saw's cut: measure it in scrap", example=0.9)
    inner_allowance: float = key(
        LENGTH,
        "stock left inside the finished inner radius, for trimming",
        example=1.5,
        default=1.5,
    )
    outer_allowance: float = key(
        LENGTH,
        "stock left outside the finished outer radius, for trimming",
        example=1.5,
        default=1.5,
    )


@table
class ChannelKeys(Keys):
    """[channel]: the router and the fit of the ring in the top."""

    bit_diameter: float = key(
        POSITIVE_LENGTH, "diameter of the router bit: measure it", example=3.175
    )
    proud: float = key(
        LENGTH,
        "how far the ring stands above the top before it is levelled",
        example=0.2,
        default=0.2,
    )
    gap: float = key(LENGTH, "clearance for glue at each wall", example=0.05, default=0.05)
    minimum_floor: float = key(
        LENGTH, "the least wood that must stay under the channel", example=0.8, default=0.8
    )
    depth_per_pass: float = key(
        POSITIVE_LENGTH, "how deep the router cuts in one pass", example=0.8, default=0.8
    )


@table
class AirKeys(Keys):
    """The air of a place: temperature in °C, relative humidity in percent."""

    temperature: float = key(TEMPERATURE, '°C, or a string such as "70 F"', example=21)
    humidity: float = key(HUMIDITY, "relative humidity in percent", example=45)


@table
class ClimateKeys(Keys):
    """[climate]: the shop when the ring is glued, and the weather the guitar will meet."""

    build: AirKeys = key(
        inner(AirKeys),
        "the shop's air when the ring is glued",
        example={"temperature": 21, "humidity": 45},
    )
    dry: AirKeys | None = key(
        inner(AirKeys),
        "the driest air the guitar will meet",
        example={"temperature": 21, "humidity": 25},
        default=None,
    )
    humid: AirKeys | None = key(
        inner(AirKeys),
        "the most humid air the guitar will meet",
        example={"temperature": 24, "humidity": 75},
        default=None,
    )


@table
class FixtureKeys(Keys):
    """[fixtures]: how fixtures are made."""

    kinds: tuple[str, ...] = key(
        names(most=20),
        'which fixtures go into the job folder; "rosette jigs DESIGN" lists those there are',
        example=["tray", "caul"],
        default=("tray",),
    )
    process: str = key(
        one_of("fdm", "cnc", "plywood"),
        "how they are made: fdm (printed), cnc (routed from plastic or hardwood) or plywood",
        example="fdm",
        default="fdm",
    )
    clearance: float | None = key(
        LENGTH,
        "room between the wood and a fixture: the number that the fit coupon gives; where it is"
        " left out 0.2 mm for fdm, 0.1 mm for cnc, 0.3 mm for plywood",
        example=0.2,
        default=None,
    )
    text: bool = key(
        FLAG,
        "whether name, count and radii are engraved in the fixtures: true or false",
        example=False,
        default=True,
    )
    bit_diameter: float = key(
        POSITIVE_LENGTH,
        "diameter of the bit that fixtures are routed with, where they are",
        example=3.175,
        default=3.175,
    )
    bed_width: float = key(
        POSITIVE_LENGTH, "width of the printer's bed", example=220, default=220.0
    )
    bed_depth: float = key(
        POSITIVE_LENGTH, "depth of the printer's bed", example=220, default=220.0
    )
    bar_width: float = key(
        POSITIVE_LENGTH,
        "width of the mitre slot in the saw's table: measure it",
        example=19.05,
        default=19.05,
    )
    bar_depth: float = key(
        POSITIVE_LENGTH, "depth of that slot: measure it", example=9.5, default=9.5
    )
    pivot_pin: int = key(
        one_number(3, 4, 5, 6, 8),
        "diameter in mm of the pin that ring and channel turn on: 3, 4, 5, 6 or 8",
        example=6,
        default=6,
    )
    router_circle: float = key(
        POSITIVE_LENGTH,
        "diameter of the circle that the screws of the router's base stand on: measure it",
        example=70,
        default=70.0,
    )
    router_screws: int = key(
        whole(least=2, most=8), "how many screws hold the router's base", example=3, default=3
    )
    router_thread: int = key(one_number(3, 4, 5, 6), "their thread: 4 for M4", example=4, default=4)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedRing:
    """One [[ring]] with its radii worked out (mm); `keys` are its pattern's own."""

    index: int
    keys: RingKeys
    inner_radius: float
    outer_radius: float


@table
class JobKeys(Keys):
    """[job]: what the title blocks say; all optional, left blank to fill in by hand."""

    owner: str | None = key(
        NAME, "the workshop the drawings belong to", example="Wrenfold Guitars", default=None
    )
    creator: str | None = key(NAME, "who drew them up", example="M. Alder", default=None)
    number: str | None = key(NAME, "your number for the job", example="W-031", default=None)
    date: datetime.date | None = key(
        DATE,
        "year-month-day, as it should stand on the drawings",
        example="2025-03-14",
        default=None,
    )


@table
class DesignKeys(Keys):
    """The tables of a design file but for its rings, whose keys each pattern defines."""

    schema: int = key(format_number(1), "the number of this file format", example=1)
    units: Literal["mm", "in"] = key(
        one_of("mm", "in"),
        'what bare numbers mean: "mm" or "in"',
        example="mm",
        default="mm",
    )
    job: JobKeys = key(inner(JobKeys), "what the title blocks say", example={}, default=JobKeys())
    instrument: InstrumentKeys = key(inner(InstrumentKeys), "the guitar, as measured", example={})
    cutting: CuttingKeys = key(
        inner(CuttingKeys), "the saw and the stock left for trimming", example={}
    )
    channel: ChannelKeys = key(
        inner(ChannelKeys), "the router and the fit of the ring in the top", example={}
    )
    climate: ClimateKeys | None = key(
        inner(ClimateKeys),
        "the shop's air, and the weather the guitar will meet",
        example={},
        default=None,
    )
    fixtures: FixtureKeys = key(
        inner(FixtureKeys), "how fixtures are made", example={}, default=FixtureKeys()
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """A whole design, every length in mm; `units` is what its maker writes and reads in.

    `source` is the file's name and `sha256` the hash of its bytes, for the record.
    """

    units: Units
    job: JobKeys
    instrument: InstrumentKeys
    cutting: CuttingKeys
    channel: ChannelKeys
    climate: ClimateKeys | None
    fixtures: FixtureKeys
    rings: tuple[PlacedRing, ...]
    source: str = ""
    sha256: str = ""

    def files(self) -> tuple[NamedFile, ...]:
        """The files that its rings name."""
        named = (getattr(ring.keys, name) for ring in self.rings for name in ring.keys.known)
        found = {one.name: one for one in named if isinstance(one, NamedFile)}
        return tuple(found[name] for name in sorted(found))
