"""A design: what the maker wrote, read and checked, in millimetres."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from typing import Annotated, ClassVar, Literal

from pydantic import BeforeValidator, Field

from rosette.keys import Keys, LengthKey, Name, PositiveLength, RingKeys, Rule, Temperature, refused
from rosette.units import Units


def _date(value: object) -> object:
    """A TOML date, with or without a time of day, or the same written in quotes."""
    if isinstance(value, datetime.datetime):
        return value.date()
    if isinstance(value, datetime.date):
        return value
    try:
        return datetime.date.fromisoformat(value if isinstance(value, str) else "")
    except ValueError:
        raise refused("is not a date", "a date such as 2025-03-14") from None


JobDate = Annotated[datetime.date, BeforeValidator(_date, json_schema_input_type=str)]


class InstrumentKeys(Keys):
    """[instrument]: the guitar, as measured."""

    rules: ClassVar[tuple[Rule, ...]] = (Rule(("fingerboard_width", "fingerboard_reach"), (0, 2)),)

    name: Name = Field(description="what the job is called", examples=["Damson parlour no. 3"])
    soundhole_diameter: PositiveLength = Field(
        description="across the finished soundhole", examples=[94]
    )
    top_thickness: PositiveLength = Field(
        description="thickness of the top as it is when the rosette goes in: measure it",
        examples=[2.7],
    )
    fingerboard_width: PositiveLength | None = Field(
        None,
        description="width of the fingerboard's extension, where it covers the rosette",
        examples=[57],
    )
    fingerboard_reach: LengthKey | None = Field(
        None,
        description="from the soundhole's centre to the fingerboard's end, along the centreline",
        examples=[46],
    )


class CuttingKeys(Keys):
    """[cutting]: the saw and the stock left for trimming."""

    kerf: LengthKey = Field(
        description="width of the saw's cut: measure it in scrap", examples=[0.9]
    )
    inner_allowance: LengthKey = Field(
        1.5, description="stock left inside the finished inner radius, for trimming", examples=[1.5]
    )
    outer_allowance: LengthKey = Field(
        1.5,
        description="stock left outside the finished outer radius, for trimming",
        examples=[1.5],
    )


class ChannelKeys(Keys):
    """[channel]: the router and the fit of the ring in the top."""

    bit_diameter: PositiveLength = Field(
        description="diameter of the router bit: measure it", examples=[3.175]
    )
    proud: LengthKey = Field(
        0.2,
        description="how far the ring stands above the top before it is levelled",
        examples=[0.2],
    )
    gap: LengthKey = Field(0.05, description="clearance for glue at each wall", examples=[0.05])
    minimum_floor: LengthKey = Field(
        0.8, description="the least wood that must stay under the channel", examples=[0.8]
    )
    depth_per_pass: PositiveLength = Field(
        0.8, description="how deep the router cuts in one pass", examples=[0.8]
    )


class AirKeys(Keys):
    """The air of a place: temperature in °C, relative humidity in percent."""

    temperature: Annotated[Temperature, Field(ge=-20, le=60)] = Field(
        description='°C, or a string such as "70 F"', examples=[21]
    )
    humidity: Annotated[float, Field(gt=0, lt=100)] = Field(
        description="relative humidity in percent", examples=[45]
    )


class ClimateKeys(Keys):
    """[climate]: the shop when the ring is glued, and the weather the guitar will meet."""

    build: AirKeys = Field(
        description="the shop's air when the ring is glued",
        examples=[{"temperature": 21, "humidity": 45}],
    )
    dry: AirKeys | None = Field(
        None,
        description="the driest air the guitar will meet",
        examples=[{"temperature": 21, "humidity": 25}],
    )
    humid: AirKeys | None = Field(
        None,
        description="the most humid air the guitar will meet",
        examples=[{"temperature": 24, "humidity": 75}],
    )


class FixtureKeys(Keys):
    """[fixtures]: how fixtures are made."""

    clearance: LengthKey = Field(
        0.2, description="room between the wood and a fixture", examples=[0.2]
    )
    text: bool = Field(
        True, description="name, count and radii engraved in the fixtures", examples=[False]
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedRing:
    """One [[ring]] with its radii worked out (mm); `keys` are its pattern's own."""

    index: int
    keys: RingKeys
    inner_radius: float
    outer_radius: float


class JobKeys(Keys):
    """[job]: what the title blocks say; all optional, left blank to fill in by hand."""

    owner: Name | None = Field(
        None, description="the workshop the drawings belong to", examples=["Wrenfold Guitars"]
    )
    creator: Name | None = Field(None, description="who drew them up", examples=["M. Alder"])
    number: Name | None = Field(None, description="your number for the job", examples=["W-031"])
    date: JobDate | None = Field(
        None,
        description="year-month-day, as it should stand on the drawings",
        examples=["2025-03-14"],
    )


class DesignKeys(Keys):
    """The tables of a design file but for its rings, whose keys each pattern defines."""

    schema_number: Literal[1] = Field(
        alias="schema", description="the number of this file format", examples=[1]
    )
    units: Literal["mm", "in"] = Field(
        "mm", description="what bare numbers mean: millimetres or inches", examples=["mm"]
    )
    job: JobKeys = Field(JobKeys(), description="what the title blocks say")
    instrument: InstrumentKeys = Field(description="the guitar, as measured")
    cutting: CuttingKeys = Field(description="the saw and the stock left for trimming")
    channel: ChannelKeys = Field(description="the router and the fit of the ring in the top")
    climate: ClimateKeys | None = Field(
        None, description="the shop's air, and the weather the guitar will meet"
    )
    fixtures: FixtureKeys = Field(FixtureKeys(), description="how fixtures are made")


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
