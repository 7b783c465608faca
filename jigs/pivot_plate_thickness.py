"""How thick a pivot plate is: trimming tables choose their pin by it."""

from __future__ import annotations

from jigs.hardware import SOCKET_HEADS
from jigs.process import process_for
from rosette.plan.model import Plan

SINK = 0.5
"""How much deeper than its head a screw is sunk, so that it never touches the soundboard (mm)."""
THINNEST = 8.0
"""A thinner plate bends, and its holes let the pin lean (mm)."""


def plate_thickness(plan: Plan) -> float:
    """What holds the heads of the router's screws, over the room for them (mm)."""
    head = SOCKET_HEADS[plan.fixtures.router_thread][1]
    return max(THINNEST, head + SINK + process_for(plan.fixtures).floor)
