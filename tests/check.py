"""The whole check, at home and in CI alike: `python3 tests/check.py`.

Sets up `.venv` in this checkout, then runs the linter, the formatter, the type checker and
every test, and ends with 1 where any of them found something.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "patterns_demo"))

from set_up import INSTALL_LINE, ROOT, SetUpError, kernel_ready, prepare

MOST_WORKERS = 4
"""Each worker may load the CAD kernel, half a gigabyte; more than these gain nothing."""


def steps(python: Path) -> list[tuple[str, list[str]]]:
    """Each step's name and command, the tests last."""
    workers = min(os.cpu_count() or 1, MOST_WORKERS)
    tools = [
        ("ruff", ["-m", "ruff", "check", "."]),
        ("format", ["-m", "ruff", "format", "--check", "."]),
        ("types", ["-m", "mypy"]),
        ("tests", ["-m", "pytest", "-n", str(workers), "--dist", "worksteal"]),
    ]
    return [(name, [str(python), *words]) for name, words in tools]


def main() -> int:
    """Run every step, whatever the ones before it found; gives the exit code."""
    started = time.monotonic()
    try:
        python = prepare(["fixtures", "tests"])
    except SetUpError as error:
        print(error, file=sys.stderr)
        return 1
    if not kernel_ready():
        print(f"The tests need the CAD kernel: run `{INSTALL_LINE}` first.", file=sys.stderr)
        return 1
    failed = []
    for name, command in steps(python):
        print(f"== {name} ({time.monotonic() - started:.0f} s so far)", flush=True)
        if subprocess.run(command, check=False, cwd=ROOT, stdin=subprocess.DEVNULL).returncode != 0:
            failed.append(name)
    if failed:
        print(f"Found something: {', '.join(failed)}", file=sys.stderr)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
