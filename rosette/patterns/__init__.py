"""Ring patterns, one file each; this is their register.

To add one: write `rosette/patterns/NAME.py` with a `PATTERN` of that name, and name it in
`MODULES`. One from another package is found by that package's entry points: see
docs/patterns/own.md and `rosette.patterns.others`.
"""

from __future__ import annotations

from functools import cache
from importlib import import_module

from rosette.patterns.base import Pattern

MODULES = (
    "radial",
    "line",
    "lines",
    "arcs",
    "petals",
    "shapes",
    "chevron",
    "rope",
    "herringbone",
    "checker",
    "ladder",
    "mosaic",
)


def pattern(name: str) -> Pattern | None:
    """The pattern of that name: one of ours, else one from another package; None where neither.

    Only what is asked for is loaded.

    Raises:
        InputError: a package offers patterns that can't be used.
    """
    if name in MODULES:
        return _ours(name)
    from rosette.patterns.others import others

    return others(frozenset(MODULES)).get(name)


def patterns() -> dict[str, Pattern]:
    """Every pattern of ours by its name."""
    return {name: _ours(name) for name in MODULES}


def every_pattern() -> dict[str, Pattern]:
    """Every pattern by its name, those of other packages too.

    Raises:
        InputError: a package offers patterns that can't be used.
    """
    from rosette.patterns.others import others

    return patterns() | others(frozenset(MODULES))


@cache
def _ours(name: str) -> Pattern:
    found: Pattern = import_module(f"rosette.patterns.{name}").PATTERN
    return found
