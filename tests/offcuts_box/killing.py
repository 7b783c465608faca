"""Kills changes of a box at every single thing they do to the disk, and sees what each leaves.

`python -m tests.offcuts_box.killing FOLDER whole|steps` prints one line a kill: what stood there
after it, and after the change that followed. "whole" uses the system's exchange in one step,
"steps" does without.
"""

from __future__ import annotations

import json
import os
import signal
import sys
from pathlib import Path

from rosette.disk import exchange
from rosette.offcuts.box_file import change
from tests.offcuts_box.jobs import states

FIRST, SECOND, THIRD = "schema = 1\n", "schema = 1\n# two\n", "schema = 1\n# three\n"
EVENTS = {"open", "os.rename", "os.mkdir", "os.remove", "os.rmdir", "os.chmod", "exchange"}


def put(path: Path, text: str) -> None:
    change(path, lambda _: text.encode())


def killed_at(step: int, path: Path) -> bool:
    """Change in a child that is killed at its `step`-th event; False where it came to its end."""
    child = os.fork()
    if child == 0:
        left = [step]

        def hook(event: str, _: object) -> None:
            if event in EVENTS:
                left[0] -= 1
                if left[0] < 0:
                    os.kill(os.getpid(), signal.SIGKILL)

        sys.addaudithook(hook)
        put(path, SECOND)
        os._exit(0)
    _, status = os.waitpid(child, 0)
    if os.WIFSIGNALED(status):
        return True
    assert os.waitstatus_to_exitcode(status) == 0
    return False


def _announce_exchange() -> None:
    call = exchange._found()

    def announced(*words: object) -> object:
        sys.audit("exchange")
        done = call(*words)
        sys.audit("exchange")
        return done

    exchange._found = lambda: announced


def main(folder: str, how: str) -> None:
    """Kill at every step there is."""
    if how == "steps":
        exchange._found = lambda: None
    else:
        _announce_exchange()
    for step in range(500):
        path = Path(folder) / str(step) / "box.toml"
        path.parent.mkdir()
        path.write_text(FIRST)
        killed = killed_at(step, path)
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
