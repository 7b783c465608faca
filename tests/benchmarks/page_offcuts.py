"""Writes docs/cutting-speed.md and its charts: how the time of cutting grows with the wood.

`.venv/bin/python -m tests.benchmarks.page_offcuts` takes a minute or two. Process time.
"""

from __future__ import annotations

import os
import statistics
import sys
from pathlib import Path

from rosette.output.svg import svg_bytes
from tests.benchmarks.chart import Series, chart
from tests.benchmarks.measure_offcuts import (
    Timed,
    against_count,
    against_vertices,
    free,
    simplified,
    strip,
    timed,
)
from tests.offcuts.scraps import scrap

DOCS = Path(__file__).resolve().parents[2] / "docs"
EACH = 20
HEAD = "| {} | middle | longest | together | proved the most |\n|---:|---:|---:|---:|---:|"


def main() -> None:
    """Measure, draw, write."""
    plain = list(against_vertices(strip, EACH))
    straightened = list(against_vertices(simplified, EACH))
    boxes = list(against_count())
    anywhere = timed([scrap(seed) for seed in range(EACH)], free)
    vertices = chart(
        "One offcut, strip method",
        "corners of its outline",
        "milliseconds",
        (
            Series(name="as traced", points=_middles(plain)),
            Series(name="straightened by 0.2 mm first", points=_middles(straightened), square=True),
        ),
        "cutting-speed-vertices",
    )
    counts = chart(
        "A box of offcuts, strip method",
        "offcuts in the box",
        "seconds",
        (Series(name="all of them", points=tuple((n, sum(t.seconds)) for n, t, _ in boxes)),),
        "cutting-speed-boxes",
    )
    for drawing in (vertices, counts):
        (DOCS / "charts" / f"{drawing.name}.svg").write_bytes(svg_bytes(drawing))
    version = ".".join(map(str, sys.version_info[:3]))
    text = PAGE.format(
        cores=os.cpu_count(),
        version=version,
        vertices=_rows("corners", plain),
        boxes=_rows("offcuts", [(n, t) for n, t, _ in boxes]),
        free=_rows("offcuts", [(EACH, anywhere)]),
        choosing=max(seconds for _, _, seconds in boxes) * 1000,
    )
    (DOCS / "cutting-speed.md").write_text(text, encoding="utf-8")


def _middles(measured: list[tuple[int, Timed]]) -> tuple[tuple[float, float], ...]:
    return tuple((n, statistics.median(some.seconds) * 1000) for n, some in measured)


def _rows(first: str, measured: list[tuple[int, Timed]]) -> str:
    return "\n".join([HEAD.format(first), *(some.line(n) for n, some in measured)])


PAGE = """# How long the cutting plans take

Measured by `tests/benchmarks/page_offcuts.py` on invented scraps with kerf 1 mm and the wedges of
a ring of 24; seconds of one processor ({cores} cores, Python {version}). Weigh how they grow, not
the digits.

## One offcut, by the corners of its outline

![Milliseconds an offcut against the corners of its outline](charts/cutting-speed-vertices.svg)

{vertices}

## A box, by its offcuts

![Seconds a box against its offcuts](charts/cutting-speed-boxes.svg)

{boxes}

Choosing which of them to take for 200 wedges takes {choosing:.0f} ms at the most.

## Any place and turn (free)

{free}

The free method's bound is an area; it seldom meets what is placed, and is then not called proved.
"""


if __name__ == "__main__":
    main()
