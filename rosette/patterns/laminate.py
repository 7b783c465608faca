"""Plies across a band: how they lie, and the repeat that closes round the ring (mm, degrees).

Plies glued up to a stack of thickness P a repeat, cut at an angle θ to the plies, show in the cut
strip as bands at that angle to its edges, each t/sin θ long along it; one repeat is P/sin θ.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

from rosette.errors import CannotMakeError, Finding, finding
from rosette.patterns.base import RingSite
from rosette.patterns.laminate_keys import PlyKeys
from rosette.units import rounded
from rosette.words import Length, Saying, say

Adjust = Literal["angle", "plies", "thickest"]
SHORTEST = 0.8
"""Repeats that a length must hold at the least before one is stretched or squeezed to it."""
LARGE_TURN, LARGE_SHARE = 2.0, 0.06
"""An adjustment of more degrees, or of more of a ply's thickness, is told as a warning."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lay:
    """The plies of one repeat and the angle in degrees at which they cross the band."""

    plies: tuple[PlyKeys, ...]
    glue: float
    angle: float

    @property
    def thickness(self) -> float:
        """One repeat across the plies: every ply and a glue line beside each."""
        return sum(ply.thickness for ply in self.plies) + len(self.plies) * self.glue

    @property
    def sine(self) -> float:
        """The sine of θ, exactly 1 at 90°."""
        return 1.0 if self.angle == 90.0 else math.sin(math.radians(self.angle))

    @property
    def cotangent(self) -> float:
        """How far a ply runs along the band for each mm across it: cot θ, exactly 0 at 90°."""
        return 0.0 if self.angle == 90.0 else 1.0 / math.tan(math.radians(self.angle))

    @property
    def pitch(self) -> float:
        """One repeat along the band."""
        return self.thickness / self.sine

    def widths(self) -> list[float]:
        """Each ply along the band, without its glue."""
        return [ply.thickness / self.sine for ply in self.plies]

    @property
    def gap(self) -> float:
        """A glue line along the band."""
        return self.glue / self.sine


@dataclass(frozen=True, slots=True, kw_only=True)
class Closed:
    """A lay whose repeat goes `repeats` times into a length, and what was adjusted for it."""

    lay: Lay
    wanted: Lay
    repeats: int

    @property
    def turn(self) -> float:
        """Degrees by which the angle was changed."""
        return self.lay.angle - self.wanted.angle

    @property
    def share(self) -> float:
        """The largest relative change of a ply's thickness."""
        pairs = zip(self.lay.plies, self.wanted.plies, strict=True)
        return max((a.thickness / b.thickness - 1.0 for a, b in pairs), key=abs)


def closed(
    wanted: Lay, *, length: float, adjust: Adjust, where: str, least: int = 1, times: int = 1
) -> Closed:
    """The lay nearest to the wanted one that closes: `times` such lengths go round the ring.

    "angle" keeps the plies: sin θ = m·P/length. "plies" scales all plies alike, "thickest" the
    thickest alone, so that m·P = length·sin θ.

    Raises:
        CannotMakeError: where no such lay is near.
    """
    count = length / wanted.pitch
    most = math.floor(length / wanted.thickness + 1e-9)
    repeats = max(1, round(count))
    if adjust == "angle":
        repeats = min(repeats, most)
    if count < SHORTEST or repeats < least:
        raise CannotMakeError([_no_repeat(wanted, length, where, least, times)])
    made = closed_in(wanted, length=length, repeats=repeats, adjust=adjust)
    if made is None:
        raise CannotMakeError([_no_repeat(wanted, length, where, least, times)])
    return made


def closed_in(wanted: Lay, *, length: float, repeats: int, adjust: Adjust) -> Closed | None:
    """The lay that goes so many times into a length; None where no sound one does."""
    if adjust == "angle":
        sine = repeats * wanted.thickness / length
        if sine > 1.0 + 1e-12:
            return None
        angle = 90.0 if sine >= 1.0 - 1e-12 else math.degrees(math.asin(sine))
        return Closed(lay=replace(wanted, angle=angle), wanted=wanted, repeats=repeats)
    room = length * wanted.sine / repeats - wanted.thickness
    plies = wanted.plies
    thickest = max(ply.thickness for ply in plies)
    changed = [ply for ply in plies if adjust == "plies" or ply.thickness == thickest]
    scale = 1.0 + room / sum(ply.thickness for ply in changed)
    if scale <= 0.5:
        return None
    made = tuple(
        replace(ply, thickness=ply.thickness * scale) if ply in changed else ply for ply in plies
    )
    return Closed(lay=replace(wanted, plies=made), wanted=wanted, repeats=repeats)


def _no_repeat(wanted: Lay, length: float, where: str, least: int, times: int) -> Finding:
    return finding(
        "no-repeat",
        f"{where}.plies",
        "one repeat of the plies is {pitch} along the band, and {length} is what {it} holds, so"
        " the repeat can't be closed; use fewer or thinner plies{more}",
        pitch=Length(wanted.pitch),
        length=Length(length),
        it="the ring" if times == 1 else "each straight piece",
        more=f", at least {least} repeats"
        if least > 1
        else ""
        if times == 1
        else ", or fewer segments",
    )


def closing_words(made: Closed, *, total: int, what: str = "ring") -> Saying:
    """How the repeat was made to close."""
    lay, wanted = made.lay, made.wanted
    if made.turn:
        return say(
            "{total} repeats of {pitch} close the {what}: the angle was changed from {from_}° to"
            " {to}°, the plies stay as they are.",
            total=total,
            pitch=Length(lay.pitch, 3),
            what=what,
            from_=rounded(wanted.angle, 2),
            to=rounded(lay.angle, 2),
        )
    changed = [
        (old, new)
        for old, new in zip(wanted.plies, lay.plies, strict=True)
        if old.thickness != new.thickness
    ]
    if not changed:
        return say(
            "{total} repeats of {pitch} close the {what} as they are.",
            total=total,
            pitch=Length(lay.pitch, 3),
            what=what,
        )
    words: dict[str, Length] = {}
    parts = []
    for number, (old, new) in enumerate(dict.fromkeys(changed)):
        words |= {f"a{number}": Length(old.thickness, 3), f"b{number}": Length(new.thickness, 3)}
        parts.append(f"{_safe(new.wood)} from {{a{number}}} to {{b{number}}}")
    return say(
        "{total} repeats of {pitch} close the {what}: thickness the plies to it, "
        + ", ".join(parts)
        + ".",
        total=total,
        pitch=Length(lay.pitch, 3),
        what=what,
        **words,
    )


def _safe(name: str) -> str:
    """A name that can stand in a format string."""
    return name.replace("{", "{{").replace("}", "}}")


def adjusted_warnings(made: Closed, site: RingSite) -> list[Finding]:
    """Told where the repeat could be closed only by a change that the eye sees."""
    if abs(made.turn) > LARGE_TURN:
        return [
            finding(
                "large-adjustment",
                f"{site.where}.angle",
                "to close the ring the angle was changed from {from_}° to {to}°; plies that are"
                ' a little thicker or thinner, or adjust = "plies", keep nearer to it',
                from_=rounded(made.wanted.angle, 1),
                to=rounded(made.lay.angle, 1),
            )
        ]
    if abs(made.share) > LARGE_SHARE:
        return [
            finding(
                "large-adjustment",
                f"{site.where}.plies",
                "to close the ring a ply is {share} % {way} than asked for; thinner plies come"
                " nearer",
                share=rounded(abs(made.share) * 100.0, 1),
                way="thicker" if made.share > 0 else "thinner",
            )
        ]
    return []
