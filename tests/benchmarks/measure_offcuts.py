"""Times the cutting of one offcut against its vertices, and of a box against its offcuts.

`.venv/bin/python -m tests.benchmarks.measure_offcuts` prints two tables. Process time, so that
what else the machine does counts little.
"""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from rosette.offcuts.choose import Demand, Supply, choose
from rosette.offcuts.free import free_layout
from rosette.offcuts.model import Layout, Offcut, WedgeSize
from rosette.offcuts.strip import strip_layout
from tests.offcuts.scraps import scrap
from tests.offcuts.sizes import TWENTY_FOUR

KERF = 1.0
VERTICES = (20, 50, 100, 200, 500, 1000, 2000)
COUNTS = (1, 3, 10, 30, 100, 300, 1000)
Cutting = Callable[[Offcut, WedgeSize], Layout]


@dataclass(frozen=True, slots=True, kw_only=True)
class Timed:
    """Layouts of some offcuts, and the seconds that each took."""

    seconds: tuple[float, ...]
    layouts: tuple[Layout, ...]

    def line(self, first: int) -> str:
        """A row of the table: median and longest in ms, all together, share proved."""
        proved = sum(one.proved for one in self.layouts) / len(self.layouts)
        middle, longest = statistics.median(self.seconds), max(self.seconds)
        return (
            f"| {first} | {middle * 1000:.1f} ms | {longest * 1000:.1f} ms "
            f"| {sum(self.seconds):.2f} s | {proved:.1%} |"
        )


def strip(offcut: Offcut, size: WedgeSize) -> Layout:
    """The saw's method with the benchmark's kerf."""
    return strip_layout(offcut, size, kerf=KERF)


def simplified(offcut: Offcut, size: WedgeSize) -> Layout:
    """The same on a traced outline, straightened by 0.2 mm first."""
    return strip_layout(offcut, size, kerf=KERF, simplify=0.2)


def free(offcut: Offcut, size: WedgeSize) -> Layout:
    """The free method with the benchmark's kerf."""
    return free_layout(offcut, size, kerf=KERF)


def timed(offcuts: list[Offcut], cutting: Cutting) -> Timed:
    """Each offcut cut once, after one that warms up."""
    cutting(offcuts[0], TWENTY_FOUR)
    seconds, layouts = [], []
    for offcut in offcuts:
        started = time.process_time()
        layouts.append(cutting(offcut, TWENTY_FOUR))
        seconds.append(time.process_time() - started)
    return Timed(seconds=tuple(seconds), layouts=tuple(layouts))


def against_vertices(cutting: Cutting, each: int) -> Iterator[tuple[int, Timed]]:
    """`each` scraps of every number of vertices."""
    for vertices in VERTICES:
        yield vertices, timed([scrap(seed, vertices=vertices) for seed in range(each)], cutting)


def against_count() -> Iterator[tuple[int, Timed, float]]:
    """Boxes of scraps of all sorts, and the seconds that choosing among them takes."""
    everything = timed([scrap(seed) for seed in range(max(COUNTS))], strip)
    for count in COUNTS:
        supplies = [
            Supply(id=str(i), kind="any", capacity=one.placed)
            for i, one in enumerate(everything.layouts[:count])
        ]
        started = time.process_time()
        choose(supplies, [Demand(kind="any", count=200)])
        chosen = time.process_time() - started
        part = Timed(seconds=everything.seconds[:count], layouts=everything.layouts[:count])
        yield count, part, chosen


def main(each: int) -> None:
    """Print the tables; `each` scraps for every number of vertices."""
    head = "| {} | median | longest | together | proved |\n|---:|---:|---:|---:|---:|"
    for name, cutting in (("strip", strip), ("strip, simplified", simplified)):
        print(f"\n{name}\n\n" + head.format("vertices"))
        for vertices, some in against_vertices(cutting, each):
            print(some.line(vertices))
    print("\nfree\n\n" + head.format("offcuts"))
    print(timed([scrap(seed) for seed in range(each)], free).line(each))
    print("\nboxes, strip\n\n" + head.format("offcuts"))
    for count, some, chosen in against_count():
        print(some.line(count), f"choosing {chosen * 1000:.1f} ms")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 30)
