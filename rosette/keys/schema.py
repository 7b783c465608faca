"""JSON Schema (2020-12) of a table, made from its keys."""

from __future__ import annotations

from typing import Any

from rosette.keys.declare import Key, Keys, Rule, rules_of

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def table_schema(model: type[Keys]) -> dict[str, Any]:
    """A table's keys and rules; lengths in examples and defaults carry their unit."""
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
    told |= table_schema(inner) if inner else key.kind.schema
    if key.example != {}:
        told["examples"] = [_with_unit(key, key.example)]
    if not key.required and key.default is not None and inner is None:
        told["default"] = _with_unit(key, key.default)
    return told


def _with_unit(key: Key, value: object) -> object:
    if isinstance(value, tuple):
        return list(value)
    return f"{value:g} mm" if key.kind.is_length else value


def _rule(rule: Rule) -> dict[str, Any]:
    """A rule as schemas have it: of two keys, or of several of which there is one."""
    each = [{"required": [name]} for name in rule.names]
    if rule.counts == (1,):
        return {"oneOf": each}
    a, b = rule.names
    told: dict[tuple[int, ...], dict[str, Any]] = {
        (0, 1): {"not": {"required": [a, b]}},
        (1, 2): {"anyOf": each},
        (0, 2): {"dependentRequired": {a: [b], b: [a]}},
    }
    return told[rule.counts]
