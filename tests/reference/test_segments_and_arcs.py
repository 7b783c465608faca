"""Arcs of outlines against a handbook's circular segment."""

from __future__ import annotations

import math

import pytest

from rosette.geometry.outline import Outline, Vertex, arc_between


def test_circular_segment_chord_21_rise_6() -> None:
    """CRC-style handbook table: radius 12.1875, angle 118.97953°, arc 25.308373, area 89.254148."""
    chord, rise = 21.0, 6.0
    bulge = rise / (chord / 2.0)
    start, end = Vertex(0.0, 0.0, bulge), Vertex(chord, 0.0)
    arc = arc_between(start, end)
    assert arc.radius == pytest.approx(12.1875, abs=1e-12)
    assert math.degrees(arc.sweep_rad) == pytest.approx(118.97953, abs=5e-6)
    assert arc.radius * arc.sweep_rad == pytest.approx(25.308373, abs=5e-7)
    assert Outline((start, end)).area() == pytest.approx(89.254148, abs=5e-7)
