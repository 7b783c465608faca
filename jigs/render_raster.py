"""A z-buffer on numpy: flat faces, and lines that are drawn only where nothing hides them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]
Mask = npt.NDArray[np.bool_]


class Canvas:
    """`depth` is the distance towards the eye, `ident` the number of the face seen; rows go down.

    Points are in pixels, x to the right and y down, with the depth as their third number.
    """

    def __init__(self, width: int, height: int) -> None:
        self.depth = np.full((height, width), -np.inf, dtype=np.float32)
        self.ident = np.zeros((height, width), dtype=np.int32)

    def fill(self, rings: Sequence[Array], plane: tuple[float, float, float], ident: int) -> None:
        """A flat face, holes in it by the even-odd rule; its depth is a + b·x + c·y."""
        rows, columns, mask = covered(rings, self.depth.shape)
        if not mask.size:
            return
        a, b, c = plane
        x = np.arange(columns.start, columns.stop, dtype=np.float32) + np.float32(0.5)
        y = np.arange(rows.start, rows.stop, dtype=np.float32) + np.float32(0.5)
        near = (np.float32(b) * x)[None, :] + (np.float32(a) + np.float32(c) * y)[:, None]
        depth = self.depth[rows, columns]
        mask &= near > depth
        np.copyto(depth, near, where=mask)
        np.copyto(self.ident[rows, columns], np.int32(ident), where=mask)

    def seen(self, starts: Array, ends: Array, slack: float) -> npt.NDArray[np.int64]:
        """The pixels (row, column) of lines as far as no face is nearer by more than `slack`.

        The face behind one of a pixel's neighbours counts as well: along the rim of a curved
        wall, the pixel itself may show a spot of the wall far nearer than the rim.
        """
        spots, depth = _along(starts, ends)
        height, width = self.depth.shape
        column, row = (np.floor(spots[:, i]).astype(np.int64) for i in (0, 1))
        held = (column >= 0) & (column < width) & (row >= 0) & (row < height)
        row, column, depth = row[held], column[held], depth[held]
        behind = self.depth[row, column]
        for i, j in ((0, 1), (0, -1), (1, 0), (-1, 0)):
            beside = np.clip(row + i, 0, height - 1), np.clip(column + j, 0, width - 1)
            behind = np.minimum(behind, self.depth[beside])
        free = depth + slack >= behind
        return np.stack([row[free], column[free]], axis=1)


def covered(rings: Sequence[Array], shape: tuple[int, ...]) -> tuple[slice, slice, Mask]:
    """The rows and columns that rings reach over, and which of their pixels lie inside."""
    low = np.min([ring[:, :2].min(axis=0) for ring in rings], axis=0)
    high = np.max([ring[:, :2].max(axis=0) for ring in rings], axis=0)
    left, top = np.maximum(np.floor(low), 0).astype(int)
    right = min(int(np.ceil(high[0])), shape[1])
    bottom = min(int(np.ceil(high[1])), shape[0])
    wide, tall = right - left, bottom - top
    rows, columns = slice(top, max(top, bottom)), slice(left, max(left, right))
    if wide <= 0 or tall <= 0:
        return rows, columns, np.zeros((0, 0), dtype=np.bool_)
    a = np.concatenate([ring[:, :2] for ring in rings])
    b = np.concatenate([np.roll(ring[:, :2], -1, axis=0) for ring in rings])
    first = np.clip(np.ceil(np.minimum(a[:, 1], b[:, 1]) - 0.5), top, bottom).astype(np.int64)
    last = np.clip(np.ceil(np.maximum(a[:, 1], b[:, 1]) - 0.5), top, bottom).astype(np.int64)
    count = last - first
    edge = np.repeat(np.arange(len(a)), count)
    row = first[edge] + np.arange(len(edge)) - np.repeat(np.cumsum(count) - count, count)
    run = b[edge] - a[edge]
    x = a[edge, 0] + (row + 0.5 - a[edge, 1]) * run[:, 0] / run[:, 1]
    column = np.clip(np.ceil(x - 0.5) - left, 0, wide).astype(np.int64)
    count = np.bincount((row - top) * (wide + 1) + column, minlength=tall * (wide + 1))
    crossed = count.astype(np.uint8).reshape(tall, wide + 1)
    inside = np.bitwise_and(np.cumsum(crossed, axis=1, dtype=np.uint8), 1)
    return rows, columns, inside[:, :wide].astype(np.bool_)


def _along(starts: Array, ends: Array) -> tuple[Array, Array]:
    """Points along lines, less than a pixel apart, and their depths."""
    run = ends - starts
    count = np.ceil(np.abs(run[:, :2]).max(axis=1)).astype(np.int64) + 1
    line = np.repeat(np.arange(len(starts)), count)
    step = np.arange(len(line)) - np.repeat(np.cumsum(count) - count, count)
    share = (step / np.maximum(count - 1, 1)[line])[:, None]
    spots = starts[line] + run[line] * share
    return spots, spots[:, 2]


def stamp(image: npt.NDArray[np.uint8], pixels: npt.NDArray[np.int64], size: int, ink: int) -> None:
    """Round dots of `size` pixels across at each pixel (row, column), in a grey."""
    reach = size / 2.0
    around = [
        (i, j)
        for i in range(-size, size + 1)
        for j in range(-size, size + 1)
        if (i + (0.5 if size % 2 == 0 else 0.0)) ** 2 + (j + (0.5 if size % 2 == 0 else 0.0)) ** 2
        <= reach**2
    ]
    height, width = image.shape[:2]
    for i, j in around:
        row = np.clip(pixels[:, 0] + i, 0, height - 1)
        column = np.clip(pixels[:, 1] + j, 0, width - 1)
        image[row, column] = ink
