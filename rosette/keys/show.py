"""Values and key paths as findings show them: short, on one line, nothing that a terminal obeys."""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterable

from rosette.words import ESCAPES, LONGEST, plain

_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")


def show(value: object) -> str:
    r"""A value as it stands in a design file, cut short where it is long.

    >>> show("a\nb"), show(36.0), show(True), show([1]), show(float("nan"))
    ('"a\\nb"', '36.0', 'true', 'a list', 'nan')
    """
    match value:
        case str():
            shown = f'"{plain(value)}"'
        case bool():
            shown = str(value).lower()
        case int():
            # Python refuses to write out integers of many thousand digits
            large = value.bit_length() > 64
            shown = "a number of more than 19 digits" if large else str(value)
        case datetime.date() | datetime.time():
            shown = value.isoformat()
        case list():
            shown = "a list" if value else "an empty list"
        case dict():
            shown = "a table"
        case _:
            shown = repr(value)[:LONGEST]
    return shown


def key_path(parts: Iterable[str | int]) -> str:
    """The path of a key; numbers are places in a list, counted from 0 here and from 1 in the path.

    >>> key_path(["ring", 1, "width"]), key_path(["odd key", "a.b"])
    ('ring[2].width', '"odd key"."a.b"')
    """
    path = ""
    for part in parts:
        if isinstance(part, int):
            path += f"[{part + 1}]"
        else:
            name = plain(part) if _BARE_KEY.fullmatch(part) else show(part)
            path += f".{name}" if path else name
    return path


def _toml_key(name: str) -> str:
    return name if _BARE_KEY.fullmatch(name) else toml_value(name)


def toml_value(value: object) -> str:
    """A value as TOML, for examples and starter files.

    >>> toml_value({"wood": "maple", "thickness": 0.5}), toml_value(["a", "b"]), toml_value(True)
    ('{ wood = "maple", thickness = 0.5 }', '["a", "b"]', 'true')
    """
    if isinstance(value, dict):
        pairs = (f"{_toml_key(name)} = {toml_value(one)}" for name, one in value.items())
        return "{ " + ", ".join(pairs) + " }"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(map(toml_value, value)) + "]"
    if isinstance(value, str):
        return '"' + "".join(ESCAPES.get(c, c) for c in value) + '"'
    return str(value).lower() if isinstance(value, bool) else str(value)
