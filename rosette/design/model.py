"""A design: what the maker wrote, read and checked, in millimetres."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from rosette.keys import Keys, LengthKey, Name, PositiveLength, RingKeys, Temperature
from rosette.units import Units


def _date(value: object) -> object:
    """A TOML date, or the same written in quotes."""
    if isinstance(value, str):
        return date.fromisoformat(value)
    return value.date() if isinstance(value, datetime) else value


class InstrumentKeys(Keys):
    """[instrument]: the guitar, as measured."""

    name: Name
    soundhole_diameter: PositiveLength
    top_thickness: PositiveLength
    fingerboard_width: PositiveLength | None = None
    fingerboard_reach: LengthKey | None = None


class CuttingKeys(Keys):
    """[cutting]: the saw and the stock left for trimming."""

    kerf: LengthKey
    inner_allowance: LengthKey = 1.5
    outer_allowance: LengthKey = 1.5


class ChannelKeys(Keys):
    """[channel]: the router and the fit of the ring in the top."""

    bit_diameter: PositiveLength
    proud: LengthKey = 0.2
    gap: LengthKey = 0.05
    minimum_floor: LengthKey = 0.8
    depth_per_pass: PositiveLength = 0.8


class AirKeys(Keys):
    """The air of a place: temperature in °C, relative humidity in percent."""

    temperature: Annotated[Temperature, Field(ge=-20, le=60)]
    humidity: Annotated[float, Field(gt=0, lt=100)]


class ClimateKeys(Keys):
    """[climate]: the shop when the ring is glued, and the weather the guitar will meet."""

    build: AirKeys
    dry: AirKeys | None = None
    humid: AirKeys | None = None


class FixtureKeys(Keys):
    """[fixtures]: how fixtures are made; clearance between wood and fixture, engraved text or not."""

    clearance: LengthKey = 0.2
    text: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedRing:
    """One [[ring]] with its radii worked out (mm); `keys` are its pattern's own."""

    index: int
    keys: RingKeys
    inner_radius: float
    outer_radius: float


class JobKeys(Keys):
    """[job]: what the title blocks say; all optional, left blank to fill in by hand."""

    owner: Name | None = None
    creator: Name | None = None
    number: Name | None = None
    date: Annotated[date, BeforeValidator(_date, json_schema_input_type=str)] | None = None


class DesignKeys(Keys):
    """The tables of a design file but for its rings, whose keys each pattern defines."""

    schema_number: Literal[1] = Field(alias="schema")
    units: Literal["mm", "in"] = "mm"
    job: JobKeys = JobKeys()
    instrument: InstrumentKeys
    cutting: CuttingKeys
    channel: ChannelKeys
    climate: ClimateKeys | None = None
    fixtures: FixtureKeys = FixtureKeys()


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
