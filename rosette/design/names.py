"""Every key of a design: where it belongs, what it means, and which one a slip of the pen means."""

from __future__ import annotations

from collections.abc import Collection
from difflib import get_close_matches
from functools import cache

from rosette.design.model import DesignKeys
from rosette.keys import Keys, RingKeys
from rosette.patterns import every_pattern

NEAR = 0.6
"""How alike two names must be for one to be a slip of the other (0 to 1, as difflib counts)."""
LONGEST_NAME = 60
"""Names longer than this are nobody's slip of the pen."""


@cache
def homes() -> dict[str, tuple[tuple[type[Keys], str], ...]]:
    """For every key the tables it belongs to: each table's class, and how a sentence names it."""
    found: dict[str, list[tuple[type[Keys], str]]] = {}

    def gather(model: type[Keys], place: str, but: Collection[str] = ()) -> None:
        for name, key in model.known.items():
            if name in but:
                continue
            inner = key.kind.table
            if inner is None or model is not DesignKeys:
                found.setdefault(name, []).append((model, place))
            if inner is not None:
                gather(inner, f"in [{name}]" if model is DesignKeys else f"in {name}, {place}")

    gather(DesignKeys, "at the top of the file")
    gather(RingKeys, "in a [[ring]]")
    for pattern in every_pattern().values():
        gather(pattern.keys, f'in a [[ring]] of pattern "{pattern.name}"', RingKeys.known)
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
    here = list(model.known)
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
