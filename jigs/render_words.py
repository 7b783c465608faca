"""Names beside a picture, each led to the part it means."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from jigs.letters import engraving, extent_of
from jigs.render_raster import covered, stamp

CAPITAL = 1 / 72
"""Height of a capital, as a share of the picture's width."""
APART = 2.2
"""From one line of words to the next, in capitals."""
ONE_SIDE = 5
"""More labels than this stand at both sides."""
INSIDE = 0.6
"""A label points into its part by this share of the most it can, as far right as it can."""
GAP = 1.5
"""From the parts to the words, in capitals."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """Words for the part of that number."""

    body: int
    text: str


def label_room(names: Sequence[str], width: int) -> tuple[float, float]:
    """What the words ask for at the left and at the right of a picture, in pixels."""
    if not names:
        return 0.0, 0.0
    capital = CAPITAL * width
    room = max(extent_of(name, capital).width for name in names) + 2.0 * GAP * capital
    return (room if len(names) > ONE_SIDE else 0.0), room


def draw_labels(
    image: npt.NDArray[np.uint8], owners: npt.NDArray[np.int32], labels: Sequence[Label]
) -> None:
    """Words beside the parts, each with a line to a spot of its part that can be seen."""
    width = image.shape[1]
    rooms = label_room([label.text for label in labels], width)
    found = [(spot, label) for label in labels if (spot := _spot(owners, label.body)) is not None]
    found.sort(key=lambda one: one[0][1])
    half = len(found) // 2 if rooms[0] else 0
    _column(image, found[:half], GAP * CAPITAL * width, left=True)
    _column(image, found[half:], width - rooms[1] + GAP * CAPITAL * width, left=False)


def _column(
    image: npt.NDArray[np.uint8],
    found: Sequence[tuple[tuple[int, int], Label]],
    start: float,
    *,
    left: bool,
) -> None:
    """Words one below the other, from `start` on, at the left or at the right."""
    height, width = image.shape[:2]
    capital = CAPITAL * width
    ordered = sorted(found, key=lambda one: one[0])
    rows = _apart([spot[0] for spot, _ in ordered], APART * capital, capital, height)
    widest = max((extent_of(label.text, capital).width for _, label in ordered), default=0.0)
    for (spot, label), row in zip(ordered, rows, strict=True):
        wide = extent_of(label.text, capital).width
        x = start + widest - wide if left else start
        end = (row, x + wide + 0.5 * capital if left else x - 0.5 * capital)
        for size, ink in ((7, 255), (3, 0)):
            stamp(image, _line(spot, end), size, ink)
        for size, ink in ((17, 255), (13, 0)):
            stamp(image, np.array([spot]), size, ink)
        _write(image, label.text, x, row + capital / 2.0, capital)


def _spot(owners: npt.NDArray[np.int32], body: int) -> tuple[int, int] | None:
    """A pixel well inside what is seen of a part; None where nothing is."""
    seen = owners == body
    if not seen.any():
        return None
    step = 4
    layers = [seen[::step, ::step]]
    while layers[-1].any():
        whole = layers[-1]
        less = whole.copy()
        less[1:] &= whole[:-1]
        less[:-1] &= whole[1:]
        less[:, 1:] &= whole[:, :-1]
        less[:, :-1] &= whole[:, 1:]
        layers.append(less)
    if len(layers) == 1:
        row, column = np.argwhere(seen)[0]
        return int(row), int(column)
    inner = layers[int(INSIDE * (len(layers) - 2))]
    row, column = max(map(tuple, np.argwhere(inner)), key=lambda one: (one[1], -one[0]))
    return int(row) * step, int(column) * step


def _apart(wanted: Sequence[int], gap: float, margin: float, height: int) -> list[float]:
    """Rows near those wanted, in order, at least `gap` from one another."""
    rows: list[float] = []
    for row in wanted:
        rows.append(max(float(row), rows[-1] + gap if rows else margin))
    over = (rows[-1] if rows else 0.0) - (height - margin)
    for i in range(len(rows) - 1, -1, -1):
        most = height - margin - (len(rows) - 1 - i) * gap
        rows[i] = min(rows[i], most) if over > 0 else rows[i]
    return rows


def _line(a: tuple[float, float], b: tuple[float, float]) -> npt.NDArray[np.int64]:
    count = int(max(abs(a[0] - b[0]), abs(a[1] - b[1]))) + 2
    spots = np.stack([np.linspace(a[i], b[i], count) for i in (0, 1)], axis=1)
    return spots.astype(np.int64)


def _write(
    image: npt.NDArray[np.uint8], text: str, left: float, base: float, capital: float
) -> None:
    middle = left + extent_of(text, capital).width / 2.0
    for step in engraving(text, middle=0.0, baseline=0.0, height=capital, top=1.0, depth=1.0):
        rings = [
            np.array([(middle + x, base - y) for x, y in one.outline.points(0.2)])
            for one in (step, *step.steps)
        ]
        rows, columns, mask = covered(rings, image.shape[:2])
        image[rows, columns][mask] = 0
