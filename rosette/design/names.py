"""Every key of a design: where it belongs, what it means, and which one a slip of the pen means."""

from __future__ import annotations

from difflib import get_close_matches
from functools import cache
from typing import get_args

from pydantic import BeforeValidator
from pydantic.fields import FieldInfo

from rosette.design.model import DesignKeys
from rosette.design.show import toml_value
from rosette.keys import LENGTH_READERS, Keys, RingKeys
from rosette.patterns import patterns
from rosette.units import Units

NEAR = 0.6
"""How alike two names must be for one to be a slip of the other (0 to 1, as difflib counts)."""
LONGEST_NAME = 60
"""Names longer than this are nobody's slip of the pen."""


@cache
def fields_of(model: type[Keys]) -> dict[str, FieldInfo]:
    """The keys of a table as they stand in a file."""
    return {field.alias or name: field for name, field in model.model_fields.items()}


def table_in(field: FieldInfo) -> type[Keys] | None:
    """The table that a key holds, or None where it holds a plain value."""
    kinds = (field.annotation, *get_args(field.annotation))
    return next((k for k in kinds if isinstance(k, type) and issubclass(k, Keys)), None)


def field_at(model: type[Keys], loc: tuple[str | int, ...]) -> FieldInfo | None:
    """The key at a path below a table; None for a key that no table knows."""
    field: FieldInfo | None = None
    table: type[Keys] | None = model
    for part in loc:
        if isinstance(part, int):
            return field
        field = fields_of(table).get(part) if table else None
        if field is None:
            return None
        table = table_in(field)
    return field


def table_at(model: type[Keys], loc: tuple[str | int, ...]) -> type[Keys]:
    """The table that a path leads to."""
    field = field_at(model, loc) if loc else None
    return (table_in(field) if field else None) or model


def required(model: type[Keys]) -> list[str]:
    """The keys that a table can't do without."""
    return [name for name, field in fields_of(model).items() if field.is_required()]


def holds_length(field: FieldInfo) -> bool:
    """Whether a key's value is a length."""
    marks = [*field.metadata]
    for kind in get_args(field.annotation):
        marks.extend(getattr(kind, "__metadata__", ()))
    return any(isinstance(m, BeforeValidator) and m.func in LENGTH_READERS for m in marks)


def example(name: str, field: FieldInfo, units: Units = "mm") -> str:
    """A key with a value, as it would stand in a file of these units."""
    value = (field.examples or [""])[0]
    if units == "in" and holds_length(field):
        value = f"{value} mm"
    return f"{name} = {toml_value(value)}"


@cache
def homes() -> dict[str, tuple[tuple[type[Keys], str], ...]]:
    """For every key the tables it belongs to: each table's class, and how a sentence names it."""
    found: dict[str, list[tuple[type[Keys], str]]] = {}

    def gather(model: type[Keys], place: str) -> None:
        for name, field in fields_of(model).items():
            inner = table_in(field)
            if inner is None or model is not DesignKeys:
                found.setdefault(name, []).append((model, place))
            if inner is not None:
                gather(inner, f"in [{name}]" if model is DesignKeys else f"in {name}, {place}")

    gather(DesignKeys, "at the top of the file")
    gather(RingKeys, "in a [[ring]]")
    common = fields_of(RingKeys)
    for pattern in patterns().values():
        for name in fields_of(pattern.keys).keys() - common.keys():
            place = f'in a [[ring]] of pattern "{pattern.name}"'
            found.setdefault(name, []).append((pattern.keys, place))
    return {name: tuple(places) for name, places in found.items()}


def nearest(name: str, known: list[str], *, cutoff: float = NEAR) -> str | None:
    """The known name that a misspelt one is likely to mean.

    >>> nearest("Widht", ["width", "wood"])
    'width'
    """
    if len(name) > LONGEST_NAME:
        return None
    near = get_close_matches(name.lower().replace("-", "_"), known, n=1, cutoff=cutoff)
    return near[0] if near else None


def remedy(name: str, model: type[Keys]) -> str:
    """What to do about a key that a table does not know."""
    here = list(fields_of(model))
    if model is DesignKeys:
        here.append("ring")
    places = [place for home, place in homes().get(name, ()) if home is not model]
    near = nearest(name, here)
    if places:
        return f"it belongs {places[0]}"
    if near:
        return f"did you mean {near}?"
    elsewhere = nearest(name, list(homes()), cutoff=0.8)
    if elsewhere:
        return f"did you mean {elsewhere}, which belongs {homes()[elsewhere][0][1]}?"
    return f"known here: {', '.join(here)}"
