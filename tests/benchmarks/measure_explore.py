"""Times the choice that a box offers: designs looked through, and seconds of the processor.

`.venv/bin/python -m tests.benchmarks.measure_explore` prints a table. A design is one count at
one width of ring; each is settled for every offcut of the box. The scraps are small, so that
most rings need several of them: the dearest sort of box.
"""

from __future__ import annotations

import time
from dataclasses import dataclass

from rosette.offcuts.asking import ask_for
from rosette.offcuts.box import Box, BoxOffcut
from rosette.offcuts.cutting import stock_of
from rosette.offcuts.explore import explore
from rosette.offcuts.explored import Exploration
from rosette.offcuts.strip import strip_layout
from tests.offcuts.scraps import scrap

OFFCUTS = 20
SMALLER = 0.55
ROUNDS = {
    "300 designs: 20 counts, 15 widths": {"segments": "10-48", "width": "12-13.4"},
    "usual question": {},
    "all even counts": {"segments": "12-48"},
    "to a tenth of a millimetre": {"segments": "24", "worth": "0.1", "spares": "0-4"},
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Timed:
    """What came out and the seconds of the processor that it took."""

    found: Exploration
    seconds: float

    @property
    def designs(self) -> int:
        """Counts times widths."""
        ask = self.found.ask
        return self.found.kinds * (1 + round((ask.widest - ask.narrowest) / ask.step))


def box() -> Box:
    """Invented scraps of one wood."""

    def small(ring: tuple[tuple[float, float], ...]) -> tuple[tuple[float, float], ...]:
        return tuple((SMALLER * x, SMALLER * y) for x, y in ring)

    pieces = [
        BoxOffcut(
            id=one.id,
            wood="walnut",
            thickness=2.4,
            outline=small(one.outline),
            defects=tuple(map(small, one.defects)),
            grain=one.grain,
        )
        for one in map(scrap, range(OFFCUTS))
    ]
    return Box(units="mm", offcuts=tuple(pieces), source="box.toml")


def timed(given: dict[str, str]) -> Timed:
    """One question put to a fresh box."""
    some = box()
    ask = ask_for(some, {"kerf": "0.9", **given})
    started = time.process_time()
    found = explore(stock_of(some), ask)
    return Timed(found=found, seconds=time.process_time() - started)


def sweep(found: Exploration, designs: int) -> float:
    """Seconds that laying out every offcut for so many designs would take, from a few of them."""
    rows = found.rows[:: max(1, len(found.rows) // 5)]
    woods = [one.wood for one in stock_of(box())]
    started = time.process_time()
    for row in rows:
        for wood in woods:
            strip_layout(wood, row.size, kerf=0.9)
    return (time.process_time() - started) / len(rows) * designs


def main() -> None:
    """Print the table."""
    print(f"{OFFCUTS} offcuts\n")
    print("| question | designs | rows | bisected | laying out all |\n|---|---:|---:|---:|---:|")
    for name, given in ROUNDS.items():
        one = timed(given)
        swept = sweep(one.found, one.designs)
        print(
            f"| {name} | {one.designs} | {len(one.found.rows)} | {one.seconds:.1f} s"
            f" | {swept:.0f} s |"
        )


if __name__ == "__main__":
    main()
