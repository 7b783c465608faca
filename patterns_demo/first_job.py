"""From a bare Python 3.11 to a first job folder: `python3 patterns_demo/first_job.py`.

Sets up `.venv` in this checkout, then makes everything for the Damson parlour's rosette
into `first-job`. A design file may be named instead: `... first_job.py MY.toml`.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from set_up import ROOT, SetUpError, kernel_ready, prepare

DESIGN = ROOT / "patterns_demo" / "damson-parlour" / "design.toml"
FOLDER = ROOT / "first-job"


def main(words: list[str]) -> int:
    """Set up, make the job, say what to open; gives the exit code."""
    design = Path(words[0]).resolve() if words else DESIGN
    try:
        python = prepare(["fixtures"])
    except SetUpError as error:
        print(error, file=sys.stderr)
        return 1
    command = [str(python), "-m", "rosette", "make", str(design), "--out", str(FOLDER)]
    if not kernel_ready():
        command.append("--no-fixtures")
    made = subprocess.run(command, check=False, cwd=ROOT)
    if made.returncode == 0:
        tool = python.with_name("rosette").relative_to(ROOT)
        print(f"\nFor a guitar of your own, from here:  {tool} new my-guitar.toml")
    return made.returncode


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
