"""Kills a run at every single thing it does to the disk, and sees what each kill leaves.

`python -m tests.packet.killing FOLDER whole|steps new|old` prints one line a kill: what stood
there after it, and after the run that followed. "whole" uses the system's exchange in one
step, "steps" does without.
"""

from __future__ import annotations

import json
import os
import signal
import sys
from pathlib import Path

from rosette.disk import exchange
from tests.packet.folders import FIRST, SECOND, files, leftovers, put_files

MINE = {"notes.txt": b"mine", "photos/top.jpg": b"jpg"}
THIRD = {"plan.json": b"{3}", "packet.pdf": b"pages 3"}
EVENTS = {
    *("open", "os.rename", "os.link", "os.mkdir", "os.remove", "os.rmdir", "os.listdir"),
    *("os.scandir", "os.chmod", "os.chown", "os.utime", "shutil.copystat", "shutil.rmtree"),
    "exchange",
}


def killed_at(step: int, out: Path) -> bool:
    """Run in a child that is killed at its `step`-th event; False where it came to its end."""
    child = os.fork()
    if child == 0:
        left = [step]

        def hook(event: str, _: object) -> None:
            if event in EVENTS:
                left[0] -= 1
                if left[0] < 0:
                    os.kill(os.getpid(), signal.SIGKILL)

        sys.addaudithook(hook)
        put_files(out, SECOND)
        os._exit(0)
    _, status = os.waitpid(child, 0)
    if os.WIFSIGNALED(status):
        return True
    assert os.waitstatus_to_exitcode(status) == 0
    return False


def state(out: Path) -> str:
    """What stands at the job folder's place."""
    if not out.exists():
        return "nothing"
    found = files(out)
    mine = {name: found.pop(name, None) for name in MINE}
    whole = {"first": FIRST, "second": SECOND, "third": THIRD}
    name = next((name for name, wanted in whole.items() if found == wanted), "broken")
    return name if mine == MINE else f"{name} alone"


def _announce_exchange() -> None:
    """Make the system's one call an event too, just before and just after it."""
    call = exchange._found()

    def announced(*words: object) -> object:
        sys.audit("exchange")
        done = call(*words)
        sys.audit("exchange")
        return done

    exchange._found = lambda: announced


def main(folder: str, how: str, before: str) -> None:
    """Kill at every step there is."""
    if how == "steps":
        exchange._found = lambda: None
    else:
        _announce_exchange()
    for step in range(1000):
        out = Path(folder) / str(step) / "job"
        out.parent.mkdir()
        if before == "old":
            put_files(out, FIRST)
            (out / "photos").mkdir()
            for name, data in MINE.items():
                (out / name).write_bytes(data)
        killed = killed_at(step, out)
        after_kill = state(out)
        put_files(out, THIRD)
        told = {"after kill": after_kill, "after next": state(out), "left": leftovers(out)}
        print(json.dumps(told))
        if not killed:
            return


if __name__ == "__main__":
    main(*sys.argv[1:])
