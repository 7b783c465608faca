"""Kills a run at every single thing it does to the disk, and sees what each kill leaves.

`python -m tests.packet.killing FOLDER whole|steps new|old` prints one line a kill: what stood
there after it, and after the run that followed. "whole" uses the system's exchange in one
step, "steps" does without.
"""

from __future__ import annotations

import json
import sys
from functools import partial
from pathlib import Path

from tests.killing import EVENTS, exchanging, killed_at
from tests.packet.folders import FIRST, SECOND, files, leftovers, put_files

MINE = {"notes.txt": b"mine", "photos/top.jpg": b"jpg"}
THIRD = {"plan.json": b"{3}", "packet.pdf": b"pages 3"}
MORE_EVENTS = {
    *("os.link", "os.listdir", "os.scandir", "os.chown", "os.utime"),
    *("shutil.copystat", "shutil.rmtree"),
}


def state(out: Path) -> str:
    """What stands at the job folder's place."""
    if not out.exists():
        return "nothing"
    found = files(out)
    mine = {name: found.pop(name, None) for name in MINE}
    whole = {"first": FIRST, "second": SECOND, "third": THIRD}
    name = next((name for name, wanted in whole.items() if found == wanted), "broken")
    return name if mine == MINE else f"{name} alone"


def main(folder: str, how: str, before: str) -> None:
    """Kill at every step there is."""
    exchanging(how)
    for step in range(1000):
        out = Path(folder) / str(step) / "job"
        out.parent.mkdir()
        if before == "old":
            put_files(out, FIRST)
            (out / "photos").mkdir()
            for name, data in MINE.items():
                (out / name).write_bytes(data)
        killed = killed_at(step, partial(put_files, out, SECOND), EVENTS | MORE_EVENTS)
        after_kill = state(out)
        put_files(out, THIRD)
        told = {"after kill": after_kill, "after next": state(out), "left": leftovers(out)}
        print(json.dumps(told))
        if not killed:
            return


if __name__ == "__main__":
    main(*sys.argv[1:])
