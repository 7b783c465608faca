"""Wedges out of offcuts: what fits into a scrap of wood, how it is sawn, and which scraps to take.

`read_box` reads a box of offcuts. It is loaded when it is first asked for, since numpy and
shapely come with it: sheets and reports read cutting plans without them.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from rosette.offcuts.box import Box, BoxOffcut, read_box

__all__ = ["Box", "BoxOffcut", "read_box"]


def __getattr__(name: str) -> Any:
    if name not in __all__:
        raise AttributeError(f"module {__name__} has no attribute {name}")
    from rosette.offcuts import box

    return getattr(box, name)
