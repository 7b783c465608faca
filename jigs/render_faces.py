"""The faces and edges of parts where they stand, for pictures: flat rings, no CAD kernel.

A block of flat steps has only level faces, upright walls and perhaps a slope along its bottom
edge, so its outlines say all that a picture needs.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from jigs.base import Part, Place
from jigs.letters import inside
from jigs.terrace import Block, Contour, Step, counter_clockwise

Array = npt.NDArray[np.float64]

FLAT_ERROR = 0.03
"""Greatest distance in mm between an arc and its chords in a picture."""
SHARP = math.radians(20.0)
"""A corner that turns by more than this shows as an edge; one that turns by less is smooth."""
SAME_HEIGHT = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """A flat face: rings of corners (n × 3, mm), the first outside, and its outward normal.

    `body` is the number of the part that it belongs to; `sunk` tells a level face that looks at
    you from far below the part's highest (1) from that one (0).
    """

    rings: tuple[Array, ...]
    normal: Array
    body: int
    sunk: float = 0.0


@dataclass(slots=True)
class Scene:
    """Faces, and edges as pairs of ends (mm): bold ones, and fine ones of letters.

    `round_edges` are uprights of curved walls with the normals to both sides: they show where
    one of these looks at the eye and the other does not.
    """

    faces: list[Face] = field(default_factory=list)
    edges: list[Array] = field(default_factory=list)
    fine: list[Array] = field(default_factory=list)
    round_edges: list[tuple[Array, Array, Array]] = field(default_factory=list)

    def corners(self) -> Array:
        """All corners, for the room that a picture needs."""
        return np.concatenate([ring for face in self.faces for ring in face.rings])


def scene(parts: Sequence[Part], lifts: Sequence[float] | None = None) -> Scene:
    """Every part at each of its places; `lifts` raises each part by so many mm."""
    found = Scene()
    for body, part in enumerate(parts):
        lift = lifts[body] if lifts else 0.0
        for place in part.places:
            _Builder(found, body, place, lift, part.block).add()
    return found


@dataclass(frozen=True, slots=True)
class _Builder:
    """Adds one body at one place to a scene."""

    scene: Scene
    body: int
    place: Place
    lift: float
    block: Block

    def add(self) -> None:
        """The faces and edges of the block."""
        block = self.block
        ring = _ring(block.outline)
        low = block.chamfer
        self._wall(ring, low, block.top, ring_inside=True, fine=False)
        bottom = ring
        if low:
            bottom = _inset(ring, low)
            self._slope(ring, bottom, low)
            self._loop(bottom, 0.0, fine=False)
        through: list[tuple[tuple[float, float], Array]] = []
        self._level(ring, block.steps, block.top, block.under, through)
        self._underside(bottom, block.under, 0.0, through)

    def _level(
        self,
        ring: Array,
        steps: Sequence[Step],
        level: float,
        under: Sequence[Step],
        through: list[tuple[tuple[float, float], Array]],
    ) -> None:
        holes = [_ring(step.outline) for step in steps]
        self._flat([ring, *holes], level, 1.0)
        for step, hole in zip(steps, holes, strict=True):
            fine = isinstance(step.outline, Contour)
            self._wall(hole, step.top, level, ring_inside=step.top > level, fine=fine)
            point = (float(hole[0, 0]), float(hole[0, 1]))
            if abs(step.top - _bottom_at(under, point)) < SAME_HEIGHT:
                through.append((point, hole))
            else:
                self._level(hole, step.steps, step.top, under, through)

    def _underside(
        self,
        ring: Array,
        steps: Sequence[Step],
        level: float,
        through: list[tuple[tuple[float, float], Array]],
    ) -> None:
        pockets = [_ring(step.outline) for step in steps]
        for step, pocket in zip(steps, pockets, strict=True):
            within = [one for one in through if inside(one[0], step.outline.points())]
            through = [one for one in through if one not in within]
            self._wall(pocket, step.top, level, ring_inside=step.top < level, fine=False)
            self._underside(pocket, step.steps, step.top, within)
        self._flat([ring, *pockets, *(hole for _, hole in through)], level, -1.0)

    def _flat(self, rings: list[Array], z: float, up: float) -> None:
        placed = tuple(self._stood(ring, z) for ring in rings)
        normal = self._way(np.array([[0.0, 0.0, up]]))[0]
        self.scene.faces.append(
            Face(rings=placed, normal=normal, body=self.body, sunk=self._sunk(z))
        )

    def _wall(self, ring: Array, a: float, b: float, *, ring_inside: bool, fine: bool) -> None:
        low, high = min(a, b), max(a, b)
        lower, upper = self._stood(ring, low), self._stood(ring, high)
        run = np.roll(ring, -1, axis=0) - ring
        length = np.hypot(run[:, 0], run[:, 1])
        sign = 1.0 if ring_inside else -1.0
        flat = np.stack([run[:, 1], -run[:, 0], np.zeros(len(run))], axis=1)
        normals = self._way(sign * flat / np.maximum(length, 1e-12)[:, None])
        for i in range(len(ring)):
            j = (i + 1) % len(ring)
            if length[i] > 0.0:
                quad = np.stack([lower[i], lower[j], upper[j], upper[i]])
                self.scene.faces.append(Face(rings=(quad,), normal=normals[i], body=self.body))
        self._loop(ring, high, fine=fine)
        if fine:
            return
        self._loop(ring, low, fine=False)
        turn = _turns(run)
        for i in range(len(ring)):
            if abs(turn[i]) > SHARP:
                self.scene.edges.append(np.stack([lower[i], upper[i]]))
            else:
                upright = np.stack([lower[i], upper[i]])
                self.scene.round_edges.append((upright, normals[i - 1], normals[i]))

    def _slope(self, ring: Array, bottom: Array, chamfer: float) -> None:
        upper, lower = self._stood(ring, chamfer), self._stood(bottom, 0.0)
        for i in range(len(ring)):
            j = (i + 1) % len(ring)
            quad = np.stack([lower[i], lower[j], upper[j], upper[i]])
            normal = np.cross(quad[1] - quad[0], quad[3] - quad[0])
            size = float(np.linalg.norm(normal))
            if size > 0.0:
                self.scene.faces.append(Face(rings=(quad,), normal=normal / size, body=self.body))

    def _loop(self, ring: Array, z: float, *, fine: bool) -> None:
        stood = self._stood(ring, z)
        pairs = np.stack([stood, np.roll(stood, -1, axis=0)], axis=1)
        (self.scene.fine if fine else self.scene.edges).extend(pairs)

    def _sunk(self, z: float) -> float:
        """Where a height lies between the block's highest face (0) and its lowest (1)."""
        low, high = self.block.lowest, self.block.highest
        share = (high - z) / (high - low)
        return 1.0 - share if self.place.over else share

    def _stood(self, ring: Array, z: float) -> Array:
        spots = np.concatenate([ring, np.full((len(ring), 1), z)], axis=1)
        place = self.place
        return np.asarray(
            self._way(spots) + np.array([place.x, place.y, place.z + self.lift]), dtype=np.float64
        )

    def _way(self, vectors: Array) -> Array:
        """Vectors turned as the place turns the part."""
        if self.place.over:
            vectors = vectors * np.array([1.0, -1.0, -1.0])
        c, s = math.cos(math.radians(self.place.turn)), math.sin(math.radians(self.place.turn))
        return np.asarray(
            vectors @ np.array([[c, s, 0.0], [-s, c, 0.0], [0.0, 0.0, 1.0]]), dtype=np.float64
        )


def _ring(outline: object) -> Array:
    """An outline as corners, counter-clockwise."""
    shape = counter_clockwise(outline)  # type: ignore[arg-type]
    return np.array(shape.points(FLAT_ERROR), dtype=np.float64)


def _turns(run: Array) -> Array:
    """By how many radians a ring turns at each of its corners."""
    heading = np.arctan2(run[:, 1], run[:, 0])
    return np.asarray(
        np.mod(heading - np.roll(heading, 1) + math.pi, 2.0 * math.pi) - math.pi, dtype=np.float64
    )


def _inset(ring: Array, by: float) -> Array:
    """A convex ring set in by `by` mm, corner for corner."""
    run = np.roll(ring, -1, axis=0) - ring
    run /= np.hypot(run[:, 0], run[:, 1])[:, None]
    inward = np.stack([-run[:, 1], run[:, 0]], axis=1)
    before = np.roll(inward, 1, axis=0)
    middle = inward + before
    share = by / np.maximum(1.0 + (inward * before).sum(axis=1), 1e-6)
    return np.asarray(ring + middle * share[:, None], dtype=np.float64)


def _bottom_at(under: Sequence[Step], point: tuple[float, float], level: float = 0.0) -> float:
    """How high the bottom stands over a point of the plan."""
    for step in under:
        if inside(point, step.outline.points()):
            return _bottom_at(step.steps, point, step.top)
    return level
