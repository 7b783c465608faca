"""The design file's JSON Schema, made from its keys (`python -m rosette.design.schema`)."""

from __future__ import annotations

import json
from typing import Any

from rosette.design.model import DesignKeys
from rosette.design.read import MOST_RINGS
from rosette.keys import Key, Keys, Rule
from rosette.keys.declare import rules_of
from rosette.patterns import patterns

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def design_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of a design file; lengths in examples and defaults carry their unit."""
    top = _table(DesignKeys)
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
    ring = _table(keys)
    ring["properties"]["pattern"] = {"description": "the kind of ring", "const": name}
    return ring


def _table(model: type[Keys]) -> dict[str, Any]:
    table: dict[str, Any] = {
        "type": "object",
        "additionalProperties": False,
        "required": [name for name, key in model.known.items() if key.required],
        "properties": {name: _key(key) for name, key in model.known.items()},
    }
    rules = [_rule(rule) for rule in rules_of(model)]
    return {**table, "allOf": rules} if rules else table


def _key(key: Key) -> dict[str, Any]:
    inner = key.kind.table
    told: dict[str, Any] = {"description": key.about}
    told |= _table(inner) if inner else key.kind.schema
    if key.example != {}:
        told["examples"] = [_with_unit(key, key.example)]
    if not key.required and key.default is not None and inner is None:
        told["default"] = _with_unit(key, key.default)
    return told


def _with_unit(key: Key, value: object) -> object:
    return f"{value:g} mm" if key.kind.is_length else value


def _rule(rule: Rule) -> dict[str, Any]:
    """A rule of two keys, as schemas have it."""
    a, b = rule.names
    each = [{"required": [a]}, {"required": [b]}]
    told: dict[tuple[int, ...], dict[str, Any]] = {
        (0, 1): {"not": {"required": [a, b]}},
        (1,): {"oneOf": each},
        (1, 2): {"anyOf": each},
        (0, 2): {"dependentRequired": {a: [b], b: [a]}},
    }
    return told[rule.counts]


if __name__ == "__main__":
    print(json.dumps(design_schema(), indent=2, ensure_ascii=False))
