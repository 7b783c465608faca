"""Times whole commands and the planning of one ring.

`.venv/bin/python -m tests.benchmarks.measure` writes docs/benchmarks.md, limits beside it, and
leaves its other sections. No test asserts a time: a busy machine would fail it.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

from tests.benchmarks.section import sections_of

ROOT = Path(__file__).resolve().parents[2]
DESIGN = ROOT / "patterns_demo" / "damson-parlour" / "design.toml"
PAGE = ROOT / "docs" / "benchmarks.md"
LIBRARIES = "import click, numpy"
KERNEL = "import cadquery"

STARTER = """
import os, sys, time
quiet = [(os.POSIX_SPAWN_OPEN, 1, os.devnull, os.O_WRONLY, 0)]
started = time.perf_counter()
pid = os.posix_spawn(sys.argv[1], sys.argv[1:], os.environ, file_actions=quiet)
_, status, usage = os.wait4(pid, 0)
took = time.perf_counter() - started
print(took, usage.ru_utime + usage.ru_stime, usage.ru_maxrss)
sys.exit(os.waitstatus_to_exitcode(status))
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """The best of several runs of one command.

    `seconds` by the clock and `worked` by the processor, which other work on the machine
    lengthens far less; the peak of its memory in MB.
    """

    seconds: float
    worked: float
    peak_mb: float


def command(*words: str) -> list[str]:
    """A command of this project, run by the interpreter that runs this file."""
    return [sys.executable, "-m", "rosette", *words]


def bare(statement: str) -> list[str]:
    """One statement in a bare interpreter, to compare with."""
    return [sys.executable, "-c", statement]


def once(words: list[str]) -> Run:
    """Run a command once; it must succeed.

    A small interpreter starts it: the memory that the system counts for a process is never less
    than that of the one it was started from.
    """
    starter = [sys.executable, "-I", "-S", "-c", STARTER, *words]
    run = subprocess.run(starter, cwd=ROOT, capture_output=True, text=True, check=False)
    if run.returncode != 0:
        raise RuntimeError(f"{words} ended with {run.returncode}: {run.stderr}")
    seconds, worked, peak = map(float, run.stdout.split()[-3:])
    unit = 1024 * 1024 if sys.platform == "darwin" else 1024
    return Run(seconds=seconds, worked=worked, peak_mb=peak / unit)


def side_by_side(times: int, *commands: list[str]) -> list[Run]:
    """The best of each command, taking turns so that a busy moment falls on all of them."""
    runs = [[once(words) for words in commands] for _ in range(times)]
    return [
        Run(
            seconds=min(run.seconds for run in column),
            worked=min(run.worked for run in column),
            peak_mb=max(run.peak_mb for run in column),
        )
        for column in zip(*runs, strict=True)
    ]


def planning(times: int = 50) -> float:
    """Seconds of the processor to plan one ring of wedges in process, the best of `times`."""
    from dataclasses import replace

    from rosette.design import read_design
    from rosette.plan import make_plan

    design = read_design(DESIGN)
    one = next(ring for ring in design.rings if ring.keys.pattern == "radial")
    design = replace(design, rings=(one,))
    best = float("inf")
    for _ in range(times):
        started = time.process_time()
        make_plan(design)
        best = min(best, time.process_time() - started)
    return best


def page() -> str:
    """The words of docs/benchmarks.md."""
    with tempfile.TemporaryDirectory() as folder:
        plan, libraries = side_by_side(7, command("plan", str(DESIGN)), bare(LIBRARIES))
        make, sheets_only, kernel = side_by_side(
            3,
            command("make", str(DESIGN), "--out", f"{folder}/all"),
            command("make", str(DESIGN), "--out", f"{folder}/sheets", "--no-fixtures"),
            bare(KERNEL),
        )
    rows = [
        (
            "`rosette plan`, whole process",
            plan,
            f"{plan.seconds / libraries.seconds:.2f} times the next row; the limit is 2",
        ),
        (f'`python -c "{LIBRARIES}"`', libraries, "to compare with"),
        (
            "`rosette make`, everything",
            make,
            f"{make.seconds - kernel.seconds:.1f} s more than the kernel; the limit is 4 s",
        ),
        ("`rosette make --no-fixtures`", sheets_only, ""),
        (f'`python -c "{KERNEL}"`', kernel, "to compare with"),
    ]
    table = "\n".join(
        f"| {what} | {run.seconds:.2f} s | {run.peak_mb:.0f} MB | {note} |"
        for what, run, note in rows
    )
    version = ".".join(map(str, sys.version_info[:3]))
    return f"""# How long it takes

Measured by `tests/benchmarks/measure.py` on {os.cpu_count()} cores with Python {version}, on the
design `patterns_demo/{DESIGN.parent.name}/design.toml`: the best time and the highest memory of
several runs. Weigh the ratios, not the digits.

| what | time | peak memory | |
|---|---:|---:|---|
{table}

Planning one ring of wedges in a running process takes {planning() * 1000:.2f} ms; the
limit is 2 ms.

How long cutting plans take: [cutting-speed.md](cutting-speed.md).
"""


if __name__ == "__main__":
    others = sections_of(PAGE.read_text(encoding="utf-8"))
    PAGE.write_text(f"{page()}\n{others}" if others else page(), encoding="utf-8")
    print(PAGE.read_text(encoding="utf-8"))
