"""A fingerprint of a piece of wood, by which it is known again when the box has changed."""

from __future__ import annotations

import hashlib
import json

from rosette.offcuts.model import Offcut, Ring


def fingerprint(wood: Offcut) -> str:
    """SHA-256 of all that matters for cutting: id, wood, thickness, grain and every outline.

    `cuts.json` carries it for each offcut, so that a job is still known to fit its box when
    something else in the box has changed.
    """
    said = [
        wood.id,
        wood.wood,
        float(wood.thickness),
        float(wood.grain),
        _plain(wood.outline),
        [_plain(ring) for ring in wood.holes],
        [_plain(ring) for ring in wood.defects],
    ]
    return hashlib.sha256(json.dumps(said, allow_nan=False).encode()).hexdigest()


def _plain(ring: Ring) -> list[list[float]]:
    return [[float(x), float(y)] for x, y in ring]
