"""The picture of docs/patterns/radial.md: the forms of a radial ring, an arc of each."""

from __future__ import annotations

from typing import Any

from rosette.design.read import design_from
from rosette.geometry.outline import polygon
from rosette.patterns.base import RingPlan
from rosette.picture import INK, SPRUCE, ring_elements
from rosette.plan import make_plan
from rosette.sheets.drawing import HAIR, Drawing, Element, Stroke, Text, Window

DARK_TO_LIGHT = ["walnut", "sapele", "cherry", "maple"]
FORMS: tuple[tuple[str, dict[str, Any]], ...] = (
    ("two woods in turn", {"wood": ["walnut", "maple"]}),
    ("mirrored_pairs = true", {"wood": "zebrano", "mirrored_pairs": True}),
    (
        "mirrored_halves = true",
        {"wood": ["walnut", "cherry", "maple"], "segments": 18, "mirrored_halves": True},
    ),
    (
        "gradient = true, mirrored_halves = true",
        {"wood": DARK_TO_LIGHT, "gradient": True, "mirrored_halves": True},
    ),
    ("widths = [3, 1]", {"wood": ["walnut", "maple"], "widths": [3, 1]}),
    ("skew = 25", {"wood": "zebrano", "skew": 25}),
    (
        "spacer in every joint",
        {"wood": "cherry", "spacer": {"wood": "maple", "thickness": 0.8}},
    ),
    ("skew = 20, widths = [2, 1]", {"wood": ["sapele", "maple"], "skew": 20, "widths": [2, 1]}),
)
RADIUS, SIDE, GAP, WORDS, COLUMNS = 68.0, 146.0, 8.0, 9.0, 4
"""Outer radius, a picture's side, the space between two, room for words, pictures in a row (mm)."""


def radial_forms() -> Drawing:
    """Whole rings side by side, each with the keys that make it."""
    elements: list[Element] = []
    for number, (words, keys) in enumerate(FORMS):
        row, column = divmod(number, COLUMNS)
        x, y = column * (SIDE + GAP), -row * (SIDE + WORDS + GAP)
        elements += _shown(words, _ring(keys), x, y)
    rows = -(-len(FORMS) // COLUMNS)
    return Drawing(
        name="pattern-radial",
        title="The forms of a radial ring",
        purpose="Rings of one size in every form, each with the keys that make it.",
        bounds=(
            -GAP,
            -rows * (SIDE + WORDS + GAP) + GAP,
            COLUMNS * (SIDE + GAP),
            SIDE + GAP - SIDE,
        ),
        elements=tuple(elements),
    )


def _ring(keys: dict[str, Any]) -> RingPlan:
    ring = {
        "pattern": "radial",
        "inner_radius": 48.0,
        "outer_radius": RADIUS,
        "segments": 24,
        "tile_thickness": 2.0,
    }
    tables: dict[str, Any] = {
        "schema": 1,
        "instrument": {"name": "forms", "soundhole_diameter": 90, "top_thickness": 3.2},
        "cutting": {"kerf": 0.9},
        "channel": {"bit_diameter": 0.5},
        "ring": [ring | keys],
    }
    return make_plan(design_from(tables, "", "the forms of a radial ring")).rings[0]


def _shown(words: str, ring: RingPlan, x: float, y: float) -> list[Element]:
    frame = (x, y - SIDE, x + SIDE, y)
    corners = [(x, y - SIDE), (x + SIDE, y - SIDE), (x + SIDE, y), (x, y)]
    middle = (x + SIDE / 2.0, y - SIDE / 2.0)
    return [
        Stroke(outline=polygon(corners), layer="note", weight=HAIR, colour=SPRUCE, fill=SPRUCE),
        Window(elements=tuple(ring_elements(ring)), shift=middle, frame=frame),
        Text(text=words, at=(x, y - SIDE - 6.5), height=5.6, colour=INK),
    ]
