"""Reads an SVG file back by the published rules (SVG 1.1, appendix F.6 for arcs)."""

from __future__ import annotations

import cmath
import math
import re
import xml.etree.ElementTree as ET
from dataclasses import dataclass

SVG = "{http://www.w3.org/2000/svg}"
LABEL = "{http://www.inkscape.org/namespaces/inkscape}label"
MODE = "{http://www.inkscape.org/namespaces/inkscape}groupmode"


@dataclass(frozen=True)
class Shape:
    """A path flattened to points, or a circle (centre and radius); y up, in mm."""

    layer: str | None
    name: str | None
    points: tuple[tuple[complex, ...], ...] = ()
    centre: complex | None = None
    radius: float = 0.0


def root_of(data: bytes) -> ET.Element:
    return ET.fromstring(data)


def layers(data: bytes) -> list[str]:
    return [
        group.attrib["id"] for group in root_of(data).iter(f"{SVG}g") if group.get(MODE) == "layer"
    ]


def shapes(data: bytes) -> list[Shape]:
    found: list[Shape] = []
    _walk(root_of(data), None, 0j, found)
    return found


def _walk(element: ET.Element, layer: str | None, shift: complex, found: list[Shape]) -> None:
    if element.get(MODE) == "layer":
        layer = element.get(LABEL)
    move = re.fullmatch(r"translate\(([-\d.]+),([-\d.]+)\)", element.get("transform", ""))
    if move:
        shift += complex(float(move[1]), float(move[2]))
    name = element.get("id")
    if element.tag == f"{SVG}circle":
        centre = complex(float(element.attrib["cx"]), float(element.attrib["cy"])) + shift
        radius = float(element.attrib["r"])
        found.append(Shape(layer, name, centre=centre.conjugate(), radius=radius))
    if element.tag == f"{SVG}path":
        parts = tuple(
            tuple((point + shift).conjugate() for point in part)
            for part in flattened(element.attrib["d"])
        )
        found.append(Shape(layer, name, points=parts))
    for child in element:
        if child.tag != f"{SVG}defs":
            _walk(child, layer, shift, found)


def flattened(data: str, steps: int = 24) -> list[list[complex]]:
    """The sub-paths of `d` as points, arcs in steps; y down as in the file."""
    parts: list[list[complex]] = []
    for letter, numbers in re.findall(r"([MLAZ])([^MLAZ]*)", data):
        values = [float(number) for number in re.findall(r"-?\d*\.?\d+(?:e-?\d+)?", numbers)]
        if letter == "M":
            parts.append([complex(*values)])
        elif letter == "L":
            parts[-1].append(complex(*values))
        elif letter == "Z":
            parts[-1].append(parts[-1][0])
        else:
            rx, ry, turn, large, sweep, x, y = values
            assert rx == ry
            assert turn == 0
            parts[-1].extend(_arc(parts[-1][-1], complex(x, y), rx, large != sweep, sweep, steps))
    return parts


def _arc(
    a: complex, b: complex, radius: float, left: bool, sweep: float, steps: int
) -> list[complex]:
    """SVG 1.1 F.6.5, for circles: the centre from both ends, the radius and the two flags."""
    half = (a - b) / 2
    radius = max(radius, abs(half))
    offset = math.sqrt(radius**2 - abs(half) ** 2) / abs(half)
    centre = (a + b) / 2 + (1 if left else -1) * offset * complex(half.imag, -half.real)
    start = cmath.phase(a - centre)
    turn = (cmath.phase(b - centre) - start) % (2 * math.pi)
    if not sweep:
        turn -= 2 * math.pi
    return [centre + cmath.rect(radius, start + turn * i / steps) for i in range(1, steps + 1)]
