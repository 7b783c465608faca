"""The rows that docs/design-file.md must have, made from the keys themselves."""

from __future__ import annotations

from collections.abc import Iterator

from rosette.design.model import AirKeys, DesignKeys
from rosette.keys import Key, RingKeys
from rosette.keys.show import toml_value
from rosette.patterns import patterns

HEAD = "| key | takes | left out | what it is | for example |\n|---|---|---|---|---|"


def default(key: Key) -> str:
    if key.required:
        return "required"
    if key.default is None or key.kind.table is not None:
        return "–"
    return f"{key.default:g} mm" if key.kind.is_length else f"`{toml_value(key.default)}`"


def row(key: Key) -> str:
    example = f"`{key.line()}`" if key.example != {} else f"`[{key.name}]`"
    return f"| `{key.name}` | {key.kind.called} | {default(key)} | {key.about} | {example} |"


def sections() -> Iterator[tuple[str, list[str]]]:
    """Every section's heading, and its rows."""
    yield "The top of the file", [row(key) for key in DesignKeys.known.values()]
    for key in DesignKeys.known.values():
        if key.kind.table is not None:
            yield f"[{key.name}]", [row(one) for one in key.kind.table.known.values()]
    yield "The air of a place", [row(key) for key in AirKeys.known.values()]
    yield "[[ring]]", [row(key) for key in RingKeys.known.values()]
    for pattern in patterns().values():
        own = [key for name, key in pattern.keys.known.items() if name not in RingKeys.known]
        yield f'[[ring]] of pattern "{pattern.name}"', [row(key) for key in own]
        for key in own:
            if key.kind.table is not None:
                yield f"The table {key.name}", [row(one) for one in key.kind.table.known.values()]


if __name__ == "__main__":
    for heading, rows in sections():
        print(f"## {heading}", "", HEAD, *rows, "", sep="\n")
