"""Kills a change at every single thing it does to the disk, in children of this process."""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Callable, Set

from rosette.disk import exchange

EVENTS = frozenset(
    ("open", "os.rename", "os.mkdir", "os.remove", "os.rmdir", "os.chmod", "exchange")
)
"""What Python announces of a change to the disk, and the system's exchange in one step."""


def killed_at(step: int, act: Callable[[], None], events: Set[str] = EVENTS) -> bool:
    """Act in a child that is killed at its `step`-th event; False where it came to its end."""
    child = os.fork()
    if child == 0:
        left = [step]

        def hook(event: str, _: object) -> None:
            if event in events:
                left[0] -= 1
                if left[0] < 0:
                    os.kill(os.getpid(), signal.SIGKILL)

        sys.addaudithook(hook)
        act()
        os._exit(0)
    _, status = os.waitpid(child, 0)
    if os.WIFSIGNALED(status):
        return True
    assert os.waitstatus_to_exitcode(status) == 0
    return False


def exchanging(how: str) -> None:
    """From now on "steps" does without the system's exchange; "whole" makes it an event too."""
    if how == "steps":
        exchange._found = lambda: None
        return
    call = exchange._found()

    def announced(*words: object) -> object:
        sys.audit("exchange")
        done = call(*words)
        sys.audit("exchange")
        return done

    exchange._found = lambda: announced
