"""Boxes on the disk, and the cuts of small jobs made from them."""

from __future__ import annotations

import json
from pathlib import Path

from rosette.offcuts import read_box
from rosette.offcuts.model import WedgeSize
from rosette.offcuts.strip import strip_layout

KERF = 0.9
SIZE = WedgeSize(inner_width=8.0, outer_width=11.0, height=19.0)

TEXT = """\
# The box by the window.
schema = 1
units = "mm"

# the long walnut
[[offcut]]
id = "S2"   # written on its back
wood = "walnut"
thickness = 2.4
outline = [
  [0, 0], [310, 0],  # [[offcut]] is no table here
  [300, 44], [5, 60],
]
defects = [{ at = [200, 20], across = 12 }]
note = "a # and ] and [[offcut]]"

[[offcut]]
id = "T"
wood = "walnut"
thickness = 2.4
count = 3   # three alike
[offcut.taper]
length = 120
ends = [40, 30]

# the end
"""


def put_box(folder: Path, text: str = TEXT) -> Path:
    path = folder / "offcuts.toml"
    path.write_bytes(text.encode())
    return path


def cuts(
    path: Path, used: dict[str, int], *, name: str = "Otter no. 1", fresh: bool = True
) -> Path:
    """The cuts.json of a job that cuts as many wedges as there are out of pieces of these ids."""
    box = read_box(path)
    placements, lines = [], []
    for key, count in used.items():
        found = box.find(key)
        assert found is not None
        layout = strip_layout(found.pieces(), SIZE, kerf=KERF)
        assert layout.placed
        for piece in range(1, count + 1):
            where = {"offcut": key, "piece": piece}
            placements += [{**where, "vertices": one.vertices} for one in layout.placements]
            lines += [{**where, "from": one.start, "to": one.end} for one in layout.cuts]
    document = {
        "schema": "rosette.cut/1",
        "name": name,
        "method": "strip",
        "kerf": KERF,
        "box": {"file": path.name, "sha256": box.sha256},
        "offcuts": [{"id": one.id, "sha256": one.sha256} for one in box.offcuts] if fresh else [],
        "placements": placements,
        "cuts": lines,
    }
    made = path.parent / f"{name.replace(' ', '-')}.json"
    made.write_text(json.dumps(document))
    return made


def states(path: Path) -> list[str]:
    """The states kept beside a box, the oldest first."""
    return [one.read_text() for one in sorted(path.with_name(f"{path.name}.before").glob("0*"))]
