"""Goldens of the sheets for the saw and the router, of the ring in `ring_cases.py`."""

from __future__ import annotations

from collections.abc import Callable

from rosette.sheets import channel, gauges, saw, wedge
from rosette.sheets.drawing import Drawing
from tests.golden.ring_cases import named

SHOP_CASES: dict[str, Callable[[], Drawing]] = {
    "wedge-1": named("wedge-1", wedge.drawings),
    "wedge-1-enlarged": named("wedge-1-enlarged", wedge.drawings),
    "saw-1": named("saw-1", saw.drawings),
    "saw-1-work": named("saw-1-work", saw.drawings),
    "gauges-1": named("gauges-1", gauges.drawings),
    "channel": named("channel", channel.drawings),
    "channel-2": named("channel-2", channel.drawings),
    "channel-3": named("channel-3", channel.drawings),
}
