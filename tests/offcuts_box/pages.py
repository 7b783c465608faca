"""The rows that docs/offcuts-file.md must have, made from the keys themselves."""

from __future__ import annotations

from collections.abc import Iterator

from rosette.offcuts.box_keys import (
    BoxKeys,
    CurvedKeys,
    OffcutKeys,
    TakenKeys,
    TaperKeys,
)
from rosette.offcuts.box_kinds import KnotKeys
from tests.design.pages import HEAD, default, row

TABLES = {
    "The top of the file": BoxKeys,
    "[[offcut]]": OffcutKeys,
    "A tapered strip": TaperKeys,
    "A bowed edge": CurvedKeys,
    "A knot": KnotKeys,
    "[[taken]]": TakenKeys,
}


def sections() -> Iterator[tuple[str, list[str]]]:
    """Every section's heading, and its rows."""
    for heading, model in TABLES.items():
        yield heading, [_row(key) for key in model.known.values()]


def _row(key: object) -> str:
    if getattr(key, "default", None) == ():
        return row(key).replace(f"| {default(key)} |", "| – |", 1)  # type: ignore[arg-type]
    return row(key)  # type: ignore[arg-type]


if __name__ == "__main__":
    for heading, rows in sections():
        print(f"## {heading}", "", HEAD, *rows, "", sep="\n")
