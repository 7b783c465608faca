"""Kills changes of a box at every single thing they do to the disk, and sees what each leaves.

`python -m tests.offcuts_box.killing FOLDER whole|steps` prints one line a kill: what stood there
after it, and after the change that followed. "whole" uses the system's exchange in one step,
"steps" does without.
"""

from __future__ import annotations

import json
import os
import sys
from functools import partial
from pathlib import Path

from rosette.offcuts.box_file import change
from tests.killing import exchanging, killed_at
from tests.offcuts_box.jobs import states

FIRST, SECOND, THIRD = "schema = 1\n", "schema = 1\n# two\n", "schema = 1\n# three\n"


def put(path: Path, text: str) -> None:
    change(path, lambda _: text.encode())


def main(folder: str, how: str) -> None:
    """Kill at every step there is."""
    exchanging(how)
    for step in range(500):
        path = Path(folder) / str(step) / "box.toml"
        path.parent.mkdir()
        path.write_text(FIRST)
        killed = killed_at(step, partial(put, path, SECOND))
        after_kill = path.read_text() if path.exists() else "nothing"
        put(path, THIRD)
        room = path.with_name("box.toml.before")
        told = {
            "after kill": after_kill,
            "after next": path.read_text(),
            "kept": states(path),
            "left": [name for name in os.listdir(room) if name != "lock" and name[:2] != "00"],
        }
        print(json.dumps(told))
        if not killed:
            return


if __name__ == "__main__":
    main(*sys.argv[1:])
