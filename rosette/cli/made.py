"""What `rosette make` tells at its end: where things are, what to open, what to think over."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from textwrap import wrap

from rosette.packet import Job
from rosette.packet.folder import Placed
from rosette.packet.trouble import shown

WIDTH = 80


def summary(job: Job, out: Path) -> Iterator[str]:
    """The lines of the summary, none wider than 80 columns but for long paths."""
    plan, placed = job.plan, job.placed
    yield f"{plan.name}: {len(job.files)} files in {shown(out)}"
    yield ""
    yield f"  Open first:  {shown(out / 'packet.pdf')}"
    yield from _row("It says what each file is for. Print it at 100 %.")
    yield from _folders(job)
    yield from listed(
        "To think over before cutting:", [one.text(plan.units) for one in job.warnings]
    )
    yield from _missing(job)
    yield from left_alone(placed)


def left_alone(placed: Placed) -> Iterator[str]:
    """What of the maker's own was met in the folder, and where it is now."""
    yield from listed(
        "Of yours, kept under another name to make room:",
        [f"{shown(file)} is now {shown(before)}" for file, before in placed.replaced],
    )
    yield from listed(
        "Made earlier, changed since and no longer part of the job; left as they are:",
        [shown(file) for file in placed.kept],
    )
    yield from listed(
        "Came into the folder while it was made, and kept:",
        [shown(file) for file in placed.rescued],
    )


def listed(heading: str, items: Sequence[str]) -> Iterator[str]:
    """An empty line, a heading and its items; nothing where there are none."""
    if items:
        yield ""
        yield heading
    for item in items:
        yield from _item(item)


def _folders(job: Job) -> Iterator[str]:
    sheets = [file for file in job.files if file.startswith("sheets/") and file.endswith(".svg")]
    fixtures = [file for file in job.files if file.startswith("fixtures/")]
    yield f"  sheets/      {len(sheets)} sheets, to scale, each as SVG and DXF"
    if fixtures:
        names = sorted({Path(file).stem for file in fixtures})
        yield from _row(", ".join(names) + ": to print (3MF, STL) or mill (STEP)", "fixtures/")
    if "cuts.json" in job.files:
        yield from _row(
            'every wedge\'s place in the offcuts; give the folder to "rosette offcuts take" once it'
            " is cut",
            "cuts.json",
        )
    yield "  picture.png  the finished rosette, to show"
    yield "  design.toml  a copy of the design"


def _row(text: str, name: str = "") -> Iterator[str]:
    yield from wrap(text, WIDTH, initial_indent=f"  {name:<11}  ", subsequent_indent=" " * 15)


def _missing(job: Job) -> Iterator[str]:
    if not job.missing:
        return
    yield ""
    yield "Not made here; everything else is:"
    yield from _item(", ".join(one.file for one in job.missing))
    for why in dict.fromkeys(one.why for one in job.missing):
        yield from wrap(why, WIDTH, break_long_words=False, break_on_hyphens=False)


def _item(text: str) -> Iterator[str]:
    yield from wrap(
        text,
        WIDTH,
        initial_indent="- ",
        subsequent_indent="  ",
        break_long_words=False,
        break_on_hyphens=False,
    )
