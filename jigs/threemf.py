"""Meshes as 3MF (core specification 1.3), on the standard library alone.

Why not by the CAD library: docs/decisions/a-3mf-of-our-own.md.
"""

from __future__ import annotations

import io
import zipfile
from collections.abc import Sequence
from dataclasses import dataclass
from xml.sax.saxutils import escape, quoteattr

from jigs.mesh import DECIMALS, Mesh
from jigs.printing import Spot

_CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
_RELATIONS = "http://schemas.openxmlformats.org/package/2006/relationships"
_TYPES = "http://schemas.openxmlformats.org/package/2006/content-types"
_MODEL = "3D/3dmodel.model"
_HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n'
_START_OF_ZIP_TIME = (1980, 1, 1, 0, 0, 0)

_CONTENT_TYPES = (
    f'{_HEAD}<Types xmlns="{_TYPES}">'
    '<Default Extension="rels"'
    ' ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    '<Default Extension="model"'
    ' ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>'
)
_START = (
    f'{_HEAD}<Relationships xmlns="{_RELATIONS}"><Relationship Id="rel0" Target="/{_MODEL}"'
    ' Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>'
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """A part to print: its name, its mesh as it is printed, and where on the bed it is wanted."""

    title: str
    mesh: Mesh
    spots: tuple[Spot, ...] = ((0.0, 0.0),)


def threemf_bytes(items: Sequence[Item], title: str, purpose: str) -> bytes:
    """A 3MF package in millimetres, an object for every part; the same bytes every time."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as package:
        for name, content in (
            ("[Content_Types].xml", _CONTENT_TYPES),
            ("_rels/.rels", _START),
            (_MODEL, _model(items, title, purpose)),
        ):
            entry = zipfile.ZipInfo(name, _START_OF_ZIP_TIME)
            entry.compress_type, entry.create_system = zipfile.ZIP_DEFLATED, 3
            entry.external_attr = 0o644 << 16
            package.writestr(entry, content, compresslevel=6)
    return packed.getvalue()


def _model(items: Sequence[Item], title: str, purpose: str) -> str:
    objects = "".join(_object(number, item) for number, item in enumerate(items, start=1))
    return (
        f'{_HEAD}<model unit="millimeter" xml:lang="en" xmlns="{_CORE}">'
        f'<metadata name="Title">{escape(title)}</metadata>'
        f'<metadata name="Description">{escape(purpose)}</metadata>'
        f"<resources>{objects}</resources><build>{_build(items)}</build></model>\n"
    )


def _object(number: int, item: Item) -> str:
    corners = "".join(
        f'<vertex x="{_text(x)}" y="{_text(y)}" z="{_text(z)}"/>' for x, y, z in item.mesh.corners
    )
    triangles = "".join(
        f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in item.mesh.triangles
    )
    return (
        f'<object id="{number}" type="model" name={quoteattr(item.title)}><mesh>'
        f"<vertices>{corners}</vertices><triangles>{triangles}</triangles></mesh></object>"
    )


def _build(items: Sequence[Item]) -> str:
    return "".join(
        f'<item objectid="{number}"{_shift(spot)}/>'
        for number, item in enumerate(items, start=1)
        for spot in item.spots
    )


def _shift(spot: Spot) -> str:
    if not any(spot):
        return ""
    return f' transform="1 0 0 0 1 0 0 0 1 {_text(spot[0])} {_text(spot[1])} 0"'


def _text(length: float) -> str:
    return f"{length:.{DECIMALS}f}".rstrip("0").rstrip(".")
