"""The design file's JSON Schema, made from its keys (`python -m rosette.design.schema`)."""

from __future__ import annotations

import json
from typing import Any

from rosette.design.model import DesignKeys
from rosette.design.read import MOST_RINGS
from rosette.keys import Keys
from rosette.keys.schema import DIALECT, table_schema
from rosette.patterns import patterns


def design_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of a design file; lengths in examples and defaults carry their unit."""
    top = table_schema(DesignKeys)
    kinds = [_ring(pattern.name, pattern.keys) for pattern in patterns().values()]
    top["properties"]["ring"] = {
        "description": "the rings, from the inside out",
        "type": "array",
        "minItems": 1,
        "maxItems": MOST_RINGS,
        "items": {"oneOf": kinds},
    }
    top["required"].append("ring")
    return {"$schema": DIALECT, "$id": "rosette.design/1", "title": "design file", **top}


def _ring(name: str, keys: type[Keys]) -> dict[str, Any]:
    ring = table_schema(keys)
    ring["properties"]["pattern"] = {"description": "the kind of ring", "const": name}
    return ring


if __name__ == "__main__":
    print(json.dumps(design_schema(), indent=2, ensure_ascii=False))
