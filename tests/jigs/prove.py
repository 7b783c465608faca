"""Proves fixtures over many plans: `python -m tests.jigs.prove KIND… [--plans 100] [--first N]`.

For every plan and every fixture of the kinds: its sizes, its outlines by plane geometry, one valid
solid for every part with the volume of its formula, a watertight mesh within 0.1 %, and then its
mates where it works, by `tests.jigs.fit_KIND.misfits(plan, fixture, bodies)`, which gives a list
of sentences, empty where all is well. `bodies` are the parts' solids where they stand, as
`jigs.placing.placed` gives them. Ends with 1 where anything is wrong.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from importlib import import_module
from typing import Any

import jigs
from jigs.base import Fixture, FixtureError, Part
from jigs.export import names
from jigs.mesh import VOLUME_ERROR, mesh_of
from jigs.placing import at, solids
from jigs.sound import problems
from rosette.plan import Plan
from tests.jigs.plans import Case, case_of

Bodies = list[tuple[Part, Any]]
Misfits = Callable[[Plan, Fixture, Bodies], list[str]]
LARGEST = 1000.0
"""No fixture for a guitar is larger (mm)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """What came of one fixture of one plan."""

    case: Case
    fixture: Fixture
    bodies: int
    seconds: float
    found: tuple[str, ...]


def fit_of(kind: str) -> Misfits:
    """The function that places a kind's mates."""
    module = import_module(f"tests.jigs.fit_{kind.replace('-', '_')}")
    return module.misfits  # type: ignore[no-any-return]


def prove(kinds: Iterable[str], numbers: Iterable[int]) -> Iterator[Proof]:
    """The proof of every fixture of some kinds, for the plans of some numbers."""
    wanted = tuple(kinds)
    for number in numbers:
        case = case_of(number)
        for fixture in jigs.fixtures(case.plan, wanted):
            yield proof_of(case, fixture)


def proof_of(case: Case, fixture: Fixture) -> Proof:
    """One fixture, from its sizes to its mates; the mates only where its solids are sound."""
    started = time.process_time()
    found = list(_sizes(fixture))
    bodies: Bodies = []
    if not found:
        try:
            made = list(solids(fixture))
            found += [one for part, solid in made for one in _mesh(fixture, part, solid)]
            bodies = [(part, at(place, one)) for part, one in made for place in part.places]
        except FixtureError as error:
            found.append(str(error))
    if not found:
        found += fit_of(fixture.kind)(case.plan, fixture, bodies)
    seconds = time.process_time() - started
    return Proof(
        case=case, fixture=fixture, bodies=len(bodies), seconds=seconds, found=tuple(found)
    )


def _sizes(fixture: Fixture) -> Iterator[str]:
    """What is wrong with its sizes and outlines, without the kernel."""
    names(fixture)
    parts = fixture.parts()
    if len({part.title for part in parts}) < len(parts):
        yield "two parts have the same title"
    for part in parts:
        left, low, right, high = part.block.outline.bounds()
        if not 0.0 < max(right - left, high - low) < LARGEST:
            yield f"{part.name} is {right - left} by {high - low} mm"
        if not part.places:
            yield f"{part.name} stands nowhere"
        yield from (f"{part.name}: {one}" for one in problems(part.block))


def _mesh(fixture: Fixture, part: Part, solid: Any) -> Iterator[str]:
    """What is wrong with its triangles, counted by another library than the one that made them."""
    import trimesh

    made = mesh_of(solid, fixture.name, part)
    mesh = trimesh.Trimesh(made.corners, made.triangles, process=False)
    if not mesh.is_watertight or not mesh.is_winding_consistent:
        yield f"{part.name}: the mesh is not watertight"
    volume = part.block.volume()
    if abs(mesh.volume - volume) > VOLUME_ERROR * volume:
        yield f"{part.name}: the mesh holds {mesh.volume} mm³ instead of {volume}"


def main(words: Sequence[str]) -> int:
    """Prove, print a line a fixture and a sum a kind."""
    parser = argparse.ArgumentParser(prog="prove")
    parser.add_argument("kinds", nargs="*", default=[], metavar="KIND")
    parser.add_argument("--plans", type=int, default=100)
    parser.add_argument("--first", type=int, default=0)
    asked = parser.parse_args(words)
    kinds = jigs.check_kinds(asked.kinds or jigs.KINDS)
    proofs = []
    for proof in prove(kinds, range(asked.first, asked.first + asked.plans)):
        proofs.append(proof)
        print(
            f"{proof.fixture.name:28} {proof.bodies:3} bodies {proof.seconds:6.1f} s"
            f"  {len(proof.found)} wrong  plan {proof.case}",
            flush=True,
        )
        for one in proof.found:
            print(f"    {one}", flush=True)
    print(f"\n{'kind':16} plans fixtures bodies seconds wrong")
    for kind in kinds:
        own = [one for one in proofs if one.fixture.kind == kind]
        print(
            f"{kind:16} {len({one.case.number for one in own}):5} {len(own):8}"
            f" {sum(one.bodies for one in own):6} {sum(one.seconds for one in own):7.1f}"
            f" {sum(bool(one.found) for one in own):5}"
        )
    return int(any(one.found for one in proofs))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
