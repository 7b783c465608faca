"""Times every kind of fixture, weighs its files, and sets them beside the bare kernel's.

`.venv/bin/python -m tests.benchmarks.measure_fixtures` writes a part of docs/benchmarks.md. The
plan is a ring of 36 wedges. The bare kernel makes the same bodies with cadquery's own operations,
step by step, and writes them with cadquery's own writers. Process time.
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

import jigs
from jigs.base import Fixture
from jigs.export import files
from jigs.terrace import Block, Contour, Step
from rosette.geometry.outline import Outline, polygon
from rosette.plan import Plan
from tests.benchmarks.section import put_section
from tests.jigs.mates import prism
from tests.jigs.trays import plan as ring_plan

SEGMENTS = 36
TIMES = 3
LIMIT_SECONDS, LIMIT_MB = 5.0, 5.0
Result = TypeVar("Result")

HEAD = (
    "| fixture | parts | sizes | files | largest file"
    " | files without words | bare kernel | its largest file |\n"
    "|---|---:|---:|---:|---:|---:|---:|---:|\n"
)
WORDS = """\
Measured by `tests/benchmarks/measure_fixtures.py` on {cores} cores with Python {version}: every
kind of fixture for a ring of {segments} wedges, words on it and all; seconds of one core, the best
of {times}. "Sizes" is what listing it takes, "files" all its solids, checks and files. The bare
kernel makes the same bodies, without words, with cadquery's own operations and writes STEP and STL
with its own writers: no checks. The limits are {seconds:g} s and {mb:g} MB.

{table}
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """One fixture: seconds and bytes, ours and the bare kernel's."""

    fixture: Fixture
    sizes: float
    seconds: float
    largest: int
    plain_seconds: float
    bare_seconds: float
    bare_largest: int

    def row(self) -> str:
        """A row of the table."""
        return (
            f"| {self.fixture.name} | {len(self.fixture.parts())} | {self.sizes * 1000:.1f} ms"
            f" | {self.seconds:.2f} s | {self.largest / 1e6:.2f} MB"
            f" | {self.plain_seconds:.2f} s"
            f" | {self.bare_seconds:.2f} s | {self.bare_largest / 1e6:.2f} MB |\n"
        )

    def too_much(self) -> bool:
        """Whether it is beyond a limit."""
        return self.seconds > LIMIT_SECONDS or self.largest > LIMIT_MB * 1e6


def timed(work: Callable[[], Result], times: int = TIMES) -> tuple[float, Result]:
    """The least seconds of the processor, and what came of it."""
    best = float("inf")
    for _ in range(times):
        started = time.process_time()
        result = work()
        best = min(best, time.process_time() - started)
    return best, result


def measured(kind: str, asked: Plan, plain: Plan) -> list[Measured]:
    """Every fixture of a kind; `plain` is the same plan without words."""
    sizes, made = timed(lambda: jigs.fixtures(asked, [kind]), 10)
    found = []
    for lettered, bare in zip(made, jigs.fixtures(plain, [kind]), strict=True):
        seconds, data = timed(lambda one=lettered: files(one))  # type: ignore[misc]
        plain_seconds, _ = timed(lambda one=bare: files(one))  # type: ignore[misc]
        bare_seconds, weights = timed(lambda one=bare: by_the_kernel(one), 1)  # type: ignore[misc]
        found.append(
            Measured(
                fixture=lettered,
                sizes=sizes / len(made),
                seconds=seconds,
                largest=max(map(len, data.values())),
                plain_seconds=plain_seconds,
                bare_seconds=bare_seconds,
                bare_largest=max(weights),
            )
        )
    return found


def by_the_kernel(fixture: Fixture) -> list[int]:
    """The bytes of every file of a fixture made by cutting and joining, unchecked."""
    from cadquery import Assembly, Location

    whole, weights = Assembly(name=fixture.title), []
    with tempfile.TemporaryDirectory() as folder:
        for part in fixture.parts():
            body = cut_out(part.block)
            if abs(body.Volume() / part.block.volume() - 1.0) > 1e-6:
                raise ValueError(f"{fixture.name}, {part.name}: not the same body")
            path = Path(folder) / f"{part.name}.stl"
            body.exportStl(str(path), tolerance=0.01, angularTolerance=0.5, relative=False)
            weights.append(path.stat().st_size)
            for i, place in enumerate(part.places):
                spot = Location((place.x, place.y, place.z), (0, 0, 1), place.turn)
                whole.add(body, name=f"{part.name} {i}", loc=spot)
        path = Path(folder) / "all.step"
        whole.export(str(path))
        weights.append(path.stat().st_size)
    return weights


def cut_out(block: Block) -> Any:
    """A block as anybody would make it: prisms cut off and joined on, one level after the other."""
    body = prism(_plain(block.outline), 0.0, block.top)
    if block.chamfer:
        bottom = min(body.Faces(), key=lambda face: float(face.Center().z))
        body = body.chamfer(block.chamfer, None, bottom.outerWire().Edges())
    body = _stepped(body, block.steps, block.top, up=True)
    body = _stepped(body, block.under, 0.0, up=False)
    deep = [_between(one.outline, 0.0, one.top) for one in _all(block.steps) if one.top < 0.0]
    return body.cut(*deep) if deep else body  # holes go on through the feet


def _all(steps: tuple[Step, ...]) -> Iterator[Step]:
    for one in steps:
        yield one
        yield from _all(one.steps)


def _stepped(body: Any, steps: tuple[Step, ...], level: float, *, up: bool) -> Any:
    """With the steps of one face, those sunk in it first."""
    sunk = [one for one in steps if (one.top < level) is up]
    raised = [one for one in steps if (one.top < level) is not up]
    if sunk:
        body = body.cut(*(_between(one.outline, level, one.top) for one in sunk))
    if raised:
        body = body.fuse(*(_between(one.outline, level, one.top) for one in raised))
    for one in steps:
        body = _stepped(body, one.steps, one.top, up=up)
    return body


def _between(outline: Outline | Contour, a: float, b: float) -> Any:
    return prism(_plain(outline), min(a, b), max(a, b))


def _plain(outline: Outline | Contour) -> Outline:
    return polygon(outline.points()) if isinstance(outline, Contour) else outline


def main() -> int:
    """Measure every kind, write the page; 1 where one is beyond a limit."""
    asked = ring_plan(segments=SEGMENTS, text="true")
    plain = ring_plan(segments=SEGMENTS)
    by_the_kernel(jigs.fixtures(plain, ["tray"])[0])  # loads the kernel and warms it up
    rows = [row for kind in jigs.KINDS for row in measured(kind, asked, plain)]
    text = WORDS.format(
        cores=os.cpu_count(),
        version=".".join(map(str, sys.version_info[:3])),
        segments=SEGMENTS,
        times=TIMES,
        seconds=LIMIT_SECONDS,
        mb=LIMIT_MB,
        table=HEAD + "".join(row.row() for row in rows).rstrip(),
    )
    put_section("Fixtures", text)
    print(text)
    return int(any(row.too_much() for row in rows))


if __name__ == "__main__":
    sys.exit(main())
