"""From an offcut's keys to the shape of its wood, checked."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from rosette.errors import finding
from rosette.geometry.tracing import TracingError
from rosette.keys import At
from rosette.keys.show import key_path
from rosette.offcuts.box_keys import OffcutKeys
from rosette.offcuts.box_kinds import MOST_POINTS
from rosette.offcuts.model import Ring
from rosette.offcuts.shorthand import curved, rectangle, taper
from rosette.offcuts.sound import LEAST_AREA, LEAST_DEFECT, cleaned, fault, outside, usable_area
from rosette.offcuts.tracing import Traced, read_tracing
from rosette.words import Saying

MOST_FILES = 500
"""Tracings of one box."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """Outline, holes and defects of one piece of wood, each a sound outline (mm)."""

    outline: Ring
    holes: tuple[Ring, ...]
    defects: tuple[Ring, ...]


class Tracings:
    """Reads each file of a folder once, however many offcuts name it."""

    def __init__(self, folder: Path | None) -> None:
        self._folder = folder
        self._read: dict[str, Traced | TracingError] = {}

    def find(self, name: str) -> Traced:
        """The outline in a file.

        Raises:
            TracingError: it can't be read.
        """
        if name not in self._read:
            self._read[name] = self._first(name)
        found = self._read[name]
        if isinstance(found, TracingError):
            raise found
        return found

    def _first(self, name: str) -> Traced | TracingError:
        if self._folder is None:
            return TracingError("can't be looked for: the offcuts file has no folder")
        if len(self._read) >= MOST_FILES:
            return TracingError("is one file too many; at most {most} do", most=MOST_FILES)
        try:
            return read_tracing(self._folder, name)
        except TracingError as error:
            return error


def shape_of(keys: OffcutKeys, at: At, tracings: Tracings) -> Shape | None:
    """The shape that the keys say, or None and every finding told."""
    before = len(at.findings)
    traced = _whole(keys, at, tracings)
    if traced is None:
        return None
    holes = (*traced.holes, *_inside(traced.outline, keys.holes, "holes", at))
    defects = _inside(traced.outline, keys.defects, "defects", at)
    points = sum(map(len, (traced.outline, *holes, *defects)))
    if points > MOST_POINTS:
        at.tell("too-many", f"it has {points} points in all; at most {MOST_POINTS} do")
    elif len(at.findings) == before and usable_area(traced.outline, holes, defects) < LEAST_AREA:
        at.tell("no-wood", "its holes and defects leave no wood of it; take it out of the box")
    if len(at.findings) > before:
        return None
    return Shape(outline=traced.outline, holes=holes, defects=defects)


def _whole(keys: OffcutKeys, at: At, tracings: Tracings) -> Traced | None:
    """The outline by the one key that gives it, sound and without repeated points."""
    if keys.file is not None:
        try:
            return tracings.find(keys.file)
        except TracingError as error:
            _tell(at.below("file"), "tracing", error.saying, lead=f'"{keys.file}" ')
            return None
    name, ring = _drawn(keys, at)
    if ring is None:
        return None
    ring = cleaned(ring)
    wrong = fault(ring)
    if wrong is not None:
        _tell(at.below(name), "outline", wrong, lead="it ")
        return None
    return Traced(outline=ring)


def _drawn(keys: OffcutKeys, at: At) -> tuple[str, Ring | None]:
    if keys.outline is not None:
        return "outline", keys.outline
    if keys.rectangle is not None:
        return "rectangle", rectangle(*keys.rectangle)
    if keys.taper is not None:
        left, right = keys.taper.ends
        sits = keys.taper.sits
        return "taper", taper(length=keys.taper.length, left=left, right=right, sits=sits)
    assert keys.curved is not None  # the rules of the table ask for one of the five
    left, right = keys.curved.ends
    try:
        ring = curved(length=keys.curved.length, left=left, right=right, rise=keys.curved.rise)
    except ValueError as error:
        at.below("curved").below("rise").tell("wrong-value", f"it {error}")
        return "curved", None
    return "curved", ring


def _inside(outline: Ring, rings: tuple[Ring, ...], name: str, at: At) -> tuple[Ring, ...]:
    """Holes or defects that are sound and not wholly outside; what is wrong with others told."""
    sound = []
    for i, raw in enumerate(rings):
        ring = cleaned(raw)
        wrong = fault(ring, least=LEAST_DEFECT) or outside(outline, ring)
        if wrong is not None:
            _tell(at.below(name).below(i), name.removesuffix("s"), wrong, lead="it ")
        else:
            sound.append(ring)
    return tuple(sound)


def _tell(at: At, code: str, saying: Saying, *, lead: str) -> None:
    said = Saying("{lead}" + saying.template, (("lead", lead), *saying.words))
    at.findings.append(finding(code, key_path(at.path), said))
