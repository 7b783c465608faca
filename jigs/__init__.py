"""Plan → fixtures → STEP, STL, 3MF: the only place that loads the CAD kernel.

This is the register of fixtures. To add one: write `jigs/NAME.py` with
`def fixtures(plan: Plan) -> tuple[Fixture | Finding, ...]` (a finding where one can't be made)
and name it in `MODULES`.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from jigs.base import Fixture
    from rosette.errors import Finding
    from rosette.plan.model import Plan

MODULES = ("tray",)


def fixtures(plan: Plan) -> tuple[Fixture, ...]:
    """Every fixture that a plan's rings can have: sizes alone, without loading the CAD kernel."""
    from jigs.base import Fixture

    return tuple(one for one in _found(plan) if isinstance(one, Fixture))


def findings(plan: Plan) -> tuple[Finding, ...]:
    """Every fixture that can't be made, with what would work, and every fixture's own warnings."""
    from jigs.base import Fixture

    found: list[Finding] = []
    for one in _found(plan):
        found += one.warnings if isinstance(one, Fixture) else (one,)
    return tuple(found)


def _found(plan: Plan) -> tuple[Fixture | Finding, ...]:
    return tuple(one for name in MODULES for one in import_module(f"jigs.{name}").fixtures(plan))
