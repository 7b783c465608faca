"""A picture of a fixture from above and in front: shaded faces, hidden lines left out.

It is drawn from the parts' outlines and heights on numpy alone; why by no graphics library:
docs/decisions/0017-pictures-without-a-graphics-library.md.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from jigs.base import Fixture, Part
from jigs.colours import Colour, colour_of
from jigs.render_faces import Array, Scene, scene
from jigs.render_png import png
from jigs.render_raster import Canvas, stamp
from jigs.render_words import Label, draw_labels, label_room

TURN, RISE = math.radians(-24.0), math.radians(42.0)
"""Where the eye stands: to the left of the front, and above."""
LIGHT = (-0.45, -0.35, 0.82)
"""Where the light comes from, as a direction."""
OVER = 2
"""Every pixel is drawn as so many by so many."""
MARGIN = 0.03
"""Room round the picture, as a share of its width."""
MATE: Colour = (0.87, 0.84, 0.78)
"""What the fixture works on."""
APART = 0.6
"""How far parts are lifted off one another, as a share of the deepest."""
PALER, SUNK = 0.38, 0.3
"""How much white is in a part's colour, and how much darker its lowest level face is."""


def png_bytes(
    fixture: Fixture,
    *,
    pixels: int = 1600,
    explode: bool = False,
    extras: Sequence[Part] = (),
    words: Mapping[str, str] | None = None,
) -> bytes:
    """The picture, `pixels` wide; the same bytes for the same fixture.

    `explode` lifts the parts off one another, each named; `extras` are what the fixture works
    on, drawn pale in the places they name; `words` are texts to keep in the file, by keyword.
    """
    return png(image(fixture, pixels=pixels, explode=explode, extras=extras), words)


def image(
    fixture: Fixture, *, pixels: int = 1600, explode: bool = False, extras: Sequence[Part] = ()
) -> npt.NDArray[np.uint8]:
    """The picture as rows of red, green and blue."""
    parts = (*_best_side_up(fixture.parts()), *extras)
    bodies = scene(parts, lifts(parts) if explode else None)
    names = _names(parts, len(extras)) if len(parts) > 1 else []
    view = _view(bodies, pixels * OVER, label_room(names, pixels * OVER))
    canvas, colours, owner = _filled(bodies, parts, len(extras), view)
    large = colours[canvas.ident]
    _draw_edges(large, canvas, bodies, view)
    owners = owner[canvas.ident]
    draw_labels(large, owners, [Label(body=i, text=name) for i, name in enumerate(names)])
    corners = [large[i::OVER, j::OVER] for i in range(OVER) for j in range(OVER)]
    total = np.sum(corners, axis=0, dtype=np.uint16)
    return np.asarray((total + OVER) // OVER**2, dtype=np.uint8)


@dataclass(frozen=True, slots=True, kw_only=True)
class _View:
    """From mm to pixels: directions to the right, up and towards the eye, scale and shift."""

    right: Array
    up: Array
    eye: Array
    scale: float
    shift: tuple[float, float]
    size: tuple[int, int]

    def seen(self, points: Array) -> Array:
        """Points (… × 3, mm) as columns, rows and depths in mm."""
        x = points @ self.right * self.scale + self.shift[0]
        y = self.shift[1] - points @ self.up * self.scale
        return np.stack([x, y, points @ self.eye], axis=-1)

    def plane(self, normal: Array, point: Array) -> tuple[float, float, float]:
        """A flat face's depth as a + b·x + c·y of its pixels."""
        facing = float(normal @ self.eye)
        b = -float(normal @ self.right) / facing / self.scale
        c = float(normal @ self.up) / facing / self.scale
        x, y, depth = self.seen(point)
        return float(depth - b * x - c * y), b, c


def _view(bodies: Scene, width: int, words: tuple[float, float]) -> _View:
    c, s = math.cos(TURN), math.sin(TURN)
    right = np.array([c, s, 0.0])
    eye = np.array([s * math.cos(RISE), -c * math.cos(RISE), math.sin(RISE)])
    up = np.cross(eye, right)
    corners = bodies.corners()
    across, high = corners @ right, corners @ up
    margin = MARGIN * width
    scale = (width - 2.0 * margin - sum(words)) / float(np.ptp(across))
    scale = min(scale, (width - 2.0 * margin) / float(np.ptp(high)))
    tall = float(np.ptp(high)) * scale + 2.0 * margin
    rows = math.ceil(tall / OVER) * OVER
    slack = width - sum(words) - float(np.ptp(across)) * scale
    left = words[0] + slack / 2.0
    return _View(
        right=right,
        up=up,
        eye=eye,
        scale=scale,
        shift=(left - float(across.min()) * scale, margin + float(high.max()) * scale),
        size=(width, rows),
    )


def _filled(
    bodies: Scene, parts: Sequence[Part], extras: int, view: _View
) -> tuple[Canvas, npt.NDArray[np.uint8], npt.NDArray[np.int32]]:
    """The faces on a canvas, the colour of each number on it, and the part it belongs to."""
    canvas = Canvas(*view.size)
    light = np.array(LIGHT) / np.linalg.norm(LIGHT)
    colours: list[tuple[int, ...]] = [(255, 255, 255)]
    owner = [-1]
    for face in bodies.faces:
        if float(face.normal @ view.eye) <= 1e-6:
            continue
        tint = _tint(parts[face.body].colour, mate=face.body >= len(parts) - extras)
        shade = 0.58 + 0.42 * max(0.0, float(face.normal @ light))
        shade *= 1.0 - SUNK * face.sunk
        colours.append(tuple(round(255.0 * one * shade) for one in tint))
        owner.append(face.body)
        plane = view.plane(face.normal, face.rings[0][0])
        canvas.fill([view.seen(ring) for ring in face.rings], plane, len(colours) - 1)
    return canvas, np.array(colours, dtype=np.uint8), np.array(owner, dtype=np.int32)


def _tint(number: int, *, mate: bool) -> tuple[float, ...]:
    if mate:
        return MATE
    return tuple(one * (1.0 - PALER) + PALER for one in colour_of(number))


def _draw_edges(large: npt.NDArray[np.uint8], canvas: Canvas, bodies: Scene, view: _View) -> None:
    rims = [
        upright
        for upright, before, after in bodies.round_edges
        if (float(before @ view.eye) > 0.0) != (float(after @ view.eye) > 0.0)
    ]
    slack = 2.5 / view.scale
    for edges, size, ink in ((bodies.fine, OVER, 70), ([*bodies.edges, *rims], OVER + 1, 25)):
        if edges:
            ends = view.seen(np.array(edges))
            stamp(large, canvas.seen(ends[:, 0], ends[:, 1], slack), size, ink)


def _best_side_up(parts: tuple[Part, ...]) -> tuple[Part, ...]:
    """A part that stands alone and has feet or pads below is shown with those on top."""
    if len(parts) > 1 or parts[0].block.lowest >= 0.0:
        return parts
    places = tuple(replace(place, over=not place.over) for place in parts[0].places)
    return (replace(parts[0], places=places),)


def lifts(parts: Sequence[Part]) -> list[float]:
    """How far each part is raised (mm) to take a fixture apart, so that one sees between them.

    A part goes up one step further than the highest of those that it stands over, in or on.
    """
    spans, boxes = [_span(part) for part in parts], [_boxes(part) for part in parts]
    order = sorted(range(len(parts)), key=lambda i: (spans[i][0] + spans[i][1], i))
    steps = [0] * len(parts)
    for place, i in enumerate(order):
        below = [steps[j] for j in order[:place] if _overlap(boxes[i], boxes[j])]
        steps[i] = max(below, default=-1) + 1
    gap = max(12.0, APART * max(_reach(part) for part in parts))
    return [step * gap for step in steps]


def _boxes(part: Part) -> list[tuple[float, float, float, float]]:
    """What a part takes from above, at each of its places: left, bottom, right, top."""
    found = []
    for place in part.places:
        ring = [(x, -y) if place.over else (x, y) for x, y in part.block.outline.points(0.1)]
        c, s = math.cos(math.radians(place.turn)), math.sin(math.radians(place.turn))
        xs = [c * x - s * y + place.x for x, y in ring]
        ys = [s * x + c * y + place.y for x, y in ring]
        found.append((min(xs), min(ys), max(xs), max(ys)))
    return found


def _overlap(
    one: Sequence[tuple[float, float, float, float]],
    other: Sequence[tuple[float, float, float, float]],
) -> bool:
    return any(
        a[0] < b[2] - 0.5 and b[0] < a[2] - 0.5 and a[1] < b[3] - 0.5 and b[1] < a[3] - 0.5
        for a in one
        for b in other
    )


def _span(part: Part) -> tuple[float, float]:
    """The lowest and the highest of a part, at all its places."""
    block = part.block
    ends = [
        (p.z - block.highest, p.z - block.lowest)
        if p.over
        else (p.z + block.lowest, p.z + block.highest)
        for p in part.places
    ]
    return min(low for low, _ in ends), max(high for _, high in ends)


def _reach(part: Part) -> float:
    left, low, right, high = part.block.outline.bounds()
    return min(right - left, high - low)


def _names(parts: Sequence[Part], extras: int) -> list[str]:
    own = len(parts) - extras
    return [
        f"{len(part.places)} × {part.name}" if len(part.places) > 1 and i < own else part.name
        for i, part in enumerate(parts)
    ]
