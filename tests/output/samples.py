"""A drawing with one of everything that a sheet may hold."""

from __future__ import annotations

import math

from rosette.geometry.outline import Outline, Vertex, arc, circle, line, polygon
from rosette.sheets.drawing import Circle, Drawing, Stroke, Text, Window

CIRCLES = {"outer": (0j, 72.5), "inner": (0j, 52.0), "pin": (20.125 - 31.0625j, 1.0)}
POLYGONS = {
    "blank": [(-30.0, 20.0), (-24.123456, 20.0), (-22.5, 41.987654), (-31.5, 41.987654)],
    "triangle": [(0.0, 0.0), (13.3333, 0.1), (7.7777, 9.9999)],
}
# name: radius, start and end in degrees; both directions, half turns and more
ARCS = {
    "quarter": (60.0, 0.0, 90.0),
    "clockwise": (62.0, 90.0, -30.0),
    "half": (64.0, -90.0, 90.0),
    "large": (66.0, 10.0, 310.0),
    "large-clockwise": (68.0, 200.0, -130.0),
}
TAU_QUARTER = math.tan(math.radians(350.0) / 4.0)
WORDS = ["Ø 94 × 2.5 mm ± 0.1°", 'Oak & "ash" <b>', "↑ out ½ ¼ ¾ ≤ ≥ ″ ′ − – →"]


def large_bulge() -> Outline:
    """One edge that sweeps 350° in one go, about the origin at radius 30."""
    a, b = math.radians(5.0), math.radians(355.0)
    return Outline(
        (
            Vertex(30.0 * math.cos(a), 30.0 * math.sin(a), TAU_QUARTER),
            Vertex(30.0 * math.cos(b), 30.0 * math.sin(b)),
        ),
        closed=False,
    )


def sample(name: str = "sample") -> Drawing:
    return Drawing(
        name=name,
        title="Sample & <sheet>",
        purpose="Shows one of everything.",
        bounds=(-80.0, -80.0, 80.0, 80.0),
        elements=(
            *(
                Circle(centre=(c.real, c.imag), radius=r, layer="cut", name=key)
                for key, (c, r) in CIRCLES.items()
            ),
            *(
                Stroke(outline=polygon(points), layer="cut", name=key, fill="#d9c3a5")
                for key, points in POLYGONS.items()
            ),
            *(
                Stroke(outline=arc(r, a, b), layer="engrave", name=key)
                for key, (r, a, b) in ARCS.items()
            ),
            Stroke(outline=large_bulge(), layer="engrave", name="almost-round"),
            Stroke(
                outline=circle(9.0, (40.0, 0.0)),
                holes=(circle(4.0, (40.0, 0.0)),),
                layer="cut",
                fill="#8a6040",
                name="washer",
            ),
            Stroke(
                outline=line((0.0, -78.0), (0.0, 78.0)),
                layer="centreline",
                weight=0.18,
                dashes=(6.0, 1.5, 1.0, 1.5),
            ),
            Stroke(
                outline=polygon([(10.0, 50.0), (12.5, 49.6), (12.5, 50.4)]),
                layer="dimension",
                colour=None,
                fill="#000000",
                name="arrow",
            ),
            Stroke(outline=line((1.0, 1.0), (5.0, 5.0)), layer="grain"),
            Stroke(
                outline=polygon([(-28.0, 46.0), (28.0, 46.0), (28.0, 78.0), (-28.0, 78.0)]),
                layer="hidden",
                dashes=(3.0, 1.5),
            ),
            *(
                Text(
                    text=words,
                    at=(-20.0, -6.0 * i),
                    anchor=("left", "middle", "right")[i],
                    turn=15.0 * i,
                    bold=i == 1,
                )
                for i, words in enumerate(WORDS)
            ),
            Window(
                elements=(
                    Circle(centre=(0.0, 0.0), radius=8.0, layer="note", name="seen"),
                    Text(text="inside", at=(0.0, 0.0)),
                ),
                shift=(-50.0, -50.0),
                frame=(-60.0, -60.0, -50.0, -40.0),
            ),
        ),
    )
