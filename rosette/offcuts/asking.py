"""What to look for in a box: ranges, woods and the rest, from the words a maker gives."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any, TypeVar

from rosette.design.kinds import usual
from rosette.design.model import (
    ChannelKeys,
    CuttingKeys,
    Design,
    FixtureKeys,
    InstrumentKeys,
    JobKeys,
    PlacedRing,
)
from rosette.design.names import nearest
from rosette.design.typed import typed_length
from rosette.errors import Finding, InputError, finding
from rosette.keys.show import show
from rosette.offcuts import ranges
from rosette.offcuts.box import Box
from rosette.offcuts.demand import wood_key
from rosette.offcuts.explored import Ask
from rosette.offcuts.options import CutOptions
from rosette.patterns.radial_keys import RadialKeys
from rosette.units import MM_PER_INCH, LengthError, Units
from rosette.words import Length

STEP: Mapping[Units, float] = {"mm": 0.1, "in": 0.004 * MM_PER_INCH}
"""How finely widths are told: round numbers in either unit, about a tenth of a millimetre."""
RADIUS_STEP: Mapping[Units, float] = {"mm": 1.0, "in": MM_PER_INCH / 16.0}
"""Between the inner radii of a range (mm)."""
WIDTHS: Mapping[Units, str] = {"mm": "10-25", "in": "0.4-1"}
WORTH: Mapping[Units, str] = {"mm": "1", "in": "0.04"}
COUNTS = "12-48"
KIND = "steel"
NAME = "Ring from offcuts"
MOST_KINDS = 2000
"""More sorts of ring than this nobody reads through."""
NARROWEST = 2.0
"""mm: narrower than this nobody makes a ring of wedges."""

Given = Mapping[str, Any]
Read = TypeVar("Read")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Base:
    """A design to take the rest from, the index of its ring of wedges, what nobody measured."""

    design: Design
    ring: int
    assumed: frozenset[str]


def ask_for(box: Box, given: Given, *, like: Design | None = None) -> Ask:
    """What to look for, from the words given.

    `given` holds texts by the names of the command's options: `wood` (several), `segments`,
    `inner_radius`, `width`, `worth`, `spares`, `kerf`, `tile`, `inner_allowance`,
    `outer_allowance`, `kind`; and `ring` (a number), `options`, `everything`. All else is taken
    from the design `like`; without one it is what is usual.

    Raises:
        InputError: with everything that is wrong.
    """
    reader = _Reader(box, {name: value for name, value in given.items() if value not in (None, ())})
    return reader.ask(like)


class _Reader:
    """Reads the words given, gathering what is wrong with them."""

    def __init__(self, box: Box, given: Given) -> None:
        self.box, self.given, self.units = box, given, box.units
        self.findings: list[Finding] = []

    def ask(self, like: Design | None) -> Ask:
        if not self.box.offcuts:
            raise InputError(
                [finding("empty-box", "", 'the box holds no offcut; "rosette offcuts add" puts'
                         " one in")],
                source=self.box.source,
            )  # fmt: skip
        base = self._base(like)
        woods = self._woods()
        segments = self._segments(woods)
        radii = self.read("inner_radius", lambda text: ranges.length_list(
            text, self.units, RADIUS_STEP[self.units]))  # fmt: skip
        low, high = self._widths(base)
        worth = self.length("worth", WORTH[self.units])
        spares = self.read("spares", ranges.spares, default="0,usual")
        if self.findings or base is None:
            raise InputError(self.findings, units=self.units)
        radii = radii or (base.design.rings[base.ring - 1].inner_radius,)
        kinds = len(woods) * len(segments) * len(radii)
        if kinds > MOST_KINDS:
            raise InputError(
                f"{kinds} sorts of ring are more than anybody reads through; narrow the ranges to"
                f" {MOST_KINDS} (woods times counts times inner radii)"
            )
        return Ask(
            woods=woods,
            segments=segments,
            inner_radii=radii,
            narrowest=low,
            widest=high,
            design=base.design,
            ring=base.ring,
            like=like is not None,
            assumed=base.assumed,
            units=self.units,
            step=STEP[self.units],
            worth=worth or STEP[self.units],
            spares=spares or (0,),
            options=self.given.get("options", CutOptions()),
            everything=bool(self.given.get("everything")),
        )

    def read(
        self, name: str, how: Callable[[str], Read], *, default: str | None = None
    ) -> Read | None:
        """One option read; None where it is not given, or wrong."""
        text = self.given.get(name, default)
        if text is None:
            return None
        try:
            return how(text)
        except (ranges.RangeError, LengthError) as error:
            sentence = str(error)
            if isinstance(error, LengthError):
                sentence = f"{show(text)} {error}"
            self.tell(name, sentence)
            return None

    def length(self, name: str, default: str | None = None, *, least: float = 0.0) -> float | None:
        """One length in mm, at least `least`."""
        found = self.read(name, lambda text: typed_length(text, self.units), default=default)
        if found is not None and found < least:
            self.tell(name, f"{show(self.given[name])} is too small")
            return None
        return found

    def tell(self, name: str, sentence: str, code: str = "wrong-value") -> None:
        option = "--" + name.replace("_", "-")
        self.findings.append(finding(code, option, "{it}", it=sentence))

    def _woods(self) -> tuple[tuple[str, ...], ...]:
        here: dict[str, str] = {}
        for one in self.box.offcuts:
            here.setdefault(wood_key(one.wood), one.wood)
        asked: list[tuple[str, ...]] = []
        for text in self.given.get("wood", ()):
            whole = wood_key(text) in here
            names = (text,) if whole else tuple(name.strip() for name in text.split(","))
            for name in names:
                if wood_key(name) not in here:
                    near = nearest(name, list(here.values()))
                    advice = (
                        f"did you mean {near}?" if near else f"it has {', '.join(here.values())}"
                    )
                    self.tell("wood", f"there is no {show(name)} in the box; {advice}", "no-wood")
            asked.append(tuple(here.get(wood_key(name), name) for name in names))
        return tuple(dict.fromkeys(asked)) or tuple((name,) for name in here.values())

    def _segments(self, woods: tuple[tuple[str, ...], ...]) -> tuple[int, ...]:
        usual_step = 6 if "segments" not in self.given else 1
        found = self.read("segments", ranges.counts, default=COUNTS) or ()
        kept = set[int]()
        for sequence in woods:
            fits = [one for one in found if one % len(sequence) == 0]
            steps = [one for one in fits if one % math.lcm(usual_step, len(sequence)) == 0]
            kept |= set(steps or fits)
            if found and not fits:
                self.tell(
                    "segments",
                    f"{len(sequence)} woods in turn go round a ring of {len(sequence)},"
                    f" {2 * len(sequence)}, {3 * len(sequence)} … wedges only; ask for such counts",
                )
        return tuple(sorted(kept))

    def _widths(self, base: _Base | None) -> tuple[float, float]:
        found = self.read(
            "width", lambda text: ranges.lengths(text, self.units), default=WIDTHS[self.units]
        )
        if found is None:
            return 0.0, 0.0
        low, high = found
        if low < NARROWEST:
            self.findings.append(
                finding("wrong-value", "--width", "{low} is too narrow for a ring of wedges;"
                        " start from {least}", low=Length(low), least=Length(NARROWEST))
            )  # fmt: skip
        room = None if base is None else _room(base)
        if room is not None and base is not None:
            if room < low:
                self.findings.append(
                    finding("no-room", "--width", "the ring after ring[{ring}] starts {room} from"
                            " its inner edge; ask for narrower rings",
                            ring=base.ring, room=Length(room))
                )  # fmt: skip
            high = min(high, room)
        return low, high

    def _base(self, like: Design | None) -> _Base | None:
        if like is None:
            if "ring" in self.given:
                self.tell("ring", "goes together with --like only")
            return self._usual()
        if "kind" in self.given:
            self.tell("kind", "does not go together with --like, which gives the guitar")
        index = self._ring_of(like)
        if index is None:
            return None
        cutting = self._changed(like.cutting, kerf="kerf", inner_allowance="inner_allowance",
                                outer_allowance="outer_allowance")  # fmt: skip
        placed = like.rings[index - 1]
        keys = self._changed(placed.keys, tile_thickness="tile")
        rings = (*like.rings[: index - 1], replace(placed, keys=keys), *like.rings[index:])
        return _Base(
            design=replace(like, cutting=cutting, rings=rings), ring=index, assumed=frozenset()
        )

    def _ring_of(self, like: Design) -> int | None:
        wedges = [ring.index for ring in like.rings if isinstance(ring.keys, RadialKeys)]
        asked = self.given.get("ring")
        if not wedges:
            self.tell("like", "this design has no ring of wedges", "no-ring")
        elif asked is not None and asked not in wedges:
            named = " and ".join(map(str, wedges))
            self.tell("ring", f"ring {asked} is no ring of wedges; those are {named}", "no-ring")
        else:
            return int(asked or wedges[0])
        return None

    def _changed(self, record: Any, **options: str) -> Any:
        """A table with the lengths that were given as options."""
        found = {
            key: self.length(option, least=1e-3 if option == "tile" else 0.0)
            for key, option in options.items()
        }
        return replace(record, **{key: mm for key, mm in found.items() if mm is not None})

    def _usual(self) -> _Base:
        units: Units = self.units
        told = usual(self.given.get("kind", KIND), units)
        mm = {name: typed_length(told[name], units) for name in _MEASURED}
        radius = mm["soundhole"] / 2.0 + mm["space"]
        keys = RadialKeys(
            pattern="radial",
            inner_radius=radius,
            width=mm["width"],
            tile_thickness=mm["tile"],
            segments=24,
            wood=("walnut",),
        )
        design = Design(
            units=units,
            job=JobKeys(),
            instrument=InstrumentKeys(
                name=NAME,
                soundhole_diameter=mm["soundhole"],
                top_thickness=mm["top"],
                fingerboard_width=mm["board"],
                fingerboard_reach=mm["reach"],
            ),
            cutting=self._changed(CuttingKeys(kerf=mm["kerf"]), kerf="kerf",
                                  inner_allowance="inner_allowance",
                                  outer_allowance="outer_allowance"),
            channel=ChannelKeys(bit_diameter=mm["bit"]),
            climate=None,
            fixtures=FixtureKeys(),
            rings=(
                PlacedRing(
                    index=1,
                    keys=self._changed(keys, tile_thickness="tile"),
                    inner_radius=radius,
                    outer_radius=radius + mm["width"],
                ),
            ),
        )  # fmt: skip
        assumed = {key for option, key in _OPTIONS.items() if option not in self.given}
        return _Base(design=design, ring=1, assumed=_NEVER_GIVEN | assumed)


_MEASURED = ("soundhole", "top", "tile", "kerf", "bit", "board", "reach", "space", "width")
_NEVER_GIVEN = frozenset(
    (
        "soundhole_diameter",
        "top_thickness",
        "bit_diameter",
        "fingerboard_width",
        "fingerboard_reach",
    )
)
_OPTIONS = {"kerf": "kerf", "tile": "tile_thickness"}


def _room(base: _Base) -> float | None:
    """How wide the ring may get before it meets one that has a radius of its own."""
    ring = base.design.rings[base.ring - 1]
    after = base.design.rings[base.ring :]
    if after and after[0].keys.inner_radius is not None:
        return after[0].inner_radius - ring.inner_radius
    return None
