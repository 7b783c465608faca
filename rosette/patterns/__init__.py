"""Ring patterns, one file each; this is their register.

To add one: write `rosette/patterns/NAME.py` with a `PATTERN`, and name it in `MODULES`.
"""

from __future__ import annotations

from functools import cache
from importlib import import_module

from rosette.patterns.base import Pattern

MODULES = ("radial", "line")


@cache
def patterns() -> dict[str, Pattern]:
    """Every registered pattern by its name."""
    found = (import_module(f"rosette.patterns.{name}").PATTERN for name in MODULES)
    return {pattern.name: pattern for pattern in found}
