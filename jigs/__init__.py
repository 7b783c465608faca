"""Plan → fixtures → STEP, STL, 3MF: the only place that loads the CAD kernel.

This is the register of fixtures. To add one: write `jigs/NAME.py` with
`def fixtures(plan: Plan) -> tuple[Fixture | Finding, ...]` (a finding where one can't be made)
and give its kind a line in `KINDS`.
"""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches
from importlib import import_module
from typing import TYPE_CHECKING

from rosette.errors import Finding, InputError, finding

if TYPE_CHECKING:
    from jigs.base import Fixture
    from rosette.plan.model import Plan

KINDS = {
    "saw-carrier": "saw_carrier",
    "coupon": "coupon",
    "gauges": "gauges",
    "shooting-block": "shooting_block",
    "tray": "tray",
    "half-tray": "half_tray",
    "caul": "caul",
    "trimming-table": "trimming_table",
    "pivot-plate": "pivot_plate",
}
"""Every kind of fixture, in the order of use at the bench, and the module that makes it."""


def fixtures(plan: Plan, kinds: Iterable[str] | None = None) -> tuple[Fixture, ...]:
    """The fixtures that suit a plan: sizes alone, without loading the CAD kernel.

    `kinds` are those wanted; None takes those that the design asks for.

    Raises:
        InputError: there is no such kind.
    """
    return tuple(one for _, one in offers(plan, kinds) if not isinstance(one, Finding))


def findings(plan: Plan, kinds: Iterable[str] | None = None) -> tuple[Finding, ...]:
    """Every fixture that can't be made, with what would work, and every fixture's own warnings.

    Raises:
        InputError: there is no such kind.
    """
    found: list[Finding] = []
    for _, one in offers(plan, kinds):
        found += (one,) if isinstance(one, Finding) else one.warnings
    return tuple(found)


def offers(
    plan: Plan, kinds: Iterable[str] | None = None
) -> tuple[tuple[str, Fixture | Finding], ...]:
    """Kind by kind, in the order of use: each fixture, or why one can't be made.

    A kind that nothing in the plan calls for is not among them.

    Raises:
        InputError: there is no such kind.
    """
    from jigs.prints import as_wished

    wanted = check_kinds(plan.fixtures.kinds if kinds is None else kinds)
    return tuple(
        (kind, one if isinstance(one, Finding) else as_wished(one, plan.fixtures))
        for kind, name in KINDS.items()
        if kind in wanted
        for one in import_module(f"jigs.{name}").fixtures(plan)
    )


def check_kinds(kinds: Iterable[str], where: str = "fixtures.kinds") -> tuple[str, ...]:
    """The kinds, every one of them known.

    Raises:
        InputError: with a finding for each that is not.
    """
    wanted = tuple(kinds)
    unknown = [
        _unknown(kind, f"{where}[{place}]")
        for place, kind in enumerate(wanted, start=1)
        if kind not in KINDS
    ]
    if unknown:
        raise InputError(unknown)
    return wanted


def _unknown(kind: str, where: str) -> Finding:
    near = get_close_matches(kind[:40], KINDS, n=1)
    return finding(
        "unknown-fixture",
        where,
        "there is no fixture called {kind}; " + ("did you mean {near}?" if near else "use {all}"),
        kind=f'"{kind[:40]}"',
        near=f'"{near[0]}"' if near else "",
        all=", ".join(KINDS),
    )
