"""Golden drawings: pictures that somebody has looked at, kept as SVG files beside this one.

A drawing is compared with its golden by meaning: the same elements on the same layers in the
same order, the same words, and every number within 0.005 mm; how the file is laid out does
not matter.

To add one, name a function that makes the drawing in `cases.py`. To renew goldens after a
change that was meant, run

    python -m tests.golden.compare NAME ...

which writes the SVG files, prints what differs from the old ones, and makes a PNG of each in
a folder that it names. Look at every PNG before committing.
"""

from __future__ import annotations

import re
import sys
import tempfile
import xml.etree.ElementTree as ET
from pathlib import Path

from rosette.output.png import png_bytes
from rosette.output.svg import svg_bytes
from rosette.sheets.drawing import Drawing

FOLDER = Path(__file__).parent
TOLERANCE = 0.005
"""How far in mm (or degrees) a number may be from its golden."""

_NUMBER = re.compile(r"(?<![\w#])-?\d+(?:\.\d+)?")
Entry = tuple[str, tuple[float, ...]]


def golden_path(name: str) -> Path:
    return FOLDER / f"{name}.svg"


def check(drawing: Drawing, name: str) -> None:
    """Fail with what differs where a drawing is not its golden."""
    found = differences(svg_bytes(drawing), golden_path(name).read_bytes())
    assert not found, f"{name} is not its golden:\n" + "\n".join(found[:20])


def differences(made: bytes, golden: bytes) -> list[str]:
    """Each difference in meaning between two SVG files, one sentence each."""
    ours, theirs = entries(made), entries(golden)
    found = []
    if len(ours) != len(theirs):
        found.append(f"{len(ours)} elements, {len(theirs)} in the golden")
    for mine, other in zip(ours, theirs, strict=False):
        if mine[0] != other[0]:
            found.append(f"{_shown(mine)} where the golden has {_shown(other)}")
        elif any(abs(a - b) > TOLERANCE for a, b in zip(mine[1], other[1], strict=True)):
            found.append(f"{_shown(mine)} is off its golden {_shown(other)}")
    return found


def entries(svg: bytes) -> list[Entry]:
    """Every element as its words, with `#` for each number, and the numbers."""
    found: list[Entry] = []
    _walk(ET.fromstring(svg), "", found)
    return found


def _walk(element: ET.Element, layer: str, found: list[Entry]) -> None:
    tag = element.tag.rsplit("}", 1)[-1]
    if tag == "g" and element.get("id"):
        layer = element.attrib["id"]
    parts = [f"{layer or '-'}: {tag}"]
    for key, value in sorted(element.items()):
        spaced = re.sub("([A-Z])", r" \1 ", value) if key == "d" else value
        parts.append(f"{key.rsplit('}', 1)[-1]}={spaced}")
    parts.append((element.text or "").strip())
    words = " ".join(parts)
    found.append(
        (_NUMBER.sub("#", words), tuple(float(number) for number in _NUMBER.findall(words)))
    )
    for child in element:
        _walk(child, layer, found)


def _shown(entry: Entry) -> str:
    numbers = iter(entry[1])
    return re.sub("#(?![0-9a-f]{6})", lambda _: f"{next(numbers, 0.0):g}", entry[0])[:200]


def renew(drawing: Drawing, name: str, pictures: Path) -> list[str]:
    """Write a golden anew and a PNG of it to look at; what differs from the old one."""
    made = svg_bytes(drawing)
    path = golden_path(name)
    found = differences(made, path.read_bytes()) if path.exists() else ["it is new"]
    path.write_bytes(made)
    (pictures / f"{name}.png").write_bytes(png_bytes(drawing, pixels_per_mm=6.0))
    return found


def main(names: list[str]) -> None:
    from tests.golden.cases import CASES

    pictures = Path(tempfile.mkdtemp(prefix="goldens-"))
    for name in names or sorted(CASES):
        for difference in renew(CASES[name](), name, pictures):
            print(f"{name}: {difference}")
    print(f"Look at every picture in {pictures} before committing.")


if __name__ == "__main__":
    main(sys.argv[1:])
