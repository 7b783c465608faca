"""The offcuts file's JSON Schema, made from its keys (`python -m rosette.offcuts.schema`)."""

from __future__ import annotations

import json
from typing import Any

from rosette.keys.schema import DIALECT, table_schema
from rosette.offcuts.box import MOST_OFFCUTS, MOST_TAKEN
from rosette.offcuts.box_keys import BoxKeys, OffcutKeys, TakenKeys
from rosette.offcuts.box_kinds import KnotKeys


def box_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of an offcuts file."""
    top = table_schema(BoxKeys)
    top["properties"]["offcut"] = {
        "description": "the pieces of wood",
        "type": "array",
        "maxItems": MOST_OFFCUTS,
        "items": table_schema(OffcutKeys),
    }
    top["properties"]["taken"] = {
        "description": "jobs whose cuts were made",
        "type": "array",
        "maxItems": MOST_TAKEN,
        "items": table_schema(TakenKeys),
    }
    return {
        "$schema": DIALECT,
        "$id": "rosette.box/1",
        "title": "offcuts file",
        **top,
        "$defs": {"knot": table_schema(KnotKeys)},
    }


if __name__ == "__main__":
    print(json.dumps(box_schema(), indent=2, ensure_ascii=False))
