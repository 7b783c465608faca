"""Wedges out of offcuts: what fits into a scrap of wood, how it is sawn, and which scraps to take.

`read_box` reads a box of offcuts. numpy and shapely come with it, and with the modules that
count and measure; planning has no use for any of them.
"""

from __future__ import annotations

from rosette.offcuts.box import Box, BoxOffcut, read_box

__all__ = ["Box", "BoxOffcut", "read_box"]
